package server

import (
	"bytes"
	"context"
	"net/http"
	"strconv"
	"time"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/server/gate"
	"pairwall/server/printing"
	"pairwall/server/route"
	"pairwall/store"
	"pairwall/web"
)

// bookAsked is a format and a plan to look at before they are taken.
type bookAsked struct {
	Format pages.Format `json:"format"`
	Plan   pages.Plan   `json:"plan"`
}

// pagesEvent tells a window that format or plan are others.
type pagesEvent struct {
	Pages store.Pages `json:"pages"`
}

// formatList is what a format can be made from.
type formatList struct {
	Sizes []pages.TrimSize `json:"sizes"`
	First pages.Format     `json:"first"` // what a title begins with
	Inner pages.Length     `json:"inner"` // the least inner margin of a glued block, besides what the gutter hides
	Hides pages.Length     `json:"hides"` // of each page, the gutter of a glued block
}

func (s *Server) listFormats(*http.Request) (formatList, error) {
	return formatList{Sizes: pages.TrimSizes, First: pages.FirstFormat, Inner: pages.PerfectInner, Hides: pages.PerfectSwallow}, nil
}

func (s *Server) showPages(r *http.Request) (store.Pages, error) {
	title, err := s.title(r)
	if err != nil {
		return store.Pages{}, err
	}
	return s.store.Pages(r.Context(), title.ID)
}

func (s *Server) savePages(r *http.Request, in store.PagesWanted) (store.Pages, error) {
	return s.repage(r, func(ctx context.Context, title sequence.TitleID, from string) (store.Pages, error) {
		return s.store.SavePages(ctx, title, in, from)
	})
}

func (s *Server) undoPages(r *http.Request, in onRevision) (store.Pages, error) {
	return s.repage(r, func(ctx context.Context, title sequence.TitleID, from string) (store.Pages, error) {
		return s.store.UndoPages(ctx, title, in.Revision, from)
	})
}

func (s *Server) redoPages(r *http.Request, in onRevision) (store.Pages, error) {
	return s.repage(r, func(ctx context.Context, title sequence.TitleID, from string) (store.Pages, error) {
		return s.store.RedoPages(ctx, title, in.Revision, from)
	})
}

// repage is the one way on which format and plan change: commit, then tell every
// window, under the title's lock so that both happen in the same order.
func (s *Server) repage(r *http.Request, do func(context.Context, sequence.TitleID, string) (store.Pages, error)) (store.Pages, error) {
	title, err := s.title(r)
	if err != nil {
		return store.Pages{}, err
	}
	d := s.desk(title.ID)
	d.writing.Lock()
	defer d.writing.Unlock()
	now, err := do(r.Context(), title.ID, r.Header.Get(gate.Window))
	if err != nil {
		return store.Pages{}, route.WithPages(err, now)
	}
	d.hub.Publish("pages", pagesEvent{now})
	is, err := s.store.Title(r.Context(), title.ID)
	if err == nil && is.Binding != title.Binding {
		d.hub.Publish("title", titleEvent{is})
	}
	return now, err
}

func (s *Server) showBook(r *http.Request) (printing.BookShown, error) {
	m, err := s.matter(r)
	if err != nil {
		return printing.BookShown{}, err
	}
	return s.press.Show(m)
}

func (s *Server) tryBook(r *http.Request, in bookAsked) (printing.BookShown, error) {
	m, err := s.matter(r)
	if err != nil {
		return printing.BookShown{}, err
	}
	m.Format, m.Plan = in.Format, in.Plan.Tidied()
	if err := m.Format.Check(); err != nil {
		return printing.BookShown{}, err
	}
	if err := m.Plan.Check(m.Format); err != nil {
		return printing.BookShown{}, err
	}
	return s.press.Show(m)
}

// font sends a face that is printed with, so that the page shows words as they
// will be.
func (s *Server) font(w http.ResponseWriter, r *http.Request) error {
	n, err := strconv.Atoi(chi.URLParam(r, "face"))
	if err != nil || n < 1 || n > len(web.Fonts) {
		return route.NoSuch("typeface")
	}
	w.Header().Set("Content-Type", "font/ttf")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(web.Fonts[n-1]))
	return nil
}
