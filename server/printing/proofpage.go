package printing

import (
	"context"
	"fmt"
	"image"
	"image/draw"
	"math"

	xdraw "golang.org/x/image/draw"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/proof"
)

// proofLong is the longer side in pixels of a page as a proof is compared with
// it.
const proofLong = 1200

// strip is the test strip of a title as it is now: the colours of what hangs.
func (m Matter) strip() pages.Strip {
	known := m.known()
	var palettes []colour.Palette
	for _, id := range m.Wall.Wall() {
		palettes = append(palettes, known[id].Palette)
	}
	return pages.LayStrip(pages.OwnColours(palettes))
}

// Wanted is a page of the book as it should come from the printer, trimmed, made
// of card images; page 0 is the test strip.
//
// Errors: NotFound for a page that the book does not have; Invalid for one
// without a photo, which nothing can be measured by.
func (p *Press) Wanted(ctx context.Context, m Matter, number int) (proof.Page, error) {
	if number == 0 {
		return proof.OfStrip(m.strip(), code.TagOf(m.Title))
	}
	book := m.Book()
	if number < 1 || number > len(book.Pages) {
		return proof.Page{}, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("The book has no page %d.", number),
			Hint: fmt.Sprintf("It has pages 1 to %d.", len(book.Pages))}
	}
	page := book.Pages[number-1]
	if page.Shown == nil {
		return proof.Page{}, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no photo on page %d to measure by.", number),
			Hint: "Choose a page with a photo; one with greys and skin tells most."}
	}
	trim := book.Format.Trim
	k := proofLong / float64(max(trim.Width, trim.Height))
	onPaper := func(r pages.Rect) image.Rectangle {
		at := func(l pages.Length) int { return int(math.Round(float64(l) * k)) }
		return image.Rect(at(r.X), at(r.Y), at(r.Right()), at(r.Bottom()))
	}
	wanted := proof.Page{Picture: image.NewRGBA(onPaper(pages.Rect{Size: trim}))}
	draw.Draw(wanted.Picture, wanted.Picture.Rect, image.White, image.Point{}, draw.Src)
	picture, err := p.opened(ctx, m.known()[page.Shown.Photo], largeCard)
	if err != nil {
		return proof.Page{}, err
	}
	window := onPaper(page.Shown.Window).Intersect(wanted.Picture.Rect)
	through := wanted.Picture.SubImage(window).(*image.RGBA)
	xdraw.CatmullRom.Scale(through, onPaper(page.Shown.Picture), picture, picture.Rect, draw.Src, nil)
	wanted.Printed = []image.Rectangle{window}
	for _, w := range page.Writings {
		wanted.Words = append(wanted.Words, onPaper(w.Room))
	}
	return wanted, nil
}
