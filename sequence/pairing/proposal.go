package pairing

import (
	"fmt"
	"strconv"

	"pairwall/sequence"
	"pairwall/sequence/pairing/evidence"
)

// proposal tells what the arrangement came to.
func (a *arrangement) proposal(next sequence.Sequence, follow string) (Proposal, error) {
	change, err := sequence.Between(a.seq, next, "arrange the "+string(a.scope))
	if err != nil {
		return Proposal{}, err
	}
	// Applying it here shows that it fits, and gives the state it leads to.
	reached, err := a.seq.Apply(change)
	if err != nil {
		return Proposal{}, err
	}
	p := Proposal{Rule: a.rule(follow), Change: change, Sequence: reached, Spreads: []ProposedSpread{}, Left: []LeftOver{}}
	proposed := make(map[sequence.PhotoID]ProposedSpread)
	for i, j := range a.mate {
		if i < j {
			one, other := a.pool[i], a.pool[j]
			judgement := a.m.judge(one, other, a.shares)
			proposed[a.m.photos[one].Number] = ProposedSpread{Judgement: judgement}
			proposed[a.m.photos[other].Number] = ProposedSpread{Judgement: judgement}
		}
		if j < 0 && a.plan.Singles {
			alone := Judgement{Reasons: a.why(i), Evidence: []Evidence{}, Warnings: []string{}}
			proposed[a.m.photos[a.pool[i]].Number] = ProposedSpread{Alone: true, Judgement: alone}
		}
		if j < 0 && !a.plan.Singles {
			p.Left = append(p.Left, LeftOver{a.m.photos[a.pool[i]].Number, a.why(i)})
		}
	}
	for _, s := range reached.Spreads {
		if found, ok := proposed[max(s.Left, s.Right)]; ok { // a photo alone may be on either page
			found.Spread = s.ID
			p.Spreads = append(p.Spreads, found)
		}
	}
	return p, nil
}

// why says in a clause why the k-th photo of the pool stays alone.
func (a *arrangement) why(k int) string {
	best, twin, comparable := candidate{photo: none}, candidate{photo: none}, false
	for i, other := range a.pool {
		if i == k || a.apart(a.pool[k], other) || !a.m.comparable(a.pool[k], other, a.shares) {
			continue
		}
		comparable = true
		v := a.m.decide(a.pool[k], other, a.shares, 0)
		switch {
		case v.alike && v.score > twin.score:
			twin = candidate{photo: i, score: v.score}
		case a.fit(v) && v.score > best.score:
			best = candidate{photo: i, score: v.score}
		}
	}
	number := func(i int) sequence.PhotoID { return a.m.photos[a.pool[i]].Number }
	switch {
	case len(a.pool) == 1:
		return "there is no other photo to pair it with"
	case !comparable:
		return "nothing that counts is known both of it and of another photo here"
	case best.photo != none && a.mate[best.photo] >= 0:
		return fmt.Sprintf("its best partner, %d, goes with %d for the good of the whole", number(best.photo), number(a.mate[best.photo]))
	case twin.photo != none:
		return fmt.Sprintf("%d shows nearly the same picture, and no other photo here suits it", number(twin.photo))
	}
	return "no other photo here suits it well enough"
}

// rule says in one sentence how the arrangement was found.
func (a *arrangement) rule(follow string) string {
	what, where, alone, refused := "The photos on the table", "", "", ""
	if a.scope == Wall {
		what, where = "The photos on the table and on spreads that are not pinned", " around the pinned ones"
	}
	if len(a.plan.Refused) > 0 {
		refused = " and no pair you refused"
	}
	if a.plan.Singles {
		alone = ", who finds none hangs alone"
	}
	return fmt.Sprintf("%s are paired so that all pairs together go best by %s, %s%s%s; "+
		"the spreads follow each other%s %s, without a long run of one look or the loudest first.",
		what, a.counted(), a.floor(), refused, alone, where, follow)
}

// floor says which pairs were good enough.
func (a *arrangement) floor() string {
	switch {
	case a.plan.Enough <= 0.05:
		return "however little they share"
	case a.plan.Enough == enough:
		return "with nothing paired that hardly goes together"
	}
	return fmt.Sprintf("with nothing paired that goes together less than %.0f %% of the usual here", 100*a.plan.Enough)
}

// counted names the kinds that count, with their part where it is not the same.
func (a *arrangement) counted() string {
	var parts []string
	even := true
	first := 0.0
	for _, share := range a.shares {
		if share > 0 {
			if first == 0 {
				first = share
			}
			even = even && share == first
		}
	}
	for i, share := range a.shares {
		if share == 0 {
			continue
		}
		word := string(evidence.Row(i).Kind())
		if !even {
			word += " (" + strconv.Itoa(int(share*100+0.5)) + " %)"
		}
		parts = append(parts, word)
	}
	return evidence.Listed(parts)
}
