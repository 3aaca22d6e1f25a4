package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"os"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
)

// original is a file opened for reading, and what the system says of it.
type original struct {
	file *os.File
	info os.FileInfo
	kind string
}

// openOriginal opens a picture of a kind we read. The caller closes the file.
//
// Errors: NotFound, Unreadable, Invalid for a folder or a device, Damaged for
// an empty file, Unsupported for any other kind.
func openOriginal(path string) (original, error) {
	// Looked at before it is opened: opening a named pipe would wait for ever.
	info, err := os.Stat(path)
	if err != nil {
		return original{}, unopened(err)
	}
	if info.IsDir() {
		return original{}, &sequence.Error{Code: sequence.Invalid, Message: "This is a folder, not a picture.",
			Hint: "Bring in the folder to get the pictures inside it."}
	}
	if !info.Mode().IsRegular() {
		return original{}, &sequence.Error{Code: sequence.Invalid, Message: "This is not an ordinary file."}
	}
	if info.Size() == 0 {
		return original{}, header.Damaged("This file is empty.", nil)
	}
	file, err := os.Open(path)
	if err != nil {
		return original{}, unopened(err)
	}
	head := make([]byte, header.HeadLength)
	n, err := file.ReadAt(head, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		file.Close()
		return original{}, unread(err)
	}
	o := original{file: file, info: info, kind: Kind(head[:n])}
	switch o.kind {
	case "jpeg", "png", "tiff", "webp", "heic", "avif":
		return o, nil
	}
	file.Close()
	if blank(head[:n]) {
		return original{}, header.Damaged("This file holds nothing: it was made room for but never filled.", nil)
	}
	return original{}, header.Refuse(o.kind)
}

func blank(bytes []byte) bool {
	for _, b := range bytes {
		if b != 0 {
			return false
		}
	}
	return true
}

func (o original) size() int64 { return o.info.Size() }

// reader reads the whole file from its beginning, independently of others.
func (o original) reader() *io.SectionReader { return io.NewSectionReader(o.file, 0, o.size()) }

// hash is the SHA-256 of the whole file in lower-case hex.
func (o original) hash() (string, error) {
	sum := sha256.New()
	if _, err := io.CopyBuffer(sum, struct{ io.Reader }{o.reader()}, make([]byte, 1<<20)); err != nil {
		return "", unread(err)
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// unchanged returns an error if the file was written to since it was opened:
// its hash and its picture would not belong together.
func (o original) unchanged() error {
	now, err := o.file.Stat()
	if err != nil {
		return unread(err)
	}
	if now.Size() != o.info.Size() || !now.ModTime().Equal(o.info.ModTime()) {
		return &sequence.Error{Code: sequence.Damaged, Message: "This file was being written to while it was read.",
			Hint: "Bring it in again when the copying is over."}
	}
	return nil
}
