package proof

import (
	"context"
	"image"
	"math"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/pages/perspective"
)

// Page is a page as it should be.
type Page struct {
	Picture *image.RGBA       // sRGB; bare paper is white
	Printed []image.Rectangle // of Picture, where pictures are printed; the rest is bare paper but for Words
	Words   []image.Rectangle // of Picture, where there may be words: neither compared nor taken for bare paper

	tag   code.Tag                              // of marks
	marks map[sequence.PhotoID]perspective.Quad // codes it is found by, in Picture; nil: by what it shows
}

// Aids say what else lies in the photograph.
type Aids struct {
	Target Edition      // which 24-patch target to look for; "" looks for that made after 2014
	Card   *pages.Point // where a grey card lies in the photograph; nil: none
}

// Base says by what light and camera were taken out.
type Base string

// The bases, the best first. With None the figures are what the camera saw, and
// only differences between pages photographed alike mean anything.
const (
	ByTarget Base = "target" // a 24-patch target, and bare paper for how even the light was
	ByCard   Base = "card"   // a grey card and bare paper
	ByPaper  Base = "paper"  // bare paper alone: its own tint cannot be told
	None     Base = "none"
)

// Measurement is what a photograph of a proof tells.
type Measurement struct {
	Corners []pages.Point `json:"corners"` // of the page in the photograph: top left, top right, bottom right, bottom left
	Like    float64       `json:"like"`    // correlation with the page as it should be, 0..1
	Base    Base          `json:"base"`
	Rest    float64       `json:"rest"`            // mean ΔE00 of the target's patches that calibration left; 0 without a target
	Paper   *Tones        `json:"paper,omitempty"` // bare paper beside a neutral one; nil where it cannot be told
	Zones   []Tones       `json:"zones"`           // the whole page, lights, midtones, shadows, near-neutrals
	Map     Map           `json:"map"`
	Clipped float64       `json:"clipped"`        // share of the page that the photograph shows as pure white or black
	Uneven  float64       `json:"uneven"`         // by how much the light on the page falls off, 0..1 of its brightest
	Card    *pages.Point  `json:"card,omitempty"` // what may be a grey card and was not used, in the photograph; nil: nothing does
	Bare    int           `json:"bare"`           // pieces of bare paper that told the light
}

// Names of the zones, by L* as it should be: thirds of the scale (common
// practice). Near-neutrals have a chroma below 10.
const (
	Whole     = "whole"
	Lights    = "lights"
	Midtones  = "midtones"
	Shadows   = "shadows"
	Neutrals  = "neutrals"
	PaperZone = "paper"
)

const nearNeutral = 10.0

// Tones is the mean shift of one kind of places.
type Tones struct {
	Name   string        `json:"name"`
	Share  float64       `json:"share"`  // of the printed area that could be measured
	Wanted colour.LabD50 `json:"wanted"` // mean, beside the white of the paper
	Shift  colour.LabD50 `json:"shift"`  // mean of what is more than wanted
	DeltaE float64       `json:"deltaE"` // ΔE00 from wanted to wanted and shifted
	Unsure Unsure        `json:"unsure"`
	Light  Told          `json:"light"`  // of L*
	Colour Told          `json:"colour"` // of a* and b*
}

// Unsure holds standard deviations: of L*, and of a* and b* each.
type Unsure struct {
	L  float64 `json:"l"`
	AB float64 `json:"ab"`
}

// Told is whether something could be told.
type Told string

// What can be told of a shift.
const (
	Shifted    Told = "shifted"
	Clean      Told = "clean"       // below what the eye would see, and sure of it
	CannotTell Told = "cannot tell" // too little, or too unsure
)

// Map is the shift over the page, row by row from the top left.
type Map struct {
	Columns int    `json:"columns"`
	Rows    int    `json:"rows"`
	Cells   []Cell `json:"cells"`
}

// Cell is one field of the map; Patches is 0 where nothing could be measured.
type Cell struct {
	Shift   colour.LabD50 `json:"shift"`
	DeltaE  float64       `json:"deltaE"`
	Patches int           `json:"patches"`
}

// analysis is the longer side in pixels at which page and photograph are
// compared, patch that of a patch there.
const (
	analysis = 480
	patch    = 8
)

// Measure compares the photograph of a proof with its page. Both are at least
// 200 pixels wide and high.
//
// The same pictures give the same finding. Time is linear in the pixels but for
// the features, about a second on one core for 1600 × 1200.
//
// Errors: Invalid for pictures too small; NotFound when the page is not in the
// photograph; Cancelled.
func Measure(ctx context.Context, page Page, shot *image.RGBA, aids Aids) (Measurement, error) {
	if small(page.Picture) || small(shot) {
		return Measurement{}, &sequence.Error{Code: sequence.Invalid, Message: "The photograph of the proof is too small to measure anything by.",
			Hint: "Take one of at least a few million pixels that the page fills."}
	}
	seen := lightOf(shot, 2*analysis*5/3)
	whole := lightOf(page.Picture, pageLong).grey()
	shotGrey := seen.grey().within(shotLong)
	at, err := page.find(ctx, whole, shot, shotGrey)
	if err != nil {
		return Measurement{}, err
	}
	// From pixels of the analysis to pixels of seen.
	want := lensed(page.Picture, at.long(whole, shotGrey, shot)).within(analysis)
	h := rescaling(shotGrey.width, shotGrey.height, seen.width, seen.height).After(at.h).After(rescaling(want.width, want.height, whole.width, whole.height))
	found := Measurement{Like: at.like, Corners: cornersOf(h, want, seen)}
	if err := stopped(ctx); err != nil {
		return Measurement{}, err
	}
	b := base{kind: ByPaper, camera: faithful}
	edition := aids.Target
	if edition == "" {
		edition = After2014
	}
	if t, ok := findTarget(seen, edition); ok {
		b.kind, b.camera, found.Rest = ByTarget, t.made, t.rest
	} else if gain, ok := cardGain(seen, aids.Card); ok {
		b.kind, b.camera = ByCard, gain
	}
	got := straightened(seen, h, want.width, want.height, b.camera)
	ink := inked(page, want)
	b.paper(&found, got, ink)
	b.compare(&found, want, got, ink)
	if b.kind == ByPaper {
		found.Card = cardIn(seen, h, want.width, want.height, b.field.at(0, 0))
	}
	return found, nil
}

// long is on how many pixels of the photograph the longer side of a page lies, at
// least as many as are compared.
func (p place) long(page, seen grey, shot *image.RGBA) int {
	w, h := float64(page.width), float64(page.height)
	side := func(ax, ay, bx, by float64) float64 {
		return p.h.At(perspective.Point{X: ax, Y: ay}).Distance(p.h.At(perspective.Point{X: bx, Y: by}))
	}
	across, down := (side(0, 0, w, 0)+side(0, h, w, h))/2, (side(0, 0, 0, h)+side(w, 0, w, h))/2
	return max(int(max(across, down)*float64(shot.Rect.Dx())/float64(seen.width)), analysis)
}

// find finds the page by its marks, if it has any, or by what it shows. The map
// goes from pixels of want to pixels of seen, whose sizes page and shot have.
func (page Page) find(ctx context.Context, want grey, shot *image.RGBA, seen grey) (place, error) {
	looks := soughtOf(page, want)
	if page.marks == nil {
		return find(ctx, looks, seen)
	}
	h, err := byMarks(ctx, page, shot)
	if err != nil {
		return place{}, err
	}
	h = rescaling(shot.Rect.Dx(), shot.Rect.Dy(), seen.width, seen.height).After(h).After(rescaling(want.width, want.height, page.Picture.Rect.Dx(), page.Picture.Rect.Dy()))
	// The codes' corners are told nearer than patches without anything in them could.
	_, like := refined(looks, seen, h)
	return place{h, like}, nil
}

func small(img *image.RGBA) bool {
	return img == nil || min(img.Rect.Dx(), img.Rect.Dy()) < 200
}

// rescaling takes pixels of a picture to those of the same picture at another
// size. Sizes are whole pixels, so the two sides need not scale alike.
func rescaling(w, h, toWidth, toHeight int) perspective.Homography {
	return perspective.Homography{{float64(toWidth) / float64(w), 0, 0}, {0, float64(toHeight) / float64(h), 0}, {0, 0, 1}}
}

func (l light) within(long int) light {
	if max(l.width, l.height) <= long {
		return l
	}
	k := float64(long) / float64(max(l.width, l.height))
	return l.resized(max(int(math.Round(float64(l.width)*k)), 1), max(int(math.Round(float64(l.height)*k)), 1))
}

func cornersOf(h perspective.Homography, page, shot light) (q []pages.Point) {
	w, high := float64(page.width), float64(page.height)
	for _, c := range []perspective.Point{{}, {X: w}, {X: w, Y: high}, {Y: high}} {
		p := h.At(c)
		q = append(q, pages.Point{X: p.X / float64(shot.width), Y: p.Y / float64(shot.height)})
	}
	return q
}

// cardGain is a camera that makes the place of a grey card neutral.
func cardGain(shot light, at *pages.Point) (camera, bool) {
	if at == nil {
		return faithful, false
	}
	cx, cy := int(at.X*float64(shot.width)), int(at.Y*float64(shot.height))
	var sum [3]float64
	const radius = 10
	for y := cy - radius; y <= cy+radius; y++ {
		for x := cx - radius; x <= cx+radius; x++ {
			if x < 0 || y < 0 || x >= shot.width || y >= shot.height {
				return faithful, false
			}
			for c, v := range shot.at(x, y) {
				sum[c] += v / ((2*radius + 1) * (2*radius + 1))
			}
		}
	}
	if min(sum[0], sum[1], sum[2]) < 0.01 || max(sum[0], sum[1], sum[2]) > clipping {
		return faithful, false
	}
	made := faithful
	for c := range 3 {
		made.mix[c][c] = sum[1] / sum[c]
	}
	return made, true
}

// clipping is the linear light from which a pixel is taken for pure white: 253 of
// 255.
const clipping = 0.982

// straight is the photograph in the page's frame, as the light was.
type straight struct {
	light
	lost []bool // outside the photograph, or pure white or black there
}

func straightened(shot light, h perspective.Homography, w, height int, c camera) straight {
	s := straight{light{make([]float32, 3*w*height), w, height}, make([]bool, w*height)}
	for y := range height {
		for x := range w {
			i := y*w + x
			var sum [3]float64
			for k := range 4 {
				p := h.At(perspective.Point{X: float64(x) + 0.25 + 0.5*float64(k%2), Y: float64(y) + 0.25 + 0.5*float64(k/2)})
				v, ok := shot.between(p.X, p.Y)
				if most := colour.LightOfStep(max(v[0], v[1], v[2])); !ok || most > clipping || most < 0.0006 {
					s.lost[i] = true
				}
				for n := range sum {
					sum[n] += v[n] / 4
				}
			}
			for n, v := range sum {
				sum[n] = colour.LightOfStep(v)
			}
			for n, v := range c.light(sum) {
				s.pix[3*i+n] = float32(colour.StepOfLight(v))
			}
		}
	}
	return s
}

// between reads steps between pixels.
func (l light) between(x, y float64) (c [3]float64, ok bool) {
	x, y = x-0.5, y-0.5
	if !(x >= 0 && y >= 0 && x < float64(l.width-1) && y < float64(l.height-1)) {
		return c, false
	}
	column, row := int(x), int(y)
	fx, fy := x-float64(column), y-float64(row)
	i := 3 * (row*l.width + column)
	j := i + 3*l.width
	for n := range c {
		top := float64(l.pix[i+n])*(1-fx) + float64(l.pix[i+3+n])*fx
		bottom := float64(l.pix[j+n])*(1-fx) + float64(l.pix[j+3+n])*fx
		c[n] = top*(1-fy) + bottom*fy
	}
	return c, true
}

// inked marks the pixels of the analysis that lie wholly in ink with 1, those
// wholly on bare paper, a little away from any edge, with -1.
func inked(page Page, want light) []int8 {
	const away = 4 // pixels
	marks := make([]int8, want.width*want.height)
	k := float64(want.width) / float64(page.Picture.Rect.Dx())
	for y := range want.height {
		for x := range want.width {
			mark := int8(-1)
			if min(x, y, want.width-1-x, want.height-1-y) < away {
				mark = 0
			}
			for n, r := range slices.Concat(page.Words, page.Printed) {
				left, top, right, bottom := float64(r.Min.X)*k, float64(r.Min.Y)*k, float64(r.Max.X)*k, float64(r.Max.Y)*k
				fx, fy := float64(x)+0.5, float64(y)+0.5
				inside := min(fx-left, fy-top, right-fx, bottom-fy)
				switch {
				case inside > 2 && n >= len(page.Words):
					mark = 1
				case inside > -away && mark != 1:
					mark = 0
				}
			}
			marks[y*want.width+x] = mark
		}
	}
	return marks
}
