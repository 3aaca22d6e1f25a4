package form

import (
	"image"
	"math"

	"pairwall/sequence"
)

// The long sides, in pixels, at which the measures are taken. What the eye
// takes in at a glance is coarse; sharpness is measured as fine as the picture is.
const (
	edgeSide   = 400
	glanceSide = 96
)

// Measure takes the measures of a picture of sRGB pixels within its border, if
// it has one; Measured is left to the caller. inside is the part within, which is
// the whole picture where there is none. A picture without pixels gives the zero
// Form.
//
// Time: the picture's pixels a few times.
func Measure(img image.Image) (form sequence.Form, inside image.Rectangle) {
	whole := img.Bounds()
	if whole.Empty() {
		return sequence.Form{}, whole
	}
	fine := lumaOf(img, whole)
	edges := fine.edges()
	if inside = insideOf(img, edges); inside != whole {
		fine = lumaOf(img, inside)
		edges = fine.edges()
	}
	return measured(img, inside, fine, edges), inside
}

// measured takes the measures of a part of a picture, of which fine is the
// brightness and edges the same at edgeSide.
func measured(img image.Image, inside image.Rectangle, fine, edges plane) sequence.Form {
	whole := img.Bounds()
	seen := glanceOf(img, inside)

	var f sequence.Form
	f.Fingerprint = fingerprint(edges)
	sharp, depth := sharpness(fine)
	f.Sharpness, f.Depth = rounded(sharp), rounded(depth)
	slopes := slopesOf(edges)
	f.Detail = rounded(detail(slopes))
	for i, share := range directions(slopes) {
		f.Lines[i] = rounded(share)
	}
	// Fractions of the inside become fractions of the whole.
	across := func(x float64) float64 {
		return rounded((float64(inside.Min.X-whole.Min.X) + x*float64(inside.Dx())) / float64(whole.Dx()))
	}
	down := func(y float64) float64 {
		return rounded((float64(inside.Min.Y-whole.Min.Y) + y*float64(inside.Dy())) / float64(whole.Dy()))
	}
	x, y := weight(seen)
	f.WeightX, f.WeightY = across(x), down(y)
	if line := levelLine(seen); line.strength > 0 {
		left, right := line.reaching(
			float64(whole.Min.X-inside.Min.X)/float64(inside.Dx()), float64(whole.Max.X-inside.Min.X)/float64(inside.Dx()))
		f.HorizonLeft, f.HorizonRight = within01(down(left)), within01(down(right))
		f.Horizon = rounded(line.strength)
	}
	return f
}

// rounded keeps four places: more would say nothing and fill the store.
func rounded(v float64) float64 { return math.Round(v*1e4) / 1e4 }

func within01(v float64) float64 { return min(max(v, 0), 1) }
