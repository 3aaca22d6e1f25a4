package pages

import (
	"fmt"
	"slices"
	"unicode/utf8"

	"pairwall/sequence"
)

// Plan is what the maker decided of how the wall sits on its pages. What says
// nothing of a photo leaves it to Manner, so that the plan of a wall just hung
// is one word.
type Plan struct {
	Manner     Manner      `json:"manner"`     // of every photo of which nothing else is said
	Captions   bool        `json:"captions"`   // print them, under pictures that leave room
	Folios     bool        `json:"folios"`     // print page numbers, where no picture lies
	Edition    int         `json:"edition"`    // copies to be printed, for the colophon; 0 while not known
	Front      []Leaf      `json:"front"`      // pages before the wall's opening page
	Back       []Leaf      `json:"back"`       // pages after the wall's closing page
	Laid       []LaidLeaf  `json:"laid"`       // words on blank pages of the wall
	Placements []Placement `json:"placements"` // ascending by photo
}

// FirstPlan frames every photo whole.
var FirstPlan = Plan{Manner: Framed, Front: []Leaf{}, Back: []Leaf{}, Laid: []LaidLeaf{}, Placements: []Placement{}}

// Tidied is the plan in its one form: its lists are never nil, its photos
// ascend, and a photo of which nothing is said is left out.
func (p Plan) Tidied() Plan {
	p.Front, p.Back, p.Laid = append([]Leaf{}, p.Front...), append([]Leaf{}, p.Back...), append([]LaidLeaf{}, p.Laid...)
	said := []Placement{}
	for _, one := range p.Placements {
		if one != (Placement{Photo: one.Photo}) {
			said = append(said, one)
		}
	}
	slices.SortStableFunc(said, func(a, b Placement) int { return int(a.Photo - b.Photo) })
	p.Placements = said
	return p
}

// Manner is how a photo sits on its page.
type Manner string

// The manners. A photo across the gutter takes both pages in any of them.
const (
	FullBleed Manner = "full-bleed" // over every edge of the page, cut to it
	Framed    Manner = "framed"     // whole, within the margins
	Small     Manner = "small"      // whole, in a share of the frame
)

// Placement is how one photo differs from the others.
type Placement struct {
	Photo   sequence.PhotoID `json:"photo"`
	Manner  Manner           `json:"manner,omitempty"`  // "": as the others
	Margins *Margins         `json:"margins,omitempty"` // nil: as the others
	Share   float64          `json:"share,omitempty"`   // of the frame each way, for Small: 0.2..1; 0: 0.5
	Crop    *Crop            `json:"crop,omitempty"`    // nil: the middle of the picture, no nearer than its page asks
	Keep    *Point           `json:"keep,omitempty"`    // what must stay in sight; nil: the maker's mark of a face, if there is one
	Apart   Length           `json:"apart,omitempty"`   // across the gutter: each half moved outwards so far, for what the gutter swallows
	Caption *bool            `json:"caption,omitempty"` // nil: as the others
}

// Point is a place in a picture: fractions of the upright picture from its left
// and top edge, 0..1.
type Point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Crop says which part of a picture its window shows.
type Crop struct {
	Middle Point   `json:"middle"` // what lies in the window's middle, as far as the window stays filled
	Zoom   float64 `json:"zoom"`   // 1: as large as the window asks .. 8
}

// Leaf is one page of words, or a blank one. (A leaf of paper has two.)
type Leaf struct {
	Kind LeafKind `json:"kind"`
	Text string   `json:"text,omitempty"` // paragraphs, divided by empty lines; for a title page: name, subtitle, maker, by lines
}

// LaidLeaf is a page of words laid on a blank page of the wall, and stays with
// its spread.
type LaidLeaf struct {
	On sequence.Page `json:"on"`
	Leaf
}

// LeafKind is what a page of words is for.
type LeafKind string

// The kinds of pages without a photo.
const (
	BlankLeaf LeafKind = "blank"
	TitleLeaf LeafKind = "title"    // the title page
	TextLeaf  LeafKind = "text"     // the maker's words
	Colophon  LeafKind = "colophon" // edition and print details
)

// PlacementOf returns what is said of a photo, with what is left open filled
// from the plan and the format.
func (p Plan) PlacementOf(photo sequence.PhotoID, f Format) Placement {
	one := Placement{Photo: photo}
	if i, found := slices.BinarySearchFunc(p.Placements, photo, func(a Placement, id sequence.PhotoID) int { return int(a.Photo - id) }); found {
		one = p.Placements[i]
	}
	if one.Manner == "" {
		one.Manner = p.Manner
	}
	if one.Margins == nil {
		one.Margins = &f.Margins
	}
	if one.Share == 0 {
		one.Share = 0.5
	}
	if one.Crop == nil {
		one.Crop = &Crop{Middle: Point{0.5, 0.5}, Zoom: 1}
	}
	if one.Caption == nil {
		one.Caption = &p.Captions
	}
	return one
}

const (
	longestLeaf = 20_000 // runes: no page holds more
	mostLeaves  = 64     // before and after the wall
	mostZoom    = 8
	mostCopies  = 1_000_000
)

// Check returns an Invalid error naming what of the plan makes no sense on
// pages of this format.
func (p Plan) Check(f Format) error {
	refuse := func(format string, args ...any) error {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf(format, args...)}
	}
	if !p.Manner.known() {
		return refuse("%q is no way a photo can sit on its page.", p.Manner)
	}
	if len(p.Front) > mostLeaves || len(p.Back) > mostLeaves {
		return refuse("There can be %d pages before the wall and as many after it.", mostLeaves)
	}
	leaves := slices.Concat(p.Front, p.Back)
	if p.Edition < 0 || p.Edition > mostCopies {
		return refuse("An edition of %d copies cannot be printed.", p.Edition)
	}
	on := map[sequence.Page]bool{}
	for _, l := range p.Laid {
		if on[l.On] {
			return refuse("Two pages of words would lie on the %s.", l.On)
		}
		on[l.On] = true
		leaves = append(leaves, l.Leaf)
	}
	for _, l := range leaves {
		if !slices.Contains([]LeafKind{BlankLeaf, TitleLeaf, TextLeaf, Colophon}, l.Kind) {
			return refuse("%q is no kind of page.", l.Kind)
		}
		if !utf8.ValidString(l.Text) || utf8.RuneCountInString(l.Text) > longestLeaf {
			return refuse("A page of words can have %d letters at most.", longestLeaf)
		}
	}
	for i, one := range p.Placements {
		if i > 0 && p.Placements[i-1].Photo >= one.Photo {
			return refuse("The placements of photos are not in order.")
		}
		if err := one.check(f); err != nil {
			return err
		}
	}
	return nil
}

func (m Manner) known() bool { return m == FullBleed || m == Framed || m == Small }

func (one Placement) check(f Format) error {
	refuse := func(what string) error {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("Photo %d cannot be placed so: %s.", one.Photo, what)}
	}
	inside := func(p Point) bool { return p.X >= 0 && p.X <= 1 && p.Y >= 0 && p.Y <= 1 }
	switch {
	case one.Photo <= 0:
		return refuse("there is no such photo")
	case one.Manner != "" && !one.Manner.known():
		return refuse(fmt.Sprintf("%q is no way to sit on a page", one.Manner))
	case one.Share != 0 && !(one.Share >= 0.2 && one.Share <= 1):
		return refuse("its share of the frame lies between a fifth and the whole")
	case one.Crop != nil && !(inside(one.Crop.Middle) && one.Crop.Zoom >= 1 && one.Crop.Zoom <= mostZoom):
		return refuse(fmt.Sprintf("a crop lies inside the picture, 1 to %d times nearer", mostZoom))
	case one.Keep != nil && !inside(*one.Keep):
		return refuse("what must stay in sight lies inside the picture")
	case !(one.Apart >= 0 && one.Apart <= f.Trim.Width/4):
		return refuse("its halves can be moved apart by a quarter of the page at most")
	}
	if one.Margins != nil {
		return one.Margins.check(f.Trim)
	}
	return nil
}
