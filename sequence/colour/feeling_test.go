package colour

import (
	"math"
	"testing"
)

// Worked by hand from the formulas beside the functions.
func TestFeelingsAreThoseOfTheFormulas(t *testing.T) {
	for _, c := range []struct {
		of                       Lab
		warm, active, heavyGrade float64
	}{
		{Lab{50, 3, 17}, -0.5 + 0.02*math.Pow(math.Hypot(3, 17), 1.07)*math.Cos((79.992020198558663-50)*math.Pi/180), -2.1, -1.8 + 2 + 0.45*math.Cos((79.992020198558663-100)*math.Pi/180)},
		{Lab{100, 0, 0}, -0.5, -2.1 + 0.06*math.Sqrt(2500+9+(17/1.4)*(17/1.4)), -1.8},
		{Lab{0, 0, 0}, -0.5, -2.1 + 0.06*math.Sqrt(2500+9+(17/1.4)*(17/1.4)), 2.2},
		{Lab{50, 3, 57}, WarmCool(Lab{50, 3, 57}), -2.1 + 0.06*40/1.4, Heaviness(Lab{50, 3, 57})},
	} {
		for name, v := range map[string][2]float64{"warm": {WarmCool(c.of), c.warm}, "active": {Activity(c.of), c.active}, "heavy": {Heaviness(c.of), c.heavyGrade}} {
			if math.Abs(v[0]-v[1]) > 1e-9 {
				t.Errorf("%v is %s by %.6f, want %.6f", c.of, name, v[0], v[1])
			}
		}
	}
	// Valdez and Mehrabian: one deviation brighter calms by .31, one more
	// saturated wakes by .60.
	if Arousal(1, 0) != -0.31 || Arousal(0, 1) != 0.60 {
		t.Error("arousal is not −.31 B + .60 S")
	}
}

func TestTheMoodOfTwoColoursIsTheirMean(t *testing.T) {
	red, sea := Lab{45, 60, 40}, Lab{60, -20, -30}
	of := func(p Palette) Mood {
		m, ok := p.Mood()
		if !ok {
			t.Fatal("no mood")
		}
		return m
	}
	one, other := of(Palette{{red, 1}}), of(Palette{{sea, 1}})
	both := of(Palette{{red, 0.25}, {sea, 0.75}})
	for name, v := range map[string][3]float64{
		"warm": {one.Warm, other.Warm, both.Warm}, "lively": {one.Lively, other.Lively, both.Lively}, "heavy": {one.Heavy, other.Heavy, both.Heavy},
	} {
		if math.Abs(0.25*v[0]+0.75*v[1]-v[2]) > 1e-12 {
			t.Errorf("%s: %v", name, v)
		}
	}
	if one.Warm <= other.Warm || one.Apart(one) != 0 || one.Apart(other) != other.Apart(one) || one.Apart(other) < 1 {
		t.Errorf("red %+v, sea %+v", one, other)
	}
	if _, ok := (Palette{{Lab{math.NaN(), 0, 0}, 1}}).Mood(); ok {
		t.Error("a palette of nothing has a mood")
	}
}

func TestMoodsRunTheWayTheirNamesSay(t *testing.T) {
	mood := func(r, g, b uint8) Mood { m, _ := Palette{{FromSRGB(r, g, b), 1}}.Mood(); return m }
	orange, ice, navy, fog := mood(240, 130, 30), mood(205, 225, 240), mood(15, 20, 60), mood(150, 150, 148)
	if orange.Warm <= ice.Warm || navy.Heavy <= ice.Heavy || orange.Lively <= fog.Lively || fog.Lively >= navy.Lively {
		t.Errorf("orange %+v\nice %+v\nnavy %+v\nfog %+v", orange, ice, navy, fog)
	}
}
