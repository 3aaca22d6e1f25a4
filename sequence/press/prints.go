package press

import (
	"fmt"
	"strconv"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
)

// SmallPrints are the prints for a real wall.
type SmallPrints struct {
	Title  string
	Tag    code.Tag
	Style  pages.PrintStyle
	Sheets []pages.PrintSheet
	Photos map[sequence.PhotoID]sequence.Photo
	Open   Source
}

// Sizes of the numbers on small prints.
const (
	numberSize pages.Length = 6.5
	backSize   pages.Length = 16
)

// SmallPrints adds the sheets, each followed by its back when backs are wanted.
//
// Errors: what opening a picture gives; Invalid for a number no code can hold.
func (d *Document) SmallPrints(p SmallPrints) error {
	for i, sheet := range p.Sheets {
		err := d.Page(sheet.Size, func(ink *Ink) error {
			for _, one := range sheet.Prints {
				if err := ink.smallPrint(p, one); err != nil {
					return err
				}
			}
			ink.sheetLine(p, sheet, i+1)
			return nil
		})
		if err == nil && p.Style.Backs {
			err = d.Page(sheet.Size, func(ink *Ink) error { return ink.backs(p, sheet) })
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (k *Ink) smallPrint(p SmallPrints, one pages.Print) error {
	photo := p.Photos[one.Photo]
	picture, err := k.doc.Plate(fmt.Sprintf("photo %d", one.Photo), func() (Plate, error) { return p.Open.Upright()(one.Photo) })
	if err != nil {
		return err
	}
	k.Picture(picture, one.Picture)
	k.cutMarks(one.Cut, p.Style.Border-1, 0)
	symbol, err := code.Of(p.Tag, one.Photo)
	if err != nil {
		return err
	}
	k.modules(symbol, one.Code)
	k.foot(p.Style, photo, one)
	return nil
}

// cutMarks draws a short line to either side of each corner along the cuts, so
// far within and so far outside: what the knife leaves of those within lies in
// the white border.
func (k *Ink) cutMarks(cut pages.Rect, within, outside pages.Length) {
	for _, x := range []pages.Length{cut.X, cut.Right()} {
		k.Line(hair, markGrey, x, cut.Y-outside, x, cut.Y+within)
		k.Line(hair, markGrey, x, cut.Bottom()-within, x, cut.Bottom()+outside)
	}
	for _, y := range []pages.Length{cut.Y, cut.Bottom()} {
		k.Line(hair, markGrey, cut.X-outside, y, cut.X+within, y)
		k.Line(hair, markGrey, cut.Right()-within, y, cut.Right()+outside, y)
	}
}

// modules prints a code. Dark modules beside each other become one rectangle: a
// seam between two would show as a hairline on some printers.
func (k *Ink) modules(symbol code.Code, at pages.Rect) {
	modules := symbol.Modules()
	side := at.Width / pages.Length(len(modules))
	for row, line := range modules {
		for from := 0; from < len(line); from++ {
			to := from
			for to < len(line) && line[to] {
				to++
			}
			if to > from {
				k.Fill(pages.Rect{X: at.X + pages.Length(from)*side, Y: at.Y + pages.Length(row)*side,
					Size: pages.Size{Width: pages.Length(to-from) * side, Height: side}}, 0)
				from = to
			}
		}
	}
}

// foot prints the number, and the caption and colours when they are wanted, to
// the left of the code.
func (k *Ink) foot(style pages.PrintStyle, photo sequence.Photo, one pages.Print) {
	foot := one.Foot
	foot.Width = one.Code.X - pages.CodeQuiet - foot.X
	if style.Palette {
		strip := pages.Rect{X: foot.X, Y: foot.Y + 1, Size: pages.Size{Width: foot.Width, Height: 1.6}}
		k.strip(photo, strip)
		foot.Y, foot.Height = strip.Bottom(), foot.Bottom()-strip.Bottom()
	}
	number := strconv.Itoa(int(photo.Number))
	size := numberSize
	if wide := k.doc.letters.Width(number, size); wide > foot.Width {
		size *= foot.Width / wide
	}
	base := foot.Y + foot.Height/2 + size*0.36 // digits are 0.71 of their size high
	k.Text(number, size, foot.X, base)
	if !style.Caption || photo.Caption == "" {
		return
	}
	x := foot.X + k.doc.letters.Width(number, size) + 2.5
	lines := k.doc.letters.Break(photo.Caption, captionSize, foot.X+foot.Width-x, 3)
	y := foot.Y + foot.Height/2 - captionSize*1.25*pages.Length(len(lines))/2 + captionSize*0.95
	for _, line := range lines {
		k.Letter(line, captionSize, x, y, 0.25)
		y += captionSize * 1.25
	}
}

// strip shows a photo's colours, each as wide as its share.
func (k *Ink) strip(photo sequence.Photo, at pages.Rect) {
	x := at.X
	for _, s := range photo.Palette {
		width := at.Width * pages.Length(s.Weight)
		k.Paint(pages.Rect{X: x, Y: at.Y, Size: pages.Size{Width: width, Height: at.Height}}, s.Lab)
		x += width
	}
}

// scale is how long the line is that the maker lays a ruler on.
const scale pages.Length = 50

// sheetLine says below the prints which sheet this is, lets a ruler check that
// the printer did not shrink it, and warns of the blade.
func (k *Ink) sheetLine(p SmallPrints, sheet pages.PrintSheet, number int) {
	y := sheet.Height - p.Style.Margin
	x := p.Style.Margin
	k.Line(hair, 0, x, y-1, x+scale, y-1)
	for _, end := range []pages.Length{x, x + scale} {
		k.Line(hair, 0, end, y-2, end, y)
	}
	text := fmt.Sprintf("50 mm when printed at 100 %%. Cut along a steel rule, fingers behind it: the blade is sharp.   %s, %d of %d",
		p.Title, number, len(p.Sheets))
	room := sheet.Width - p.Style.Margin - (x + scale + 3)
	for _, line := range k.doc.letters.Break(text, lineSize, room, 1) {
		k.Letter(line, lineSize, x+scale+3, y, 0.25)
	}
}

// backs prints each number behind its print, for a sheet turned over about its
// upright middle.
func (k *Ink) backs(p SmallPrints, sheet pages.PrintSheet) error {
	for _, one := range sheet.Prints {
		back := one.Cut.Mirrored(sheet.Width)
		middle := back.X + back.Width/2
		k.Middle(strconv.Itoa(int(one.Photo)), backSize, middle, back.Y+back.Height/2+backSize*0.36)
		for _, line := range k.doc.letters.Break(p.Title, captionSize, back.Width-2*p.Style.Border, 1) {
			k.Middle(line, captionSize, middle, back.Bottom()-p.Style.Border-captionSize)
		}
	}
	return nil
}
