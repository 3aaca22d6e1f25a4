package pages

import (
	"math"
	"strconv"
)

// Length is a length on paper in millimetres. Lengths are exact enough to be
// added freely: paper is cut to tenths.
type Length float64

// Inch is 25.4 mm exactly (international yard and pound agreement, 1959).
const Inch Length = 25.4

// Mm returns the length as a plain number of millimetres.
func (l Length) Mm() float64 { return float64(l) }

// Inches returns the length in inches.
func (l Length) Inches() float64 { return float64(l / Inch) }

// String writes the length in millimetres with at most two decimals: "69.85 mm".
func (l Length) String() string {
	return strconv.FormatFloat(math.Round(float64(l)*100)/100, 'f', -1, 64) + " mm"
}

// Size is the size of something flat and rectangular.
type Size struct {
	Width  Length `json:"width"`  // millimetres
	Height Length `json:"height"` // millimetres
}

// Turned returns the size after a quarter turn.
func (s Size) Turned() Size { return Size{s.Height, s.Width} }

// Within reports whether s can lie in room without being turned. A thousandth
// of a millimetre is forgiven: sums of lengths carry rounding.
func (s Size) Within(room Size) bool {
	return s.Width <= room.Width+tiny && s.Height <= room.Height+tiny
}

// Fitted returns the largest size of the proportion width : height that lies
// within s. Both must be positive.
func (s Size) Fitted(width, height float64) Size {
	scale := min(float64(s.Width)/width, float64(s.Height)/height)
	return Size{Length(width * scale), Length(height * scale)}
}

// tiny is far below what any knife or printer can do.
const tiny Length = 0.001

// Rect is a rectangle on paper, from the top left corner downwards.
type Rect struct {
	X Length `json:"x"` // of its left edge
	Y Length `json:"y"` // of its top edge
	Size
}

// Right and Bottom are the far edges.
func (r Rect) Right() Length  { return r.X + r.Width }
func (r Rect) Bottom() Length { return r.Y + r.Height }

// Inset returns the rectangle without a border of d on every side.
func (r Rect) Inset(d Length) Rect {
	return Rect{r.X + d, r.Y + d, Size{r.Width - 2*d, r.Height - 2*d}}
}

// Centred returns where something of size s lies in the middle of r.
func (r Rect) Centred(s Size) Rect {
	return Rect{r.X + (r.Width-s.Width)/2, r.Y + (r.Height-s.Height)/2, s}
}

// Mirrored returns where the rectangle lies as seen from the back of a sheet of
// the given width that was turned over about its upright middle.
func (r Rect) Mirrored(width Length) Rect {
	r.X = width - r.X - r.Width
	return r
}
