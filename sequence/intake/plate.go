package intake

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"os"
	"path/filepath"

	"pairwall/sequence"
	"pairwall/sequence/colour/inks"
	"pairwall/sequence/intake/header"
	"pairwall/sequence/intake/pixels"
)

// PlateWish is how a picture is to go to a press.
type PlateWish struct {
	Long   int    // longest side in pixels; 0: as it is
	Inks   []byte // ICC profile of a press with four inks to convert to; nil: in its own colours
	Device bool   // the press takes inks without a profile as its own
}

// Plate is a picture as it goes to a press, as large as it is and as it is
// stored: Turn says how to lay it upright.
type Plate struct {
	As       bool // the file itself is a JPEG that can go as it is, and nothing was made
	Turn     int  // EXIF's orientation, 1..8
	AdobeRGB bool // with As: the file says by EXIF alone that its colours are those of Adobe RGB (1998)

	Width, Height, Channels int    // of the samples, 8 bits each, side by side
	Profile                 []byte // of the samples; nil: the inks wished for
	Samples                 string // the file that holds them; its folder is the caller's to remove
}

// plateTold is what a worker says of a plate.
type plateTold struct {
	As, AdobeRGB            bool
	Turn                    int
	Width, Height, Channels int
	Profile                 []byte
}

const (
	plateName = "plate.json"
	wishName  = "wish.json"
	platePix  = "plate.samples"
)

// Plate reads a picture in a worker as a press takes it. JPEG goes as it is
// unless something else is wished for; any other is decoded into the folder,
// which must exist and be this call's alone.
//
// Errors: those of Read; Damaged also for a picture of which a part is missing;
// Unsupported for inks that cannot be converted to.
func (p *Pool) Plate(ctx context.Context, path, folder string, wish PlateWish) (Plate, error) {
	absolute, err := filepath.Abs(path)
	if err != nil {
		return Plate{}, unopened(err)
	}
	said, err := json.Marshal(wish)
	if err != nil {
		return Plate{}, err
	}
	if err := os.WriteFile(filepath.Join(folder, wishName), said, 0o600); err != nil {
		return Plate{}, unwritable(err)
	}
	if _, err := p.put(ctx, question{Path: []byte(absolute), Plate: []byte(folder)}); err != nil {
		return Plate{}, err
	}
	return readPlate(folder)
}

// readPlate reads what a worker left, in another process: it is not believed.
func readPlate(folder string) (Plate, error) {
	plain, err := os.ReadFile(filepath.Join(folder, plateName))
	if err != nil {
		return Plate{}, unread(err)
	}
	var told plateTold
	if err := json.Unmarshal(plain, &told); err != nil {
		return Plate{}, unread(err)
	}
	plate := Plate{As: told.As, Turn: min(max(told.Turn, 1), 8), AdobeRGB: told.AdobeRGB,
		Width: told.Width, Height: told.Height, Channels: told.Channels, Profile: told.Profile}
	if plate.As {
		return plate, nil
	}
	plate.Samples = filepath.Join(folder, platePix)
	info, err := os.Stat(plate.Samples)
	if err != nil {
		return Plate{}, unread(err)
	}
	if w, h, n := int64(told.Width), int64(told.Height), int64(told.Channels); w < 1 || h < 1 || w > 1<<20 || h > 1<<20 || n < 1 || n > 4 || info.Size() != w*h*n {
		return Plate{}, unread(fmt.Errorf("a plate of %d × %d × %d with %d samples", w, h, n, info.Size()))
	}
	return plate, nil
}

// plate is a worker's part in Plate. Only the size of the photo is filled in.
func plate(ctx context.Context, path, folder string, limits Limits) (photo sequence.Photo, err error) {
	var wish PlateWish
	said, err := os.ReadFile(filepath.Join(folder, wishName))
	if err == nil {
		err = json.Unmarshal(said, &wish)
	}
	if err != nil {
		return photo, unread(err)
	}
	o, err := openOriginal(path)
	if err != nil {
		return photo, err
	}
	defer o.file.Close()
	h, err := readHeader(o, limits)
	if err != nil {
		return photo, err
	}
	photo.Width, photo.Height = h.Width, h.Height
	told := plateTold{Turn: h.Turn}
	shrinks := wish.Long > 0 && wish.Long < max(h.Width, h.Height)
	inksAlone := h.Components == 4 && (h.Profile == nil || h.Torn) && !wish.Device
	if h.Format == "jpeg" && !shrinks && wish.Inks == nil && !inksAlone {
		told.As, told.AdobeRGB = true, h.Profile == nil && !h.Torn && h.Components == 3 && h.Said.AdobeRGB
		return photo, tellPlate(folder, told)
	}
	decoded, err := pixels.Decode(h, o.file, o.size(), max(h.Width, h.Height))
	if err != nil {
		return photo, ofDisk(err)
	}
	for _, f := range decoded.Findings {
		return photo, &sequence.Error{Code: f.Code, Message: f.Words, Hint: f.Hint}
	}
	if err := ctx.Err(); err != nil {
		return photo, cancelled(err)
	}
	want := pixels.Wanted{Long: wish.Long}
	if wish.Inks != nil {
		if want.Inks, err = inks.Read(wish.Inks); err != nil {
			return photo, header.Unsupported("Nothing can be converted to this colour profile.", "Ask the printer for the ICC profile of their press, for CMYK.", err)
		}
	}
	made, err := writePlate(folder, decoded.Image, want, h)
	if err != nil {
		return photo, err
	}
	told.Width, told.Height, told.Channels, told.Profile = made.Width, made.Height, made.Channels, made.Profile
	return photo, tellPlate(folder, told)
}

func tellPlate(folder string, told plateTold) error {
	plain, err := json.Marshal(told)
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, plateName), plain, 0o600)
	}
	if err != nil {
		return unwritable(err)
	}
	return nil
}

func writePlate(folder string, full image.Image, want pixels.Wanted, h header.Header) (pixels.Plate, error) {
	file, err := os.OpenFile(filepath.Join(folder, platePix), os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return pixels.Plate{}, unwritable(err)
	}
	defer file.Close()
	out := bufio.NewWriterSize(file, 1<<20)
	made, err := pixels.WritePlate(out, full, h, want)
	if err != nil {
		var coded *sequence.Error
		if errors.As(err, &coded) {
			return made, err
		}
		return made, unwritable(err)
	}
	if err := out.Flush(); err != nil {
		return made, unwritable(err)
	}
	return made, nil
}

// Torn reports whether a finding says that a part of the picture itself is
// missing, not only of what the file says of it.
func Torn(f sequence.Finding) bool { return f.Code == sequence.Damaged && f.Hint == header.CopyHint }
