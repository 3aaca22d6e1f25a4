package intake

import (
	"context"
	"image"
	"path/filepath"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/intake/form"
	"pairwall/sequence/intake/header"
	"pairwall/sequence/intake/pixels"
)

// Edition numbers the measures that Read takes: palette, tone and form. It is
// kept with them as Form.Measured and must be raised whenever any of the
// measures changes, here, in form or in colour, so that older ones can be told
// and taken again.
const Edition = 3

// measure takes all measures of a picture at the largest card size into the
// photo. The black or white border of a scan of film is not part of the picture.
func measure(img *image.RGBA, p *sequence.Photo) {
	var inside image.Rectangle
	p.Form, inside = form.Measure(img)
	p.Form.Measured = Edition
	p.Palette, p.Tone = colour.Measure(img.SubImage(inside))
}

// Remeasure takes the measures of a picture anew: of an original, or of its
// largest card image, which is quicker and gives the same but for what its
// compression changes.
//
// It runs in this process; Pool.Remeasure is the one to use.
//
// Errors: those of Read.
func Remeasure(ctx context.Context, path string) (colour.Palette, colour.Tone, sequence.Form, error) {
	return measures(remeasure(ctx, path, DefaultLimits))
}

// Remeasure is the package's Remeasure in a worker, as Read is Read.
//
// Errors: those of Read.
func (p *Pool) Remeasure(ctx context.Context, path string) (colour.Palette, colour.Tone, sequence.Form, error) {
	absolute, err := filepath.Abs(path)
	if err != nil {
		return nil, colour.Tone{}, sequence.Form{}, unopened(err)
	}
	return measures(photoOf(p.put(ctx, question{Path: []byte(absolute)})))
}

func measures(photo sequence.Photo, err error) (colour.Palette, colour.Tone, sequence.Form, error) {
	return photo.Palette, photo.Tone, photo.Form, err
}

// remeasure is Remeasure with everything given. Only the measures of the photo
// are filled in.
func remeasure(ctx context.Context, path string, limits Limits) (photo sequence.Photo, err error) {
	o, h, err := openPicture(path, limits)
	if err != nil {
		return sequence.Photo{}, err
	}
	defer o.file.Close()
	print, err := printOf(ctx, o, h)
	if err != nil {
		return sequence.Photo{}, err
	}
	measure(print.Picture, &photo)
	return photo, nil
}

// printOf decodes the pixels and develops them at the size of the largest card.
func printOf(ctx context.Context, o original, h header.Header) (pixels.Print, error) {
	return printAt(ctx, o, h, CardSizes[len(CardSizes)-1])
}

// printAt decodes the pixels and develops them at a longer side of long pixels,
// or as large as they are.
func printAt(ctx context.Context, o original, h header.Header, long int) (pixels.Print, error) {
	if err := ctx.Err(); err != nil {
		return pixels.Print{}, cancelled(err)
	}
	decoded, err := pixels.Decode(h, o.file, o.size(), long)
	if err != nil {
		return pixels.Print{}, ofDisk(err)
	}
	if err := ctx.Err(); err != nil {
		return pixels.Print{}, cancelled(err)
	}
	print, err := pixels.Develop(decoded.Image, h, long)
	print.Findings = append(decoded.Findings, print.Findings...)
	return print, err
}
