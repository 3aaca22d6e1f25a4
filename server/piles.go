package server

import (
	"net/http"
	"net/url"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/sequence/pairing/piles"
	"pairwall/server/route"
)

type pileList struct {
	Piles []piles.Pile `json:"piles"`
}

// listPiles gives the photos that are nearly the same picture; all of them stay
// where they are.
func (s *Server) listPiles(r *http.Request) (pileList, error) {
	title, err := s.title(r)
	if err != nil {
		return pileList{}, err
	}
	photos, err := s.store.Photos(r.Context(), title.ID)
	return pileList{list(piles.Of(photos))}, err
}

type rollAsked struct {
	Reversed bool `json:"reversed"`
}

// reverseRoll gives the change that numbers a roll's frames the other way; it is
// the page that makes it, or does not.
func (s *Server) reverseRoll(r *http.Request, in rollAsked) (sequence.Change, error) {
	title, err := s.title(r)
	if err != nil {
		return sequence.Change{}, err
	}
	if !in.Reversed {
		return sequence.Change{}, &sequence.Error{Code: sequence.Invalid, Message: "That would leave the roll as it is."}
	}
	roll := chi.URLParam(r, "roll")
	if r.URL.RawPath != "" { // then the router has seen the name as it was written
		if roll, err = url.PathUnescape(roll); err != nil {
			return sequence.Change{}, route.NoSuch("roll")
		}
	}
	wall, err := s.store.Wall(r.Context(), title.ID)
	if err != nil {
		return sequence.Change{}, err
	}
	photos, err := s.store.Photos(r.Context(), title.ID)
	if err != nil {
		return sequence.Change{}, err
	}
	return sequence.ReverseRoll(photos, roll, wall.Sequence.Revision)
}
