package colour

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"testing"
)

// Worked for this project independently of it: A = (60,40,30) (30,10,−40)
// (80,0,10), B = (62,38,33) (28,15,−35) (75,−5,20), equal weights, gives 5.9171;
// two colours with weights ½,½ against ¼,¾ give 11.9399, a quarter of their ΔE00.
func TestDistanceOfWorkedPalettes(t *testing.T) {
	third := 1.0 / 3
	red, blue := Lab{60, 40, 30}, Lab{30, 10, -40}
	for _, c := range []struct {
		name string
		p, q Palette
		want float64
	}{
		{"three colours a little apart",
			Palette{{red, third}, {blue, third}, {Lab{80, 0, 10}, third}},
			Palette{{Lab{62, 38, 33}, third}, {Lab{28, 15, -35}, third}, {Lab{75, -5, 20}, third}}, 5.9171},
		{"same colours, other shares",
			Palette{{red, .5}, {blue, .5}}, Palette{{blue, .75}, {red, .25}}, 11.9399},
	} {
		if got := Distance(c.p, c.q); math.Abs(got-c.want) > 0.00005 {
			t.Errorf("%s: %.5f, want %.4f", c.name, got, c.want)
		}
	}
}

// testdata/palette_pairs.json: culori's CIEDE2000 and SciPy's linprog, neither
// of them ours, six decimals.
func TestDistanceAgreesWithIndependentJudges(t *testing.T) {
	var pairs []struct {
		P, Q     Palette
		Distance float64
	}
	readJSON(t, "palette_pairs.json", &pairs)
	if len(pairs) != 60 {
		t.Fatalf("%d pairs, want 60", len(pairs))
	}
	for i, pair := range pairs {
		if got := Distance(pair.P, pair.Q); math.Abs(got-pair.Distance) > 1e-6 {
			t.Errorf("pair %d (%d and %d swatches): %.7f, judges %.6f", i, len(pair.P), len(pair.Q), got, pair.Distance)
		}
	}
}

func TestDistanceKeepsItsPromisesForRandomPalettes(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 41))
	for range 5000 {
		p, q := anyPalette(random), anyPalette(random)
		d := Distance(p, q)
		if back := Distance(q, p); d != back {
			t.Fatalf("there %v, back %v: %v %v", d, back, p, q)
		}
		if self := Distance(p, p); self != 0 {
			t.Fatalf("%v is %v from itself", p, self)
		}
		nearest, farthest := reach(p, q)
		if d < nearest-1e-9 || d > farthest+1e-9 {
			t.Fatalf("%v outside %v..%v, the swatches' own differences", d, nearest, farthest)
		}
		// Moving one share to another colour cannot cost more than that move.
		moved := append(Palette{}, p...)
		moved[0].Lab.L += 5
		if step := DeltaE00(p[0].Lab, moved[0].Lab) * p[0].Weight; Distance(p, moved) > step+1e-9 {
			t.Fatalf("one swatch moved by %v in all, distance %v", step, Distance(p, moved))
		}
	}
}

// reach gives a lower bound, every share going to its nearest colour, and an
// upper one.
func reach(p, q Palette) (low, high float64) {
	for _, x := range p {
		nearest := math.Inf(1)
		for _, y := range q {
			d := DeltaE00(x.Lab, y.Lab)
			nearest, high = min(nearest, d), max(high, d)
		}
		low += x.Weight * nearest
	}
	return low, high
}

func anyPalette(random *rand.Rand) Palette {
	p := make(Palette, 1+random.IntN(8))
	sum := 0.0
	for i := range p {
		p[i] = Swatch{anyLab(random), 0.01 + random.Float64()}
		sum += p[i].Weight
	}
	for i := range p {
		p[i].Weight /= sum
	}
	return p
}

func TestDistanceCountsWeightsAsShares(t *testing.T) {
	p := Palette{{Lab{60, 40, 30}, .5}, {Lab{30, 10, -40}, .5}}
	q := Palette{{Lab{70, 0, 10}, 1 - 1e-9}}
	exact := (DeltaE00(p[0].Lab, q[0].Lab) + DeltaE00(p[1].Lab, q[0].Lab)) / 2
	if got := Distance(p, q); math.Abs(got-exact) > 1e-12 {
		t.Errorf("%v, want %v", got, exact)
	}
}

func TestDistanceOfNothingIsInfinite(t *testing.T) {
	p := Palette{{Lab{60, 40, 30}, 1}}
	for name, q := range map[string]Palette{
		"nil": nil, "empty": {}, "no weight": {{Lab{50, 0, 0}, 0}},
		"negative weight": {{Lab{50, 0, 0}, -1}}, "weight not a number": {{Lab{50, 0, 0}, math.NaN()}},
		"infinite weight": {{Lab{50, 0, 0}, math.Inf(1)}}, "lightness not a number": {{Lab{math.NaN(), 0, 0}, 1}},
		"no such colour": {{Lab{50, 1e200, 0}, 1}},
	} {
		for _, got := range []float64{Distance(p, q), Distance(q, p), Distance(q, q)} {
			if !math.IsInf(got, 1) {
				t.Errorf("%s: %v, want +Inf", name, got)
			}
		}
		if common := Common(p, q, 100); len(common) > 0 {
			t.Errorf("%s: common colours %v, want none", name, common)
		}
	}
}

func FuzzDistanceIsNeverNegativeNorUndefined(f *testing.F) {
	random := rand.New(rand.NewPCG(2, 7))
	for range 8 {
		seed := make([]byte, 32*(2+random.IntN(12)))
		for i := 0; i+8 <= len(seed); i += 8 {
			binary.LittleEndian.PutUint64(seed[i:], math.Float64bits(100*random.Float64()))
		}
		f.Add(seed, uint8(3))
	}
	f.Add([]byte{}, uint8(0))
	f.Fuzz(func(t *testing.T, data []byte, split uint8) {
		var all Palette
		for ; len(data) >= 32 && len(all) < 40; data = data[32:] {
			v := func(i int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(data[8*i:])) }
			all = append(all, Swatch{Lab{v(0), v(1), v(2)}, v(3)})
		}
		cut := min(int(split), len(all))
		p, q := all[:cut], all[cut:]
		d := Distance(p, q)
		if math.IsNaN(d) || d < 0 {
			t.Fatalf("distance %v of %v and %v", d, p, q)
		}
		if back := Distance(q, p); back != d {
			t.Fatalf("there %v, back %v", d, back)
		}
		if common := Common(p, q, math.Inf(1)); len(common) > 0 == math.IsInf(d, 1) {
			t.Fatalf("common colours %v, distance %v", common, d)
		}
	})
}

func TestTheFirstCommonColourIsTheOneAPhotographerWouldName(t *testing.T) {
	grey, red, blue := Lab{55, 0, 1}, Lab{45, 55, 35}, Lab{45, 5, -45}
	for _, c := range []struct {
		name    string
		p, q    Palette
		x, y    Lab
		nearest float64
	}{
		{"a red in both outspeaks a grey in both",
			Palette{{grey, .8}, {red, .2}}, Palette{{Lab{56, 0, 1}, .8}, {Lab{46, 54, 35}, .2}}, red, Lab{46, 54, 35}, 2},
		{"a close grey outspeaks colours far apart",
			Palette{{grey, .6}, {red, .4}}, Palette{{Lab{56, 0, 1}, .6}, {blue, .4}}, grey, Lab{56, 0, 1}, 2},
		{"a colour with weight outspeaks a trace of one",
			Palette{{red, .5}, {blue, .49}, {grey, .01}}, Palette{{red, .5}, {Lab{45, 5, -44}, .005}, {Lab{90, 0, 0}, .495}}, red, red, 1},
		{"far apart altogether, the nearest still comes back",
			Palette{{Lab{0, 0, 0}, 1}}, Palette{{Lab{100, 0, 0}, .5}, {Lab{95, 0, 0}, .5}}, Lab{}, Lab{95, 0, 0}, 100},
	} {
		common := Common(c.p, c.q, math.Inf(1))
		x, y, d := common[0].One, common[0].Other, common[0].Apart
		if x.Lab != c.x || y.Lab != c.y || d != DeltaE00(x.Lab, y.Lab) || d > c.nearest {
			t.Errorf("%s: %v and %v at %.2f", c.name, x, y, d)
		}
		if back := Common(c.q, c.p, math.Inf(1))[0]; back.Other != x || back.One != y || back.Apart != d {
			t.Errorf("%s: asked the other way round, %+v", c.name, back)
		}
	}
}

func BenchmarkDistanceOfSixSwatches(b *testing.B) {
	random := rand.New(rand.NewPCG(5, 6))
	palettes := make([]Palette, 64)
	for i := range palettes {
		for len(palettes[i]) != 6 {
			palettes[i] = anyPalette(random)
		}
	}
	sum, i := 0.0, 0
	b.ReportAllocs()
	for b.Loop() {
		sum += Distance(palettes[i&63], palettes[(i*7+1)&63])
		i++
	}
	if sum <= 0 {
		b.Fatal(sum)
	}
}
