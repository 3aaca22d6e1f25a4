package gazetteer

import (
	"math"
	"strings"

	"pairwall/sequence/place"
)

// How far from its middle a town still is that town; choices of this package.
const (
	peoplePerKm2 = 3000.0 // about as dense as built-up Europe (from memory)
	leastReach   = 1500.0 // metres
	mostReach    = 15_000.0
)

// reach is the radius in metres of a disc on which so many people live.
func reach(people int32) float64 {
	return max(leastReach, min(mostReach, 1000*math.Sqrt(float64(people)/(math.Pi*peoplePerKm2))))
}

// Label says where p is by the towns around it: "Piran, Slovenia", or "12 km
// north-west of Šibenik, Croatia". The rules, in this order:
//
//  1. The nearest town, if p is within its reach: the radius of a disc with
//     3,000 people on a square kilometre, at least 1.5 and at most 15 km.
//  2. The most populous town whose reach p is in.
//  3. The most populous town at most twice as far away as the nearest, with
//     distance and direction from it.
//
// Rules 2 and 3 keep to the nearest town's country, so that a large town does
// not pull a place over the border; only deep inside its reach, within half of
// it, does another country's town count, as round a state within a city. The
// country named is the town's: where the border runs the table does not know,
// nor where the shore is. "" when p is no position.
func Label(p place.LatLng) string {
	if !p.Valid() {
		return ""
	}
	t := towns()
	nearest, metres := t.nearest(p)
	switch {
	case nearest < 0:
		return ""
	case metres <= reach(t.people[nearest]):
		return t.called(nearest)
	}
	around, known := t.larger(p, nearest, metres)
	if around >= 0 {
		return t.called(around)
	}
	from := t.position(known)
	far := strings.TrimSuffix(place.DistanceWords(place.Distance(from, p)), " apart")
	return far + " " + place.CompassWord(place.Direction(from, p)) + " of " + t.called(known)
}

// larger finds the towns of rules 2 and 3 for a nearest town so many metres
// away; around is −1 when p is within no town's reach.
func (t *table) larger(p place.LatLng, nearest int, metres float64) (around, known int) {
	around, known = -1, nearest
	limit := max(2*metres, mostReach)
	t.sweep(p, func(i int, through float64) float64 {
		within := func(m float64) bool { return through <= m && place.Distance(p, t.position(i)) <= m }
		abroad, counts := t.country[i] != t.country[nearest], reach(t.people[i])
		if abroad {
			counts /= 2
		}
		if (around < 0 || t.people[i] > t.people[around]) && within(counts) {
			around = i
		}
		if !abroad && t.people[i] > t.people[known] && within(2*metres) {
			known = i
		}
		return limit
	})
	return around, known
}

func (t *table) called(i int) string {
	return t.name(i) + ", " + t.countries[t.country[i]]
}
