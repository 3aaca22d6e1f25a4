package intake

import (
	"context"
	"image"
	"os"
	"path/filepath"
	"slices"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
)

// Read reads one file: it returns the photo, with Number and Came left to the
// caller, and writes its card images below the folder cards, which it makes if
// need be. The original is only read. The limits are DefaultLimits.
//
// It runs in this process; a file made to do harm can take the process with
// it, so Pool.Read is the one to use for other people's files.
//
// Errors: NotFound, Invalid (a folder, a device), Unsupported, Damaged,
// TooLarge, Unreadable, Cancelled. Where Stops is true the next file would
// fail as well.
func Read(ctx context.Context, path, cards string) (sequence.Photo, error) {
	if err := os.MkdirAll(cards, 0o755); err != nil {
		return sequence.Photo{}, unwritable(err)
	}
	scratch, err := os.MkdirTemp(cards, scratchPrefix)
	if err != nil {
		return sequence.Photo{}, unwritable(err)
	}
	defer os.RemoveAll(scratch)
	return read(ctx, path, cards, scratch, DefaultLimits)
}

// scratchPrefix begins the names of the folders in which card images are
// drafted; no hash begins like it.
const scratchPrefix = ".reading-"

// read is Read with everything given.
func read(ctx context.Context, path, cards, scratch string, limits Limits) (sequence.Photo, error) {
	o, h, err := openPicture(path, limits)
	if err != nil {
		return sequence.Photo{}, err
	}
	defer o.file.Close()
	h.Beside(sidecar(path))
	// Hashing and decoding take about as long and can go side by side.
	type hashed struct {
		sum string
		err error
	}
	hash := make(chan hashed, 1)
	go func() {
		sum, err := o.hash()
		hash <- hashed{sum, err}
	}()
	photo := describe(path, o, h)
	images, err := look(ctx, &photo, o, h)
	sum := <-hash // also keeps the file open until it is read
	if err != nil {
		return sequence.Photo{}, err
	}
	if sum.err != nil {
		return sequence.Photo{}, sum.err
	}
	if err := o.unchanged(); err != nil {
		return sequence.Photo{}, err
	}
	if err := ctx.Err(); err != nil {
		return sequence.Photo{}, cancelled(err)
	}
	photo.Hash = sum.sum
	return photo, keepCards(cards, scratch, photo.Hash, images)
}

// describe fills in what can be known without the pixels.
func describe(path string, o original, h header.Header) sequence.Photo {
	absolute, err := filepath.Abs(path)
	if err != nil {
		absolute = path
	}
	s := h.Said
	label, labelled := labName(absolute)
	p := sequence.Photo{
		Name: filepath.Base(absolute), Path: absolute, Bytes: o.size(), Stamp: o.info.ModTime().UTC(),
		Format: h.Format, Width: h.Width, Height: h.Height,
		Camera: s.Camera(), Scan: isScan(s, labelled),
		Caption: caption(h), Feeling: keywords(h),
	}
	if h.Turn >= 5 && h.Turn <= 8 {
		p.Width, p.Height = h.Height, h.Width
	}
	if p.Scan && labelled {
		p.Roll, p.Frame = label.roll, label.frame
	}
	var ofDate, ofPlace []sequence.Finding
	p.Taken, ofDate = taken(h, p.Scan, time.Now())
	p.Where, ofPlace = where(h)
	p.Findings = slices.Concat(ofDate, ofPlace)
	return p
}

// look decodes the pixels, measures them into the photo and returns the card
// images.
func look(ctx context.Context, p *sequence.Photo, o original, h header.Header) (map[int]*image.RGBA, error) {
	print, err := printOf(ctx, o, h)
	if err != nil {
		return nil, err
	}
	p.Profile = print.Profile
	p.Findings = append(p.Findings, print.Findings...)
	images, err := cardImages(print.Picture)
	if err != nil {
		return nil, err
	}
	measure(print.Picture, p)
	return images, nil
}
