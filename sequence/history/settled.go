package history

import (
	"cmp"
	"slices"
	"time"

	"pairwall/sequence"
)

// Report is what a line of work tells of itself.
type Report struct {
	Sittings int        `json:"sittings"`
	Since    *time.Time `json:"since,omitempty"` // the end of the first sitting
	Hold     []Held     `json:"hold"`            // the pairs that hang, those held longest first
	Broken   []Held     `json:"broken"`          // pairs that hung for two sittings or more and do not now, those held longest first
	Company  []Company  `json:"company"`
	Restless []Restless `json:"restless"`
}

// Held tells how long a pair has hung.
type Held struct {
	Pair     sequence.Pair      `json:"pair"`
	Left     sequence.PhotoID   `json:"left"`            // of the two, when it hung last
	Sittings int                `json:"sittings"`        // at whose ends it hung
	Days     int                `json:"days"`            // it has hung in all, counted by the calendar
	Times    int                `json:"times"`           // how often it was hung anew
	Since    time.Time          `json:"since"`           // the end of the sitting in which it came, the last time
	Until    *time.Time         `json:"until,omitempty"` // the end of the sitting in which it was broken; absent while it hangs
	Behind   []sequence.PhotoID `json:"behind"`          // what hung before it when it hung last, the nearest first; of broken pairs only
}

// Company is a photo with everyone it has faced at the end of a sitting.
type Company struct {
	Photo    sequence.PhotoID   `json:"photo"`
	Partners []sequence.PhotoID `json:"partners"` // in the order they came
}

// Restless is a page that does not rest.
type Restless struct {
	Number  int                `json:"number"`  // in the present sequence
	Changes int                `json:"changes"` // between how many of the sittings it got something else
	Of      int                `json:"of"`      // between how many sittings there was such a page
	Photos  []sequence.PhotoID `json:"photos"`  // that lay on it, the latest last
}

const (
	longHeld   = 2  // sittings from which a broken pair is worth a look; no source: one is a try, two a decision
	mostBehind = 12 // photos told as hanging before a broken pair
)

// Look reports on the stands of one line of work, the earliest first, seen at
// now. A pair has held from the end of the sitting in which it came until the
// end of the one in which it was broken: what is tried within a sitting does
// not count. Time O(s·n²) in s stands of n spreads.
func Look(stands []Stand, now time.Time) Report {
	r := Report{Sittings: len(stands), Hold: []Held{}, Broken: []Held{}, Company: []Company{}, Restless: []Restless{}}
	if len(stands) == 0 {
		return r
	}
	r.Since = &stands[0].At
	r.pairs(stands, now)
	r.company(stands)
	r.Restless = restless(stands)
	return r
}

func (r *Report) pairs(stands []Stand, now time.Time) {
	known := make(map[sequence.Pair]*Held)
	var order []*Held // so that equals stay in the order they came
	for i, s := range stands {
		until := now
		if i+1 < len(stands) {
			until = stands[i+1].At
		}
		for at, spread := range s.Sequence.Spreads {
			if !spread.Paired() {
				continue
			}
			p := spread.Pair()
			h := known[p]
			if h == nil {
				h = &Held{Pair: p, Behind: []sequence.PhotoID{}}
				known[p] = h
				order = append(order, h)
			}
			h.stand(s, at, until)
			h.Days += days(s.At, until, now.Location())
		}
	}
	hang := make(map[sequence.Pair]bool)
	for _, p := range stands[len(stands)-1].Sequence.Pairs() {
		hang[p] = true
	}
	for _, h := range order {
		if hang[h.Pair] {
			h.Until, h.Behind = nil, []sequence.PhotoID{}
			r.Hold = append(r.Hold, *h)
		} else if h.Sittings >= longHeld {
			r.Broken = append(r.Broken, *h)
		}
	}
	longest := func(a, b Held) int {
		return cmp.Or(cmp.Compare(b.Sittings, a.Sittings), cmp.Compare(b.Days, a.Days))
	}
	slices.SortStableFunc(r.Hold, longest)
	slices.SortStableFunc(r.Broken, longest)
}

// stand counts one more stand, in which the pair hangs on the spread at index;
// until is when the next one was.
func (h *Held) stand(s Stand, index int, until time.Time) {
	if h.Until == nil || !h.Until.Equal(s.At) { // not there at the end of the sitting before
		h.Times++
		h.Since = s.At
	}
	spreads := s.Sequence.Spreads
	h.Left, h.Sittings, h.Until = spreads[index].Left, h.Sittings+1, &until
	h.Behind = h.Behind[:0]
	for i := index - 1; i >= 0 && len(h.Behind) < mostBehind; i-- {
		h.Behind = appendPhotos(h.Behind, spreads[i].Right, spreads[i].Left)
	}
	h.Behind = appendPhotos(h.Behind, s.Sequence.Opening)
}

// days counts how many midnights of a zone lie between two moments.
func days(from, to time.Time, zone *time.Location) int {
	midnight := func(t time.Time) time.Time {
		y, m, d := t.In(zone).Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) // in UTC, where every day is as long
	}
	return int(midnight(to).Sub(midnight(from)) / (24 * time.Hour))
}

func appendPhotos(list []sequence.PhotoID, photos ...sequence.PhotoID) []sequence.PhotoID {
	for _, id := range photos {
		if id != 0 {
			list = append(list, id)
		}
	}
	return list
}

// company lists the photos that have had more than one partner, those with most
// first.
func (r *Report) company(stands []Stand) {
	partners := make(map[sequence.PhotoID][]sequence.PhotoID)
	meet := func(one, other sequence.PhotoID) {
		if !slices.Contains(partners[one], other) {
			partners[one] = append(partners[one], other)
		}
	}
	for _, s := range stands {
		for _, p := range s.Sequence.Pairs() {
			meet(p[0], p[1])
			meet(p[1], p[0])
		}
	}
	for photo, with := range partners {
		if len(with) > 1 {
			r.Company = append(r.Company, Company{photo, with})
		}
	}
	slices.SortFunc(r.Company, func(a, b Company) int {
		return cmp.Or(cmp.Compare(len(b.Partners), len(a.Partners)), cmp.Compare(a.Photo, b.Photo))
	})
}
