package pairing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"pairwall/sequence"
	"pairwall/sequence/pairing/crew"
	"pairwall/sequence/pairing/evidence"
)

// Partner is a photo proposed to face another.
type Partner struct {
	Photo sequence.PhotoID `json:"photo"`
	Side  sequence.Side    `json:"side"` // of the gutter, where this photo is proposed to stand
	Judgement
	Surprise Kind `json:"surprise,omitempty"` // the one kind that speaks for it, when a surprise was asked for
}

// An Ask says which partners are wanted.
type Ask struct {
	Of      sequence.PhotoID
	Among   []sequence.PhotoID // the photos that may be proposed; the photo itself is passed over
	Box     []sequence.PhotoID // photos set aside: of Among, passed over unless WithBox
	WithBox bool
	Refused []sequence.Pair // pairs the maker does not want, either way round
	Balance Balance
	// Surprise ranks by what is good on one kind and far on all others that count,
	// instead of by their sum.
	Surprise bool
	// Side is the page that is free for the partner; "" where either will do.
	// Given one, partners are ranked by how they face the photo from there.
	Side sequence.Side
	Most int
}

// Partners proposes, among the photos given, at most n to face the photo of,
// the best first and of equals the lower number first. The photo itself is
// passed over. unjudged counts those of which nothing that counts is known, or
// not together with the photo; they are never proposed.
//
// Errors: NotFound for a photo the title does not have; Invalid for a negative
// n or a balance that makes no sense.
func (m *Measures) Partners(of sequence.PhotoID, among []sequence.PhotoID, w Balance, n int) (partners []Partner, unjudged int, err error) {
	return m.Seek(Ask{Of: of, Among: among, Balance: w, Most: n})
}

// Seek answers an Ask as Partners does. Errors as there.
func (m *Measures) Seek(ask Ask) (partners []Partner, unjudged int, err error) {
	if ask.Most < 0 {
		return nil, 0, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%d partners cannot be proposed.", ask.Most)}
	}
	shares, err := ask.Balance.shares()
	if err != nil {
		return nil, 0, err
	}
	self, err := m.find(ask.Of)
	if err != nil {
		return nil, 0, err
	}
	others, err := m.others(ask, self)
	if err != nil {
		return nil, 0, err
	}
	best, unjudged := m.bestOf(self, others, shares, ask)
	partners = make([]Partner, len(best))
	for k, c := range best {
		p := Partner{Photo: m.photos[c.photo].Number, Side: sequence.Right, Judgement: m.judge(self, c.photo, shares), Surprise: c.surprise}
		if ask.Side != "" {
			m.turn(&p.Judgement, self, c.photo, shares, ask.Side)
		}
		if p.Left == p.Photo {
			p.Side = sequence.Left
		}
		partners[k] = p
	}
	return partners, unjudged, nil
}

// others lists the photos to look among, by index.
func (m *Measures) others(ask Ask, self int) ([]int, error) {
	others, err := m.findAll(ask.Among)
	if err != nil {
		return nil, err
	}
	not := make(map[sequence.PhotoID]bool)
	if !ask.WithBox {
		for _, id := range ask.Box {
			not[id] = true
		}
	}
	for _, pair := range ask.Refused {
		if pair[0] == ask.Of {
			not[pair[1]] = true
		}
		if pair[1] == ask.Of {
			not[pair[0]] = true
		}
	}
	slices.Sort(others)
	others = slices.DeleteFunc(slices.Compact(others), func(i int) bool { return i == self || not[m.photos[i].Number] })

	// Photos brought in one after the other mostly belong together: beginning
	// there, the bar is soon high and most others need not be measured in full.
	slices.SortFunc(others, func(i, j int) int { return cmp.Compare(max(i-self, self-i), max(j-self, self-j)) })
	return others, nil
}

type candidate struct {
	photo    int
	score    float64
	number   sequence.PhotoID
	surprise Kind
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

func (m *Measures) bestOf(self int, others []int, shares []float64, ask Ask) (best []candidate, unjudged int) {
	var lock sync.Mutex
	var bar sharedBar
	crew.Share(len(others), func(from, to int) {
		podium, without := m.podium(self, others[from:to], shares, ask, &bar)
		lock.Lock()
		defer lock.Unlock()
		best = append(best, podium...)
		unjudged += without
	})
	slices.SortFunc(best, candidate.before)
	return best[:min(ask.Most, len(best))], unjudged
}

// podium returns the best of some photos, in order. A photo that its cheaper
// measures already rule out is not measured further, and may be left out.
func (m *Measures) podium(self int, others []int, shares []float64, ask Ask, bar *sharedBar) (best []candidate, unjudged int) {
	for _, other := range others {
		if !m.comparable(self, other, shares) {
			unjudged++
			continue
		}
		if ask.Most == 0 {
			continue
		}
		c := candidate{photo: other, number: m.photos[other].Number}
		if ask.Surprise {
			c.score, c.surprise = m.surprise(self, other, shares)
			if c.score <= 0 {
				continue
			}
		} else {
			v := m.decide(self, other, shares, bar.height())
			if !v.judged {
				continue
			}
			c.score = v.score
			if ask.Side != "" {
				left, right := facing(self, other, ask.Side)
				c.score -= m.lostBy(left, right, shares, v.alike)
			}
		}
		at, _ := slices.BinarySearchFunc(best, c, candidate.before)
		if at < ask.Most {
			best = slices.Insert(best[:min(len(best), ask.Most-1)], at, c)
		}
		if len(best) == ask.Most {
			bar.raise(best[ask.Most-1].score)
		}
	}
	return best, unjudged
}

// facing puts two photos on their pages, the partner on the side given.
func facing(self, partner int, side sequence.Side) (left, right int) {
	if side == sequence.Left {
		return partner, self
	}
	return self, partner
}

// lostBy is what a pair loses of its score when left must stand left.
func (m *Measures) lostBy(left, right int, shares []float64, alike bool) (lost float64) {
	a, b := min(left, right), max(left, right)
	for row, share := range shares {
		if r := evidence.Row(row); share > 0 && evidence.Turns(r) && m.title.Known(r, a, b) {
			lost += share * (m.title.Score(r, a, b) - m.title.ScoreAs(r, left, right))
		}
	}
	if alike {
		lost *= alikeKeeps
	}
	return lost
}

// turn gives a judgement the sides that the free page leaves, and what that costs.
func (m *Measures) turn(j *Judgement, self, partner int, shares []float64, side sequence.Side) {
	left, right := facing(self, partner, side)
	if j.Left != m.photos[left].Number {
		j.Left, j.LeftWhy = m.photos[left].Number, "that page is free"
	}
	j.Score = max(0, j.Score-m.lostBy(left, right, shares, j.Alike))
	j.Warnings = append([]string{}, m.title.Warnings(left, right)...)
}

// surprise is how far a pair is good on one kind and far on the others: that
// kind's score times what the others, by their weights, lack to 1. At least two
// kinds must be known; nearly the same picture surprises nobody.
func (m *Measures) surprise(a, b int, shares []float64) (score float64, by Kind) {
	a, b = min(a, b), max(a, b)
	scores, total, sum := make([]float64, len(shares)), 0.0, 0.0
	known := 0
	for row, share := range shares {
		scores[row] = -1
		if r := evidence.Row(row); share > 0 && m.title.Known(r, a, b) {
			scores[row] = m.title.Score(r, a, b)
			total += share
			sum += share * scores[row]
			known++
		}
	}
	if known < 2 || m.title.Alike(a, b) {
		return 0, ""
	}
	for row, s := range scores {
		if s < 0 {
			continue
		}
		others := (sum - shares[row]*s) / (total - shares[row])
		if surprising := s * (1 - others); surprising > score {
			score, by = surprising, evidence.Row(row).Kind()
		}
	}
	return score, by
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
