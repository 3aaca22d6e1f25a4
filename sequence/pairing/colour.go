package pairing

import (
	"fmt"
	"math"

	"pairwall/sequence"
	"pairwall/sequence/colour"
)

// colourGauge measures how far apart the palettes of two photos are, as the
// earth mover's distance in ΔE00.
type colourGauge struct {
	palettes   []colour.Palette
	usable     []bool
	monochrome []bool
}

func newColourGauge(photos []sequence.Photo) gauge {
	g := colourGauge{make([]colour.Palette, len(photos)), make([]bool, len(photos)), make([]bool, len(photos))}
	for i, p := range photos {
		g.palettes[i] = p.Palette
		// A palette that cannot be compared is infinitely far even from itself.
		g.usable[i] = !math.IsInf(colour.Distance(p.Palette, p.Palette), 1)
		g.monochrome[i] = p.Tone.Monochrome
	}
	return g
}

func (g colourGauge) knows(photo int) bool { return g.usable[photo] }

func (g colourGauge) measure(a, b int) float64 {
	return colour.Distance(g.palettes[a], g.palettes[b])
}

// Up to carried, in ΔE00, two swatches are one colour carried by both
// pictures, and go by the name of what lies between them; up to answering they
// are two colours that answer each other. Judgements of ours: about one just
// visible step between prints lying apart, and well short of another colour.
const (
	carried   = 5
	answering = 8
)

func (g colourGauge) words(a, b int, measure float64) string {
	switch {
	case g.monochrome[a] && g.monochrome[b]:
		return fmt.Sprintf("both black and white, tones ΔE00 %.1f apart", measure)
	case g.monochrome[a] || g.monochrome[b]:
		return fmt.Sprintf("one black and white, one in colour, ΔE00 %.1f apart", measure)
	}
	p, q, apart := colour.Shared(g.palettes[a], g.palettes[b])
	between := colour.Lab{L: (p.Lab.L + q.Lab.L) / 2, A: (p.Lab.A + q.Lab.A) / 2, B: (p.Lab.B + q.Lab.B) / 2}
	one, other := p.Lab.Name(), q.Lab.Name()
	switch {
	case apart <= carried:
		return fmt.Sprintf("both carry %s, ΔE00 %.1f", between.Name(), apart)
	case apart <= answering && one == other:
		return fmt.Sprintf("both carry %s, ΔE00 %.1f", one, apart)
	case apart <= answering:
		// Which of the two pictures carries which is not for one sentence to say.
		return fmt.Sprintf("%s answers %s, ΔE00 %.1f", min(one, other), max(one, other), apart)
	}
	return fmt.Sprintf("no colour in common, palettes ΔE00 %.1f apart", measure)
}
