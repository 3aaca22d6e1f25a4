package pages

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"pairwall/sequence"
)

func rows(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	all, err := csv.NewReader(file).ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%d rows, %v", len(all), err)
	}
	return all[1:]
}

// blankBook is a book of so many pages.
func blankBook(count int, binding Binding) Book {
	b := Book{Format: FirstFormat.Bound(binding)}
	for n := range count {
		b.Pages = append(b.Pages, BookPage{Number: n + 1})
	}
	return b
}

func dummy(t *testing.T, b Book, style DummyStyle) []Imposed {
	t.Helper()
	sides, err := b.Dummy(style)
	if err != nil {
		t.Fatal(err)
	}
	return sides
}

func TestPagesShareSheetsAsPublished(t *testing.T) {
	for _, row := range rows(t, "imposition_saddle.csv") {
		var n [6]int
		for i := range n {
			n[i], _ = strconv.Atoi(row[i]) // a cell that is no number fails below
		}
		sides := dummy(t, blankBook(n[0], SaddleStitch), DummyStyle{Sheet: Sheets[0], Duplex: ShortEdge})
		front, back := sides[2*n[1]-2], sides[2*n[1]-1]
		got := [4]int{front.Trims[0].Page, front.Trims[1].Page, back.Trims[0].Page, back.Trims[1].Page}
		if got != [4]int(n[2:]) || front.Sheet != n[1] || back.Sheet != n[1] || front.Back || !back.Back {
			t.Errorf("%v: %v", row, got)
		}
	}
}

// A sheet of paper, as it lies before one: what is printed on the front, and what
// is seen through it on the back, by where it lies on the front.
type paperSheet struct {
	front, behind [2]seen // left and right half
}

type seen struct {
	page    int
	upright bool
}

// printedOn prints two sides on paper as a printer does that turns the sheet
// over about its long or its short edge, and looks where the ink has come to.
func printedOn(t *testing.T, front, back Imposed, duplex Duplex) paperSheet {
	t.Helper()
	var p paperSheet
	at := func(x, y Length) int {
		if x < 0 || y < 0 || x > front.Width || y > front.Height {
			t.Fatalf("ink beside the paper: %v, %v", x, y)
		}
		if x < front.Width/2 {
			return 0
		}
		return 1
	}
	for _, s := range front.Trims {
		p.front[at(s.Trim.X+s.Trim.Width/2, s.Trim.Y+s.Trim.Height/2)] = seen{s.Page, true}
	}
	overLong := duplex == LongEdge
	upsideDown := overLong == (front.Width > front.Height) // turned about a level edge, what was above is below
	for _, s := range back.Trims {
		x, y := s.Trim.X+s.Trim.Width/2, s.Trim.Y+s.Trim.Height/2
		if back.Turn {
			x, y = back.Width-x, back.Height-y
		}
		if upsideDown {
			y = back.Height - y
		} else {
			x = back.Width - x
		}
		p.behind[at(x, y)] = seen{s.Page, back.Turn == upsideDown}
	}
	return p
}

// folded lays the sheets into one another, folds them, and reads the pages.
func folded(sheets []paperSheet) (read []seen) {
	for _, s := range sheets { // the right halves, from the outermost in
		read = append(read, s.front[1], s.behind[1])
	}
	for i := len(sheets) - 1; i >= 0; i-- { // and the left ones out again
		read = append(read, sheets[i].behind[0], sheets[i].front[0])
	}
	return read
}

// cut cuts the sheets in the middle and lays the right pile below the left.
func cut(sheets []paperSheet) (read []seen) {
	for half := range 2 {
		for _, s := range sheets {
			read = append(read, s.front[half], s.behind[half])
		}
	}
	return read
}

func TestAFoldedDummyReadsInOrder(t *testing.T) {
	for count := 1; count <= 120; count++ {
		for _, duplex := range []Duplex{LongEdge, ShortEdge} {
			for _, sheet := range Sheets {
				for binding, read := range map[Binding]func([]paperSheet) []seen{SaddleStitch: folded, PerfectBound: cut} {
					b := blankBook(count, binding)
					if sheet.Name == "Letter" { // which is too narrow for two pages of A5
						b.Format.Trim = Size{100, 120}
					}
					sides := dummy(t, b, DummyStyle{Sheet: sheet, Duplex: duplex, Creep: CreepGaps})
					var sheets []paperSheet
					for i := 0; i < len(sides); i += 2 {
						sheets = append(sheets, printedOn(t, sides[i], sides[i+1], duplex))
					}
					got := read(sheets)
					if len(got) != count+b.Blank() {
						t.Fatalf("%d pages of %d", len(got), count)
					}
					for i, s := range got {
						if s != (seen{i + 1, true}) {
							t.Fatalf("%d pages on %s over the %s edge, %s: page %d is %+v", count, sheet.Name, duplex, binding, i+1, s)
						}
					}
				}
			}
		}
	}
}

func TestCreepIsReckonedByTheFormulaNamed(t *testing.T) {
	for _, row := range rows(t, "creep_examples.csv") {
		count, err := strconv.Atoi(row[0])
		if err != nil {
			t.Fatal(err)
		}
		var v [6]float64
		for i := 1; i < 7; i++ {
			if v[i-1], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		for i, formula := range []Creep{CreepSheets, CreepGaps, CreepArc, CreepTrimming} {
			got, err := formula.Amount(count, Length(v[0]))
			if err != nil || math.Abs(got.Mm()-v[2+i]) > 0.00051 {
				t.Errorf("%s of %d pages on %v mm: %.4f, want %v; %v", formula, count, v[0], got.Mm(), v[2+i], err)
			}
		}
	}
	if _, err := Creep("guess").Amount(8, 0.1); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("%v", err)
	}
}

func TestInnerSheetsMoveTowardsTheFoldByTheCreep(t *testing.T) {
	b := blankBook(48, SaddleStitch)
	b.Format.Text.Caliper = 0.127
	sides := dummy(t, b, DummyStyle{Sheet: Sheets[1], Duplex: ShortEdge, Creep: CreepGaps})
	for i, s := range sides {
		want := 1.397 * Length(i/2) / 11
		left, right := s.Trims[0].Trim, s.Trims[1].Trim
		if !near3(s.Creep, want) || !near3(left.Right()-s.Fold, want) || !near3(s.Fold-right.X, want) {
			t.Errorf("sheet %d is moved by %v (%v, %v), want %v", s.Sheet, s.Creep, left, right, want)
		}
		for k, seat := range s.Trims { // nothing is printed over the fold
			if k == 0 && seat.Print.Right() > s.Fold+tiny || k == 1 && seat.Print.X < s.Fold-tiny {
				t.Errorf("sheet %d prints over the fold: %v", s.Sheet, seat.Print)
			}
		}
	}
}

func near3(a, b Length) bool { return math.Abs(float64(a-b)) < 0.001 }

func TestADummyThatCannotBePrintedIsRefusedWithTheWayOut(t *testing.T) {
	large := blankBook(8, SaddleStitch)
	large.Format.Trim = Size{210, 297}
	for name, c := range map[string]struct {
		book  Book
		style DummyStyle
	}{
		"pages too large": {large, DummyStyle{Sheet: Sheets[0], Duplex: LongEdge}},
		"no pages":        {blankBook(0, SaddleStitch), DummyStyle{Sheet: Sheets[0], Duplex: LongEdge}},
		"no edge":         {blankBook(8, SaddleStitch), DummyStyle{Sheet: Sheets[0]}},
		"no formula":      {blankBook(8, SaddleStitch), DummyStyle{Sheet: Sheets[0], Duplex: LongEdge, Creep: "x"}},
	} {
		if _, err := c.book.Dummy(c.style); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := large.Dummy(DummyStyle{Sheet: Sheets[1], Duplex: LongEdge}); err != nil {
		t.Errorf("two pages of A4 lie on A3: %v", err)
	}
}

func TestPagesAreMadeSmallerWhereTwoDoNotFit(t *testing.T) {
	b := blankBook(8, SaddleStitch)
	b.Format.Trim = Size{210, 297}
	style := DummyStyle{Sheet: Sheets[0], Duplex: ShortEdge, Fit: true}
	scale, err := b.Scale(style)
	if err != nil || math.Abs(scale-math.Sqrt(0.5)) > 0.002 { // ISO 216: two sheets of half the area
		t.Fatalf("%v, %v", scale, err)
	}
	for _, side := range dummy(t, b, style) {
		for _, seat := range side.Trims {
			inside(t, "page made smaller", seat.Trim, Rect{Size: side.Size})
			if !near3(seat.Trim.Width, 210*Length(scale)) || !near3(seat.Trim.Height, 297*Length(scale)) {
				t.Errorf("%v", seat.Trim)
			}
		}
	}
}

func TestATestSheetHoldsAsManyPagesAsFitAtTheirSize(t *testing.T) {
	b := blankBook(12, SaddleStitch)
	for sheet, each := range map[string]int{"A4": 2, "A3": 4, "Letter": 1} { // A5 is 148 × 210: two are wider than 11 in
		s, err := SheetNamed(sheet)
		if err != nil {
			t.Fatal(err)
		}
		sides, err := b.TestSheet(s, []int{3, 4, 7, 8, 12})
		if err != nil || len(sides) != (5+each-1)/each {
			t.Fatalf("%s: %d sheets, %v", sheet, len(sides), err)
		}
		var read []int
		for _, side := range sides {
			for _, seat := range side.Trims {
				read = append(read, seat.Page)
				inside(t, "page of a test", seat.Trim, Rect{Size: side.Size})
				if seat.Trim.Size != b.Format.Trim {
					t.Errorf("%s: a page of %v", sheet, seat.Trim)
				}
			}
		}
		if fmt.Sprint(read) != "[3 4 7 8 12]" {
			t.Errorf("%s: %v", sheet, read)
		}
	}
	for _, chosen := range [][]int{nil, {0}, {13}} {
		if _, err := b.TestSheet(Sheets[0], chosen); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%v: %v", chosen, err)
		}
	}
}
