package pixels

import (
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"

	flexible "github.com/kovidgoyal/imaging/jpeg"
	"golang.org/x/image/tiff"

	"pairwall/sequence/intake/header"
)

// Decode reads the pixels of a file of a kind as header.Kind names it, as they
// are stored: in the colours of the file and not yet upright. missing is true
// if the file lacks its last bytes but not any pixel. Its header must have been
// read before, for that is where the limits are kept.
//
// Errors: Damaged, Unsupported.
func Decode(kind string, from io.ReaderAt, size int64) (img image.Image, missing bool, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			img, err = nil, header.Damaged("This picture is damaged and cannot be shown.", fmt.Errorf("panic: %v", cause))
		}
	}()
	whole := func() io.Reader { return io.NewSectionReader(from, 0, size) }
	switch kind {
	case "jpeg":
		img, missing, err = decodeJPEG(whole)
	case "png":
		img, err = png.Decode(whole())
	default:
		// The decoder reads where it wants to, and a section lets it.
		img, err = tiff.Decode(whole())
	}
	if err != nil {
		return nil, false, fromDecoding(err)
	}
	return img, missing, nil
}

// decodeJPEG tries the standard library first and, for channels sampled in
// ways it does not know, the more flexible decoder made from it. Cameras'
// files sometimes lack nothing but the two bytes that end them, so they are
// supplied before giving up.
func decodeJPEG(whole func() io.Reader) (img image.Image, missing bool, err error) {
	img, err = jpeg.Decode(whole())
	var odd jpeg.UnsupportedError
	if errors.As(err, &odd) {
		img, err = flexible.Decode(whole())
	}
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		ended := io.MultiReader(whole(), &ending{})
		if img, second := jpeg.Decode(ended); second == nil {
			return img, true, nil
		}
	}
	return img, false, err
}

// ending is the marker that ends a JPEG, once.
type ending struct{ done bool }

func (e *ending) Read(p []byte) (int, error) {
	if e.done || len(p) < 2 {
		return 0, io.EOF
	}
	e.done = true
	return copy(p, []byte{0xFF, 0xD9}), nil
}

// fromDecoding tells a decoder's "I do not know this kind" from damage.
func fromDecoding(err error) error {
	var oddJPEG jpeg.UnsupportedError
	var oddPNG png.UnsupportedError
	var oddTIFF tiff.UnsupportedError
	var oddFlexible flexible.UnsupportedError
	switch {
	case errors.As(err, &oddJPEG), errors.As(err, &oddFlexible):
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
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return header.Damaged("This file is cut off: it ends before the picture does.", err)
	}
	return header.Damaged("This picture is damaged and cannot be shown.", err)
}
