package server

import (
	"net/http"

	"pairwall/sequence/pairing"
)

type arrangementAsked struct {
	Scope   pairing.Scope      `json:"scope"`
	Weights map[string]float64 `json:"weights,omitempty"` // by kind of evidence, 0..1; the title's own when left out
}

// arrange proposes; it is the page that makes the proposal's change, or does
// not.
func (s *Server) arrange(r *http.Request, in arrangementAsked) (pairing.Proposal, error) {
	title, err := s.title(r)
	if err != nil {
		return pairing.Proposal{}, err
	}
	if in.Weights == nil {
		in.Weights = title.Weights
	}
	wall, err := s.store.Wall(r.Context(), title.ID)
	if err != nil {
		return pairing.Proposal{}, err
	}
	measures, photos, err := s.measures(r.Context(), title.ID)
	if err != nil {
		return pairing.Proposal{}, err
	}
	return measures.Arrange(wall.Sequence, wall.Sequence.Table(photos), in.Weights, in.Scope)
}
