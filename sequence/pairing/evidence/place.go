package evidence

import (
	"math"

	"pairwall/sequence/place"
)

func placed(t *Title, i int) bool   { return t.subjects[i].placed() }
func named(t *Title, i int) bool    { return t.subjects[i].town != "" }
func onTheWay(t *Title, i int) bool { return !math.IsNaN(t.setting.along[i]) }

// readDistance measures how far apart two photos were taken, in metres.
//
// Where a position is only known within a radius, the measure is the root of the
// summed squares of the distance and both radii: about how far apart they are,
// rather than how near they could be.
func readDistance(t *Title, a, b int) reading {
	p, q := t.subjects[a], t.subjects[b]
	d := t.metres(a, b)
	if blur := math.Hypot(p.radius, q.radius); blur > 0 {
		return reading{measure: math.Hypot(d, blur)}
	}
	return reading{measure: d}
}

func (t *Title) metres(a, b int) float64 {
	return t.distances.at(a, b, func() float64 { return place.Distance(t.subjects[a].where, t.subjects[b].where) })
}

// distanceWords names the distance, or, where the radii make up most of it, the
// most it can be.
func distanceWords(t *Title, a, b int, _ reading) string {
	p, q := t.subjects[a], t.subjects[b]
	d, blur := t.metres(a, b), p.radius+q.radius
	const street = 50 // what a phone's position is worth between houses
	if blur <= max(street, d/4) {
		return place.DistanceWords(d)
	}
	return "at most " + place.DistanceWords(d+blur)
}

func readTown(t *Title, a, b int) reading {
	if t.subjects[a].town == t.subjects[b].town {
		return reading{score: t.setting.rareTown}
	}
	return reading{measure: 1}
}

func townWords(t *Title, a, b int, _ reading) string {
	if town := t.subjects[a].town; town == t.subjects[b].town {
		return "both in " + town
	}
	return ""
}

func readStretch(t *Title, a, b int) reading {
	return reading{measure: math.Abs(t.setting.along[a] - t.setting.along[b])}
}

func stretchWords(t *Title, _, _ int, r reading) string {
	if t.scales[stretchRow].rate(r.measure) < telling {
		return ""
	}
	return "on the same stretch of the way"
}
