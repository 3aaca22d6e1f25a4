package server

import (
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"mime"
	"net/http"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
)

// bodyBound holds a change that touches every spread of a thousand several
// times over.
const bodyBound = 4 << 20

func (s *Server) write(w http.ResponseWriter, r *http.Request, status int, body any) {
	text, err := json.Marshal(body)
	if err != nil {
		s.log.ErrorContext(r.Context(), "answer cannot be written as JSON", slog.String("route", routeOf(r)), slog.Any("error", err))
		status = http.StatusInternalServerError
		text, _ = json.Marshal(internalProblem()) // strings only: this cannot fail
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	if _, err := w.Write(append(text, '\n')); err != nil {
		s.log.DebugContext(r.Context(), "the window went away", slog.Any("error", err))
	}
}

// decode reads a JSON body. Unknown fields are refused: they are a slip of the
// pen in the page, better seen than passed over.
func decode(r *http.Request, into any) error {
	if media, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type")); media != "application/json" {
		return &sequence.Error{Code: wrongMedia, Message: "This address takes application/json."}
	}
	read := json.NewDecoder(http.MaxBytesReader(nil, r.Body, bodyBound))
	read.DisallowUnknownFields()
	err := read.Decode(into)
	if err == nil {
		if _, err = read.Token(); errors.Is(err, io.EOF) {
			return nil
		}
		err = errors.New("more than one value")
	}
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return &sequence.Error{Code: sequence.TooLarge, Message: "This request is larger than we take.", Err: err}
	}
	return &sequence.Error{Code: sequence.Invalid, Message: "We cannot read this request: " + jsonWords(err) + ".",
		Hint: "Reload the page; it may be older than the program.", Err: err}
}

func jsonWords(err error) string {
	return strings.ReplaceAll(strings.TrimPrefix(err.Error(), "json: "), "Go ", "")
}

// checkQuery refuses what the table does not list or what is not of its kind,
// so that handlers can take parameters as they stand.
func (l route) checkQuery(r *http.Request) error {
	asked := r.URL.Query()
	for _, p := range l.query {
		if p.required && asked.Get(p.name) == "" {
			return &sequence.Error{Code: sequence.Invalid, Message: "This request must say " + strconv.Quote(p.name) + "."}
		}
	}
	for name, values := range asked {
		if err := l.checkParameter(name, values); err != nil {
			return err
		}
	}
	return nil
}

func (l route) checkParameter(name string, values []string) error {
	for _, p := range l.query {
		if p.name != name {
			continue
		}
		var err error
		switch p.kind {
		case "integer":
			_, err = strconv.ParseInt(values[0], 10, 32)
		case "number":
			_, err = strconv.ParseFloat(values[0], 64)
		}
		if err != nil || len(values) > 1 {
			return &sequence.Error{Code: sequence.Invalid, Message: strconv.Quote(name) + " must be given once, as one " + p.kind + "."}
		}
		return nil
	}
	return &sequence.Error{Code: sequence.Invalid, Message: "Nothing called " + strconv.Quote(name) + " can be asked here."}
}

// number reads a number out of the path. What is no number names nothing.
func number(r *http.Request, name string) (int64, error) {
	id, err := strconv.ParseInt(chi.URLParam(r, name), 10, 64)
	if err != nil || id <= 0 {
		return 0, noSuch(name)
	}
	return id, nil
}

func noSuch(what string) error {
	return &sequence.Error{Code: sequence.NotFound, Message: "There is no such " + what + ".",
		Hint: "Reload the page to see what there is."}
}

// title returns the title a request is about.
func (s *Server) title(r *http.Request) (sequence.Title, error) {
	id, err := number(r, "title")
	if err != nil {
		return sequence.Title{}, err
	}
	return s.store.Title(r.Context(), sequence.TitleID(id))
}

// The tidy functions make empty lists of missing ones, so that the page need
// not tell "none" from "nothing". What comes from the store has its lists.

func list[T any](items []T) []T {
	if items == nil {
		return []T{}
	}
	return items
}

func tidyDiff(d sequence.Diff) sequence.Diff {
	d.Kept, d.Broken, d.New, d.Come, d.Gone = list(d.Kept), list(d.Broken), list(d.New), list(d.Come), list(d.Gone)
	return d
}
