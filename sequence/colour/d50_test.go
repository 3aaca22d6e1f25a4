package colour

import (
	"math"
	"math/rand/v2"
	"testing"
)

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
