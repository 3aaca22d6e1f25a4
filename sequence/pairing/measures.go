package pairing

import (
	"fmt"
	"maps"
	"runtime"
	"slices"
	"sync"

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

// onAllCores splits 0..n-1 into runs and works on them side by side. The runs
// are many and short, for the work of one number may grow with it.
func onAllCores(n int, work func(from, to int)) {
	workers := runtime.GOMAXPROCS(0)
	run := max(1, n/(workers*8))
	starts := make(chan int)
	var group sync.WaitGroup
	for range workers {
		group.Go(func() {
			for from := range starts {
				work(from, min(from+run, n))
			}
		})
	}
	for from := 0; from < n; from += run {
		starts <- from
	}
	close(starts)
	group.Wait()
}
