package preflight

import (
	"bytes"
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"pairwall/sequence/pages"
)

// picture notes a picture as placed.
func (r *running) picture(s *types.StreamDict) {
	d := s.Dict
	mask := r.flag(d["ImageMask"])
	if mask {
		r.ink(r.s.fill)
	} else {
		r.ink(colours{})
		r.spaces(d["ColorSpace"])
	}
	if r.stream(d["SMask"]) != nil {
		r.facts.Clear, r.plain = true, false
	}
	if d["Mask"] != nil {
		r.plain = false
	}
	at := r.note(int(r.num(d["Width"], 0)), int(r.num(d["Height"], 0)), mask)
	r.last = &placed{s, at, r.s.ctm}
}

// spaces lists a picture's colours.
func (r *running) spaces(o types.Object) {
	for _, c := range r.space(o, 0) {
		r.list(c)
	}
}

// note adds a picture that fills the unit square of the present space.
func (r *running) note(width, height int, mask bool) pages.Rect {
	m := r.s.ctm
	at := r.around(0, 0, 1, 1)
	inch := func(x, y float64) float64 { return math.Hypot(x, y) * r.sheet.unit / 72 }
	wide, high := inch(m[0], m[1]), inch(m[2], m[3])
	if width <= 0 || height <= 0 || !(wide > 0 && high > 0) || len(r.facts.Pictures) >= mostListed {
		return at
	}
	ppi := min(float64(width)/wide, float64(height)/high)
	p := Picture{Page: r.number, Width: width, Height: height, PPI: math.Round(finite(ppi)*10) / 10, At: at, Mask: mask}
	if !r.seen[p] {
		r.seen[p] = true
		r.facts.Pictures = append(r.facts.Pictures, p)
	}
	return at
}

func (r *running) flag(o types.Object) bool {
	b, _ := r.object(o).(types.Boolean)
	return bool(b)
}

// inlineImage reads a picture that stands in the content itself (8.9.7).
func (r *running) inlineImage() {
	var key, space string
	var width, height int
	mask := false
	for {
		t := r.tokens.next()
		switch {
		case t.kind == ended:
			return
		case t.kind == operator && t.word == "ID":
			r.tokens.inline()
			r.plain = false
			if mask {
				r.ink(r.s.fill)
			} else {
				r.ink(r.named(space))
			}
			r.note(width, height, mask)
			return
		case t.kind == operator:
			mask = mask || ((key == "IM" || key == "ImageMask") && t.word == "true")
			key = ""
		case t.kind == number && (key == "W" || key == "Width"):
			width, key = int(finite(t.value)), ""
		case t.kind == number && (key == "H" || key == "Height"):
			height, key = int(finite(t.value)), ""
		case t.kind == name && (key == "CS" || key == "ColorSpace"):
			space, key = t.word, ""
		case t.kind == name:
			key = t.word
		}
	}
}

// single is the picture that is all there is on a page, as a JPEG file: it can
// be shown for the page. Nil when anything else is drawn, when it does not cover
// the trim, or when it is no JPEG as browsers show it.
func (w *walk) single(p Page) []byte {
	if w.drawn != 1 || w.last == nil || !w.plain || p.Turned != 0 {
		return nil
	}
	m, s := w.last.ctm, w.last.image
	trim := p.Media
	if p.Trim != nil {
		trim = *p.Trim
	}
	seen := meeting(w.visible, w.last.at)
	const hair = 0.2                                        // mm
	if !(m[1] == 0 && m[2] == 0 && m[0] > 0 && m[3] > 0) || // lies upright
		seen.X > trim.X+hair || seen.Y > trim.Y+hair || seen.Right() < trim.Right()-hair || seen.Bottom() < trim.Bottom()-hair ||
		!s.HasSoleFilterNamed("DCTDecode") || s.Dict["Decode"] != nil || !bytes.HasPrefix(s.Raw, []byte{0xff, 0xd8}) {
		return nil
	}
	for _, c := range w.aloneSpaces(s) {
		if c.Family != RGB && c.Family != Grey {
			return nil
		}
	}
	return s.Raw
}

func (w *walk) aloneSpaces(s *types.StreamDict) colours {
	r := &running{walk: w}
	return r.space(s.Dict["ColorSpace"], 0)
}
