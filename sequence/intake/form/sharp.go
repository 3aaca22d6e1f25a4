package form

import (
	"math"
	"slices"
)

// sharpBlock is the side of the squares of which each is as sharp as its
// steepest edge. An edge blurred beyond that width counts as wholly soft.
const sharpBlock = 16

// faint is the contrast below which a square has no edge to judge: grain and
// the compression's own patterns stay below it.
const faint = 0.10

// sharpness is how sharp the picture is where it is sharpest: 1 when edges rise
// within two pixels, 0 when over ten or when there is nothing with contrast. A portrait with a soft background counts by its eyes.
//
// Each square of 16 pixels is measured by its steepest slope over its whole
// contrast: the inverse of an edge's width, whatever its height (the edge-width
// family of measures: Marziliano and others, ICIP 2002). An edge blurred by a
// Gaussian of σ pixels has the slope 1/√(2π(σ²+s²)), s² = 0.5 being this
// measure's own smoothing against grain. The 95th percentile of the squares
// counts, so that one dust speck does not.
//
// depth is how sharp most of the picture is beside its sharpest: the median of the
// squares over their 99th percentile. It is 0 where fewer than two fifths of the
// squares show anything to judge, as by night.
func sharpness(p plane) (sharp, depth float64) {
	smooth := p.smoothed()
	low, high := smooth.extremes()
	var list []float64
	for y := 1; y+sharpBlock < p.height; y += sharpBlock {
		for x := 1; x+sharpBlock < p.width; x += sharpBlock {
			// The contrast is that of a wider square: of an edge that lies
			// across the border of its square, that alone would see a part.
			contrast := contrastAround(low, high, x/sharpCell, y/sharpCell)
			if contrast >= faint {
				list = append(list, steepest(smooth, x, y)/contrast)
			}
		}
	}
	blocks := (p.width / sharpBlock) * (p.height / sharpBlock)
	if len(list) < max(1, blocks/200) {
		return 0, 0
	}
	slices.Sort(list)
	if len(list)*5 >= blocks*2 {
		depth = list[len(list)/2] / max(list[min(len(list)-1, len(list)*99/100)], 1e-9)
	}
	slope := list[min(len(list)-1, len(list)*95/100)]
	// What the crispest and the softest of the real photographs reach: an edge
	// that ends within its square is steeper against what the square shows of
	// it than a whole one.
	const crisp, soft = 0.50, 0.10
	return within01((slope - soft) / (crisp - soft)), depth
}

// sharpCell is the side of the cells whose extremes are taken once.
const sharpCell = sharpBlock / 2

// extremes are the darkest and the lightest value of every cell.
func (p plane) extremes() (low, high plane) {
	width, height := (p.width+sharpCell-1)/sharpCell, (p.height+sharpCell-1)/sharpCell
	low, high = newPlane(width, height), newPlane(width, height)
	for i := range low.at {
		low.at[i] = 1
	}
	for y := range p.height {
		for x, v := range p.row(y) {
			i := y/sharpCell*width + x/sharpCell
			low.at[i], high.at[i] = min(low.at[i], v), max(high.at[i], v)
		}
	}
	return low, high
}

// contrastAround is the contrast within a square of two cells and one more on
// every side.
func contrastAround(low, high plane, left, top int) float64 {
	least, most := float32(1), float32(0)
	for y := max(top-1, 0); y < min(top+3, low.height); y++ {
		for x := max(left-1, 0); x < min(left+3, low.width); x++ {
			i := y*low.width + x
			least, most = min(least, low.at[i]), max(most, high.at[i])
		}
	}
	return float64(most - least)
}

// steepest is the steepest slope in a square, per pixel: that of its third
// steepest pixel, for one or two are dust.
func steepest(p plane, left, top int) float64 {
	var most [3]float32
	for y := top; y < top+sharpBlock; y++ {
		for x := left; x < left+sharpBlock; x++ {
			i := y*p.width + x
			dx, dy := p.at[i+1]-p.at[i-1], p.at[i+p.width]-p.at[i-p.width]
			s := dx*dx + dy*dy
			for k := range most {
				if s > most[k] {
					s, most[k] = most[k], s
				}
			}
		}
	}
	return math.Sqrt(float64(most[2])) / 2
}

// smoothed is the plane under the binomial 1 2 1 in both directions, whose
// variance is half a pixel².
func (p plane) smoothed() plane {
	across, both := newPlane(p.width, p.height), newPlane(p.width, p.height)
	for y := range p.height {
		from, to := p.row(y), across.row(y)
		for x := range from {
			to[x] = (from[max(x-1, 0)] + 2*from[x] + from[min(x+1, p.width-1)]) / 4
		}
	}
	for y := range p.height {
		above, here, below := across.row(max(y-1, 0)), across.row(y), across.row(min(y+1, p.height-1))
		to := both.row(y)
		for x := range to {
			to[x] = (above[x] + 2*here[x] + below[x]) / 4
		}
	}
	return both
}
