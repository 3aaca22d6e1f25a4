package printing

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/sequence/pages"
	"pairwall/sequence/press"
	"pairwall/server/bringing"
)

// PressStyle is how pages are made for a printer.
type PressStyle struct {
	Marks   bool `json:"marks"`   // crop and registration marks outside the bleed
	Most    int  `json:"most"`    // pixels per inch above which pictures are made smaller; 0: never
	Screen  bool `json:"screen"`  // made for sRGB although the title has its printer's profile
	Convert bool `json:"convert"` // pictures to the printer's inks; otherwise they keep their own colours and the printer converts them
	Cards   bool `json:"cards"`   // where an original is missing or damaged, its card image in its place
}

// leastMost is below what any picture is printed at.
const leastMost = 72

// Check returns an Invalid error when pages cannot be made so.
func (s PressStyle) Check() error {
	if s.Most != 0 && s.Most < leastMost {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("Pictures of %d pixels per inch are too coarse to print.", s.Most),
			Hint: "Printers want 300."}
	}
	return nil
}

// Intent is what the pages of a title are made for.
func (m Matter) Intent(s PressStyle) *press.Intent {
	if m.Profile == nil || s.Screen {
		return press.SRGB()
	}
	return &press.Intent{Name: m.Profile.Name, Profile: m.Profile.Bytes}
}

// scratchIn is the folder for what is on its way to the press.
func scratchIn(data string) string { return filepath.Join(data, "printing") }

// Sweep clears away what a run that was killed left on its way: all that is older
// than a day, which no run takes.
func Sweep(data string) {
	entries, err := os.ReadDir(scratchIn(data))
	if err != nil {
		return // nothing was ever on its way
	}
	for _, e := range entries {
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > 24*time.Hour {
			os.RemoveAll(filepath.Join(scratchIn(data), e.Name()))
		}
	}
}

// plates opens originals for the press until ctx ends; done clears away what was
// decoded on the way.
func (p *Press) plates(ctx context.Context, m Matter, style PressStyle) (open press.Plates, done func(), err error) {
	if err := style.Check(); err != nil {
		return nil, nil, err
	}
	folder, err := p.folder()
	if err != nil {
		return nil, nil, err
	}
	largest, known := placed(m.Book()), m.known()
	inks := m.Profile
	if style.Screen {
		inks = nil
	}
	open = func(id sequence.PhotoID) (press.Plate, error) {
		if err := ctx.Err(); err != nil {
			return press.Plate{}, &sequence.Error{Code: sequence.Cancelled, Message: "Printing was stopped.", Err: err}
		}
		photo := known[id]
		if why := unfit(ctx, photo); why != nil {
			if !style.Cards {
				return press.Plate{}, why
			}
			file, err := p.cards.Open(ctx, photo, largeCard)
			return press.Plate{File: file, Turn: 1}, err
		}
		wish := intake.PlateWish{Device: inks != nil}
		if style.Most > 0 {
			wish.Long = int(math.Ceil(largest[id].Inches() * float64(style.Most)))
		}
		if style.Convert && inks != nil {
			wish.Inks = inks.Bytes
		}
		return p.plate(ctx, photo, folder, wish)
	}
	return open, func() { os.RemoveAll(folder) }, nil
}

// folder makes a folder that is this run's alone.
func (p *Press) folder() (string, error) {
	err := os.MkdirAll(p.scratch, 0o755)
	folder := ""
	if err == nil {
		folder, err = os.MkdirTemp(p.scratch, "plates-")
	}
	if err != nil {
		return "", noRoom(err)
	}
	return folder, nil
}

// plate has one original made ready. Samples are gone from the disk once read.
func (p *Press) plate(ctx context.Context, photo sequence.Photo, folder string, wish intake.PlateWish) (press.Plate, error) {
	own, err := os.MkdirTemp(folder, "plate-")
	if err != nil {
		return press.Plate{}, noRoom(err)
	}
	made, err := p.pool.Plate(ctx, photo.Path, own, wish)
	if err != nil {
		return press.Plate{}, err
	}
	if made.As {
		file, err := os.Open(photo.Path)
		if err != nil {
			return press.Plate{}, bringing.Unreadable(photo.Name, err)
		}
		return press.Plate{File: file, Turn: made.Turn, AdobeRGB: made.AdobeRGB}, nil
	}
	file, err := os.Open(made.Samples)
	if err != nil {
		return press.Plate{}, bringing.Unreadable("what was decoded of "+photo.Name, err)
	}
	return press.Plate{File: passing{file, own}, Turn: made.Turn, Width: made.Width, Height: made.Height, Channels: made.Channels, Profile: made.Profile}, nil
}

// passing is a file whose folder goes when it is closed.
type passing struct {
	*os.File
	folder string
}

func (p passing) Close() error {
	err := p.File.Close()
	os.RemoveAll(p.folder)
	return err
}

// placed is the longest side of each picture as it is laid, the whole of it.
func placed(book pages.Book) map[sequence.PhotoID]pages.Length {
	long := make(map[sequence.PhotoID]pages.Length)
	for _, page := range book.Pages {
		if s := page.Shown; s != nil {
			long[s.Photo] = max(long[s.Photo], s.Picture.Width, s.Picture.Height)
		}
	}
	return long
}

// unfit says why an original cannot be printed; nil when it can.
func unfit(ctx context.Context, photo sequence.Photo) *sequence.Error {
	look := bringing.Look(ctx, []sequence.Photo{photo})
	const instead = " Or have its card image printed in its place, of 1600 pixels."
	what := fmt.Sprintf("the original of photo %d, %s,", photo.Number, photo.Name)
	switch {
	case len(look.Missing) > 0:
		return &sequence.Error{Code: sequence.NotFound, Message: what + " is not where it was.", Hint: "Find originals again." + instead}
	case len(look.Changed) > 0:
		return &sequence.Error{Code: sequence.Conflict, Message: what + " is not as it was when it was brought in.", Hint: "Find originals again, or bring it in anew." + instead}
	case slices.ContainsFunc(photo.Findings, intake.Torn):
		return &sequence.Error{Code: sequence.Damaged, Message: what + " is damaged: a part of its picture is missing.", Hint: "Copy it again from the card or disk it came from." + instead}
	}
	return nil
}

// Unfit is a page whose picture cannot be printed from its original.
type Unfit struct {
	Page  int              `json:"page"`
	Photo sequence.PhotoID `json:"photo"`
	Words string           `json:"words"`
}

// Unfit lists them, in the order of pages.
func (m Matter) Unfit(ctx context.Context) []Unfit {
	found := []Unfit{}
	known := m.known()
	for _, page := range m.Book().Pages {
		if page.Shown == nil {
			continue
		}
		if why := unfit(ctx, known[page.Shown.Photo]); why != nil {
			found = append(found, Unfit{page.Number, page.Shown.Photo, fmt.Sprintf("Page %d: %s", page.Number, why.Message)})
		}
	}
	return found
}
