package proof

import (
	"context"
	"image"
	"image/color"
	"image/draw"
	"math"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/pages/perspective"
	"pairwall/sequence/pages/wallshot"
)

// OfStrip is a test strip as it should be, found by the codes of the title with
// that tag.
//
// Errors: those of code.Of.
func OfStrip(s pages.Strip, tag code.Tag) (Page, error) {
	const scale = 8 // pixels to the millimetre
	px := func(l pages.Length) int { return int(math.Round(l.Mm() * scale)) }
	area := func(r pages.Rect) image.Rectangle { return image.Rect(px(r.X), px(r.Y), px(r.Right()), px(r.Bottom())) }
	p := Page{Picture: image.NewRGBA(image.Rect(0, 0, px(s.Width), px(s.Height))), tag: tag, marks: map[sequence.PhotoID]perspective.Quad{}}
	draw.Draw(p.Picture, p.Picture.Rect, image.White, image.Point{}, draw.Src)
	for _, one := range s.Patches {
		r, g, b := one.Colour.SRGB()
		draw.Draw(p.Picture, area(one.At), image.NewUniform(color.RGBA{r, g, b, 255}), image.Point{}, draw.Src)
		p.Printed = append(p.Printed, area(one.At))
	}
	for _, m := range s.Marks {
		made, err := code.Of(tag, m.Number)
		if err != nil {
			return Page{}, err
		}
		module := m.At.Width / code.Side
		for y, row := range made.Modules() {
			for x, dark := range row {
				if dark {
					at := pages.Rect{X: m.At.X + pages.Length(x)*module, Y: m.At.Y + pages.Length(y)*module, Size: pages.Size{Width: module, Height: module}}
					draw.Draw(p.Picture, area(at), image.Black, image.Point{}, draw.Src)
				}
			}
		}
		p.Words = append(p.Words, area(m.At))
		x0, y0, x1, y1 := m.At.X.Mm()*scale, m.At.Y.Mm()*scale, m.At.Right().Mm()*scale, m.At.Bottom().Mm()*scale
		p.marks[m.Number] = perspective.Quad{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	}
	// The foot has the strip's words.
	p.Words = append(p.Words, area(pages.Rect{X: 20, Y: s.Height - 17, Size: pages.Size{Width: s.Width - 40, Height: 12}}))
	return p, nil
}

// byMarks finds a page by its codes, at least two of them.
//
// Errors: NotFound; Cancelled.
func byMarks(ctx context.Context, page Page, shot *image.RGBA) (h perspective.Homography, err error) {
	grey := image.NewGray(shot.Rect.Sub(shot.Rect.Min))
	draw.Draw(grey, grey.Rect, shot, shot.Rect.Min, draw.Src)
	sight, err := wallshot.Find(ctx, grey, func(float64) {})
	if err != nil {
		return h, err
	}
	var from, to []perspective.Point
	codes := 0
	for _, f := range sight.Codes {
		if q, known := page.marks[f.Number]; known && f.Tag == page.tag {
			from, to = append(from, q[:]...), append(to, f.Corners[:]...)
			codes++
		}
	}
	h, ok := perspective.Fit(from, to, nil)
	if codes < 2 || !ok {
		return h, &sequence.Error{Code: sequence.NotFound, Message: "The test strip was not found in this photograph.",
			Hint: "Show all of it, its four codes included, flat, in focus, filling most of the picture."}
	}
	return h, nil
}
