package pairing

import (
	"cmp"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/pairing/evidence"
)

// A Suggestion is one of the maker's own words, offered for another photo.
type Suggestion struct {
	Word string             `json:"word"`
	Used int                `json:"used"` // on how many photos of the title
	Like []sequence.PhotoID `json:"like"` // those of them that feel most like this one, by what is measured; at most three
}

var moodRow = row(evidence.Mood)

// Suggest offers, for a photo, the words that the maker has used in this title and
// not yet of it: first those used of photos that feel most like it, then by how
// often they are used.
//
// Error: NotFound for a photo the title does not have.
func (m *Measures) Suggest(photo sequence.PhotoID) ([]Suggestion, error) {
	self, err := m.find(photo)
	if err != nil {
		return nil, err
	}
	users := make(map[string][]int)
	for i, p := range m.photos {
		for _, w := range p.Feeling {
			if !slices.Contains(m.photos[self].Feeling, w) {
				users[w] = append(users[w], i)
			}
		}
	}
	const far = 1e9 // nothing is known of how they feel
	apart := func(i int) float64 {
		if !m.title.Known(moodRow, min(self, i), max(self, i)) {
			return far
		}
		return m.title.Measure(moodRow, min(self, i), max(self, i))
	}
	list := make([]Suggestion, 0, len(users))
	nearest := make(map[string]float64)
	for w, of := range users {
		slices.SortFunc(of, func(i, j int) int { return cmp.Or(cmp.Compare(apart(i), apart(j)), cmp.Compare(i, j)) })
		s := Suggestion{Word: w, Used: len(of), Like: []sequence.PhotoID{}}
		nearest[w] = apart(of[0])
		for _, i := range of[:min(3, len(of))] {
			if apart(i) < far {
				s.Like = append(s.Like, m.photos[i].Number)
			}
		}
		list = append(list, s)
	}
	slices.SortFunc(list, func(x, y Suggestion) int {
		return cmp.Or(cmp.Compare(nearest[x.Word], nearest[y.Word]), cmp.Compare(y.Used, x.Used), cmp.Compare(x.Word, y.Word))
	})
	return list, nil
}
