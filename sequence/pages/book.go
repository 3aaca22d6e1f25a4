package pages

import (
	"strconv"

	"pairwall/sequence"
)

// Book is a title on its pages.
type Book struct {
	Format Format     `json:"format"`
	Pages  []BookPage `json:"pages"` // page 1 first

	count int // of pages, once all are laid
}

// BookPage is one page. Its rectangles count from the top left corner of its
// trim; what bleeds lies beyond.
type BookPage struct {
	Number int            `json:"number"`         // from 1; odd ones are right pages
	On     *sequence.Page `json:"on,omitempty"`   // which page of the wall it is; nil for pages before and after it
	Leaf   *Leaf          `json:"leaf,omitempty"` // its words
	Shown  *Shown         `json:"shown,omitempty"`

	Caption *Rect `json:"caption,omitempty"` // room for the photo's caption; nil when none is printed here
	Words   *Rect `json:"words,omitempty"`   // room for the words of Leaf
	Folio   *Rect `json:"folio,omitempty"`   // room for the page number, on the outer side

	Writings []Writing `json:"writings,omitempty"` // all words of the page in their rooms
}

// Right reports whether it is a right page (recto).
func (p BookPage) Right() bool { return p.Number%2 == 1 }

// Shown is a photo, or half of one, on a page.
type Shown struct {
	Photo   sequence.PhotoID `json:"photo"`
	Manner  Manner           `json:"manner"`
	Picture Rect             `json:"picture"`         // the whole picture, as far as it reaches beyond its window too
	Window  Rect             `json:"window"`          // what of it is printed
	Whole   Rect             `json:"whole"`           // the window on both pages together; Window unless across
	Across  bool             `json:"across"`          // the other half lies on the facing page
	Keep    *Point           `json:"keep,omitempty"`  // what must stay in sight, in the picture
	Filled  bool             `json:"filled"`          // the window reaches into the bleed
	Apart   Length           `json:"apart,omitempty"` // of a half: how far it is moved from the fold
}

// PPI is the picture's effective resolution as placed, in pixels per inch, when
// it is so many pixels wide upright.
func (s Shown) PPI(width int) float64 { return float64(width) / s.Picture.Width.Inches() }

// At returns where a point of the picture lies on the page.
func (s Shown) At(p Point) (x, y Length) {
	return s.Picture.X + Length(p.X)*s.Picture.Width, s.Picture.Y + Length(p.Y)*s.Picture.Height
}

// Room for words on a page. Sizes are common practice, from memory.
const (
	captionRoom Length = 9   // two lines
	captionGap  Length = 2.5 // between picture and caption
	folioRoom   Length = 5
)

// Lay lays a wall out on pages, one after the other. It adds nothing: pages
// before the wall that are odd in number tear every spread, and Torn tells so.
// A photo that photos does not hold leaves its page without a picture.
//
// Complexity: O(pages).
func Lay(f Format, p Plan, q sequence.Sequence, photos map[sequence.PhotoID]sequence.Photo) Book {
	b := Book{Format: f, count: len(p.Front) + q.PageCount() + len(p.Back)}
	for _, l := range p.Front {
		b.leaf(p, l, nil)
	}
	b.wall(p, sequence.Page{Side: sequence.Opening}, q.Opening, photos)
	for _, s := range q.Spreads {
		left, right := sequence.Page{Spread: s.ID, Side: sequence.Left}, sequence.Page{Spread: s.ID, Side: sequence.Right}
		if photo, ok := photos[s.Left]; ok && s.Across {
			b.across(p, left, right, photo)
			continue
		}
		b.wall(p, left, s.Left, photos)
		b.wall(p, right, s.Right, photos)
	}
	b.wall(p, sequence.Page{Side: sequence.Closing}, q.Closing, photos)
	for _, l := range p.Back {
		b.leaf(p, l, nil)
	}
	return b
}

// Torn reports whether the pages before the wall are odd in number, so that its
// left pages would be right ones.
func (p Plan) Torn() bool { return len(p.Front)%2 == 1 }

func (b *Book) leaf(p Plan, l Leaf, on *sequence.Page) {
	page := BookPage{Number: len(b.Pages) + 1, On: on, Leaf: &l}
	if l.Kind != BlankLeaf {
		words := b.Format.Frame(b.Format.Margins, page.Right())
		page.Words = &words
		page.Writings = l.writings(p, b.Format, words, b.count)
	}
	if l.Kind == TextLeaf {
		page.folio(p, b.Format)
	}
	b.Pages = append(b.Pages, page)
}

// wall adds a page of the wall.
func (b *Book) wall(p Plan, on sequence.Page, id sequence.PhotoID, photos map[sequence.PhotoID]sequence.Photo) {
	photo, there := photos[id]
	if !there {
		for _, l := range p.Laid {
			if l.On == on {
				b.leaf(p, l.Leaf, &on)
				return
			}
		}
		b.Pages = append(b.Pages, BookPage{Number: len(b.Pages) + 1, On: &on})
		return
	}
	page := BookPage{Number: len(b.Pages) + 1, On: &on}
	one := p.PlacementOf(id, b.Format)
	frame := b.Format.Frame(*one.Margins, page.Right())
	window, captioned := one.window(b.Format.Bled(), frame, photo)
	page.Shown = show(one, photo, window, window)
	page.words(p, b.Format, photo, captioned)
	b.Pages = append(b.Pages, page)
}

// window is what of a page the picture fills, and whether its caption finds
// room below.
func (one Placement) window(bled, frame Rect, photo sequence.Photo) (window Rect, captioned bool) {
	if one.Manner == FullBleed {
		return bled, false
	}
	captioned = *one.Caption && photo.Caption != ""
	room := frame
	if one.Manner == Small {
		room = frame.Centred(Size{frame.Width * Length(one.Share), frame.Height * Length(one.Share)})
	}
	if captioned { // the caption lies within the frame, so that the margins stay
		room.Height = min(room.Height, frame.Bottom()-captionGap-captionRoom-room.Y)
	}
	return room.Centred(room.Fitted(float64(photo.Width), float64(photo.Height))), captioned
}

// show lays a picture into its window so that the window is filled. Printed is
// the part of the window that lies on this page.
func show(one Placement, photo sequence.Photo, window, printed Rect) *Shown {
	scale := max(float64(window.Width)/float64(photo.Width), float64(window.Height)/float64(photo.Height)) * one.Crop.Zoom
	size := Size{Length(scale * float64(photo.Width)), Length(scale * float64(photo.Height))}
	keep := one.Keep
	if keep == nil && photo.Gaze != nil {
		keep = &Point{photo.Gaze.X, photo.Gaze.Y}
	}
	at := func(from, room, side Length, middle float64) Length {
		wanted := from + room/2 - Length(middle)*side
		return max(from+room-side, min(from, wanted))
	}
	return &Shown{Photo: photo.Number, Manner: one.Manner, Keep: keep, Filled: one.Manner == FullBleed, Window: printed, Whole: window, Picture: Rect{
		X: at(window.X, window.Width, size.Width, one.Crop.Middle.X), Y: at(window.Y, window.Height, size.Height, one.Crop.Middle.Y), Size: size}}
}

// across adds the two pages of a picture across the gutter. The picture is laid
// on both pages as one sheet that is narrower by what the halves are moved
// apart; each half then reaches over the fold by as much, into what the gutter
// hides.
func (b *Book) across(p Plan, left, right sequence.Page, photo sequence.Photo) {
	one := p.PlacementOf(photo.Number, b.Format)
	f := b.Format
	fold := f.Trim.Width - one.Apart // where the two halves meet, on the narrower sheet
	sheet := Rect{Size: Size{2 * fold, f.Trim.Height}}
	m := *one.Margins
	frame := Rect{m.Outer, m.Top, Size{sheet.Width - 2*m.Outer, sheet.Height - m.Top - m.Bottom}}
	window, captioned := one.window(sheet.Inset(-f.Bleed), frame, photo)
	for i, on := range []sequence.Page{left, right} {
		page := BookPage{Number: len(b.Pages) + 1, On: &on}
		moved := Length(0)
		if i == 1 {
			moved = f.Trim.Width - sheet.Width // the sheet's right edge is the page's
		}
		whole := window
		whole.X += moved
		page.Shown = show(one, photo, whole, whole.meeting(f.Bled()))
		page.Shown.Across, page.Shown.Apart = true, one.Apart
		page.words(p, f, photo, captioned && i == 0)
		b.Pages = append(b.Pages, page)
	}
}

// Crossed reports whether a picture crosses the fold between a left page and the
// one that faces it.
func (b Book) Crossed(left int) bool {
	s := b.Pages[left-1].Shown
	return s != nil && s.Across
}

// meeting is what two rectangles have in common; empty when nothing.
func (r Rect) meeting(o Rect) Rect {
	x, y := max(r.X, o.X), max(r.Y, o.Y)
	return Rect{x, y, Size{max(0, min(r.Right(), o.Right())-x), max(0, min(r.Bottom(), o.Bottom())-y)}}
}

// words gives a page with a photo its caption and number.
func (page *BookPage) words(p Plan, f Format, photo sequence.Photo, captioned bool) {
	if captioned {
		w := page.Shown.Window
		page.Caption = &Rect{w.X, w.Bottom() + captionGap, Size{w.Width, captionRoom}}
		page.Writings = append(page.Writings, Writing{CaptionWriting, photo.Caption, *page.Caption})
	}
	if !page.Shown.Filled {
		page.folio(p, f)
	}
}

// folio numbers a page at its foot, within the title's margins, where no picture
// lies.
func (page *BookPage) folio(p Plan, f Format) {
	if !p.Folios {
		return
	}
	m := f.Margins
	m.Outer, m.Inner = max(m.Outer, f.Safe), max(m.Inner, f.Safe)
	foot := f.Frame(m, page.Right())
	foot.Y, foot.Height = f.Trim.Height-f.Safe-folioRoom, folioRoom
	if page.Shown != nil {
		if over := page.Shown.Window.meeting(foot); over.Width > tiny && over.Height > tiny {
			return
		}
	}
	page.Folio = &foot
	page.Writings = append(page.Writings, Writing{FolioWriting, strconv.Itoa(page.Number), foot})
}
