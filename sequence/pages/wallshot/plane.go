package wallshot

import (
	"math"
	"slices"

	"pairwall/sequence/pages"
	"pairwall/sequence/pages/perspective"
)

// levelled returns the map from a photograph to the wall, in millimetres from
// somewhere, as the codes in it tell: all are squares of one size and nearly
// upright. ok is false without any code.
//
// A plane seen in perspective shrinks areas by the cube of a function that is
// linear in the picture (the Jacobian of a homography), so a straight line fit
// through the cube roots of the codes' areas undoes the perspective; what is
// left is affine, and the codes' mean sides undo that. Slopes that the codes do
// not tell, because they hang in one line, are taken for none.
func levelled(codes []perspective.Quad) (h perspective.Homography, ok bool) {
	if len(codes) == 0 {
		return perspective.Homography{}, false
	}
	var middle perspective.Point
	for _, q := range codes {
		middle = middle.Plus(q.Centre().Times(1 / float64(len(codes))))
	}
	reach := 1.0
	for _, q := range codes {
		reach = max(reach, q.Centre().Distance(middle))
	}
	roots := make([]float64, len(codes))
	for i, q := range codes {
		roots[i] = math.Cbrt(math.Abs(q.Area()))
	}
	fit := slope(codes, roots, middle, reach)
	lost := perspective.Homography{{1, 0, -middle.X}, {0, 1, -middle.Y}, {0, 0, 1}}
	gx, gy := fit[1]/fit[0]/reach, fit[2]/fit[0]/reach
	lost[2] = [3]float64{gx, gy, 1 - gx*middle.X - gy*middle.Y}
	var across, down [2][]float64
	for _, q := range codes {
		for i := range q {
			q[i] = lost.At(q[i])
		}
		u, v := q[1].Minus(q[0]).Plus(q[2].Minus(q[3])).Times(0.5), q[3].Minus(q[0]).Plus(q[2].Minus(q[1])).Times(0.5)
		across[0], across[1] = append(across[0], u.X), append(across[1], u.Y)
		down[0], down[1] = append(down[0], v.X), append(down[1], v.Y)
	}
	u, v := perspective.Point{X: median(across[0]), Y: median(across[1])}, perspective.Point{X: median(down[0]), Y: median(down[1])}
	det := u.Cross(v)
	if math.Abs(det) < 1e-9 {
		return perspective.Homography{}, false
	}
	k := pages.CodeWidth.Mm() / det
	affine := perspective.Homography{{v.Y * k, -v.X * k, 0}, {-u.Y * k, u.X * k, 0}, {0, 0, 1}}
	return affine.After(lost), true
}

// slope fits a + b·x + c·y to values at the middles of codes, counted from
// middle in units of reach: by least squares, with b and c held to about none
// where the codes tell nothing of them, and once more without the values that
// lie far off.
func slope(codes []perspective.Quad, values []float64, middle perspective.Point, reach float64) [3]float64 {
	typical := median(values)
	const noise, tilt = 0.005, 0.3 // of a value, and of a slope, as shares of a value: what corners and people do
	hold := (noise / tilt) * (noise / tilt)
	var fit [3]float64
	for range 2 {
		m := [3][4]float64{{}, {0, hold, 0, 0}, {0, 0, hold, 0}}
		for i, q := range codes {
			p := q.Centre().Minus(middle).Times(1 / reach)
			row := [3]float64{1, p.X, p.Y}
			if fit[0] != 0 && math.Abs(fit[0]+fit[1]*p.X+fit[2]*p.Y-values[i]) > 0.05*typical {
				continue
			}
			for r := range 3 {
				for c := range 3 {
					m[r][c] += row[r] * row[c]
				}
				m[r][3] += row[r] * values[i]
			}
		}
		if next := solved(m); next[0] > 0 {
			fit = next
		}
	}
	if fit[0] <= 0 || math.Abs(fit[1])+math.Abs(fit[2]) > 0.95*fit[0] {
		return [3]float64{typical, 0, 0}
	}
	return fit
}

func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}
