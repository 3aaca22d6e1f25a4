package colour

import (
	"cmp"
	"math"
	"slices"
)

// A Character is what a palette holds of strong colour, laid out so that two
// pictures are compared at once. Make it with Characterise.
type Character struct {
	accents []accented
	fields  []accented
}

// accented is a colour of a picture beside what the rest of it looks like.
type accented struct {
	Swatch
	chroma, hue float64
	rest        Lab // mean of all other swatches
	force       float64
	family      float64 // share of the picture within oneHue of it, its own included
}

// An Echo is a colour of one picture that answers a colour of another.
type Echo struct {
	One, Other Swatch
	Apart      float64 // ΔE00 for an accent, degrees short of opposite for opposites
	Strength   float64 // 0..1: how much it speaks for a relation
}

// Judgements of our own, held against real photographs.
const (
	mostEchoes   = 3    // colours of a picture that are looked at
	accentFrom   = 24   // C*ab: below, a colour is no accent
	accentFull   = 60   // from here on it is as strong as can be
	accentArea   = 0.08 // share of the picture from which an accent is fully seen
	accentSmall  = 0.2  // up to here it is an accent in full, from here on less and less
	accentWhole  = 0.6  // a colour that fills more is no accent but a sky, a wall, the picture
	accentWithin = 9    // ΔE00 at which the likeness of two accents has fallen to 1/e
	restApart    = 25   // in Lab: the rests of two pictures are different things
	oneHue       = 20   // degrees of hue within which the colours of one picture are one sky, one wall
	oneChroma    = 12   // C*ab from which a swatch has a hue worth the name

	fieldFrom   = 15   // C*ab of a colour that can have an opposite
	fieldFull   = 40   // strong enough to hold against its opposite
	fieldArea   = 0.15 // share from which a field counts in full
	fieldLeast  = 0.03
	turnedShort = 25 // degrees short of opposite at which the relation has fallen to 1/e
	ownOpposite = 40 // degrees of hue within which a picture holds the other's colour itself
)

// Characterise finds the strong colours of a palette.
func Characterise(p Palette) Character {
	var c Character
	total := 0.0
	var sum Lab
	for _, s := range p {
		if s.usable() {
			total += s.Weight
			sum.L += s.Weight * s.Lab.L
			sum.A += s.Weight * s.Lab.A
			sum.B += s.Weight * s.Lab.B
		}
	}
	if !(total > 0) || math.IsInf(total, 0) {
		return c
	}
	for _, s := range p {
		if !s.usable() {
			continue
		}
		a := accented{Swatch: Swatch{s.Lab, s.Weight / total}, chroma: s.Lab.Chroma(), hue: s.Lab.Hue()}
		if left := total - s.Weight; left > 1e-9*total {
			a.rest = Lab{(sum.L - s.Weight*s.Lab.L) / left, (sum.A - s.Weight*s.Lab.A) / left, (sum.B - s.Weight*s.Lab.B) / left}
		}
		a.family = p.ofHue(a.hue, oneHue) / total
		if a.chroma >= accentFrom && a.family <= accentWhole {
			fades := min(1, (accentWhole-a.family)/(accentWhole-accentSmall))
			a.force = min(1, a.chroma/accentFull) * min(1, math.Sqrt(a.Weight/accentArea)) * fades
			c.accents = append(c.accents, a)
		}
		if a.chroma >= fieldFrom && a.Weight >= fieldLeast {
			a.force = min(1, a.chroma/fieldFull) * min(1, math.Sqrt(a.Weight/fieldArea))
			// A blue sky beside a blue sky over an ochre wall is no pair of opposites:
			// the field must weigh what its own picture holds across the circle.
			a.force *= min(1, 2*a.family/(a.family+p.ofHue(a.hue+180, ownOpposite)/total))
			c.fields = append(c.fields, a)
		}
	}
	c.accents, c.fields = strongest(c.accents), strongest(c.fields)
	return c
}

// ofHue sums the weights of the swatches with a hue within so many degrees.
func (p Palette) ofHue(hue, within float64) (weight float64) {
	for _, s := range p {
		if s.usable() && s.Lab.Chroma() >= oneChroma && math.Abs(math.Remainder(s.Lab.Hue()-hue, 360)) <= within {
			weight += s.Weight
		}
	}
	return weight
}

func strongest(list []accented) []accented {
	slices.SortStableFunc(list, func(x, y accented) int { return cmp.Compare(y.force, x.force) })
	return list[:min(mostEchoes, len(list))]
}

// Accent finds the strong colour that both pictures carry though the rest of them
// differs. Its strength is the geometric mean of the two colours' own, each
// weighted by chroma and area, times e^−(ΔE00/9)², times how far the means of all
// other colours lie apart, full from 25 in Lab on. Strength 0 means none.
// Symmetric but for which picture is One.
func (c Character) Accent(d Character) Echo {
	var best Echo
	for _, x := range c.accents {
		for _, y := range d.accents {
			if square(x.Lab, y.Lab) > 40*40 { // ΔE00 there is far beyond likeness
				continue
			}
			differs := min(1, math.Sqrt(square(x.rest, y.rest))/restApart)
			most := math.Sqrt(x.force*y.force) * differs
			if most <= best.Strength {
				continue
			}
			apart := difference(x.Lab, y.Lab, x.chroma, y.chroma)
			strength := most * math.Exp(-apart*apart/(accentWithin*accentWithin))
			if strength > best.Strength {
				best = Echo{x.Swatch, y.Swatch, apart, strength}
			}
		}
	}
	return best
}

// Opposite finds the two colours that lie most across the hue circle from each
// other at like strength. Its strength is the lesser force of the two, times
// e^−(δ/25°)² for δ degrees short of opposite, times the ratio of their chromas
// and the root of that of their areas. Strength 0 means none.
func (c Character) Opposite(d Character) Echo {
	var best Echo
	for _, x := range c.fields {
		for _, y := range d.fields {
			short := math.Abs(math.Abs(x.hue-y.hue) - 180)
			like := min(x.chroma, y.chroma) / max(x.chroma, y.chroma) *
				math.Sqrt(min(x.Weight, y.Weight)/max(x.Weight, y.Weight))
			strength := min(x.force, y.force) * like * math.Exp(-short*short/(turnedShort*turnedShort))
			if strength > best.Strength {
				best = Echo{x.Swatch, y.Swatch, short, strength}
			}
		}
	}
	return best
}
