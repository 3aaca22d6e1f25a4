package bringing

import (
	"cmp"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"pairwall/sequence"
	"pairwall/sequence/intake"
)

// candidate is a file that claims to be a picture, by its name or its content.
type candidate struct {
	path   string
	source string // the folder or file it was found under
	info   fs.FileInfo
	err    error // why it, or the folder it names, cannot be looked at
}

// walk finds pictures in folders and files, in the order of sources and, within
// each, of names as people count: 2 before 10, a folder's files before its
// sub-folders. It visits no folder twice, so that links in a circle end.
type walk struct {
	data    string // our own data directory: nothing below it was made by the maker
	visited map[string]bool
	found   []candidate
	others  int // files passed over
}

// pictures walks sources. An error means that a source itself is not there or
// that the disk failed; a folder below that may not be read is a candidate with
// an error, and the walk goes on.
func pictures(ctx context.Context, sources []string, data string) (found []candidate, others int, err error) {
	w := walk{data: RealPath(data), visited: make(map[string]bool)}
	for _, source := range sources {
		source, err := filepath.Abs(source)
		if err != nil {
			return nil, 0, err
		}
		info, err := CheckSource(source, data)
		if err != nil {
			return nil, 0, err
		}
		if info.IsDir() {
			err = w.folder(ctx, source, source)
		} else {
			err = w.file(source, source, info)
		}
		if err != nil {
			return nil, 0, err
		}
	}
	return w.found, w.others, nil
}

func (w *walk) folder(ctx context.Context, path, source string) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	real := RealPath(path)
	if w.visited[real] || real == w.data {
		return nil
	}
	w.visited[real] = true
	entries, err := os.ReadDir(path)
	if err != nil && path != source && errors.Is(err, fs.ErrPermission) {
		w.found = append(w.found, candidate{path: path, source: source, err: err})
		return nil
	}
	if err != nil {
		return Unreadable("the folder "+path, err)
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return natural(a.Name(), b.Name()) })
	var folders []string
	for _, entry := range entries {
		child := filepath.Join(path, entry.Name())
		switch {
		case hidden(entry.Name()):
		case isFolder(child, entry):
			folders = append(folders, child)
		default:
			info, err := os.Stat(child) // not entry.Info: a link counts as what it leads to
			if err != nil {
				w.unseen(child, source, err)
			} else if err := w.file(child, source, info); err != nil {
				return err
			}
		}
	}
	for _, child := range folders {
		if err := w.folder(ctx, child, source); err != nil {
			return err
		}
	}
	return nil
}

// unseen takes note of a file that vanished or a link that leads nowhere.
func (w *walk) unseen(path, source string, err error) {
	if pictureName(path) {
		w.found = append(w.found, candidate{path: path, source: source, err: err})
	} else {
		w.others++
	}
}

func (w *walk) file(path, source string, info fs.FileInfo) error {
	if !info.Mode().IsRegular() {
		return nil // a pipe or a device would keep us waiting for ever
	}
	claims := pictureName(path)
	if !claims {
		head, err := readHead(path)
		if err != nil && !errors.Is(err, fs.ErrPermission) && !errors.Is(err, fs.ErrNotExist) {
			return Unreadable(path, err)
		}
		claims = pictureKinds[intake.Kind(head)]
	}
	if claims {
		w.found = append(w.found, candidate{path: path, source: source, info: info})
	} else {
		w.others++
	}
	return nil
}

// headBytes is what telling a kind of file takes.
const headBytes = 512

func readHead(path string) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	head := make([]byte, headBytes)
	n, err := io.ReadFull(file, head)
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		err = nil
	}
	return head[:n], err
}

// RealPath resolves links; a path that cannot be resolved stands for itself.
func RealPath(path string) string {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	if absolute, err := filepath.Abs(path); err == nil {
		path = absolute
	}
	return path
}

// CheckSource refuses a source that is not there and one that we made
// ourselves. Dropped files are the maker's, though they lie with us.
func CheckSource(source, data string) (fs.FileInfo, error) {
	info, err := os.Stat(source)
	if err != nil {
		return nil, Unreadable(source, err)
	}
	real := RealPath(source)
	if within(data, real) && !within(droppedIn(data), real) {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: source + " belongs to Pairwall itself.",
			Hint: "Choose the folder your photographs came from."}
	}
	return info, nil
}

func within(folder, real string) bool {
	rest, err := filepath.Rel(RealPath(folder), real)
	return err == nil && filepath.IsLocal(rest)
}

// pictureEndings are the endings of names by which a file claims to be a
// picture: those we read, and those people have and should be told about.
// Common practice.
var pictureEndings = map[string]bool{
	".jpg": true, ".jpeg": true, ".jpe": true, ".png": true, ".tif": true, ".tiff": true,
	".heic": true, ".heif": true, ".avif": true, ".webp": true, ".gif": true, ".bmp": true, ".jxl": true, ".jp2": true,
	".dng": true, ".arw": true, ".cr2": true, ".cr3": true, ".crw": true, ".nef": true, ".orf": true, ".pef": true,
	".raf": true, ".raw": true, ".rw2": true, ".srw": true, ".3fr": true, ".fff": true, ".iiq": true,
}

// pictureKinds are the kinds, as intake names them by content, that make a
// picture of a file whatever its name. Kinds told by so few bytes that a text
// may begin with them are not among them.
var pictureKinds = map[string]bool{
	"jpeg": true, "png": true, "tiff": true, "BigTIFF": true, "heic": true, "avif": true, "webp": true,
	"GIF": true, "JPEG 2000": true, "camera raw": true,
}

func pictureName(name string) bool { return pictureEndings[strings.ToLower(filepath.Ext(name))] }

// natural compares names as people count: runs of digits by their value, all
// else letter by letter without regard to case. Names it finds equal are told
// apart byte by byte, so that the order never depends on the disk's.
func natural(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		if digits(x) > 0 && digits(y) > 0 {
			i, j := digits(x), digits(y)
			m, n := strings.TrimLeft(x[:i], "0"), strings.TrimLeft(y[:j], "0")
			if c := cmp.Or(cmp.Compare(len(m), len(n)), cmp.Compare(m, n)); c != 0 {
				return c
			}
			x, y = x[i:], y[j:]
			continue
		}
		r, i := utf8.DecodeRuneInString(x)
		q, j := utf8.DecodeRuneInString(y)
		if c := cmp.Compare(unicode.ToLower(r), unicode.ToLower(q)); c != 0 {
			return c
		}
		x, y = x[i:], y[j:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(a, b))
}

// digits counts the ASCII digits that text begins with.
func digits(text string) int {
	return len(text) - len(strings.TrimLeft(text, "0123456789"))
}
