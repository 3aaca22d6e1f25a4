package press

import (
	"fmt"
	"strings"

	"pairwall/sequence/pages"
)

// Paragraph is one paragraph of a letter; with a name it is a line of a table,
// the name to the left. One without words is an empty line.
type Paragraph struct {
	Name, Words string
}

// Measures of a letter in millimetres: A4 (ISO 216) with margins as letters have
// them, common practice. Type of 3.7 mm is 10.5 points.
const (
	letterMargin  pages.Length = 25
	letterNames   pages.Length = 48
	letterSize    pages.Length = 3.7
	letterLeading pages.Length = 5.4
)

var letterSheet = pages.Size{Width: 210, Height: 297}

// set is a line of a letter with its names' column.
type set struct{ name, words string }

// Letter adds a letter, on as many pages as it takes. No word of it is cut.
func (d *Document) Letter(paragraphs []Paragraph) error {
	var lines []set
	for _, p := range paragraphs {
		lines = append(lines, d.letters.paragraph(p)...)
	}
	room := letterSheet.Height - 2*letterMargin
	most := int(room / letterLeading)
	count := max(1, (len(lines)+most-1)/most)
	for n := range count {
		err := d.Page(letterSheet, func(k *Ink) error {
			y := letterMargin + letterSize
			for _, line := range lines[n*most : min(len(lines), (n+1)*most)] {
				if line.name != "" {
					k.Letter(line.name, letterSize, letterMargin, y, 0.3)
				}
				x := letterMargin
				if line.name != "" || strings.HasPrefix(line.words, "\t") {
					x += letterNames
				}
				k.Text(strings.TrimPrefix(line.words, "\t"), letterSize, x, y)
				y += letterLeading
			}
			if count > 1 {
				k.Right(fmt.Sprintf("%d of %d", n+1, count), lineSize, letterSheet.Width-letterMargin, letterSheet.Height-letterMargin/2)
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// paragraph breaks a paragraph into lines. Those of a table begin with a tab when
// they carry no name.
func (l Letters) paragraph(p Paragraph) []set {
	room := letterSheet.Width - 2*letterMargin
	if p.Name == "" {
		var lines []set
		for _, words := range l.wrap(p.Words, letterSize, room) {
			lines = append(lines, set{"", words})
		}
		return lines
	}
	names := l.wrap(p.Name, letterSize, letterNames-2)
	words := l.wrap(p.Words, letterSize, room-letterNames)
	lines := make([]set, max(len(names), len(words)))
	for i := range lines {
		if i < len(words) {
			lines[i].words = "\t" + words[i]
		}
		if i < len(names) {
			lines[i].name = names[i]
		}
	}
	return lines
}

// wrap divides a text into lines between words, and within a word that is longer
// than a line. There is one line at least.
func (l Letters) wrap(text string, size, room pages.Length) []string {
	lines := []string{""}
	for _, word := range strings.Fields(text) {
		last := &lines[len(lines)-1]
		longer := strings.TrimSpace(*last + " " + word)
		if l.Width(longer, size) <= room {
			*last = longer
			continue
		}
		if *last != "" {
			lines = append(lines, "")
		}
		for _, r := range word {
			last = &lines[len(lines)-1]
			if *last != "" && l.Width(*last+string(r), size) > room {
				lines = append(lines, string(r))
				continue
			}
			*last += string(r)
		}
	}
	return lines
}
