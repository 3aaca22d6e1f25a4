package colour

import (
	"cmp"
	"math"
	"slices"
)

// Swatch is one colour of a palette and the share of the picture it stands for,
// 0 < Weight <= 1.
type Swatch struct {
	Lab    Lab     `json:"lab"`
	Weight float64 `json:"weight"`
}

// Palette holds the colours of a picture, heaviest first. Extract makes 1 to 8
// swatches whose weights sum to 1.
type Palette []Swatch

// Distance is the earth mover's distance between two palettes with CIEDE2000
// as ground distance, in ΔE00 units: how far, on average, the colours of one
// must be moved to become the other. Earth mover's distance: Rubner, Tomasi and
// Guibas, ICCV 1998; with CIEDE2000 for colour schemes: Skaff et al., CIC19,
// 2011. The optimum is exact.
//
// It is 0 for equal palettes, symmetric to the bit, never negative, never NaN,
// and never above the largest difference of two swatches. Weights count as
// shares of their sum. A swatch without a positive, finite weight or without
// coordinates within ±1000 is left out; if either palette then holds nothing,
// the distance is +Inf.
func Distance(p, q Palette) float64 {
	var roomP, roomQ massRoom
	from, to := massOf(p, &roomP), massOf(q, &roomQ)
	if len(from.colours) == 0 || len(to.colours) == 0 {
		return math.Inf(1)
	}
	if from.compare(to) > 0 {
		from, to = to, from // one order of work for both directions
	}
	var costRoom [small * small]float64
	cost := costRoom[:0]
	for i, x := range from.colours {
		for j, y := range to.colours {
			cost = append(cost, difference(x, y, from.chromas[i], to.chromas[j]))
		}
	}
	return transport(cost, from.weights, to.weights)
}

// mass is what of a palette can be counted, laid out for the solver.
type mass struct {
	colours          []Lab
	chromas, weights []float64
}

// massRoom lets a mass of up to 8 swatches live on its owner's stack.
type massRoom struct {
	colours          [small]Lab
	chromas, weights [small]float64
}

func massOf(p Palette, room *massRoom) mass {
	m := mass{room.colours[:0], room.chromas[:0], room.weights[:0]}
	for _, s := range p {
		if s.usable() {
			m.colours = append(m.colours, s.Lab)
			m.chromas = append(m.chromas, s.Lab.Chroma())
			m.weights = append(m.weights, s.Weight)
		}
	}
	return m
}

// compare orders masses by their figures; the order means nothing else.
func (m mass) compare(n mass) int {
	for i := range min(len(m.colours), len(n.colours)) {
		x, y := m.colours[i], n.colours[i]
		for _, d := range [4]float64{m.weights[i] - n.weights[i], x.L - y.L, x.A - y.A, x.B - y.B} {
			if d > 0 {
				return 1
			}
			if d < 0 {
				return -1
			}
		}
	}
	return len(m.colours) - len(n.colours)
}

func (s Swatch) usable() bool {
	const bound = 1000 // no colour lies near; products of such stay finite
	return s.Weight > 0 && s.Weight <= math.MaxFloat64 &&
		math.Abs(s.Lab.L) <= bound && math.Abs(s.Lab.A) <= bound && math.Abs(s.Lab.B) <= bound
}

// Common lists the colours that two pictures have in common, up to so many ΔE00
// apart, those first that speak most for a relation; each swatch at most once.
// Empty where there are none, or a palette holds no usable swatch (see Distance).
//
// The Strength is our own measure: e^−(ΔE00/10)², for beyond about 10 nobody calls
// two colours the same; times the square root of the two weights' geometric mean,
// so that a colour must count in both pictures but a large sky does not silence a
// small shared red; times 0.3 for greys rising to 1 at a chroma of 30, for two
// pictures always share some grey.
func Common(p, q Palette, within float64) []Echo {
	var all []Echo
	for _, x := range p {
		for _, y := range q {
			if !x.usable() || !y.usable() {
				continue
			}
			if d := DeltaE00(x.Lab, y.Lab); d <= within {
				chroma := min((x.Lab.Chroma()+y.Lab.Chroma())/2, 30)
				all = append(all, Echo{x, y, d, math.Exp(-d*d/100) * math.Sqrt(math.Sqrt(x.Weight)*math.Sqrt(y.Weight)) * (0.3 + 0.7*chroma/30)})
			}
		}
	}
	slices.SortStableFunc(all, func(e, f Echo) int {
		return cmp.Or(cmp.Compare(f.Strength, e.Strength), cmp.Compare(e.Apart, f.Apart))
	})
	var common []Echo
	for _, e := range all {
		if !slices.ContainsFunc(common, func(f Echo) bool { return f.One == e.One || f.Other == e.Other }) {
			common = append(common, e)
		}
	}
	return common
}
