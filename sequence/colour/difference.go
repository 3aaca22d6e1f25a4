package colour

import "math"

// DeltaE00 is the CIEDE2000 colour difference (CIE 142-2001, with kL = kC = kH
// = 1) as made precise by Sharma, Wu and Dalal, Color Res. Appl. 30(1), 2005.
// It is 0 for equal colours, symmetric to the bit, and about 1 where a trained
// eye just sees a difference. It is not a metric: the triangle inequality can
// fail. Coordinates must be finite.
func DeltaE00(x, y Lab) float64 {
	return difference(x, y, x.Chroma(), y.Chroma())
}

const (
	degree      = math.Pi / 180
	chromaKnee7 = 25.0 * 25 * 25 * 25 * 25 * 25 * 25
	// Cosines and sines of the formula's angles, as constants so that the inner
	// loop loads nothing.
	cos30, sin30   = 0.86602540378443865, 0.5
	cos6, sin6     = 0.99452189536827333, 0.10452846326765347
	cos63, sin63   = 0.45399049973954675, 0.89100652418836787
	cos95          = -0.087155742747658174
	cos275, sin275 = 0.087155742747658174, -0.99619469809174553
	// Below this product of two chromas there is no hue to speak of: the hue
	// term could add no more than 1e-30.
	colourless = 1e-60
)

// difference is DeltaE00 for chromas already known (a palette's are used many
// times). Deviation from the published form: hue angles are never taken. With
// the two chroma vectors scaled to one length, their difference has the length
// of ΔH', their sum points along the mean hue, and the cosines of the mean
// hue's multiples are polynomials.
func difference(x, y Lab, cx, cy float64) float64 {
	stretch := 1.5 - 0.5*math.Sqrt(chromaShare((cx+cy)/2))
	ax, ay := x.A*stretch, y.A*stretch
	cx = math.Sqrt(ax*ax + x.B*x.B)
	cy = math.Sqrt(ay*ay + y.B*y.B)
	mean := (cx + cy) / 2

	light := (x.L+y.L)/2 - 50
	light *= light
	root := math.Sqrt(20 + light)
	dL := (y.L - x.L) * root / (root + 0.015*light)
	dC := (cy - cx) / (1 + 0.045*mean)
	product := cx * cy
	if product < colourless {
		return math.Sqrt(dL*dL + dC*dC)
	}
	ax, bx, ay, by := ax*cy, x.B*cy, ay*cx, y.B*cx
	da, db := ay-ax, by-bx
	cos, sin := meanHue(ax, bx, ay, by)
	weight := 1 + 0.015*mean*hueWeight(cos, sin)
	hue := (da*da + db*db) / (product * weight * weight)
	sum := dL*dL + dC*dC + hue
	if turn := blueTurn(cos, sin); turn != 0 {
		dH := math.Sqrt(hue)
		if !forward(ax, bx, ay, by) {
			dH = -dH
		}
		sum -= 2 * math.Sqrt(chromaShare(mean)) * turn * dC * dH
	}
	// The turn can outweigh two tiny terms by a rounding error.
	return math.Sqrt(max(sum, 0))
}

// chromaShare is c⁷/(c⁷+25⁷).
func chromaShare(c float64) float64 {
	c3 := c * c * c
	c7 := c3 * c3 * c
	return c7 / (c7 + chromaKnee7)
}

// meanHue is the direction between two vectors of one length.
func meanHue(ax, bx, ay, by float64) (cos, sin float64) {
	a, b := ax+ay, bx+by
	da, db := ay-ax, by-bx
	if square := a*a + b*b; square > 1e-6*(da*da+db*db) {
		scale := 1 / math.Sqrt(square)
		return a * scale, b * scale
	}
	// Nearly opposite hues leave too little of their sum; the perpendicular of
	// their difference points the same way.
	scale := 1 / math.Sqrt(da*da+db*db)
	if !forward(ax, bx, ay, by) {
		scale = -scale
	}
	return db * scale, -da * scale
}

// forward tells whether the shorter way from the first hue to the second runs
// counter-clockwise. Of exactly opposite hues the smaller angle, 0..360°, goes
// first, as published.
func forward(ax, bx, ay, by float64) bool {
	cross := ax*by - ay*bx
	return cross > 0 || cross == 0 && (bx > 0 || bx == 0 && ax > 0)
}

// hueWeight is the formula's T for a mean hue h given as cosine and sine:
// 1 − 0.17cos(h−30°) + 0.24cos(2h) + 0.32cos(3h+6°) − 0.20cos(4h−63°).
func hueWeight(c, s float64) float64 {
	c2, s2 := c*c-s*s, 2*c*s
	c3, s3 := c2*c-s2*s, s2*c+c2*s
	c4, s4 := c2*c2-s2*s2, 2*c2*s2
	return 1 - (0.17*cos30)*c - (0.17*sin30)*s + 0.24*c2 +
		(0.32*cos6)*c3 - (0.32*sin6)*s3 - (0.20*cos63)*c4 - (0.20*sin63)*s4
}

// blueTurn is sin 2Δθ of the formula's rotation term, Δθ = 30°·e^−(δ/25°)², for
// a mean hue at the angle δ from 275°. The formula measures δ without going
// round past 360°, so hues from 0° to 95° are not turned at all.
func blueTurn(cos, sin float64) float64 {
	if sin >= 0 && cos > cos95 {
		return 0
	}
	at := (2 - 2*(cos*cos275+sin*sin275)) * (turnSteps / turnReach)
	i := int(max(at, 0))
	if i >= turnSteps {
		return 0
	}
	t := at - float64(i)
	from, to := &turns[i], &turns[i+1]
	rise := to.value - from.value
	return from.value + t*(from.slope+t*(3*rise-2*from.slope-to.slope+t*(from.slope+to.slope-2*rise)))
}

const (
	turnSteps = 2048
	// turnReach is the square of the chord across 139°; beyond it sin 2Δθ is
	// below 1e-13.
	turnReach = 3.5
)

type knot struct{ value, slope float64 }

// turns holds sin 2Δθ over the squared chord 2−2cos δ, which needs no
// arctangent; cubic Hermite pieces between knots err by less than 2e-10.
var turns = turnTable()

func turnTable() (table [turnSteps + 1]knot) {
	const width = 25 * degree
	for i := range table {
		delta := 2 * math.Asin(math.Sqrt(float64(i)*(turnReach/turnSteps))/2)
		double := 60 * degree * math.Exp(-delta*delta/(width*width))
		perChord := 1.0 // δ/sin δ
		if i > 0 {
			perChord = delta / math.Sin(delta)
		}
		slope := -math.Cos(double) * double * perChord / (width * width)
		table[i] = knot{math.Sin(double), slope * (turnReach / turnSteps)}
	}
	return table
}
