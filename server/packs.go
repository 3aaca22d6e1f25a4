package server

import (
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"time"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/server/packing"
	"pairwall/server/route"
)

func (s *Server) packer() packing.Packer {
	return packing.Packer{Store: s.store, Cards: s.cards, Data: s.data}
}

func packQuery() []route.Parameter {
	return []route.Parameter{
		{Name: "places", Kind: "integer", Doc: "1: with positions, tracks, folder names, orders and prices; 0 when left out."},
		{Name: "originals", Kind: "integer", Doc: "1: with the original files, which hold their positions; 0 when left out."},
	}
}

// packed sends a title as one file.
func (s *Server) packed(w http.ResponseWriter, r *http.Request) error {
	title, err := s.title(r)
	if err != nil {
		return err
	}
	var wish packing.Wish
	if wish.Places, err = flagged(r.URL.Query(), "places"); err != nil {
		return err
	}
	if wish.Originals, err = flagged(r.URL.Query(), "originals"); err != nil {
		return err
	}
	return s.sendMade(w, r, "application/zip", fileName(title.Name, "packed", "zip"), func(out io.Writer) error {
		_, err := s.packer().Pack(r.Context(), out, title.ID, wish, func(int, int) {})
		return err
	})
}

// sendMade sends a file that make writes. It is made whole first: an error in
// the middle would otherwise leave half a file with the maker.
func (s *Server) sendMade(w http.ResponseWriter, r *http.Request, media, name string, make func(io.Writer) error) error {
	file, err := os.CreateTemp("", "pairwall-*")
	if err != nil {
		return &sequence.Error{Code: sequence.Unreadable, Message: "There is no room to make the file in.", Hint: "See whether the disk is full.", Err: err}
	}
	defer os.Remove(file.Name())
	defer file.Close()
	if err := make(file); err != nil {
		return err
	}
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return fmt.Errorf("going back to the beginning of what was made: %w", err)
	}
	w.Header().Set("Content-Type", media)
	w.Header().Set("Content-Disposition", "attachment; filename*=UTF-8''"+url.PathEscape(name))
	w.Header().Set("Cache-Control", "no-store")
	http.ServeContent(w, r, "", time.Time{}, file)
	return nil
}

// unpack takes a packed title in.
func (s *Server) unpack(r *http.Request) (title sequence.Title, err error) {
	parts, err := uploaded(r)
	if err != nil {
		return title, err
	}
	found := false
	err = eachFile(r.Context(), parts, func(part *multipart.Part) error {
		if found {
			return &sequence.Error{Code: sequence.Invalid, Message: "One packed title at a time, please."}
		}
		found = true
		title, err = s.unpackFrom(r, part)
		return err
	})
	if err == nil && !found {
		err = &sequence.Error{Code: sequence.Invalid, Message: "No file was sent."}
	}
	return title, err
}

func (s *Server) unpackFrom(r *http.Request, part io.Reader) (sequence.Title, error) {
	file, err := os.CreateTemp(s.data, ".unpacking-*.zip")
	if err != nil {
		return sequence.Title{}, &sequence.Error{Code: sequence.Unreadable, Message: "There is no room for the file.", Hint: "See whether the disk is full.", Err: err}
	}
	defer os.Remove(file.Name())
	defer file.Close()
	size, err := io.Copy(file, part)
	if err != nil {
		return sequence.Title{}, &sequence.Error{Code: sequence.Invalid, Message: "The file did not arrive whole.", Hint: "Choose it again; see whether the disk is full.", Err: err}
	}
	return s.packer().Unpack(r.Context(), file, size, func(int, int) {})
}

// ordered sends the order of the pages as a table or as JSON.
func (s *Server) ordered(w http.ResponseWriter, r *http.Request) error {
	m, err := s.matter(r)
	if err != nil {
		return err
	}
	if chi.URLParam(r, "form") == "csv" {
		return s.sendMade(w, r, "text/csv; charset=utf-8", fileName(m.Title.Name, "order", "csv"), m.CSV)
	}
	if chi.URLParam(r, "form") == "json" {
		return s.sendMade(w, r, "application/json", fileName(m.Title.Name, "order", "json"), m.JSON)
	}
	return route.NoSuch("form of the order")
}
