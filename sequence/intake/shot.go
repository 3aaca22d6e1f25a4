package intake

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"image"
	"os"
	"path/filepath"

	"pairwall/sequence"
	"pairwall/sequence/intake/pixels"
)

// Shot is a photograph that is read for what it shows and not brought in, such
// as one of the paper wall.
type Shot struct {
	Grey *image.Gray // upright, as large as it was taken but for MostShot
	View []byte      // a JPEG for the screen, upright, sRGB, longer side ViewSize at most, without EXIF
}

const (
	// ViewSize is the longer side of a shot's view in pixels.
	ViewSize = 2000
	// MostShot is the longer side in pixels beyond which a shot is made smaller.
	MostShot = 12_000
	// viewQuality is enough to read a handwritten number by.
	viewQuality = 82
)

const (
	greyName = "grey.pgm"
	viewName = "view.jpg"
)

// Shot decodes a photograph in a worker. The folder scratch, which must exist,
// is used on the way, and nothing is left in it.
//
// Errors: those of Read.
func (p *Pool) Shot(ctx context.Context, path, scratch string) (Shot, error) {
	absolute, err := filepath.Abs(path)
	if err != nil {
		return Shot{}, unopened(err)
	}
	folder, err := os.MkdirTemp(scratch, scratchPrefix)
	if err != nil {
		return Shot{}, unwritable(err)
	}
	defer os.RemoveAll(folder)
	if _, err := p.put(ctx, question{Path: []byte(absolute), Shot: []byte(folder)}); err != nil {
		return Shot{}, err
	}
	var s Shot
	if s.View, err = os.ReadFile(filepath.Join(folder, viewName)); err != nil {
		return Shot{}, unread(err)
	}
	plain, err := os.ReadFile(filepath.Join(folder, greyName))
	if err != nil {
		return Shot{}, unread(err)
	}
	if s.Grey, err = readGrey(plain); err != nil {
		return Shot{}, unread(err)
	}
	return s, nil
}

// shoot is a worker's part in Shot: it leaves a grey picture and a view in the
// folder. Only the size of the photo is filled in.
func shoot(ctx context.Context, path, folder string, limits Limits) (photo sequence.Photo, err error) {
	o, h, err := openPicture(path, limits)
	if err != nil {
		return sequence.Photo{}, err
	}
	defer o.file.Close()
	print, err := printAt(ctx, o, h, min(max(h.Width, h.Height), MostShot))
	if err != nil {
		return sequence.Photo{}, err
	}
	photo.Width, photo.Height = print.Picture.Rect.Dx(), print.Picture.Rect.Dy()
	if err := os.WriteFile(filepath.Join(folder, greyName), writeGrey(print.Picture), 0o600); err != nil {
		return sequence.Photo{}, unwritable(err)
	}
	small, err := pixels.Smaller(print.Picture, ViewSize)
	if err != nil {
		return sequence.Photo{}, err
	}
	view, err := pixels.Encode(small, viewQuality)
	if err != nil {
		return sequence.Photo{}, err
	}
	if err := os.WriteFile(filepath.Join(folder, viewName), view, 0o600); err != nil {
		return sequence.Photo{}, unwritable(err)
	}
	return photo, nil
}

// writeGrey writes how light a picture is as a portable graymap (Netpbm, P5):
// luma with the weights of BT.601, which JPEG uses.
func writeGrey(img *image.RGBA) []byte {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	out := fmt.Appendf(make([]byte, 0, w*h+20), "P5 %d %d 255\n", w, h)
	for y := range h {
		row := img.Pix[y*img.Stride : y*img.Stride+4*w]
		for x := 0; x < len(row); x += 4 {
			out = append(out, byte((299*int(row[x])+587*int(row[x+1])+114*int(row[x+2])+500)/1000))
		}
	}
	return out
}

// readGrey reads what writeGrey wrote, in another process: it is not believed.
func readGrey(plain []byte) (*image.Gray, error) {
	from := bufio.NewReader(bytes.NewReader(plain[:min(len(plain), 64)]))
	head, err := from.ReadString('\n')
	if err != nil {
		return nil, fmt.Errorf("a grey picture without a head: %w", err)
	}
	var w, h int
	if _, err := fmt.Sscanf(head, "P5 %d %d 255\n", &w, &h); err != nil {
		return nil, fmt.Errorf("a grey picture with a false head: %w", err)
	}
	pix := plain[len(head):]
	if w < 1 || h < 1 || w > MostShot || h > MostShot || len(pix) != w*h {
		return nil, fmt.Errorf("a grey picture of %d × %d with %d pixels", w, h, len(pix))
	}
	return &image.Gray{Pix: pix, Stride: w, Rect: image.Rect(0, 0, w, h)}, nil
}
