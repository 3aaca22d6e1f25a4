package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"syscall"

	"github.com/mattn/go-sqlite3"

	"pairwall/sequence"
)

func (s *Store) coded(ctx context.Context, err error) error { return coded(ctx, s.file, err) }

// coded puts into words for the maker what SQLite or the system reports about
// the data file. Errors that have a code keep it; what is no concern of the
// maker's stays without.
func coded(ctx context.Context, file string, err error) error {
	var already *sequence.Error
	if err == nil || errors.As(err, &already) {
		return err
	}
	if ctx.Err() != nil {
		return &sequence.Error{Code: sequence.Cancelled, Message: "It was stopped before it was done; nothing was changed.", Err: err}
	}
	failure := systemFailure(file, err)
	var inSQLite sqlite3.Error
	if failure == nil && errors.As(err, &inSQLite) {
		failure = sqliteFailure(file, inSQLite)
	}
	if failure == nil {
		return fmt.Errorf("store: %w", err)
	}
	failure.Err = err
	return failure
}

// systemFailure knows what the operating system says, be it to us or to
// SQLite; nil when it said nothing of the kind.
func systemFailure(file string, err error) *sequence.Error {
	var inSQLite sqlite3.Error
	if errors.As(err, &inSQLite) {
		err = inSQLite.SystemErrno
	}
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return diskFull(file)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return noRights(file)
	case inSQLite.Code != 0: // having been refused a file, SQLite looks for another, and tells of that one
		return nil
	case errors.Is(err, syscall.ENOTDIR), errors.Is(err, fs.ErrExist), errors.Is(err, fs.ErrNotExist):
		return &sequence.Error{Code: sequence.Unreadable,
			Message: fmt.Sprintf("The data folder %s cannot be made.", filepath.Dir(file)),
			Hint:    "Choose another data folder, or see that nothing else has its name."}
	}
	return nil
}

func sqliteFailure(file string, err sqlite3.Error) *sequence.Error {
	if err.ExtendedCode == sqlite3.ErrReadonlyDbMoved {
		return &sequence.Error{Code: sequence.Unreadable,
			Message: fmt.Sprintf("The data file %s was moved or taken away while Pairwall was using it.", file),
			Hint:    "Put it back where it was and start Pairwall again."}
	}
	switch err.Code {
	case sqlite3.ErrBusy, sqlite3.ErrLocked:
		return &sequence.Error{Code: sequence.Unreadable,
			Message: fmt.Sprintf("Another program holds the data file %s.", file),
			Hint:    "Close what else may be using it, such as a backup or a second Pairwall, then do it again."}
	case sqlite3.ErrFull:
		return diskFull(file)
	case sqlite3.ErrReadonly, sqlite3.ErrCantOpen, sqlite3.ErrPerm, sqlite3.ErrAuth:
		return noRights(file)
	case sqlite3.ErrIoErr:
		return &sequence.Error{Code: sequence.Unreadable,
			Message: fmt.Sprintf("The disk failed while the data file %s was in use.", file),
			Hint:    "Check the disk and its cable, then start Pairwall again."}
	case sqlite3.ErrNotADB:
		return &sequence.Error{Code: sequence.Damaged,
			Message: fmt.Sprintf("The file %s is not a Pairwall data file, or its beginning is damaged.", file),
			Hint:    "Move it away, do not delete it; then put the newest copy from " + backupsOf(filepath.Dir(file)) + " in its place, or start with an empty folder."}
	case sqlite3.ErrCorrupt:
		return &sequence.Error{Code: sequence.Damaged,
			Message: fmt.Sprintf("The data file %s is damaged.", file),
			Hint:    "Close Pairwall and keep the damaged file; then put the newest copy from " + backupsOf(filepath.Dir(file)) + " or from your own backup in its place."}
	case sqlite3.ErrTooBig:
		return &sequence.Error{Code: sequence.TooLarge, Message: "That is too much for one entry of the data file."}
	}
	return nil
}

func diskFull(file string) *sequence.Error {
	return &sequence.Error{Code: sequence.Unreadable,
		Message: fmt.Sprintf("The disk that holds %s is full.", file),
		Hint:    "Free some space and do it again; what was kept before is still there."}
}

func noRights(file string) *sequence.Error {
	return &sequence.Error{Code: sequence.Unreadable,
		Message: fmt.Sprintf("Pairwall is not allowed to read and write %s.", file),
		Hint:    "Change the rights of the file and its folder, or choose another data folder."}
}

// missing is NotFound for a thing of a kind.
func missing(kind string, id any) error {
	return &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("There is no %s %v.", kind, id)}
}
