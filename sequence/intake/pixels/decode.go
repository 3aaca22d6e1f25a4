package pixels

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
	"pairwall/sequence/intake/jpeg"
	"pairwall/sequence/intake/wasm"
)

// Decoded are the pixels of a file as they are stored: in its own colours and
// not yet upright.
type Decoded struct {
	Image    image.Image
	Findings []sequence.Finding // what is damaged, if it can be shown all the same
}

// Decode reads the pixels of a file whose header was read before, for that is
// where the limits are kept. Where it costs less, it reads them smaller than
// they are, though not smaller than a print of long pixels needs.
//
// Errors: Damaged, Unsupported.
func Decode(h header.Header, from io.ReaderAt, size int64, long int) (d Decoded, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			d, err = Decoded{}, header.Damaged("This picture is damaged and cannot be shown.", fmt.Errorf("panic: %v", cause))
		}
	}()
	whole := io.NewSectionReader(from, 0, size)
	switch h.Format {
	case "jpeg":
		d, err = decodeJPEG(whole, jpegScale(max(h.Width, h.Height), long))
	case "png":
		d.Image, err = png.Decode(whole)
	case "webp":
		if d.Image, err = webp.Decode(whole); err == nil {
			d.Image = widened(d.Image) // RFC 6386, 9.2: as in video
		}
	case "heic", "avif":
		d.Image, err = decodeBoxes(h, whole)
	default:
		if inBands(h) {
			d.Image, err = decodeBands(h)
			break
		}
		// The decoder reads where it wants to, and a section lets it.
		d.Image, err = tiff.Decode(whole)
	}
	if err != nil {
		return Decoded{}, fromDecoding(err)
	}
	return d, nil
}

// Memory is about how many bytes Decode comes to hold at most.
func Memory(h header.Header) int64 {
	if inBands(h) {
		return worthBands
	}
	return h.Memory
}

// jpegScale is to what part of its size a JPEG can be decoded and still be a
// tenth larger than its print.
func jpegScale(side, long int) int {
	for _, scale := range []int{8, 4, 2} {
		if float64(side) >= 1.1*float64(long)*float64(scale) {
			return scale
		}
	}
	return 1
}

// leastShown is how much of a damaged picture must be left for it to be one.
const leastShown = 0.05

// decodeJPEG reads the file into memory, which is smaller than its pixels, and
// says what of the picture is missing.
func decodeJPEG(whole *io.SectionReader, scale int) (Decoded, error) {
	data := make([]byte, whole.Size())
	if _, err := io.ReadFull(whole, data); err != nil {
		return Decoded{}, err
	}
	p, err := jpeg.Decode(data, scale)
	if err != nil {
		return Decoded{}, err
	}
	if p.Shown < leastShown {
		return Decoded{}, fmt.Errorf("%w: %.1f %% of it is left", jpeg.ErrDamaged, 100*p.Shown)
	}
	d := Decoded{Image: p.Image}
	words := ""
	switch {
	case p.Shown < 1:
		percent := min(max(int(100*p.Shown+0.5), 1), 99)
		words = fmt.Sprintf("This file is damaged: only %d %% of its picture could be read, and the rest is grey.", percent)
	case p.Coarse:
		words = "The end of this file is missing; the picture is all there, but coarser than it was."
	case !p.Ended:
		words = "The end of this file is missing, though the picture seems whole."
	}
	if words != "" {
		d.Findings = []sequence.Finding{{Code: sequence.Damaged, Words: words, Hint: header.CopyHint}}
	}
	return d, nil
}

// decodeBoxes decodes a HEIC or AVIF file.
func decodeBoxes(h header.Header, whole *io.SectionReader) (image.Image, error) {
	data := make([]byte, whole.Size())
	if _, err := io.ReadFull(whole, data); err != nil {
		return nil, err
	}
	if h.Format == "avif" {
		return wasm.AVIF(context.Background(), data)
	}
	img, err := wasm.HEIC(context.Background(), data)
	if err != nil {
		return nil, err
	}
	return understood(img, h), nil
}

// fromDecoding tells a decoder's "I do not know this kind" from damage.
func fromDecoding(err error) error {
	var oddPNG png.UnsupportedError
	var oddTIFF tiff.UnsupportedError
	switch {
	case errors.Is(err, jpeg.ErrUnsupported):
		return header.Unsupported("This JPEG is of a rare kind that Pairwall does not read.",
			"Export it as an ordinary JPEG or as TIFF and bring that in.", err)
	case errors.As(err, &oddPNG):
		return header.Unsupported("This PNG is of a rare kind that Pairwall does not read.", header.ExportHint, err)
	case errors.As(err, &oddTIFF):
		return header.Unsupported("This TIFF is of a rare kind that Pairwall does not read.", header.TIFFHint, err)
	}
	var torn tiff.FormatError
	if errors.As(err, &torn) {
		return header.Damaged("This TIFF file contradicts itself; it is damaged or was written wrongly.", err)
	}
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) || errors.Is(err, jpeg.ErrDamaged) {
		return header.Damaged("This file is cut off: it ends before the picture does.", err)
	}
	return header.Damaged("This picture is damaged and cannot be shown.", err)
}
