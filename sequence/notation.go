package sequence

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// The notation is how a wall is typed as one reads it off:
//
//	5 / 12+47 / 3+ / +19 / 21+21 / 8
//
// A + stands between the pages of a spread, a / or the end of a line between
// spreads. 3+ is a photo left with a blank page facing it, +19 one right, 21+21
// one across the gutter, _+_ a blank spread. A number alone is the opening page
// where it stands first and the closing page where it stands last; _ there is a
// blank one. Hyphens, dashes and ampersands are taken for a +; backslashes,
// bars, commas and semicolons for a /; spaces and number signs for nothing.

// Slip is one place where what was typed makes no wall.
type Slip struct {
	Line   int    `json:"line"`   // from 1
	Column int    `json:"column"` // from 1, in runes
	From   int    `json:"from"`   // runes before the place, from the beginning of the text
	Length int    `json:"length"` // runes; 0 where something is missing
	Words  string `json:"words"`  // a plain sentence
	Hint   string `json:"hint"`
}

// mostSlips are told at once: who has more typed something else.
const mostSlips = 12

// longestNotation is in runes; a wall of a thousand spreads takes a sixth.
const longestNotation = 100_000

// String writes the wall in the notation, in one line; "" for a bare wall.
func (h Hanging) String() string {
	var parts []string
	if h.Opening != 0 || len(h.Spreads) == 0 && h.Closing != 0 {
		parts = append(parts, numeral(h.Opening, "_"))
	}
	for _, f := range h.Spreads {
		switch {
		case f.Across:
			parts = append(parts, numeral(f.Left, "")+"+"+numeral(f.Left, ""))
		case f == Facing{}:
			parts = append(parts, "_+_")
		default:
			parts = append(parts, numeral(f.Left, "")+"+"+numeral(f.Right, ""))
		}
	}
	if h.Closing != 0 {
		parts = append(parts, numeral(h.Closing, "_"))
	}
	return strings.Join(parts, " / ")
}

func numeral(id PhotoID, blank string) string {
	if id == 0 {
		return blank
	}
	return strconv.Itoa(int(id))
}

// ReadHanging reads the notation. known are the title's photos. The hanging can
// be used only when there are no slips.
func ReadHanging(text string, known map[PhotoID]bool) (Hanging, []Slip) {
	r := reading{known: known, first: make(map[PhotoID]mark), hanging: Hanging{Spreads: []Facing{}}}
	marks := r.scan(text)
	if len(r.slips) > 0 {
		return r.hanging, r.slips
	}
	parts := r.parts(marks)
	for i, part := range parts {
		r.part(part, i == 0, i == len(parts)-1)
	}
	return r.hanging, r.slips
}

type markKind int

const (
	number markKind = iota
	blank
	plus
	slash
	lineEnd
)

// mark is a number or sign of the text, with its place.
type mark struct {
	kind               markKind
	photo              PhotoID
	text               string
	line, column, from int
	length             int
}

// reading is the state of ReadHanging.
type reading struct {
	known   map[PhotoID]bool
	first   map[PhotoID]mark // where each photo was named first
	hanging Hanging
	slips   []Slip
}

func (r *reading) slip(at mark, words, hint string) {
	if len(r.slips) < mostSlips {
		r.slips = append(r.slips, Slip{at.line, at.column, at.from, at.length, words, hint})
	}
}

// behind is the place right behind a mark, where something is missing.
func behind(m mark) mark {
	return mark{line: m.line, column: m.column + m.length, from: m.from + m.length}
}

var signs = func() map[rune]markKind {
	table := map[rune]markKind{'\n': lineEnd, '\u2028': lineEnd, '\u2029': lineEnd, '\u0085': lineEnd}
	for kind, list := range map[markKind]string{blank: "_＿", plus: "+＋-‐‑‒–—―−－&＆", slash: `/／⁄∕\＼|｜,，;；`} {
		for _, sign := range list {
			table[sign] = kind
		}
	}
	return table
}()

// scan takes the text apart into marks.
func (r *reading) scan(text string) []mark {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", " \n"), "\r", "\n") // as many runes as before
	runes := []rune(text)
	if len(runes) > longestNotation {
		r.slip(mark{line: 1, column: 1}, "This is too long to be a wall.", fmt.Sprintf("Type %d characters at most.", longestNotation))
		return nil
	}
	var marks []mark
	line, start := 1, 0
	for i := 0; i < len(runes); {
		m := mark{line: line, column: i - start + 1, from: i, length: 1, text: string(runes[i])}
		kind, sign := signs[runes[i]]
		switch {
		case digit(runes[i]):
			m.length = run(runes[i:], digit)
			m.text = string(runes[i : i+m.length])
			m.photo = numbered(m.text)
			marks = append(marks, m)
		case sign:
			m.kind = kind
			marks = append(marks, m)
			if kind == lineEnd {
				line, start = line+1, i+1
			}
		case unicode.IsSpace(runes[i]), runes[i] == '#', runes[i] == '\ufeff':
		default:
			m.length = run(runes[i:], func(c rune) bool { _, sign := signs[c]; return !sign && !digit(c) && !unicode.IsSpace(c) })
			r.slip(m, fmt.Sprintf("“%s” says nothing here.", string(runes[i:i+m.length])),
				"Numbers, + between two pages of a spread, / between spreads, _ for a blank page: 12+47 / 3+19 / 8.")
		}
		i += m.length
	}
	return marks
}

func digit(c rune) bool { return c >= '0' && c <= '9' }

func run(runes []rune, belongs func(rune) bool) int {
	n := 1
	for n < len(runes) && belongs(runes[n]) {
		n++
	}
	return n
}

// numbered is the number that digits write, 0 for one too large to be a photo's.
func numbered(digits string) PhotoID {
	n, err := strconv.ParseInt(digits, 10, 32)
	if err != nil {
		return 0
	}
	return PhotoID(n)
}

// parts takes the marks apart at slashes and ends of lines. Lines end where
// spreads end, with a slash or without; a slash at either end divides nothing.
func (r *reading) parts(marks []mark) [][]mark {
	var parts [][]mark
	var part []mark
	var open *mark // the slash before, with nothing behind it yet
	for _, m := range marks {
		switch m.kind {
		case slash, lineEnd:
			if len(part) > 0 {
				parts = append(parts, part)
				part, open = nil, nil
			}
			if m.kind == slash {
				if open != nil {
					r.slip(behind(*open), "A number is missing between these two slashes.", "Write _+_ for a spread of two blank pages.")
				}
				open = &m
			}
		default:
			part = append(part, m)
			open = nil
		}
	}
	if len(part) > 0 {
		parts = append(parts, part)
	}
	return parts
}

// part reads what stands between two slashes.
func (r *reading) part(marks []mark, first, last bool) {
	var pages [2]mark
	var named, pluses int
	for i, m := range marks {
		if m.kind == plus {
			if pluses++; pluses == 2 {
				r.second(marks, i)
				return
			}
			continue
		}
		if i > 0 && marks[i-1].kind != plus {
			r.slip(m, fmt.Sprintf("Between %s and %s a sign is missing.", marks[i-1].text, m.text),
				fmt.Sprintf("Write %s+%s when they face each other, %s / %s when they do not.", marks[i-1].text, m.text, marks[i-1].text, m.text))
			return
		}
		pages[min(pluses, 1)] = m
		named++
	}
	if pluses == 0 {
		r.alone(pages[0], first, last)
		return
	}
	left, right := pages[0], pages[1]
	if named == 2 && left.kind == number && right.kind == number && left.photo == right.photo && left.photo != 0 {
		r.hanging.Spreads = append(r.hanging.Spreads, Facing{Left: r.photo(left), Across: true})
		return
	}
	r.hanging.Spreads = append(r.hanging.Spreads, Facing{Left: r.photo(left), Right: r.photo(right)})
}

// second says what is wrong with a second + in one spread.
func (r *reading) second(marks []mark, i int) {
	if marks[i-1].kind == plus {
		r.slip(behind(marks[i-1]), "A number is missing between these two signs.", "A blank page is written _ or left out: 12+ or +12.")
		return
	}
	r.slip(marks[i], "A spread has two pages; here a third begins.", "Write / where the next spread begins.")
}

// alone reads a page that stands by itself.
func (r *reading) alone(page mark, first, last bool) {
	switch {
	case first:
		r.hanging.Opening = r.photo(page)
	case last:
		r.hanging.Closing = r.photo(page)
	case page.kind == blank:
		r.slip(page, "A blank page alone can be the first or the last only.", "Write _+_ for a spread of two blank pages.")
	default:
		r.slip(page, fmt.Sprintf("%s stands alone in the middle; only the first and the last page do.", page.text),
			fmt.Sprintf("Write %s+ when the page on its right is blank, +%s when that on its left is, %s+%s when it lies across both.", page.text, page.text, page.text, page.text))
	}
}

// photo returns what a mark names, 0 for a blank, and tells what is wrong.
func (r *reading) photo(m mark) PhotoID {
	if m.kind != number || m.length == 0 {
		return 0
	}
	before, twice := r.first[m.photo]
	switch {
	case m.photo == 0 || !r.known[m.photo]:
		r.slip(m, fmt.Sprintf("There is no photo %s in this title.", m.text), r.highest())
	case twice:
		r.slip(m, fmt.Sprintf("Photo %d stands here twice: it was named before, in line %d at place %d.", m.photo, before.line, before.column),
			"A photo hangs in one place only. Look which of the two it is.")
	default:
		r.first[m.photo] = m
	}
	return m.photo
}

// highest tells which numbers there are.
func (r *reading) highest() string {
	var most PhotoID
	for id := range r.known {
		most = max(most, id)
	}
	if most == 0 {
		return "It has no photos yet."
	}
	return fmt.Sprintf("Look at the number on the card again; the highest is %d.", most)
}
