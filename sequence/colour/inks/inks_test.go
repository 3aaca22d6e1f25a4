package inks

import (
	"errors"
	"math"
	"os"
	"testing"

	"pairwall/sequence/colour"
)

// The profile comes with Debian's ghostscript, which the tests of press need as
// well.
func profile(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile("/usr/share/color/icc/ghostscript/default_cmyk.icc")
	if err != nil {
		t.Fatalf("%v: install the Debian package ghostscript", err)
	}
	return data
}

func read(t testing.TB) *Profile {
	t.Helper()
	p, err := Read(profile(t))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Little CMS 2.14: transicc -v0 -i '*Lab' -o default_cmyk.icc -t 1 -b
func TestInksOfAColourAreThoseOfLittleCMS(t *testing.T) {
	p := read(t)
	for _, one := range []struct {
		of   colour.Lab
		inks [4]float64 // per cent
	}{
		{colour.Lab{}, [4]float64{72.3079, 67.6936, 67.1016, 88.6015}},
		{colour.Lab{L: 50}, [4]float64{53.8613, 46.6926, 46.4195, 11.3817}},
		{colour.Lab{L: 100}, [4]float64{}},
		{colour.Lab{L: 50, A: 60, B: 40}, [4]float64{10.1808, 91.4977, 86.8620, 1.5610}},
		{colour.Lab{L: 30, A: 10, B: -40}, [4]float64{93.2845, 85.6214, 16.6140, 3.6042}},
		{colour.Lab{L: 80, B: 10}, [4]float64{19.8596, 18.1216, 29.0120, 0}},
		{colour.Lab{L: 41.5, A: 52.6, B: 26.9}, [4]float64{21.3138, 94.6258, 79.6231, 11.3695}},
		{colour.Lab{L: 60, A: -50, B: 40}, [4]float64{79.3271, 7.7623, 100, 0.5173}},
		{colour.Lab{L: 90, A: -5, B: 80}, [4]float64{4.1520, 4.8997, 90.9072, 0}},
		{colour.Lab{L: 20, A: 20, B: -60}, [4]float64{100, 90.7530, 15.8923, 7.7501}},
		{colour.Lab{L: 70, A: 15, B: 18}, [4]float64{18.5885, 38.4985, 43.9048, 0.1480}},
	} {
		got := p.Of(one.of)
		for i, want := range one.inks {
			if math.Abs(100*got[i]-want) > 0.3 {
				t.Errorf("%+v takes %.4f, want %v", one.of, got, one.inks)
				break
			}
		}
	}
}

// Little CMS 2.14: transicc -v0 -i default_cmyk.icc -o '*Lab' -t 1
func TestTheColourOfInksIsThatOfLittleCMS(t *testing.T) {
	p := read(t)
	for _, one := range []struct {
		of  Inks
		lab colour.Lab
	}{
		{Inks{}, colour.Lab{L: 100}},
		{Inks{1, 1, 1, 1}, colour.Lab{L: 11.7724, A: 0.7656, B: 0.3281}},
		{Inks{.5, .4, .4, 0}, colour.Lab{L: 60.6495, A: -0.7813, B: -1.0391}},
		{Inks{0, 0, 0, .5}, colour.Lab{L: 63.0071, A: -0.3711, B: -1.5898}},
		{Inks{1, 0, 0, 0}, colour.Lab{L: 63.6106, A: -41.3945, B: -48.3359}},
		{Inks{0, 1, 0, 0}, colour.Lab{L: 53.9537, A: 76.1406, B: -6.5625}},
		{Inks{0, 0, 1, 0}, colour.Lab{L: 95.0812, A: -6.2969, B: 90.3516}},
		{Inks{.2, .6, .8, .1}, colour.Lab{L: 56.8015, A: 25.1484, B: 33.6094}},
	} {
		if got := p.Lab(one.of); math.Abs(got.L-one.lab.L)+math.Abs(got.A-one.lab.A)+math.Abs(got.B-one.lab.B) > 0.25 {
			t.Errorf("%v make %+v, want %+v", one.of, got, one.lab)
		}
	}
}

// Within the reach of the inks a colour comes back, in 33 steps and between
// them; the strongest screen colours do not (common practice).
func TestReachTellsWhatTheInksMiss(t *testing.T) {
	p := read(t)
	r := p.Reach()
	for _, c := range [][3]uint8{{255, 255, 255}, {128, 128, 128}, {0, 0, 0}, {150, 120, 100}, {77, 91, 103}, {201, 180, 160}} {
		if missed, ink := r.Of(c[0], c[1], c[2]); missed > 1.5 || ink > 3.2 {
			t.Errorf("%v is missed by %.2f with %.0f %% of ink", c, missed, 100*ink)
		}
	}
	for _, c := range [][3]uint8{{0, 0, 255}, {0, 255, 0}, {0, 255, 255}, {255, 0, 255}} {
		if missed, _ := r.Of(c[0], c[1], c[2]); missed < 5 {
			t.Errorf("%v is missed by %.2f only", c, missed)
		}
	}
}

func BenchmarkReach(b *testing.B) {
	p := read(b)
	for b.Loop() {
		p.Reach()
	}
}

func BenchmarkReachOf(b *testing.B) {
	r := read(b).Reach()
	for b.Loop() {
		r.Of(17, 130, 201)
	}
}

func TestWhatIsNoPrintersProfileIsRefused(t *testing.T) {
	if _, err := Read(colour.SRGBProfile()); !errors.Is(err, ErrKind) {
		t.Errorf("sRGB: %v", err)
	}
	if _, err := Read([]byte("hello")); !errors.Is(err, ErrTorn) {
		t.Errorf("a word: %v", err)
	}
	whole := profile(t)
	for _, at := range []int{0, 100, 131, 5000, len(whole) - 1} {
		if _, err := Read(whole[:at]); err == nil {
			t.Errorf("cut at %d it is still read", at)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(colour.SRGBProfile())
	f.Add(profile(f)[:4000])
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, err := Read(data); err == nil {
			p.Lab(p.Of(colour.Lab{L: 40, A: 90, B: -90}))
		}
	})
}
