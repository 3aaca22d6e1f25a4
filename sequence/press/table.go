package press

import (
	"fmt"
	"strings"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// Column is one of a table.
type Column struct {
	Name  string
	Width pages.Length // 0 shares what the others leave
	Right bool         // figures: they end at the right
}

// Measures of a table in millimetres; common practice.
const (
	tableMargin pages.Length = 15
	tableSize   pages.Length = 3
	tablePad    pages.Length = 1.4
	tableGap    pages.Length = 2
	tickWidth   pages.Length = 7
)

// Table adds a table on as many A4 pages as it takes: a title, the columns' names
// on each page, a box to tick before each row. No word is cut; a row stays on one
// page when it can.
func (d *Document) Table(title string, columns []Column, rows [][]string) error {
	t := table{l: d.letters, columns: columns, x: make([]pages.Length, len(columns)), w: make([]pages.Length, len(columns))}
	t.place()
	set := t.broken(rows)
	for n := range set {
		err := d.Page(letterSheet, func(k *Ink) error {
			k.Text(title, 4.2, tableMargin, tableMargin+3)
			k.Right(fmt.Sprintf("%d of %d", n+1, len(set)), tableSize, letterSheet.Width-tableMargin, tableMargin+3)
			t.head(k)
			y := tableTop
			for _, row := range set[n] {
				k.Frame(pages.Rect{X: tableMargin + 0.5, Y: y + tablePad, Size: pages.Size{Width: 3.2, Height: 3.2}}, 0.2, 0)
				y = t.row(k, row, y)
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// tableTop is where the first row begins.
const tableTop = tableMargin + 14

type table struct {
	l       Letters
	columns []Column
	x, w    []pages.Length
}

// place finds where columns begin and how wide they are.
func (t table) place() {
	rest, sharing := letterSheet.Width-2*tableMargin-tickWidth, pages.Length(0)
	for _, c := range t.columns {
		rest -= c.Width
		if c.Width == 0 {
			sharing++
		}
	}
	x := tableMargin + tickWidth
	for i, c := range t.columns {
		t.x[i], t.w[i] = x, c.Width
		if c.Width == 0 {
			t.w[i] = rest / sharing
		}
		x += t.w[i]
	}
}

// gap is what a column leaves free before the next: more behind figures, which
// end there.
func (t table) gap(i int) pages.Length {
	if t.columns[i].Right {
		return 2 * tableGap
	}
	return tableGap
}

// broken breaks the rows into lines and the lines into pages.
func (t table) broken(rows [][]string) [][][][]string {
	var all [][][][]string
	room := letterSheet.Height - tableMargin - tableTop
	y := room + 1
	for _, row := range rows {
		cells := make([][]string, len(row))
		for i, cell := range row {
			cells[i] = t.l.wrap(cell, tableSize, t.w[i]-t.gap(i))
		}
		for from := 0; from == 0 || from < lines(cells); {
			part := cut(cells, from, int((room-2*tablePad)/(tableSize*leading)))
			high := t.high(part)
			if y+high > room {
				all, y = append(all, nil), 0
			}
			all[len(all)-1] = append(all[len(all)-1], part)
			y += high
			from += max(1, lines(part))
		}
	}
	return all
}

func lines(cells [][]string) int {
	most := 0
	for _, c := range cells {
		most = max(most, len(c))
	}
	return most
}

// cut takes most lines of every cell.
func cut(cells [][]string, from, most int) [][]string {
	part := make([][]string, len(cells))
	for i, c := range cells {
		part[i] = c[min(from, len(c)):min(from+most, len(c))]
	}
	return part
}

func (t table) high(cells [][]string) pages.Length {
	return tableSize*leading*pages.Length(lines(cells)) + 2*tablePad
}

func (t table) head(k *Ink) {
	y := tableTop - 2
	for i, c := range t.columns {
		x := t.x[i]
		if c.Right {
			x += t.w[i] - t.gap(i) - t.l.Width(c.Name, captionSize)
		}
		k.Letter(c.Name, captionSize, x, y, 0.3)
	}
	k.Line(0.2, 0, tableMargin, y+1.2, letterSheet.Width-tableMargin, y+1.2)
}

// row prints a row and returns where the next begins.
func (t table) row(k *Ink, cells [][]string, y pages.Length) pages.Length {
	for i, cell := range cells {
		for n, line := range cell {
			x := t.x[i]
			if t.columns[i].Right {
				x += t.w[i] - t.gap(i) - t.l.Width(line, tableSize)
			}
			k.Text(line, tableSize, x, y+tablePad+tableSize*(0.85+leading*pages.Length(n)))
		}
	}
	y += t.high(cells)
	k.Line(hair, 0.7, tableMargin, y, letterSheet.Width-tableMargin, y)
	return y
}

// Slip is a thank-you slip that goes into a parcel.
type Slip struct {
	To    string // who it is for; "" leaves room to write it
	Words string // the maker's own; lines are kept
	Foot  string // the copies
}

// Measures of a slip in millimetres: A6 with margins; common practice.
const (
	slipMargin pages.Length = 12
	slipSize   pages.Length = 4.2
	slipGap    pages.Length = 4 // above the foot
)

// Slips adds sheets of four slips each, to be cut along the marks.
//
// Errors: TooLarge for words that a slip does not hold.
func (d *Document) Slips(slips []Slip) error {
	sheet := pages.ThankYouSheet
	set := make([]setSlip, len(slips))
	for i, s := range slips {
		var fits bool
		if set[i], fits = d.letters.slip(s, pages.Rect{Size: sheet.Label}.Inset(slipMargin).Size); !fits {
			return &sequence.Error{Code: sequence.TooLarge, Message: "A slip does not hold the words.", Hint: "Shorten them."}
		}
	}
	return d.onLabels(sheet, 1, pages.Shift{}, len(slips), func(k *Ink, i int, at pages.Rect) {
		k.cutMarks(at, 4, 0)
		room, is := at.Inset(slipMargin), set[i]
		for n, line := range is.lines {
			k.Text(line, is.size, room.X, room.Y+is.size*(0.85+leading*pages.Length(n)))
		}
		for n, line := range is.foot {
			k.Letter(line, captionSize, room.X, room.Bottom()-captionSize*leading*pages.Length(len(is.foot)-1-n), 0.3)
		}
	})
}

// setSlip is a slip broken into lines.
type setSlip struct {
	lines, foot []string
	size        pages.Length // of lines; the foot is a caption
}

// slip breaks a slip into lines, in the largest size in which they fit. Unlike an
// address, whose lines are better small than broken, its words are prose.
func (l Letters) slip(s Slip, room pages.Size) (setSlip, bool) {
	words := tidied(strings.Split(strings.ReplaceAll(s.Words, "\r\n", "\n"), "\n"))
	words = append([]string{s.To, ""}, words...)
	set := setSlip{foot: l.wrap(s.Foot, captionSize, room.Width), size: slipSize}
	high := room.Height - l.height(len(set.foot), captionSize) - slipGap
	for ; set.size >= labelLeast-1e-9; set.size -= 0.1 {
		set.lines = nil
		for _, line := range words {
			set.lines = append(set.lines, l.wrap(line, set.size, room.Width)...)
		}
		if l.height(len(set.lines), set.size) <= high {
			return set, true
		}
	}
	return setSlip{}, false
}
