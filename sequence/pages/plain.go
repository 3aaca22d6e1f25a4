package pages

import "pairwall/sequence"

// PlainStyle shows the wall on paper as it hangs: every photo whole, in the
// middle of its page. It serves to send a sequence to somebody, not to a printer.
type PlainStyle struct {
	Page   Size   // of one page, standing or lying
	Margin Length // white around the picture, at the gutter too
}

// FirstPlainStyle has pages of A5, so that a spread fills A4 lying.
var FirstPlainStyle = PlainStyle{Page: Size{148.5, 210}, Margin: 14}

// Opened is one opening of the book: what lies on the left, on the right, or
// across both, and the numbers of its pages.
type Opened struct {
	Number int // of the page on the right
	Left   bool
	Right  bool // whether there is such a page: the first has no left, the last no right
	Placed []Placed
}

// Placed is one photo on an opening.
type Placed struct {
	Photo   sequence.PhotoID
	Picture Rect
}

// Open lays out a sequence. Sizes gives the proportion of each photo; one it
// does not know leaves its page blank.
func (s PlainStyle) Open(q sequence.Sequence, sizes map[sequence.PhotoID]Proportion) []Opened {
	left := Rect{Size: s.Page}
	right := Rect{X: s.Page.Width, Size: s.Page}
	both := Rect{Size: Size{2 * s.Page.Width, s.Page.Height}}
	place := func(photo sequence.PhotoID, page Rect) []Placed {
		size, known := sizes[photo]
		if !known {
			return nil
		}
		room := page.Inset(s.Margin)
		return []Placed{{photo, room.Centred(room.Fitted(size.Width, size.Height))}}
	}
	all := []Opened{{Number: 1, Right: true, Placed: place(q.Opening, right)}}
	for i, spread := range q.Spreads {
		o := Opened{Number: 2*i + 3, Left: true, Right: true}
		if spread.Across {
			o.Placed = place(spread.Left, both)
		} else {
			o.Placed = append(place(spread.Left, left), place(spread.Right, right)...)
		}
		all = append(all, o)
	}
	return append(all, Opened{Number: q.PageCount() + 1, Left: true, Placed: place(q.Closing, left)})
}
