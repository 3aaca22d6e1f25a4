package server

import (
	"fmt"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pairing"
)

func TestAnArrangementIsOnlyProposedAndItsChangeMakesIt(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(8))
	var plan pairing.Proposal
	h.want(200, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Table, Weights: map[string]float64{"colour": 1}}, &plan)
	if wall := h.state(at).Wall; wall.Sequence.Revision != 0 || len(plan.Spreads) == 0 || plan.Rule == "" {
		t.Fatalf("%+v of %+v", wall, plan)
	}
	var now changed
	h.want(200, "POST", at+"/changes", plan.Change, &now)
	if fmt.Sprint(now.Wall.Sequence) != fmt.Sprint(plan.Sequence) {
		t.Errorf("made %+v, proposed %+v", now.Wall.Sequence, plan.Sequence)
	}
	if is := h.refused(409, sequence.Stale, "POST", at+"/changes", plan.Change); is.Wall == nil {
		t.Error("the proposal could be made twice")
	}
	h.want(200, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Wall}, &plan)
	h.refused(400, sequence.Invalid, "POST", at+"/arrangement", arrangementAsked{Scope: "room"})
	h.refused(400, sequence.Invalid, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Wall, Weights: map[string]float64{"scent": 1}})
	h.refused(404, sequence.NotFound, "POST", "/api/titles/9/arrangement", arrangementAsked{Scope: pairing.Wall})
}

func TestAnArrangementFollowsItsPlan(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(8))
	colour := map[string]float64{"colour": 1}
	rules := make(map[string]bool)
	for _, ordering := range pairing.Orderings() {
		var proposal pairing.Proposal
		h.want(200, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Table, Weights: colour, Ordering: ordering}, &proposal)
		rules[proposal.Rule] = true
	}
	if len(rules) < 3 {
		t.Errorf("%d orderings are told in these sentences: %v", len(pairing.Orderings()), rules)
	}
	var none, all pairing.Proposal
	h.want(200, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Table, Weights: colour, Enough: 2}, &none)
	h.want(200, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Table, Weights: colour, Enough: .01}, &all)
	if len(none.Spreads) >= len(all.Spreads) || len(none.Left) <= len(all.Left) || none.Left[0].Why == "" {
		t.Errorf("a high floor proposes %d spreads and leaves %v, a low one %d and %v", len(none.Spreads), none.Left, len(all.Spreads), all.Left)
	}
	h.refused(400, sequence.Invalid, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Table, Ordering: "whim"})
	h.refused(400, sequence.Invalid, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Table, Enough: 3})
}

func TestSomeSpreadsOfAnArrangementAreAccepted(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(8))
	asked := arrangementAsked{Scope: pairing.Table, Weights: map[string]float64{"colour": 1}, Enough: .01}
	var proposal pairing.Proposal
	h.want(200, "POST", at+"/arrangement", asked, &proposal)
	if len(proposal.Spreads) < 3 {
		t.Fatalf("%d spreads are proposed", len(proposal.Spreads))
	}
	some := acceptance{Plan: asked, Spreads: []sequence.SpreadID{proposal.Spreads[2].Spread, proposal.Spreads[0].Spread}}
	var change sequence.Change
	h.want(200, "POST", at+"/arrangement/accept", some, &change)
	var now changed
	h.want(200, "POST", at+"/changes", change, &now)
	pairs, want := now.Wall.Sequence.Pairs(), proposal.Sequence.Pairs()
	if len(pairs) != 2 || pairs[0] != want[0] || pairs[1] != want[2] {
		t.Errorf("hung %v, accepted the first and the third of %v", pairs, want)
	}
	if is := h.refused(409, sequence.Stale, "POST", at+"/arrangement/accept", some); is.Wall == nil {
		t.Error("the wall is not told")
	}
	some.Revision, some.Spreads = 1, []sequence.SpreadID{99}
	h.refused(404, sequence.NotFound, "POST", at+"/arrangement/accept", some)
}
