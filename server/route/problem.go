package route

import (
	"errors"
	"log/slog"
	"net/http"
	"syscall"

	"pairwall/sequence"
	"pairwall/server/gate"
	"pairwall/store"
)

// Codes that only HTTP knows.
const (
	NotAllowed sequence.Code = "not-allowed" // no such method on this address
	WrongMedia sequence.Code = "wrong-media" // a body of a kind this address does not take
)

// StatusOf maps codes to responses; a code that is not listed is an internal
// error. Unreadable is 503, or 507 when the disk is full.
var StatusOf = map[sequence.Code]int{
	sequence.Invalid:     http.StatusBadRequest,
	gate.Elsewhere:       http.StatusForbidden,
	sequence.NotFound:    http.StatusNotFound,
	NotAllowed:           http.StatusMethodNotAllowed,
	sequence.Stale:       http.StatusConflict,
	sequence.Conflict:    http.StatusConflict,
	sequence.TooLarge:    http.StatusRequestEntityTooLarge,
	WrongMedia:           http.StatusUnsupportedMediaType,
	sequence.Unsupported: http.StatusUnprocessableEntity,
	sequence.Damaged:     http.StatusUnprocessableEntity,
	sequence.Unreadable:  http.StatusServiceUnavailable,
	sequence.Cancelled:   http.StatusServiceUnavailable,
	sequence.Internal:    http.StatusInternalServerError,
}

// Problem is the body of every response that is not a success.
type Problem struct {
	Error Fault        `json:"error"`
	Wall  *store.Wall  `json:"wall,omitempty"`  // with "stale": the wall as it is now
	Pages *store.Pages `json:"pages,omitempty"` // or format and plan
}

// Fault is an error as the maker and the page read it.
type Fault struct {
	Code    sequence.Code `json:"code"`
	Message string        `json:"message"` // one plain sentence
	Hint    string        `json:"hint"`    // what to do about it; may be empty
}

// staleError carries the present state along with the refusal, so that the
// maker sees at once what the act would have been done to.
type staleError struct {
	error
	wall  *store.Wall
	pages *store.Pages
}

func (e staleError) Unwrap() error { return e.error }

// WithWall adds the present wall to a stale error and leaves any other as it is.
func WithWall(err error, wall store.Wall) error {
	if sequence.CodeOf(err) == sequence.Stale {
		return staleError{error: err, wall: &wall}
	}
	return err
}

// WithPages adds the present format and plan to a stale error, likewise.
func WithPages(err error, pages store.Pages) error {
	if sequence.CodeOf(err) == sequence.Stale {
		return staleError{error: err, pages: &pages}
	}
	return err
}

// Fail is the one place that turns errors into responses.
func Fail(log *slog.Logger, w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil {
		return // the window went away; nobody is there to read it
	}
	status, body := Render(err)
	if status >= http.StatusInternalServerError {
		log.ErrorContext(r.Context(), "request failed", slog.String("route", Name(r)), slog.Any("error", err))
	}
	write(log, w, r, status, body)
}

// Render shows a coded error in its own words and any other as an internal
// error without detail: an unforeseen text may hold anything.
func Render(err error) (int, Problem) {
	var coded *sequence.Error
	status, known := 0, false
	if errors.As(err, &coded) {
		status, known = StatusOf[coded.Code]
	}
	if !known || coded.Code == sequence.Internal {
		return http.StatusInternalServerError, internalProblem()
	}
	if coded.Code == sequence.Unreadable && errors.Is(err, syscall.ENOSPC) {
		status = http.StatusInsufficientStorage
	}
	body := Problem{Error: Fault{Code: coded.Code, Message: coded.Message, Hint: coded.Hint}}
	var stale staleError
	if errors.As(err, &stale) {
		body.Wall, body.Pages = stale.wall, stale.pages
	}
	return status, body
}

func internalProblem() Problem {
	return Problem{Error: Fault{Code: sequence.Internal, Message: "Something went wrong inside Pairwall.",
		Hint: "What was kept before is still kept. The log says more."}}
}

// Panicked answers for a request that ended in a panic.
func Panicked(log *slog.Logger, w http.ResponseWriter, r *http.Request) {
	write(log, w, r, http.StatusInternalServerError, internalProblem())
}
