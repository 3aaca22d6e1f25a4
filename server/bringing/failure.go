package bringing

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"syscall"

	"pairwall/sequence"
	"pairwall/sequence/intake"
)

// Unreadable puts an error of the file system into words; what is the subject of
// the sentence.
//
// Codes: NotFound, or Unreadable, which a full disk is too.
func Unreadable(what string, err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR), errors.Is(err, syscall.ENAMETOOLONG),
		errors.Is(err, syscall.ELOOP), errors.Is(err, syscall.EINVAL): // a name that cannot be, so nothing is there
		return &sequence.Error{Code: sequence.NotFound, Message: what + " is no longer there.",
			Hint: "If it lies on another disk, connect it and try again.", Err: err}
	case errors.Is(err, fs.ErrPermission):
		return &sequence.Error{Code: sequence.Unreadable, Message: "The system does not let us read " + what + ".",
			Hint: "Give yourself the right to read it, or choose another.", Err: err}
	case errors.Is(err, syscall.ENOSPC):
		return &sequence.Error{Code: sequence.Unreadable, Message: "The disk is full.",
			Hint: "Make room on it and try again.", Err: err}
	}
	return &sequence.Error{Code: sequence.Unreadable, Message: "The disk failed while we read " + what + ".",
		Hint: "Check the disk and its cable before you try again.", Err: err}
}

// refusal marks an error as the matter of one file: the rest still comes in.
type refusal struct{ error }

func (r refusal) Unwrap() error { return r.error }

// asRefusal tells what a worker says of one file from what says that we cannot
// go on: the disk failed, we were stopped, or no worker can be had.
func asRefusal(err error) error {
	var coded *sequence.Error
	if err == nil || !errors.As(err, &coded) || coded.Code == sequence.Cancelled || intake.Stops(err) {
		return err
	}
	return refusal{err}
}

// refusable tells a file that is gone or closed to us from a source that is
// gone as a whole and from a disk that fails.
func (b *bringer) refusable(c candidate, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		if _, gone := os.Stat(c.source); gone != nil {
			return Unreadable(c.source, gone)
		}
		return refusal{Unreadable(c.path, err)}
	}
	if errors.Is(err, fs.ErrPermission) {
		return refusal{Unreadable(c.path, err)}
	}
	if errors.Is(err, context.Canceled) {
		return err
	}
	return Unreadable(c.path, err)
}
