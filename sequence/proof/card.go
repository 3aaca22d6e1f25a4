package proof

import (
	"math"

	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/perspective"
)

// Limits of what may be a grey card. Cards of 18 % have L* 50, those for digital
// cameras up to 75 (common practice); light that falls off and exposure add to
// both sides. Beside a paper with a tint of its own a neutral card leans.
const (
	leastCard   = 1. / 200 // of the photograph
	mostCard    = 1. / 6
	darkestCard = 35.0 // L* beside the paper
	lightest    = 80.0
	mostTint    = 10.0 // chroma beside the paper
)

// cardIn looks beside the page for what may be a grey card: one flat
// parallelogram of a middle grey, evenly lit. It proposes nothing where there
// are several, because then it would guess.
//
// Page goes from pixels of the page, of the size given, to pixels of seen; paper
// is the light of bare paper in its middle.
func cardIn(seen light, page perspective.Homography, width, height int, paper [3]float64) *pages.Point {
	back, ok := page.Inverse()
	if !ok {
		return nil
	}
	small := seen.within(targetLong)
	k := float64(seen.width) / float64(small.width)
	all := float64(small.width * small.height)
	var found *pages.Point
	for _, b := range flatBlobs(small, mostCard) {
		if b.area < leastCard*all || b.like < 0.95 || b.like > 1.03 { // an ellipse has 1.05
			continue
		}
		at := back.At(b.middle.Times(k))
		if at.X > 0 && at.Y > 0 && at.X < float64(width) && at.Y < float64(height) {
			continue
		}
		if !small.greyAround(b, paper) {
			continue
		}
		if found != nil {
			return nil
		}
		found = &pages.Point{X: b.middle.X / float64(small.width), Y: b.middle.Y / float64(small.height)}
	}
	return found
}

// greyAround tells whether the middle half of a blob is one middle grey beside
// the paper, and no lighter on one side than a card under a lamp.
func (l light) greyAround(b blob, paper [3]float64) bool {
	const uneven = 4.0 // of L*, over half the card
	half := int(math.Sqrt(b.area) / 4)
	var quarters [4]colour.LabD50
	var mean colour.LabD50
	n := float64(4 * half * half)
	for dy := -half; dy < half; dy++ {
		for dx := -half; dx < half; dx++ {
			x, y := int(b.middle.X)+dx, int(b.middle.Y)+dy
			if x < 0 || y < 0 || x >= l.width || y >= l.height {
				return false
			}
			c := l.at(x, y)
			for i := range c {
				c[i] /= paper[i]
			}
			lab := colour.D50FromLinear(c)
			mean = mean.Plus(times(lab, 1/n))
			q := 0
			if dx >= 0 {
				q++
			}
			if dy >= 0 {
				q += 2
			}
			quarters[q] = quarters[q].Plus(times(lab, 4/n))
		}
	}
	for _, q := range quarters {
		if d := q.Minus(mean); math.Abs(d.L) > uneven/2 || d.Chroma() > 2 {
			return false
		}
	}
	return mean.L > darkestCard && mean.L < lightest && mean.Chroma() < mostTint
}
