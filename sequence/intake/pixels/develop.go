package pixels

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/intake/header"
)

// Print is a small picture made from a large one.
type Print struct {
	Picture  *image.RGBA // upright, sRGB, opaque
	Profile  string      // name of the colour space the file gave; "" when sRGB was assumed
	Findings []sequence.Finding
}

// Develop makes a print of a decoded picture whose longer side is at most long
// pixels; it never enlarges.
//
// Colours are converted after shrinking, which is a fraction of the work. The
// two ways differ along hard edges between strong colours: on a phone's 12 MP
// picture in Display P3 by 0.3 of 255 on average, and by more than 2 in 0.9 % of
// samples (measured at 1600 pixels; this package's tests keep watch on pieces).
//
// Errors: Damaged.
func Develop(full image.Image, h header.Header, long int) (print Print, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			print, err = Print{}, header.Damaged("This picture is damaged and cannot be shown.", fmt.Errorf("panic: %v", cause))
		}
	}()
	small, err := shrink(linesOf(full), long)
	if err != nil {
		return Print{}, err
	}
	space := spaceOf(h, small)
	picture, err := develop(small, space.convert)
	if err != nil {
		return Print{}, err
	}
	return Print{upright(picture, h.Turn), space.name, space.findings}, nil
}

// Smaller makes a small sRGB picture from a larger one.
func Smaller(img *image.RGBA, long int) (*image.RGBA, error) {
	small, err := shrink(linesOf(img), long)
	if err != nil {
		return nil, err
	}
	return develop(small, assumed(3))
}

// Encode writes a picture as JPEG that says it is sRGB, and nothing else:
// no EXIF, no position.
func Encode(img *image.RGBA, quality int) ([]byte, error) {
	var plain bytes.Buffer
	if err := jpeg.Encode(&plain, img, &jpeg.Options{Quality: quality}); err != nil {
		return nil, err
	}
	start := []byte{0xFF, 0xD8,
		// JFIF 1.01 (Hamilton 1992): no unit, square pixels, no thumbnail.
		0xFF, 0xE0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 1, 0, 0, 1, 0, 1, 0, 0}
	profile := colour.SRGBProfile()
	lead := append([]byte("ICC_PROFILE\x00"), 1, 1)
	length := 2 + len(lead) + len(profile)
	start = append(start, 0xFF, 0xE2, byte(length>>8), byte(length))
	start = append(start, lead...)
	start = append(start, profile...)
	return append(start, plain.Bytes()[2:]...), nil
}

// upright turns a picture as EXIF's orientation says: 2 mirrored, 3 upside
// down, 4 both, 5 to 8 lying on a side. Anything else counts as 1, upright.
// Source: EXIF 2.32, 4.6.4, tag 0112.
func upright(img *image.RGBA, orientation int) *image.RGBA {
	if orientation < 2 || orientation > 8 {
		return img
	}
	w, h := img.Rect.Dx(), img.Rect.Dy()
	if orientation >= 5 {
		w, h = h, w
	}
	turned := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			fromX, fromY := stored(x, y, w, h, orientation)
			copy(turned.Pix[turned.PixOffset(x, y):][:4], img.Pix[img.PixOffset(fromX, fromY):][:4])
		}
	}
	return turned
}

// stored is where the pixel x, y of an upright picture of w by h pixels lies
// in the picture as stored.
func stored(x, y, w, h, orientation int) (int, int) {
	switch orientation {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return y, w - 1 - x
	case 7:
		return h - 1 - y, w - 1 - x
	case 8:
		return h - 1 - y, x
	}
	return x, y
}
