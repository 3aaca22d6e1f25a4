package pairing

import (
	"pairwall/sequence"
)

// Evidence is what one kind says of a pair.
type Evidence struct {
	Kind    Kind    `json:"kind"`
	Known   bool    `json:"known"`             // whether both photos say anything of this kind
	Score   float64 `json:"score"`             // 0..1, 1 speaks most for the pair; the title's typical score when not known
	Measure float64 `json:"measure,omitempty"` // how far apart, in Unit; 0 when not known
	Unit    string  `json:"unit"`
	Words   string  `json:"words"` // "340 m apart"; "no place known for 12"
}

// Judgement is what all kinds that count say of a pair.
type Judgement struct {
	Judged   bool       `json:"judged"`   // false when none of the kinds that count is known of both
	Score    float64    `json:"score"`    // 0..1
	Share    float64    `json:"share"`    // 0..1: how much of what counts is known
	Alike    bool       `json:"alike"`    // nearly the same picture, and marked down for it
	Evidence []Evidence `json:"evidence"` // of the kinds that count
	Reasons  string     `json:"reasons"`  // one sentence
}

// Pair judges two photos.
//
// The score is the weighted mean over the kinds that count, each falling as its
// measure grows (see scale). A kind that is not known of both photos counts as
// the title's typical score of that kind, so that it neither helps nor hurts.
// Of a pair that is nearly the same picture twice a quarter of the score is
// left.
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

// A verdict is a judgement in figures only.
type verdict struct {
	score, share float64
	judged       bool
	alike        bool
	measures     [len(kinds)]float64 // by row of kinds, where that kind counts and is known
}

// decide judges the pair a, b. Where its score cannot reach bar, measuring
// stops, and the verdict is not judged and holds no score worth reading.
func (m *Measures) decide(a, b int, shares []float64, bar float64) verdict {
	a, b = min(a, b), max(a, b) // so that both orders are one, to the last bit
	var v verdict
	open := 1.0 // the most that kinds not yet measured can add
	for i, share := range shares {
		if share == 0 {
			continue
		}
		open -= share
		if !m.known(i, a, b) {
			v.score += share * m.scales[i].score
			continue
		}
		v.judged = true
		v.share += share
		v.measures[i] = m.gauges[i].measure(a, b)
		v.score += share * m.scales[i].rate(v.measures[i])
		if v.score+open < bar-rounding {
			return verdict{share: v.share}
		}
	}
	if v.judged && m.alike(a, b, shares, v) {
		v.alike = true
		v.score *= alikeKeeps
	}
	return v
}

// rounding is more than sums of a few shares of scores can be off by.
const rounding = 1e-12

func (m *Measures) known(row, a, b int) bool {
	return m.gauges[row].knows(a) && m.gauges[row].knows(b)
}

// comparable reports whether any kind that counts is known of both photos.
func (m *Measures) comparable(a, b int, shares []float64) bool {
	for i, share := range shares {
		if share > 0 && m.known(i, a, b) {
			return true
		}
	}
	return false
}

// judge is decide with the evidence and all words.
func (m *Measures) judge(a, b int, shares []float64) Judgement {
	a, b = min(a, b), max(a, b)
	v := m.decide(a, b, shares, 0)
	j := Judgement{Judged: v.judged, Score: v.score, Share: min(1, v.share), Alike: v.alike, Evidence: []Evidence{}}
	if !v.judged {
		j.Score = 0
	}
	for i, share := range shares {
		if share > 0 {
			j.Evidence = append(j.Evidence, m.evidence(i, a, b, v.measures[i]))
		}
	}
	j.Reasons = reasons(j)
	return j
}

func (m *Measures) evidence(row, a, b int, measure float64) Evidence {
	e := Evidence{Kind: kinds[row].kind, Unit: kinds[row].unit}
	if !m.known(row, a, b) {
		e.Score = m.scales[row].score
		e.Words = m.missing(row, a, b)
		return e
	}
	e.Known, e.Measure, e.Score = true, measure, m.scales[row].rate(measure)
	e.Words = m.gauges[row].words(a, b, measure)
	return e
}
