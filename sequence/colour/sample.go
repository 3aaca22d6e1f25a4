package colour

import (
	"image"
	"image/color"
	"math"
)

const (
	// sampleCells is how many boxes a picture is divided into: about 100 × 100.
	sampleCells = 10000
	// sampleDepth² pixels of each box are looked at, whatever its size.
	sampleDepth = 4
)

// samples divides the picture into at most about 10,000 boxes of its own
// proportions and returns the mean colour of each, left to right, top to
// bottom; nil for a picture without pixels.
//
// Boxes are averaged, and in linear light, because that is what the eye does
// with grain, foliage and newsprint dots at the distance from which a wall of
// prints is judged; single pixels would report the grain of a scan as colours
// of its own. Up to 16 evenly spread pixels stand for a box, so the time does
// not grow with the picture.
func samples(img image.Image) []Lab {
	bounds := img.Bounds()
	width, height := bounds.Dx(), bounds.Dy()
	if width <= 0 || height <= 0 {
		return nil
	}
	columns := int(math.Round(math.Sqrt(sampleCells * float64(width) / float64(height))))
	columns = min(max(columns, 1), width)
	rows := min(max(sampleCells/columns, 1), height)
	at := pixels(img)
	cells := make([]Lab, 0, columns*rows)
	for row := range rows {
		top, bottom := row*height/rows, (row+1)*height/rows
		for column := range columns {
			left, right := column*width/columns, (column+1)*width/columns
			box := image.Rect(left, top, right, bottom).Add(bounds.Min)
			cells = append(cells, mean(at, box))
		}
	}
	return cells
}

// mean averages the evenly spread pixels of a box.
func mean(at func(x, y int) (r, g, b uint8), box image.Rectangle) Lab {
	width, height := box.Dx(), box.Dy()
	across, down := min(width, sampleDepth), min(height, sampleDepth)
	var sr, sg, sb float64
	for j := range down {
		y := box.Min.Y + (2*j+1)*height/(2*down)
		for i := range across {
			r, g, b := at(box.Min.X+(2*i+1)*width/(2*across), y)
			sr += linearOf[r]
			sg += linearOf[g]
			sb += linearOf[b]
		}
	}
	n := float64(across * down)
	return fromLinear(sr/n, sg/n, sb/n)
}

// pixels returns a reader of single sRGB pixels that goes round image.Image's
// costly At where it knows the layout. What is transparent shows white, as the
// paper would.
func pixels(img image.Image) func(x, y int) (r, g, b uint8) {
	switch img := img.(type) {
	case *image.NRGBA:
		return func(x, y int) (r, g, b uint8) {
			p := img.Pix[img.PixOffset(x, y):][:4:4]
			if p[3] == 255 {
				return p[0], p[1], p[2]
			}
			return onPaper(p[0], p[3]), onPaper(p[1], p[3]), onPaper(p[2], p[3])
		}
	case *image.RGBA:
		return func(x, y int) (r, g, b uint8) {
			p := img.Pix[img.PixOffset(x, y):][:4:4]
			paper := 255 - p[3]
			return p[0] + paper, p[1] + paper, p[2] + paper
		}
	case *image.YCbCr:
		return func(x, y int) (r, g, b uint8) {
			c := img.COffset(x, y)
			return color.YCbCrToRGB(img.Y[img.YOffset(x, y)], img.Cb[c], img.Cr[c])
		}
	case *image.Gray:
		return func(x, y int) (r, g, b uint8) {
			v := img.Pix[img.PixOffset(x, y)]
			return v, v, v
		}
	}
	return func(x, y int) (r, g, b uint8) {
		r16, g16, b16, a16 := img.At(x, y).RGBA()
		paper := 0xffff - a16
		return uint8((r16 + paper) >> 8), uint8((g16 + paper) >> 8), uint8((b16 + paper) >> 8)
	}
}

// onPaper lays a channel that is not premultiplied over white.
func onPaper(v, alpha uint8) uint8 {
	return uint8((uint32(v)*uint32(alpha) + 255*(255-uint32(alpha)) + 127) / 255)
}
