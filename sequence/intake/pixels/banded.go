package pixels

import (
	"fmt"
	"image"
	"image/color"
	"runtime"
	"sync"

	"golang.org/x/image/tiff"

	"pairwall/sequence/intake/header"
)

// worthBands is from how many bytes of pixels on a TIFF is decoded band by band.
const worthBands = 32 << 20

// inBands reports whether a TIFF is decoded band by band.
func inBands(h header.Header) bool {
	return h.Bands != nil && h.Bands.Count > 1 && h.Memory >= worthBands
}

// banded is a picture of which only the bands being read are in memory. Lines
// must be asked for in order, by as many readers as there are processors.
type banded struct {
	bands  *header.Bands
	bounds image.Rectangle
	model  lines // of the first band: its layout

	mu   sync.Mutex
	kept []band // the last used last
}

type band struct {
	number int
	lines  lines
	image  image.Image
}

// decodeBands opens a picture by its first band, which tells whether the decoder
// knows its kind.
func decodeBands(h header.Header) (image.Image, error) {
	b := &banded{bands: h.Bands, bounds: image.Rect(0, 0, h.Width, h.Height)}
	first, err := b.decode(0)
	if err != nil {
		return nil, err
	}
	b.kept, b.model = []band{first}, first.lines
	if n := b.model; n.width != h.Width {
		return nil, tiff.FormatError("a band is of another width than the picture")
	}
	return b, nil
}

func (b *banded) decode(number int) (band, error) {
	file := b.bands.File(number)
	img, err := tiff.Decode(file)
	if err != nil {
		return band{}, err
	}
	l := linesOf(img)
	if b.bands.Alpha { // whether it is used must not depend on the band
		l.alpha = true
		l.read = anyLines(img, l)
	}
	return band{number, l, img}, nil
}

// at gives the band a line lies in. What cannot be decoded is a panic, as with
// any other picture whose pixels are read.
func (b *banded) at(y int) band {
	number := y / b.bands.Rows
	b.mu.Lock()
	defer b.mu.Unlock()
	for i, kept := range b.kept {
		if kept.number == number {
			b.kept = append(append(b.kept[:i:i], b.kept[i+1:]...), kept)
			return kept
		}
	}
	next, err := b.decode(number)
	if err != nil {
		panic(fmt.Errorf("band %d: %w", number, err))
	}
	if b.kept = append(b.kept, next); len(b.kept) > runtime.GOMAXPROCS(0) {
		b.kept = b.kept[1:]
	}
	return next
}

func (b *banded) lines() lines {
	l := b.model
	l.height = b.bounds.Dy()
	l.read = func(y int, line []uint16) {
		in := b.at(y)
		in.lines.read(y-in.number*b.bands.Rows, line)
	}
	return l
}

func (b *banded) Bounds() image.Rectangle { return b.bounds }
func (b *banded) ColorModel() color.Model { return color.RGBA64Model }
func (b *banded) At(x, y int) color.Color {
	in := b.at(y)
	return in.image.At(x, y-in.number*b.bands.Rows)
}
