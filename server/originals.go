package server

import (
	"context"
	"log/slog"
	"net/http"
	"path/filepath"

	"pairwall/sequence"
	"pairwall/server/bringing"
	"pairwall/store"
)

type lookIn struct {
	Folder string `json:"folder"`
}

func (s *Server) lookAtOriginals(r *http.Request) (bringing.Originals, error) {
	title, err := s.title(r)
	if err != nil {
		return bringing.Originals{}, err
	}
	photos, err := s.store.Photos(r.Context(), title.ID)
	if err != nil {
		return bringing.Originals{}, err
	}
	look := bringing.Look(r.Context(), photos)
	return look, r.Context().Err()
}

// findOriginals begins to look for lost originals below a folder and answers
// how many there are to find.
func (s *Server) findOriginals(r *http.Request, in lookIn) (bringing.Search, error) {
	title, err := s.title(r)
	if err != nil {
		return bringing.Search{}, err
	}
	if err := s.checkFolder(in.Folder); err != nil {
		return bringing.Search{}, err
	}
	look, err := s.lookAtOriginals(r)
	if err != nil {
		return bringing.Search{}, err
	}
	d := s.desk(title.ID)
	if !d.searching.CompareAndSwap(false, true) {
		return bringing.Search{}, &sequence.Error{Code: sequence.Conflict, Message: "Originals are being looked for already."}
	}
	search := bringing.Search{Missing: len(look.Missing) + len(look.Changed), Words: "Looking for originals.", State: store.Running}
	err = s.background(func(ctx context.Context) {
		defer d.searching.Store(false)
		defer d.takeTurn(ctx)()
		s.search(ctx, d, title.ID, filepath.Clean(in.Folder))
	})
	if err != nil {
		d.searching.Store(false)
	}
	return search, err
}

func (s *Server) search(ctx context.Context, d *desk, title sequence.TitleID, folder string) {
	search, err := bringing.Find(ctx, s.store, s.data, title, folder, func(now bringing.Search, p *sequence.Photo) {
		d.hub.Publish("photo", photoEvent{s.show(*p)})
		d.hub.Publish("originals", now)
	})
	if err != nil && sequence.CodeOf(err) != sequence.Cancelled && ctx.Err() == nil {
		s.log.Error("looking for originals failed", slog.Any("error", err))
	}
	d.hub.Publish("originals", search)
}
