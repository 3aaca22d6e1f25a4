package pairing

import (
	"maps"
	"math"
	"slices"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/pairing/route"
	"pairwall/sequence/place"
)

// A unit is a spread to be put in order, with its photos as indices.
type unit struct {
	spread sequence.Spread
	photos []int
}

// unitOf leaves out photos the title does not know.
func (m *Measures) unitOf(s sequence.Spread) unit {
	u := unit{spread: s}
	for _, id := range []sequence.PhotoID{s.Left, s.Right} {
		if i, ok := m.index[id]; ok && id != 0 {
			u.photos = append(u.photos, i)
		}
	}
	return u
}

// follow puts units in an order in which each follows well on the one before,
// the first on before if that is not nil, and says what the order goes by.
//
// When more than half know their day: by day, the earlier of the two photos'
// counting, and within a day so that the palettes of neighbours differ least in
// sum. Else, when more than half know their place: so that the steps between
// neighbours, in blocks of samePlace, are shortest in sum, and among equals the
// palettes' differences. Else by the palettes alone. Units that do not know
// what the order goes by are then put in, one after the other, where the
// palettes suffer least.
func (m *Measures) follow(units []unit, before *unit) ([]unit, Kind) {
	w := &walker{m: m, units: units, before: none}
	if before != nil {
		w.before = len(units)
		w.units = append(slices.Clone(units), *before)
	}
	w.steps = make([]int64, len(w.units)*len(w.units))
	order, lead := w.order(len(units))
	ordered := make([]unit, len(order))
	for k, i := range order {
		ordered[k] = units[i]
	}
	return ordered, lead
}

// none stands where there is no unit.
const none = -1

// A walker finds an order; units go by their index.
type walker struct {
	m      *Measures
	units  []unit
	before int     // the unit that the first follows, or none
	steps  []int64 // by pair of units: one more than colourStep, 0 where not yet asked for
}

func (w *walker) order(n int) ([]int, Kind) {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	dated, undated := divide(all, func(i int) bool { _, ok := w.day(i); return ok })
	if len(dated) > len(undated) {
		return w.fit(w.byDay(dated), undated), Time
	}
	placed, unplaced := divide(all, w.placed)
	if len(placed) > len(unplaced) {
		before := w.before
		if before != none && !w.placed(before) {
			before = none
		}
		return w.fit(walk(placed, before, w.placeStep), unplaced), Place
	}
	onAllCores(len(w.units), func(from, to int) {
		for i := from; i < to; i++ {
			for j := range i {
				w.colourStep(i, j)
			}
		}
	})
	return walk(all, w.before, w.colourStep), Colour
}

func divide(list []int, keep func(int) bool) (kept, rest []int) {
	for _, i := range list {
		if keep(i) {
			kept = append(kept, i)
		} else {
			rest = append(rest, i)
		}
	}
	return kept, rest
}

// byDay orders units that know their day.
func (w *walker) byDay(units []int) []int {
	days := make(map[int64][]int)
	for _, i := range units {
		day, _ := w.day(i)
		days[day] = append(days[day], i)
	}
	ordered := make([]int, 0, len(units))
	before := w.before
	for _, day := range slices.Sorted(maps.Keys(days)) {
		ordered = append(ordered, walk(days[day], before, w.colourStep)...)
		before = ordered[len(ordered)-1]
	}
	return ordered
}

// day returns the earliest calendar day that a photo of the unit is known to
// have been taken on.
func (w *walker) day(u int) (day int64, ok bool) {
	for _, i := range w.units[u].photos {
		taken := w.m.photos[i].Taken
		if !taken.CountsAsTaken() || taken.Precision == place.PrecisionSpan {
			continue
		}
		const seconds = 24 * 60 * 60
		if d := int64(math.Floor(float64(taken.From.Unix()) / seconds)); !ok || d < day {
			day, ok = d, true
		}
	}
	return day, ok
}

func (w *walker) placed(u int) bool {
	return slices.ContainsFunc(w.units[u].photos, w.m.gauges[placeRow].knows)
}

// walk orders units so that the steps between neighbours, from before on, are
// cheapest in sum.
func walk(units []int, before int, step func(x, y int) int64) []int {
	first := route.Free
	if before != none {
		units = append([]int{before}, units...)
		first = 0
	}
	order := route.Path(len(units), func(i, j int) int64 { return step(units[i], units[j]) }, first, route.Free)
	ordered := make([]int, len(order))
	for k, i := range order {
		ordered[k] = units[i]
	}
	if before != none {
		return ordered[1:]
	}
	return ordered
}

// fit puts each of rest in where it lengthens the way by colour least.
func (w *walker) fit(ordered, rest []int) []int {
	for _, u := range rest {
		bestAt, bestCost := 0, int64(math.MaxInt64)
		for at := range len(ordered) + 1 {
			prev, next := w.before, none
			if at > 0 {
				prev = ordered[at-1]
			}
			if at < len(ordered) {
				next = ordered[at]
			}
			if cost := w.detour(prev, u, next); cost < bestCost {
				bestAt, bestCost = at, cost
			}
		}
		ordered = slices.Insert(ordered, bestAt, u)
	}
	return ordered
}

// detour is what u costs between two neighbours, of which either may be none.
func (w *walker) detour(prev, u, next int) (cost int64) {
	if prev != none {
		cost += w.colourStep(prev, u)
	}
	if next != none {
		cost += w.colourStep(u, next)
	}
	if prev != none && next != none {
		cost -= w.colourStep(prev, next)
	}
	return cost
}

// colourStep is the mean distance between the palettes of two units' photos, in
// hundredths of ΔE00; the title's mean where there are none to compare.
func (w *walker) colourStep(x, y int) int64 {
	known := &w.steps[max(x, y)*len(w.units)+min(x, y)]
	if *known == 0 {
		apart, ok := w.apart(colourRow, x, y)
		if !ok {
			apart = w.m.scales[colourRow].measure
		}
		*known = 1 + int64(math.Round(100*apart))
	}
	return *known - 1
}

// placeStep is the mean distance between the places of two units in blocks of
// samePlace, and within one block colourStep. Both units must know their place.
func (w *walker) placeStep(x, y int) int64 {
	const block = 100_000_000 // more than all colour steps of a long wall together
	apart, _ := w.apart(placeRow, x, y)
	return int64(math.Round(apart/samePlace))*block + w.colourStep(x, y)
}

// apart is the mean measure of one kind between the photos of two units.
func (w *walker) apart(row, x, y int) (mean float64, ok bool) {
	sum, pairs := 0.0, 0
	for _, i := range w.units[x].photos {
		for _, j := range w.units[y].photos {
			if w.m.known(row, i, j) {
				sum += w.m.gauges[row].measure(min(i, j), max(i, j))
				pairs++
			}
		}
	}
	if pairs == 0 {
		return 0, false
	}
	return sum / float64(pairs), true
}

// earlier reports whether p was surely taken before q.
func earlier(p, q place.When) bool {
	gap, ok := place.Gap(p, q)
	if !ok || gap == 0 {
		return false
	}
	from, to := p.From, q.From
	if p.Offset != nil && q.Offset != nil {
		to = to.Add(time.Duration(*p.Offset-*q.Offset) * time.Minute) // on p's clock
	}
	return from.Before(to)
}
