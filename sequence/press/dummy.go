package press

import (
	"fmt"

	"pairwall/sequence/pages"
)

// Dummy adds a dummy for a home printer, side by side as they go through it, and
// last a page that tells how to make it.
//
// Errors: those of pages.Book.Dummy; of opening a picture, naming the page.
func (d *Document) Dummy(b Bound, style pages.DummyStyle) error {
	sides, err := b.Book.Dummy(style)
	if err != nil {
		return err
	}
	for _, side := range sides {
		err := d.Page(side.Size, func(ink *Ink) error {
			if side.Turn {
				ink.content.Matrix([6]float64{-1, 0, 0, -1, points(side.Width), points(side.Height)})
			}
			if err := ink.imposed(b, side); err != nil {
				return err
			}
			ink.foldMarks(side, b.Book.Folded())
			return nil
		})
		if err != nil {
			return err
		}
		b.told(side.Trims[0].Page)
	}
	return d.howTo(sides[0].Size, "How to make this dummy", b.Book.DummyWords(style, len(sides)/2))
}

// TestSheet adds chosen pages at their true size.
//
// Errors: those of pages.Book.TestSheet; of opening a picture, naming the page.
func (d *Document) TestSheet(b Bound, sheet pages.Sheet, chosen []int) error {
	sides, err := b.Book.TestSheet(sheet, chosen)
	if err != nil {
		return err
	}
	for _, side := range sides {
		err := d.Page(side.Size, func(ink *Ink) error {
			if err := ink.imposed(b, side); err != nil {
				return err
			}
			for _, seat := range side.Trims {
				ink.cutMarks(seat.Trim, 0, 4)
			}
			return nil
		})
		if err != nil {
			return err
		}
		b.told(side.Trims[len(side.Trims)-1].Page)
	}
	return nil
}

// imposed draws the pages of a side in their places.
func (k *Ink) imposed(b Bound, side pages.Imposed) error {
	for _, seat := range side.Trims {
		if seat.Page > len(b.Book.Pages) {
			continue // a blank that fills the last sheet up
		}
		err := k.In(seat.Print, func() error {
			return k.From(seat.Trim.X, seat.Trim.Y, func() error {
				if scale := float64(seat.Trim.Width / b.Book.Format.Trim.Width); scale < 0.9999 { // about the corner of its trim
					k.content.Matrix([6]float64{scale, 0, 0, scale, k.x(0) * (1 - scale), k.y(0) * (1 - scale)})
				}
				return k.page(b, b.Book.Pages[seat.Page-1])
			})
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// Marks on a dummy.
const (
	foldMark   pages.Length = 5
	stapleMark pages.Length = 6
	markGrey                = 0.45
)

// foldMarks marks where to fold and, outside the outermost sheet, where to
// staple; on leaves, where to cut.
func (k *Ink) foldMarks(side pages.Imposed, folded bool) {
	if !folded {
		for _, seat := range side.Trims {
			k.cutMarks(seat.Trim, 0, 4)
		}
		return
	}
	at := side.Trims[0].Trim
	k.content.Within(func() {
		k.content.Dash(points(1), points(1))
		k.Line(hair, markGrey, side.Fold, 0, side.Fold, max(foldMark, at.Y))
		k.Line(hair, markGrey, side.Fold, side.Height-max(foldMark, at.Y), side.Fold, side.Height)
	})
	if side.Sheet == 1 && !side.Back {
		for _, y := range []pages.Length{at.Y + at.Height/4, at.Y + at.Height*3/4} {
			k.Line(4*hair, markGrey, side.Fold, y-stapleMark, side.Fold, y+stapleMark)
		}
	}
	k.cutMarks(pages.Rect{X: side.Fold - at.Width, Y: at.Y, Size: pages.Size{Width: 2 * at.Width, Height: at.Height}}, 0, 4)
}

// howTo adds a page of words.
func (d *Document) howTo(size pages.Size, heading string, said []string) error {
	const margin pages.Length = 20
	return d.Page(size, func(ink *Ink) error {
		y := margin + headingSize
		ink.Text(heading, headingSize, margin, y)
		y += 2 * headingSize
		for i, words := range said {
			for n, line := range d.letters.Break(words, howToSize, min(size.Width-2*margin, 150)-8, 40) {
				if n == 0 {
					ink.Text(fmt.Sprintf("%d", i+1), howToSize, margin, y)
				}
				ink.Text(line, howToSize, margin+8, y)
				y += 1.4 * howToSize
			}
			y += 0.6 * howToSize
		}
		return nil
	})
}

const (
	headingSize pages.Length = 6
	howToSize   pages.Length = 3.8
)

// Spreads adds a book opening by opening, each as a reader sees it: trimmed, and
// two pages on one.
//
// Errors: those of opening a picture, naming the page.
func (d *Document) Spreads(b Bound) error {
	trim := b.Book.Format.Trim
	size := pages.Size{Width: 2 * trim.Width, Height: trim.Height}
	count := len(b.Book.Pages)
	for left := 0; left <= count; left += 2 { // page 1 is a right page
		err := d.Page(size, func(ink *Ink) error {
			for i, number := range []int{left, left + 1} {
				at := pages.Rect{X: trim.Width * pages.Length(i), Size: trim}
				if number < 1 || number > count { // beside the first and the last page lies the table, not paper
					ink.Fill(at, 0.85)
					continue
				}
				err := ink.In(at, func() error {
					return ink.From(at.X, 0, func() error { return ink.page(b, b.Book.Pages[number-1]) })
				})
				if err != nil {
					return err
				}
			}
			if left > 0 && left < count && !b.Book.Crossed(left) {
				ink.Line(hair, 0.8, trim.Width, 0, trim.Width, trim.Height)
			}
			return nil
		})
		if err != nil {
			return err
		}
		b.told(min(left+1, count))
	}
	return nil
}
