package proof_test

import (
	"context"
	"image"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/perspective"
	"pairwall/sequence/proof"
)

// askew is the largest distance between where the page lies and where it was
// found, in pixels of the photograph, over a grid of the page.
func (m made) askew(found proof.Measurement) float64 {
	w, h := float64(m.page.Picture.Rect.Dx()), float64(m.page.Picture.Rect.Dy())
	from := []perspective.Point{{}, {X: w}, {X: w, Y: h}, {Y: h}}
	var to []perspective.Point
	for _, c := range found.Corners {
		to = append(to, perspective.Point{X: c.X * shotWidth, Y: c.Y * shotHigh})
	}
	got, _ := perspective.Fit(from, to, nil)
	most := 0.0
	for i := range 5 {
		for j := range 5 {
			p := perspective.Point{X: w * float64(i) / 4, Y: h * float64(j) / 4}
			most = max(most, got.At(p).Distance(m.h.At(p)))
		}
	}
	return most
}

// usual is what a photograph of a proof on a table is like.
func usual() proofing {
	p := plain
	p.uneven, p.tilt, p.turn, p.noise, p.quality = 0.25, 20, 4, 3, 80
	return p
}

func (p proofing) measured(t *testing.T, name string, seed uint64, aids proof.Aids) (made, proof.Measurement) {
	t.Helper()
	m := p.make(t, name, rand.New(rand.NewPCG(seed, 5)))
	found, err := proof.Measure(context.Background(), m.page, m.shot, aids)
	if err != nil {
		t.Fatalf("%s: %v", filepath.Base(name), err)
	}
	return m, found
}

func zone(t testing.TB, f proof.Measurement, name string) proof.Tones {
	t.Helper()
	for _, z := range f.Zones {
		if z.Name == name {
			return z
		}
	}
	t.Fatalf("no %s in the finding", name)
	return proof.Tones{}
}

// The casts of issue 8, each with all that a photograph on a table does.
func TestAKnownCastIsFoundInTheMidtones(t *testing.T) {
	all := photographs(t)
	for i, c := range []struct {
		name string
		with func(*proofing)
	}{
		{"nothing", func(*proofing) {}},
		{"a* +3", func(p *proofing) { p.shift.A = 3 }},
		{"b* -4", func(p *proofing) { p.shift.B = -4 }},
		{"L* -5", func(p *proofing) { p.shift.L = -5 }},
		{"gamma 1.15", func(p *proofing) { p.gamma = 1.15 }},
		{"a tinted paper", func(p *proofing) { p.shift.A = 2; p.paper = [3]float64{0.88, 0.85, 0.76} }},
		{"a warm light", func(p *proofing) { p.shift.B = -4; p.camera = [3]float64{1, 0.9, 0.72} }},
		{"a* +3, target", func(p *proofing) { p.shift.A = 3; p.target = true }},
		{"b* -4, target", func(p *proofing) { p.shift.B = -4; p.target = true; p.tone = 0.9 }},
		{"L* -5, target", func(p *proofing) {
			p.shift.L = -5
			p.target, p.tone, p.camera = true, 1.12, [3]float64{1, 0.93, 0.8}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := usual()
			c.with(&p)
			name := all[i*7%len(all)]
			m := p.make(t, name, rand.New(rand.NewPCG(uint64(i), 0)))
			found, err := proof.Measure(context.Background(), m.page, m.shot, proof.Aids{})
			if err != nil {
				t.Fatalf("%s: %v", filepath.Base(name), err)
			}
			z, want := zone(t, found, proof.Midtones), m.truth["midtones"]
			off := z.Shift.Minus(want)
			t.Logf("%s: like %.2f askew %.1f px base %s rest %.2f uneven %.2f shift %+.2f truth %+.2f unsure %.2f", filepath.Base(name), found.Like, m.askew(found), found.Base, found.Rest, found.Uneven, z.Shift, want, z.Unsure)
			// Issue 8 asks for 2; what is more than half a pixel has stopped short.
			if d := m.askew(found); d > 0.5 {
				t.Errorf("%s: the page was found %.1f pixels askew", filepath.Base(name), d)
			}
			if want := map[bool]proof.Base{true: proof.ByTarget, false: proof.ByPaper}[p.target]; found.Base != want {
				t.Errorf("%s: measured by %s, not by %s", filepath.Base(name), found.Base, want)
			}
			if max(math.Abs(off.L), math.Abs(off.A), math.Abs(off.B)) > 0.7 {
				t.Errorf("%s: midtones shifted by %+.2f, found %+.2f", filepath.Base(name), want, z.Shift)
			}
		})
	}
}

func TestPaperThatLeansIsToldApartFromInksThatDo(t *testing.T) {
	name := photographs(t)[20]
	p := usual()
	p.target = true
	p.paper = [3]float64{0.88, 0.85, 0.76}
	_, found := p.measured(t, name, 1, proof.Aids{})
	if found.Paper == nil || found.Paper.Colour != proof.Shifted || found.Paper.Shift.B < 4 {
		t.Errorf("yellow paper: %+v", found.Paper)
	}
	if z := zone(t, found, proof.Midtones); z.Colour == proof.Shifted {
		t.Errorf("the inks are said to lean: %+v", z)
	}
	p.paper, p.shift.A = plain.paper, 3
	_, found = p.measured(t, name, 2, proof.Aids{})
	if found.Paper == nil || found.Paper.Colour != proof.Clean {
		t.Errorf("neutral paper: %+v", found.Paper)
	}
	if said := strings.Join(found.Words().Says, " "); !strings.Contains(said, "Midtones lean pink: +") || !strings.Contains(said, "it is the inks and not the paper") {
		t.Errorf("said: %s", said)
	}
}

func TestAGreyCardTellsTheLightButNotWithoutOne(t *testing.T) {
	name := photographs(t)[25]
	p := usual()
	p.camera = [3]float64{1, 0.9, 0.72} // the light of a lamp
	p.target = true
	m, found := p.measured(t, name, 3, proof.Aids{})
	if found.Base != proof.ByTarget {
		t.Fatalf("by %s", found.Base)
	}
	m.fill(image.Rect(1130, 260, 1580, 850), [3]float64{0.09, 0.07, 0.05}) // the target is taken away
	card := image.Rect(1250, 400, 1450, 600)
	m.fill(card, [3]float64{0.2, 0.18, 0.144})
	grey := card.Min.Add(card.Max).Div(2)
	carded, err := proof.Measure(context.Background(), m.page, m.shot, proof.Aids{Card: &pages.Point{X: float64(grey.X) / shotWidth, Y: float64(grey.Y) / shotHigh}})
	if err != nil || carded.Base != proof.ByCard || carded.Paper == nil || carded.Paper.Colour == proof.Shifted {
		t.Errorf("%v: by %s, paper %+v", err, carded.Base, carded.Paper)
	}
	bare, err := proof.Measure(context.Background(), m.page, m.shot, proof.Aids{})
	if err != nil || bare.Base != proof.ByPaper || bare.Paper != nil {
		t.Errorf("%v: by %s, paper %+v", err, bare.Base, bare.Paper)
	}
}

func (m made) fill(area image.Rectangle, light [3]float64) {
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			for c, v := range light {
				m.shot.Pix[m.shot.PixOffset(x, y)+c] = colour.EncodeSRGB(v)
			}
		}
	}
}

func TestWithoutPaperNoCastIsToldButTwoPagesCanBeCompared(t *testing.T) {
	name := photographs(t)[20]
	p := usual()
	p.margin = 0
	_, first := p.measured(t, name, 4, proof.Aids{})
	p.shift.A = 4
	_, second := p.measured(t, name, 4, proof.Aids{})
	if first.Base != proof.None || second.Zone(proof.Midtones).Colour != proof.CannotTell {
		t.Errorf("by %s: %+v", first.Base, second.Zone(proof.Midtones))
	}
	if words := second.Words(); len(words.Printer) > 0 || !strings.Contains(words.Says[0], "No cast can be told") {
		t.Errorf("%+v", words)
	}
	for _, z := range second.Beside(first) {
		if z.Name == proof.Midtones && (z.Colour != proof.Shifted || math.Abs(z.Shift.A-4) > 1) {
			t.Errorf("beside the other page: %+v", z)
		}
	}
}

func TestOverexposedPaperIsNotTakenForWhite(t *testing.T) {
	p := usual()
	p.light = 1.6
	p.uneven = 0
	_, found := p.measured(t, photographs(t)[20], 6, proof.Aids{})
	if found.Base != proof.None {
		t.Errorf("by %s", found.Base)
	}
}

func TestAPageThatIsNotThereIsNotFound(t *testing.T) {
	all := photographs(t)
	for i := range 2 {
		m := usual().make(t, all[i], rand.New(rand.NewPCG(uint64(i), 7)))
		other := plain.make(t, all[i+9], rand.New(rand.NewPCG(uint64(i), 7)))
		if found, err := proof.Measure(context.Background(), other.page, m.shot, proof.Aids{}); sequence.CodeOf(err) != sequence.NotFound {
			t.Errorf("%s was found in %s, like %.2f: %v", filepath.Base(all[i+9]), filepath.Base(all[i]), found.Like, err)
		}
	}
}

// A page of fog has no corners to go by; its edges and its paper's do.
func TestAPageWithHardlyAnythingOnItIsFoundByItsEdges(t *testing.T) {
	p := usual()
	p.shift.A = 3
	m := p.makeOf(t, fog(), rand.New(rand.NewPCG(1, 9)))
	found, err := proof.Measure(context.Background(), m.page, m.shot, proof.Aids{})
	if err != nil {
		t.Fatal(err)
	}
	if d := m.askew(found); d > 2 {
		t.Errorf("%.1f pixels askew", d)
	}
	if z := found.Zone(proof.Midtones); math.Abs(z.Shift.A-3) > 0.7 {
		t.Errorf("%+v", z)
	}
}

func fog() *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, 900, 600))
	for y := range 600 {
		for x := range 900 {
			v := uint8(110 + 40*y/600 + 10*x/900)
			copy(img.Pix[img.PixOffset(x, y):], []uint8{v, v, v + 4, 255})
		}
	}
	return img
}

func TestMeasuringStopsWhenAsked(t *testing.T) {
	m := plain.make(t, photographs(t)[20], rand.New(rand.NewPCG(1, 9)))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := proof.Measure(ctx, m.page, m.shot, proof.Aids{}); sequence.CodeOf(err) != sequence.Cancelled {
		t.Error(err)
	}
	if _, err := proof.Measure(context.Background(), m.page, image.NewRGBA(image.Rect(0, 0, 50, 50)), proof.Aids{}); sequence.CodeOf(err) != sequence.Invalid {
		t.Error(err)
	}
}

func TestTheNextRoundIsBetterOrWorse(t *testing.T) {
	name := photographs(t)[20]
	p := usual()
	p.shift = colour.LabD50{A: 5}
	_, first := p.measured(t, name, 11, proof.Aids{})
	p.shift = colour.LabD50{A: 1}
	_, second := p.measured(t, name, 12, proof.Aids{})
	for _, c := range []struct {
		before, after proof.Measurement
		want          proof.Course
	}{{first, second, proof.Better}, {second, first, proof.Worse}, {second, second, proof.AsWas}} {
		comparison := proof.Compare(c.before, c.after)
		for _, z := range comparison.Zones {
			if z.Zone == proof.Midtones && z.Course != c.want {
				t.Errorf("%s, not %s: %+v", z.Course, c.want, z)
			}
		}
		t.Log(comparison.Words())
	}
}
