package press

import (
	"strings"

	"pairwall/sequence/pages"
)

// Line is a line of words set on a page.
type Line struct {
	Text string
	Size pages.Length // of the letters
	X, Y pages.Length // where its baseline begins
}

// Sizes of the words of a book, 1 mm being 2.83 points: 8 points for captions,
// page numbers and the colophon, 10 for text. Common practice, from memory.
const (
	smallWords pages.Length = 2.8
	textWords  pages.Length = 3.5
	titleWords pages.Length = 9
	underTitle pages.Length = 4.5
	leading                 = 1.4 // from baseline to baseline, in sizes
	ascending               = 0.8 // of a size above the baseline, about
)

// column sets lines below one another in a room.
type column struct {
	letters Letters
	room    pages.Rect
	y       pages.Length // how far it is filled
	lines   []Line
}

const noEnd = 1 << 20 // more lines than any page has

// add sets a text broken into lines.
func (c *column) add(text string, size pages.Length) {
	for _, line := range c.letters.Break(text, size, c.room.Width, noEnd) {
		c.lines = append(c.lines, Line{line, size, c.room.X, c.room.Y + c.y + ascending*size})
		c.y += leading * size
	}
}

// Compose sets the words of a page into their room. fits is false when they run
// beyond its foot.
func (l Letters) Compose(leaf pages.Leaf, room pages.Rect) (lines []Line, fits bool) {
	c := column{letters: l, room: room}
	switch leaf.Kind {
	case pages.TitleLeaf:
		c.y = room.Height / 4
		for i, line := range strings.Split(strings.TrimSpace(leaf.Text), "\n") {
			if i == 0 {
				c.add(line, titleWords)
				c.y += underTitle
				continue
			}
			c.add(line, underTitle)
		}
	case pages.Colophon:
		c.paragraphs(leaf.Text, smallWords)
		down := room.Height - c.y // it stands at the foot
		for i := range c.lines {
			c.lines[i].Y += max(down, 0)
		}
	default:
		c.paragraphs(leaf.Text, textWords)
	}
	return c.lines, c.y <= room.Height+0.01
}

// paragraphs sets paragraphs, divided by empty lines; other line ends stay.
func (c *column) paragraphs(text string, size pages.Length) {
	for line := range strings.SplitSeq(strings.ReplaceAll(strings.TrimSpace(text), "\r\n", "\n"), "\n") {
		if strings.TrimSpace(line) == "" {
			c.y += leading * size / 2
			continue
		}
		c.add(line, size)
	}
}
