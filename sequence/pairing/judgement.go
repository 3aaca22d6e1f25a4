package pairing

import (
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/pairing/evidence"
)

// Judgement is what all kinds that count say of a pair, and how the two would
// hang.
type Judgement struct {
	Judged   bool       `json:"judged"`   // false when none of the kinds that count is known of both
	Score    float64    `json:"score"`    // 0..1
	Share    float64    `json:"share"`    // 0..1: how much of what counts is known
	Alike    bool       `json:"alike"`    // nearly the same picture, and marked down for it
	Evidence []Evidence `json:"evidence"` // of the kinds that count
	Reasons  string     `json:"reasons"`  // one sentence: what speaks for the pair
	Missing  string     `json:"missing"`  // one sentence: what is not known of them; "" when nothing is missing

	Left     sequence.PhotoID `json:"left"`     // which of the two is proposed to stand left
	LeftWhy  string           `json:"leftWhy"`  // what decided that, in a clause
	Warnings []string         `json:"warnings"` // what may trouble the eye that way round; never a reason to forbid
}

// Pair judges two photos.
//
// The score is the weighted mean over the kinds that count. A kind that is not
// known of both photos counts as the title's typical score of that kind, so that
// it neither helps nor hurts. Of a pair that is nearly the same picture twice a
// quarter of the score is left.
//
// Errors: NotFound for a photo the title does not have; Invalid for a photo
// with itself or a balance that makes no sense.
func (m *Measures) Pair(a, b sequence.PhotoID, w Balance) (Judgement, error) {
	shares, err := w.shares()
	if err != nil {
		return Judgement{}, err
	}
	found, err := m.findAll([]sequence.PhotoID{a, b})
	if err != nil {
		return Judgement{}, err
	}
	if found[0] == found[1] {
		return Judgement{}, &sequence.Error{Code: sequence.Invalid, Message: "A photo cannot face itself."}
	}
	return m.judge(found[0], found[1], shares), nil
}

// alikeKeeps is the part of its score that a pair of nearly the same picture keeps.
const alikeKeeps = 0.25

// A verdict is a judgement in figures only.
type verdict struct {
	score, share float64
	judged       bool
	alike        bool
}

// decide judges the pair a, b. Where its score cannot reach bar, measuring
// stops, and the verdict is not judged and holds no score worth reading.
func (m *Measures) decide(a, b int, shares []float64, bar float64) verdict {
	a, b = min(a, b), max(a, b) // so that both orders are one, to the last bit
	var v verdict
	open := 1.0 // the most that rows not yet measured can add
	for _, row := range inOrder {
		share := shares[row]
		if share == 0 {
			continue
		}
		open -= share
		if !m.title.Known(row, a, b) {
			v.score += share * m.title.Typical(row)
			continue
		}
		v.judged = true
		v.share += share
		v.score += share * m.title.Score(row, a, b)
		if v.score+open < bar-rounding {
			return verdict{share: v.share}
		}
	}
	if v.judged && m.title.Alike(a, b) {
		v.alike = true
		v.score *= alikeKeeps
	}
	return v
}

// rounding is more than sums of a few shares of scores can be off by.
const rounding = 1e-12

// comparable reports whether any kind that counts is known of both photos.
func (m *Measures) comparable(a, b int, shares []float64) bool {
	for row, share := range shares {
		if share > 0 && m.title.Known(evidence.Row(row), a, b) {
			return true
		}
	}
	return false
}

// judge is decide with the evidence and all words.
func (m *Measures) judge(a, b int, shares []float64) Judgement {
	a, b = min(a, b), max(a, b)
	v := m.decide(a, b, shares, 0)
	j := Judgement{Judged: v.judged, Score: min(1, v.score), Share: min(1, v.share), Alike: v.alike, Evidence: []Evidence{}}
	if !v.judged {
		j.Score = 0
	}
	for row, share := range shares {
		if share > 0 {
			j.Evidence = append(j.Evidence, m.title.Evidence(evidence.Row(row), a, b))
		}
	}
	j.Reasons, j.Missing = reasons(j), m.missing(a, b, shares)
	sides := m.title.Sides(a, b)
	j.Left, j.LeftWhy = m.photos[sides.Left].Number, sides.Why
	j.Warnings = append([]string{}, slices.Clone(sides.Warnings)...)
	return j
}

// Warnings says what may trouble the eye when two photos hang as they do, left on
// the left page and right on the right one. Nothing is forbidden by it.
//
// Errors: NotFound for a photo the title does not have; Invalid for a photo with
// itself.
func (m *Measures) Warnings(left, right sequence.PhotoID) ([]string, error) {
	found, err := m.findAll([]sequence.PhotoID{left, right})
	if err != nil {
		return nil, err
	}
	if found[0] == found[1] {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: "A photo cannot face itself."}
	}
	return append([]string{}, m.title.Warnings(found[0], found[1])...), nil
}
