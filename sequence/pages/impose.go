package pages

import (
	"fmt"
	"strings"

	"pairwall/sequence"
)

// DummyStyle is how a dummy is printed at home.
type DummyStyle struct {
	Sheet  Sheet
	Duplex Duplex
	Creep  Creep // "" is NoCreep
	Fit    bool  // pages are made smaller where two do not fit on the sheet
}

// Duplex is about which edge a home printer turns the sheet over.
type Duplex string

// The ways to turn a sheet over. One by hand may be either: a test page tells.
const (
	LongEdge  Duplex = "long"
	ShortEdge Duplex = "short"
)

// Creep names a formula for how far the innermost sheet of a stapled block
// reaches beyond the outermost before it is trimmed. Published formulas disagree
// up to twofold (see the table of sources), so which one is used is said.
type Creep string

// The formulas, with n pages on leaves of thickness t.
const (
	NoCreep       Creep = "none"
	CreepSheets   Creep = "sheets"   // n/4 · t: one thickness a sheet (a trade's list of questions)
	CreepGaps     Creep = "gaps"     // (n/4 − 1) · t: innermost against outermost sheet (geometry)
	CreepArc      Creep = "arc"      // n/4 · t · 3.14/2 · 1.2: round the fold, with a fifth to spare (a forum, by a vendor of prepress)
	CreepTrimming Creep = "trimming" // n/2 · t: 1 mm trimmed for 1 mm of book (a printer in the UK)
)

// Creeps lists the formulas.
var Creeps = []Creep{NoCreep, CreepSheets, CreepGaps, CreepArc, CreepTrimming}

// Words say what a formula reckons.
func (c Creep) Words() string {
	switch c {
	case CreepSheets:
		return "one thickness of paper for each sheet"
	case CreepGaps:
		return "one thickness for each sheet but the outermost"
	case CreepArc:
		return "the way round the fold, with a fifth to spare"
	case CreepTrimming:
		return "as much as the book is thick"
	}
	return "pages are not moved"
}

// Amount is the creep of a block of so many pages on leaves of a thickness.
//
// Error: Invalid for a formula there is not.
func (c Creep) Amount(count int, leaf Length) (Length, error) {
	sheets := Length((count + 3) / 4)
	switch c {
	case NoCreep, "":
		return 0, nil
	case CreepSheets:
		return sheets * leaf, nil
	case CreepGaps:
		return max(0, sheets-1) * leaf, nil
	case CreepArc:
		return sheets * leaf * 3.14 / 2 * 1.2, nil
	case CreepTrimming:
		return Length(count) / 2 * leaf, nil
	}
	names := make([]string, len(Creeps))
	for i, known := range Creeps {
		names[i] = string(known)
	}
	return 0, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no formula for creep called %q.", c),
		Hint: "There are " + strings.Join(names, ", ") + "."}
}

// Imposed is one side of a sheet of a dummy, as it comes out of the printer.
type Imposed struct {
	Sheet int // from 1; of a stapled dummy the outermost
	Back  bool
	Size         // of the paper, as it lies with its pages upright
	Trims []Seat // the pages on it, from the left
	Fold  Length // how far from the left the fold lies; 0: there is none
	Creep Length // how far these pages are moved towards the fold
	Turn  bool   // the whole side is upside down, because the sheet is turned over about its other edge
}

// Seat is where one page of a book lies on a sheet. A number beyond the book is
// a blank page.
type Seat struct {
	Page  int
	Trim  Rect
	Print Rect // as far as it may print: its bleed, but not over the fold
}

// Dummy imposes a book for a home printer: saddle stitch folded and stapled,
// anything else as single leaves, two beside each other, to be cut and held
// together at the back. Pages that fill up a last sheet are blank; Blank says how
// many.
//
// Errors: Invalid when two pages do not fit on the sheet and may not be made smaller, for a book without
// pages, for a formula there is not.
func (b Book) Dummy(style DummyStyle) (sides []Imposed, err error) {
	if len(b.Pages) == 0 {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: "There are no pages to print.", Hint: "Hang photos on the wall first."}
	}
	if style.Duplex != LongEdge && style.Duplex != ShortEdge {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("No sheet is turned over about its %q edge.", style.Duplex), Hint: "Say long or short."}
	}
	paper, err := style.ground(b.Format.Trim)
	if err != nil {
		return nil, err
	}
	if b.Format.Binding == SaddleStitch {
		return b.stapled(style, paper)
	}
	return b.leaves(style, paper), nil
}

// Folded tells whether a dummy of the book is folded and stapled.
func (b Book) Folded() bool { return b.Format.Binding == SaddleStitch }

// Blank is how many blank pages end a dummy, because sheets are whole.
func (b Book) Blank() int { return roundUp(len(b.Pages), fold) - len(b.Pages) }

// ground is a sheet as two pages lie on it side by side, and how large they lie
// there: 1 is their true size.
type ground struct {
	Size
	scale Length
}

// ground chooses which way the sheet lies: so that two pages fit, or so that they
// are made smaller least.
func (s DummyStyle) ground(trim Size) (ground, error) {
	two := Size{2 * trim.Width, trim.Height}
	lying, standing := s.Sheet.Turned(), s.Sheet.Size
	for _, paper := range []Size{lying, standing} {
		if two.Within(paper) {
			return ground{paper, 1}, nil
		}
	}
	if !s.Fit {
		return ground{}, &sequence.Error{Code: sequence.Invalid,
			Message: fmt.Sprintf("Two pages of %s × %s do not fit beside each other on %s.", trim.Width, trim.Height, s.Sheet.Name),
			Hint:    "Choose a larger sheet, or have the pages made smaller."}
	}
	scaled := func(paper Size) ground {
		return ground{paper, paper.Fitted(float64(two.Width), float64(two.Height)).Width / two.Width}
	}
	best := scaled(lying)
	if other := scaled(standing); other.scale > best.scale {
		best = other
	}
	return best, nil
}

// Scale is how large the pages of a dummy are: 1 is their true size.
//
// Error: Invalid when they would have to be made smaller and may not.
func (b Book) Scale(style DummyStyle) (float64, error) {
	on, err := style.ground(b.Format.Trim)
	return float64(on.scale), err
}

// Creep is the creep of the book as a stapled dummy, by a formula.
//
// Error: Invalid for a formula there is not.
func (b Book) Creep(c Creep) (Length, error) {
	return c.Amount(len(b.Pages)+b.Blank(), b.leafThickness())
}

// stapled imposes folded sheets, the outermost first: facing numbers sum to one
// more than there are pages (published by several printers, see the table of
// sources).
func (b Book) stapled(style DummyStyle, paper ground) ([]Imposed, error) {
	count := len(b.Pages) + b.Blank()
	creep, err := b.Creep(style.Creep)
	if err != nil {
		return nil, err
	}
	sheets := count / 4
	var sides []Imposed
	for k := range sheets {
		moved := Length(0)
		if sheets > 1 {
			moved = creep * Length(k) / Length(sheets-1)
		}
		front := b.side(paper, moved, count-2*k, 2*k+1)
		back := b.side(paper, moved, 2*k+2, count-2*k-1)
		front.Sheet, back.Sheet, back.Back = k+1, k+1, true
		back.Turn = style.turns(paper)
		sides = append(sides, front, back)
	}
	return sides, nil
}

// leafThickness is that of one leaf, or what is supposed while no paper is named.
func (b Book) leafThickness() Length {
	if t := b.Format.Text.Thickness(); t > 0 {
		return t
	}
	return SupposedCaliper
}

// turns tells whether the back is upside down: two pages lie beside each other,
// so that the sheet turned about its upright edge has its back upright.
func (s DummyStyle) turns(paper ground) bool {
	upright := ShortEdge // of a lying sheet the upright edges are the short ones
	if paper.Height > paper.Width {
		upright = LongEdge
	}
	return s.Duplex != upright
}

// leaves imposes single leaves, two to a sheet, so that cutting the sheets along
// the middle and laying the right pile below the left one gives the order.
func (b Book) leaves(style DummyStyle, paper ground) []Imposed {
	count := len(b.Pages) + b.Blank()
	half := count / 2 // pages in the left pile: even, for count is a multiple of 4
	var sides []Imposed
	for k := 0; k < half; k += 2 {
		front := b.side(paper, 0, k+1, half+k+1)
		back := b.side(paper, 0, half+k+2, k+2)
		front.Sheet, back.Sheet, back.Back = k/2+1, k/2+1, true
		back.Turn = style.turns(paper)
		front.Fold, back.Fold = 0, 0
		sides = append(sides, front, back)
	}
	return sides
}

// side lays two pages beside each other in the middle of a sheet, each moved
// towards the fold. Leaves that are cut apart keep their bleed where there is
// room.
func (b Book) side(paper ground, moved Length, left, right int) Imposed {
	trim, bleed, middle := Size{b.Format.Trim.Width * paper.scale, b.Format.Trim.Height * paper.scale}, b.Format.Bleed*paper.scale, paper.Width/2
	y := (paper.Height - trim.Height) / 2
	gap := Length(0)
	if !b.Folded() {
		gap = max(0, min(bleed, (paper.Width-2*trim.Width)/4))
	}
	seat := func(page int, x Length, room Rect) Seat {
		at := Rect{x, y, trim}
		return Seat{page, at, at.Inset(-bleed).meeting(room)}
	}
	half := Size{middle, paper.Height}
	return Imposed{Size: paper.Size, Fold: middle, Creep: moved, Trims: []Seat{
		seat(left, middle-gap-trim.Width+moved, Rect{Size: half}), seat(right, middle+gap-moved, Rect{middle, 0, half})}}
}

// DummyWords tell step by step how a dummy of so many sheets is made, with what
// can cut.
func (b Book) DummyWords(style DummyStyle, sheets int) []string {
	said := []string{fmt.Sprintf("Print the first %s at 100 %%, not fitted to the page, on both sides, turned over on the %s edge. Try one sheet first.",
		plural(2*sheets, "page", "pages"), style.Duplex)}
	if scale, err := b.Scale(style); err == nil && scale < 1 {
		said = append(said, fmt.Sprintf("The pages are smaller than they will be, %.0f %% of their size, so that two fit on %s.", 100*scale, style.Sheet.Name))
	}
	if blank := b.Blank(); blank > 0 {
		said = append(said, fmt.Sprintf("The book has %s; the last %d of the dummy are blank, because sheets are whole.", count(len(b.Pages)), blank))
	}
	if b.Folded() {
		creep, _ := b.Creep(style.Creep) // checked when it was laid out
		if creep > 0 {
			said = append(said, fmt.Sprintf("Creep: the pages of the innermost sheet are moved %s towards the fold, of those between in even steps: %s, on leaves of %g mm.",
				creep, style.Creep.Words(), b.leafThickness().Mm()))
		}
		said = append(said, "Fold each sheet along its dashed marks, lay them into one another with the first page outside, and staple from outside through the fold at the two marks.",
			"Trim the fore edge last, when all is stapled.")
	} else {
		said = append(said, "Cut each sheet along its marks, the left pages on one pile and the right ones on another, and lay the right pile below the left one.",
			"Knock the leaves together at the spine and hold them with a clip, or glue the spine.")
	}
	return append(said, "Cut along a steel rule on a mat, fingers behind it and the blade moving past your hand, not towards it; fold the points of staples flat.",
		"Home printers leave a few millimetres white at the edge of the paper. That is the printer's, not the book's.")
}

// TestSheet lays chosen pages out at their true size, as many to a sheet as lie
// beside each other, for judging pictures before a copy is ordered.
//
// Errors: Invalid for a page that is none, or larger than the sheet.
func (b Book) TestSheet(sheet Sheet, chosen []int) ([]Imposed, error) {
	if len(chosen) == 0 {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: "No page is chosen for the test.", Hint: "Choose the pages whose pictures you want to judge."}
	}
	paper, across, down := testRoom(sheet, b.Format.Trim)
	if across*down == 0 {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("A page of %s × %s does not fit on %s.", b.Format.Trim.Width, b.Format.Trim.Height, sheet.Name),
			Hint: "Choose a larger sheet."}
	}
	var sides []Imposed
	for i, page := range chosen {
		if page < 1 || page > len(b.Pages) {
			return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no page %d.", page), Hint: fmt.Sprintf("There are pages 1 to %d.", len(b.Pages))}
		}
		at := i % (across * down)
		if at == 0 {
			sides = append(sides, Imposed{Sheet: len(sides) + 1, Size: paper})
		}
		cell := Size{paper.Width / Length(across), paper.Height / Length(down)}
		room := Rect{cell.Width * Length(at%across), cell.Height * Length(at/across), cell}
		trim := room.Centred(b.Format.Trim)
		last := &sides[len(sides)-1]
		last.Trims = append(last.Trims, Seat{page, trim, trim.Inset(-b.Format.Bleed).meeting(room)})
	}
	return sides, nil
}

// testRoom is which way a sheet takes more pages, and how many each way.
func testRoom(sheet Sheet, trim Size) (paper Size, across, down int) {
	for _, p := range []Size{sheet.Size, sheet.Turned()} {
		a, d := int((p.Width+tiny)/trim.Width), int((p.Height+tiny)/trim.Height)
		if a*d > across*down {
			paper, across, down = p, a, d
		}
	}
	return paper, across, down
}
