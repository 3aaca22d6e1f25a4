package perspective

import (
	"math/rand/v2"
	"testing"
)

func TestFourCornersAreMappedOntoFourCorners(t *testing.T) {
	q := Quad{{10, 20}, {210, 5}, {190, 160}, {-5, 140}}
	h := Onto(q, 100)
	for i, p := range (Quad{{0, 0}, {100, 0}, {100, 100}, {0, 100}}) {
		if d := h.At(p).Distance(q[i]); d > 1e-9 {
			t.Errorf("corner %d lies %g away", i, d)
		}
	}
}

func TestAFitFindsTheMapThatMadeThePlacesAndTheWayBack(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 2))
	h := Onto(Quad{{300, 200}, {1400, 260}, {1350, 1100}, {250, 1000}}, 1000)
	var from, to []Point
	for range 40 {
		p := Point{chance.Float64() * 1000, chance.Float64() * 1000}
		from, to = append(from, p), append(to, h.At(p))
	}
	got, ok := Fit(from, to, nil)
	back, okBack := got.Inverse()
	if !ok || !okBack {
		t.Fatal("no fit")
	}
	for _, p := range from {
		if d := got.At(p).Distance(h.At(p)); d > 1e-6 {
			t.Errorf("%v lies %g away", p, d)
		}
		if d := back.At(got.At(p)).Distance(p); d > 1e-6 {
			t.Errorf("%v comes back %g away", p, d)
		}
	}
}

func TestPlacesInOneLineFitNothing(t *testing.T) {
	line := []Point{{0, 0}, {1, 1}, {2, 2}, {3, 3}, {4, 4}}
	if _, ok := Fit(line, line, nil); ok {
		t.Error("a line told a plane")
	}
}
