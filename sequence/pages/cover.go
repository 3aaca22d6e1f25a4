package pages

import (
	"fmt"

	"pairwall/sequence"
)

// CoverPlan is what the maker decided of a title's cover beside its format.
type CoverPlan struct {
	Spine   Length   `json:"spine"`   // the printer's own figure, which counts before any computed one; 0: none given
	Barcode bool     `json:"barcode"` // keep a place for one on the back
	Hinge   Length   `json:"hinge"`   // perfect bound: how far from the spine the cover is scored, to open there; 0: not scored
	Case    Case     `json:"case"`    // of a hard case
	Own     OwnCover `json:"own"`
}

// Case is how a hard case is made. Every printer has measures of their own: the
// first ones are common practice, from memory.
type Case struct {
	Square Length `json:"square"` // by how much the boards stand over the block at head, foot and fore edge
	Joint  Length `json:"joint"`  // between the spine's board and a cover's, where it opens; along the paper
	Board  Length `json:"board"`  // thickness of a board
	TurnIn Length `json:"turnIn"` // of the printed paper, folded round the boards' edges
}

// Square is how far the boards of a hard case usually stand over the block.
// Common practice, from memory.
const Square Length = 3

// FirstCoverPlan is what a title has before the maker chooses. A score 6 mm from
// the spine is common practice, from memory.
var FirstCoverPlan = CoverPlan{Hinge: 6, Case: Case{Square: Square, Joint: 8, Board: 2.5, TurnIn: 15}, Own: FirstOwnCover}

// CoverSpine is how thick the block is that a cover goes round.
type CoverSpine struct {
	Width    Length `json:"width"` // what the cover is made for: the printer's figure when there is one
	Least    Length `json:"least"` // within the tolerance of the paper
	Most     Length `json:"most"`
	Computed Length `json:"computed"` // from leaves and caliper, whatever the printer said
	Printers bool   `json:"printers"` // Width is the printer's own figure
}

// Mark is what a guide on a cover stands for.
type Mark string

// The marks.
const (
	BleedMark   Mark = "bleed"   // how far the print must reach
	TrimMark    Mark = "trim"    // where the knife goes
	EdgeMark    Mark = "edge"    // of the boards of a hard case: beyond it the paper is turned in
	BackMark    Mark = "back"    // the back cover
	SpineMark   Mark = "spine"   // the spine
	FrontMark   Mark = "front"   // the front cover
	SafeMark    Mark = "safe"    // no text and no face beyond
	FoldMark    Mark = "fold"    // a rectangle without width: where the cover is folded
	HingeMark   Mark = "hinge"   // where it bends when opened
	BarcodeMark Mark = "barcode" // room for a barcode
	FreeMark    Mark = "free"    // inside: where the block is glued, no picture
)

// Guide is one thing a template shows. Its rectangle counts as FlatCover's do.
type Guide struct {
	Mark Mark   `json:"mark"`
	At   Rect   `json:"at"`
	Name string `json:"name"` // as a template says it: "spine 6.48 mm"
}

// FlatCover is a cover laid flat, its outside up: back, spine, front. Its
// rectangles count from the top left corner of its trim; what bleeds lies beyond.
type FlatCover struct {
	Binding Binding  `json:"binding"`
	Trim    Size     `json:"trim"` // cut to size; turn-ins of a hard case included
	Bleed   Length   `json:"bleed"`
	Back    Rect     `json:"back"`  // what is seen of it on the closed copy, as of the two others
	Spine   Rect     `json:"spine"` // without width when the cover is only folded
	Front   Rect     `json:"front"`
	Barcode *Rect    `json:"barcode,omitempty"`
	Outer   []Guide  `json:"outer"` // of the outside
	Inner   []Guide  `json:"inner"` // of the inside, as seen from inside; none for a hard case, whose inside is pasted over
	Doubts  []string `json:"-"`     // what was supposed, as sentences
}

// Bled is the flat cover with its bleed.
func (c FlatCover) Bled() Rect { return Rect{Size: c.Trim}.Inset(-c.Bleed) }

// Published and usual measures of covers.
const (
	// FoldTolerance is how far a fold may lie from its place (Headley, designing
	// for print).
	FoldTolerance Length = 1
	// freeStrip on either side of the spine stays free of picture inside the
	// cover, for the glue (Book Printing Company).
	freeStrip Length = 5
	// leastLetters are 6 point, the smallest that print well: common practice,
	// from memory.
	leastLetters Length = 6.0 / 72 * Inch
	// mostSpineLetters are 14 point: a spine that shouts; ours.
	mostSpineLetters Length = 14.0 / 72 * Inch
)

// barcodeRoom is an EAN-13 at nominal size with its light margins, 37.29 × 25.93
// mm (GS1 General Specifications, from memory).
var barcodeRoom = Size{37.29, 25.93}

// LayCover lays a cover flat. A title without a binding is taken for folded
// sheets, and Doubts says so.
//
//	folded:        2 × page width                     × page height
//	perfect bound: 2 × page width + spine             × page height
//	               (8.5 + 8.5 + 0.25 = 17.25 in, Telepathic Graphics)
//	hard case:     2 × (page width + square) + spine + 2 boards + 2 turn-ins
//	               × page height + 2 × square + 2 turn-ins (common practice, from
//	               memory; what paper the groove takes is left to the printer)
func LayCover(f Format, p CoverPlan, spine CoverSpine) FlatCover {
	c := FlatCover{Binding: f.Binding, Bleed: f.Bleed, Doubts: []string{}, Inner: []Guide{}}
	panel, back, turn := f.Trim, Length(0), Length(0)
	switch f.Binding {
	case PerfectBound:
		back = spine.Width
	case HardCase:
		panel = Size{f.Trim.Width + p.Case.Square, f.Trim.Height + 2*p.Case.Square}
		back, turn = spine.Width+2*p.Case.Board, p.Case.TurnIn
		c.doubt("Square, joint, boards and turn-in are common measures: put your printer's in their place before the cover is designed.")
	case Unbound:
		c.doubt("No binding is chosen yet: the cover is laid out as a folded sheet without a spine.")
	}
	c.Back = Rect{turn, turn, panel}
	c.Spine = Rect{c.Back.Right(), turn, Size{back, panel.Height}}
	c.Front = Rect{c.Spine.Right(), turn, panel}
	c.Trim = Size{c.Front.Right() + turn, panel.Height + 2*turn}
	if f.Binding == PerfectBound && spine.Width < leastSpine-tiny {
		c.doubt("A spine of %s is too thin to be glued; it takes at least %s.", spine.Width, leastSpine)
	}
	c.outer(f, p, turn)
	c.inner(f)
	return c
}

// leastSpine is what glue can hold.
const leastSpine Length = thinnestGlue

func (c *FlatCover) doubt(words string, args ...any) {
	c.Doubts = append(c.Doubts, fmt.Sprintf(words, args...))
}

// bend is from where on, beside the spine, the cover bends when it is opened.
func (c FlatCover) bend(p CoverPlan) Length {
	switch c.Binding {
	case PerfectBound:
		return p.Hinge
	case HardCase:
		return p.Case.Joint
	}
	return 0
}

// outer sets the guides of the outside.
func (c *FlatCover) outer(f Format, p CoverPlan, turn Length) {
	mark := func(m Mark, at Rect, name string, args ...any) {
		c.Outer = append(c.Outer, Guide{m, at, fmt.Sprintf(name, args...)})
	}
	mark(BleedMark, c.Bled(), "bleed %s", c.Bleed)
	mark(TrimMark, Rect{Size: c.Trim}, "trim %s × %s", c.Trim.Width, c.Trim.Height)
	if turn > 0 {
		mark(EdgeMark, Rect{Size: c.Trim}.Inset(turn), "edge of the boards, %s turned in", turn)
	}
	mark(BackMark, c.Back, "back %s × %s", c.Back.Width, c.Back.Height)
	mark(FrontMark, c.Front, "front %s × %s", c.Front.Width, c.Front.Height)
	c.folds(&c.Outer)
	bend := c.bend(p)
	if bend > 0 {
		mark(HingeMark, Rect{c.Back.Right() - bend, c.Back.Y, Size{bend, c.Back.Height}}, "hinge %s", bend)
		mark(HingeMark, Rect{c.Front.X, c.Front.Y, Size{bend, c.Front.Height}}, "hinge %s", bend)
	}
	back, front := c.safe(f, bend)
	mark(SafeMark, back, "safe %s", f.Safe)
	mark(SafeMark, front, "safe %s", f.Safe)
	if c.Spine.Width > 0 {
		mark(SpineMark, c.Spine, "spine %s", c.Spine.Width)
	}
	if p.Barcode && barcodeRoom.Within(back.Size) {
		at := Rect{back.Right() - barcodeRoom.Width, back.Bottom() - barcodeRoom.Height, barcodeRoom}
		c.Barcode = &at
		mark(BarcodeMark, at, "barcode %s × %s", at.Width, at.Height)
	} else if p.Barcode {
		c.doubt("The back is too small for a barcode of %s × %s.", barcodeRoom.Width, barcodeRoom.Height)
	}
}

// folds marks where the cover is folded: on either side of the spine, or in the
// middle.
func (c FlatCover) folds(guides *[]Guide) {
	at := []Length{c.Spine.X}
	if c.Spine.Width > 0 {
		at = append(at, c.Spine.Right())
	}
	for _, x := range at {
		*guides = append(*guides, Guide{FoldMark, Rect{x, 0, Size{0, c.Trim.Height}}, "fold"})
	}
}

// safe is what of back and front no fold, bend or knife comes near.
func (c FlatCover) safe(f Format, bend Length) (back, front Rect) {
	inner := max(f.Safe, bend)
	if c.Binding == HardCase { // the joint is a groove: safe begins behind it
		inner = bend + f.Safe
	}
	back, front = c.Back.Inset(f.Safe), c.Front.Inset(f.Safe)
	back.Width -= inner - f.Safe
	front.X += inner - f.Safe
	front.Width -= inner - f.Safe
	return back, front
}

// inner sets the guides of the inside. Seen from inside, the front cover lies on
// the left; nothing else is lopsided.
func (c *FlatCover) inner(f Format) {
	if c.Binding == HardCase {
		return
	}
	c.Inner = append(c.Inner, Guide{BleedMark, c.Bled(), "bleed " + c.Bleed.String()},
		Guide{TrimMark, Rect{Size: c.Trim}, fmt.Sprintf("trim %s × %s", c.Trim.Width, c.Trim.Height)},
		Guide{FrontMark, c.Back, "inside of the front"}, Guide{BackMark, c.Front, "inside of the back"})
	c.folds(&c.Inner)
	left, right := c.Back.Inset(f.Safe), c.Front.Inset(f.Safe)
	if c.Binding == PerfectBound {
		free := Rect{c.Spine.X - freeStrip, 0, Size{c.Spine.Width + 2*freeStrip, c.Trim.Height}}
		c.Inner = append(c.Inner, Guide{FreeMark, free, fmt.Sprintf("glue: no picture on %s", free.Width)})
		left.Width = min(left.Width, free.X-left.X)
		if right.X < free.Right() {
			right.Width, right.X = right.Right()-free.Right(), free.Right()
		}
	}
	c.Inner = append(c.Inner, Guide{SafeMark, left, "safe " + f.Safe.String()}, Guide{SafeMark, right, "safe " + f.Safe.String()})
}

// SpineLetters tells how large letters may be on a spine that measures at least
// so much, and whether any that can be read find room: a fold may lie 1 mm off
// on either side (Headley), and letters have 6 point at least. The size is
// ascender to descender.
func SpineLetters(least Length) (size Length, fits bool) {
	size = min(least-2*FoldTolerance, mostSpineLetters)
	return max(size, 0), size >= leastLetters-tiny
}

// LeastLetteredSpine is the spine from which on, measured at its least, letters
// find room.
const LeastLetteredSpine = leastLetters + 2*FoldTolerance

// Check returns an Invalid error that says which measure cannot be made.
func (p CoverPlan) Check() error {
	refuse := func(message, hint string) error {
		return &sequence.Error{Code: sequence.Invalid, Message: message, Hint: hint}
	}
	within := func(l, most Length) bool { return l >= 0 && l <= most } // false for NaN
	switch {
	case !within(p.Spine, 150):
		return refuse(fmt.Sprintf("A spine of %s cannot be made.", p.Spine), "Take the figure from your printer, in millimetres; 0 to have it computed.")
	case !within(p.Hinge, 25):
		return refuse(fmt.Sprintf("A cover is not scored %s from its spine.", p.Hinge), "5 to 8 mm are usual; 0 for none.")
	case !within(p.Case.Square, 15), !within(p.Case.Joint, 25), !within(p.Case.Board, 10), !within(p.Case.TurnIn, 40):
		return refuse("A case of these measures cannot be made.", "Usual are a square of 3 mm, a joint of 8 mm, boards of 2.5 mm and 15 mm turned in.")
	}
	return p.Own.check()
}
