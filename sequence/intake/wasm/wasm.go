package wasm

import (
	"bytes"
	"compress/gzip"
	"context"
	_ "embed" // the decoders
	"errors"
	"fmt"
	"image"
	"io"
	"runtime/debug"
	"sync"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"
)

// ErrDamaged means that a decoder could make no picture of the file.
var ErrDamaged = errors.New("the decoder made no picture of it")

// mostPages is the ceiling on a decoder's memory, in pages of 64 kB: 1.5 GB,
// which a picture of 100 MP takes.
const mostPages = 24 << 10

//go:embed heif.wasm.gz
var heifCode []byte

//go:embed avif.wasm.gz
var avifCode []byte

// decoder is a compiled decoder, made when first needed. Compiling takes about a
// second, so a process keeps it.
type decoder struct {
	code    []byte
	once    sync.Once
	runtime wazero.Runtime
	module  wazero.CompiledModule
	err     error
}

var heif, avif = &decoder{code: heifCode}, &decoder{code: avifCode}

func (d *decoder) compile() {
	ctx := context.Background()
	unpacked, err := gzip.NewReader(bytes.NewReader(d.code))
	if err != nil {
		d.err = err
		return
	}
	code, err := io.ReadAll(unpacked)
	if err != nil {
		d.err = err
		return
	}
	config := wazero.NewRuntimeConfig().WithMemoryLimitPages(mostPages)
	d.runtime = wazero.NewRuntimeWithConfig(ctx, config)
	if _, d.err = wasi_snapshot_preview1.Instantiate(ctx, d.runtime); d.err == nil {
		d.module, d.err = d.runtime.CompileModule(ctx, code)
	}
}

// instance is a decoder at work on one file.
type instance struct {
	ctx    context.Context
	module api.Module
	err    error // the first one
}

// start brings up a decoder and puts a file into its memory.
func (d *decoder) start(ctx context.Context, data []byte) (*instance, uint64, error) {
	d.once.Do(d.compile)
	if d.err != nil {
		return nil, 0, fmt.Errorf("compile the decoder: %w", d.err)
	}
	// Compiling takes far more than what is compiled, and the picture before this one
	// is still lying about as well.
	debug.FreeOSMemory()
	ctx = withMemory(ctx)
	// Without a name, so that several can be at work.
	module, err := d.runtime.InstantiateModule(ctx, d.module, wazero.NewModuleConfig().WithName(""))
	if err != nil {
		return nil, 0, err
	}
	in := &instance{ctx: ctx, module: module}
	at := in.room(uint64(len(data)))
	if in.err == nil && !module.Memory().Write(uint32(at), data) {
		in.err = ErrDamaged
	}
	if in.err != nil {
		in.close()
		return nil, 0, in.err
	}
	return in, at, nil
}

func (in *instance) close() { _ = in.module.Close(in.ctx) } // what it held goes with it either way

// room sets memory aside.
func (in *instance) room(size uint64) uint64 {
	at := in.call("malloc", size)
	if in.err == nil && at == 0 {
		in.err = ErrDamaged
	}
	return at
}

// call calls a function of the decoder; after an error it does nothing.
func (in *instance) call(name string, parameters ...uint64) uint64 {
	if in.err != nil {
		return 0
	}
	function := in.module.ExportedFunction(name)
	if function == nil {
		in.err = fmt.Errorf("the decoder lacks %s", name)
		return 0
	}
	results, err := function.Call(in.ctx, parameters...)
	if err != nil {
		in.err = fmt.Errorf("%w: %w", ErrDamaged, err)
		return 0
	}
	if len(results) == 0 {
		return 0
	}
	return results[0]
}

// decode calls the decoder, which returns 0 when it fails.
func (in *instance) decode(parameters ...uint64) {
	if in.call("decode", parameters...) == 0 && in.err == nil {
		in.err = ErrDamaged
	}
}

// number reads one of the numbers that the decoder wrote.
func (in *instance) number(at uint64) int {
	v, ok := in.module.Memory().ReadUint32Le(uint32(at))
	if !ok && in.err == nil {
		in.err = ErrDamaged
	}
	return int(v)
}

// bytes copies a part of the decoder's memory, which goes when it is closed.
func (in *instance) bytes(at, size uint64) []byte {
	data, ok := in.module.Memory().Read(uint32(at), uint32(size))
	if !ok && in.err == nil {
		in.err = ErrDamaged
	}
	return bytes.Clone(data)
}

// What the HEIC decoder says of a picture: libheif's numbers for colour spaces
// and for how many pixels share a colour.
const (
	spaceYCbCr = 0
	spaceRGB   = 1
	spaceGrey  = 2
)

var ratios = map[int]image.YCbCrSubsampleRatio{
	1: image.YCbCrSubsampleRatio420, 2: image.YCbCrSubsampleRatio422, 3: image.YCbCrSubsampleRatio444,
}

// HEIC decodes a HEIC file, upright, as *image.YCbCr, *image.Gray, *image.NRGBA
// or *image.RGBA.
//
// Errors: ErrDamaged.
func HEIC(ctx context.Context, data []byte) (image.Image, error) {
	in, file, err := heif.start(ctx, data)
	if err != nil {
		return nil, err
	}
	defer in.close()
	said := in.room(20) // five numbers: width, height, colour space, sampling, premultiplied
	size := uint64(len(data))
	in.decode(file, size, 1, said, said+4, said+8, said+12, said+16, 0)
	if in.err != nil {
		return nil, in.err
	}
	rect := image.Rect(0, 0, in.number(said), in.number(said+4))
	space, sampling, premultiplied := in.number(said+8), in.number(said+12), in.number(said+16)
	if in.err != nil || rect.Empty() || rect.Dx() > 1<<16 || rect.Dy() > 1<<16 {
		return nil, ErrDamaged
	}
	// Lines are padded to 16 samples.
	padded := func(v int) int { return (v + 15) &^ 15 }
	take := func(size int) []byte {
		at := in.room(uint64(size))
		in.decode(file, uint64(len(data)), 0, said, said+4, said+8, said+12, said+16, at)
		if in.err != nil {
			return nil
		}
		return in.bytes(at, uint64(size))
	}
	switch space {
	case spaceGrey:
		stride := padded(rect.Dx())
		return &image.Gray{Pix: take(stride * rect.Dy()), Stride: stride, Rect: rect}, in.err
	case spaceRGB:
		stride := padded(4 * rect.Dx())
		pix := take(stride * rect.Dy())
		if premultiplied == 1 {
			return &image.RGBA{Pix: pix, Stride: stride, Rect: rect}, in.err
		}
		return &image.NRGBA{Pix: pix, Stride: stride, Rect: rect}, in.err
	case spaceYCbCr:
		ratio, known := ratios[sampling]
		if !known {
			return nil, ErrDamaged
		}
		return yCbCr(rect, ratio, padded, take), in.err
	}
	return nil, ErrDamaged
}

func yCbCr(rect image.Rectangle, ratio image.YCbCrSubsampleRatio, padded func(int) int, take func(int) []byte) image.Image {
	width, height := rect.Dx(), rect.Dy()
	if ratio != image.YCbCrSubsampleRatio444 {
		width = (width + 1) / 2
	}
	if ratio == image.YCbCrSubsampleRatio420 {
		height = (height + 1) / 2
	}
	img := &image.YCbCr{YStride: padded(rect.Dx()), CStride: padded(width), SubsampleRatio: ratio, Rect: rect}
	luma, chroma := img.YStride*rect.Dy(), img.CStride*height
	pix := take(luma + 2*chroma)
	if pix == nil {
		return img
	}
	img.Y, img.Cb, img.Cr = pix[:luma:luma], pix[luma:luma+chroma:luma+chroma], pix[luma+chroma:]
	return img
}

// AVIF decodes an AVIF file, as stored and not yet turned, as *image.RGBA or with
// more than 8 bits *image.RGBA64.
//
// Errors: ErrDamaged.
func AVIF(ctx context.Context, data []byte) (image.Image, error) {
	in, file, err := avif.start(ctx, data)
	if err != nil {
		return nil, err
	}
	defer in.close()
	said := in.room(24) // width, height, depth, count; and room for one duration
	size := uint64(len(data))
	in.decode(file, size, 1, 0, said, said+4, said+8, said+12, said+16, 0)
	if in.err != nil {
		return nil, in.err
	}
	rect := image.Rect(0, 0, in.number(said), in.number(said+4))
	deep := in.number(said+8) > 8
	if in.err != nil || rect.Empty() || rect.Dx() > 1<<16 || rect.Dy() > 1<<16 {
		return nil, ErrDamaged
	}
	total := 4 * rect.Dx() * rect.Dy()
	if deep {
		total *= 2
	}
	at := in.room(uint64(total))
	in.decode(file, size, 0, 0, said, said+4, said+8, said+12, said+16, at)
	if in.err != nil {
		return nil, in.err
	}
	pix := in.bytes(at, uint64(total))
	if in.err != nil {
		return nil, in.err
	}
	if !deep {
		return &image.RGBA{Pix: pix, Stride: 4 * rect.Dx(), Rect: rect}, nil
	}
	for i := 0; i+1 < len(pix); i += 2 { // the decoder's numbers begin with the lower half
		pix[i], pix[i+1] = pix[i+1], pix[i]
	}
	return &image.RGBA64{Pix: pix, Stride: 8 * rect.Dx(), Rect: rect}, nil
}
