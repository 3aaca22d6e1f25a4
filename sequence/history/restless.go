package history

import (
	"cmp"
	"slices"

	"pairwall/sequence"
)

// place is a page counted from the front or the back: spread is -1 for opening
// and closing page.
type place struct {
	spread int
	side   sequence.Side
}

// restless lists the pages of the last stand that got another photo between at
// least two sittings and more than half of those between which they were there,
// those that changed most first. A spread that is only shifted, because one
// before it came or went, rests; one that was moved has left its page for
// another to come, and does not.
func restless(stands []Stand) []Restless {
	pages := make(tally)
	for i := 1; i < len(stands); i++ {
		was, now := stands[i-1].Sequence, stands[i].Sequence
		pages.note(place{-1, sequence.Opening}, was.Opening, now.Opening, was.Opening != now.Opening)
		pages.note(place{-1, sequence.Closing}, was.Closing, now.Closing, was.Closing != now.Closing)
		from := align(was.Spreads, now.Spreads)
		for j, s := range now.Spreads {
			before, came := sequence.Spread{}, from[j] < 0
			switch {
			case !came:
				before = was.Spreads[from[j]]
			case j < len(was.Spreads):
				before = was.Spreads[j] // it gave way
			default:
				pages.begin(place{j, sequence.Left}, s.Left) // there was no such page
				pages.begin(place{j, sequence.Right}, s.Right)
				continue
			}
			pages.note(place{j, sequence.Left}, before.Left, s.Left, came || before.Left != s.Left)
			pages.note(place{j, sequence.Right}, before.Right, s.Right, came || before.Right != s.Right)
		}
	}
	return neverRest(pages, stands[len(stands)-1].Sequence)
}

// tally counts how often each page changed.
type tally map[place]*Restless

// begin has a page with what lies on it.
func (t tally) begin(p place, photo sequence.PhotoID) *Restless {
	page := t[p]
	if page == nil {
		page = &Restless{Photos: []sequence.PhotoID{}}
		t[p] = page
	}
	if photo != 0 {
		page.Photos = append(slices.DeleteFunc(page.Photos, func(id sequence.PhotoID) bool { return id == photo }), photo)
	}
	return page
}

// note has a page with what lay on it at the end of one sitting and lies there
// at the end of the next.
func (t tally) note(p place, was, now sequence.PhotoID, changed bool) {
	if t[p] == nil {
		t.begin(p, was)
	}
	page := t.begin(p, now)
	page.Of++
	if changed {
		page.Changes++
	}
}

func neverRest(pages tally, last sequence.Sequence) []Restless {
	list := []Restless{}
	for p, page := range pages {
		switch {
		case p.spread >= len(last.Spreads) || page.Changes < 2 || 2*page.Changes <= page.Of:
			continue
		case p.spread < 0:
			page.Number = last.PageNumber(sequence.Page{Side: p.side})
		default:
			page.Number = last.PageNumber(sequence.Page{Spread: last.Spreads[p.spread].ID, Side: p.side})
		}
		list = append(list, *page)
	}
	slices.SortFunc(list, func(a, b Restless) int {
		return cmp.Or(cmp.Compare(b.Changes, a.Changes), cmp.Compare(a.Number, b.Number))
	})
	return list
}

// align finds, for each spread of a later wall, the one that hung in its place
// before, or -1 when it was put in between. It is the global alignment of two
// sequences by dynamic programming (S. B. Needleman and C. D. Wunsch, Journal
// of Molecular Biology 48, 1970), without a penalty for gaps. Two spreads are
// worth the more in one place the more they share. Time and space O(n·m).
func align(was, now []sequence.Spread) []int {
	best := make([][]int, len(was)+1) // of what lies behind i and j
	for i := range best {
		best[i] = make([]int, len(now)+1)
	}
	for i := len(was) - 1; i >= 0; i-- {
		for j := len(now) - 1; j >= 0; j-- {
			best[i][j] = max(worth(was[i], now[j])+best[i+1][j+1], best[i+1][j], best[i][j+1])
		}
	}
	from := make([]int, len(now))
	for i, j := 0, 0; j < len(now); {
		switch {
		case i == len(was):
			from[j] = -1
			j++
		case best[i][j] == worth(was[i], now[j])+best[i+1][j+1]:
			from[j] = i
			i++
			j++
		case best[i][j] == best[i+1][j]:
			i++
		default:
			from[j] = -1
			j++
		}
	}
	return from
}

// worth is what speaks for two spreads to be one place: the same photos, a
// photo in common, the same number, or nothing but where they are. No source;
// sharing all photos outweighs any two of the others.
func worth(a, b sequence.Spread) int {
	shared := 0
	for _, id := range []sequence.PhotoID{a.Left, a.Right} {
		if id != 0 && (id == b.Left || id == b.Right) {
			shared++
		}
	}
	photos := 0
	for _, id := range []sequence.PhotoID{a.Left, a.Right, b.Left, b.Right} {
		if id != 0 {
			photos++
		}
	}
	switch {
	case photos > 0 && photos == 2*shared:
		return 8
	case shared > 0:
		return 3
	case a.ID == b.ID:
		return 2
	}
	return 1
}
