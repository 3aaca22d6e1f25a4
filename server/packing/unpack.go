package packing

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/server/bringing"
)

// Unpack brings a packed title in. Every file is held against its checksum
// before the title appears; what went wrong before that leaves nothing behind
// but, at the worst, card images that nobody asks for.
//
// Errors: Damaged when the file is no pack or not whole; Unsupported for one of
// a newer version; Unreadable when the disk fails; those of ctx.
func (p Packer) Unpack(ctx context.Context, in io.ReaderAt, size int64, told func(done, of int)) (sequence.Title, error) {
	r, err := zip.NewReader(in, size)
	if err != nil {
		return sequence.Title{}, damaged(err)
	}
	entries := make(map[string]*zip.File, len(r.File))
	for _, f := range r.File {
		if entries[f.Name] != nil {
			return sequence.Title{}, damaged(fmt.Errorf("%q is in it twice", f.Name))
		}
		entries[f.Name] = f
	}
	manifest, err := readManifest(entries[manifestName])
	if err != nil {
		return sequence.Title{}, err
	}
	aside, err := os.MkdirTemp(p.Data, ".unpacking-*")
	if err != nil {
		return sequence.Title{}, unwritten(err)
	}
	defer os.RemoveAll(aside)
	u := unpacking{Packer: p, aside: aside, originals: make(map[string]original)}
	for i, f := range manifest.Files {
		if err := ctx.Err(); err != nil {
			return sequence.Title{}, err
		}
		if err := u.take(entries[f.Name], f); err != nil {
			return sequence.Title{}, err
		}
		told(i+1, len(manifest.Files))
	}
	title, err := u.adopt(ctx)
	if err != nil && u.drop != nil {
		return title, errors.Join(err, u.drop.Discard())
	}
	return title, err
}

// adopt gives everything its place, the title last.
func (u *unpacking) adopt(ctx context.Context) (sequence.Title, error) {
	if err := u.settle(); err != nil {
		return sequence.Title{}, err
	}
	title, err := u.Store.Unpack(ctx, filepath.Join(u.aside, dataName), func(hash string) (string, bool) {
		o, ok := u.originals[hash]
		return o.path, ok
	})
	if err != nil {
		return title, err
	}
	return title, u.stamp(ctx, title.ID)
}

// stamp gives the originals the time they had: by it one sees whether a file is
// still as it was when it was brought in.
func (u *unpacking) stamp(ctx context.Context, title sequence.TitleID) error {
	photos, err := u.Store.Photos(ctx, title)
	if err != nil {
		return err
	}
	for _, photo := range photos {
		if o, ok := u.originals[photo.Hash]; ok {
			if err := os.Chtimes(o.path, photo.Stamp, photo.Stamp); err != nil {
				return unwritten(err)
			}
		}
	}
	return nil
}

func readManifest(entry *zip.File) (m Manifest, err error) {
	if entry == nil {
		return m, damaged(errors.New("it says nothing of itself"))
	}
	content, err := entry.Open()
	if err != nil {
		return m, damaged(err)
	}
	defer content.Close()
	if err := json.NewDecoder(io.LimitReader(content, mostManifest)).Decode(&m); err != nil {
		return m, damaged(err)
	}
	return m, m.check()
}

// unpacking is a pack on its way in: first all of it aside, then each file to
// its place.
type unpacking struct {
	Packer
	aside     string
	cards     []card
	originals map[string]original // by hash
	drop      *bringing.Drop      // where originals came to lie; nil before
}

type original struct{ name, path string }

type card struct {
	hash string
	size int
	path string
}

// take writes one file aside and holds it against its checksum.
func (u *unpacking) take(entry *zip.File, f File) error {
	if entry == nil {
		return damaged(fmt.Errorf("%q is missing", f.Name))
	}
	content, err := entry.Open()
	if err != nil {
		return damaged(err)
	}
	defer content.Close()
	path := filepath.Join(u.aside, strconv.Itoa(len(u.cards)+len(u.originals))+".part")
	if f.Name == dataName {
		path = filepath.Join(u.aside, dataName)
	}
	file, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return unwritten(err)
	}
	sum := sha256.New()
	n, err := io.Copy(io.MultiWriter(file, sum), io.LimitReader(content, f.Bytes+1))
	if err := errors.Join(err, file.Close()); err != nil {
		if errors.Is(err, zip.ErrChecksum) || errors.Is(err, io.ErrUnexpectedEOF) {
			return damaged(err)
		}
		return unwritten(err)
	}
	if n != f.Bytes || hex.EncodeToString(sum.Sum(nil)) != f.SHA256 {
		return damaged(fmt.Errorf("%q is not what it was", f.Name))
	}
	return u.note(f, path)
}

func (u *unpacking) note(f File, path string) error {
	if parts := cardFile.FindStringSubmatch(f.Name); parts != nil {
		size, err := strconv.Atoi(parts[2])
		if err != nil {
			return damaged(err)
		}
		u.cards = append(u.cards, card{parts[1], size, path})
	}
	if parts := originalFile.FindStringSubmatch(f.Name); parts != nil {
		if parts[1] != f.SHA256 {
			return damaged(fmt.Errorf("%q is another picture", f.Name))
		}
		u.originals[parts[1]] = original{parts[2], path}
	}
	return nil
}

// settle moves card images and originals to where they belong. A card image
// that is there already stays: it was made here.
func (u *unpacking) settle() error {
	for _, c := range u.cards {
		to := intake.CardPath(bringing.CardsIn(u.Data), c.hash, c.size)
		if _, err := os.Stat(to); err == nil {
			continue
		}
		if err := errors.Join(os.MkdirAll(filepath.Dir(to), 0o700), os.Rename(c.path, to)); err != nil {
			return unwritten(err)
		}
	}
	if len(u.originals) == 0 {
		return nil
	}
	drop, err := bringing.NewDrop(u.Data, u.Store.Now())
	if err != nil {
		return err
	}
	u.drop = drop
	for hash, o := range u.originals {
		if o.path, err = drop.Adopt(o.name, o.path); err != nil {
			return err
		}
		u.originals[hash] = o
	}
	return nil
}
