package jpeg

import (
	"image"
	"image/color"
)

// image makes a picture of the decoded channels.
func (d *decoder) image() image.Image {
	rect := image.Rect(0, 0, ceil(d.width*d.side, 8), ceil(d.height*d.side, 8))
	c := d.components
	switch len(c) {
	case 1:
		return &image.Gray{Pix: c[0].plane, Stride: c[0].stride, Rect: rect}
	case 3:
		if d.isRGB() {
			return d.rgb(rect)
		}
		return d.yCbCr(rect)
	}
	return d.inks(rect)
}

// isRGB reports whether three channels are red, green and blue: Adobe's marker
// says so, or without it the names of the channels.
func (d *decoder) isRGB() bool {
	if d.transform >= 0 {
		return d.transform == 0
	}
	c := d.components
	return c[0].id == 'R' && c[1].id == 'G' && c[2].id == 'B'
}

// ratios are the samplings that image.YCbCr knows, by how many pixels share a
// sample across and down.
var ratios = map[[2]int]image.YCbCrSubsampleRatio{
	{1, 1}: image.YCbCrSubsampleRatio444, {2, 1}: image.YCbCrSubsampleRatio422, {2, 2}: image.YCbCrSubsampleRatio420,
	{1, 2}: image.YCbCrSubsampleRatio440, {4, 1}: image.YCbCrSubsampleRatio411, {4, 2}: image.YCbCrSubsampleRatio410,
}

func (d *decoder) yCbCr(rect image.Rectangle) image.Image {
	y, cb, cr := &d.components[0], &d.components[1], &d.components[2]
	even := y.across == d.mostX && y.down == d.mostY && cb.across == cr.across && cb.down == cr.down &&
		d.mostX%cb.across == 0 && d.mostY%cb.down == 0
	if even {
		if ratio, known := ratios[[2]int{d.mostX / cb.across, d.mostY / cb.down}]; known {
			return &image.YCbCr{Y: y.plane, Cb: cb.plane, Cr: cr.plane, YStride: y.stride, CStride: cb.stride,
				SubsampleRatio: ratio, Rect: rect}
		}
	}
	img := image.NewYCbCr(rect, image.YCbCrSubsampleRatio444)
	d.each(rect, func(x, line int, v [4]uint8) {
		at := line*img.YStride + x
		img.Y[at], img.Cb[at], img.Cr[at] = v[0], v[1], v[2]
	})
	return img
}

func (d *decoder) rgb(rect image.Rectangle) image.Image {
	img := image.NewRGBA(rect)
	d.each(rect, func(x, y int, v [4]uint8) {
		copy(img.Pix[y*img.Stride+4*x:], []uint8{v[0], v[1], v[2], 255})
	})
	return img
}

// inks makes CMYK of four channels. Files with Adobe's marker hold the inks the
// other way round, 255 for none, and may hold three of them as YCbCr.
func (d *decoder) inks(rect image.Rectangle) image.Image {
	img := image.NewCMYK(rect)
	d.each(rect, func(x, y int, v [4]uint8) {
		switch {
		case d.transform > 0: // red, green and blue are the inks, once turned round with them
			v[0], v[1], v[2] = color.YCbCrToRGB(v[0], v[1], v[2])
			v[3] = 255 - v[3]
		case d.transform == 0:
			v = [4]uint8{255 - v[0], 255 - v[1], 255 - v[2], 255 - v[3]}
		}
		copy(img.Pix[y*img.Stride+4*x:], v[:])
	})
	return img
}

// each calls back with the samples that make up every pixel.
func (d *decoder) each(rect image.Rectangle, with func(x, y int, v [4]uint8)) {
	for y := range rect.Dy() {
		for x := range rect.Dx() {
			var v [4]uint8
			for i := range d.components {
				c := &d.components[i]
				v[i] = c.plane[y*c.down/d.mostY*c.stride+x*c.across/d.mostX]
			}
			with(x, y, v)
		}
	}
}
