package printing

import "pairwall/sequence/pages"

// BookShown is a book with its words set in the typeface that is printed, and
// what does not fit.
type BookShown struct {
	Book    pages.Book         `json:"book"`
	Lines   [][]pages.TextLine `json:"lines"` // of each page
	Misfits []pages.Misfit     `json:"misfits"`
}

// Show lays a title out as it will be printed.
func (p *Press) Show(m Matter) (BookShown, error) {
	letters, err := p.letters()
	if err != nil {
		return BookShown{}, err
	}
	shown := BookShown{Book: m.Book(), Lines: [][]pages.TextLine{}}
	for _, page := range shown.Book.Pages {
		lines := []pages.TextLine{}
		for _, w := range page.Writings {
			set, _ := w.Set(letters, page.Right())
			lines = append(lines, set...)
		}
		shown.Lines = append(shown.Lines, lines)
	}
	shown.Misfits = shown.Book.Misfits(m.Plan, m.known(), letters)
	return shown, nil
}
