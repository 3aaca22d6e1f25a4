package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"pairwall/sequence"
	"pairwall/store"
)

const (
	fileBound = 4 << 30 // bytes of one dropped file: the most a TIFF with 32-bit offsets can hold
	dropBound = 10_000  // files of one drop
)

// dropFiles keeps dropped files as originals, since a browser does not say
// where they lie, and brings them in. Nothing is kept of a drop that does not
// arrive whole.
func (s *Server) dropFiles(r *http.Request) (store.Bring, error) {
	title, err := s.title(r)
	if err != nil {
		return store.Bring{}, err
	}
	parts, err := r.MultipartReader()
	if err != nil {
		return store.Bring{}, &sequence.Error{Code: wrongMedia, Message: "This address takes files as multipart/form-data.", Err: err}
	}
	folder, err := s.dropFolder()
	if err != nil {
		return store.Bring{}, err
	}
	if err := keepFiles(r.Context(), parts, folder); err != nil {
		return store.Bring{}, errors.Join(err, os.RemoveAll(folder))
	}
	return s.bringIn(r.Context(), title.ID, []string{folder})
}

// droppedIn is the folder of dropped files in a data directory.
func droppedIn(data string) string { return filepath.Join(data, "dropped") }

// dropFolder makes the next free folder of the day under data/dropped.
func (s *Server) dropFolder() (string, error) {
	day := filepath.Join(droppedIn(s.data), s.store.Now().Format("2006-01-02"))
	if err := os.MkdirAll(filepath.Dir(day), 0o700); err != nil {
		return "", unreadable("our folder for dropped files", err)
	}
	for n := 1; ; n++ {
		folder := fmt.Sprintf("%s-%d", day, n)
		err := os.Mkdir(folder, 0o700)
		if !errors.Is(err, fs.ErrExist) {
			return folder, orUnreadable("our folder for dropped files", err)
		}
	}
}

func keepFiles(ctx context.Context, parts *multipart.Reader, folder string) error {
	kept := 0
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return brokenUpload(ctx, err)
		}
		if part.FileName() == "" {
			continue // a field, not a file
		}
		if kept++; kept > dropBound {
			return &sequence.Error{Code: sequence.TooLarge, Message: fmt.Sprintf("More than %d files were dropped at once.", dropBound),
				Hint: "Bring in their folder instead."}
		}
		if err := keepFile(ctx, part, folder); err != nil {
			return err
		}
	}
	if kept == 0 {
		return &sequence.Error{Code: sequence.Invalid, Message: "No file was dropped."}
	}
	return nil
}

func keepFile(ctx context.Context, part *multipart.Part, folder string) error {
	file, err := createFree(folder, safeName(part.FileName()))
	if err != nil {
		return unreadable("our folder for dropped files", err)
	}
	source := &remembering{Reader: io.LimitReader(part, fileBound+1)}
	n, err := io.Copy(file, source)
	if closeErr := file.Close(); err == nil {
		err = closeErr
	}
	switch {
	case source.err != nil:
		return brokenUpload(ctx, source.err)
	case err != nil:
		return unreadable("our folder for dropped files", err)
	case n > fileBound:
		return &sequence.Error{Code: sequence.TooLarge, Message: part.FileName() + " is larger than a picture can be."}
	}
	return nil
}

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

func brokenUpload(ctx context.Context, err error) error {
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

// safeName makes a file's name that stays inside its folder on every system we
// run on, is not hidden, and keeps letters of any script.
func safeName(name string) string {
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
