package server

import (
	"net/http"

	"pairwall/sequence"
	"pairwall/sequence/pairing"
	"pairwall/server/route"
)

type lossList struct {
	Losses []pairing.Loss `json:"losses"`
}

type suggestionList struct {
	Suggestions []pairing.Suggestion `json:"suggestions"`
}

// listLosses helps to edit down; it advises and decides nothing.
func (s *Server) listLosses(r *http.Request) (lossList, error) {
	title, err := s.title(r)
	if err != nil {
		return lossList{}, err
	}
	wall, err := s.store.Wall(r.Context(), title.ID)
	if err != nil {
		return lossList{}, err
	}
	measures, _, err := s.measures(r.Context(), title.ID)
	if err != nil {
		return lossList{}, err
	}
	asked := r.URL.Query()
	if !asked.Has("photo") {
		return lossList{list(measures.Losses(wall.Sequence))}, nil
	}
	loss, err := measures.Loss(wall.Sequence, sequence.PhotoID(whole(asked, "photo", 0)))
	return lossList{[]pairing.Loss{loss}}, err
}

// suggestFeelings offers words the maker has used, never one of ours.
func (s *Server) suggestFeelings(r *http.Request) (suggestionList, error) {
	title, err := s.title(r)
	if err != nil {
		return suggestionList{}, err
	}
	photo, err := route.Number(r, "photo")
	if err != nil {
		return suggestionList{}, err
	}
	measures, _, err := s.measures(r.Context(), title.ID)
	if err != nil {
		return suggestionList{}, err
	}
	suggestions, err := measures.Suggest(sequence.PhotoID(photo))
	return suggestionList{list(suggestions)}, err
}
