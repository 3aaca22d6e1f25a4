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
