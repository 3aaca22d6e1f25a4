package server

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/press/preflight"
	"pairwall/server/bringing"
	"pairwall/server/printing"
	"pairwall/server/route"
	"pairwall/store"
)

// coverWanted is a cover as the maker wants it.
type coverWanted struct {
	Revision int64           `json:"revision"` // of the cover the maker sees
	Plan     pages.CoverPlan `json:"plan"`
}

// coverRoutes are about the cover.
func coverRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Gives("GET", coverAt, "Gives the cover laid flat with its figures, the brief for whoever designs it, and what was found in the designer's file.",
			(*Server).showCover, sequence.NotFound, sequence.Damaged),
		route.Takes("PUT", coverAt, "Keeps the figures of the cover, and the simple cover for the test copy.",
			(*Server).planCover, sequence.NotFound, sequence.Stale, sequence.Damaged),
		route.Gives("POST", coverAt+"/file", "Takes the designer's PDF and tells what was found in it; the file itself is not kept.",
			(*Server).bringCover, sequence.NotFound, sequence.Invalid, sequence.TooLarge, sequence.Damaged, sequence.Unsupported, sequence.Unreadable, route.WrongMedia).
			Uploading().Answering(http.StatusCreated),
		route.Gives("DELETE", coverAt+"/file", "Forgets the designer's PDF, and its picture.", (*Server).dropCover, sequence.NotFound),
		route.Gives("POST", coverAt+"/view", "Takes a picture of the flat cover, to be shown around the block.",
			(*Server).viewCover, sequence.NotFound, sequence.Invalid, sequence.TooLarge, sequence.Damaged, sequence.Unsupported, sequence.Unreadable, route.WrongMedia).
			Uploading().Answering(http.StatusCreated),
		route.Sends("/covers/{title}/view.jpg", "Gives the picture of the flat cover.", "image/jpeg", (*Server).coverView, sequence.NotFound).Asking(
			route.Parameter{Name: "of", Kind: "integer", Doc: "Which picture, so that a new one is not taken for the old: the cover's revision."}),
		route.Sends("/out/{title}/cover-template.{form}", "Makes a template of the cover: pdf, or png with its bleed and no more.",
			"*/*", (*Server).coverTemplate, sequence.NotFound, sequence.Unreadable).Asking(
			route.Parameter{Name: "ppi", Kind: "integer", Doc: "Of a png: pixels to the inch, 72 to 400; 300 when left out."}),
		route.Sends("/out/{title}/cover-brief.txt", "Gives the brief for whoever designs the cover.", "text/plain", (*Server).coverBrief, sequence.NotFound, sequence.Unreadable),
	}
}

func (s *Server) showCover(r *http.Request) (printing.CoverShown, error) {
	m, err := s.matter(r)
	if err != nil {
		return printing.CoverShown{}, err
	}
	return s.press.ShowCover(m)
}

func (s *Server) planCover(r *http.Request, in coverWanted) (printing.CoverShown, error) {
	return s.changeCover(r, func(title sequence.TitleID) error {
		_, err := s.store.PlanCover(r.Context(), title, in.Revision, in.Plan)
		return err
	})
}

// changeCover is what every change of a cover goes through: other windows are
// told, and the cover is laid out anew.
func (s *Server) changeCover(r *http.Request, do func(sequence.TitleID) error) (printing.CoverShown, error) {
	title, err := s.title(r)
	if err != nil {
		return printing.CoverShown{}, err
	}
	if err := do(title.ID); err != nil {
		return printing.CoverShown{}, err
	}
	s.desk(title.ID).hub.Publish("cover", nothing{})
	return s.showCover(r)
}

// bringCover looks into a designer's PDF.
func (s *Server) bringCover(r *http.Request) (printing.CoverShown, error) {
	return s.changeCover(r, func(title sequence.TitleID) error {
		return s.passing(r, preflight.MostBytes, func(name, path, scratch string) error {
			brought, err := sumOf(path)
			if err != nil {
				return err
			}
			brought.Name, brought.At = name, s.store.Now()
			var view []byte
			if brought.Facts, view, err = printing.LookAtCover(r.Context(), s.pool, path, scratch); err != nil {
				return err
			}
			brought.Shown = view != nil
			_, err = s.store.BringCover(r.Context(), title, &brought, view)
			return err
		})
	})
}

func sumOf(path string) (b store.BroughtCover, err error) {
	file, err := os.Open(path)
	if err != nil {
		return b, bringing.Unreadable("the file that was sent", err)
	}
	defer file.Close()
	sum := sha256.New()
	if b.Bytes, err = io.Copy(sum, file); err != nil {
		return b, bringing.Unreadable("the file that was sent", err)
	}
	b.Sum = hex.EncodeToString(sum.Sum(nil))
	return b, nil
}

// mostView is how large a picture of a cover may be, in bytes: as large as a
// drawing program exports one.
const mostView = 128 << 20

// viewCover keeps a picture of the flat cover.
func (s *Server) viewCover(r *http.Request) (printing.CoverShown, error) {
	return s.changeCover(r, func(title sequence.TitleID) error {
		return s.passing(r, mostView, func(_, path, scratch string) error {
			shot, err := s.pool.Shot(r.Context(), path, scratch)
			if err != nil {
				return err
			}
			_, err = s.store.ShowCover(r.Context(), title, shot.View)
			return err
		})
	})
}

// passing keeps the one file of an upload in a folder of its own for as long as
// use uses it.
func (s *Server) passing(r *http.Request, most int64, use func(name, path, scratch string) error) error {
	parts, err := uploaded(r)
	if err != nil {
		return err
	}
	scratch, err := os.MkdirTemp("", "pairwall-cover-")
	if err != nil {
		return bringing.Unreadable("the folder for passing files", err)
	}
	defer os.RemoveAll(scratch)
	name, path := "", ""
	err = eachFile(r.Context(), parts, func(part *multipart.Part) error {
		if path != "" {
			return &sequence.Error{Code: sequence.Invalid, Message: "One file at a time, please."}
		}
		name, path = part.FileName(), filepath.Join(scratch, "sent"+filepath.Ext(bringing.SafeName(part.FileName())))
		return keep(path, part, most)
	})
	if err == nil && path == "" {
		err = &sequence.Error{Code: sequence.Invalid, Message: "No file was sent."}
	}
	if err != nil {
		return err
	}
	return use(name, path, scratch)
}

func keep(path string, from io.Reader, most int64) error {
	file, err := os.Create(path)
	if err != nil {
		return bringing.Unreadable("the file that was sent", err)
	}
	defer file.Close()
	n, err := io.Copy(file, io.LimitReader(from, most+1))
	if err != nil {
		return &sequence.Error{Code: sequence.Invalid, Message: "The file did not arrive whole.", Hint: "Choose it again; see whether the disk is full.", Err: err}
	}
	if n > most {
		return &sequence.Error{Code: sequence.TooLarge, Message: fmt.Sprintf("This file has more than %d MB.", most>>20), Hint: "Ask for one with pictures of 300 pixels to the inch, not more."}
	}
	return nil
}

func (s *Server) dropCover(r *http.Request) (printing.CoverShown, error) {
	return s.changeCover(r, func(title sequence.TitleID) error {
		_, err := s.store.BringCover(r.Context(), title, nil, nil)
		return err
	})
}

func (s *Server) coverView(w http.ResponseWriter, r *http.Request) error {
	title, err := s.title(r)
	if err != nil {
		return err
	}
	view, err := s.store.CoverView(r.Context(), title.ID)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/jpeg")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(view))
	return nil
}

func (s *Server) coverTemplate(w http.ResponseWriter, r *http.Request) error {
	m, err := s.matter(r)
	if err != nil {
		return err
	}
	switch chi.URLParam(r, "form") {
	case "pdf":
		return s.sendMade(w, r, "application/pdf", fileName(m.Title.Name, "cover template", "pdf"), func(out io.Writer) error { return s.press.CoverTemplate(out, m) })
	case "png":
		ppi := pages.WantedPPI
		if asked := r.URL.Query(); asked.Has("ppi") {
			ppi, _ = strconv.Atoi(asked.Get("ppi")) // the route has looked that it is a number
		}
		return s.sendMade(w, r, "image/png", fileName(m.Title.Name, fmt.Sprintf("cover template %d ppi", ppi), "png"),
			func(out io.Writer) error { return s.press.CoverTemplatePicture(out, m, ppi) })
	}
	return route.NoSuch("form of a template")
}

func (s *Server) coverBrief(w http.ResponseWriter, r *http.Request) error {
	m, err := s.matter(r)
	if err != nil {
		return err
	}
	return s.sendMade(w, r, "text/plain; charset=utf-8", fileName(m.Title.Name, "cover brief", "txt"), func(out io.Writer) error {
		shown, err := s.press.ShowCover(m)
		if err == nil {
			_, err = io.WriteString(out, shown.Brief)
		}
		return err
	})
}
