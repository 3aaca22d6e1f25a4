package form

import (
	"math"

	"pairwall/sequence/colour"
)

// weight is the centre of the picture's visual weight, as fractions of its
// sides. A spot weighs as much as its colour differs from the picture's mean
// colour, squared: what stands out draws the eye. A picture of one colour
// balances in the middle.
//
// Source of the measure: Achanta, Hemami, Estrada, Süsstrunk, "Frequency-tuned
// Salient Region Detection", CVPR 2009: distance in CIELAB of the smoothed
// picture from its mean. Deviation: squared, because the centre of unsquared
// distances hardly leaves the middle.
func weight(g glance) (x, y float64) {
	mean := meanOf(g.at)
	var sum, sx, sy float64
	for i, c := range g.at {
		w := squaredApart(c, mean)
		sum += w
		sx += w * (float64(i%g.width) + 0.5)
		sy += w * (float64(i/g.width) + 0.5)
	}
	// Less than a thousandth of what can be told apart is rounding.
	if sum < 1e-3*float64(len(g.at)) {
		return 0.5, 0.5
	}
	return sx / sum / float64(g.width), sy / sum / float64(g.height)
}

func meanOf(list []colour.Lab) (mean colour.Lab) {
	for _, c := range list {
		mean.L, mean.A, mean.B = mean.L+c.L, mean.A+c.A, mean.B+c.B
	}
	n := float64(len(list))
	return colour.Lab{L: mean.L / n, A: mean.A / n, B: mean.B / n}
}

func squaredApart(a, b colour.Lab) float64 {
	return math.Pow(a.L-b.L, 2) + math.Pow(a.A-b.A, 2) + math.Pow(a.B-b.B, 2)
}
