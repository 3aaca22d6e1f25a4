package place

import "math"

// sphere is the task solved on the auxiliary sphere with a longitude scaled to
// the mean latitude.
type sphere struct {
	alpha1  turn
	alpha2  turn
	sigma12 turn
	arc     float64 // σ₁₂, radians
	scale   float64 // metres per radian of arc
}

// onSphere is the spherical start of the paper's section 4. Deviation: the
// longitude is stretched by the radius at the mean of the two reduced latitudes,
// which is better for the short distances that photographs of one subject lie
// apart.
func (t *task) onSphere() sphere {
	s := t.beta1.sin + t.beta2.sin
	c := t.beta1.cos + t.beta2.cos
	n := math.Sqrt(1 + ecc2Squared*s*s/(s*s+c*c))
	omega12 := math.Min(math.Pi, t.lambda12/(axisRatio*n))
	so, co := math.Sincos(omega12)

	// sin(β₂−β₁) + sin β₁ cos β₂ (1−cos ω) keeps its digits for close points.
	versed := 1 - co
	if co > 0 {
		versed = so * so / (1 + co)
	}
	across := t.beta2.sin*t.beta1.cos - t.beta2.cos*t.beta1.sin
	z1 := turn{t.beta2.cos * so, across + t.beta1.sin*t.beta2.cos*versed}
	z2 := turn{t.beta1.cos * so, across - t.beta2.sin*t.beta1.cos*versed}
	sigma12 := turn{
		math.Hypot(z1.sin, z1.cos),
		t.beta1.sin*t.beta2.sin + t.beta1.cos*t.beta2.cos*co,
	}
	return sphere{z1, z2, sigma12, sigma12.radians(), polar * n}
}

// shortArc, radians, about 640 m, is how far the sphere alone is good to 3 nm; at
// twice this it is 13 nm off (measured), and the error grows with the cube.
const shortArc = 1e-4

// short answers from the sphere when the points are close enough.
func (t *task) short(s sphere) (path, bool) {
	if s.arc > shortArc {
		return path{}, false
	}
	return path{s.scale * s.arc, s.alpha1.unit(), s.alpha2.unit()}, true
}

// guess starts the search at the sphere's azimuth, or near the antipode, where
// that may be wrong by a right angle, at the one of antipodal.
func (t *task) guess(s sphere) turn {
	reach := 3 * math.Pi * flattening * t.beta1.cos * t.beta1.cos
	if s.sigma12.cos < 0 && s.sigma12.sin < reach {
		return t.antipodal()
	}
	return turn{math.Max(s.alpha1.sin, tiny), s.alpha1.cos}.unit()
}

// antipodal is the plane problem near the antipode (eqs. 53–57): the point's
// place x, y relative to the astroid that the geodesics from the first point
// touch there, in units of the astroid's size.
func (t *task) antipodal() turn {
	eps := expansion(ecc2Squared * t.beta1.sin * t.beta1.sin)
	size := flattening * math.Pi * t.beta1.cos * longitudeScale(eps)
	x := -t.beyond / size
	y := (t.beta2.sin*t.beta1.cos + t.beta2.cos*t.beta1.sin) / (size * t.beta1.cos)
	if y > -1e-15 {
		s := math.Min(1, -x)
		return turn{math.Max(s, tiny), -math.Sqrt((1 - s) * (1 + s))}.unit()
	}
	mu := astroid(x, y)
	return turn{math.Max(-x/(1+mu), tiny), y / mu}.unit()
}

// astroid is the positive root μ of (x/(1+μ))² + (y/μ)² = 1 for y ≠ 0, which is
// eq. 55. Deviation from the paper, which solves the quartic: the left side
// falls and is convex for μ > 0, so that Newton's method from any point left of
// the root climbs to it without overshooting; a guess needs few digits.
func astroid(x, y float64) float64 {
	x, y = math.Abs(x), math.Abs(y)
	mu := math.Max(y, x-1)
	for range 40 {
		p, q := x/(1+mu), y/mu
		excess := p*p + q*q - 1
		step := excess / (2 * (p*p/(1+mu) + q*q/mu))
		mu += step
		if step <= 1e-6*mu {
			break
		}
	}
	return mu
}
