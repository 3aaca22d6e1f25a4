package pairing

import (
	"fmt"
	"runtime"
	"sync"

	"pairwall/sequence"
)

// Measures holds what is needed to judge any pair of one title's photos. It
// does not change once made and may be used by several goroutines at once.
type Measures struct {
	photos []sequence.Photo
	index  map[sequence.PhotoID]int
	gauges []gauge // by row of kinds
	scales []scale // by row of kinds
}

// New prepares the measures of a title's photos: the scale of each kind of
// evidence, and the typical score by which a kind counts where it is missing.
// Where two photos bear one number, the later counts. It takes some ten
// thousand measurements of each kind, however many photos there are.
func New(photos []sequence.Photo) *Measures {
	m := &Measures{photos: photos, index: make(map[sequence.PhotoID]int, len(photos))}
	for i, p := range photos {
		m.index[p.Number] = i
	}
	for _, row := range kinds {
		g := row.prepare(photos)
		m.gauges = append(m.gauges, g)
		m.scales = append(m.scales, newScale(sampleMeasures(g, len(photos)), row.least))
	}
	return m
}

// sampleMeasures measures all pairs of a sample of the photos known to g.
func sampleMeasures(g gauge, n int) []float64 {
	var known []int
	for i := range n {
		if g.knows(i) {
			known = append(known, i)
		}
	}
	known = sample(known, sampled)
	measures := make([]float64, len(known)*max(0, len(known)-1)/2)
	onAllCores(len(known), func(from, to int) {
		for j := from; j < to; j++ {
			for i := range j {
				measures[j*(j-1)/2+i] = g.measure(known[i], known[j])
			}
		}
	})
	return measures
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
