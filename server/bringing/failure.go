package bringing

import (
	"errors"
	"io/fs"
	"syscall"

	"pairwall/sequence"
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
