package evidence

import (
	"fmt"

	"pairwall/sequence/colour"
)

func coloured(t *Title, i int) bool { return t.subjects[i].usable }
func toned(t *Title, i int) bool    { return t.subjects[i].toned }

// readWorld measures how far apart the palettes of two photos are, as the earth
// mover's distance in ΔE00.
func readWorld(t *Title, a, b int) reading {
	return reading{measure: t.palettes.at(a, b, func() float64 { return colour.Distance(t.subjects[a].palette, t.subjects[b].palette) })}
}

// Up to carried, in ΔE00, two swatches are one colour carried by both
// pictures, and go by the name of what lies between them; up to answering they
// are two colours that answer each other. Judgements of ours: about one just
// visible step between prints lying apart, and well short of another colour.
const (
	carried   = 5
	answering = 8
)

func worldWords(t *Title, a, b int, r reading) string {
	one, other, apart := colour.Shared(t.subjects[a].palette, t.subjects[b].palette)
	if shared := sharedWords(one.Lab, other.Lab, apart); shared != "" {
		return shared
	}
	return fmt.Sprintf("no colour in common, palettes ΔE00 %.1f apart", r.measure)
}

// sharedWords names a colour that two pictures have, "" when they have none.
func sharedWords(p, q colour.Lab, apart float64) string {
	between := colour.Lab{L: (p.L + q.L) / 2, A: (p.A + q.A) / 2, B: (p.B + q.B) / 2}
	one, other := p.Name(), q.Name()
	switch {
	case apart <= carried:
		return fmt.Sprintf("both carry %s, ΔE00 %.1f", between.Name(), apart)
	case apart <= answering && one == other:
		return fmt.Sprintf("both carry %s, ΔE00 %.1f", one, apart)
	case apart <= answering:
		// Which of the two pictures carries which is not for one sentence to say.
		return fmt.Sprintf("%s answers %s, ΔE00 %.1f", min(one, other), max(one, other), apart)
	}
	return ""
}

func readAccent(t *Title, a, b int) reading {
	e := t.subjects[a].character.Accent(t.subjects[b].character)
	return reading{e.Apart, e.Strength}
}

// faint is the strength below which a relation is not worth a word.
const faint = 0.2

func accentWords(t *Title, a, b int, r reading) string {
	e := t.subjects[a].character.Accent(t.subjects[b].character)
	if e.Strength < faint {
		return "no accent in common"
	}
	one, other := e.One.Lab.Name(), e.Other.Lab.Name()
	if one == other {
		return fmt.Sprintf("%s as an accent in both, ΔE00 %.1f, though the rest differs", one, e.Apart)
	}
	return fmt.Sprintf("%s and %s as one accent, ΔE00 %.1f, though the rest differs", min(one, other), max(one, other), e.Apart)
}

func readOpposites(t *Title, a, b int) reading {
	e := t.subjects[a].character.Opposite(t.subjects[b].character)
	return reading{e.Apart, e.Strength}
}

func oppositesWords(t *Title, a, b int, r reading) string {
	e := t.subjects[a].character.Opposite(t.subjects[b].character)
	if e.Strength < faint {
		return "no opposites"
	}
	one, other := e.One.Lab.Name(), e.Other.Lab.Name()
	return fmt.Sprintf("%s against %s, %.0f° short of opposite", min(one, other), max(one, other), e.Apart)
}

func readTone(t *Title, a, b int) reading {
	return reading{measure: colour.ToneDistance(t.subjects[a].tone, t.subjects[b].tone)}
}

func toneWords(t *Title, a, b int, r reading) string {
	if t.subjects[a].mono && t.subjects[b].mono {
		return fmt.Sprintf("both black and white, tones L* %.1f apart", r.measure)
	}
	return fmt.Sprintf("tones L* %.1f apart", r.measure)
}

// readMixed is the relation of a colour beside a black and white: their light must
// agree, for nothing else can. Two of a kind have no such relation.
func readMixed(t *Title, a, b int) reading {
	r := readTone(t, a, b)
	if t.subjects[a].mono != t.subjects[b].mono {
		r.score = t.scales[toneRow].rate(r.measure)
	}
	return r
}

func mixedWords(t *Title, a, b int, r reading) string {
	p, q := t.subjects[a], t.subjects[b]
	if p.mono == q.mono {
		return "not colour beside black and white"
	}
	return fmt.Sprintf("colour beside black and white, tones L* %.1f apart", r.measure)
}
