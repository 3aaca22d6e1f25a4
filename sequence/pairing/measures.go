package pairing

import (
	"fmt"
	"maps"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/pairing/evidence"
)

// Measures holds what is needed to judge any pair of one title's photos. It
// does not change once made and may be used by several goroutines at once.
type Measures struct {
	photos []sequence.Photo
	index  map[sequence.PhotoID]int
	title  *evidence.Title
}

// New prepares the measures of a title's photos. Where two photos bear one number,
// the later counts. It takes some ten thousand measurements of each relation,
// however many photos there are.
func New(photos []sequence.Photo) *Measures {
	m := &Measures{photos: photos, index: make(map[sequence.PhotoID]int, len(photos)), title: evidence.Of(photos)}
	for i, p := range photos {
		m.index[p.Number] = i
	}
	return m
}

// With returns the measures of the title with a photo that came in, or that the
// maker has said something new of. What was measured between the other photos is
// kept: one photo among two thousand costs one row, not the table. The answers are
// those of New with the same photos in the same order.
func (m *Measures) With(photo sequence.Photo) *Measures {
	i, known := m.index[photo.Number]
	if !known {
		i = len(m.photos)
	}
	next := &Measures{photos: slices.Clone(m.photos), index: m.index, title: m.title.With(i, photo)}
	if known {
		next.photos[i] = photo
		return next
	}
	next.photos = append(next.photos, photo)
	next.index = maps.Clone(m.index)
	next.index[photo.Number] = i
	return next
}

// find returns the index of a photo.
//
// Error: NotFound when the title has no such photo.
func (m *Measures) find(photo sequence.PhotoID) (int, error) {
	i, ok := m.index[photo]
	if !ok {
		return 0, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("There is no photo %d.", photo)}
	}
	return i, nil
}

func (m *Measures) findAll(photos []sequence.PhotoID) ([]int, error) {
	found := make([]int, len(photos))
	for k, photo := range photos {
		i, err := m.find(photo)
		if err != nil {
			return nil, err
		}
		found[k] = i
	}
	return found, nil
}
