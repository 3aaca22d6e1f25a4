package form

import (
	"image"
	"math"
	"slices"
)

// How a scan's border is told from a picture's own dark or light edge (common
// practice of no one; settled on real and drawn scans, see this package's tests).
const (
	black       = 0.20 // what film's unexposed edge reaches at most
	white       = 0.92 // what a scanner's lid shows at least
	spread      = 0.05 // how far a border's pixels stray from each other
	plain       = 0.80 // share of a line of border that is nothing but border; the rest may be edge print
	outermost   = 0.90 // the same of the outermost line
	left        = 0.50 // share at which a line is no border any more
	deepest     = 0.20 // of the side, how deep a border may be
	softness    = 5    // lines of edgeSide within which a border must end
	borderLoops = 2    // a scan may lie in a black border within a white one
)

// Inside is the part of the picture within the black or white border that a
// scan of film may have: unexposed film, the holder's edge, the scanner's lid.
// Without one it is the whole picture.
//
// A border is a run of lines of one black or white, ending at once and all along
// its length, on two opposite sides at least; a night sky or a studio's paper
// fades into what it surrounds.
func Inside(img image.Image) image.Rectangle {
	return insideOf(img, lumaOf(img, img.Bounds()).edges())
}

// insideOf is Inside with the brightness of the whole picture at edgeSide given.
func insideOf(img image.Image, small plane) image.Rectangle {
	inside := img.Bounds()
	for range borderLoops {
		if inside.Dx() < 64 || inside.Dy() < 64 {
			return inside
		}
		top, bottom, start, end := borders(small)
		if top+bottom+start+end == 0 {
			return inside
		}
		width, height := float64(inside.Dx()), float64(inside.Dy())
		inside = image.Rect(
			inside.Min.X+int(math.Ceil(start*width)), inside.Min.Y+int(math.Ceil(top*height)),
			inside.Max.X-int(math.Ceil(end*width)), inside.Max.Y-int(math.Ceil(bottom*height)))
		small = lumaOf(img, inside).edges()
	}
	return inside
}

// borders are the depths of the four borders as shares of the sides they are
// measured along; all 0 when the picture has no border.
func borders(p plane) (top, bottom, start, end float64) {
	across := p.row
	down := func(x int) []float32 {
		column := make([]float32, p.height)
		for y := range column {
			column[y] = p.at[y*p.width+x]
		}
		return column
	}
	backwards := func(line func(i int) []float32, count int) func(i int) []float32 {
		return func(i int) []float32 { return line(count - 1 - i) }
	}
	t, b := borderOf(across, p.height), borderOf(backwards(across, p.height), p.height)
	s, e := borderOf(down, p.width), borderOf(backwards(down, p.width), p.width)
	clear := 0
	for _, one := range []border{t, b, s, e} {
		if one.ends > 0 {
			clear++
		}
	}
	if clear < 3 && (t.ends == 0 || b.ends == 0) && (s.ends == 0 || e.ends == 0) {
		return 0, 0, 0, 0
	}
	height, width := float64(p.height), float64(p.width)
	return float64(t.depth(b)) / height, float64(b.depth(t)) / height, float64(s.depth(e)) / width, float64(e.depth(s)) / width
}

// border is what lies along one side of a picture.
type border struct {
	shade float32 // of the outermost line; -1 when that is no border
	runs  int     // lines from the outside that could be border
	ends  int     // lines after which it is over, soft edge included; 0 when it does not end clearly
}

// depth is how much to leave out: where the picture itself is as dark or light
// as its border, as much as on the opposite side.
func (b border) depth(opposite border) int {
	if b.ends > 0 {
		return b.ends
	}
	if b.shade >= 0 && b.runs+softness >= opposite.ends && math.Abs(float64(b.shade-opposite.shade)) < spread {
		return opposite.ends
	}
	return 0
}

// borderOf looks at lines from the outside inwards.
func borderOf(line func(i int) []float32, count int) border {
	first := slices.Clone(line(0))
	slices.Sort(first)
	b := border{shade: first[len(first)/2]}
	alike := func(i int) float64 {
		n := 0
		values := line(i)
		for _, v := range values {
			if v > b.shade-spread && v < b.shade+spread {
				n++
			}
		}
		return float64(n) / float64(len(values))
	}
	if b.shade > black && b.shade < white || alike(0) < outermost {
		return border{shade: -1}
	}
	for b.runs = 1; b.runs < count && alike(b.runs) >= plain; {
		b.runs++
	}
	if float64(b.runs) > deepest*float64(count) {
		return b
	}
	for i := b.runs; i < min(b.runs+softness, count); i++ {
		if alike(i) < left {
			b.ends = i + 1
			break
		}
	}
	return b
}
