package bringing

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"pairwall/sequence"
)

const (
	fileBound = 4 << 30 // bytes of one dropped file: the most a TIFF with 32-bit offsets can hold
	dropBound = 10_000  // files of one drop
)

// droppedIn is the folder of dropped files in a data directory.
func droppedIn(data string) string { return filepath.Join(data, "dropped") }

// Drop is a folder that dropped files are kept in as originals, since a browser
// does not say where they lie.
type Drop struct {
	Folder string
	kept   int
}

// NewDrop makes the next free folder of the day under data/dropped.
//
// Error: Unreadable.
func NewDrop(data string, day time.Time) (*Drop, error) {
	stem := filepath.Join(droppedIn(data), day.Format("2006-01-02"))
	if err := os.MkdirAll(filepath.Dir(stem), 0o700); err != nil {
		return nil, Unreadable("our folder for dropped files", err)
	}
	for n := 1; ; n++ {
		folder := fmt.Sprintf("%s-%d", stem, n)
		switch err := os.Mkdir(folder, 0o700); {
		case err == nil:
			return &Drop{Folder: folder}, nil
		case !errors.Is(err, fs.ErrExist):
			return nil, Unreadable("our folder for dropped files", err)
		}
	}
}

// Take keeps one file under a name that is safe on every system.
//
// Errors: TooLarge; Invalid when content breaks off; Unreadable when the disk
// fails.
func (d *Drop) Take(ctx context.Context, name string, content io.Reader) error {
	if d.kept++; d.kept > dropBound {
		return &sequence.Error{Code: sequence.TooLarge, Message: fmt.Sprintf("More than %d files were dropped at once.", dropBound),
			Hint: "Bring in their folder instead."}
	}
	file, err := createFree(d.Folder, SafeName(name))
	if err != nil {
		return Unreadable("our folder for dropped files", err)
	}
	source := &remembering{Reader: io.LimitReader(content, fileBound+1)}
	n, err := io.Copy(file, source)
	if closeErr := file.Close(); err == nil {
		err = closeErr
	}
	switch {
	case source.err != nil:
		return BrokenUpload(ctx, source.err)
	case err != nil:
		return Unreadable("our folder for dropped files", err)
	case n > fileBound:
		return &sequence.Error{Code: sequence.TooLarge, Message: name + " is larger than a picture can be."}
	}
	return nil
}

// Adopt moves a file that lies on the same disk in, under a name that is safe,
// and returns where it lies now.
//
// Error: Unreadable.
func (d *Drop) Adopt(name, from string) (string, error) {
	d.kept++
	file, err := createFree(d.Folder, SafeName(name))
	if err == nil {
		err = errors.Join(file.Close(), os.Rename(from, file.Name()))
	}
	if err != nil {
		return "", Unreadable("our folder for dropped files", err)
	}
	return file.Name(), nil
}

// Empty reports whether nothing was taken.
func (d *Drop) Empty() bool { return d.kept == 0 }

// Discard takes away the folder and all that was taken.
func (d *Drop) Discard() error { return os.RemoveAll(d.Folder) }

// remembering keeps the error of the reading side, so that a window that went
// away is told from a disk that is full.
type remembering struct {
	io.Reader
	err error
}

func (r *remembering) Read(p []byte) (int, error) {
	n, err := r.Reader.Read(p)
	if err != nil && !errors.Is(err, io.EOF) {
		r.err = err
	}
	return n, err
}

// BrokenUpload is the error for files that break off on their way from a window;
// one that went away itself is told nothing.
func BrokenUpload(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return &sequence.Error{Code: sequence.Invalid, Message: "The dropped files did not arrive whole.", Hint: "Drop them again.", Err: err}
}

// createFree creates a file under name, or under name with a number when there
// is one already: two folders dropped together may hold the same names.
func createFree(folder, name string) (*os.File, error) {
	ending := filepath.Ext(name)
	stem := strings.TrimSuffix(name, ending)
	for n := 1; ; n++ {
		path := filepath.Join(folder, name)
		if n > 1 {
			path = filepath.Join(folder, fmt.Sprintf("%s (%d)%s", stem, n, ending))
		}
		file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if !errors.Is(err, fs.ErrExist) {
			return file, err
		}
	}
}

const (
	nameBound   = 200 // bytes; leaves room for a number within the 255 that file systems commonly take
	endingBound = 20  // bytes
)

// SafeName makes a file's name that stays inside its folder on every system we
// run on, is not hidden, and keeps letters of any script.
func SafeName(name string) string {
	name = strings.Map(func(r rune) rune {
		switch {
		case r == utf8.RuneError || unicode.IsControl(r) || unicode.Is(unicode.Cf, r):
			return -1 // control and invisible formatting characters can make a name look like another
		case strings.ContainsRune(`/\:*?"<>|`, r):
			return '_'
		}
		return r
	}, name)
	name = strings.TrimRight(strings.TrimLeft(name, ". "), ". ")
	ending := filepath.Ext(name)
	stem := strings.TrimRight(strings.TrimSuffix(name, ending), ". ")
	if len(ending) > endingBound { // no ending, but a name with a full stop in it
		stem, ending = stem+ending, ""
	}
	for len(stem)+len(ending) > nameBound {
		_, size := utf8.DecodeLastRuneInString(stem)
		stem = stem[:len(stem)-size]
	}
	if stem == "" {
		stem = "photo"
	}
	if reserved(stem) {
		stem = "_" + stem
	}
	return stem + ending
}

// reserved names mean devices on Windows, whatever their ending (Microsoft,
// "Naming Files, Paths, and Namespaces").
func reserved(stem string) bool {
	stem, _, _ = strings.Cut(strings.ToUpper(stem), ".")
	switch stem {
	case "CON", "PRN", "AUX", "NUL":
		return true
	}
	return len(stem) == 4 && (strings.HasPrefix(stem, "COM") || strings.HasPrefix(stem, "LPT")) && stem[3] >= '0' && stem[3] <= '9'
}
