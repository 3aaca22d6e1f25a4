package form

import (
	"image"

	"pairwall/sequence/colour"
)

// plane is a picture of one channel, 0..1, row by row.
type plane struct {
	width, height int
	at            []float32
}

func newPlane(width, height int) plane {
	return plane{width, height, make([]float32, width*height)}
}

// row is one row of the plane.
func (p plane) row(y int) []float32 { return p.at[y*p.width : (y+1)*p.width] }

// lumaOf is the brightness of the pixels within a rectangle: luma of ITU-R
// BT.709, which weighs values as encoded, 0..1.
func lumaOf(img image.Image, inside image.Rectangle) plane {
	p := newPlane(inside.Dx(), inside.Dy())
	if rgba, known := img.(*image.RGBA); known {
		for y := range p.height {
			from := rgba.Pix[rgba.PixOffset(inside.Min.X, inside.Min.Y+y):]
			for x := range p.row(y) {
				p.at[y*p.width+x] = luma(from[4*x], from[4*x+1], from[4*x+2])
			}
		}
		return p
	}
	for y := range p.height {
		for x := range p.width {
			r, g, b, _ := img.At(inside.Min.X+x, inside.Min.Y+y).RGBA()
			p.at[y*p.width+x] = luma(uint8(r>>8), uint8(g>>8), uint8(b>>8))
		}
	}
	return p
}

func luma(r, g, b uint8) float32 {
	return (0.2126*float32(r) + 0.7152*float32(g) + 0.0722*float32(b)) / 255
}

// scaled is how large something becomes whose longer side shall be at most
// long; neither side becomes 0.
func scaled(width, height, long int) (int, int) {
	most := max(width, height)
	if most <= long {
		return width, height
	}
	return max(1, (width*long+most/2)/most), max(1, (height*long+most/2)/most)
}

// edges averages the plane down until its longer side is at most edgeSide.
func (p plane) edges() plane {
	return p.to(scaled(p.width, p.height, edgeSide))
}

// to averages the plane to a given size, each new pixel over the area it
// covers, with the parts of pixels at its edges counted as parts.
func (p plane) to(width, height int) plane {
	if width == p.width && height == p.height {
		return p
	}
	narrow := newPlane(width, p.height)
	across := shares(p.width, width)
	for y := range p.height {
		from, to := p.row(y), narrow.row(y)
		for x, s := range across {
			run := from[s.first : s.last+1]
			sum := run[0] * s.opening
			for _, v := range run[1:max(len(run)-1, 1)] {
				sum += v
			}
			if len(run) > 1 {
				sum += run[len(run)-1] * min(s.ending, 1)
			}
			to[x] = sum / s.total
		}
	}
	small := newPlane(width, height)
	for y, s := range shares(p.height, height) {
		to := small.row(y)
		for i := s.first; i <= s.last; i++ {
			w := s.weight(i)
			for x, v := range narrow.row(i) {
				to[x] += w * v
			}
		}
	}
	return small
}

// share is the run of old pixels that one new pixel covers, and how much of
// the first and of the last.
type share struct {
	first, last     int
	opening, ending float32
	total           float32
}

func shares(from, to int) []share {
	list := make([]share, to)
	for i := range list {
		left, right := float64(i)*float64(from)/float64(to), float64(i+1)*float64(from)/float64(to)
		s := share{first: int(left), last: min(int(right), from-1), total: float32(right - left)}
		s.opening, s.ending = float32(1-(left-float64(s.first))), float32(right-float64(s.last))
		if s.first == s.last {
			s.opening = float32(right - left)
		}
		list[i] = s
	}
	return list
}

// weight is the share of old pixel i, which lies in the run.
func (s share) weight(i int) float32 {
	switch i {
	case s.first:
		return s.opening / s.total
	case s.last:
		return min(s.ending, 1) / s.total
	}
	return 1 / s.total
}

// glance is a picture as seen at a glance: small, in CIELAB.
type glance struct {
	width, height int
	at            []colour.Lab
}

// glanceOf averages the pixels within a rectangle down to a glance.
func glanceOf(img image.Image, inside image.Rectangle) glance {
	width, height := scaled(inside.Dx(), inside.Dy(), glanceSide)
	g := glance{width, height, make([]colour.Lab, width*height)}
	for y := range height {
		top, bottom := y*inside.Dy()/height, max((y+1)*inside.Dy()/height, y*inside.Dy()/height+1)
		for x := range width {
			left, right := x*inside.Dx()/width, max((x+1)*inside.Dx()/width, x*inside.Dx()/width+1)
			g.at[y*width+x] = meanLab(img, image.Rect(left, top, right, bottom).Add(inside.Min))
		}
	}
	return g
}

func meanLab(img image.Image, box image.Rectangle) colour.Lab {
	var r, g, b, n uint32
	rgba, known := img.(*image.RGBA)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		if known {
			row := rgba.Pix[rgba.PixOffset(box.Min.X, y):][:4*box.Dx()]
			for i := 0; i < len(row); i += 4 {
				r, g, b, n = r+uint32(row[i]), g+uint32(row[i+1]), b+uint32(row[i+2]), n+1
			}
			continue
		}
		for x := box.Min.X; x < box.Max.X; x++ {
			pr, pg, pb, _ := img.At(x, y).RGBA()
			r, g, b, n = r+pr>>8, g+pg>>8, b+pb>>8, n+1
		}
	}
	round := func(sum uint32) uint8 { return uint8((sum + n/2) / n) }
	return colour.FromSRGB(round(r), round(g), round(b))
}
