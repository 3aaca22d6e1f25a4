package perspective

import "math"

// Fit is the homography that takes the places from nearest to the places to, in
// the sense of least squares of h·from × to, each pair counting by its weight
// (nil: all the same). Coordinates are moved and scaled first, without which the
// equations are badly conditioned (Hartley, "In Defense of the Eight-Point
// Algorithm", IEEE PAMI 19(6), 1997). ok is false for fewer than four pairs or
// for places that lie in one line.
func Fit(from, to []Point, weights []float64) (h Homography, ok bool) {
	if len(from) < 4 || len(from) != len(to) {
		return Homography{}, false
	}
	normFrom, okFrom := normal(from)
	normTo, okTo := normal(to)
	back, okBack := normTo.Inverse()
	if !okFrom || !okTo || !okBack {
		return Homography{}, false
	}
	var m [8][9]float64
	for i := range from {
		w := 1.0
		if weights != nil {
			w = weights[i]
		}
		p, q := normFrom.At(from[i]), normTo.At(to[i])
		rows := [2][9]float64{
			{p.X, p.Y, 1, 0, 0, 0, -q.X * p.X, -q.X * p.Y, q.X},
			{0, 0, 0, p.X, p.Y, 1, -q.Y * p.X, -q.Y * p.Y, q.Y},
		}
		for _, row := range rows {
			for r := range 8 {
				for c := range 9 {
					m[r][c] += w * row[r] * row[c]
				}
			}
		}
	}
	v, ok := Solve8(m)
	if !ok {
		return Homography{}, false
	}
	inner := Homography{{v[0], v[1], v[2]}, {v[3], v[4], v[5]}, {v[6], v[7], 1}}
	return back.After(inner).After(normFrom), true
}

// normal moves the mean of places to the origin and their mean distance from it
// to the square root of two.
func normal(places []Point) (Homography, bool) {
	var middle Point
	for _, p := range places {
		middle = middle.Plus(p.Times(1 / float64(len(places))))
	}
	reach := 0.0
	for _, p := range places {
		reach += p.Distance(middle) / float64(len(places))
	}
	if !(reach > 1e-12) || math.IsInf(reach, 0) {
		return Homography{}, false
	}
	k := math.Sqrt2 / reach
	return Homography{{k, 0, -k * middle.X}, {0, k, -k * middle.Y}, {0, 0, 1}}, true
}

// Solve8 solves eight equations given with their right sides by elimination
// with row exchange; ok is false where they do not determine the unknowns.
func Solve8(m [8][9]float64) (x [8]float64, ok bool) {
	for i := range 8 {
		best := i
		for r := i + 1; r < 8; r++ {
			if math.Abs(m[r][i]) > math.Abs(m[best][i]) {
				best = r
			}
		}
		m[i], m[best] = m[best], m[i]
		if !(math.Abs(m[i][i]) > 1e-12) {
			return x, false
		}
		for r := i + 1; r < 8; r++ {
			k := m[r][i] / m[i][i]
			for c := i; c < 9; c++ {
				m[r][c] -= k * m[i][c]
			}
		}
	}
	for i := 7; i >= 0; i-- {
		x[i] = m[i][8]
		for c := i + 1; c < 8; c++ {
			x[i] -= m[i][c] * x[c]
		}
		x[i] /= m[i][i]
	}
	return x, true
}
