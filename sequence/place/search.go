package place

import "math"

// arc is a geodesic between two reduced latitudes, on the auxiliary sphere.
type arc struct {
	alpha1, alpha2 turn    // azimuths at both ends
	sigma1, sigma2 turn    // arc lengths from the equator
	sigma12        float64 // σ₂ − σ₁, 0..π
	sin0           float64 // sin α₀, α₀ the azimuth at the equator
	eps            float64 // ε of eq. 16
}

// forward is σ₂ − σ₁ in 0..π: rounding must not make a tiny one negative.
func forward(sigma1, sigma2 turn) float64 {
	d := sigma2.minus(sigma1)
	return math.Atan2(math.Max(0, d.sin), d.cos)
}

// length is s₁₂ in metres (eqs. 7 and 15).
func (a *arc) length() float64 {
	scale, c := lengthSeries(a.eps)
	return polar * scale * (a.sigma12 + (c.at(a.sigma2) - c.at(a.sigma1)))
}

// leave follows the geodesic that leaves the first point at α₁ to the second
// point's latitude, and says by how much its longitude overshoots λ₁₂, radians.
func (t *task) leave(alpha1 turn) (a arc, overshoot float64) {
	a.alpha1 = alpha1
	a.sin0 = alpha1.sin * t.beta1.cos // eq. 5
	cos0 := math.Hypot(alpha1.cos, alpha1.sin*t.beta1.sin)

	a.alpha2 = t.arrive(a.sin0, alpha1)
	x1 := alpha1.cos * t.beta1.cos
	x2 := a.alpha2.cos * t.beta2.cos
	a.sigma1 = turn{t.beta1.sin, x1}.unit() // eq. 11
	a.sigma2 = turn{t.beta2.sin, x2}.unit()
	a.sigma12 = forward(a.sigma1, a.sigma2)

	omega1 := turn{a.sin0 * t.beta1.sin, x1}.unit() // eq. 12
	omega2 := turn{a.sin0 * t.beta2.sin, x2}.unit()
	omega12 := omega2.minus(omega1)
	omega12.sin = math.Max(0, omega12.sin)

	a.eps = expansion(ecc2Squared * cos0 * cos0)
	scale, c := longitudeSeries(a.eps)
	lag := flattening * a.sin0 * scale * (a.sigma12 + (c.at(a.sigma2) - c.at(a.sigma1)))
	return a, omega12.minus(t.lambda).radians() - lag // eq. 8
}

// arrive is α₂ (eqs. 5 and 45), taken northward.
func (t *task) arrive(sin0 float64, alpha1 turn) turn {
	if t.beta2.cos == t.beta1.cos {
		return turn{alpha1.sin, math.Abs(alpha1.cos)}
	}
	// cos²β₂ − cos²β₁ from whichever factors are the smaller, for their digits.
	excess := (t.beta1.sin - t.beta2.sin) * (t.beta1.sin + t.beta2.sin)
	if t.beta1.cos < -t.beta1.sin {
		excess = (t.beta2.cos - t.beta1.cos) * (t.beta2.cos + t.beta1.cos)
	}
	x1 := alpha1.cos * t.beta1.cos
	return turn{sin0 / t.beta2.cos, math.Sqrt(math.Max(0, x1*x1+excess)) / t.beta2.cos}
}

// slopes are m₁₂/b, the reduced length (eq. 38), and dλ₁₂/dα₁ (eq. 46).
func (t *task) slopes(a *arc) (reduced, byAzimuth float64) {
	deficit := lengthDeficit(a.eps, a.sigma12, a.sigma1, a.sigma2)
	reduced = t.n2*a.sigma1.cos*a.sigma2.sin - t.n1*a.sigma1.sin*a.sigma2.cos -
		a.sigma1.cos*a.sigma2.cos*deficit
	if a.alpha2.cos == 0 {
		// Both ends are turning points of the geodesic: the limit of eq. 46.
		return reduced, -2 * axisRatio * t.n1 / t.beta1.sin
	}
	return reduced, axisRatio * reduced / (a.alpha2.cos * t.beta2.cos)
}

const (
	newtonRounds = 20
	// maxRounds lets bisection alone bring a bracket of π down to one ulp.
	maxRounds = newtonRounds + 60
	// settled is the second-order error in metres below which the last Newton
	// step is applied to the result instead of being followed once more.
	settled = 1e-9
)

// search finds α₁ with Newton's method inside a shrinking bracket, and by
// halving the bracket where Newton's step leaves it or too many were taken.
//
// Deviation from the paper: once the remaining overshoot v is small, the length
// is corrected by the first variation, −a v sin α₀, in place of another round.
// The endpoint is then off by at most a|v| across the path, which changes the
// length by (a v)²/2m₁₂.
func (t *task) search(alpha1 turn) path {
	low, high := turn{tiny, 1}, turn{tiny, -1}
	for round := 1; ; round++ {
		a, v := t.leave(alpha1)
		m, slope := t.slopes(&a)
		if equatorial*v*v <= settled*m/equatorial || round == maxRounds || v == 0 {
			return t.finish(&a, v, slope)
		}
		if v > 0 {
			high = alpha1
		} else {
			low = alpha1
		}
		next, ok := newton(alpha1, v, slope, low, high)
		if !ok || round > newtonRounds {
			next = turn{low.sin + high.sin, low.cos + high.cos}.unit()
		}
		if next == alpha1 {
			return t.finish(&a, 0, slope)
		}
		alpha1 = next
	}
}

// tiny keeps sines of azimuths positive; its square still is a normal number.
const tiny = 1e-150

// newton steps from alpha1 and reports whether the step stays between low and
// high. Azimuths in 0..π are ordered by falling cotangent.
func newton(alpha1 turn, v, slope float64, low, high turn) (turn, bool) {
	step := -v / slope
	if !(slope > 0) || math.Abs(step) >= math.Pi {
		return turn{}, false
	}
	s, c := math.Sincos(step)
	next := alpha1.plus(turn{s, c}).unit()
	inside := next.sin > 0 &&
		next.cos*low.sin < low.cos*next.sin && next.cos*high.sin > high.cos*next.sin
	return next, inside
}

// finish applies the last correction to length and azimuths.
func (t *task) finish(a *arc, v, slope float64) path {
	way := path{a.length() - equatorial*v*a.sin0, a.alpha1, a.alpha2}
	if v == 0 || !(slope > 0) {
		return way
	}
	s, c := math.Sincos(-v / slope)
	way.alpha1 = a.alpha1.plus(turn{s, c})
	way.alpha2 = t.arrive(way.alpha1.sin*t.beta1.cos, way.alpha1)
	return way
}
