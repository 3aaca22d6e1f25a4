package proof_test

import (
	"context"
	"flag"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pairwall/sequence/colour"
	"pairwall/sequence/proof"
)

var (
	proofs = flag.Int("proofs", 10, "how many proofs with chance casts are measured")
	cases  = flag.String("cases", "", "only these of them, by number, as 3,15")
)

// hard are cases that once were off by more than they said, always looked at: fine
// grain, a sky on one step of a JPEG, orange at the edge of what inks can do.
var hard = []int{85, 101, 114, 448}

// Issue 8: the direction right in 99 of 100 cases from ΔE00 2, and never a wrong
// word below, where "cannot tell" is right as well.
func TestTheDirectionOfChanceCastsIsToldOrNotAtAll(t *testing.T) {
	all := photographs(t)
	var taken, visible, right, quiet, wrong, lost, askew, near, close, beyond, measured int
	only := strings.FieldsFunc(*cases, func(r rune) bool { return r == ',' })
	for i := range 500 {
		if len(only) > 0 && !slices.Contains(only, strconv.Itoa(i)) || len(only) == 0 && i >= *proofs && !slices.Contains(hard, i) {
			continue
		}
		taken++
		chance := rand.New(rand.NewPCG(uint64(i), 8))
		p := chanceProofing(chance)
		name := all[chance.IntN(len(all))]
		m := p.make(t, name, chance)
		found, err := proof.Measure(context.Background(), m.page, m.shot, proof.Aids{})
		if err != nil {
			lost++
			t.Logf("case %d: %s: %v", i, filepath.Base(name), err)
			continue
		}
		if d := m.askew(found); d > 2 {
			askew++
			t.Logf("case %d: %s: %.1f pixels askew", i, filepath.Base(name), d)
		}
		z, truth := zone(t, found, proof.Midtones), m.truth["midtones"]
		if z.Share == 0 {
			continue
		}
		measured++
		off := z.Shift.Minus(truth)
		if m.wants.Plus(truth).DeltaE00(m.wants.Plus(z.Shift)) <= 0.7 {
			close++
		}
		if max(math.Abs(off.L), math.Abs(off.A), math.Abs(off.B)) <= 0.7 {
			near++
		} else {
			if beyondSaid(off.L, z.Unsure.L) || beyondSaid(off.A, z.Unsure.AB) || beyondSaid(off.B, z.Unsure.AB) {
				beyond++
			}
			t.Logf("case %d: %s by %s (rest %.2f, quality %d): midtones off by %+.2f of %+.2f, unsure %.2f", i, filepath.Base(name), found.Base, found.Rest, p.quality, off, truth, z.Unsure)
		}
		told, good := judged(z, truth)
		size := m.wants.DeltaE00(m.wants.Plus(truth))
		switch {
		case size >= 2:
			visible++
			if told && good {
				right++
			}
		case told && !good:
			wrong++
		default:
			quiet++
		}
		if told && !good || size >= 2 && !told {
			t.Logf("case %d: %s by %s: ΔE00 %.1f, truth %+.2f, found %+.2f unsure %.2f, light %s colour %s", i, filepath.Base(name), found.Base, size, truth, z.Shift, z.Unsure, z.Light, z.Colour)
		}
	}
	t.Logf("%d proofs: %d not found, %d askew by more than 2 pixels; of %d measured %d within 0.7 in each of L*, a*, b* and %d within ΔE00 0.7, %d off by more than they own to; from ΔE00 2: %d of %d right; below: %d wrong words, %d right or none",
		taken, lost, askew, measured, near, close, beyond, right, visible, wrong, quiet)
	if float64(right) < 0.99*float64(visible) || wrong > 0 || lost > taken/100 || askew > 0 || beyond > 0 || measured-near > 1+measured/100 || measured-close > 1+measured/100 {
		t.Error("that is not good enough")
	}
}

// beyondSaid tells whether a figure is off by more than its measurement owned to:
// by more than 0.7 at all where it trusts itself, else by more than two and a half
// times what it is unsure by. Colours that a JPEG has rounded coarsely over an even
// ground, in the page or in the target, cannot be had back.
func beyondSaid(off, unsure float64) bool {
	const trusts = 0.4
	return math.Abs(off) > 0.7 && (unsure < trusts || math.Abs(off) > 2.5*unsure)
}

func chanceProofing(chance *rand.Rand) proofing {
	p := plain
	size, turn, lift := chance.Float64()*5, chance.Float64()*2*math.Pi, chance.NormFloat64()
	p.shift = colour.LabD50{L: lift * size / 2, A: size * math.Cos(turn), B: size * math.Sin(turn)}
	p.uneven, p.tilt, p.turn, p.noise = chance.Float64()*0.3, chance.Float64()*20, chance.Float64()*16-8, 1+chance.Float64()*3
	p.quality = 80 + chance.IntN(13)
	p.camera = [3]float64{1, 0.86 + 0.14*chance.Float64(), 0.7 + 0.3*chance.Float64()}
	p.margin = 0.04 + 0.06*chance.Float64()
	if p.target = chance.IntN(2) == 0; p.target {
		p.tone = 0.88 + 0.24*chance.Float64()
	}
	return p
}

// judged tells whether anything was said of a zone, and whether all of it points
// the way the truth does: the sign of L*, the hue of the shift within 45°.
func judged(z proof.Tones, truth colour.LabD50) (told, good bool) {
	good = true
	if z.Light == proof.Shifted {
		told, good = true, z.Shift.L*truth.L > 0 && math.Abs(truth.L) > 0.3
	}
	if z.Colour == proof.Shifted {
		told = true
		along := (z.Shift.A*truth.A + z.Shift.B*truth.B) / (z.Shift.Chroma()*truth.Chroma() + 1e-9)
		good = good && along > math.Sqrt2/2 && truth.Chroma() > 0.4
	}
	return told, good
}
