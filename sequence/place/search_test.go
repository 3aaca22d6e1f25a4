package place

import (
	"math"
	"testing"
)

// Newton's method alone runs away or circles near the antipode; inside its
// bracket the search must come to the one root from any first azimuth.
func TestSearchFindsTheWayFromAnyFirstAzimuth(t *testing.T) {
	tests := []struct {
		name string
		a, b LatLng
	}{
		{"about the astroid", LatLng{-30, 0}, LatLng{29.9, 179.8}},
		{"on the astroid's cusp", LatLng{-30, 0}, LatLng{30, 179.4779}},
		{"nearly antipodal", LatLng{-30, 0}, LatLng{30, 179.999999}},
		{"nearly antipodal near a pole", LatLng{-89.99, 0}, LatLng{89.99, 179.9}},
		{"across the sea", LatLng{-45.65, 13.77}, LatLng{-41.13, 16.87}},
		{"a quarter round", LatLng{-1, 0}, LatLng{0.5, 90}},
		{"nearly along a meridian", LatLng{-60, 0}, LatLng{50, 1e-9}},
	}
	for _, tt := range tests {
		want := Distance(tt.a, tt.b)
		task, _ := arrange(tt.a, tt.b)
		for degrees := 0.5; degrees < 180; degrees += 0.5 {
			s, c := math.Sincos(degrees * math.Pi / 180)
			if got := task.search(turn{s, c}).length; !(math.Abs(got-want) <= metresOff) {
				t.Errorf("%s: from azimuth %v° %.9f m, otherwise %.9f", tt.name, degrees, got, want)
			}
		}
	}
}
