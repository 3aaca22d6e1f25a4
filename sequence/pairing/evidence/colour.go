package evidence

import (
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
	if t.subjects[a].mono != t.subjects[b].mono {
		return ""
	}
	shared := colour.Common(t.subjects[a].palette, t.subjects[b].palette, answering)
	if len(shared) == 0 || t.scales[worldRow].rate(r.measure) < notFar && (shared[0].One.Lab.Chroma() < tintOnly || shared[0].Strength < small) {
		return "" // two pictures always share some grey
	}
	first := shared[0]
	name := carriedName(first)
	if name == "" {
		// Which of the two pictures carries which is not for one sentence to say.
		one, other := first.One.Lab.Name(), first.Other.Lab.Name()
		return min(one, other) + " answers " + max(one, other)
	}
	names := []string{name}
	for _, next := range shared[1:] {
		if name := carriedName(next); name != "" && name != names[0] && next.Strength >= secondTells*first.Strength && len(names) < 2 {
			names = append(names, name)
		}
	}
	return "both in " + Listed(names)
}

// Of palettes farther apart than notFar on the title's scale, only a real colour that
// counts in both is worth a word.
const (
	notFar   = 0.3
	tintOnly = 15 // C*ab
	small    = 0.2
)

// secondTells is how much of the first colour's claim a second must have to be
// named beside it.
const secondTells = 0.4

// carriedName names a colour that two pictures carry, "" when they carry two that
// answer each other.
func carriedName(e colour.Echo) string {
	p, q := e.One.Lab, e.Other.Lab
	if e.Apart > carried && p.Name() != q.Name() {
		return ""
	}
	if e.Apart > carried {
		return p.Name()
	}
	return colour.Lab{L: (p.L + q.L) / 2, A: (p.A + q.A) / 2, B: (p.B + q.B) / 2}.Name()
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
		return ""
	}
	if name := carriedName(e); name != "" {
		return "a touch of " + name + " in both"
	}
	one, other := e.One.Lab.Name(), e.Other.Lab.Name()
	return "a touch of " + min(one, other) + " answers one of " + max(one, other)
}

func readOpposites(t *Title, a, b int) reading {
	e := t.subjects[a].character.Opposite(t.subjects[b].character)
	return reading{e.Apart, e.Strength}
}

func oppositesWords(t *Title, a, b int, _ reading) string {
	e := t.subjects[a].character.Opposite(t.subjects[b].character)
	if e.Strength < faint {
		return ""
	}
	one, other := e.One.Lab.Name(), e.Other.Lab.Name()
	return min(one, other) + " against " + max(one, other)
}

func readTone(t *Title, a, b int) reading {
	return reading{measure: colour.ToneDistance(t.subjects[a].tone, t.subjects[b].tone)}
}

func toneWords(t *Title, a, b int, r reading) string {
	alike := t.scales[toneRow].rate(r.measure) >= telling
	switch both := t.subjects[a].mono && t.subjects[b].mono; {
	case both && alike:
		return "both black and white, light and dark alike"
	case both:
		return "both black and white"
	case alike:
		return "light and dark alike"
	}
	return ""
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
	switch {
	case t.subjects[a].mono == t.subjects[b].mono:
		return ""
	case r.score >= telling:
		return "colour beside black and white, light and dark alike"
	}
	return "colour beside black and white"
}
