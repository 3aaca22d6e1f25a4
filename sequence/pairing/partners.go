package pairing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"pairwall/sequence"
)

// Partner is a photo proposed to face another.
type Partner struct {
	Photo sequence.PhotoID `json:"photo"`
	Judgement
}

// Partners proposes, among the photos given, at most n to face the photo of,
// the best first and of equals the lower number first. The photo itself is
// passed over. unjudged counts those of which nothing that counts is known, or
// not together with the photo; they are never proposed.
//
// Errors: NotFound for a photo the title does not have; Invalid for a negative
// n or a balance that makes no sense.
func (m *Measures) Partners(of sequence.PhotoID, among []sequence.PhotoID, w Balance, n int) (partners []Partner, unjudged int, err error) {
	if n < 0 {
		return nil, 0, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%d partners cannot be proposed.", n)}
	}
	shares, err := w.shares()
	if err != nil {
		return nil, 0, err
	}
	self, err := m.find(of)
	if err != nil {
		return nil, 0, err
	}
	others, err := m.findAll(among)
	if err != nil {
		return nil, 0, err
	}
	slices.Sort(others)
	others = slices.DeleteFunc(slices.Compact(others), func(i int) bool { return i == self })

	// Photos brought in one after the other mostly belong together: beginning
	// there, the bar is soon high and most others need not be measured in full.
	slices.SortFunc(others, func(i, j int) int { return cmp.Compare(max(i-self, self-i), max(j-self, self-j)) })

	best, unjudged := m.bestOf(self, others, shares, n)
	partners = make([]Partner, len(best))
	for k, c := range best {
		partners[k] = Partner{m.photos[c.photo].Number, m.judge(self, c.photo, shares)}
	}
	return partners, unjudged, nil
}

type candidate struct {
	photo  int
	score  float64
	number sequence.PhotoID
}

// before orders candidates, better first.
func (c candidate) before(d candidate) int {
	switch {
	case c.score > d.score:
		return -1
	case c.score < d.score:
		return 1
	}
	return int(c.number - d.number)
}

func (m *Measures) bestOf(self int, others []int, shares []float64, n int) (best []candidate, unjudged int) {
	var lock sync.Mutex
	var bar sharedBar
	onAllCores(len(others), func(from, to int) {
		podium, without := m.podium(self, others[from:to], shares, n, &bar)
		lock.Lock()
		defer lock.Unlock()
		best = append(best, podium...)
		unjudged += without
	})
	slices.SortFunc(best, candidate.before)
	return best[:min(n, len(best))], unjudged
}

// podium returns the best n of some photos, in order. A photo that its cheaper
// measures already rule out is not measured further, and may be left out.
func (m *Measures) podium(self int, others []int, shares []float64, n int, bar *sharedBar) (best []candidate, unjudged int) {
	for _, other := range others {
		if !m.comparable(self, other, shares) {
			unjudged++
			continue
		}
		if n == 0 {
			continue
		}
		v := m.decide(self, other, shares, bar.height())
		if !v.judged {
			continue
		}
		c := candidate{other, v.score, m.photos[other].Number}
		at, _ := slices.BinarySearchFunc(best, c, candidate.before)
		if at < n {
			best = slices.Insert(best[:min(len(best), n-1)], at, c)
		}
		if len(best) == n {
			bar.raise(best[n-1].score)
		}
	}
	return best, unjudged
}

// A sharedBar is the score that n photos are already known to reach, found on
// any core. The zero value is no bar.
type sharedBar struct{ bits atomic.Uint64 }

func (b *sharedBar) height() float64 { return math.Float64frombits(b.bits.Load()) }

func (b *sharedBar) raise(score float64) {
	for now := b.bits.Load(); math.Float64frombits(now) < score; now = b.bits.Load() {
		if b.bits.CompareAndSwap(now, math.Float64bits(score)) {
			return
		}
	}
}
