package form

import (
	"math"

	"pairwall/sequence/colour"
)

// line is a line across the picture: its heights at the left and the right
// edge as fractions from the top, and how much it stands out, 0..1.
type line struct{ left, right, strength float64 }

// reaching is the line's heights at other places than the picture's edges,
// given as fractions of its width.
func (l line) reaching(from, to float64) (left, right float64) {
	at := func(x float64) float64 { return l.left + (l.right-l.left)*x }
	return at(from), at(to)
}

const (
	steepestLine = 0.12 // rise over the width, of the width: about 7°
	marginOfLine = 0.06 // of the height: nearer to an edge a line divides nothing
	fullStep     = 18.0 // ΔE from above to below at which a line stands out fully
	leastLine    = 0.35 // strength below which nothing is said
)

// levelLine finds the line, level or nearly, at which the picture changes most
// evenly: all along it, what lies above differs from what lies below by the
// same colour. That a roof or a row of windows does for a part of the width
// only, and foliage does to and fro.
//
// Every line of the allowed slopes is tried (a Hough transform of the vertical
// change of colour): a line's strength is the length of the mean change along
// it over fullStep, times how alike the changes are (the mean's length over the
// mean length), times the square of the share of columns that change that way at
// all. Time:
// height × slopes × width, about a million sums.
func levelLine(g glance) line {
	if g.width < 16 || g.height < 16 {
		return line{}
	}
	changes := changesOf(g)
	margin := max(2, int(marginOfLine*float64(g.height)))
	rise := int(steepestLine * float64(g.width))
	best, strength, bestTop, bestRise := 0.0, 0.0, 0, 0
	for top := margin; top < g.height-margin; top++ {
		for r := -rise; r <= rise; r++ {
			if end := top + r; end < margin || end >= g.height-margin {
				continue
			}
			// How strong a step is decides between lines, but beyond fullStep it does
			// not make a line count for more. A small preference for the level decides between equals.
			s, seen := alongLine(changes, g, top, r)
			s *= (1 - 0.1*math.Abs(float64(r))/float64(rise+1))
			if s > best {
				best, strength, bestTop, bestRise = s, seen, top, r
			}
		}
	}
	if strength < leastLine {
		return line{}
	}
	height := float64(g.height)
	return line{float64(bestTop) / height, float64(bestTop+bestRise) / height, strength}
}

// changesOf is, for each place between two rows, how colour changes from just
// above to just below; place y lies on top of row y.
func changesOf(g glance) []colour.Lab {
	const reach = 3
	changes := make([]colour.Lab, g.width*(g.height+1))
	for y := reach; y <= g.height-reach; y++ {
		for x := range g.width {
			var c colour.Lab
			for k := range reach {
				above, below := g.at[(y-1-k)*g.width+x], g.at[(y+k)*g.width+x]
				c.L, c.A, c.B = c.L+below.L-above.L, c.A+below.A-above.A, c.B+below.B-above.B
			}
			changes[y*g.width+x] = colour.Lab{L: c.L / reach, A: c.A / reach, B: c.B / reach}
		}
	}
	return changes
}

// alongLine is the step at the line that starts at place top on the left and has
// sunk by rise rows on the right, in ΔE and evened, and the line's strength.
func alongLine(changes []colour.Lab, g glance, top, rise int) (step, strength float64) {
	var mean colour.Lab
	var lengths float64
	for x := range g.width {
		c := changes[placeOn(x, g.width, top, rise)*g.width+x]
		mean.L, mean.A, mean.B = mean.L+c.L, mean.A+c.A, mean.B+c.B
		lengths += math.Sqrt(c.L*c.L + c.A*c.A + c.B*c.B)
	}
	n := float64(g.width)
	length := math.Sqrt(mean.L*mean.L+mean.A*mean.A+mean.B*mean.B) / n
	if length < 0.1*fullStep { // cannot become anything: spare the second pass
		return 0, 0
	}
	along := 0
	for x := range g.width {
		c := changes[placeOn(x, g.width, top, rise)*g.width+x]
		if (c.L*mean.L+c.A*mean.A+c.B*mean.B)/n/length > length/3 {
			along++
		}
	}
	share := float64(along) / n
	even := length / (lengths / n) * share * share
	return length * even, min(1, length/fullStep) * even
}

func placeOn(x, width, top, rise int) int {
	return top + (2*rise*x+width)/(2*width)
}
