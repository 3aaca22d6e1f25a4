package pages

import (
	"fmt"
	"strconv"
	"strings"
)

// Writing is words in their place on a page. Browser and press set them with
// Set, so that both show the same lines.
type Writing struct {
	Kind WritingKind `json:"kind"`
	Text string      `json:"text"` // paragraphs are divided by empty lines, lines by line breaks
	Room Rect        `json:"room"`
}

// WritingKind says what words are for, and so how they look.
type WritingKind string

// The kinds of writing.
const (
	NameWriting     WritingKind = "name"     // the title, on its page
	SubtitleWriting WritingKind = "subtitle" // and who made it
	TextWriting     WritingKind = "text"
	ColophonWriting WritingKind = "colophon"
	CaptionWriting  WritingKind = "caption"
	FolioWriting    WritingKind = "folio"
)

// Style is how a kind of writing looks. One typeface serves all.
type Style struct {
	Size    Length // of a line of type, as the trade counts it; 1 mm is 2.83 points
	Leading Length // from baseline to baseline
	Gap     Length // more than that between paragraphs
	Align   Align
	Foot    bool // the last line stands at the foot of the room
	Most    int  // lines at most: what is longer is cut and marked; 0: what the room holds
}

// Align is along what lines are set.
type Align string

// The ways to align.
const (
	AlignLeft   Align = "left"
	AlignMiddle Align = "middle"
	AlignOuter  Align = "outer" // away from the gutter
)

// Styles are how words look: sizes are common practice, from memory: text of
// 10 on 14 points, captions, colophon and folios of 8.
var Styles = map[WritingKind]Style{
	NameWriting:     {Size: 8.5, Leading: 10.5, Align: AlignMiddle},
	SubtitleWriting: {Size: 4.2, Leading: 6.5, Align: AlignMiddle},
	TextWriting:     {Size: 3.5, Leading: 4.9, Gap: 2.45, Align: AlignLeft},
	ColophonWriting: {Size: 2.8, Leading: 4, Gap: 2, Align: AlignLeft, Foot: true},
	CaptionWriting:  {Size: 2.8, Leading: 4, Align: AlignLeft, Most: 2},
	FolioWriting:    {Size: 2.8, Leading: 4, Align: AlignOuter, Foot: true, Most: 1},
}

// Lettering measures and divides text; press.Letters does so with the typeface
// that is printed.
type Lettering interface {
	Width(text string, size Length) Length
	Break(text string, size, room Length, most int) []string
	Missing(text string) []rune
}

// TextLine is one line of words. X is where it begins and Y its baseline, from the
// top left corner of the page's trim.
type TextLine struct {
	Text string `json:"text"`
	X    Length `json:"x"`
	Y    Length `json:"y"`
	Size Length `json:"size"`
}

// ascent is how far type rises above its baseline, as a share of its size:
// common practice, from memory.
const ascent = 0.8

// manyLines is more than any page holds.
const manyLines = 4000

// Set divides words into lines in their room; right is whether it is a right
// page. Lines beyond the room are set as well, and over says how many they are:
// the maker sees what does not fit instead of losing it.
func (w Writing) Set(letters Lettering, right bool) (lines []TextLine, over int) {
	style := Styles[w.Kind]
	most := style.Most
	if most == 0 {
		most = manyLines
	}
	y := ascent * style.Size
	for i, paragraph := range paragraphs(w.Text) {
		if i > 0 && len(lines) > 0 {
			y += style.Gap
		}
		for _, typed := range strings.Split(paragraph, "\n") {
			for _, text := range letters.Break(typed, style.Size, w.Room.Width, most) {
				lines = append(lines, TextLine{text, w.start(style, letters.Width(text, style.Size), right), w.Room.Y + y, style.Size})
				y += style.Leading
			}
		}
	}
	if len(lines) == 0 {
		return nil, 0
	}
	descent := (1 - ascent) * style.Size
	if spare := w.Room.Bottom() - (lines[len(lines)-1].Y + descent); style.Foot && spare > 0 {
		for i := range lines {
			lines[i].Y += spare
		}
	}
	for _, line := range lines {
		if line.Y+descent > w.Room.Bottom()+tiny {
			over++
		}
	}
	return lines, over
}

// start is where a line of a width begins.
func (w Writing) start(style Style, width Length, right bool) Length {
	spare := w.Room.Width - width
	switch style.Align {
	case AlignMiddle:
		return w.Room.X + spare/2
	case AlignOuter:
		if right {
			return w.Room.X + spare
		}
	}
	return w.Room.X
}

func paragraphs(text string) []string {
	var all []string
	for _, p := range strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n\n") {
		if p = strings.Trim(p, "\n"); strings.TrimSpace(p) != "" {
			all = append(all, p)
		}
	}
	return all
}

// Details are the print details of a colophon, drawn from the format so that
// they are never out of date: "Edition of 100 copies. 48 pages of 148 × 210 mm,
// saddle stitch."
func (p Plan) Details(f Format, count int) string {
	var said []string
	if p.Edition > 0 {
		said = append(said, fmt.Sprintf("Edition of %s.", plural(p.Edition, "copy", "copies")))
	}
	book := fmt.Sprintf("%s of %s", plural(count, "page", "pages"), f.Measures())
	if f.Binding != Unbound {
		book += ", " + f.Binding.Words()
	}
	said = append(said, book+".")
	if text := f.Text.words(); text != "" {
		said = append(said, "Text: "+text+".")
	}
	if cover := f.Cover.words(); cover != "" {
		said = append(said, "Cover: "+cover+".")
	}
	return strings.Join(said, "\n")
}

// words names a paper as a colophon does: "Lagoon, 150 g/m², silk".
func (p Paper) words() string {
	var said []string
	if p.Name != "" {
		said = append(said, p.Name)
	}
	if p.Grammage > 0 {
		said = append(said, strconv.FormatFloat(p.Grammage, 'f', -1, 64)+" g/m²")
	}
	if p.Finish != "" {
		said = append(said, p.Finish)
	}
	return strings.Join(said, ", ")
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// writings are the words of a page of words. The name on a title page stands a
// third down, as is common; what follows it below.
func (l Leaf) writings(p Plan, f Format, room Rect, count int) []Writing {
	switch l.Kind {
	case TitleLeaf:
		name, rest, _ := strings.Cut(strings.TrimSpace(l.Text), "\n")
		upper, lower := room, room
		upper.Y += room.Height / 4
		upper.Height = room.Height / 4
		lower.Y, lower.Height = upper.Bottom(), room.Height/2
		return []Writing{{NameWriting, name, upper}, {SubtitleWriting, rest, lower}}
	case TextLeaf:
		return []Writing{{TextWriting, l.Text, room}}
	case Colophon:
		return []Writing{{ColophonWriting, strings.TrimSpace(l.Text + "\n\n" + p.Details(f, count)), room}}
	}
	return nil
}
