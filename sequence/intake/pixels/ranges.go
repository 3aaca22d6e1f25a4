package pixels

import (
	"image"
	"math"

	"pairwall/sequence/intake/header"
)

// widened takes a picture stored in studio range, brightness 16..235 and colours
// 16..240, to the full range that JPEG has and image.YCbCr means (ITU-R BT.601-7,
// 2.5.3 and 2.5.4). The picture's own samples are changed.
func widened(img image.Image) image.Image {
	var luma, chroma [256]uint8
	for i := range luma {
		luma[i] = uint8(min(max(math.Round((float64(i)-16)*255/219), 0), 255))
		chroma[i] = uint8(min(max(math.Round((float64(i)-128)*255/224+128), 0), 255))
	}
	through := func(samples []uint8, table *[256]uint8) {
		for i, v := range samples {
			samples[i] = table[v]
		}
	}
	switch img := img.(type) {
	case *image.YCbCr:
		through(img.Y, &luma)
		through(img.Cb, &chroma)
		through(img.Cr, &chroma)
	case *image.Gray:
		through(img.Pix, &luma)
	}
	return img
}

// weights are the shares of red and blue in brightness by the matrices of ITU-T
// H.273, table 4; other numbers mean those of JPEG, 0.299 and 0.114.
var weights = map[int][2]float64{1: {0.2126, 0.0722}, 9: {0.2627, 0.0593}}

// understood turns what the HEIC decoder gives into what image.YCbCr means, or
// into RGB where its brightness is made otherwise.
func understood(img image.Image, h header.Header) image.Image {
	if h.Studio {
		img = widened(img)
	}
	stored, is := img.(*image.YCbCr)
	w, other := weights[h.Matrix]
	if !is || !other {
		return img
	}
	red, blue := 2*(1-w[0]), 2*(1-w[1])
	green := 1 - w[0] - w[1]
	out := image.NewRGBA(stored.Rect)
	cut := func(v float64) uint8 { return uint8(min(max(v, 0), 255) + 0.5) }
	for y := range stored.Rect.Dy() {
		for x := range stored.Rect.Dx() {
			c := stored.COffset(x, y)
			l, cb, cr := float64(stored.Y[stored.YOffset(x, y)]), float64(stored.Cb[c])-128, float64(stored.Cr[c])-128
			r, b := l+red*cr, l+blue*cb
			g := (l - w[0]*r - w[1]*b) / green
			pixel := out.Pix[y*out.Stride+4*x:][:4]
			pixel[0], pixel[1], pixel[2], pixel[3] = cut(r), cut(g), cut(b), 255
		}
	}
	return out
}
