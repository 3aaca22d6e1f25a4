package printing

import (
	"io"
	"time"

	"pairwall/sequence/edition/quotes"
	"pairwall/sequence/pages"
	"pairwall/sequence/press"
)

// Facts are what the title says of itself in a specification: its pages are those
// of the book as it is laid out now.
func (m Matter) Facts() quotes.Facts {
	book := m.Book()
	facts := quotes.Facts{Title: m.Title.Name, Format: m.Format, Pages: len(book.Pages)}
	if m.Profile != nil {
		facts.Profile = m.Profile.Name
	}
	for _, page := range book.Pages {
		if page.Shown == nil && (page.Leaf == nil || page.Leaf.Kind == pages.BlankLeaf) {
			facts.Blank++
		}
	}
	return facts
}

// Letter makes a PDF of a letter; made stands in it.
//
// Error: Unreadable when out fails.
func (p *Press) Letter(out io.Writer, title string, made time.Time, letter []quotes.Passage) error {
	letters, err := p.letters()
	if err != nil {
		return err
	}
	d := press.Begin(out, press.About{Title: title, Made: made}, letters)
	paragraphs := make([]press.Paragraph, len(letter))
	for i, passage := range letter {
		paragraphs[i] = press.Paragraph{Name: passage.Name, Words: passage.Words}
	}
	if err := d.Letter(paragraphs); err != nil {
		return err
	}
	return d.End()
}

// Unprintable lists the characters of a text that the typeface lacks.
func (p *Press) Unprintable(text string) (string, error) {
	letters, err := p.letters()
	return string(letters.Missing(text)), err
}
