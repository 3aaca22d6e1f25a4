package sequence

import (
	"slices"
	"time"
)

// VersionID names a version in the data file.
type VersionID int64

// Version is a kept state of the sequence.
type Version struct {
	ID       VersionID `json:"id"`
	At       time.Time `json:"at"`    // when the state was reached
	Named    bool      `json:"named"` // by the maker; otherwise kept by itself at the end of a sitting
	Name     string    `json:"name"`
	Sequence Sequence  `json:"sequence"`
}

// Pair is two photos that face each other, the smaller number first: which of
// them is left is a matter of the spread, not of the pair.
type Pair [2]PhotoID

// Pairs lists the pairs of a sequence in reading order.
func (q Sequence) Pairs() []Pair {
	var pairs []Pair
	for _, s := range q.Spreads {
		if s.Paired() {
			pairs = append(pairs, Pair{min(s.Left, s.Right), max(s.Left, s.Right)})
		}
	}
	return pairs
}

// Diff is what distinguishes a later sequence from an earlier one.
type Diff struct {
	Kept   []Pair    `json:"kept"`   // pairs in both
	Broken []Pair    `json:"broken"` // pairs only in the earlier
	New    []Pair    `json:"new"`    // pairs only in the later
	Come   []PhotoID `json:"come"`   // photos on the later wall only
	Gone   []PhotoID `json:"gone"`   // photos on the earlier wall only
	Moved  int       `json:"moved"`  // fewest pairs or single photos one has to lift to explain the new order of those on both
}

// Compare tells what changed from an earlier sequence to a later one. Order is
// compared by the photos on both walls; pages and spread numbers do not count.
func Compare(earlier, later Sequence) Diff {
	var d Diff
	before, after := earlier.Pairs(), later.Pairs()
	for _, p := range before {
		if slices.Contains(after, p) {
			d.Kept = append(d.Kept, p)
		} else {
			d.Broken = append(d.Broken, p)
		}
	}
	for _, p := range after {
		if !slices.Contains(before, p) {
			d.New = append(d.New, p)
		}
	}
	was, is := earlier.Wall(), later.Wall()
	for _, id := range is {
		if !slices.Contains(was, id) {
			d.Come = append(d.Come, id)
		}
	}
	for _, id := range was {
		if !slices.Contains(is, id) {
			d.Gone = append(d.Gone, id)
		}
	}
	d.Moved = lifted(earlier, later, d.Kept)
	return d
}

// lifted counts the units (kept pairs, and other photos on both walls) that
// are not in a longest run keeping its order.
func lifted(earlier, later Sequence, kept []Pair) int {
	lead := func(id PhotoID) PhotoID { // a kept pair moves as one: its smaller number stands for it
		for _, p := range kept {
			if p[1] == id {
				return p[0]
			}
		}
		return id
	}
	units := func(q Sequence) []PhotoID {
		var list []PhotoID
		for _, id := range q.Wall() {
			if u := lead(id); !slices.Contains(list, u) {
				list = append(list, u)
			}
		}
		return list
	}
	was := units(earlier)
	var ranks []int
	for _, u := range units(later) {
		if i := slices.Index(was, u); i >= 0 {
			ranks = append(ranks, i)
		}
	}
	return len(ranks) - len(longestRising(ranks))
}
