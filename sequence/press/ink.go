package press

import (
	"fmt"

	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
	"pairwall/sequence/press/pdf"
)

// Ink draws on one page, in millimetres from the top left corner of its trim.
type Ink struct {
	doc      *Document
	height   pages.Length // of the media
	x0, y0   pages.Length // where on the media counting begins
	content  pdf.Content
	pictures pdf.Dict
	fonts    pdf.Dict
	spaces   pdf.Dict
}

const sRGB pdf.Name = "sRGB"

func (k *Ink) x(l pages.Length) float64 { return points(k.x0 + l) }
func (k *Ink) y(l pages.Length) float64 { return points(k.height - k.y0 - l) }

// From has draw count from another corner.
func (k *Ink) From(x, y pages.Length, draw func() error) error {
	k.x0, k.y0 = k.x0+x, k.y0+y
	defer func() { k.x0, k.y0 = k.x0-x, k.y0-y }()
	return draw()
}

// In keeps what draw draws within a rectangle.
func (k *Ink) In(r pages.Rect, draw func() error) (err error) {
	k.content.Within(func() {
		k.path(r)
		k.content.Clip()
		err = draw()
	})
	return err
}

// grey sets the colour to a grey, 0 black to 1 white. Where colours are made of
// light it is said in light, as PDF/X-4 asks; in ink it is black ink alone.
func (k *Ink) grey(v float64) {
	if i := k.doc.about.Intent; i != nil && !i.inks() {
		k.content.RGB(v, v, v)
		return
	}
	k.content.Grey(v)
}

// Line draws a straight black line; grey is 0 black to 1 white.
func (k *Ink) Line(width pages.Length, grey float64, x1, y1, x2, y2 pages.Length) {
	k.grey(grey)
	k.content.Line(points(width), k.x(x1), k.y(y1), k.x(x2), k.y(y2))
}

func (k *Ink) path(r pages.Rect) {
	k.content.Rect(k.x(r.X), k.y(r.Bottom()), points(r.Width), points(r.Height))
}

// Fill fills a rectangle with a grey, 0 black to 1 white.
func (k *Ink) Fill(r pages.Rect, grey float64) {
	k.grey(grey)
	k.path(r)
	k.content.Fill()
}

// Paint fills a rectangle with a colour as sRGB can show it.
func (k *Ink) Paint(r pages.Rect, c colour.Lab) {
	red, green, blue := c.SRGB()
	k.content.ColourIn(sRGB, float64(red)/255, float64(green)/255, float64(blue)/255)
	k.path(r)
	k.content.Fill()
}

// Frame draws the edge of a rectangle.
func (k *Ink) Frame(r pages.Rect, width pages.Length, grey float64) {
	k.grey(grey)
	k.path(r)
	k.content.Stroke(points(width))
}

// Picture shows a picture in a rectangle, upright and stretched to it.
func (k *Ink) Picture(p Picture, r pages.Rect) {
	k.pictures[p.name] = p.ref
	k.content.Within(func() {
		k.content.Matrix([6]float64{points(r.Width), 0, 0, points(r.Height), k.x(r.X), k.y(r.Bottom())})
		if p.turn >= 2 && p.turn <= 8 {
			k.content.Matrix(turns[p.turn-2])
		}
		k.content.Show(p.name)
	})
}

// turns lay a picture upright within the unit square, by EXIF's orientation from
// 2 on (EXIF 2.32, 4.6.4, tag 0112).
var turns = [...][6]float64{
	{-1, 0, 0, 1, 1, 0}, {-1, 0, 0, -1, 1, 1}, {1, 0, 0, -1, 0, 1},
	{0, -1, -1, 0, 1, 1}, {0, -1, 1, 0, 0, 1}, {0, 1, 1, 0, 0, 0}, {0, 1, -1, 0, 1, 0},
}

// Text writes a text in black from x on along a baseline at y. The size is the
// height of a line of the face, as the trade counts it.
func (k *Ink) Text(text string, size, x, y pages.Length) {
	k.Letter(text, size, x, y, 0)
}

// Letter is Text in a grey, 0 black to 1 white.
func (k *Ink) Letter(text string, size, x, y pages.Length, grey float64) {
	k.grey(grey)
	k.set(text, size, x, y, pages.Across)
}

// set writes a line in the colour set before, from where its baseline begins.
func (k *Ink) set(text string, size, x, y pages.Length, reads pages.Reading) {
	way := map[pages.Reading][4]float64{pages.Across: {1, 0, 0, 1}, pages.Descending: {0, -1, 1, 0}, pages.Ascending: {0, 1, -1, 0}}[reads]
	for _, s := range k.doc.letters.part(text) {
		font := k.doc.font(s.face)
		name := pdf.Name(fmt.Sprintf("F%d", s.face))
		k.fonts[name] = font.Ref
		k.content.Text(name, points(size), [6]float64{way[0], way[1], way[2], way[3], k.x(x), k.y(y)}, font.Set(s.text))
		runs := pages.Length(k.doc.letters[s.face].Width(s.text)) * size
		x, y = x+pages.Length(way[0])*runs, y-pages.Length(way[1])*runs
	}
}

// Right is Text that ends at x.
func (k *Ink) Right(text string, size, x, y pages.Length) {
	k.Text(text, size, x-k.doc.letters.Width(text, size), y)
}

// Middle is Text whose middle is at x.
func (k *Ink) Middle(text string, size, x, y pages.Length) {
	k.Text(text, size, x-k.doc.letters.Width(text, size)/2, y)
}
