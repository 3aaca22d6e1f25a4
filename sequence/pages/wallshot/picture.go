package wallshot

import (
	"image"

	"pairwall/sequence/pages/perspective"
)

// level is a grey picture at one scale.
type level struct {
	pix           []byte
	width, height int
	scale         float64 // pixels of the photograph to one of this
}

func levelOf(img *image.Gray) level {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	if img.Stride == w {
		return level{img.Pix[:w*h], w, h, 1}
	}
	pix := make([]byte, 0, w*h)
	for y := range h {
		pix = append(pix, img.Pix[y*img.Stride:y*img.Stride+w]...)
	}
	return level{pix, w, h, 1}
}

// half returns the picture at half the size, each pixel the mean of four.
func (l level) half() level {
	w, h := l.width/2, l.height/2
	small := level{make([]byte, w*h), w, h, l.scale * 2}
	for y := range h {
		above, below, out := l.pix[2*y*l.width:], l.pix[(2*y+1)*l.width:], small.pix[y*w:(y+1)*w]
		for x := range out {
			out[x] = byte((int(above[2*x]) + int(above[2*x+1]) + int(below[2*x]) + int(below[2*x+1]) + 2) >> 2)
		}
	}
	return small
}

// at reads the picture between its pixels, bilinearly; the middle of the first
// pixel is (0.5, 0.5). Beyond its edges it goes on as at the edge.
func (l level) at(p perspective.Point) float64 {
	x, y := min(max(p.X-0.5, 0), float64(l.width-1)-1e-6), min(max(p.Y-0.5, 0), float64(l.height-1)-1e-6)
	if !(x >= 0 && y >= 0) { // not a number
		return 0
	}
	column, row := int(x), int(y)
	fx, fy := x-float64(column), y-float64(row)
	i := row*l.width + column
	right, down := 1, l.width
	top := float64(l.pix[i])*(1-fx) + float64(l.pix[i+right])*fx
	bottom := float64(l.pix[i+down])*(1-fx) + float64(l.pix[i+down+right])*fx
	return top*(1-fy) + bottom*fy
}

// darker marks with 1 what is darker than its surroundings: the mean of the
// square of the given radius (Bradley and Roth, "Adaptive Thresholding using the
// Integral Image", J. Graphics Tools 12(2), 2007), less a bias that keeps the
// noise of an even ground from being marked. The sums slide, so that no
// integral picture need be kept.
func (l level) darker(radius int) []byte {
	marked := make([]byte, len(l.pix))
	columns := make([]int, l.width) // sums of the columns within the square's height
	add := func(y, sign int) {
		for x, v := range l.pix[y*l.width : (y+1)*l.width] {
			columns[x] += sign * int(v)
		}
	}
	for y := range min(radius, l.height) {
		add(y, 1)
	}
	for y := range l.height {
		if y+radius < l.height {
			add(y+radius, 1)
		}
		if y-radius-1 >= 0 {
			add(y-radius-1, -1)
		}
		rows := min(y+radius, l.height-1) - max(y-radius, 0) + 1
		sum, from, to := 0, 0, 0 // of the columns from..to
		in, out := l.pix[y*l.width:(y+1)*l.width], marked[y*l.width:(y+1)*l.width]
		for x := range out {
			for ; to < min(x+radius+1, l.width); to++ {
				sum += columns[to]
			}
			for ; from < x-radius; from++ {
				sum -= columns[from]
			}
			// v < mean × 15/16 - 2, without dividing
			if n := rows * (to - from); (int(in[x])+2)*n*16 < sum*15 {
				out[x] = 1
			}
		}
	}
	return marked
}
