package intake

import (
	"encoding/json"
	"errors"
	"fmt"

	"pairwall/sequence"
)

// A pool and its workers speak in lines of JSON: the worker greets once, then
// answers every question with one line.

// question asks for one file: without Cards, for its measures alone, with Shot
// for a grey picture and a view in that folder, with Plate for what a press
// takes, with Reader for what that one tells, Scratch being its folder. Names are
// bytes, not text: a file's name need not be valid UTF-8, and JSON would
// quietly change it.
type question struct {
	Number  int64  `json:"number"`
	Path    []byte `json:"path"`
	Cards   []byte `json:"cards,omitempty"`
	Scratch []byte `json:"scratch,omitempty"`
	Shot    []byte `json:"shot,omitempty"`
	Plate   []byte `json:"plate,omitempty"`
	Reader  string `json:"reader,omitempty"`
}

// answer carries a photo, what a reader told, or a fault; the greeting has number
// 0 and none of them.
type answer struct {
	Number int64           `json:"number"`
	Photo  *sequence.Photo `json:"photo,omitempty"`
	Told   json.RawMessage `json:"told,omitempty"`
	Fault  *fault          `json:"fault,omitempty"`
}

func (a answer) blank() bool {
	return a.Number == 0 && a.Photo == nil && a.Told == nil && a.Fault == nil
}

// fault is an error of Read's on its way between processes.
type fault struct {
	Code    sequence.Code `json:"code"`
	Message string        `json:"message"`
	Hint    string        `json:"hint,omitempty"`
	Cause   string        `json:"cause,omitempty"`
	Stops   bool          `json:"stops,omitempty"`
}

func faultOf(err error) *fault {
	var e *sequence.Error
	if !errors.As(err, &e) {
		e = &sequence.Error{Code: sequence.Internal, Message: "Something went wrong while this file was being read.", Err: err}
	}
	f := &fault{Code: e.Code, Message: e.Message, Hint: e.Hint, Stops: Stops(err)}
	if e.Err != nil {
		f.Cause = e.Err.Error()
	}
	return f
}

func (f fault) err() error {
	e := &sequence.Error{Code: f.Code, Message: f.Message, Hint: f.Hint}
	if f.Cause != "" {
		e.Err = errors.New(f.Cause)
	}
	if f.Stops {
		e.Err = fmt.Errorf("%w: %s", errStops, f.Cause)
	}
	return e
}
