package pairing

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

// Ordering says what the spreads of an arrangement follow each other by.
type Ordering string

// The orderings there are.
const (
	// Fitting takes ByDay when more than half of the spreads know their day, else
	// places by the shortest way when more than half know theirs, else ByColour.
	Fitting Ordering = ""
	// ByDay goes by day, and within a day so that colours flow.
	ByDay Ordering = "day"
	// ByPlace goes from place to place in the order visited, and at each so that
	// colours flow.
	ByPlace Ordering = "place"
	// ByColour is one flowing line of colour through all spreads.
	ByColour Ordering = "colour"
	// ByLight is one flowing line of light and dark through all spreads.
	ByLight Ordering = "light"
)

// Orderings lists the orderings there are.
func Orderings() []Ordering { return []Ordering{Fitting, ByDay, ByPlace, ByColour, ByLight} }

// ChapterPhotos is a run of spreads that the maker named, by the photos on it. Spreads
// of one chapter stay together, and chapters follow each other as listed, those of
// none at the end.
type ChapterPhotos struct {
	Chapter sequence.ChapterID // 0 for none of the wall's
	Photos  []sequence.PhotoID
}

// ChaptersOf lists the chapters of a wall in reading order, with their photos.
func ChaptersOf(seq sequence.Sequence) []ChapterPhotos {
	var list []ChapterPhotos
	for _, s := range seq.Spreads {
		if s.Chapter == 0 {
			continue
		}
		if n := len(list); n == 0 || list[n-1].Chapter != s.Chapter {
			list = append(list, ChapterPhotos{Chapter: s.Chapter})
		}
		for _, id := range []sequence.PhotoID{s.Left, s.Right} {
			if id != 0 {
				list[len(list)-1].Photos = append(list[len(list)-1].Photos, id)
			}
		}
	}
	return list
}

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

// none stands where there is no unit.
const none = -1

// A flow is the work of putting units in order; they go by their index.
type flow struct {
	m       *Measures
	units   []unit
	n       int     // how many of them are to be put in order; the rest stands fast
	before  int     // the unit that the first follows, or none
	steps   []int64 // by pair of units: one more than colourStep, 0 where not yet asked for
	looks   []int   // by unit: the number of its look, -1 for none
	chapter []int   // by unit: its chapter from 1, 0 for none
	first   int     // the unit that is to begin, or none
	last    int     // the unit that is to end, or none

	ordering     Ordering
	chapters     []ChapterPhotos
	pinned       map[int]int // place on the wall to unit, of spreads that stay
	aroundPinned bool        // whether follow has put the pinned spreads in
}

// flow prepares the ordering of an arrangement.
func (a *arrangement) flow() *flow {
	units := a.units()
	f := &flow{m: a.m, units: units, n: len(units), before: none, first: none, last: none,
		ordering: a.plan.Ordering, chapters: a.plan.Chapters, pinned: make(map[int]int)}
	for k, u := range units {
		for _, i := range u.photos {
			switch id := a.m.photos[i].Number; id {
			case a.plan.First:
				f.first = k
			case a.plan.Last:
				f.last = k
			}
		}
	}
	if f.first == f.last {
		f.last = none
	}
	if a.scope == Table {
		if u := a.lastOnWall(); u != nil {
			f.before = len(f.units)
			f.units = append(f.units, *u)
		}
	} else {
		f.pin(a.seq.Spreads)
	}
	f.steps = make([]int64, len(f.units)*len(f.units))
	f.setLooks()
	f.chapter = make([]int, len(f.units))
	for k, u := range f.units {
		for _, i := range u.photos {
			if c := a.chapter[a.m.photos[i].Number]; c > 0 && f.chapter[k] == 0 {
				f.chapter[k] = c
			}
		}
	}
	return f
}

// pin notes where pinned spreads stand, or must come to stand: one beyond the new
// length moves up as little as it must.
func (f *flow) pin(wall []sequence.Spread) {
	var at []int
	for i, s := range wall {
		if s.Pinned {
			at = append(at, i)
		}
	}
	length := f.n + len(at)
	for k, i := range at {
		f.pinned[min(i, length-len(at)+k)] = len(f.units)
		f.units = append(f.units, f.m.unitOf(wall[i]))
	}
}

// setLooks gives each unit the number of the look that its photos share.
func (f *flow) setLooks() {
	numbers := make(map[string]int)
	f.looks = make([]int, len(f.units))
	for k, u := range f.units {
		f.looks[k] = -1
		for j, i := range u.photos {
			look := f.m.title.Look(i)
			if _, met := numbers[look]; !met {
				numbers[look] = len(numbers)
			}
			if look == "" || j > 0 && f.looks[k] != numbers[look] {
				f.looks[k] = -1
				break
			}
			f.looks[k] = numbers[look]
		}
	}
}

// follow puts the units in an order in which each follows well on the one before,
// the first on before if there is one, and says in a clause what the order goes by.
//
// No more than mostOfOneLook spreads of one look stand on end where another step
// costs little more, and the loudest does not come first. Units that do not know
// what the order goes by are put in, one after the other, where colours suffer
// least.
func (f *flow) follow() ([]unit, string) {
	all := make([]int, f.n)
	for i := range all {
		all[i] = i
	}
	var order []int
	var rule string
	if len(f.chapters) == 0 {
		order, rule = f.order(all, f.before)
	} else {
		order, rule = f.byChapter(all)
	}
	if !f.aroundPinned {
		order = f.withEnds(order)
	}
	ordered := make([]unit, len(order))
	for k, i := range order {
		ordered[k] = f.units[i]
	}
	return ordered, rule
}

// byChapter orders the units of each chapter by themselves.
func (f *flow) byChapter(all []int) (order []int, rule string) {
	before := f.before
	for c := 1; c <= len(f.chapters)+1; c++ {
		in, rest := divide(all, func(i int) bool { return f.chapter[i] == c })
		if c > len(f.chapters) {
			in = rest
		}
		all = rest
		if len(in) == 0 {
			continue
		}
		part, by := f.order(in, before)
		order = append(order, part...)
		before = order[len(order)-1]
		rule = "by chapter, in each " + by
	}
	return order, cmp.Or(rule, "by chapter")
}

// order orders some of the units, the first following before.
func (f *flow) order(units []int, before int) ([]int, string) {
	switch f.ordering {
	case ByDay:
		dated, undated := f.dated(units)
		return f.fit(f.byDay(dated, before), undated, before), "by day and within a day by colour"
	case ByPlace:
		placed, unplaced := divide(units, f.placed)
		return f.fit(f.byPlace(placed, before), unplaced, before), "by place in the order visited and at each place by colour"
	case ByColour:
		return f.line(units, before, f.colourStep), "so that the colours of neighbours differ least"
	case ByLight:
		return f.line(units, before, f.lightStep), "so that the light of neighbours differs least"
	}
	if dated, undated := f.dated(units); len(dated) > len(undated) {
		return f.fit(f.byDay(dated, before), undated, before), "by day and within a day by colour"
	}
	if placed, unplaced := divide(units, f.placed); len(placed) > len(unplaced) {
		from := before
		if from != none && !f.placed(from) {
			from = none
		}
		return f.fit(f.walk(placed, from, f.placeStep), unplaced, before), "by the shortest way from place to place"
	}
	return f.line(units, before, f.colourStep), "so that the colours of neighbours differ least"
}

func (f *flow) dated(units []int) (dated, undated []int) {
	return divide(units, func(i int) bool { _, ok := f.day(i); return ok })
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
func (f *flow) byDay(units []int, before int) []int {
	days := make(map[int64][]int)
	for _, i := range units {
		day, _ := f.day(i)
		days[day] = append(days[day], i)
	}
	ordered := make([]int, 0, len(units))
	for _, day := range slices.Sorted(maps.Keys(days)) {
		ordered = append(ordered, f.walk(days[day], before, f.colourStep)...)
		before = ordered[len(ordered)-1]
	}
	return ordered
}

// day returns the earliest calendar day that a photo of the unit is known to
// have been taken on.
func (f *flow) day(u int) (day int64, ok bool) {
	for _, i := range f.units[u].photos {
		taken := f.m.photos[i].Taken
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

// moment is the earliest time that a photo of the unit is known by.
func (f *flow) moment(u int) (at int64, ok bool) {
	for _, i := range f.units[u].photos {
		if taken := f.m.photos[i].Taken; taken.CountsAsTaken() {
			if t := taken.From.Unix(); !ok || t < at {
				at, ok = t, true
			}
		}
	}
	return at, ok
}

func (f *flow) placed(u int) bool {
	return slices.ContainsFunc(f.units[u].photos, func(i int) bool { return f.m.title.Knows(placeRow, i) })
}

// fit puts each of rest in where it lengthens the way by colour least.
func (f *flow) fit(ordered, rest []int, before int) []int {
	for _, u := range rest {
		bestAt, bestCost := 0, int64(math.MaxInt64)
		for at := range len(ordered) + 1 {
			prev, next := before, none
			if at > 0 {
				prev = ordered[at-1]
			}
			if at < len(ordered) {
				next = ordered[at]
			}
			if cost := f.detour(prev, u, next); cost < bestCost {
				bestAt, bestCost = at, cost
			}
		}
		ordered = slices.Insert(ordered, bestAt, u)
	}
	return ordered
}

// detour is what u costs between two neighbours, of which either may be none.
func (f *flow) detour(prev, u, next int) (cost int64) {
	if prev != none {
		cost += f.colourStep(prev, u)
	}
	if next != none {
		cost += f.colourStep(u, next)
	}
	if prev != none && next != none {
		cost -= f.colourStep(prev, next)
	}
	return cost
}

// withEnds takes the units that are to begin and to end out of an order and puts
// them there.
func (f *flow) withEnds(order []int) []int {
	for end, u := range map[bool]int{true: f.first, false: f.last} {
		at := slices.Index(order, u)
		if at < 0 {
			continue
		}
		order = slices.Delete(order, at, at+1)
		if end {
			order = slices.Insert(order, 0, u)
		} else {
			order = append(order, u)
		}
	}
	return order
}
