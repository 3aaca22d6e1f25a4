package pages

import (
	"fmt"
	"strings"

	"pairwall/sequence"
)

// Format is what every page of a title shares: the size it is trimmed to, how
// it is bound, its borders and its papers.
type Format struct {
	Trim    Size    `json:"trim"`    // one page after trimming
	Binding Binding `json:"binding"` // Unbound while not chosen
	Unit    Unit    `json:"unit"`    // in which the maker reads and types lengths; all are kept in millimetres

	Bleed   Length  `json:"bleed"`   // printed beyond the trim, on every side
	Safe    Length  `json:"safe"`    // from the trim inwards: no text and no face nearer than this
	Swallow Length  `json:"swallow"` // of each page, lost to sight in the gutter
	Margins Margins `json:"margins"` // around a picture that does not fill its page

	Text  Paper `json:"text"`
	Cover Paper `json:"cover"`
}

// Unit is a unit of length as a maker reads it.
type Unit string

// The units.
const (
	Millimetres Unit = "mm"
	Inches      Unit = "in"
)

// Margins are the white around a picture. Inner is at the gutter, so that left
// and right pages mirror each other.
type Margins struct {
	Top    Length `json:"top"`
	Outer  Length `json:"outer"`
	Bottom Length `json:"bottom"`
	Inner  Length `json:"inner"`
}

// Paper is a paper to print on. What is 0 or "" is not known.
type Paper struct {
	Name     string  `json:"name"`     // as the printer calls it
	Grammage float64 `json:"grammage"` // grams per square metre (ISO 536)
	Caliper  Length  `json:"caliper"`  // of one leaf as the mill gives it; 0: from grammage and bulk
	Bulk     float64 `json:"bulk"`     // cm³/g, which is µm per g/m²: the leaf's thickness over its grammage
	Finish   string  `json:"finish"`   // "uncoated", "matt", "silk", ... in the maker's words
}

// Thickness is that of one leaf: the mill's caliper before grammage × bulk /
// 1000; 0 when neither is known.
func (p Paper) Thickness() Length {
	if p.Caliper > 0 {
		return p.Caliper
	}
	return Length(p.Grammage * p.Bulk / 1000)
}

// TrimSize is a page size that has a name.
type TrimSize struct {
	Name string `json:"name"`
	Size        // standing, or square
}

// TrimSizes are those that can be chosen by name; a maker's own are as good.
// The A and B sizes are those of ISO 216. The others are common practice.
var TrimSizes = []TrimSize{
	{"A6", Size{105, 148}},
	{"A5", Size{148, 210}},
	{"B5", Size{176, 250}},
	{"A4", Size{210, 297}},
	{"Square 148", Size{148, 148}},
	{"Square 210", Size{210, 210}},
	{"170 × 240", Size{170, 240}},
	{"200 × 250", Size{200, 250}},
	{"5.5 × 8.5 in", Size{5.5 * Inch, 8.5 * Inch}},
	{"6 × 9 in", Size{6 * Inch, 9 * Inch}},
	{"8 × 10 in", Size{8 * Inch, 10 * Inch}},
	{"8.5 × 11 in", Size{8.5 * Inch, 11 * Inch}},
}

// FirstFormat is what a title has before the maker chooses: an A5 zine. Bleed
// and safe margin are published practice (3 mm and 5 mm, see the table of
// sources); the papers are common practice, and bulk 0.9 is that of a coated
// paper.
var FirstFormat = Format{
	Trim: Size{148, 210}, Unit: Millimetres, Bleed: 3, Safe: 5, Margins: Margins{Top: 12, Outer: 12, Bottom: 16, Inner: 14},
	Text:  Paper{Grammage: 150, Bulk: 0.9, Finish: "silk"},
	Cover: Paper{Grammage: 250, Bulk: 0.9, Finish: "silk"},
}

// PerfectInner is the least inner margin of a perfect-bound book (Headley,
// designing for print), and PerfectSwallow what of a page goes out of sight
// there: common practice, from memory.
const (
	PerfectInner   Length = 10
	PerfectSwallow Length = 6
)

// Bound returns the format with the binding chosen, and with what that binding
// asks of the gutter unless the maker has asked for more.
func (f Format) Bound(b Binding) Format {
	f.Binding = b
	f.Swallow = 0
	if b == PerfectBound || b == HardCase {
		f.Swallow = PerfectSwallow
		f.Margins.Inner = max(f.Margins.Inner, PerfectInner+PerfectSwallow)
	}
	return f
}

// Limits of what can be made, none of them published: a matchbox, and the
// largest sheet small presses take folded once.
const (
	leastSide    Length = 40
	mostSide     Length = 500
	mostBleed    Length = 20
	mostGrammage        = 2000 // g/m²
)

// Check returns an Invalid error that says which measure cannot be made.
func (f Format) Check() error {
	refuse := func(message, hint string) error {
		return &sequence.Error{Code: sequence.Invalid, Message: message, Hint: hint}
	}
	within := func(l, least, most Length) bool { return l >= least-tiny && l <= most+tiny } // false for NaN
	switch {
	case !within(f.Trim.Width, leastSide, mostSide) || !within(f.Trim.Height, leastSide, mostSide):
		return refuse(fmt.Sprintf("A page of %s × %s cannot be made here.", f.Trim.Width, f.Trim.Height),
			fmt.Sprintf("Each side can have %s to %s.", leastSide, mostSide))
	case !within(f.Bleed, 0, mostBleed):
		return refuse(fmt.Sprintf("A bleed of %s cannot be made.", f.Bleed), fmt.Sprintf("It can have 0 to %s; most printers ask for 3 mm.", mostBleed))
	case !within(f.Safe, 0, min(f.Trim.Width, f.Trim.Height)/3):
		return refuse(fmt.Sprintf("A safe margin of %s leaves too little of the page.", f.Safe), "Most printers ask for 5 mm.")
	case !within(f.Swallow, 0, f.Trim.Width/4):
		return refuse(fmt.Sprintf("%s of each page in the gutter is too much.", f.Swallow), "Perfect binding hides about 6 mm.")
	case f.Unit != Millimetres && f.Unit != Inches:
		return refuse(fmt.Sprintf("%q is no unit for lengths here.", f.Unit), "Say mm or in.")
	}
	if _, err := BindingNamed(string(f.Binding)); err != nil {
		return err
	}
	if err := f.Margins.check(f.Trim); err != nil {
		return err
	}
	for of, p := range map[string]Paper{"text": f.Text, "cover": f.Cover} {
		if !(p.Grammage >= 0 && p.Grammage <= mostGrammage && p.Bulk >= 0 && p.Bulk <= 10 && p.Caliper >= 0 && p.Caliper <= 10) ||
			len(p.Name) > 400 || len(p.Finish) > 400 {
			return refuse(fmt.Sprintf("There is no such paper for the %s.", of), "Grammage is in g/m², bulk in cm³/g, the caliper of one leaf in millimetres.")
		}
	}
	return nil
}

// check returns an Invalid error when the margins leave no room for a picture.
func (m Margins) check(trim Size) error {
	ok := m.Top >= 0 && m.Outer >= 0 && m.Bottom >= 0 && m.Inner >= 0
	if ok && m.Outer+m.Inner <= trim.Width-leastPicture && m.Top+m.Bottom <= trim.Height-leastPicture {
		return nil
	}
	return &sequence.Error{Code: sequence.Invalid, Message: "These margins leave no room for a picture.",
		Hint: fmt.Sprintf("At least %s each way must stay.", leastPicture)}
}

const leastPicture Length = 10

// Name is the name of the trim size, its measures when it has none.
func (f Format) Name() string {
	for _, named := range TrimSizes {
		switch {
		case f.Trim.is(named.Size):
			return named.Name
		case f.Trim.is(named.Turned()):
			return named.Name + " lying"
		}
	}
	return f.Measures()
}

// is reports whether two sizes are the same to any knife: one may have been
// typed in inches.
func (s Size) is(o Size) bool { return s.Within(o) && o.Within(s) }

// Measures is the trim size in the maker's unit, width first.
func (f Format) Measures() string {
	if f.Unit == Inches {
		return fmt.Sprintf("%s × %s in", decimals(f.Trim.Width.Inches(), 3), decimals(f.Trim.Height.Inches(), 3))
	}
	return fmt.Sprintf("%s × %s mm", decimals(f.Trim.Width.Mm(), 2), decimals(f.Trim.Height.Mm(), 2))
}

func decimals(v float64, most int) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.*f", most, v), "0"), ".")
}

// Bled is a page with its bleed, in the page's own measure: from -Bleed.
func (f Format) Bled() Rect {
	return Rect{-f.Bleed, -f.Bleed, Size{f.Trim.Width + 2*f.Bleed, f.Trim.Height + 2*f.Bleed}}
}

// Frame is what the margins leave of a page; right says on which side the
// gutter lies.
func (f Format) Frame(m Margins, right bool) Rect {
	room := Rect{m.Outer, m.Top, Size{f.Trim.Width - m.Outer - m.Inner, f.Trim.Height - m.Top - m.Bottom}}
	if right {
		room.X = m.Inner
	}
	return room
}
