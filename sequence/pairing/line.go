package pairing

import (
	"cmp"
	"math"
	"slices"

	"pairwall/sequence/pairing/crew"
	"pairwall/sequence/pairing/evidence"
	"pairwall/sequence/pairing/route"
)

// mostOfOneLook is how many spreads of one look on end are no long run yet. Common
// practice knows no figure.
const mostOfOneLook = 4

// step is the cost of following one unit with another.
type step func(x, y int) int64

// walk orders units so that the steps between neighbours, from before on, are
// cheapest in sum.
func (f *flow) walk(units []int, before int, cost step) []int {
	if before != none {
		units = append([]int{before}, units...)
	}
	t := f.task(units, cost)
	if before != none {
		t.First = 0
	}
	ordered := pick(units, route.Order(t))
	if before != none {
		return ordered[1:]
	}
	return ordered
}

// line is walk over all at once: a flow through the pinned spreads as well, with
// the ends where the maker wants them.
func (f *flow) line(units []int, before int, cost step) []int {
	if len(f.chapters) > 0 {
		return f.walk(units, before, cost)
	}
	all := slices.Clone(units)
	if before != none {
		all = append([]int{before}, all...)
	}
	for _, u := range f.pinned {
		all = append(all, u)
	}
	slices.Sort(all[len(all)-len(f.pinned):]) // not in the map's order
	t := f.task(all, cost)
	t.Held = make([]int, len(all))
	for at := range t.Held {
		t.Held[at] = route.Free
		if u, ok := f.pinned[at]; ok {
			t.Held[at] = slices.Index(all, u)
		}
	}
	begin := 0
	if before != none {
		t.Held[0], begin = 0, 1
	}
	f.holdEnds(t.Held, all, begin)
	ordered := pick(all, route.Order(t))
	f.aroundPinned = len(f.pinned) > 0
	return ordered[begin:]
}

// holdEnds holds the units that are to begin and end, where the place is free.
func (f *flow) holdEnds(held, all []int, begin int) {
	if end := len(held) - 1; end >= begin && f.first != none && held[begin] == route.Free {
		held[begin] = slices.Index(all, f.first)
	}
	if end := len(held) - 1; end > begin && f.last != none && held[end] == route.Free {
		held[end] = slices.Index(all, f.last)
	}
}

// task is the order asked of package route. The step that a long run or a loud
// beginning is worth is the mean step.
func (f *flow) task(units []int, cost step) route.Task {
	n := len(units)
	costs := make([]int64, n*n)
	crew.Share(n, func(from, to int) {
		for j := from; j < to; j++ {
			for i := range j {
				costs[j*n+i] = cost(units[i], units[j])
			}
		}
	})
	t := route.Task{Points: n, First: route.Free, Last: route.Free,
		Step:      func(i, j int) int64 { return costs[max(i, j)*n+min(i, j)] },
		MostInRow: mostOfOneLook, Class: make([]int, len(units)), Shy: make([]bool, len(units))}
	loudest, loud := none, 0.0
	for k, u := range units {
		t.Class[k] = f.looks[u]
		for _, i := range f.units[u].photos {
			if l := f.m.title.Loud(i); l > loud {
				loudest, loud = k, l
			}
		}
	}
	if f.before == none && loudest >= 0 && len(units) > 1 {
		t.Shy[loudest] = true
	}
	t.RunCost = meanCost(costs, n)
	t.ShyCost = t.RunCost
	return t
}

// meanCost is the mean of the steps between all points.
func meanCost(costs []int64, n int) int64 {
	if n < 2 {
		return 0
	}
	sum := 0.0
	for _, c := range costs {
		sum += float64(c)
	}
	return int64(sum / float64(n*(n-1)/2))
}

func pick(units, order []int) []int {
	ordered := make([]int, len(order))
	for k, i := range order {
		ordered[k] = units[i]
	}
	return ordered
}

// byPlace orders units that know their place: they gather in clusters, within
// which each lies no farther than what is near in this title from the next; the
// clusters follow by when they were first visited, those that do not know behind,
// by the shortest way.
func (f *flow) byPlace(units []int, before int) []int {
	clusters := f.clusters(units)
	var timed, untimed [][]int
	for _, c := range clusters {
		if _, ok := f.visited(c); ok {
			timed = append(timed, c)
		} else {
			untimed = append(untimed, c)
		}
	}
	slices.SortStableFunc(timed, func(x, y []int) int {
		one, _ := f.visited(x)
		other, _ := f.visited(y)
		return cmp.Compare(one, other)
	})
	heads := make([]int, len(untimed))
	for k, c := range untimed {
		heads[k] = c[0]
	}
	from := none
	if len(timed) > 0 {
		from = timed[len(timed)-1][0]
	}
	for _, head := range f.walk(heads, from, f.placeStep) {
		timed = append(timed, untimed[slices.Index(heads, head)])
	}
	var ordered []int
	for _, c := range timed {
		ordered = append(ordered, f.walk(c, before, f.colourStep)...)
		before = ordered[len(ordered)-1]
	}
	return ordered
}

// visited is when a cluster was first visited.
func (f *flow) visited(cluster []int) (at int64, ok bool) {
	for _, u := range cluster {
		if t, known := f.moment(u); known && (!ok || t < at) {
			at, ok = t, true
		}
	}
	return at, ok
}

// clusters joins units that lie near each other, step by step.
func (f *flow) clusters(units []int) [][]int {
	near := f.m.title.Near(distRow)
	var clusters [][]int
	loose := slices.Clone(units)
	for len(loose) > 0 {
		cluster := []int{loose[0]}
		loose = loose[1:]
		for k := 0; k < len(cluster); k++ {
			joining, rest := divide(loose, func(u int) bool {
				apart, ok := f.apart(distRow, cluster[k], u)
				return ok && apart <= near
			})
			cluster, loose = append(cluster, joining...), rest
		}
		clusters = append(clusters, cluster)
	}
	return clusters
}

// colourStep is the mean distance between the palettes of two units' photos, in
// hundredths of ΔE00; the title's mean where there are none to compare.
func (f *flow) colourStep(x, y int) int64 {
	known := &f.steps[max(x, y)*len(f.units)+min(x, y)]
	if *known == 0 {
		*known = 1 + f.hundredths(worldRow, x, y)
	}
	return *known - 1
}

// lightStep is the mean distance between the tones of two units' photos, in
// hundredths of L*; the title's mean where there are none to compare.
func (f *flow) lightStep(x, y int) int64 { return f.hundredths(toneRow, x, y) }

func (f *flow) hundredths(row evidence.Row, x, y int) int64 {
	apart, ok := f.apart(row, x, y)
	if !ok {
		apart = f.m.title.MeanMeasure(row)
	}
	return int64(math.Round(100 * apart))
}

// placeStep is the mean distance between the places of two units in blocks of
// samePlace, and within one block colourStep. Both units must know their place.
func (f *flow) placeStep(x, y int) int64 {
	const (
		samePlace = 50.0        // m
		block     = 100_000_000 // more than all colour steps of a long wall together
	)
	apart, _ := f.apart(distRow, x, y)
	return int64(math.Round(apart/samePlace))*block + f.colourStep(x, y)
}

// apart is the mean measure of one relation between the photos of two units.
func (f *flow) apart(row evidence.Row, x, y int) (mean float64, ok bool) {
	sum, pairs := 0.0, 0
	for _, i := range f.units[x].photos {
		for _, j := range f.units[y].photos {
			if i != j && f.m.title.Known(row, i, j) {
				sum += f.m.title.Measure(row, min(i, j), max(i, j))
				pairs++
			}
		}
	}
	if pairs == 0 {
		return 0, false
	}
	return sum / float64(pairs), true
}
