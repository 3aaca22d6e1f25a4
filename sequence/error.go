package sequence

import "errors"

// Code names a class of error, so that a caller can act on it without reading
// the sentence.
type Code string

// The codes an Error can carry. Anything without a code is an internal error.
const (
	Invalid     Code = "invalid"     // the request makes no sense as it stands
	NotFound    Code = "not-found"   // what was named is not there
	Stale       Code = "stale"       // made on a state that has moved on since
	Conflict    Code = "conflict"    // something else holds the name or the place
	Damaged     Code = "damaged"     // the file is broken
	Unsupported Code = "unsupported" // the file is sound but of a kind we cannot read
	TooLarge    Code = "too-large"   // beyond a limit on size, memory or time
	Unreadable  Code = "unreadable"  // the system would not let us read or write
	Cancelled   Code = "cancelled"   // the maker stopped it
	Internal    Code = "internal"    // our fault
)

// Error is what every room of the house reports to the maker: a code for the
// program, a sentence and a way out for the person, and the cause for the log.
type Error struct {
	Code    Code
	Message string // one plain sentence, with a full stop
	Hint    string // what to do about it; may be empty
	Err     error  // the cause, for the log only; may be nil
}

// Error joins the sentence, the way out and the cause, for logs and terminals.
func (e *Error) Error() string {
	text := e.Message
	if e.Hint != "" {
		text += " " + e.Hint
	}
	if e.Err != nil {
		text += " (" + e.Err.Error() + ")"
	}
	return text
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// CodeOf returns the code of the first Error in err's chain, "" for nil, and
// Internal for an error that carries none.
func CodeOf(err error) Code {
	if err == nil {
		return ""
	}
	var coded *Error
	if errors.As(err, &coded) {
		return coded.Code
	}
	return Internal
}
