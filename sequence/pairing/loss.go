package pairing

import (
	"cmp"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/pairing/crew"
	"pairwall/sequence/pairing/evidence"
)

// A Loss is what would leave the sequence with a photo.
type Loss struct {
	Photo sequence.PhotoID `json:"photo"`
	// Only lists of what the photo is the only one on the wall: of its place, its
	// day, a colour, its kind, one of the maker's words.
	Only []Only `json:"only"`
	// Same lists the photos on the wall that say the same, most alike first.
	Same []Same `json:"same"`
}

// Only is something of which a photo is the only one on the wall.
type Only struct {
	Of    Kind   `json:"of"`    // the kind of evidence that tells
	Words string `json:"words"` // "the only one in Piran, Slovenia"
}

// Same is a photo that says the same as another.
type Same struct {
	Photo sequence.PhotoID `json:"photo"`
	Score float64          `json:"score"` // over all kinds
	Words string           `json:"words"` // the reasons
}

// Two photos say the same when they are nearly the same picture, or when they are
// alike in what is seen and near in place or time: each kind at least this good by
// the title's scales. Our own judgement.
const sayTheSame = 0.85

// Loss tells what would be lost with a photo, by the others on the wall. It does
// not matter whether the photo itself hangs there: of one that does not, it tells
// what the wall lacks without it. It advises; nothing is decided by it.
//
// Error: NotFound for a photo the title does not have.
func (m *Measures) Loss(seq sequence.Sequence, photo sequence.PhotoID) (Loss, error) {
	self, err := m.find(photo)
	if err != nil {
		return Loss{}, err
	}
	return m.loss(self, m.hung(seq)), nil
}

// Losses tells what would be lost with each photo on the wall, in the order in
// which they could best be spared: those whose saying others repeat first, then
// those that are the only ones of least.
func (m *Measures) Losses(seq sequence.Sequence) []Loss {
	wall := m.hung(seq)
	losses := make([]Loss, len(wall))
	crew.Share(len(wall), func(from, to int) {
		for k := from; k < to; k++ {
			losses[k] = m.loss(wall[k], wall)
		}
	})
	slices.SortStableFunc(losses, func(x, y Loss) int {
		return cmp.Or(cmp.Compare(len(x.Only), len(y.Only)), cmp.Compare(len(y.Same), len(x.Same)), cmp.Compare(x.Photo, y.Photo))
	})
	return losses
}

// hung lists the photos of the wall that the title knows.
func (m *Measures) hung(seq sequence.Sequence) []int {
	var wall []int
	for _, id := range seq.Wall() {
		if i, ok := m.index[id]; ok {
			wall = append(wall, i)
		}
	}
	return wall
}

func (m *Measures) loss(self int, wall []int) Loss {
	others := slices.DeleteFunc(slices.Clone(wall), func(i int) bool { return i == self })
	l := Loss{Photo: m.photos[self].Number, Only: []Only{}, Same: []Same{}}
	for _, o := range m.title.Unique(self, others) {
		l.Only = append(l.Only, Only{o.Of, o.Words})
	}
	shares, _ := Balance(nil).shares() // no balance makes no error
	for _, other := range others {
		if m.saysTheSame(self, other) {
			j := m.judge(self, other, shares)
			l.Same = append(l.Same, Same{m.photos[other].Number, m.decide(self, other, shares, 0).score, j.Reasons})
		}
	}
	slices.SortStableFunc(l.Same, func(x, y Same) int { return cmp.Or(cmp.Compare(y.Score, x.Score), cmp.Compare(x.Photo, y.Photo)) })
	return l
}

var (
	gapRow = row(evidence.Gap)
)

func (m *Measures) saysTheSame(a, b int) bool {
	a, b = min(a, b), max(a, b)
	if m.title.Alike(a, b) {
		return true
	}
	good := func(row evidence.Row) bool { return m.title.Known(row, a, b) && m.title.Score(row, a, b) >= sayTheSame }
	seen := worldRow
	if m.photos[a].Tone.Monochrome {
		seen = toneRow
	}
	if m.photos[a].Tone.Monochrome != m.photos[b].Tone.Monochrome || !good(seen) {
		return false
	}
	place, time := m.title.Known(distRow, a, b), m.title.Known(gapRow, a, b)
	return (place || time) && (!place || good(distRow)) && (!time || good(gapRow))
}
