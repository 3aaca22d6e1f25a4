package pairing

import (
	"slices"
	"time"

	"pairwall/sequence/place"
)

// Two pictures that say the same thing do not make a spread. A pair counts as
// nearly the same picture when it was taken within alikeTime and its palettes
// lie closer than alikeColour; or, where its times do not tell, when they lie
// closer than sameColour and its places are not known to differ. The figures
// are our own judgement, held against real photographs: two views of one street
// in Rome taken eight seconds apart, framed a little differently, lie 7.5
// apart; two scans of one frame lie within less than half.
const (
	alikeTime   = 10 * time.Second
	alikeColour = 8.0  // ΔE00
	sameColour  = 0.5  // ΔE00
	samePlace   = 50.0 // m

	// alikeKeeps is the part of its score that such a pair keeps.
	alikeKeeps = 0.25
)

var (
	placeRow  = rowOf(Place)
	colourRow = rowOf(Colour)
)

func rowOf(k Kind) int { return slices.Index(Kinds(), k) }

// alike reports whether a, b is nearly the same picture twice, whatever kinds
// count. What was measured for the verdict is not measured again.
func (m *Measures) alike(a, b int, shares []float64, v verdict) bool {
	p, q := m.photos[a].Taken, m.photos[b].Taken
	gap, timed := place.Gap(p, q)
	if !m.known(colourRow, a, b) || gap > alikeTime {
		return false
	}
	measured := func(row int) float64 {
		if shares[row] > 0 {
			return v.measures[row]
		}
		return m.gauges[row].measure(a, b)
	}
	if timed && p.Precision == place.PrecisionInstant && q.Precision == place.PrecisionInstant {
		return measured(colourRow) < alikeColour
	}
	return measured(colourRow) < sameColour &&
		(!m.known(placeRow, a, b) || measured(placeRow) <= samePlace)
}
