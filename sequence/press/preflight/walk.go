package preflight

import (
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"pairwall/sequence/pages"
)

// state is what of the graphics state (ISO 32000-1, 8.4) is followed.
type state struct {
	ctm          [6]float64
	fill, stroke colours
	font         types.Object
}

// colours are what is drawn in: the spaces a paint is made of. More than one for
// a pattern.
type colours []Colour

func unitState() state {
	black := colours{{Family: Grey}}
	return state{ctm: [6]float64{1, 0, 0, 1, 0, 0}, fill: black, stroke: black}
}

// times is the matrix m applied before n.
func times(m, n [6]float64) [6]float64 {
	return [6]float64{m[0]*n[0] + m[1]*n[2], m[0]*n[1] + m[1]*n[3], m[2]*n[0] + m[3]*n[2], m[2]*n[1] + m[3]*n[3],
		m[4]*n[0] + m[5]*n[2] + n[4], m[4]*n[1] + m[5]*n[3] + n[5]}
}

// walk follows what is drawn on one page.
type walk struct {
	*look
	drawn   int        // things that put ink down
	last    *placed    // the picture drawn last
	plain   bool       // nothing clips but upright rectangles
	visible pages.Rect // what no clip has taken yet
}

type placed struct {
	image *types.StreamDict
	at    pages.Rect
	ctm   [6]float64
}

// run follows a content stream.
func (w *walk) run(content []byte, resources types.Dict, s state, depth int) {
	r := &running{walk: w, resources: resources, s: s, depth: depth, tokens: tokens{b: content}}
	nested := 0
	for {
		t := r.tokens.next()
		switch t.kind {
		case ended:
			return
		case opened:
			nested++
		case closed:
			nested = max(nested-1, 0)
		case number, name:
			if nested == 0 {
				r.operand(t)
			}
		case operator:
			if w.steps++; w.steps > mostSteps || w.steps%4096 == 0 && w.ctx.Err() != nil {
				w.unread("There is more drawn in this file than is looked at.")
				w.plain = false
				return
			}
			nested = 0
			r.do(t.word)
			r.numbers, r.word = r.numbers[:0], ""
		}
	}
}

// running is one content stream being followed.
type running struct {
	*walk
	tokens    tokens
	resources types.Dict
	s         state
	saved     []state
	depth     int
	numbers   []float64
	word      string // the last name
	path      int    // parts of the path
	box       *pages.Rect
	clipping  bool
}

const mostOperands = 64

func (r *running) operand(t token) {
	if t.kind == name {
		r.word = t.word
	} else if len(r.numbers) < mostOperands {
		r.numbers = append(r.numbers, t.value)
	}
}

// do does what an operator says (annex A).
func (r *running) do(op string) {
	switch op {
	case "q":
		if len(r.saved) < 500 {
			r.saved = append(r.saved, r.s)
		}
	case "Q":
		if n := len(r.saved); n > 0 {
			r.s, r.saved = r.saved[n-1], r.saved[:n-1]
		}
	case "cm":
		if len(r.numbers) == 6 {
			r.s.ctm = times([6]float64(r.numbers), r.s.ctm)
		}
	case "gs":
		r.external()
	case "Do":
		r.xobject()
	case "BI":
		r.inlineImage()
	case "sh":
		r.shade()
	default:
		if !r.colour(op) && !r.letter(op) {
			r.trace(op)
		}
	}
}

// trace follows paths: what they clip and what they paint.
func (r *running) trace(op string) {
	switch op {
	case "re":
		r.path++
		r.box = nil
		if len(r.numbers) == 4 && r.s.ctm[1] == 0 && r.s.ctm[2] == 0 {
			n := r.numbers
			at := r.around(n[0], n[1], n[0]+n[2], n[1]+n[3])
			r.box = &at
		}
	case "m", "l", "c", "v", "y":
		r.path += 2
	case "W", "W*":
		r.clipping = true
	case "n":
		r.end()
	case "f", "F", "f*":
		r.ink(r.s.fill)
		r.end()
	case "S", "s":
		r.ink(r.s.stroke)
		r.end()
	case "B", "B*", "b", "b*":
		r.ink(r.s.fill)
		r.ink(r.s.stroke)
		r.end()
	}
}

// end ends a path, and clips with it when that was asked for.
func (r *running) end() {
	if r.clipping {
		if r.path == 1 && r.box != nil {
			r.visible = meeting(r.visible, *r.box)
		} else {
			r.plain = false
		}
	}
	r.path, r.box, r.clipping = 0, nil, false
}

func meeting(a, b pages.Rect) pages.Rect {
	x, y := max(a.X, b.X), max(a.Y, b.Y)
	return pages.Rect{X: x, Y: y, Size: pages.Size{Width: max(0, min(a.Right(), b.Right())-x), Height: max(0, min(a.Bottom(), b.Bottom())-y)}}
}

// around is the least upright rectangle around a rectangle of the present space.
func (r *running) around(x1, y1, x2, y2 float64) pages.Rect {
	m := r.s.ctm
	var xs, ys [4]float64
	for i, p := range [4][2]float64{{x1, y1}, {x2, y1}, {x1, y2}, {x2, y2}} {
		xs[i] = finite(m[0]*p[0] + m[2]*p[1] + m[4])
		ys[i] = finite(m[1]*p[0] + m[3]*p[1] + m[5])
	}
	return r.sheet.rect(min(xs[0], xs[1], xs[2], xs[3]), min(ys[0], ys[1], ys[2], ys[3]),
		max(xs[0], xs[1], xs[2], xs[3]), max(ys[0], ys[1], ys[2], ys[3]))
}

// finite keeps lengths within what JSON can say.
func finite(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return max(-1e9, min(v, 1e9))
}

// ink notes that something is drawn in those colours.
func (w *walk) ink(in colours) {
	w.drawn++
	for _, c := range in {
		w.list(c)
	}
}

func (l *look) list(c Colour) {
	if !l.seen[c] && len(l.facts.Colours) < mostListed {
		l.seen[c] = true
		l.facts.Colours = append(l.facts.Colours, c)
	}
}

// entry is a thing of a kind that the resources name.
func (r *running) entry(kind, name string) types.Object {
	return r.dict(r.resources[kind])[name]
}

// letter follows text; it reports whether op was about text.
func (r *running) letter(op string) bool {
	switch op {
	case "Tf":
		r.s.font = r.entry("Font", r.word)
	case "Tj", "TJ", "'", `"`:
		r.ink(r.s.fill)
		r.write()
	default:
		return false
	}
	return true
}

func (r *running) write() {
	d := r.dict(r.s.font)
	if d == nil || len(r.facts.Fonts) >= mostListed {
		return
	}
	f := Font{Name: r.name(d["BaseFont"])}
	of := d
	switch r.name(d["Subtype"]) {
	case "Type3": // its letters are drawn in the file itself
		f.Embedded = true
	case "Type0":
		if list := r.array(d["DescendantFonts"]); len(list) > 0 {
			of = r.dict(list[0])
		}
	}
	descriptor := r.dict(of["FontDescriptor"])
	for _, file := range []string{"FontFile", "FontFile2", "FontFile3"} {
		f.Embedded = f.Embedded || r.stream(descriptor[file]) != nil
	}
	if !r.seen[f] {
		r.seen[f] = true
		r.facts.Fonts = append(r.facts.Fonts, f)
	}
}

// external takes an extended graphics state (8.4.5).
func (r *running) external() {
	d := r.dict(r.entry("ExtGState", r.word))
	if font := r.array(d["Font"]); len(font) == 2 {
		r.s.font = font[0]
	}
	mode := r.name(d["BM"])
	if modes := r.array(d["BM"]); len(modes) > 0 {
		mode = r.name(modes[0])
	}
	mask := r.dict(d["SMask"])
	if r.num(d["ca"], 1) < 1 || r.num(d["CA"], 1) < 1 || mask != nil || (mode != "" && mode != "Normal" && mode != "Compatible") {
		r.facts.Clear, r.plain = true, false
	}
	if group := r.stream(mask["G"]); group != nil {
		r.form(group)
	}
}

// xobject draws a picture or a form.
func (r *running) xobject() {
	s := r.stream(r.entry("XObject", r.word))
	if s == nil {
		return
	}
	switch r.name(s.Dict["Subtype"]) {
	case "Image":
		r.picture(s)
	case "Form":
		r.form(s)
	}
}

// form follows a form (8.10) in a space of its own.
func (r *running) form(s *types.StreamDict) {
	if r.depth >= mostDepth {
		r.unread("There are more drawings in drawings than is looked at.")
		r.plain = false
		return
	}
	if r.steps += 100; r.steps > mostSteps { // unpacking counts too
		return
	}
	content := r.decoded(s)
	resources := r.dict(s.Dict["Resources"])
	if resources == nil {
		resources = r.resources
	}
	inner := r.s
	if m := r.array(s.Dict["Matrix"]); len(m) == 6 {
		var matrix [6]float64
		for i := range matrix {
			matrix[i] = r.num(m[i], 0)
		}
		inner.ctm = times(matrix, inner.ctm)
	}
	r.run(content, resources, inner, r.depth+1)
}
