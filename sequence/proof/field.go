package proof

import "math"

// field is the light on a page as its bare paper shows it: for each channel the
// logarithm of what a sheet of that paper would send back, a polynomial of the
// second order over the page.
type field struct {
	coefficients [3][6]float64 // of green, red over green, blue over green
	covariance   [6][6]float64 // of the first, for one unit of its variance
	variance     [2]float64    // of the logarithms around it: lightness, colour
	cells        int
}

// bare is one small piece of unprinted paper.
type bare struct {
	u, v  float64 // -1..1 over the page
	light [3]float64
}

const leastBare = 12 // pieces of paper without which nothing can be told from it

// fieldOf fits the field to what bare paper there is, by least squares with
// weights that fall with the distance; bending is held back where the paper does
// not tell it. ok is false when there is too little paper.
func fieldOf(paper []bare) (f field, ok bool) {
	if len(paper) < leastBare {
		return f, false
	}
	f.cells = len(paper)
	for channel := range 3 {
		values := make([]float64, len(paper))
		for i, p := range paper {
			values[i] = logOf(p, channel)
		}
		hold := [6]float64{0, 0.02, 0.02, 0.5, 0.5, 0.5} // about a thousandth of what a margin all around tells
		if channel > 0 {
			hold = [6]float64{0, 1, 1, 20, 20, 20} // the colour of light changes less than its strength
		}
		c, inverse, variance := fitted(paper, values, hold)
		f.coefficients[channel] = c
		if channel == 0 {
			f.covariance, f.variance[0] = inverse, variance
		} else {
			f.variance[1] = max(f.variance[1], variance)
		}
	}
	return f, true
}

func logOf(p bare, channel int) float64 {
	switch channel {
	case 0:
		return math.Log(p.light[1])
	case 1:
		return math.Log(p.light[0] / p.light[1])
	}
	return math.Log(p.light[2] / p.light[1])
}

func basis(u, v float64) [6]float64 { return [6]float64{1, u, v, u * u, u * v, v * v} }

func fitted(paper []bare, values []float64, hold [6]float64) (c [6]float64, inverse [6][6]float64, variance float64) {
	weights := make([]float64, len(paper))
	for i := range weights {
		weights[i] = 1
	}
	for range 6 {
		var m [6][6]float64
		var right [6]float64
		for i := range hold {
			m[i][i] = hold[i]
		}
		for i, p := range paper {
			b := basis(p.u, p.v)
			for r := range 6 {
				for k := range 6 {
					m[r][k] += weights[i] * b[r] * b[k]
				}
				right[r] += weights[i] * b[r] * values[i]
			}
		}
		inverse = inverted(m)
		c = [6]float64{}
		for r := range 6 {
			for k := range 6 {
				c[r] += inverse[r][k] * right[k]
			}
		}
		away := make([]float64, len(paper))
		for i, p := range paper {
			away[i] = math.Abs(values[i] - dot(c, basis(p.u, p.v)))
		}
		spread := 1.4826*middle(away) + 1e-6
		variance = spread * spread
		for i, d := range away {
			weights[i] = 1 / (1 + d*d/(6*variance))
		}
	}
	return c, inverse, variance
}

func dot(a, b [6]float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// at is the light that bare paper would send back at a place.
func (f field) at(u, v float64) [3]float64 {
	b := basis(u, v)
	green := dot(f.coefficients[0], b)
	return [3]float64{math.Exp(green + dot(f.coefficients[1], b)), math.Exp(green), math.Exp(green + dot(f.coefficients[2], b))}
}

// unsure is the standard deviation of the logarithm of the light at a place: what
// the pieces of paper leave open, taken as if a dozen neighbours erred together.
func (f field) unsure(u, v float64) float64 {
	b := basis(u, v)
	sum := 0.0
	for r := range 6 {
		for k := range 6 {
			sum += b[r] * f.covariance[r][k] * b[k]
		}
	}
	return math.Sqrt(max(sum*f.variance[0]*12, 0))
}

// inverted by Gauss-Jordan; the matrices here are positive definite.
func inverted(m [6][6]float64) (inv [6][6]float64) {
	for i := range 6 {
		inv[i][i] = 1
		m[i][i] += 1e-9
	}
	for i := range 6 {
		k := 1 / m[i][i]
		for c := range 6 {
			m[i][c] *= k
			inv[i][c] *= k
		}
		for r := range 6 {
			if r == i {
				continue
			}
			f := m[r][i]
			for c := range 6 {
				m[r][c] -= f * m[i][c]
				inv[r][c] -= f * inv[i][c]
			}
		}
	}
	return inv
}
