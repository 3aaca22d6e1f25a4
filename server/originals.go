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
	ctx, cancel := context.WithCancelCause(s.ctx)
	if !d.beginSearch(cancel) {
		cancel(nil)
		return bringing.Search{}, &sequence.Error{Code: sequence.Conflict, Message: "Originals are being looked for already."}
	}
	search := bringing.Search{Missing: len(look.Missing) + len(look.Changed), Words: "Looking for originals.", State: store.Running}
	err = s.background(func(context.Context) {
		defer d.endSearch()
		defer d.takeTurn(ctx)()
		s.search(ctx, d, title.ID, filepath.Clean(in.Folder))
	})
	if err != nil {
		d.endSearch()
	}
	return search, err
}

// cancelSearch asks looking for originals to stop; what was found stays found.
// Its event says when it has stopped; none under way is left at that.
func (s *Server) cancelSearch(r *http.Request) (nothing, error) {
	title, err := s.title(r)
	if err != nil {
		return nothing{}, err
	}
	d := s.desk(title.ID)
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.searching != nil {
		d.searching(errStopped)
	}
	return nothing{}, nil
}

// beginSearch is false when a search is under way already.
func (d *desk) beginSearch(cancel context.CancelCauseFunc) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.searching != nil {
		return false
	}
	d.searching = cancel
	return true
}

func (d *desk) endSearch() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.searching(nil)
	d.searching = nil
}

func (s *Server) search(ctx context.Context, d *desk, title sequence.TitleID, folder string) {
	search, err := bringing.Find(ctx, s.store, s.data, title, folder, func(now bringing.Search, p *sequence.Photo) {
		if p != nil {
			d.hub.Publish("photo", photoEvent{s.show(*p)})
		}
		d.hub.Publish("originals", now)
	})
	if err != nil && sequence.CodeOf(err) != sequence.Cancelled && ctx.Err() == nil {
		s.log.Error("looking for originals failed", slog.Any("error", err))
	}
	d.hub.Publish("originals", search)
}
