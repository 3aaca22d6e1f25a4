package proof_test

import (
	"context"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/proof"
)

func TestATestStripIsFoundByItsCodesAndMeasured(t *testing.T) {
	const tag = code.Tag(77)
	strip := pages.LayStrip([]colour.Lab{{L: 40, A: 20, B: 10}, {L: 70, A: -5, B: -20}})
	page, err := proof.OfStrip(strip, tag)
	if err != nil {
		t.Fatal(err)
	}
	p := usual()
	p.shift = colour.LabD50{A: 3, B: -1}
	p.tilt, p.noise, p.quality = 15, 2, 88
	m := made{page: page, truth: map[string]colour.LabD50{}}
	whole := p
	whole.shift = colour.LabD50{}
	printed := whole.print(&m, image.Rectangle{})
	for _, area := range page.Printed { // the cast is in the patches
		for y := area.Min.Y; y < area.Max.Y; y++ {
			for x := area.Min.X; x < area.Max.X; x++ {
				i := 3 * (y*printed.w + x)
				light := [3]float64{}
				for c := range light {
					light[c] = float64(printed.pix[i+c]) / p.paper[c]
				}
				for c, v := range p.cast(colour.D50FromLinear(light)).Linear() {
					printed.pix[i+c] = float32(min(max(v, 0), 1) * p.paper[c])
				}
			}
		}
	}
	chance := rand.New(rand.NewPCG(3, 4))
	m.h = p.sees(page.Picture.Rect, chance)
	m.shot = p.photographed(t, printed, m.h, chance)
	found, err := proof.Measure(context.Background(), page, m.shot, proof.Aids{})
	if err != nil {
		t.Fatal(err)
	}
	if d := m.askew(found); d > 2 {
		t.Errorf("%.1f pixels askew", d)
	}
	for _, name := range []string{proof.Midtones, proof.Neutrals} {
		if z := found.Zone(name); math.Abs(z.Shift.A-3) > 0.7 || math.Abs(z.Shift.B+1) > 0.7 || math.Abs(z.Shift.L) > 0.7 {
			t.Errorf("%s %+v", name, z)
		}
	}
	other, err := proof.OfStrip(strip, tag+1)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := proof.Measure(context.Background(), other, m.shot, proof.Aids{}); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("another title's strip: %v", err)
	}
}
