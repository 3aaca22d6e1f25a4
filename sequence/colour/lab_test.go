package colour

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
)

// srgb_lab_reference.csv, D65 columns, worked out from IEC 61966-2-1 elsewhere
// and printed to four decimals.
func TestLabOfPixelsMatchesTheReferenceTable(t *testing.T) {
	_, rows := table(t, "srgb_lab_reference.csv")
	for _, row := range rows {
		want := numbers(t, row, 3, 6)
		got := FromSRGB(pixel(t, row, 0))
		for i, v := range []float64{got.L, got.A, got.B} {
			if math.Abs(v-want[i]) > 0.00006 {
				t.Errorf("sRGB %v: %+v, reference %v", row[:3], got, want)
				break
			}
		}
	}
}

// srgb_lab_reference.csv, D50 columns: adapted by Bradford to the white that
// ICC.1 prints in four digits, which alone moves a coordinate by some thousandths.
func TestLabUnderD50MatchesTheReferenceTable(t *testing.T) {
	_, rows := table(t, "srgb_lab_reference.csv")
	for _, row := range rows {
		want := numbers(t, row, 9, 12)
		got := UnderD50(pixel(t, row, 0))
		for i, v := range []float64{got.L, got.A, got.B} {
			if math.Abs(v-want[i]) > 0.01 {
				t.Errorf("sRGB %v: %+v, reference %v", row[:3], got, want)
				break
			}
		}
	}
	if got := UnderD50(255, 255, 255); got != (Lab{L: 100}) {
		t.Errorf("white is %+v", got)
	}
}

// culori takes the rounded matrix and white point; that alone moves a coordinate by
// up to 0.03 (see srgb_lab_reference.csv).
func TestLabAgreesWithCulori(t *testing.T) {
	_, rows := table(t, "lab_culori.csv")
	if len(rows) != 216 {
		t.Fatalf("%d colours, want 216", len(rows))
	}
	for _, row := range rows {
		got, want := FromSRGB(pixel(t, row, 0)), numbers(t, row, 3, 6)
		if off := max(math.Abs(got.L-want[0]), math.Abs(got.A-want[1]), math.Abs(got.B-want[2])); off > 0.05 {
			t.Errorf("sRGB %v: %+v, culori %v", row[:3], got, want)
		}
	}
}

// colour-science documentation: XYZ (.20654008, .12197225, .05136952) at D65 is
// Lab 41.52787529, 52.63858304, 26.92317922.
func TestLabOfAPublishedXYZ(t *testing.T) {
	linear := srgbToXYZ.inverse().apply([3]float64{.20654008, .12197225, .05136952})
	got := fromLinear(linear[0], linear[1], linear[2])
	want := Lab{41.5279, 52.6386, 26.9232}
	if math.Abs(got.L-want.L)+math.Abs(got.A-want.A)+math.Abs(got.B-want.B) > 0.0003 {
		t.Errorf("%+v, published %+v", got, want)
	}
}

func TestGreysCarryNoColourAtAll(t *testing.T) {
	for v := range 256 {
		c := FromSRGB(uint8(v), uint8(v), uint8(v))
		if c.A != 0 || c.B != 0 || c.Chroma() != 0 || c.Hue() != 0 {
			t.Errorf("grey %d is %+v", v, c)
		}
	}
	if white := FromSRGB(255, 255, 255); white.L != 100 {
		t.Errorf("white has L %v", white.L)
	}
}

func TestEveryPixelSurvivesTheWayToLabAndBack(t *testing.T) {
	check := func(r, g, b uint8) {
		t.Helper()
		if r2, g2, b2 := FromSRGB(r, g, b).SRGB(); r2 != r || g2 != g || b2 != b {
			t.Fatalf("(%d,%d,%d) came back as (%d,%d,%d)", r, g, b, r2, g2, b2)
		}
	}
	random := rand.New(rand.NewPCG(1, 1))
	for range 200000 {
		v := random.Uint32()
		check(uint8(v), uint8(v>>8), uint8(v>>16))
	}
	for corner := range 8 {
		check(uint8(corner&1)*255, uint8(corner>>1&1)*255, uint8(corner>>2&1)*255)
	}
}

func TestColoursOutsideTheGamutAreClipped(t *testing.T) {
	for name, c := range map[string]struct {
		lab     Lab
		r, g, b uint8
	}{
		"beyond white":    {Lab{140, 0, 0}, 255, 255, 255},
		"below black":     {Lab{-20, 0, 0}, 0, 0, 0},
		"redder than red": {Lab{53.2, 130, 110}, 255, 0, 0},
		"bluer than blue": {Lab{32.3, 95, -130}, 0, 0, 255},
	} {
		r, g, b := c.lab.SRGB()
		if r != c.r || g != c.g || b != c.b {
			t.Errorf("%s: (%d,%d,%d), want (%d,%d,%d)", name, r, g, b, c.r, c.g, c.b)
		}
	}
}

func TestGoColorfulsTypeGoesThereAndBack(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 4))
	for range 10000 {
		c := anyLab(random) // Mostly outside the gamut.
		back := FromColorful(c.Colorful())
		if math.Abs(back.L-c.L)+math.Abs(back.A-c.A)+math.Abs(back.B-c.B) > 1e-9 {
			t.Fatalf("%+v came back as %+v", c, back)
		}
		r, g, b := uint8(random.Uint32()), uint8(random.Uint32()), uint8(random.Uint32())
		theirs := colorful.Color{R: float64(r) / 255, G: float64(g) / 255, B: float64(b) / 255}
		if FromColorful(theirs) != FromSRGB(r, g, b) {
			t.Fatalf("(%d,%d,%d) differs by the way it came in", r, g, b)
		}
		// Their white point is rounded to five digits, ours follows from x and y.
		if d := DeltaE00(theirLab(theirs), FromSRGB(r, g, b)); d > 0.03 {
			t.Fatalf("(%d,%d,%d) lies %.4f from go-colorful's Lab", r, g, b, d)
		}
	}
}

func TestHueRunsFromZeroToBelowFullCircle(t *testing.T) {
	for _, c := range []struct {
		lab  Lab
		want float64
	}{
		{Lab{50, 10, 0}, 0}, {Lab{50, 0, 10}, 90}, {Lab{50, -10, 0}, 180},
		{Lab{50, 0, -10}, 270}, {Lab{50, 10, -10}, 315}, {Lab{50, 1, -1e-300}, 0},
		{Lab{50, 10, math.Copysign(0, -1)}, 0},
	} {
		if got := c.lab.Hue(); math.Abs(got-c.want) > 1e-12 || got >= 360 || got < 0 {
			t.Errorf("%v: hue %v, want %v", c.lab, got, c.want)
		}
	}
}

// warm_cool_examples.csv is worked out from Ou et al. 2004 with D65 Lab, to four
// decimals.
func TestWarmCoolMatchesTheReferenceTable(t *testing.T) {
	_, rows := table(t, "warm_cool_examples.csv")
	for _, row := range rows {
		want := numbers(t, row, 3, 4)[0]
		if got := WarmCool(FromSRGB(pixel(t, row, 0))); math.Abs(got-want) > 0.00006 {
			t.Errorf("sRGB %v: %.5f, reference %.4f", row[:3], got, want)
		}
	}
}

func BenchmarkFromSRGB(b *testing.B) {
	sum, i := 0.0, uint32(1)
	for b.Loop() {
		i = i*1664525 + 1013904223
		sum += FromSRGB(uint8(i>>8), uint8(i>>16), uint8(i>>24)).L
	}
	if sum == 0 {
		b.Fatal("all black")
	}
}
