package pages

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pairwall/sequence"
)

// Small prints are cut out of home-printed sheets and hung on a real wall. A
// print is the picture with a white border of the same width left, right and
// above, and below it a foot for its number and code.

// PrintStyle is how small prints are made.
type PrintStyle struct {
	Sheet   Sheet  `json:"sheet"`
	Long    Length `json:"long"`    // the picture's longer side
	Border  Length `json:"border"`  // white left, right and above
	Foot    Length `json:"foot"`    // white below, with number and code
	Margin  Length `json:"margin"`  // of the sheet, which home printers leave blank
	Backs   bool   `json:"backs"`   // numbers on the back
	Caption bool   `json:"caption"` // the photo's caption in the foot
	Palette bool   `json:"palette"` // a strip of its colours in the foot
}

// The measures of a code: 21 modules wide (ISO/IEC 18004, version 1) with a
// quiet zone of 4 modules all around. At 9 mm a module is 0.43 mm, a hand's
// width in a photograph taken at arm's length.
const (
	CodeWidth Length = 9
	CodeQuiet        = CodeWidth * 4 / 21
)

// FirstPrintStyle is what is made when the maker says nothing: a longer side of
// 7 cm, of which two dozen hang on a large sheet of card (published practice,
// see the table of sources), on A4.
var FirstPrintStyle = PrintStyle{Sheet: Sheets[0], Long: 70, Border: 3, Foot: CodeWidth + 2*CodeQuiet, Margin: 6, Caption: true}

// Limits of the longer side. Below the least, the code is wider than the print.
const (
	LeastLong Length = 30
	MostLong  Length = 250
)

// Check returns an Invalid error when prints of this style cannot be made.
func (s PrintStyle) Check() error {
	if s.Long < LeastLong || s.Long > MostLong || math.IsNaN(float64(s.Long)) {
		return &sequence.Error{Code: sequence.Invalid,
			Message: fmt.Sprintf("A longer side of %s cannot be printed with its code.", s.Long),
			Hint:    fmt.Sprintf("Choose between %s and %s.", LeastLong, MostLong)}
	}
	if square := s.PrintSize(1, 1); !square.Within(s.room(s.Sheet.Size)) && !square.Within(s.room(s.Sheet.Turned())) {
		return s.tooLarge()
	}
	return nil
}

func (s PrintStyle) tooLarge() error {
	return &sequence.Error{Code: sequence.Invalid,
		Message: fmt.Sprintf("A print with a longer side of %s does not fit on %s.", s.Long, s.Sheet.Name),
		Hint:    "Choose a larger sheet or a smaller print."}
}

// room is what a sheet leaves within its margins.
func (s PrintStyle) room(sheet Size) Size {
	return Size{sheet.Width - 2*s.Margin, sheet.Height - 2*s.Margin}
}

// PrintSize is the whole print, borders and all, of a picture of the proportion
// width : height. A picture much narrower than its code stands on a foot that
// is still wide enough for it.
func (s PrintStyle) PrintSize(width, height float64) Size {
	picture := Size{s.Long, s.Long}.Fitted(width, height)
	return Size{max(picture.Width, CodeWidth+2*CodeQuiet) + 2*s.Border, picture.Height + s.Border + s.Foot}
}

// Proportion is a picture to be printed small: which, and its upright width
// and height in any unit.
type Proportion struct {
	Photo         sequence.PhotoID
	Width, Height float64
}

// Print is one small print on its sheet.
type Print struct {
	Photo   sequence.PhotoID `json:"photo"`
	Cut     Rect             `json:"cut"`     // the print as it is cut out
	Picture Rect             `json:"picture"` // the picture on it
	Foot    Rect             `json:"foot"`    // the white below the picture, as wide as the picture or more
	Code    Rect             `json:"code"`    // the code's modules, without their quiet zone
}

// PrintSheet is one sheet of small prints, as wide and high as it is to be laid
// into the printer or turned by a quarter.
type PrintSheet struct {
	Size
	Prints []Print `json:"prints"`
}

// LayPrints lays small prints out on as few sheets as standing or lying sheets
// allow. The sheets can be cut with a guillotine or a steel rule from edge to
// edge: first into strips, then each strip upright, then each print to its
// height. Prints of the same height keep the order they are given in, but for
// one that still fits into an earlier strip.
//
// Shelves are filled first-fit by decreasing height, which never needs more
// than 1.7 times the height of the best packing plus one shelf (Coffman, Garey,
// Johnson, Tarjan, SIAM J. Comput. 9(4), 1980). O(n²) in the worst case.
//
// Errors: Invalid for a style that cannot be made, for nothing to print, for a
// picture whose print is larger than the sheet.
func (s PrintStyle) LayPrints(pictures []Proportion) ([]PrintSheet, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if len(pictures) == 0 {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: "There is no photo to print.", Hint: "Choose some, or bring photographs in first."}
	}
	var best []PrintSheet
	var why error
	for _, sheet := range []Size{s.Sheet.Size, s.Sheet.Turned()} {
		laid, err := s.layOn(sheet, pictures)
		if err != nil {
			why = cmp.Or(why, err)
			continue
		}
		if best == nil || len(laid) < len(best) {
			best = laid
		}
	}
	if best == nil {
		return nil, why
	}
	return best, nil
}

// shelf is a strip of prints beside each other on one sheet.
type shelf struct {
	sheet       int
	top, height Length
	filled      Length // of the sheet's width
}

func (s PrintStyle) layOn(sheet Size, pictures []Proportion) ([]PrintSheet, error) {
	order := slices.Clone(pictures)
	for _, p := range order {
		if p.Width <= 0 || p.Height <= 0 {
			return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("Photo %d has no size.", p.Photo)}
		}
		if !s.PrintSize(p.Width, p.Height).Within(s.room(sheet)) {
			return nil, s.tooLarge()
		}
	}
	// By tenths of a millimetre: a pixel more or less in a file makes no other print.
	slices.SortStableFunc(order, func(a, b Proportion) int {
		return cmp.Compare(tenths(s.PrintSize(b.Width, b.Height).Height), tenths(s.PrintSize(a.Width, a.Height).Height))
	})
	var sheets []PrintSheet
	var shelves []shelf
	for _, p := range order {
		size := s.PrintSize(p.Width, p.Height)
		on := slices.IndexFunc(shelves, func(f shelf) bool {
			return f.filled+size.Width <= sheet.Width-s.Margin+tiny && size.Height <= f.height+tiny
		})
		if on < 0 {
			shelves = append(shelves, s.nextShelf(sheet, shelves, size.Height))
			on = len(shelves) - 1
		}
		f := &shelves[on]
		if f.sheet == len(sheets) {
			sheets = append(sheets, PrintSheet{Size: sheet})
		}
		sheets[f.sheet].Prints = append(sheets[f.sheet].Prints, s.printAt(p, Rect{f.filled, f.top, size}))
		f.filled += size.Width
	}
	return sheets, nil
}

func tenths(l Length) int { return int(math.Round(float64(l) * 10)) }

// nextShelf opens a shelf on the first sheet with room below its last one.
func (s PrintStyle) nextShelf(sheet Size, shelves []shelf, height Length) shelf {
	bottoms := []Length{}
	for _, f := range shelves {
		if f.sheet == len(bottoms) {
			bottoms = append(bottoms, 0)
		}
		bottoms[f.sheet] = max(bottoms[f.sheet], f.top+f.height)
	}
	for k, bottom := range bottoms {
		if bottom+height <= sheet.Height-s.Margin+tiny {
			return shelf{k, bottom, height, s.Margin}
		}
	}
	return shelf{len(bottoms), s.Margin, height, s.Margin}
}

func (s PrintStyle) printAt(p Proportion, cut Rect) Print {
	picture := Size{s.Long, s.Long}.Fitted(p.Width, p.Height)
	at := Rect{cut.X + (cut.Width-picture.Width)/2, cut.Y + s.Border, picture}
	foot := Rect{cut.X + s.Border, at.Bottom(), Size{cut.Width - 2*s.Border, s.Foot}}
	// The code stands at the right end, its quiet zone ending with the picture.
	code := Rect{foot.Right() - CodeQuiet - CodeWidth, foot.Y + (foot.Height-CodeWidth)/2, Size{CodeWidth, CodeWidth}}
	return Print{Photo: p.Photo, Cut: cut, Picture: at, Foot: foot, Code: code}
}

// Print returns one small print by itself, its cut beginning at the top left.
func (s PrintStyle) Print(p Proportion) Print {
	return s.printAt(p, Rect{Size: s.PrintSize(p.Width, p.Height)})
}
