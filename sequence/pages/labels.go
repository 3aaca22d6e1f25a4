package pages

import (
	"fmt"
	"math"

	"pairwall/sequence"
)

// LabelSheet is a sheet of labels, described by its measures. A single label is
// a sheet of one.
type LabelSheet struct {
	Name   string `json:"name"`
	Sheet  Size   `json:"sheet"`
	Label  Size   `json:"label"`
	Across int    `json:"across"` // labels beside each other
	Down   int    `json:"down"`   // rows of them
	Left   Length `json:"left"`   // from the sheet's edge to the first label
	Top    Length `json:"top"`
	GapX   Length `json:"gapX"` // between two beside each other
	GapY   Length `json:"gapY"` // between two rows
}

// LabelSheets are presets by measure. The first is published (see the table of
// sources); the others are common practice, from memory. The margins follow from
// the labels, so that each sums to its sheet; a maker whose sheet differs says
// its own measures.
var LabelSheets = []LabelSheet{
	{Name: "A4, 3 × 7 of 63.5 × 38.1 mm", Sheet: a4, Label: Size{63.5, 38.1}, Across: 3, Down: 7, Left: 7.2, Top: 15.15, GapX: 2.5},
	{Name: "A4, 3 × 6 of 63.5 × 46.6 mm", Sheet: a4, Label: Size{63.5, 46.6}, Across: 3, Down: 6, Left: 7.2, Top: 8.7, GapX: 2.5},
	{Name: "A4, 3 × 8 of 70 × 37 mm", Sheet: a4, Label: Size{70, 37}, Across: 3, Down: 8, Top: 0.5},
	{Name: "A4, 2 × 7 of 99.1 × 38.1 mm", Sheet: a4, Label: Size{99.1, 38.1}, Across: 2, Down: 7, Left: 4.65, Top: 15.15, GapX: 2.5},
	{Name: "A4, 2 × 4 of 99.1 × 67.7 mm", Sheet: a4, Label: Size{99.1, 67.7}, Across: 2, Down: 4, Left: 4.65, Top: 13.1, GapX: 2.5},
	{Name: "A4, 2 × 5 of 105 × 57 mm", Sheet: a4, Label: Size{105, 57}, Across: 2, Down: 5, Top: 6},
	{Name: "Letter, 3 × 10 of 66.7 × 25.4 mm", Sheet: letter, Label: Size{2.625 * Inch, Inch}, Across: 3, Down: 10, Left: Inch * 3 / 16, Top: Inch / 2, GapX: Inch / 8},
	{Name: "Letter, 2 × 5 of 101.6 × 50.8 mm", Sheet: letter, Label: Size{4 * Inch, 2 * Inch}, Across: 2, Down: 5, Left: Inch * 5 / 32, Top: Inch / 2, GapX: Inch * 3 / 16},
	single(Size{100, 150}),
	single(Size{4 * Inch, 6 * Inch}),
}

var (
	a4     = Sheets[0].Size
	letter = Sheets[2].Size
)

func single(s Size) LabelSheet {
	number := func(l Length) string { return fmt.Sprintf("%.4g", math.Round(l.Mm()*10)/10) }
	return LabelSheet{Name: "Single labels, " + number(s.Width) + " × " + number(s.Height) + " mm", Sheet: s, Label: s, Across: 1, Down: 1}
}

// ThankYouSheet is an A4 sheet cut into four slips of A6 (ISO 216).
var ThankYouSheet = LabelSheet{Name: "A4, 2 × 2 of A6", Sheet: a4, Label: Size{105, 148.5}, Across: 2, Down: 2}

// Limits no sheet that a printer takes goes beyond; common practice.
const (
	leastLabel Length = 10
	mostSheet  Length = 450
	mostAcross        = 30
)

// Count is how many labels a sheet has.
func (s LabelSheet) Count() int { return s.Across * s.Down }

// Filled is the part of the sheet from the first label's corner to the last's.
func (s LabelSheet) Filled() Rect {
	return Rect{s.Left, s.Top, Size{
		Width:  Length(s.Across)*s.Label.Width + Length(s.Across-1)*s.GapX,
		Height: Length(s.Down)*s.Label.Height + Length(s.Down-1)*s.GapY,
	}}
}

// At is where a label lies, counted from 0 in rows from the top left.
func (s LabelSheet) At(n int) Rect {
	column, row := Length(n%s.Across), Length(n/s.Across)
	return Rect{s.Left + column*(s.Label.Width+s.GapX), s.Top + row*(s.Label.Height+s.GapY), s.Label}
}

// Check refuses measures that cannot be a sheet of labels, and says by how much
// they go beyond it.
//
// Error: Invalid.
func (s LabelSheet) Check() error {
	refuse := func(hint, words string, args ...any) error {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf(words, args...), Hint: hint}
	}
	for _, l := range []Length{s.Sheet.Width, s.Sheet.Height, s.Label.Width, s.Label.Height, s.Left, s.Top, s.GapX, s.GapY} {
		if math.IsNaN(l.Mm()) || l < 0 || l > mostSheet {
			return refuse("Measure the sheet in millimetres.", "A measure of %s is on no sheet of labels.", l)
		}
	}
	switch filled := s.Filled(); {
	case s.Across < 1 || s.Down < 1 || s.Across > mostAcross || s.Down > mostAcross:
		return refuse("Count the labels of one sheet.", "%d × %d labels are on no sheet.", s.Across, s.Down)
	case s.Label.Width < leastLabel || s.Label.Height < leastLabel:
		return refuse("No address can be read on it.", "A label of %s × %s is too small.", s.Label.Width, s.Label.Height)
	case filled.Right() > s.Sheet.Width+tiny:
		return refuse("Measure the margin, a label and the gap once more.", "Side by side the labels reach to %s, and the sheet is %s wide.", filled.Right(), s.Sheet.Width)
	case filled.Bottom() > s.Sheet.Height+tiny:
		return refuse("Measure the margin, a label and the gap once more.", "One below the other the labels reach to %s, and the sheet is %s high.", filled.Bottom(), s.Sheet.Height)
	}
	return nil
}

// evenly is how unequal two margins of a sheet may be before it looks measured
// wrong: sheets are cut symmetrical to a tenth or two (common practice).
const evenly Length = 0.3

// Doubt tells of measures that are possible and look wrong; "" for none.
func (s LabelSheet) Doubt() string {
	filled := s.Filled()
	right, bottom := s.Sheet.Width-filled.Right(), s.Sheet.Height-filled.Bottom()
	switch {
	case math.Abs((right - s.Left).Mm()) > evenly.Mm():
		return fmt.Sprintf("The margin is %s on the left and would be %s on the right; most sheets have the same on both sides.", s.Left, right)
	case math.Abs((bottom - s.Top).Mm()) > evenly.Mm():
		return fmt.Sprintf("The margin is %s at the top and would be %s at the foot; most sheets have the same on both.", s.Top, bottom)
	}
	return ""
}

// Shift is by how far a printer has to be corrected: to the right, and down.
type Shift struct {
	X Length `json:"x"`
	Y Length `json:"y"`
}

// MostShift is more than any printer is off; common practice.
const MostShift Length = 10

// Check refuses a correction that would lay addresses on other labels.
//
// Error: Invalid.
func (s Shift) Check() error {
	for _, l := range []Length{s.X, s.Y} {
		if math.IsNaN(l.Mm()) || l < -MostShift || l > MostShift {
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("A correction of %s is beyond %s.", l, MostShift),
				Hint: "Print the test sheet at 100 % and measure again; the wrong paper or a fitted page may be the cause."}
		}
	}
	return nil
}

// Stuck is one label's place: on which sheet, from 0, and where on it.
type Stuck struct {
	Page  int
	Label Rect
}

// Stick lays out count labels, the first on label first of the first sheet,
// counted from 1: those before it are used up.
//
// Error: Invalid for a first label the sheet does not have.
func (s LabelSheet) Stick(count, first int) ([]Stuck, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if first < 1 || first > s.Count() {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The sheet has no label %d.", first),
			Hint: fmt.Sprintf("Its labels count from 1 at the top left to %d.", s.Count())}
	}
	all := make([]Stuck, count)
	for i := range all {
		n := first - 1 + i
		all[i] = Stuck{n / s.Count(), s.At(n % s.Count())}
	}
	return all, nil
}

// LabelStyle is how the maker prints labels.
type LabelStyle struct {
	Sheet  LabelSheet `json:"sheet"`
	Shift  Shift      `json:"shift"`  // the printer is corrected by
	First  int        `json:"first"`  // label of the first sheet that is still there, from 1
	Sender bool       `json:"sender"` // is printed above the address
	Foot   bool       `json:"foot"`   // order number and copies are printed below it
}

// FirstLabelStyle is what a maker begins with.
var FirstLabelStyle = LabelStyle{Sheet: LabelSheets[0], First: 1, Sender: true, Foot: true}

// Check refuses a style no label can be printed in.
//
// Error: Invalid.
func (s LabelStyle) Check() error {
	if err := s.Shift.Check(); err != nil {
		return err
	}
	_, err := s.Sheet.Stick(0, s.First)
	return err
}
