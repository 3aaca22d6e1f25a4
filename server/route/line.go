package route

import (
	"log/slog"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
)

// Line is one line of a table from which a router and the description of the API
// are made; S is what its handlers are methods of. The types of its bodies are
// those of its handler, so the two cannot drift apart.
type Line[S any] struct {
	Method, Path string
	Doc          string // one sentence
	Query        []Parameter
	Takes        any  // the zero value of the request's JSON body; nil when there is none
	Upload       bool // takes files as multipart/form-data instead
	Status       int  // of success
	Gives        any  // the zero value of the answer's JSON body; nil when it is not JSON
	Media        string
	Fails        []sequence.Code
	Handler      any // the method that answers: its name is the operation's
	serve        func(l call[S], w http.ResponseWriter, r *http.Request) error
}

// call is one request on its way to a line's handler.
type call[S any] struct {
	to     S
	status int
	log    *slog.Logger
}

// Parameter is one thing that may be asked for behind the question mark.
type Parameter struct {
	Name, Kind string // Kind: "integer", "number" or "string"
	Required   bool
	Doc        string
}

// Serve makes the handler of a line for s.
func (l Line[S]) Serve(s S, log *slog.Logger) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		began := time.Now()
		err := l.checkQuery(r)
		if err == nil {
			err = l.serve(call[S]{s, l.Status, log}, w, r)
		}
		if err != nil {
			Fail(log, w, r, err)
		}
		log.DebugContext(r.Context(), "request", slog.String("route", Name(r)),
			slog.Duration("took", time.Since(began)), slog.String("code", string(sequence.CodeOf(err))))
	}
}

// Name names a request by its route, not its address: an address may hold a
// folder's name, which is nobody's business in a log.
func Name(r *http.Request) string {
	if route := chi.RouteContext(r.Context()); route != nil {
		return r.Method + " " + route.RoutePattern()
	}
	return r.Method
}

// Gives makes a line that takes no JSON body.
func Gives[S, Out any](method, path, doc string, do func(S, *http.Request) (Out, error), fails ...sequence.Code) Line[S] {
	var out Out
	return Line[S]{Method: method, Path: path, Doc: doc, Status: http.StatusOK, Gives: out, Fails: fails, Handler: do,
		serve: func(c call[S], w http.ResponseWriter, r *http.Request) error {
			answer, err := do(c.to, r)
			if err == nil {
				write(c.log, w, r, c.status, answer)
			}
			return err
		}}
}

// Takes makes a line whose request has a JSON body.
func Takes[S, In, Out any](method, path, doc string, do func(S, *http.Request, In) (Out, error), fails ...sequence.Code) Line[S] {
	line := Gives(method, path, doc, func(s S, r *http.Request) (out Out, err error) {
		var in In
		if err := decode(r, &in); err != nil {
			return out, err
		}
		return do(s, r, in)
	}, append(fails, sequence.Invalid, sequence.TooLarge, WrongMedia)...)
	var in In
	line.Takes, line.Handler = in, do
	return line
}

// Sends makes a line that writes its answer itself.
func Sends[S any](path, doc, media string, do func(S, http.ResponseWriter, *http.Request) error, fails ...sequence.Code) Line[S] {
	return Line[S]{Method: http.MethodGet, Path: path, Doc: doc, Status: http.StatusOK, Media: media, Fails: fails, Handler: do,
		serve: func(c call[S], w http.ResponseWriter, r *http.Request) error { return do(c.to, w, r) }}
}

// Asking adds what may be asked for behind the question mark.
func (l Line[S]) Asking(query ...Parameter) Line[S] {
	l.Query, l.Fails = query, append(l.Fails, sequence.Invalid)
	return l
}

// Answering sets the status of success.
func (l Line[S]) Answering(status int) Line[S] {
	l.Status = status
	return l
}

// Uploading says that the line takes files, and begins what is done with them.
func (l Line[S]) Uploading() Line[S] {
	l.Upload, l.Status = true, http.StatusAccepted
	return l
}
