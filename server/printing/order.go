package printing

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"strconv"
	"strings"
	"time"

	"pairwall/sequence"
)

// Leaf is one page in the order, as it is written out for other programs.
type Leaf struct {
	Page    int              `json:"page"`
	Side    string           `json:"side"`            // "left" or "right"
	Spread  int              `json:"spread"`          // counted from 1 in reading order; 0 for the opening and the closing page
	Photo   sequence.PhotoID `json:"photo,omitempty"` // none: a blank page
	File    string           `json:"file,omitempty"`
	Caption string           `json:"caption,omitempty"`
	Across  bool             `json:"across,omitempty"` // the photo covers this page and the next
	Chapter string           `json:"chapter,omitempty"`
	Note    string           `json:"note,omitempty"` // why these two
}

// Listing is the order of a title's pages.
type Listing struct {
	Kind  string    `json:"kind"` // "pairwall order"
	Title string    `json:"title"`
	At    time.Time `json:"at"` // when the order became what it is
	Pages []Leaf    `json:"pages"`
	Box   []string  `json:"box"` // files set aside
}

// Listing writes the order out. It holds no places and no dates.
func (m Matter) Listing() Listing {
	known := m.known()
	leaf := func(page int, side string, spread int, photo sequence.PhotoID) Leaf {
		return Leaf{Page: page, Side: side, Spread: spread, Photo: photo, File: known[photo].Name, Caption: known[photo].Caption}
	}
	list := Listing{Kind: "pairwall order", Title: m.Title.Name, At: m.Made, Pages: []Leaf{leaf(1, "right", 0, m.Wall.Opening)}, Box: []string{}}
	for i, s := range m.Wall.Spreads {
		left, right := leaf(2*i+2, "left", i+1, s.Left), leaf(2*i+3, "right", i+1, s.Right)
		left.Across = s.Across
		chapter, _ := m.Wall.Chapter(s.Chapter) // none has no name
		left.Chapter, right.Chapter = chapter.Name, chapter.Name
		left.Note = s.Note
		list.Pages = append(list.Pages, left, right)
	}
	list.Pages = append(list.Pages, leaf(m.Wall.PageCount(), "left", 0, m.Wall.Closing))
	for _, id := range m.Wall.Box {
		list.Box = append(list.Box, known[id].Name)
	}
	return list
}

// JSON writes the listing as JSON.
func (m Matter) JSON(out io.Writer) error {
	encoder := json.NewEncoder(out)
	encoder.SetIndent("", "  ")
	return encoder.Encode(m.Listing())
}

// CSV writes the listing as comma-separated values (RFC 4180), with a byte order
// mark, without which spreadsheets take its letters for another alphabet's.
func (m Matter) CSV(out io.Writer) error {
	if _, err := io.WriteString(out, "\uFEFF"); err != nil {
		return err
	}
	w := csv.NewWriter(out)
	w.UseCRLF = true
	rows := [][]string{{"page", "side", "spread", "photo", "file", "caption", "across", "chapter", "note"}}
	for _, l := range m.Listing().Pages {
		rows = append(rows, []string{strconv.Itoa(l.Page), l.Side, number(l.Spread), number(int(l.Photo)), harmless(l.File), harmless(l.Caption),
			map[bool]string{true: "yes"}[l.Across], harmless(l.Chapter), harmless(l.Note)})
	}
	return w.WriteAll(rows)
}

// number is "" for none.
func number(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// harmless keeps a spreadsheet from taking words for a formula, which could
// read or send what else is in it.
func harmless(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}
