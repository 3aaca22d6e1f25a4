package printing

import (
	"bufio"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"pairwall/sequence"
)

// draft begins the names of files that are not whole yet.
const draft = ".making"

// Make makes a file among what is on its way to the press and returns its name.
// It has that name only once it is whole; of one that fails nothing is left.
//
// Errors: those of Write; Unreadable when the disk is full or fails.
func (p *Press) Make(ctx context.Context, m Matter, o Order, told func(done, of int)) (name string, err error) {
	if err := os.MkdirAll(p.scratch, 0o755); err != nil {
		return "", noRoom(err)
	}
	file, err := os.CreateTemp(p.scratch, draft+"-*.pdf")
	if err != nil {
		return "", noRoom(err)
	}
	defer os.Remove(file.Name())
	defer file.Close()
	if err := Buffered(file, func(out io.Writer) error { return p.Write(ctx, out, m, o, told) }); err != nil {
		return "", err
	}
	if err := file.Close(); err != nil {
		return "", noRoom(err)
	}
	name = filepath.Join(p.scratch, "made"+strings.TrimPrefix(filepath.Base(file.Name()), draft))
	return name, os.Rename(file.Name(), name)
}

// Buffered has write fill a file in few large pieces.
//
// Errors: those of write; Unreadable when the disk is full or fails.
func Buffered(file io.Writer, write func(io.Writer) error) error {
	out := bufio.NewWriterSize(file, 1<<20)
	if err := write(out); err != nil {
		return err
	}
	if err := out.Flush(); err != nil {
		return noRoom(err)
	}
	return nil
}

func noRoom(err error) error {
	if errors.Is(err, syscall.ENOSPC) {
		return &sequence.Error{Code: sequence.Unreadable, Message: "The disk is full: there is no room for the PDF.",
			Hint: "Make room on it, and have the PDF made again.", Err: err}
	}
	return &sequence.Error{Code: sequence.Unreadable, Message: "The PDF could not be written to its end.",
		Hint: "Look at the disk, and try again.", Err: err}
}
