package intake

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"

	"pairwall/sequence"
)

// Reader reads files of another kind than photographs, which nobody vouches for
// either, in the same workers: a worker knows those it was given by Serve.
type Reader struct {
	Name string
	// Read returns what can be told of the file, as a value for JSON. Files it
	// makes in the folder scratch are for whoever asked.
	Read func(ctx context.Context, path, scratch string) (any, error)
}

// Tell has a reader read a file in a worker and puts what it tells into told.
//
// Errors: the reader's; those of Pool.Read that are about workers; Damaged when
// the answer is not what told is for.
func (p *Pool) Tell(ctx context.Context, reader, path, scratch string, told any) error {
	absolute, err := filepath.Abs(path)
	if err != nil {
		return unopened(err)
	}
	a, err := p.put(ctx, question{Path: []byte(absolute), Scratch: []byte(scratch), Reader: reader})
	if err != nil {
		return err
	}
	if err := json.Unmarshal(a.Told, told); err != nil {
		return &sequence.Error{Code: sequence.Damaged, Message: "This file could not be read; it is probably damaged.", Err: err}
	}
	return nil
}

// tell is a worker's part in Tell.
func tell(ctx context.Context, q question, readers []Reader) (json.RawMessage, *fault) {
	for _, r := range readers {
		if r.Name != q.Reader {
			continue
		}
		told, err := r.Read(ctx, string(q.Path), string(q.Scratch))
		if err != nil {
			return nil, faultOf(err)
		}
		text, err := json.Marshal(told)
		if err != nil {
			return nil, faultOf(fmt.Errorf("what %s told: %w", q.Reader, err))
		}
		if len(text) > longestAnswer/2 {
			return nil, faultOf(tooLarge("There is more in this file than can be told.", "Ask for a simpler one."))
		}
		return text, nil
	}
	return nil, faultOf(fmt.Errorf("this worker has no reader %q", q.Reader))
}
