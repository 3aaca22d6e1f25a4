package place

import (
	"math"
	"testing"
)

// integral of g from 0 to end by five-point
// Gauss–Legendre on 64 panels (abscissae and weights: Abramowitz and Stegun,
// table 25.4).
func integral(g func(sigma float64) float64, end float64) float64 {
	x := [...]float64{0, 0.538469310105683091, 0.906179845938663993}
	w := [...]float64{0.568888888888888889, 0.478628670499366468, 0.236926885056189088}
	const panels = 64
	half := end / panels / 2
	sum := 0.0
	for i := range panels {
		mid := half * float64(2*i+1)
		sum += w[0] * g(mid)
		for j := 1; j < len(x); j++ {
			sum += w[j] * (g(mid+half*x[j]) + g(mid-half*x[j]))
		}
	}
	return sum * half
}

// The series must equal the integrals that they stand for: I₁ of eq. 7, I₃ of
// eq. 8, and J of eq. 40 as far as it was taken.
func TestSeriesEqualTheirIntegrals(t *testing.T) {
	for _, k2 := range []float64{0, 1e-6, ecc2Squared / 3, ecc2Squared / 2, ecc2Squared} {
		eps := expansion(k2)
		lengthScale, c1 := lengthSeries(eps)
		lagScale, c3 := longitudeSeries(eps)
		for end := 0.1; end < math.Pi; end += 0.3 {
			s, c := math.Sincos(end)
			sigma := turn{s, c}
			root := func(x float64) float64 { s := math.Sin(x); return math.Sqrt(1 + k2*s*s) }
			equalTo(t, "I₁", lengthScale*(end+c1.at(sigma)), integral(root, end), 1e-14)
			equalTo(t, "I₃", lagScale*(end+c3.at(sigma)), integral(func(x float64) float64 {
				return (2 - flattening) / (1 + (1-flattening)*root(x))
			}, end), 1e-14)
			equalTo(t, "J", lengthDeficit(eps, end, turn{0, 1}, sigma), integral(func(x float64) float64 {
				s := math.Sin(x)
				return k2 * s * s / root(x)
			}, end), 3e-8)
		}
	}
}

func equalTo(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Max(1, math.Abs(want))) {
		t.Errorf("%s = %.17g, want %.17g ± %g", name, got, want, tolerance)
	}
}
