package press

import (
	"fmt"
	"strconv"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// Contacts adds contact sheets of photos in the order they were laid out in.
//
// Errors: what opening a picture gives.
func (d *Document) Contacts(title string, style pages.ContactStyle, sheets [][]pages.Contact,
	photos map[sequence.PhotoID]sequence.Photo, open Source) error {
	for i, sheet := range sheets {
		err := d.Page(style.Sheet.Size, func(ink *Ink) error {
			ink.Text(title, 4.2, style.Margin, style.Margin+4.2)
			ink.Right(fmt.Sprintf("%d of %d", i+1, len(sheets)), lineSize, style.Sheet.Width-style.Margin, style.Margin+4.2)
			for _, one := range sheet {
				if err := ink.shown(one.Photo, one.Picture, open); err != nil {
					return err
				}
				ink.contactFoot(photos[one.Photo], one.Foot)
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func (k *Ink) shown(photo sequence.PhotoID, at pages.Rect, open Source) error {
	picture, err := k.doc.Plate(fmt.Sprintf("photo %d", photo), func() (Plate, error) { return open.Upright()(photo) })
	if err == nil {
		k.Picture(picture, at)
	}
	return err
}

func (k *Ink) contactFoot(photo sequence.Photo, foot pages.Rect) {
	y := foot.Y + 3.6
	number := strconv.Itoa(int(photo.Number))
	k.Text(number, lineSize*1.15, foot.X, y)
	x := foot.X + k.doc.letters.Width(number, lineSize*1.15) + 1.5
	for _, line := range k.doc.letters.Break(photo.Caption, captionSize*0.9, foot.X+foot.Width-x, 2) {
		k.Letter(line, captionSize*0.9, x, y, 0.3)
		y += captionSize
	}
}

// Openings adds the spreads of a sequence, one to a page, as plain shows them.
// They carry no names, no places and no dates: a friend looks at pictures.
//
// Errors: what opening a picture gives.
func (d *Document) Openings(style pages.PlainStyle, openings []pages.Opened, open Source) error {
	size := pages.Size{Width: 2 * style.Page.Width, Height: style.Page.Height}
	for _, o := range openings {
		err := d.Page(size, func(ink *Ink) error {
			if !o.Left || !o.Right { // beside the first and the last page lies the table, not paper
				bare := pages.Rect{Size: style.Page}
				if o.Left {
					bare.X = style.Page.Width
				}
				ink.Fill(bare, 0.85)
			}
			for _, placed := range o.Placed {
				if err := ink.shown(placed.Photo, placed.Picture, open); err != nil {
					return err
				}
			}
			ink.numbers(style, o)
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// numbers prints page numbers at the outer feet, and the fold.
func (k *Ink) numbers(style pages.PlainStyle, o pages.Opened) {
	foot := style.Page.Height - 6
	if o.Left {
		k.Letter(strconv.Itoa(o.Number-1), captionSize, 8, foot, 0.4)
	}
	if o.Right {
		number := strconv.Itoa(o.Number)
		k.Letter(number, captionSize, 2*style.Page.Width-8-k.doc.letters.Width(number, captionSize), foot, 0.4)
	}
	if o.Left && o.Right {
		k.Line(hair, 0.8, style.Page.Width, 0, style.Page.Width, style.Page.Height)
	}
}
