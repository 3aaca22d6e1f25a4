package server

import (
	"net/http"

	"pairwall/sequence"
	"pairwall/sequence/pairing"
	"pairwall/server/route"
	"pairwall/store"
)

// arrangementAsked is a pairing.Plan as it is asked for: the photos on the table
// and the pairs kept apart are the title's.
type arrangementAsked struct {
	Scope    pairing.Scope      `json:"scope"`
	Weights  map[string]float64 `json:"weights,omitempty"`  // by kind of evidence or relation, 0..1; the title's own when left out
	Ordering pairing.Ordering   `json:"ordering,omitempty"` // the one that fits what is known when left out
	Enough   float64            `json:"enough,omitempty"`   // the part of the title's typical score that a pair must reach, 0..2; half when left out
	Singles  bool               `json:"singles,omitempty"`  // hang photos without a good partner alone on a right page
	Refused  []sequence.Pair    `json:"refused,omitempty"`  // pairs not wanted this time, besides those kept apart
	Chapters bool               `json:"chapters,omitempty"` // keep the wall's chapters together, each by itself; without it they end where their spreads move
	First    sequence.PhotoID   `json:"first,omitempty"`    // the photos whose spreads begin and end what is put in order
	Last     sequence.PhotoID   `json:"last,omitempty"`
}

// acceptance is the same plan again, with the spreads of its proposal that are
// accepted: a plan on the same wall always gives the same proposal.
type acceptance struct {
	Plan     arrangementAsked    `json:"plan"`
	Revision int64               `json:"revision"` // of the wall that the proposal was made for
	Spreads  []sequence.SpreadID `json:"spreads"`  // by their number in the proposal
}

// arrange proposes; it is the page that makes the proposal's change, or does
// not.
func (s *Server) arrange(r *http.Request, in arrangementAsked) (pairing.Proposal, error) {
	proposal, _, err := s.propose(r, in)
	return proposal, err
}

// accept gives the change that takes some spreads of a proposal.
func (s *Server) accept(r *http.Request, in acceptance) (sequence.Change, error) {
	proposal, wall, err := s.propose(r, in.Plan)
	if err != nil {
		return sequence.Change{}, err
	}
	if wall.Sequence.Revision != in.Revision {
		return sequence.Change{}, route.WithWall(&sequence.Error{Code: sequence.Stale, Message: "The wall has changed since this was proposed.",
			Hint: "Ask for a new proposal."}, wall)
	}
	change, err := proposal.Accept(wall.Sequence, in.Spreads)
	change.Steps = list(change.Steps)
	return change, err
}

func (s *Server) propose(r *http.Request, in arrangementAsked) (proposal pairing.Proposal, wall store.Wall, err error) {
	title, err := s.title(r)
	if err != nil {
		return proposal, wall, err
	}
	if in.Weights == nil {
		in.Weights = title.Weights
	}
	if err := checkWeights(in.Weights); err != nil {
		return proposal, wall, err
	}
	apart, err := s.store.Apart(r.Context(), title.ID)
	if err != nil {
		return proposal, wall, err
	}
	if wall, err = s.store.Wall(r.Context(), title.ID); err != nil {
		return proposal, wall, err
	}
	measures, photos, err := s.measures(r.Context(), title.ID)
	if err != nil {
		return proposal, wall, err
	}
	var chapters []pairing.ChapterPhotos
	if in.Chapters {
		chapters = pairing.ChaptersOf(wall.Sequence)
	}
	proposal, err = measures.Propose(wall.Sequence, pairing.Plan{Scope: in.Scope, Table: wall.Sequence.Table(photos), Balance: in.Weights,
		Refused: append(apart, in.Refused...), Enough: in.Enough, Singles: in.Singles, Ordering: in.Ordering, Chapters: chapters,
		First: in.First, Last: in.Last})
	return proposal, wall, err
}
