package colour

import (
	"math"
	"testing"
)

var (
	greyStreet = Palette{{Lab{55, 0, 2}, 0.6}, {Lab{30, 1, 0}, 0.34}, {Lab{45, 62, 45}, 0.06}}
	blueShore  = Palette{{Lab{70, -8, -28}, 0.5}, {Lab{85, -2, -10}, 0.42}, {Lab{47, 60, 42}, 0.08}}
	greyLane   = Palette{{Lab{56, 0, 2}, 0.6}, {Lab{31, 1, 0}, 0.34}, {Lab{46, 61, 44}, 0.06}}
	greenField = Palette{{Lab{50, -35, 30}, 0.7}, {Lab{80, -2, -4}, 0.3}}
)

func TestAnAccentIsAStrongColourSharedThoughTheRestDiffers(t *testing.T) {
	red := Characterise(greyStreet).Accent(Characterise(blueShore))
	if red.Strength < 0.5 || red.Apart > 4 || red.One.Lab != greyStreet[2].Lab || red.Other.Lab != blueShore[2].Lab {
		t.Errorf("one red in street and shore: %+v", red)
	}
	if same := Characterise(greyStreet).Accent(Characterise(greyLane)); same.Strength > 0.1 {
		t.Errorf("where all is alike there is no accent, but a world: %+v", same)
	}
	for name, q := range map[string]Palette{"no strong colour": {{Lab{60, 0, 0}, 1}}, "another colour": greenField, "nothing": nil} {
		if e := Characterise(greyStreet).Accent(Characterise(q)); e.Strength > 0.01 {
			t.Errorf("%s: %+v", name, e)
		}
	}
}

// A sky that a palette holds as three blues is still a sky, and no accent.
func TestTheShadesOfOneSkyAreNoAccent(t *testing.T) {
	sky := Palette{{Lab{70, -5, -30}, 0.3}, {Lab{60, -3, -35}, 0.25}, {Lab{80, -5, -25}, 0.15}, {Lab{40, 0, 5}, 0.3}}
	flowers := Palette{{Lab{15, -5, 5}, 0.85}, {Lab{60, -3, -35}, 0.15}}
	if e := Characterise(sky).Accent(Characterise(flowers)); e.Strength > 0 {
		t.Errorf("%+v", e)
	}
}

// Two blue skies, one over a strip of brown: brown and blue are in both pictures,
// and do not set them against each other as an ochre street and a sky are.
func TestWhatBothPicturesHoldDoesNotOpposeThem(t *testing.T) {
	blue, brown := Lab{55, -5, -35}, Lab{55, 8, 33}
	skies := Characterise(Palette{{blue, 0.7}, {brown, 0.3}}).Opposite(Characterise(Palette{{blue, 0.75}, {brown, 0.25}}))
	street := Characterise(Palette{{brown, 0.7}, {Lab{40, 0, 0}, 0.3}}).Opposite(Characterise(Palette{{blue, 0.7}, {Lab{80, 0, 0}, 0.3}}))
	if skies.Strength > 0.5*street.Strength {
		t.Errorf("two skies %g, street and sky %g", skies.Strength, street.Strength)
	}
}

func TestAnAccentCountsByItsAreaAndChroma(t *testing.T) {
	with := func(area, chroma float64) Character {
		return Characterise(Palette{{Lab{70, -8, -28}, 1 - area}, {Lab{47, 0.8 * chroma, 0.6 * chroma}, area}})
	}
	street := func(area, chroma float64) Character {
		return Characterise(Palette{{Lab{55, 0, 2}, 1 - area}, {Lab{47, 0.8 * chroma, 0.6 * chroma}, area}})
	}
	last := -1.0
	for _, area := range []float64{0.005, 0.01, 0.03, 0.06} {
		if e := street(area, 70).Accent(with(area, 70)); e.Strength <= last {
			t.Errorf("at %g of the picture: %g after %g", area, e.Strength, last)
		} else {
			last = e.Strength
		}
	}
	last = -1
	for _, chroma := range []float64{25, 35, 50, 59} {
		if e := street(0.05, chroma).Accent(with(0.05, chroma)); e.Strength <= last {
			t.Errorf("with a chroma of %g: %g after %g", chroma, e.Strength, last)
		} else {
			last = e.Strength
		}
	}
	if e := street(0.6, 70).Accent(with(0.6, 70)); e.Strength > 0 {
		t.Errorf("what fills the picture is no accent: %+v", e)
	}
}

func TestOppositesLieAcrossTheCircleAtLikeStrength(t *testing.T) {
	field := func(hue, chroma, area float64) Character {
		s, c := math.Sincos(hue * math.Pi / 180)
		return Characterise(Palette{{Lab{60, chroma * c, chroma * s}, area}, {Lab{60, 0, 0}, 1 - area}})
	}
	full := field(70, 45, 0.5).Opposite(field(250, 45, 0.5))
	if math.Abs(full.Strength-1) > 1e-9 || full.Apart > 1e-9 {
		t.Errorf("orange and blue at one strength: %+v", full)
	}
	last := 2.0
	for _, turned := range []float64{0, 10, 20, 40, 80, 150} {
		e := field(70, 45, 0.5).Opposite(field(250-turned, 45, 0.5))
		if e.Strength >= last || math.Abs(e.Apart-turned) > 1e-9 {
			t.Errorf("%g° short: %+v after %g", turned, e, last)
		}
		last = e.Strength
	}
	if last > 1e-6 {
		t.Errorf("neighbours on the circle are no opposites: %g", last)
	}
	if e := field(70, 45, 0.5).Opposite(field(250, 16, 0.5)); e.Strength > 0.2 {
		t.Errorf("strong beside weak: %+v", e)
	}
	if e := field(70, 45, 0.9).Opposite(field(250, 45, 0.04)); e.Strength > 0.2 {
		t.Errorf("a field beside a speck: %+v", e)
	}
	// Around 0° the difference of hues must go round.
	if e := field(359, 45, 0.5).Opposite(field(179, 45, 0.5)); e.Strength < 0.99 {
		t.Errorf("359° and 179°: %+v", e)
	}
}

func TestEchoesAreTheSameEitherWayRound(t *testing.T) {
	all := []Palette{greyStreet, blueShore, greyLane, greenField, nil, {{Lab{50, math.NaN(), 0}, 1}}}
	for _, p := range all {
		for _, q := range all {
			x, y := Characterise(p), Characterise(q)
			for _, e := range [][2]Echo{{x.Accent(y), y.Accent(x)}, {x.Opposite(y), y.Opposite(x)}} {
				if e[0].Strength != e[1].Strength || Distance(p, q) > 0 && e[0].One != e[1].Other || !(e[0].Strength >= 0 && e[0].Strength <= 1) {
					t.Errorf("%+v\n%+v", e[0], e[1])
				}
			}
		}
	}
}

func TestToneDistanceIsHowFarTheLightMustBeMoved(t *testing.T) {
	step := func(k int) (s [LightSteps]float64) { s[k] = 1; return s }
	half := step(0)
	half[0], half[4] = 0.5, 0.5
	for _, c := range []struct {
		p, q [LightSteps]float64
		want float64
	}{
		{step(3), step(3), 0}, {step(0), step(15), 93.75}, {step(2), step(4), 12.5}, {half, step(0), 12.5}, {half, step(4), 12.5},
	} {
		if got := ToneDistance(c.p, c.q); math.Abs(got-c.want) > 1e-12 || got != ToneDistance(c.q, c.p) {
			t.Errorf("%v to %v: %g, want %g", c.p, c.q, got, c.want)
		}
	}
}

func TestLightsAreCountedAndElseTakenFromMeanAndDeviation(t *testing.T) {
	_, tone := Measure(photograph(t, "photos-cc0/canyon-wren.jpg"))
	sum, mean := 0.0, 0.0
	for k, share := range tone.Lights {
		sum += share
		mean += share * (float64(k) + 0.5) * lightStep
	}
	if math.Abs(sum-1) > 1e-3 || math.Abs(mean-tone.Mean) > lightStep/2 {
		t.Errorf("lights sum to %g with a mean of %g; the tone's is %g", sum, mean, tone.Mean)
	}
	counted := tone.Spread()
	tone.Lights = [LightSteps]float64{}
	if d := ToneDistance(counted, tone.Spread()); d > 8 {
		t.Errorf("from mean and deviation the lights lie %g off", d)
	}
	if (Tone{}).Known() || (Tone{Monochrome: true}).Known() || !tone.Known() {
		t.Error("known is what was measured")
	}
}
