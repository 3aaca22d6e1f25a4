package printing

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/colour/inks"
	"pairwall/store"
)

// Beyond is what the printer's inks cannot do of a photo. It is measured on the
// card image, in sRGB: a colour that no screen of that kind shows is not told of.
type Beyond struct {
	Share float64 // of the picture's area, whose colour the inks miss visibly (inks.Visible), 0..1
	Over  float64 // of the picture's area that takes more ink than the limit, 0..1
	Most  float64 // ink that a thousandth of the picture exceeds, 0..4
}

// beyond measures a picture against a limit of ink, 0..4.
func beyond(img *image.RGBA, r *inks.Reach, limit float64) Beyond {
	var b Beyond
	pixels := len(img.Pix) / 4
	sums := make([]float64, 0, pixels)
	for at := 0; at < len(img.Pix); at += 4 {
		missed, ink := r.Of(img.Pix[at], img.Pix[at+1], img.Pix[at+2])
		if missed > inks.Visible {
			b.Share++
		}
		if ink > limit {
			b.Over++
		}
		sums = append(sums, ink)
	}
	slices.Sort(sums)
	b.Share /= float64(pixels)
	b.Over /= float64(pixels)
	b.Most = sums[min(pixels-1, pixels*999/1000)]
	return b
}

// opened is a card image as pixels.
func (p *Press) opened(ctx context.Context, photo sequence.Photo, size int) (*image.RGBA, error) {
	file, err := p.cards.Open(ctx, photo, size)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	decoded, err := jpeg.Decode(file)
	if err != nil {
		return nil, fmt.Errorf("reading our own card image of photo %d: %w", photo.Number, err)
	}
	img := image.NewRGBA(image.Rect(0, 0, decoded.Bounds().Dx(), decoded.Bounds().Dy()))
	draw.Draw(img, img.Bounds(), decoded, decoded.Bounds().Min, draw.Src)
	return img, nil
}

// ShowBeyond is a picture of where the inks do not reach, PNG: those places keep
// their colour, and all others are paled to grey.
//
// Errors: those of ReadProfile and of opening a card image.
func (p *Press) ShowBeyond(ctx context.Context, photo sequence.Photo, with store.PrinterProfile) ([]byte, error) {
	profile, err := ReadProfile(with.Bytes)
	if err != nil {
		return nil, err
	}
	img, err := p.opened(ctx, photo, smallCard)
	if err != nil {
		return nil, err
	}
	reach, limit := profile.Reach(), float64(with.InkLimit)/100
	for at := 0; at < len(img.Pix); at += 4 {
		if missed, ink := reach.Of(img.Pix[at], img.Pix[at+1], img.Pix[at+2]); missed > inks.Visible || ink > limit {
			continue
		}
		grey := color.GrayModel.Convert(color.RGBA{img.Pix[at], img.Pix[at+1], img.Pix[at+2], 255}).(color.Gray).Y
		pale := 190 + grey/4
		img.Pix[at], img.Pix[at+1], img.Pix[at+2] = pale, pale, pale
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// ReadProfile reads the ICC profile a maker had from the printer.
//
// Errors: Unsupported, Damaged.
func ReadProfile(data []byte) (*inks.Profile, error) {
	p, err := inks.Read(data)
	switch {
	case errors.Is(err, inks.ErrKind):
		return nil, &sequence.Error{Code: sequence.Unsupported, Message: "This is a colour profile, but not one of a printer's four inks (CMYK).",
			Hint: "Ask the printer for the ICC profile of the press and the paper.", Err: err}
	case err != nil:
		return nil, &sequence.Error{Code: sequence.Damaged, Message: "This is no ICC colour profile, or it is damaged.",
			Hint: "Ask the printer for the file again; its name ends in .icc or .icm.", Err: err}
	}
	return p, nil
}
