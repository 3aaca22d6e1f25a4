package sequence

import (
	"cmp"
	"slices"
)

// Pair is two photos that face each other, the smaller number first: which of
// them is left is a matter of the spread, not of the pair.
type Pair [2]PhotoID

// Pair is that of a spread on which two photos face each other.
func (s Spread) Pair() Pair { return Pair{min(s.Left, s.Right), max(s.Left, s.Right)} }

// Pairs lists the pairs of a sequence in reading order.
func (q Sequence) Pairs() []Pair {
	var pairs []Pair
	for _, s := range q.Spreads {
		if s.Paired() {
			pairs = append(pairs, s.Pair())
		}
	}
	return pairs
}

// Diff is what distinguishes a later sequence from an earlier one.
type Diff struct {
	Kept   []Pair    `json:"kept"`          // pairs in both
	Turned []Pair    `json:"turned"`        // those of Kept whose left and right have changed places
	Broken []Pair    `json:"broken"`        // pairs only in the earlier
	New    []Pair    `json:"new"`           // pairs only in the later
	Come   []PhotoID `json:"come"`          // photos on the later wall only
	Gone   []PhotoID `json:"gone"`          // photos on the earlier wall only
	Moved  int       `json:"moved"`         // fewest pairs or single photos one has to lift to explain the new order of those on both
	Lifted []Lift    `json:"lifted"`        // which those are, in their new order
	Tau    *float64  `json:"tau,omitempty"` // Kendall's rank correlation of the photos on both, -1..1; nil for fewer than two

	Begun    []Chapter `json:"begun,omitempty"`    // chapters only in the later
	Ended    []Chapter `json:"ended,omitempty"`    // chapters only in the earlier
	Renamed  []Chapter `json:"renamed,omitempty"`  // chapters in both, under their new names
	Reshaped []Chapter `json:"reshaped,omitempty"` // chapters in both that hold others of the photos on both walls
	Noted    int       `json:"noted,omitempty"`    // spreads with the same photos and another note
}

// Lift is one unit of the order that was taken out and put somewhere else: a
// kept pair, or a photo alone.
type Lift struct {
	Photos  []PhotoID `json:"photos"`
	Chapter string    `json:"chapter,omitempty"` // its name, when the units of a whole chapter were lifted and are told as one
	To      Whither   `json:"to"`
}

// Whither tells where a lifted unit went.
type Whither string

// Front and End count by the units on both walls; what came later does not.
const (
	Front   Whither = "front"
	Earlier Whither = "earlier"
	Later   Whither = "later"
	End     Whither = "end"
)

// Compare tells what changed from an earlier sequence to a later one. Order is
// compared by the photos on both walls; pages and spread numbers do not count.
// Time O(n log n + u²) in n photos and u units on both walls.
func Compare(earlier, later Sequence) Diff {
	var d Diff
	d.pairs(earlier, later)
	was, is := earlier.Wall(), later.Wall()
	d.Come, d.Gone = missingFrom(was, is), missingFrom(is, was)
	d.Lifted = lifts(earlier, later, d.Kept)
	d.Moved = len(d.Lifted)
	d.Lifted = together(earlier, later, d.Lifted)
	d.Tau = kendall(ranksOf(was, is))
	d.compareChapters(earlier, later)
	d.Noted = noted(earlier, later)
	return d
}

func (d *Diff) pairs(earlier, later Sequence) {
	before := make(map[Pair]PhotoID) // by the photo on the left
	for _, s := range earlier.Spreads {
		if s.Paired() {
			before[s.Pair()] = s.Left
		}
	}
	after := make(map[Pair]bool)
	for _, s := range later.Spreads {
		if !s.Paired() {
			continue
		}
		p := s.Pair()
		after[p] = true
		left, kept := before[p]
		if !kept {
			d.New = append(d.New, p)
		} else if left != s.Left {
			d.Turned = append(d.Turned, p)
		}
	}
	for _, p := range earlier.Pairs() {
		if after[p] {
			d.Kept = append(d.Kept, p)
		} else {
			d.Broken = append(d.Broken, p)
		}
	}
}

// missingFrom lists what is in these and not in those, in the order of these.
func missingFrom(those, these []PhotoID) []PhotoID {
	held := make(map[PhotoID]bool, len(those))
	for _, id := range those {
		held[id] = true
	}
	var list []PhotoID
	for _, id := range these {
		if !held[id] {
			list = append(list, id)
		}
	}
	return list
}

// ranksOf gives, for every one of is that is also in was, its place in was.
func ranksOf[T comparable](was, is []T) []int {
	place := make(map[T]int, len(was))
	for i, id := range was {
		place[id] = i
	}
	ranks := []int{}
	for _, id := range is {
		if i, both := place[id]; both {
			ranks = append(ranks, i)
		}
	}
	return ranks
}

// lifts lists the units (kept pairs, and other photos on both walls) that are
// not in a longest run keeping its order. No two of them are equal, so the
// longest common subsequence of both orders is a longest rising run of ranks,
// and lifting the others is the fewest moves that can explain the order: a move
// lengthens no such run by more than one. Of several such runs the one with
// most photos stays, for one says that a photo was moved past a pair rather
// than a pair past a photo; then the one that stays first.
func lifts(earlier, later Sequence, kept []Pair) []Lift {
	lead := make(map[PhotoID]PhotoID) // a kept pair moves as one: its smaller number stands for it
	other := make(map[PhotoID]PhotoID)
	for _, p := range kept {
		lead[p[1]], other[p[0]] = p[0], p[1]
	}
	units := func(q Sequence) []PhotoID {
		var list []PhotoID
		seen := make(map[PhotoID]bool)
		for _, id := range q.Wall() {
			if l, second := lead[id]; second {
				id = l
			}
			if !seen[id] {
				seen[id] = true
				list = append(list, id)
			}
		}
		return list
	}
	was := units(earlier)
	var both []PhotoID
	var weights []int
	for _, id := range units(later) {
		if slices.Contains(was, id) {
			both = append(both, id)
			weights = append(weights, 1)
			if other[id] != 0 {
				weights[len(weights)-1] = 2
			}
		}
	}
	ranks := ranksOf(was, both)
	stays := heaviestRising(ranks, weights)
	var list []Lift
	for i, id := range both {
		if stays[i] {
			continue
		}
		l := Lift{Photos: []PhotoID{id}, To: whither(i, ranks)}
		if o := other[id]; o != 0 {
			l.Photos = append(l.Photos, o)
		}
		list = append(list, l)
	}
	return list
}

// whither tells where the unit that is now at i went: ranks are the old places.
func whither(i int, ranks []int) Whither {
	before := 0 // its old place among the units on both walls
	for _, r := range ranks {
		if r < ranks[i] {
			before++
		}
	}
	switch {
	case i == 0 && before > 0:
		return Front
	case i == len(ranks)-1 && before < i:
		return End
	case i < before:
		return Earlier
	}
	return Later
}

// heaviestRising marks the places of a longest strictly rising subsequence; of
// several equally long ones that of the greatest weight, then the first. Time
// O(n²), which for a few hundred units is nothing.
func heaviestRising(values, weights []int) []bool {
	type run struct{ length, weight, next int }
	from := make([]run, len(values)) // the best run that begins here
	better := func(a, b run) bool {
		if c := cmp.Compare(a.length, b.length); c != 0 {
			return c > 0
		}
		return a.weight > b.weight
	}
	best := run{next: -1}
	for i := len(values) - 1; i >= 0; i-- {
		from[i] = run{1, weights[i], -1}
		for j := i + 1; j < len(values); j++ {
			if values[j] <= values[i] {
				continue
			}
			if with := (run{from[j].length + 1, from[j].weight + weights[i], j}); better(with, from[i]) {
				from[i] = with
			}
		}
		if here := (run{from[i].length, from[i].weight, i}); !better(best, here) {
			best = here
		}
	}
	marks := make([]bool, len(values))
	for i := best.next; i >= 0; i = from[i].next {
		marks[i] = true
	}
	return marks
}

// kendall is Kendall's tau of a sequence of different ranks against their
// rising order: the part of all couples that stand in the same order, less the
// part that stand in the other (M. G. Kendall, "A New Measure of Rank
// Correlation", Biometrika 30, 1938). Without ties tau-a, tau-b and tau-c are
// one. The couples in the other order are counted while sorting by merging, in
// O(n log n) (W. R. Knight, Journal of the American Statistical Association 61,
// 1966). It is nil for fewer than two ranks, of which there is no order.
func kendall(ranks []int) *float64 {
	n := len(ranks)
	if n < 2 {
		return nil
	}
	tau := 1 - 4*float64(inversions(slices.Clone(ranks), make([]int, n)))/(float64(n)*float64(n-1))
	return &tau
}

// inversions sorts values and returns how many couples stood in the wrong order.
func inversions(values, room []int) int {
	if len(values) < 2 {
		return 0
	}
	half := len(values) / 2
	left, right := values[:half], values[half:]
	count := inversions(left, room[:half]) + inversions(right, room[half:])
	merged := room[:0]
	for len(left) > 0 && len(right) > 0 {
		if left[0] <= right[0] {
			merged, left = append(merged, left[0]), left[1:]
		} else {
			merged, right = append(merged, right[0]), right[1:]
			count += len(left)
		}
	}
	merged = append(append(merged, left...), right...)
	copy(values, merged)
	return count
}
