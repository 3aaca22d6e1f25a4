package intake

import (
	"context"
	"encoding/json"
	"errors"
	"testing"

	"pairwall/sequence"
)

func TestAWorkerAsksTheReaderItWasGiven(t *testing.T) {
	readers := []Reader{
		{"lengths", func(_ context.Context, path, scratch string) (any, error) { return len(path) + len(scratch), nil }},
		{"broken", func(context.Context, string, string) (any, error) { panic("a file made to do harm") }},
		{"failing", func(context.Context, string, string) (any, error) {
			return nil, &sequence.Error{Code: sequence.Unsupported, Message: "Not this kind."}
		}},
		{"endless", func(context.Context, string, string) (any, error) { return make([]byte, longestAnswer), nil }},
		{"senseless", func(context.Context, string, string) (any, error) { return func() {}, errors.ErrUnsupported }},
	}
	for reader, want := range map[string]sequence.Code{"lengths": "", "broken": sequence.Damaged, "failing": sequence.Unsupported,
		"endless": sequence.TooLarge, "senseless": sequence.Internal, "nobody": sequence.Internal} {
		line, err := json.Marshal(question{Number: 7, Path: []byte("/a/b"), Scratch: []byte("/c"), Reader: reader})
		if err != nil {
			t.Fatal(err)
		}
		a := reply(t.Context(), line, DefaultLimits, readers...)
		switch {
		case a.Number != 7 || a.Photo != nil:
			t.Errorf("%s: %+v", reader, a)
		case want == "" && string(a.Told) != "6":
			t.Errorf("%s: %s", reader, a.Told)
		case want != "" && (a.Fault == nil || a.Fault.Code != want || a.Told != nil):
			t.Errorf("%s: %+v", reader, a.Fault)
		}
	}
}
