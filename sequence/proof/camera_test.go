package proof

import (
	"image"
	"image/color"
	"math"
	"testing"

	"pairwall/sequence/colour"
)

// A file holds none of the target's cyan; that must not bend anything else.
func TestATargetSeenAsAFileShowsItLeavesColoursAsTheyAre(t *testing.T) {
	var seen [24][3]float64
	for i := range seen {
		for c, v := range After2014.Lab(i).Linear() {
			seen[i][c] = max(v, 0)
		}
	}
	made, rest := calibrated(seen, After2014)
	if rest > 0.01 {
		t.Errorf("patches are left ΔE00 %.2f off", rest)
	}
	for _, c := range []colour.LabD50{{L: 94}, {L: 50, A: 20, B: 20}, {L: 40, A: -15, B: -20}, {L: 25, A: 5, B: -10}} {
		if d := colour.D50FromLinear(made.light(c.Linear())).DeltaE00(c); d > 0.01 {
			t.Errorf("%+.1f becomes another colour, ΔE00 %.2f", c, d)
		}
	}
}

func TestGrainFinerThanThePixelsOfACameraIsMixedAsLight(t *testing.T) {
	grain := image.NewRGBA(image.Rect(0, 0, 400, 400))
	for y := range 400 {
		for x := range 400 {
			grain.SetRGBA(x, y, color.RGBA{255 * uint8((x+y)%2), 255 * uint8((x+y)%2), 255 * uint8((x+y)%2), 255})
		}
	}
	for long, want := range map[int]float64{200: 0.5, 400: 0.184} { // half the light; or the light of a step half way from black to white
		l := lensed(grain, long).within(100)
		if got := l.at(50, 50)[1]; math.Abs(got-want) > 0.01 {
			t.Errorf("on %d pixels it sends back %.2f, not %.2f", long, got, want)
		}
	}
}
