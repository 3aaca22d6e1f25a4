package evidence

import (
	"cmp"
	"math"
	"slices"
)

// A scale turns measures of one kind into scores, by what is near and far within
// the title.
//
// The score of a measure m is 1 − ln(1 + m/near) / ln(1 + far/near), and 0 from
// far on. near is the measure that only one in twenty pairs of the title stays
// below, far the one that only one in twenty exceeds. So the score falls by
// about as much from one street to the next as from one town to the next: by
// equal steps for equal ratios once beyond near. The form is our own; quantiles
// of all pairs, unlike distances to the nearest neighbour, do not shrink as
// photos are added.
type scale struct {
	near, far float64
	perLog    float64 // 1 / ln(1 + far/near)
	measure   float64 // between two photos of the title on average
}

const (
	nearShare = 0.05
	farShare  = 0.95
	// sampled bounds the photos whose pairs a scale is made from: 8,128 pairs
	// fix a one-in-twenty quantile far better than its use asks for.
	sampled = 128
)

// newScale makes a scale from measured pairs; least is the finest near allowed.
func newScale(measures []float64, least float64) scale {
	s := scale{near: least, far: 2 * least}
	if len(measures) > 0 {
		sorted := slices.Sorted(slices.Values(measures))
		s.near = max(least, quantile(sorted, nearShare))
		// Where all lies at one distance there is no far; twice near keeps
		// the formula going.
		s.far = max(2*s.near, quantile(sorted, farShare))
	}
	s.perLog = 1 / math.Log1p(s.far/s.near)
	if len(measures) == 0 {
		s.measure = s.near
	}
	for _, m := range measures {
		s.measure += m / float64(len(measures))
	}
	return s
}

// rate returns the score of a measure, 0..1.
func (s scale) rate(measure float64) float64 {
	if measure >= s.far {
		return 0
	}
	return 1 - math.Log1p(measure/s.near)*s.perLog
}

// quantile is by nearest rank.
func quantile(sorted []float64, share float64) float64 {
	return sorted[max(0, int(math.Ceil(share*float64(len(sorted))))-1)]
}

// sample picks at most so many of the photos, the same ones as far as can be when
// photos are added: those whose numbers, scattered by the finaliser of
// MurmurHash3 (A. Appleby, public domain), come out lowest.
func (t *Title) sample(known func(i int) bool) []int {
	type drawn struct {
		lot uint64
		i   int
	}
	var list []drawn
	for i, s := range t.subjects {
		if known(i) {
			list = append(list, drawn{scattered(uint64(s.number)), i})
		}
	}
	slices.SortFunc(list, func(x, y drawn) int { return cmp.Or(cmp.Compare(x.lot, y.lot), cmp.Compare(x.i, y.i)) })
	picked := make([]int, min(sampled, len(list)))
	for k := range picked {
		picked[k] = list[k].i
	}
	return picked
}

func scattered(k uint64) uint64 {
	k ^= k >> 33
	k *= 0xff51afd7ed558ccd
	k ^= k >> 33
	k *= 0xc4ceb9fe1a85ec53
	return k ^ k>>33
}
