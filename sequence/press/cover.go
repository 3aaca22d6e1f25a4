package press

import (
	"fmt"
	"strconv"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// Cover is a simple cover and what is on it.
type Cover struct {
	Flat  pages.FlatCover
	Own   pages.OwnCover
	Laid  pages.OwnLaid
	Lines []pages.CoverLine
	Open  Plates
}

// Cover adds a cover laid flat, its outside up; with marks, also crop and
// registration marks outside its bleed.
//
// Errors: those of opening a picture; Invalid for colours that are none.
func (d *Document) Cover(c Cover, marks bool) error {
	room := c.Flat.Bleed
	if marks {
		room += markRoom
	}
	return d.Boxed(flatBoxes(c.Flat, room), func(ink *Ink) error {
		if marks {
			ink.marks(pages.Format{Trim: c.Flat.Trim, Bleed: c.Flat.Bleed}, d.about.Title+", cover")
		}
		return ink.In(c.Flat.Bled(), func() error { return ink.cover(c) })
	})
}

// flatBoxes are the boxes of a cover with so much room around its trim.
func flatBoxes(c pages.FlatCover, room pages.Length) Boxes {
	return Boxes{Media: pages.Size{Width: c.Trim.Width + 2*room, Height: c.Trim.Height + 2*room},
		Trim: pages.Rect{X: room, Y: room, Size: c.Trim}, Bleed: c.Bleed}
}

func (k *Ink) cover(c Cover) error {
	if err := k.coloured(c.Own.Ground); err != nil {
		return err
	}
	k.path(c.Flat.Bled())
	k.content.Fill()
	if s := c.Laid.Picture; s != nil {
		picture, err := k.doc.Plate(fmt.Sprintf("photo %d", s.Photo), func() (Plate, error) { return c.Open(s.Photo) })
		if err != nil {
			return err
		}
		_ = k.In(s.Window, func() error { k.Picture(picture, s.Picture); return nil })
	}
	if c.Flat.Barcode != nil {
		k.Fill(*c.Flat.Barcode, 1)
	}
	if err := k.coloured(c.Own.Lettering); err != nil {
		return err
	}
	for _, line := range c.Lines {
		k.set(line.Text, line.Size, line.X, line.Y, line.Reads)
	}
	return nil
}

// coloured sets the colour of what is drawn next, "#rrggbb" in sRGB.
func (k *Ink) coloured(text string) error {
	v, err := strconv.ParseUint(text[min(1, len(text)):], 16, 24)
	if err != nil || len(text) != 7 {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q is no colour.", text), Hint: "Colours are written as #rrggbb."}
	}
	k.content.ColourIn(sRGB, float64(v>>16)/255, float64(v>>8&255)/255, float64(v&255)/255)
	return nil
}

// templateRoom is around the bleed of a template: for what the lines mean.
const templateRoom pages.Length = 18

// CoverTemplate adds a template of a cover: its outside, and its inside where
// that can be printed. All its lines are thin and of one ink, so that one left in
// by mistake makes no plate of its own.
func (d *Document) CoverTemplate(c pages.FlatCover, words string) error {
	for side, guides := range [][]pages.Guide{c.Outer, c.Inner} {
		if len(guides) == 0 {
			continue
		}
		name := []string{"outside", "inside"}[side]
		err := d.Boxed(flatBoxes(c, c.Bleed+templateRoom), func(ink *Ink) error {
			for _, s := range zones(guides) {
				ink.Fill(s, zoneGrey)
			}
			for _, s := range strokes(guides) {
				ink.dashed(s)
			}
			for _, l := range labels(guides, d.letters) {
				ink.Letter(l.Text, l.Size, l.X, l.Y, 0.2)
			}
			ink.legend(c, guides, words+", cover, "+name)
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func (k *Ink) dashed(s stroke) {
	k.content.Within(func() {
		if s.on > 0 {
			k.content.Dash(points(s.on), points(s.off))
		}
		k.Line(hair, s.grey, s.x1, s.y1, s.x2, s.y2)
	})
}

// legend says above the cover what it is, and below it what each line means.
func (k *Ink) legend(c pages.FlatCover, guides []pages.Guide, words string) {
	for _, line := range k.doc.letters.Break(words+". Print at 100 %. Take the guides away before the cover is printed.", lineSize, c.Trim.Width, 1) {
		k.Letter(line, lineSize, 0, -c.Bleed-templateRoom/2, 0)
	}
	const sample, column = 10, 62
	x, y := pages.Length(0), c.Trim.Height+c.Bleed+5
	said := map[string]bool{}
	for _, g := range guides {
		if said[g.Name] {
			continue
		}
		said[g.Name] = true
		if x+column > c.Trim.Width && x > 0 {
			x, y = 0, y+4
		}
		switch g.Mark {
		case pages.BackMark, pages.FrontMark, pages.SpineMark: // panels have no line of their own
		default:
			s := styleOf(g.Mark)
			s.x1, s.y1, s.x2, s.y2 = x, y, x+sample, y
			k.dashed(s)
		}
		k.Letter(g.Name, captionSize, x+sample+2, y+0.8, 0)
		x += column
	}
}
