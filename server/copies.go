package server

import (
	"context"
	"net/http"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/store"
)

type countryList struct {
	Countries  []orders.Named  `json:"countries"`  // by name
	Currencies []currencyShown `json:"currencies"` // by code
}

// editionShown is the edition and what one copy of it measures.
type editionShown struct {
	store.EditionState
	Copied edition.Copied `json:"copied"`
	Pages  int            `json:"pages"` // that the wall and the page plan make
}

type editionSaid struct {
	Revision int             `json:"revision"` // of the edition the maker sees
	Edition  edition.Edition `json:"edition"`
}

func (s *Server) listCountries(*http.Request) (countryList, error) {
	return countryList{orders.Countries(), currencies()}, nil
}

func (s *Server) showEdition(r *http.Request) (editionShown, error) {
	title, err := s.title(r)
	if err != nil {
		return editionShown{}, err
	}
	return s.editionNow(r, title.ID)
}

func (s *Server) editionNow(r *http.Request, title sequence.TitleID) (shown editionShown, err error) {
	if shown.EditionState, err = s.store.Edition(r.Context(), title); err != nil {
		return shown, err
	}
	m, err := s.matter(r)
	if err != nil {
		return shown, err
	}
	shown.Pages = m.Facts().Pages
	shown.Copied = shown.Edition.Build(m.Format, shown.Pages).Copy()
	return shown, nil
}

func (s *Server) saveEdition(r *http.Request, in editionSaid) (shown editionShown, err error) {
	err = s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error {
		return s.store.SetEdition(ctx, title, in.Revision, in.Edition)
	})
	if err != nil {
		return shown, err
	}
	return s.showEdition(r)
}

func (s *Server) moveCopies(r *http.Request, in edition.Move) (shown editionShown, err error) {
	err = s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error { return s.store.MoveCopies(ctx, title, in) })
	if err != nil {
		return shown, err
	}
	return s.showEdition(r)
}

// copiesChange is the one way on which copies, orders and the post's tables
// change: commit, then tell every window, under the title's lock so that both
// happen in the same order.
func (s *Server) copiesChange(r *http.Request, do func(context.Context, sequence.TitleID) error) error {
	title, err := s.title(r)
	if err != nil {
		return err
	}
	d := s.desk(title.ID)
	d.writing.Lock()
	defer d.writing.Unlock()
	if err := do(r.Context(), title.ID); err != nil {
		return err
	}
	d.hub.Publish("copies", nothing{})
	return nil
}
