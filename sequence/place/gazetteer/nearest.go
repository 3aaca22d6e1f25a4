package gazetteer

import (
	"math"
	"sort"

	"pairwall/sequence/place"
)

// vector is a position in metres from the earth's centre.
type vector struct{ x, y, z float64 }

// inSpace puts p on the WGS84 ellipsoid (NIMA TR8350.2, third edition: axes in
// table 3.1).
func inSpace(p place.LatLng) vector {
	const (
		equatorial = 6378137.0
		flattening = 1 / 298.257223563
		ratio2     = (1 - flattening) * (1 - flattening)
	)
	sin, cos := math.Sincos(p.Lat * (math.Pi / 180))
	sinL, cosL := math.Sincos(p.Lng * (math.Pi / 180))
	n := equatorial / math.Sqrt(1-(1-ratio2)*sin*sin)
	return vector{n * cos * cosL, n * cos * sinL, n * ratio2 * sin}
}

// through is the length of the straight way from v to w, through the ground.
func (v vector) through(w vector) float64 {
	x, y, z := v.x-w.x, v.y-w.y, v.z-w.z
	return math.Sqrt(x*x + y*y + z*z)
}

// Nearest is the town whose middle lies nearest to p on the ellipsoid, and how
// far that is; of two equally near, the one with more people. It does not weigh
// size: Label does. ok is false when p is no position (see place.LatLng.Valid).
func Nearest(p place.LatLng) (t Town, metres float64, ok bool) {
	if !p.Valid() {
		return Town{}, 0, false
	}
	all := towns()
	i, metres := all.nearest(p)
	if i < 0 {
		return Town{}, 0, false
	}
	return all.town(i), metres, true
}

// nearest is the index of the nearest town, −1 in an empty table.
func (t *table) nearest(p place.LatLng) (best int, metres float64) {
	best, metres = -1, math.Inf(1)
	t.sweep(p, func(i int, _ float64) float64 {
		d := place.Distance(p, t.position(i))
		if d < metres || d == metres && t.people[i] > t.people[best] {
			best, metres = i, d
		}
		return metres
	})
	return best, metres
}

// sweep visits every town that may lie within reach of p, in no promised order;
// visit gets the length of the straight way to it through the ground and returns
// how far, in metres, the next ones may lie. It is exact everywhere, poles and
// date line included, because it works in space: a straight line through the
// ground is never longer than the way over it, and never shorter than the
// difference of the two points' heights above the equator's plane. By those
// heights the towns are ordered, so the sweep runs from p's own outward both ways
// and stops where that difference alone is already too long.
//
// O(towns in the belt of that width): some hundreds on land, tens of thousands
// in mid-ocean, each a few nanoseconds.
func (t *table) sweep(p place.LatLng, visit func(i int, through float64) float64) {
	const slack = 1e-3 // metres, for rounding here and in the distance
	here, reach := inSpace(p), math.Inf(1)
	up := sort.Search(len(t.space), func(i int) bool { return t.space[i].z >= here.z })
	down := up - 1
	for {
		above, below := math.Inf(1), math.Inf(1)
		if up < len(t.space) {
			above = t.space[up].z - here.z
		}
		if down >= 0 {
			below = here.z - t.space[down].z
		}
		if min(above, below) > reach+slack || math.IsInf(min(above, below), 1) {
			return
		}
		next := up
		if below < above {
			next = down
			down--
		} else {
			up++
		}
		if through := here.through(t.space[next]); through <= reach+slack {
			reach = visit(next, through)
		}
	}
}
