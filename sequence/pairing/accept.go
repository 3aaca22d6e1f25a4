package pairing

import (
	"fmt"
	"slices"

	"pairwall/sequence"
)

// Accept composes the change that takes only some spreads of a proposal, named by
// their number in it, and leaves all else on the wall as it is. seq is the wall
// that the proposal was made for. An accepted spread is put behind the nearest
// one before it in the proposal that hangs by then; what it takes from other
// spreads leaves them, and a spread that is emptied so goes.
//
// Errors: NotFound for a spread that the proposal does not propose; Invalid for a
// wall other than the proposal's.
func (p Proposal) Accept(seq sequence.Sequence, spreads []sequence.SpreadID) (sequence.Change, error) {
	if seq.Revision != p.Change.Revision {
		return sequence.Change{}, &sequence.Error{Code: sequence.Invalid, Message: "The wall has changed since this was proposed.",
			Hint: "Ask for a new proposal."}
	}
	taken := make(map[sequence.SpreadID]bool)
	for _, id := range spreads {
		if !slices.ContainsFunc(p.Spreads, func(s ProposedSpread) bool { return s.Spread == id }) {
			return sequence.Change{}, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("Spread %d is not proposed.", id)}
		}
		taken[id] = true
	}
	next := seq.Clone()
	for i, s := range p.Sequence.Spreads {
		if taken[s.ID] {
			next.Spreads = hang(next.Spreads, s, p.Sequence.Spreads[:i])
			next.Last = max(next.Last, s.ID)
		}
	}
	return sequence.Between(seq, next.Gathered(), fmt.Sprintf("take %d of the proposed spreads", len(taken)))
}

// hang puts a spread on a wall, behind the nearest of those before it that hang.
func hang(wall []sequence.Spread, s sequence.Spread, before []sequence.Spread) []sequence.Spread {
	var next []sequence.Spread
	for _, t := range wall {
		was := t
		if t.ID == s.ID {
			continue
		}
		for _, id := range [2]sequence.PhotoID{s.Left, s.Right} {
			if id != 0 && t.Left == id {
				t.Left, t.Across = 0, false
			}
			if id != 0 && t.Right == id {
				t.Right = 0
			}
		}
		if t.Empty() && !was.Empty() {
			continue
		}
		next = append(next, t)
	}
	at := 0
	for _, b := range slices.Backward(before) {
		if i := slices.IndexFunc(next, func(t sequence.Spread) bool { return t.ID == b.ID }); i >= 0 {
			at = i + 1
			break
		}
	}
	return slices.Insert(next, at, s)
}
