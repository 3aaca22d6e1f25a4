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
	"strings"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/server/bringing"
	"pairwall/store"
)

// Wish is what goes along with a title.
type Wish struct {
	Places    bool // positions, tracks, folders of this machine
	Originals bool // needs Places: a file holds its own position
}

// check refuses what would give away more than was asked for.
func (w Wish) check() error {
	if w.Originals && !w.Places {
		return &sequence.Error{Code: sequence.Invalid, Message: "Originals hold their positions themselves, so they cannot go without places.",
			Hint: "Pack with places, or without originals."}
	}
	return nil
}

// Packer packs titles of one data directory.
type Packer struct {
	Store *store.Store
	Cards *bringing.Cards
	Data  string
}

// Pack writes a title to out as one file. told hears how many photos of how many
// are in. An original that cannot be read is named in the manifest and left out.
//
// Errors: NotFound; Invalid for a wish that cannot be; Unreadable when out or
// the disk fails; those of ctx.
func (p Packer) Pack(ctx context.Context, out io.Writer, title sequence.TitleID, wish Wish, told func(done, of int)) (Manifest, error) {
	if err := wish.check(); err != nil {
		return Manifest{}, err
	}
	known, err := p.Store.Title(ctx, title)
	if err != nil {
		return Manifest{}, err
	}
	photos, err := p.Store.Photos(ctx, title)
	if err != nil {
		return Manifest{}, err
	}
	a := archive{zip: zip.NewWriter(out), at: p.Store.Now().UTC().Truncate(time.Second),
		manifest: Manifest{Kind: kind, Form: Form, Title: known.Name, Photos: len(photos), Places: wish.Places, Missing: []string{}}}
	a.manifest.Packed = a.at
	if err := p.addData(ctx, &a, title, wish); err != nil {
		return Manifest{}, err
	}
	for i, photo := range photos {
		if err := ctx.Err(); err != nil {
			return Manifest{}, err
		}
		if err := p.addPhoto(ctx, &a, photo, wish); err != nil {
			return Manifest{}, err
		}
		told(i+1, len(photos))
	}
	return a.manifest, a.end()
}

func (p Packer) addData(ctx context.Context, a *archive, title sequence.TitleID, wish Wish) error {
	dir, err := os.MkdirTemp("", "pairwall-pack-*")
	if err != nil {
		return unwritten(err)
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, dataName)
	if err := p.Store.Pack(ctx, title, path, wish.Places); err != nil {
		return err
	}
	file, err := os.Open(path)
	if err != nil {
		return unwritten(err)
	}
	defer file.Close()
	return a.add(dataName, zip.Deflate, file)
}

func (p Packer) addPhoto(ctx context.Context, a *archive, photo sequence.Photo, wish Wish) error {
	for _, size := range intake.CardSizes {
		card, err := p.Cards.Open(ctx, photo, size)
		if err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			a.manifest.Missing = append(a.manifest.Missing, photo.Name)
			return nil // neither card nor original can be had; the rows go all the same
		}
		err = a.add("cards/"+photo.Hash+"/"+strconv.Itoa(size)+".jpg", zip.Store, card)
		card.Close()
		if err != nil {
			return err
		}
	}
	if !wish.Originals {
		return nil
	}
	name := "originals/" + photo.Hash + "/" + strings.ReplaceAll(photo.Name, "/", "-")
	original, err := os.Open(photo.Path)
	if err != nil {
		a.manifest.Missing = append(a.manifest.Missing, photo.Name)
		return nil
	}
	defer original.Close()
	if err := a.add(name, zip.Store, original); err != nil {
		return err
	}
	a.manifest.Originals++
	return nil
}

// archive is a pack in the making.
type archive struct {
	zip      *zip.Writer
	at       time.Time
	manifest Manifest
}

func (a *archive) add(name string, method uint16, from io.Reader) error {
	to, err := a.zip.CreateHeader(&zip.FileHeader{Name: name, Method: method, Modified: a.at})
	if err != nil {
		return unwritten(err)
	}
	sum := sha256.New()
	n, err := io.Copy(io.MultiWriter(to, sum), from)
	if err != nil {
		return unwritten(fmt.Errorf("%s: %w", name, err))
	}
	a.manifest.Files = append(a.manifest.Files, File{name, n, hex.EncodeToString(sum.Sum(nil))})
	return nil
}

// end writes the manifest and the archive's directory.
func (a *archive) end() error {
	to, err := a.zip.CreateHeader(&zip.FileHeader{Name: manifestName, Method: zip.Deflate, Modified: a.at})
	if err != nil {
		return unwritten(err)
	}
	encoder := json.NewEncoder(to)
	encoder.SetIndent("", " ")
	if err := errors.Join(encoder.Encode(a.manifest), a.zip.Close()); err != nil {
		return unwritten(err)
	}
	return nil
}

func unwritten(err error) error {
	return &sequence.Error{Code: sequence.Unreadable, Message: "The pack could not be written to its end.",
		Hint: "See whether the disk has room, and try again.", Err: err}
}
