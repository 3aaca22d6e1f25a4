package edition

import (
	"fmt"
	"math"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// Grammage is the mass of a paper's area in grams per square metre (ISO 536).
type Grammage float64

// Grade is a family of papers that US basis weights are told in; each has a
// basis size of its own.
type Grade string

// The grades, with their basis sizes.
const (
	TextGrade  Grade = "text"  // book and offset too: 25 × 38 in
	CoverGrade Grade = "cover" // 20 × 26 in
	BondGrade  Grade = "bond"  // 17 × 22 in
)

var basis = map[Grade]pages.Size{
	TextGrade:  {Width: 25 * pages.Inch, Height: 38 * pages.Inch},
	CoverGrade: {Width: 20 * pages.Inch, Height: 26 * pages.Inch},
	BondGrade:  {Width: 17 * pages.Inch, Height: 22 * pages.Inch},
}

// ream is the number of sheets a US basis weight is the weight of.
const ream = 500

// BasisWeight returns the grammage of a US basis weight, which is the weight in
// pounds of 500 sheets of the grade's basis size.
//
// Error: Invalid for a grade there is not.
func BasisWeight(grade Grade, pounds float64) (Grammage, error) {
	size, known := basis[grade]
	if !known {
		return 0, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no grade of paper called %q.", grade),
			Hint: "There is text, cover and bond."}
	}
	return Grammage(pounds * pound / (ream * squareMetres(size))), nil
}

func squareMetres(s pages.Size) float64 { return s.Width.Mm() * s.Height.Mm() / 1e6 }

// SheetMass is the mass of one sheet or leaf of that size: area (ISO 216 for the
// A and B sizes) times grammage (ISO 536).
func SheetMass(size pages.Size, g Grammage) Mass {
	return Grams(squareMetres(size) * float64(g))
}

// Caliper is the thickness of one sheet whose bulk, in cm³/g, is known:
// grammage × bulk / 1000 mm.
func Caliper(g Grammage, bulk float64) pages.Length {
	return pages.Length(float64(g) * bulk / 1000)
}

// Spine is the thickness of a block of so many pages on leaves of that caliper:
// pages/2 × caliper (the caliper rule; Patterson Printing, paper diagrams). With
// Caliper for the leaf it is the bulk rule, pages/2 × grammage × bulk / 1000. An
// odd page has a leaf of its own.
func Spine(pageCount int, caliper pages.Length) pages.Length {
	return pages.Length(leaves(pageCount)) * caliper
}

func leaves(pageCount int) int { return (max(pageCount, 0) + 1) / 2 }

// Tolerance is how far what the mill delivers may lie from the paper's nominal
// grammage and caliper, and so a copy from what is computed: ±5 % (common
// practice; the mill's own data sheet counts).
const Tolerance = 0.05

// SupposedBulk is taken for a paper of which neither caliper nor bulk is known:
// 0.9 cm³/g, a coated paper. See pages.SupposedCaliper.
const SupposedBulk = 0.9

// Stock is one paper as the mill describes it. Caliper counts before Bulk.
type Stock struct {
	Grammage Grammage     `json:"grammage"` // g/m²; 0 for none of it
	Caliper  pages.Length `json:"caliper"`  // mm of one sheet; 0 when it was not told
	Bulk     float64      `json:"bulk"`     // cm³/g; 0 when it was not told
}

// Thickness is that of one sheet, and whether it had to be supposed.
func (s Stock) Thickness() (caliper pages.Length, supposed bool) {
	switch {
	case s.Caliper > 0:
		return s.Caliper, false
	case s.Bulk > 0:
		return Caliper(s.Grammage, s.Bulk), false
	}
	return Caliper(s.Grammage, SupposedBulk), s.Grammage > 0
}

// Bounds on what is called paper: cigarette paper and book board lie within
// them. No source; they catch slips of the pen.
const (
	leastGrammage Grammage     = 10
	mostGrammage  Grammage     = 3000
	mostCaliper   pages.Length = 5
	mostBulk                   = 5
)

func (s Stock) check(what string) error {
	ok := s.Grammage == 0 || (s.Grammage >= leastGrammage && s.Grammage <= mostGrammage)
	ok = ok && s.Caliper >= 0 && s.Caliper <= mostCaliper && s.Bulk >= 0 && s.Bulk <= mostBulk
	if ok {
		return nil
	}
	return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no %s of %g g/m², %s, bulk %g.", what, s.Grammage, s.Caliper, s.Bulk),
		Hint: fmt.Sprintf("Papers have %g to %g g/m², up to %s and a bulk up to %d cm³/g; 0 means not known.", leastGrammage, mostGrammage, mostCaliper, mostBulk)}
}

// Build is what a copy is made of.
type Build struct {
	Pages   int           `json:"pages"` // of the text, the cover not counted
	Trim    pages.Size    `json:"trim"`  // of one page
	Binding pages.Binding `json:"binding"`
	Text    Stock         `json:"text"`
	Cover   Stock         `json:"cover"`   // grammage 0: the text paper is the cover (self-cover), its pages counted
	Boards  Stock         `json:"boards"`  // of a hard case
	Weighed Mass          `json:"weighed"` // one finished copy on a scale; 0 while none was. Counts before what is computed
}

// Part is one line of how a weight came about.
type Part struct {
	Words string `json:"words"`
	Mass  Mass   `json:"mass"`
}

// Copied is what one copy measures.
type Copied struct {
	Mass      Mass         `json:"mass"`
	Least     Mass         `json:"least"` // within Tolerance; all three are the same for a weighed copy
	Most      Mass         `json:"most"`
	Computed  Mass         `json:"computed"` // whatever the scale said
	Thickness pages.Length `json:"thickness"`
	Spine     pages.Length `json:"spine"` // of the block, without the cover
	Size      pages.Size   `json:"size"`  // of the closed copy
	Parts     []Part       `json:"parts"`
	Doubts    []string     `json:"doubts"` // what was supposed or left out, as sentences
}

// Square is by how much the boards of a hard case stand over the block at head,
// foot and fore edge (common practice, from memory).
const Square pages.Length = 3

// mostPages is far more than any copy of ours has; no source.
const mostPages = 5000

// Check refuses what cannot be built.
//
// Error: Invalid.
func (b Build) Check() error {
	if b.Pages < 0 || b.Pages > mostPages {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("A copy cannot have %d pages.", b.Pages), Hint: fmt.Sprintf("Say from 0 to %d.", mostPages)}
	}
	if !(b.Trim.Width >= 0 && b.Trim.Width <= 1000 && b.Trim.Height >= 0 && b.Trim.Height <= 1000) {
		return &sequence.Error{Code: sequence.Invalid, Message: "No page is of that size.", Hint: "Say width and height in millimetres, up to 1000."}
	}
	if b.Weighed < 0 || b.Weighed > MostMass {
		return &sequence.Error{Code: sequence.Invalid, Message: "That is not what a copy weighs.", Hint: "Put one copy on a scale; 0 means that none was weighed."}
	}
	for _, part := range []struct {
		what string
		of   Stock
	}{{"text paper", b.Text}, {"cover paper", b.Cover}, {"board", b.Boards}} {
		if err := part.of.check(part.what); err != nil {
			return err
		}
	}
	return nil
}

// Copy works out what one copy weighs and measures.
func (b Build) Copy() Copied {
	leaf, supposed := b.Text.Thickness()
	made := Copied{Spine: Spine(b.Pages, leaf), Size: b.Trim, Parts: []Part{}, Doubts: []string{}}
	if supposed {
		made.doubt("The text paper's caliper is not known; a bulk of %g is taken.", SupposedBulk)
	}
	made.add(fmt.Sprintf("%d leaves of %s × %s, %g g/m²", leaves(b.Pages), b.Trim.Width, b.Trim.Height, rounded(b.Text.Grammage)),
		float64(leaves(b.Pages))*squareMetres(b.Trim)*float64(b.Text.Grammage))
	made.Thickness = made.Spine
	b.cover(&made)
	b.boards(&made)
	made.Mass = made.Computed
	made.Least, made.Most = scaled(made.Mass, 1-Tolerance), scaled(made.Mass, 1+Tolerance)
	if b.Weighed > 0 {
		made.Mass, made.Least, made.Most = b.Weighed, b.Weighed, b.Weighed
	}
	return made
}

// cover adds the cover: two leaves and, where there is a block to go round, the
// spine between them.
func (b Build) cover(made *Copied) {
	if b.Cover.Grammage == 0 {
		return
	}
	sheet, supposed := b.Cover.Thickness()
	if supposed {
		made.doubt("The cover paper's caliper is not known; a bulk of %g is taken.", SupposedBulk)
	}
	flat := pages.Size{Width: 2 * b.Trim.Width, Height: b.Trim.Height}
	if b.Binding != pages.SaddleStitch {
		flat.Width += made.Spine
	}
	made.add(fmt.Sprintf("cover of %s × %s, %g g/m²", flat.Width, flat.Height, rounded(b.Cover.Grammage)), squareMetres(flat)*float64(b.Cover.Grammage))
	made.Thickness += 2 * sheet
}

func (b Build) boards(made *Copied) {
	if b.Binding != pages.HardCase {
		return
	}
	if b.Boards.Grammage == 0 {
		made.doubt("The boards of the case are not known and not counted: weigh one copy.")
		return
	}
	board, supposed := b.Boards.Thickness()
	if supposed {
		made.doubt("The boards' thickness is not known; a bulk of %g is taken, and board is usually thicker.", SupposedBulk)
	}
	made.Size = pages.Size{Width: b.Trim.Width + Square, Height: b.Trim.Height + 2*Square}
	area := 2*squareMetres(made.Size) + squareMetres(pages.Size{Width: made.Spine, Height: made.Size.Height})
	made.add(fmt.Sprintf("two boards of %s × %s and the spine's, %g g/m²", made.Size.Width, made.Size.Height, rounded(b.Boards.Grammage)), area*float64(b.Boards.Grammage))
	made.Thickness += 2 * board
	made.doubt("Cloth, glue and endpapers are not counted: weigh one copy.")
}

func (c *Copied) add(words string, grams float64) {
	c.Parts = append(c.Parts, Part{words, Grams(grams)})
	c.Computed += Grams(grams)
}

func (c *Copied) doubt(words string, args ...any) {
	c.Doubts = append(c.Doubts, fmt.Sprintf(words, args...))
}

func scaled(m Mass, by float64) Mass { return Mass(math.Round(float64(m) * by)) }

func rounded(g Grammage) float64 { return math.Round(float64(g)*10) / 10 }
