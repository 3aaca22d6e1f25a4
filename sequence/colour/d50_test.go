package colour

import (
	"math"
	"math/rand/v2"
	"testing"
)

// srgb_lab_reference.csv, D50 columns.
func TestLabForD50MatchesTheReferenceTable(t *testing.T) {
	_, rows := table(t, "srgb_lab_reference.csv")
	for _, row := range rows {
		want := numbers(t, row, 9, 12)
		r, g, b := pixel(t, row, 0)
		got := D50FromLinear([3]float64{LinearSRGB(r), LinearSRGB(g), LinearSRGB(b)})
		if off := max(math.Abs(got.L-want[0]), math.Abs(got.A-want[1]), math.Abs(got.B-want[2])); off > 0.01 {
			t.Errorf("sRGB %v: %+v, reference %v", row[:3], got, want)
		}
	}
}

func TestLabForD50ComesBack(t *testing.T) {
	chance := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		c := [3]float64{chance.Float64(), chance.Float64(), chance.Float64()}
		back := D50FromLinear(c).Linear()
		for i := range c {
			if math.Abs(back[i]-c[i]) > 1e-9 {
				t.Fatalf("%v came back as %v", c, back)
			}
		}
	}
}

// target24_lab_d50.csv: published Lab and the sRGB computed from it elsewhere.
func TestThePublishedTargetBecomesItsPixels(t *testing.T) {
	_, rows := table(t, "target24_lab_d50.csv")
	for _, row := range rows {
		lab, want := numbers(t, row, 2, 5), numbers(t, row, 9, 12)
		got := LabD50{lab[0], lab[1], lab[2]}.Linear()
		for i := range got {
			if v := float64(EncodeSRGB(got[i])); math.Abs(v-want[i]) > 1 {
				t.Errorf("%s: channel %d is %v, computed elsewhere %v", row[1], i, v, want[i])
			}
		}
	}
}
