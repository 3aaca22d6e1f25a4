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
// 0.9 cm³/g, a coated paper, as pages.SupposedCaliper is of.
const SupposedBulk = 0.9

// thickness is that of one sheet, and whether it had to be supposed.
func thickness(p pages.Paper) (caliper pages.Length, supposed bool) {
	if known := p.Thickness(); known > 0 || p.Grammage <= 0 {
		return known, false
	}
	return Caliper(Grammage(p.Grammage), SupposedBulk), true
}

// Build is what a copy is made of. A cover of no grammage is none of its own:
// the text paper is the cover (self-cover) and its pages are counted.
type Build struct {
	Pages   int          `json:"pages"` // of the text, the cover not counted
	Format  pages.Format `json:"format"`
	Boards  pages.Paper  `json:"boards"`  // of a hard case
	Weighed Mass         `json:"weighed"` // one finished copy on a scale; 0 while none was. Counts before what is computed
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

// mostPages is far more than any copy of ours has; no source.
const mostPages = 5000

// Check refuses what cannot be built.
//
// Error: Invalid.
func (b Build) Check() error {
	if b.Pages < 0 || b.Pages > mostPages {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("A copy cannot have %d pages.", b.Pages), Hint: fmt.Sprintf("Say from 0 to %d.", mostPages)}
	}
	if b.Weighed < 0 || b.Weighed > MostMass {
		return &sequence.Error{Code: sequence.Invalid, Message: "That is not what a copy weighs.", Hint: "Put one copy on a scale; 0 means that none was weighed."}
	}
	board := b.Format // boards are held to the same bounds as papers
	board.Text = b.Boards
	if err := b.Format.Check(); err != nil {
		return err
	}
	return board.Check()
}

// Copy works out what one copy weighs and measures.
func (b Build) Copy() Copied {
	leaf, supposed := thickness(b.Format.Text)
	made := Copied{Spine: Spine(b.Pages, leaf), Size: b.Format.Trim, Parts: []Part{}, Doubts: []string{}}
	if supposed {
		made.doubt("The text paper's caliper is not known; a bulk of %g is taken.", SupposedBulk)
	}
	made.add(fmt.Sprintf("%d leaves of %s × %s, %g g/m²", leaves(b.Pages), b.Format.Trim.Width, b.Format.Trim.Height, rounded(b.Format.Text.Grammage)),
		float64(leaves(b.Pages))*squareMetres(b.Format.Trim)*float64(b.Format.Text.Grammage))
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
	if b.Format.Cover.Grammage == 0 {
		return
	}
	sheet, supposed := thickness(b.Format.Cover)
	if supposed {
		made.doubt("The cover paper's caliper is not known; a bulk of %g is taken.", SupposedBulk)
	}
	flat := pages.Size{Width: 2 * b.Format.Trim.Width, Height: b.Format.Trim.Height}
	if b.Format.Binding != pages.SaddleStitch {
		flat.Width += made.Spine
	}
	made.add(fmt.Sprintf("cover of %s × %s, %g g/m²", flat.Width, flat.Height, rounded(b.Format.Cover.Grammage)), squareMetres(flat)*float64(b.Format.Cover.Grammage))
	made.Thickness += 2 * sheet
}

func (b Build) boards(made *Copied) {
	if b.Format.Binding != pages.HardCase {
		return
	}
	if b.Boards.Grammage == 0 {
		made.doubt("The boards of the case are not known and not counted: weigh one copy.")
		return
	}
	board, supposed := thickness(b.Boards)
	if supposed {
		made.doubt("The boards' thickness is not known; a bulk of %g is taken, and board is usually thicker.", SupposedBulk)
	}
	made.Size = pages.Size{Width: b.Format.Trim.Width + pages.Square, Height: b.Format.Trim.Height + 2*pages.Square}
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

func rounded(g float64) float64 { return math.Round(g*10) / 10 }
