package proof_test

import (
	"context"
	"flag"
	"image"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	xdraw "golang.org/x/image/draw"

	"pairwall/sequence/pages/perspective"
	"pairwall/sequence/proof"
)

// laidOn lays a proof on another photograph in place of the table.
func (m made) laidOn(table *image.RGBA) {
	under := image.NewRGBA(m.shot.Rect)
	xdraw.ApproxBiLinear.Scale(under, under.Rect, table, table.Rect, xdraw.Src, nil)
	back, _ := m.h.Inverse()
	w, h := float64(m.page.Picture.Rect.Dx()), float64(m.page.Picture.Rect.Dy())
	for y := range shotHigh {
		for x := range shotWidth {
			if at := back.At(perspective.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5}); at.X < -2 || at.Y < -2 || at.X > w+2 || at.Y > h+2 {
				copy(m.shot.Pix[m.shot.PixOffset(x, y):][:4], under.Pix[under.PixOffset(x, y):])
			}
		}
	}
}

// card lays a grey card there, with noise as a camera has it.
func (m made) card(middle image.Point, side float64, askew, sends float64, p proofing, chance *rand.Rand) {
	sin, cos := math.Sincos(askew)
	for y := range shotHigh {
		for x := range shotWidth {
			dx, dy := float64(x-middle.X), float64(y-middle.Y)
			if max(math.Abs(dx*cos+dy*sin), math.Abs(dy*cos-dx*sin)*0.7) > side/2 {
				continue
			}
			for c := range 3 {
				m.shot.Pix[m.shot.PixOffset(x, y)+c] = uint8(math.Round(min(max(255*encoded(sends*p.camera[c]*(1-0.1*dx/side))+chance.NormFloat64()*p.noise, 0), 255)))
			}
		}
	}
}

var tables = flag.Int("tables", 4, "on how many photographs in place of a table proofs are laid")

// Walls, skies and streets under the proof are harder than any table.
func TestAGreyCardBesideThePageIsProposedAndNothingElseIs(t *testing.T) {
	all := photographs(t)
	var right, wrong, none, falsely, missing int
	for i := 0; i < len(all); i += max(len(all) / *tables, 1) {
		chance := rand.New(rand.NewPCG(uint64(i), 9))
		p := chanceProofing(chance)
		p.target, p.tone = true, 1 // which leaves room on the right, and is covered
		m := p.make(t, all[(i+7)%len(all)], chance)
		m.laidOn(photograph(t, all[i]))
		found, err := proof.Measure(context.Background(), m.page, m.shot, proof.Aids{})
		if err != nil || found.Base != proof.ByPaper {
			missing++
			continue
		}
		if found.Card != nil {
			falsely++
			t.Logf("%d: %s: no card, but at %.2f", i, filepath.Base(all[i]), *found.Card)
		}
		at := image.Pt(1380, 300+chance.IntN(500))
		m.card(at, 110+60*chance.Float64(), chance.Float64()-0.5, 0.15+0.1*chance.Float64(), p, chance)
		found, err = proof.Measure(context.Background(), m.page, m.shot, proof.Aids{})
		switch {
		case err != nil || found.Base != proof.ByPaper:
			missing++
		case found.Card == nil:
			none++
		case math.Hypot(found.Card.X*shotWidth-float64(at.X), found.Card.Y*shotHigh-float64(at.Y)) < 15:
			right++
		default:
			wrong++
			t.Logf("%d: %s: card at %v, proposed %.2f", i, filepath.Base(all[i]), at, *found.Card)
		}
	}
	t.Logf("%d not measured; without a card %d proposed; with one %d proposed, %d not, %d elsewhere", missing, falsely, right, none, wrong)
	if missing > 0 || falsely > 0 || wrong > 0 || none > right/10 {
		t.Error("that is not good enough")
	}
}
