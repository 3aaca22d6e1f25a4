package pdf

import "strconv"

// Content is a page's content stream in the making: operators of ISO 32000-1,
// annex A, with their operands in points.
type Content struct{ b []byte }

// Bytes returns the stream so far.
func (c *Content) Bytes() []byte { return c.b }

func (c *Content) op(name string, operands ...float64) {
	for _, v := range operands {
		c.b = append(AppendNumber(c.b, v), ' ')
	}
	c.b = append(append(c.b, name...), '\n')
}

// Within keeps what draw sets to itself.
func (c *Content) Within(draw func()) {
	c.op("q")
	draw()
	c.op("Q")
}

// Matrix maps what is drawn next (8.3.4).
func (c *Content) Matrix(m [6]float64) { c.op("cm", m[:]...) }

// Grey sets the colour of fills and lines: 0 black to 1 white.
func (c *Content) Grey(v float64) {
	c.op("g", v)
	c.op("G", v)
}

// RGB sets the colour of fills and lines in the device's own red, green and
// blue, 0..1.
func (c *Content) RGB(r, g, b float64) {
	c.op("rg", r, g, b)
	c.op("RG", r, g, b)
}

// ColourIn sets the colour of fills and lines in a colour space of the page's
// resources.
func (c *Content) ColourIn(space Name, v ...float64) {
	c.b = append(appendName(c.b, space), " cs\n"...)
	c.op("scn", v...)
	c.b = append(appendName(c.b, space), " CS\n"...)
	c.op("SCN", v...)
}

// Line draws a straight line of the given width.
func (c *Content) Line(width, x1, y1, x2, y2 float64) {
	c.op("w", width)
	c.op("m", x1, y1)
	c.op("l", x2, y2)
	c.op("S")
}

// Rect adds a rectangle to the path, for Fill, Stroke or Clip.
func (c *Content) Rect(x, y, w, h float64) { c.op("re", x, y, w, h) }

// Fill fills the path.
func (c *Content) Fill() { c.op("f") }

// Stroke draws the path as a line of the given width.
func (c *Content) Stroke(width float64) {
	c.op("w", width)
	c.op("S")
}

// Clip keeps what is drawn next within the path, until Within ends.
func (c *Content) Clip() { c.b = append(c.b, "W n\n"...) }

// Circle adds a circle to the path, of four Bézier curves that leave it by less
// than a thousandth of the radius.
func (c *Content) Circle(x, y, r float64) {
	const k = 0.5522847498 // 4/3 × (√2 − 1)
	c.op("m", x+r, y)
	c.op("c", x+r, y+k*r, x+k*r, y+r, x, y+r)
	c.op("c", x-k*r, y+r, x-r, y+k*r, x-r, y)
	c.op("c", x-r, y-k*r, x-k*r, y-r, x, y-r)
	c.op("c", x+k*r, y-r, x+r, y-k*r, x+r, y)
}

// Dash draws lines next as dashes with gaps between, until Within ends.
func (c *Content) Dash(dash, gap float64) {
	c.b = append(appendValue(c.b, Numbers(dash, gap)), " 0 d\n"...)
}

// Show draws a picture or a form of the page's resources over the unit square.
func (c *Content) Show(name Name) {
	c.b = append(appendName(c.b, name), " Do\n"...)
}

// Text writes a run of glyphs at a baseline, turned by the matrix's first four
// entries. Its font is named as in the page's resources.
func (c *Content) Text(font Name, size float64, m [6]float64, run []uint16) {
	c.b = append(c.b, "BT\n"...)
	c.b = append(appendName(c.b, font), ' ')
	c.op("Tf", size)
	c.op("Tm", m[:]...)
	c.b = append(c.b, '<')
	for _, glyph := range run {
		c.b = append(c.b, hex4(glyph)...)
	}
	c.b = append(c.b, "> Tj\nET\n"...)
}

func hex4(v uint16) string {
	s := strconv.FormatUint(uint64(v)|0x10000, 16)
	return s[1:]
}
