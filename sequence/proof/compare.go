package proof

import (
	"math"
	"slices"

	"pairwall/sequence/colour"
)

// base is what light and camera are taken out by.
type base struct {
	kind   Base
	camera camera
	field  field
	even   bool // no field: the light could not be told
}

// paper fits the light to the page's bare paper and tells the paper's own tint
// where something neutral was in the shot.
func (b *base) paper(found *Measurement, got straight, ink []int8) {
	const side = 8
	var list []bare
	clipped, all := 0, 0
	for y := 0; y+side <= got.height; y += side / 2 {
		for x := 0; x+side <= got.width; x += side / 2 {
			p, lost, ok := b.piece(got, ink, x, y, side)
			if !ok {
				continue
			}
			all++
			if lost {
				clipped++
				continue
			}
			list = append(list, p)
		}
	}
	var ok bool
	if b.field, ok = fieldOf(list); !ok || clipped > all/3 {
		b.even = true
		if b.kind == ByPaper || b.kind == ByCard {
			b.kind = None
		}
		found.Base = b.kind
		return
	}
	found.Base, found.Bare = b.kind, len(list)
	least, most := math.Inf(1), 0.0
	for _, u := range []float64{-1, 0, 1} {
		for _, v := range []float64{-1, 0, 1} {
			l := b.field.at(u, v)[1]
			least, most = min(least, l), max(most, l)
		}
	}
	found.Uneven = 1 - least/most
	if b.kind == ByTarget || b.kind == ByCard {
		found.Paper = b.tint(found.Rest)
	}
}

// piece is the mean of a square that is bare paper throughout.
func (b *base) piece(got straight, ink []int8, x, y, side int) (p bare, lost, ok bool) {
	gone := 0
	for dy := range side {
		for dx := range side {
			i := (y+dy)*got.width + x + dx
			if ink[i] != -1 {
				return p, false, false
			}
			if got.lost[i] {
				gone++
			}
			for c, v := range got.at(x+dx, y+dy) {
				p.light[c] += v / float64(side*side)
			}
		}
	}
	p.u, p.v = (float64(x)+float64(side)/2)/float64(got.width)*2-1, (float64(y)+float64(side)/2)/float64(got.height)*2-1
	return p, gone > side*side/10 || min(p.light[0], p.light[1], p.light[2]) < 0.01, true
}

// tint is the colour of the paper beside a neutral one; how light it is cannot be
// told, because nobody knows that the light fell on it as on the target.
func (b *base) tint(rest float64) *Tones {
	l := b.field.at(0, 0)
	y := luminance(l)
	const sends = 0.86 // what uncoated and coated white papers send back, L* 94 (common practice)
	for i := range l {
		l[i] *= sends / y
	}
	grey := colour.D50FromLinear([3]float64{sends, sends, sends})
	shift := colour.D50FromLinear(l).Minus(grey)
	z := Tones{Name: PaperZone, Share: 1, Wanted: grey, Shift: colour.LabD50{A: shift.A, B: shift.B}, DeltaE: grey.DeltaE00(grey.Plus(shift)),
		Unsure: Unsure{L: math.Inf(1), AB: 0.3 + rest/4}}
	if b.kind == ByCard {
		z.Unsure.AB = 1 // cards differ from neutral by about that (common practice)
	}
	z.judge()
	z.Unsure.L, z.Light = 0, CannotTell
	return &z
}

// measured is one patch: what it should be, what it is, how much it counts.
type measured struct {
	x, y          int
	wanted, shift colour.LabD50
	weight        float64
	unsure        float64 // of the logarithm of the light there
}

func (b *base) compare(found *Measurement, want light, got straight, ink []int8) {
	var list []measured
	lost, all := 0, 0
	for y := 0; y+patch <= want.height; y += patch {
		for x := 0; x+patch <= want.width; x += patch {
			m, gone, ok := b.patch(want, got, ink, x, y)
			if !ok {
				continue
			}
			all++
			if gone {
				lost++
				continue
			}
			list = append(list, m)
		}
	}
	if all > 0 {
		found.Clipped = float64(lost) / float64(all)
	}
	zones := []struct {
		name string
		in   func(colour.LabD50) bool
	}{
		{Whole, func(colour.LabD50) bool { return true }},
		{Lights, func(c colour.LabD50) bool { return c.L >= 200./3 }},
		{Midtones, func(c colour.LabD50) bool { return c.L >= 100./3 && c.L < 200./3 }},
		{Shadows, func(c colour.LabD50) bool { return c.L < 100./3 }},
		{Neutrals, func(c colour.LabD50) bool { return c.Chroma() < nearNeutral }},
	}
	for _, z := range zones {
		var part []measured
		for _, m := range list {
			if z.in(m.wanted) {
				part = append(part, m)
			}
		}
		found.Zones = append(found.Zones, b.zone(z.name, part, len(list), found.Rest))
	}
	found.Map = mapOf(list, want.width, want.height)
}

// nearBlack is the linear light beside paper below which a channel is mostly what
// noise cut off at zero leaves, and one step of a file is half a unit of b*: a
// dozen steps of 255. Patches there hardly count.
const nearBlack = 0.004

// patch compares one patch; ok is false where there is no ink.
func (b *base) patch(want light, got straight, ink []int8, x, y int) (m measured, lost, ok bool) {
	const n = patch * patch
	u, v := (float64(x)+patch/2)/float64(want.width)*2-1, (float64(y)+patch/2)/float64(want.height)*2-1
	paper := [3]float64{1, 1, 1}
	if !b.even {
		paper = b.field.at(u, v)
		m.unsure = b.field.unsure(u, v)
	}
	gone := 0
	var mean, shown colour.LabD50
	squares, told := 0.0, 0.0 // of L*; how much of it lies above the first steps of a file
	for dy := range patch {
		for dx := range patch {
			i := (y+dy)*want.width + x + dx
			if ink[i] != 1 {
				return m, false, false
			}
			if got.lost[i] {
				gone++
			}
			g := got.at(x+dx, y+dy)
			for c := range g {
				g[c] /= paper[c]
			}
			told += min(max(min(g[0], g[1], g[2])/nearBlack, 0), 1) / n
			w := colour.D50FromLinear(want.at(x+dx, y+dy))
			shown = shown.Plus(colour.D50FromLinear(g))
			mean, squares = mean.Plus(w), squares+w.L*w.L
		}
	}
	mean, shown = times(mean, 1./n), times(shown, 1./n)
	rough := max(squares/n-mean.L*mean.L, 0)
	m.x, m.y, m.weight = x, y, max(told, 0.02)/(1+rough/25) // on busy ground a pixel askew makes another colour
	m.wanted, m.shift = mean, shown.Minus(mean)
	return m, gone > n/8, true
}

func times(c colour.LabD50, k float64) colour.LabD50 {
	return colour.LabD50{L: c.L * k, A: c.A * k, B: c.B * k}
}

// zone is the mean of a zone's patches by the area each colour has in it.
func (b *base) zone(name string, part []measured, of int, rest float64) Tones {
	z := Tones{Name: name, Light: CannotTell, Colour: CannotTell}
	if len(part) < 6 {
		return z
	}
	z.Share = float64(len(part)) / float64(of)
	var spread colour.LabD50
	z.Shift, spread = byColour(part)
	unsure := 0.0
	for _, m := range part {
		z.Wanted = z.Wanted.Plus(times(m.wanted, 1/float64(len(part))))
		unsure += m.unsure / float64(len(part))
	}
	z.DeltaE = z.Wanted.DeltaE00(z.Wanted.Plus(z.Shift))
	root := (z.Wanted.L + 16) / 3 // dL* of one unit of the logarithm of light
	// 0.2 and 0.3 are what JPEG rounds even grounds to; of strong colours noise and
	// thinned-out colour channels take some hundredths (both seen in our own tests).
	z.Unsure = Unsure{
		L:  math.Sqrt(sq(spread.L) + sq(unsure*root) + sq(0.2) + sq(rest/6)),
		AB: math.Sqrt(sq(max(spread.A, spread.B)) + sq(0.3) + sq(0.015*z.Wanted.Chroma()) + sq(rest/6)),
	}
	if b.kind == None {
		return z
	}
	z.judge()
	return z
}

func sq(v float64) float64 { return v * v }

// oneColour is how far apart on L*, a* and b* colours may lie for one mean.
const oneColour = 20.0

// byColour is the mean shift with its standard deviation. Inks shift strong
// colours otherwise than greys, and some colours less than wanted because there
// is nothing beyond them: so it is colours that lie near each other of which
// those far off count less, and every colour counts by its area.
func byColour(part []measured) (mean, unsure colour.LabD50) {
	cell := func(m measured) [3]int {
		return [3]int{int(math.Floor(m.wanted.L / oneColour)), int(math.Round(m.wanted.A / oneColour)), int(math.Round(m.wanted.B / oneColour))}
	}
	sorted := slices.Clone(part)
	slices.SortStableFunc(sorted, func(a, b measured) int {
		ka, kb := cell(a), cell(b)
		return slices.Compare(ka[:], kb[:])
	})
	all := float64(len(part))
	var within colour.LabD50 // mean variance around the means of the cells
	fewer := 0.0             // what it is divided by for the mean of them all
	for len(sorted) > 0 {
		n := 1
		for n < len(sorted) && cell(sorted[n]) == cell(sorted[0]) {
			n++
		}
		share := float64(n) / all
		m, spread, counting := robust(sorted[:n])
		mean = mean.Plus(times(m, share))
		within = within.Plus(colour.LabD50{L: share * sq(spread.L), A: share * sq(spread.A), B: share * sq(spread.B)})
		// Patches beside each other err together: one in eight counts for itself.
		fewer += sq(share) / max(counting/8, 1)
		sorted = sorted[n:]
	}
	return mean, colour.LabD50{L: math.Sqrt(within.L * fewer), A: math.Sqrt(within.A * fewer), B: math.Sqrt(within.B * fewer)}
}

// robust is the weighted mean of shifts with the spread around it, and for how
// many patches of full weight it stands.
func robust(part []measured) (mean, spread colour.LabD50, counting float64) {
	weights := make([]float64, len(part))
	for i, m := range part {
		weights[i] = m.weight
	}
	for range 5 {
		var sum, squares colour.LabD50
		total, square := 0.0, 0.0
		for i, m := range part {
			w := weights[i]
			total, square = total+w, square+w*w
			sum = colour.LabD50{L: sum.L + w*m.shift.L, A: sum.A + w*m.shift.A, B: sum.B + w*m.shift.B}
		}
		mean = colour.LabD50{L: sum.L / total, A: sum.A / total, B: sum.B / total}
		for i, m := range part {
			d := m.shift.Minus(mean)
			w := weights[i]
			squares = colour.LabD50{L: squares.L + w*d.L*d.L, A: squares.A + w*d.A*d.A, B: squares.B + w*d.B*d.B}
		}
		spread = colour.LabD50{L: math.Sqrt(squares.L / total), A: math.Sqrt(squares.A / total), B: math.Sqrt(squares.B / total)}
		counting = total * total / square
		for i, m := range part {
			d := m.shift.Minus(mean)
			far := sq(d.L/(2*spread.L+0.3)) + sq(d.A/(2*spread.A+0.3)) + sq(d.B/(2*spread.B+0.3))
			weights[i] = m.weight / (1 + far)
		}
	}
	return mean, spread, counting
}

// Below these a shift is not told: about what a trained eye sees beside each
// other (ΔE00 of 1), and never less than twice and a half what is unsure.
const (
	leastShift = 1.0
	sureness   = 2.5
)

func (z *Tones) judge() {
	z.Light = told(math.Abs(z.Shift.L), z.Unsure.L)
	z.Colour = told(z.Shift.Chroma(), z.Unsure.AB)
}

func told(size, unsure float64) Told {
	switch {
	case size > max(leastShift, sureness*unsure):
		return Shifted
	case size+sureness*unsure < 2*leastShift:
		return Clean
	}
	return CannotTell
}

// mapOf gathers patches into fields of the page.
func mapOf(list []measured, w, h int) Map {
	const long = 12
	m := Map{Columns: long, Rows: max(int(math.Round(long*float64(h)/float64(w))), 1)}
	if h > w {
		m.Rows, m.Columns = long, max(int(math.Round(long*float64(w)/float64(h))), 1)
	}
	parts := make([][]measured, m.Columns*m.Rows)
	for _, p := range list {
		i := (p.y+patch/2)*m.Rows/h*m.Columns + (p.x+patch/2)*m.Columns/w
		parts[i] = append(parts[i], p)
	}
	m.Cells = make([]Cell, len(parts))
	for i, part := range parts {
		if len(part) < 3 {
			continue
		}
		mean, _, _ := robust(part)
		var wanted colour.LabD50
		for _, p := range part {
			n := float64(len(part))
			wanted = wanted.Plus(colour.LabD50{L: p.wanted.L / n, A: p.wanted.A / n, B: p.wanted.B / n})
		}
		m.Cells[i] = Cell{mean, wanted.DeltaE00(wanted.Plus(mean)), len(part)}
	}
	return m
}
