package intake

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"pairwall/sequence"
)

func tooLarge(message, hint string) error {
	return &sequence.Error{Code: sequence.TooLarge, Message: message, Hint: hint}
}

func cancelled(cause error) error {
	return &sequence.Error{Code: sequence.Cancelled, Message: "Reading this file was stopped.", Err: cause}
}

// errStops marks an error that every further file would meet too.
var errStops = errors.New("the work cannot go on")

// Stops reports whether an error of Read's is not about the one file: the
// disk is full, the folder for cards cannot be written, the disk that holds
// the originals fails. Going on with the next file would not help.
func Stops(err error) bool { return errors.Is(err, errStops) }

// unwritable is the error for card images that could not be kept.
func unwritable(err error) error {
	e := &sequence.Error{Code: sequence.Unreadable, Err: fmt.Errorf("%w: %w", errStops, err)}
	switch {
	case errors.Is(err, syscall.ENOSPC):
		e.Message = "The disk that holds Pairwall's data is full."
		e.Hint = "Make room on it, then go on."
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		e.Message = "Pairwall may not write into its own data folder."
		e.Hint = "Give yourself the right to write there, then go on."
	default:
		e.Message = "The small pictures could not be written to Pairwall's data folder."
		e.Hint = "Check the disk, then go on."
	}
	return e
}

// unopened is the error for an original that could not be looked at at all.
func unopened(err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return &sequence.Error{Code: sequence.NotFound, Message: "This file is no longer there.",
			Hint: "Bring in the folder it lies in now.", Err: err}
	case errors.Is(err, fs.ErrPermission):
		return &sequence.Error{Code: sequence.Unreadable, Message: "Pairwall may not read this file.",
			Hint: "Give yourself the right to read it and bring it in again.", Err: err}
	}
	return unread(err)
}

// unread is the error for a disk that fails.
func unread(err error) error {
	return &sequence.Error{Code: sequence.Unreadable, Message: "The disk failed while this file was being read.",
		Hint: "Check the disk or its cable, then go on.", Err: fmt.Errorf("%w: %w", errStops, err)}
}

// ofDisk turns an error met while reading a picture into the disk's, if it was
// the system that failed and not the file that is broken.
func ofDisk(err error) error {
	var system *fs.PathError
	if errors.As(err, &system) {
		return unread(err)
	}
	return err
}
