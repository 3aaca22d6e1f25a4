package sequence

import (
	"fmt"
	"slices"
)

// SpreadID names a spread within its title for as long as the title lives; it
// is never given to another spread, so that history can speak of it.
type SpreadID int

// Side is where on the wall a page lies.
type Side string

// The sides. Opening is page 1, a right page alone; Closing is the last page,
// a left page alone. Neither belongs to a spread.
const (
	Left    Side = "left"  // verso, even page number
	Right   Side = "right" // recto, odd page number
	Opening Side = "opening"
	Closing Side = "closing"
)

// Page names one page of the wall. Spread is 0 for Opening and Closing.
type Page struct {
	Spread SpreadID `json:"spread,omitempty"`
	Side   Side     `json:"side"`
}

func (p Page) String() string {
	if p.Spread == 0 {
		return string(p.Side) + " page"
	}
	return fmt.Sprintf("%s page of spread %d", p.Side, p.Spread)
}

// Spread is two facing pages. Either may be blank (0).
type Spread struct {
	ID     SpreadID `json:"id"`
	Left   PhotoID  `json:"left,omitempty"`
	Right  PhotoID  `json:"right,omitempty"`
	Across bool     `json:"across,omitempty"` // the photo in Left crosses the gutter; Right is 0
	Pinned bool     `json:"pinned,omitempty"` // automatic arranging leaves it as and where it is

	Chapter ChapterID `json:"chapter,omitempty"` // 0 for none
	Note    string    `json:"note,omitempty"`    // why these two, in the maker's words
}

// Paired reports whether two photos face each other on the spread.
func (s Spread) Paired() bool { return s.Left != 0 && s.Right != 0 }

// Empty reports whether both pages are blank.
func (s Spread) Empty() bool { return s.Left == 0 && s.Right == 0 }

// Sequence is the wall: an opening page, spreads in reading order and a
// closing page, and beside it the box. What is in neither lies on the table;
// a sequence does not list it, because it does not know the title's photos.
type Sequence struct {
	Revision int64     `json:"revision"` // how many changes led here
	Opening  PhotoID   `json:"opening,omitempty"`
	Spreads  []Spread  `json:"spreads"`
	Closing  PhotoID   `json:"closing,omitempty"`
	Box      []PhotoID `json:"box"`            // ascending
	Last     SpreadID  `json:"last"`           // the highest spread number ever given
	Line     LineID    `json:"line,omitempty"` // the line of work it belongs to

	Chapters    []Chapter `json:"chapters,omitempty"`    // ascending by number
	LastChapter ChapterID `json:"lastChapter,omitempty"` // the highest chapter number ever given
}

// Index returns the position of a spread in reading order, or -1.
func (q Sequence) Index(id SpreadID) int {
	for i, s := range q.Spreads {
		if s.ID == id {
			return i
		}
	}
	return -1
}

// At returns the photo on a page, 0 for a blank one; ok is false when there is
// no such page.
func (q Sequence) At(p Page) (photo PhotoID, ok bool) {
	switch p.Side {
	case Opening, Closing:
		if p.Spread != 0 {
			return 0, false
		}
		if p.Side == Opening {
			return q.Opening, true
		}
		return q.Closing, true
	case Left, Right:
		i := q.Index(p.Spread)
		if i < 0 {
			return 0, false
		}
		if p.Side == Left {
			return q.Spreads[i].Left, true
		}
		return q.Spreads[i].Right, true
	}
	return 0, false
}

// Wall lists the photos on the wall in reading order.
func (q Sequence) Wall() []PhotoID {
	var photos []PhotoID
	for _, id := range q.pages() {
		if id != 0 {
			photos = append(photos, id)
		}
	}
	return photos
}

// pages lists what lies on every page in reading order, blanks included.
func (q Sequence) pages() []PhotoID {
	pages := make([]PhotoID, 0, 2*len(q.Spreads)+2)
	pages = append(pages, q.Opening)
	for _, s := range q.Spreads {
		pages = append(pages, s.Left, s.Right)
	}
	return append(pages, q.Closing)
}

// Drawn lists what one sees on every page in reading order: 0 on a blank one,
// and a photo that crosses the gutter on both of its pages.
func (q Sequence) Drawn() []PhotoID {
	pages := q.pages()
	for i, s := range q.Spreads {
		if s.Across {
			pages[2*i+2] = s.Left
		}
	}
	return pages
}

// PageCount is the number of pages of the whole: n spreads with an opening
// and a closing page make 2n+2.
func (q Sequence) PageCount() int { return 2*len(q.Spreads) + 2 }

// PageNumber returns the number printed on a page: 1 for the opening page,
// 2 and 3 for the first spread, and so on; 0 when there is no such page.
func (q Sequence) PageNumber(p Page) int {
	switch p.Side {
	case Opening:
		return 1
	case Closing:
		return q.PageCount()
	}
	i := q.Index(p.Spread)
	if i < 0 {
		return 0
	}
	if p.Side == Left {
		return 2*i + 2
	}
	return 2*i + 3
}

// Table lists those of all that lie neither on the wall nor in the box, in
// the order given.
func (q Sequence) Table(all []PhotoID) []PhotoID {
	return missingFrom(append(q.Wall(), q.Box...), all)
}

// Clone returns a copy that shares nothing with q.
func (q Sequence) Clone() Sequence {
	q.Spreads = append([]Spread{}, q.Spreads...)
	q.Box = append([]PhotoID{}, q.Box...)
	q.Chapters = slices.Clone(q.Chapters)
	return q
}

// Alike reports whether two sequences show the same wall and box: their
// revisions, lines of work and highest spread numbers do not count.
func (q Sequence) Alike(r Sequence) bool {
	return q.Opening == r.Opening && q.Closing == r.Closing && slices.Equal(q.Spreads, r.Spreads) && slices.Equal(q.Box, r.Box) && slices.Equal(q.Chapters, r.Chapters)
}

// Check returns an Invalid error naming the first rule of the wall that q
// breaks: a photo lies in one place only, a spread's number is used once, a
// photo across the gutter leaves no room for another, and a chapter is an
// unbroken run of spreads.
func (q Sequence) Check() error {
	if q.Line < 0 {
		return &Error{Code: Invalid, Message: fmt.Sprintf("There is no line of work %d.", q.Line)}
	}
	seen := make(map[PhotoID]bool)
	for _, id := range append(q.Wall(), q.Box...) {
		if id < 0 {
			return &Error{Code: Invalid, Message: fmt.Sprintf("There is no photo %d.", id)}
		}
		if seen[id] {
			return &Error{Code: Invalid, Message: fmt.Sprintf("Photo %d would lie in two places at once.", id),
				Hint: "Take it off one of them first."}
		}
		seen[id] = true
	}
	known := make(map[SpreadID]bool)
	for _, s := range q.Spreads {
		if s.ID <= 0 || s.ID > q.Last || known[s.ID] {
			return &Error{Code: Invalid, Message: fmt.Sprintf("Spread number %d cannot be used here.", s.ID)}
		}
		known[s.ID] = true
		if s.Across && (s.Left == 0 || s.Right != 0) {
			return &Error{Code: Invalid, Message: "A photo across the gutter needs both pages of its spread.",
				Hint: "Free the facing page first."}
		}
	}
	return q.checkChapters()
}
