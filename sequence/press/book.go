package press

import (
	"errors"
	"fmt"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/press/pdf"
)

// Bound is a book and what is on its pages.
type Bound struct {
	Book pages.Book
	Open Plates
	Told func(page int) // called as each page is done; may be nil
}

// Marks printed outside the bleed. Common practice.
const (
	markGap  pages.Length = 1  // from the bleed to the mark
	markLong pages.Length = 5  // of a crop mark
	markRoom pages.Length = 10 // outside the bleed, for marks and a line of words
	target   pages.Length = 2  // radius of a registration mark
)

// SinglePages adds the pages of a book one by one, in order, each with its bleed;
// with marks, also with crop and registration marks outside it.
//
// Errors: those of opening a picture, naming the page.
func (d *Document) SinglePages(b Bound, marks bool) error {
	room := b.Book.Format.Bleed
	if marks {
		room += markRoom
	}
	trim := pages.Rect{X: room, Y: room, Size: b.Book.Format.Trim}
	boxes := Boxes{Media: pages.Size{Width: trim.Width + 2*room, Height: trim.Height + 2*room}, Trim: trim, Bleed: b.Book.Format.Bleed}
	for _, page := range b.Book.Pages {
		err := d.Boxed(boxes, func(ink *Ink) error {
			if marks {
				ink.marks(b.Book.Format, fmt.Sprintf("%s, page %d", d.about.Title, page.Number))
			}
			return ink.In(b.Book.Format.Bled(), func() error { return ink.page(b, page) })
		})
		if err != nil {
			return err
		}
		b.told(page.Number)
	}
	return nil
}

func (b Bound) told(page int) {
	if b.Told != nil {
		b.Told(page)
	}
}

// page draws what is on a page, from the corner of its trim.
func (k *Ink) page(b Bound, page pages.BookPage) error {
	if s := page.Shown; s != nil {
		picture, err := k.doc.Plate(fmt.Sprintf("photo %d", s.Photo), func() (Plate, error) { return b.Open(s.Photo) })
		if err != nil {
			return onPage(page.Number, err)
		}
		if s.Window.Width > 0 && s.Window.Height > 0 {
			_ = k.In(s.Window, func() error { k.Picture(picture, s.Picture); return nil })
		}
	}
	for _, w := range page.Writings {
		lines, _ := w.Set(k.doc.letters, page.Right()) // what is over was told, and is printed as it was shown
		for _, line := range lines {
			k.Text(line.Text, line.Size, line.X, line.Y)
		}
	}
	return nil
}

// onPage says of an error on which page it was met.
func onPage(number int, err error) error {
	var coded *sequence.Error
	if !errors.As(err, &coded) || coded.Code == sequence.Cancelled {
		return err
	}
	return &sequence.Error{Code: coded.Code, Message: fmt.Sprintf("Page %d: %s", number, coded.Message), Hint: coded.Hint, Err: coded.Err}
}

// marks draws crop marks at the corners and registration marks at the middle of
// each side, in every ink, outside the bleed, and says which page it is.
func (k *Ink) marks(f pages.Format, words string) {
	from := f.Bleed + markGap
	k.spaces[registrationMarks] = k.doc.registration()
	k.content.Within(func() {
		k.content.ColourIn(registrationMarks, 1)
		for _, x := range []pages.Length{0, f.Trim.Width} {
			k.stroke(x, -from-markLong, x, -from)
			k.stroke(x, f.Trim.Height+from, x, f.Trim.Height+from+markLong)
		}
		for _, y := range []pages.Length{0, f.Trim.Height} {
			k.stroke(-from-markLong, y, -from, y)
			k.stroke(f.Trim.Width+from, y, f.Trim.Width+from+markLong, y)
		}
		away := from + target + 1
		for _, at := range [][2]pages.Length{{f.Trim.Width / 2, -away}, {f.Trim.Width / 2, f.Trim.Height + away},
			{-away, f.Trim.Height / 2}, {f.Trim.Width + away, f.Trim.Height / 2}} {
			k.content.Circle(k.x(at[0]), k.y(at[1]), points(target))
			k.content.Stroke(points(hair))
			k.stroke(at[0]-target-1, at[1], at[0]+target+1, at[1])
			k.stroke(at[0], at[1]-target-1, at[0], at[1]+target+1)
		}
	})
	room := f.Trim.Width/2 - target - 2 - 6
	for _, line := range k.doc.letters.Break(words, captionSize, room, 1) {
		k.Text(line, captionSize, 6, -from-2)
	}
}

const registrationMarks pdf.Name = "All"

// stroke draws a hairline in the colour set before.
func (k *Ink) stroke(x1, y1, x2, y2 pages.Length) {
	k.content.Line(points(hair), k.x(x1), k.y(y1), k.x(x2), k.y(y2))
}
