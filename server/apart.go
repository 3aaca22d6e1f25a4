package server

import (
	"net/http"

	"pairwall/sequence"
)

type apartList struct {
	Pairs []sequence.Pair `json:"pairs"` // lower number first
}

type apartAsked struct {
	Pair  sequence.Pair `json:"pair"`
	Apart bool          `json:"apart"`
}

func (s *Server) listApart(r *http.Request) (apartList, error) {
	title, err := s.title(r)
	if err != nil {
		return apartList{}, err
	}
	pairs, err := s.store.Apart(r.Context(), title.ID)
	return apartList{pairs}, err
}

func (s *Server) keepApart(r *http.Request, in apartAsked) (apartList, error) {
	title, err := s.title(r)
	if err != nil {
		return apartList{}, err
	}
	if err := s.store.KeepApart(r.Context(), title.ID, in.Pair, in.Apart); err != nil {
		return apartList{}, err
	}
	return s.listApart(r)
}
