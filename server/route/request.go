package route

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

// BodyBound, in bytes, holds a change that touches every spread of a thousand several
// times over.
const BodyBound = 4 << 20

func write(log *slog.Logger, w http.ResponseWriter, r *http.Request, status int, body any) {
	text, err := json.Marshal(body)
	if err != nil {
		log.ErrorContext(r.Context(), "answer cannot be written as JSON", slog.String("route", Name(r)), slog.Any("error", err))
		status = http.StatusInternalServerError
		text, _ = json.Marshal(internalProblem()) // strings only: this cannot fail
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	if _, err := w.Write(append(text, '\n')); err != nil {
		log.DebugContext(r.Context(), "the window went away", slog.Any("error", err))
	}
}

// decode reads a JSON body. Unknown fields are refused: they are a slip of the
// pen in the page, better seen than passed over.
func decode(r *http.Request, into any) error {
	if media, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type")); media != "application/json" {
		return &sequence.Error{Code: WrongMedia, Message: "This address takes application/json."}
	}
	read := json.NewDecoder(http.MaxBytesReader(nil, r.Body, BodyBound))
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
func (l Line[S]) checkQuery(r *http.Request) error {
	asked := r.URL.Query()
	for _, p := range l.Query {
		if p.Required && asked.Get(p.Name) == "" {
			return &sequence.Error{Code: sequence.Invalid, Message: "This request must say " + strconv.Quote(p.Name) + "."}
		}
	}
	for name, values := range asked {
		if err := l.checkParameter(name, values); err != nil {
			return err
		}
	}
	return nil
}

func (l Line[S]) checkParameter(name string, values []string) error {
	for _, p := range l.Query {
		if p.Name != name {
			continue
		}
		var err error
		switch p.Kind {
		case "integer":
			_, err = strconv.ParseInt(values[0], 10, 32)
		case "number":
			_, err = strconv.ParseFloat(values[0], 64)
		}
		if err != nil || len(values) > 1 {
			return &sequence.Error{Code: sequence.Invalid, Message: strconv.Quote(name) + " must be given once, as one " + p.Kind + "."}
		}
		return nil
	}
	return &sequence.Error{Code: sequence.Invalid, Message: "Nothing called " + strconv.Quote(name) + " can be asked here."}
}

// Number reads a number out of the path. What is no number names nothing.
func Number(r *http.Request, name string) (int64, error) {
	id, err := strconv.ParseInt(chi.URLParam(r, name), 10, 64)
	if err != nil || id < 0 {
		return 0, NoSuch(name)
	}
	return id, nil
}

// NoSuch is NotFound for a thing of a kind.
func NoSuch(what string) error {
	return &sequence.Error{Code: sequence.NotFound, Message: "There is no such " + what + ".",
		Hint: "Reload the page to see what there is."}
}
