package server

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"pairwall/sequence"
	"pairwall/store"
)

type titleList struct {
	Titles []store.TitleSummary `json:"titles"`
}

type newTitle struct {
	Name string `json:"name"`
}

type amendment struct {
	Name    *string            `json:"name,omitempty"`
	Weights map[string]float64 `json:"weights,omitempty"` // by kind of evidence or relation, 0..1
}

// titleState is all a window needs to draw a title.
type titleState struct {
	Title    sequence.Title  `json:"title"`
	Photos   []photoShown    `json:"photos"`
	Wall     store.Wall      `json:"wall"`
	Refusals []store.Refusal `json:"refusals"`
	Brings   []store.Bring   `json:"brings"`
	Arriving []arrivingEvent `json:"arriving"` // photographs on their way in
}

func (s *Server) listTitles(r *http.Request) (titleList, error) {
	titles, err := s.store.Titles(r.Context())
	return titleList{titles}, err
}

func (s *Server) createTitle(r *http.Request, in newTitle) (sequence.Title, error) {
	return s.store.CreateTitle(r.Context(), in.Name)
}

func (s *Server) showTitle(r *http.Request) (titleState, error) {
	var state titleState
	var err error
	if state.Title, err = s.title(r); err != nil {
		return state, err
	}
	id := state.Title.ID
	// The wall comes before the photos: a photo that arrives in between is then
	// on the table at worst, where the wall could name one nobody has heard of.
	if state.Wall, err = s.store.Wall(r.Context(), id); err != nil {
		return state, err
	}
	photos, err := s.store.Photos(r.Context(), id)
	if err != nil {
		return state, err
	}
	s.desk(id).measure.forgetUnless(len(photos))
	if state.Refusals, err = s.store.Refusals(r.Context(), id); err != nil {
		return state, err
	}
	if state.Brings, err = s.store.Brings(r.Context(), id); err != nil {
		return state, err
	}
	state.Arriving = s.desk(id).onTheirWay()
	state.Photos = s.showAll(r.Context(), photos)
	return state, nil
}

func (s *Server) amendTitle(r *http.Request, in amendment) (sequence.Title, error) {
	title, err := s.title(r)
	if err != nil {
		return title, err
	}
	if err := checkWeights(in.Weights); err != nil { // before any part of it is made
		return title, err
	}
	d := s.desk(title.ID)
	d.writing.Lock()
	defer d.writing.Unlock()
	if in.Name != nil {
		if err := s.store.RenameTitle(r.Context(), title.ID, *in.Name); err != nil {
			return title, err
		}
	}
	if in.Weights != nil {
		if err := s.store.SetWeights(r.Context(), title.ID, in.Weights); err != nil {
			return title, err
		}
	}
	if title, err = s.store.Title(r.Context(), title.ID); err != nil {
		return title, err
	}
	d.hub.Publish("title", titleEvent{title})
	return title, nil
}

// checkWeights refuses weights of evidence we do not gather, or beyond 0..1.
func checkWeights(weights map[string]float64) error {
	for kind, weight := range weights {
		if !slices.Contains(vocabulary(), kind) {
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no evidence called %q.", kind),
				Hint: "There is " + strings.Join(vocabulary(), ", ") + "."}
		}
		if !(weight >= 0 && weight <= 1) { // so written, NaN is refused too
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The weight of %s must lie between 0 and 1.", kind)}
		}
	}
	return nil
}
