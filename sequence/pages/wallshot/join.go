package wallshot

import (
	"math"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/pages/perspective"
)

// Sighting is a print as it is seen in one photograph.
type Sighting struct {
	Shot  int `json:"shot"`  // which photograph, from 0
	Index int `json:"index"` // which of its codes
}

// Placed is a print on the wall, told by its code.
type Placed struct {
	Number sequence.PhotoID
	At     perspective.Point // the middle of its code, mm
	Seen   []Sighting        // in one photograph or several
}

// Join brings the codes of several photographs of one wall onto it. Photographs
// that share prints are laid over each other; each that shares none with those
// before begins a part of its own, and parts keep the order of the photographs.
// Within a part places are in millimetres from somewhere. A number that hangs in
// two places of a part is placed twice.
func Join(shots [][]Found) [][]Placed {
	flat := make([][]Placed, len(shots))
	for s, shot := range shots {
		codes := make([]perspective.Quad, len(shot))
		for i, f := range shot {
			codes[i] = f.Corners
		}
		h, ok := levelled(codes)
		if !ok {
			continue
		}
		for i, f := range shot {
			flat[s] = append(flat[s], Placed{f.Number, h.At(f.Corners.Centre()), []Sighting{{s, i}}})
		}
	}
	var parts [][]Placed
	taken := make([]bool, len(shots))
	for first := range flat {
		if taken[first] || len(flat[first]) == 0 {
			continue
		}
		taken[first] = true
		part := laid(nil, flat[first])
		for {
			next, shared := -1, 0
			for s := range flat {
				if n := len(common(part, flat[s])); !taken[s] && n > shared {
					next, shared = s, n
				}
			}
			if next < 0 {
				break
			}
			taken[next] = true
			part = laid(part, moved(flat[next], part))
		}
		parts = append(parts, part)
	}
	return parts
}

// common pairs the places of numbers that both have once only.
func common(a, b []Placed) [][2]perspective.Point {
	once := func(list []Placed) map[sequence.PhotoID]perspective.Point {
		places, count := make(map[sequence.PhotoID]perspective.Point), make(map[sequence.PhotoID]int)
		for _, p := range list {
			places[p.Number] = p.At
			count[p.Number]++
		}
		for number, n := range count {
			if n > 1 {
				delete(places, number)
			}
		}
		return places
	}
	in := once(b)
	var pairs [][2]perspective.Point
	for _, p := range a {
		if at, ok := once(a)[p.Number]; ok && at == p.At {
			if other, ok := in[p.Number]; ok {
				pairs = append(pairs, [2]perspective.Point{at, other})
			}
		}
	}
	return pairs
}

// astray is how far, in mm, a shared print may come to lie from itself: further,
// and it is another print of the same photo.
const astray = 25.0

// moved lays a photograph's prints where those it shares with a part lie: by
// shift, turn and scale, the least squares (Umeyama, "Least-Squares Estimation
// of Transformation Parameters Between Two Point Patterns", IEEE PAMI 13(4),
// 1991; in the plane, without reflection), or by shift alone when one is shared.
func moved(prints, part []Placed) []Placed {
	pairs := common(part, prints)
	for {
		move := similarity(pairs)
		kept := slices.DeleteFunc(slices.Clone(pairs), func(p [2]perspective.Point) bool { return move(p[1]).Distance(p[0]) > astray })
		if len(kept) == len(pairs) || len(kept) < 2 {
			out := slices.Clone(prints)
			for i := range out {
				out[i].At = move(out[i].At)
			}
			return out
		}
		pairs = kept
	}
}

// similarity maps the second points of pairs onto the first.
func similarity(pairs [][2]perspective.Point) func(perspective.Point) perspective.Point {
	var to, from perspective.Point
	for _, p := range pairs {
		to, from = to.Plus(p[0].Times(1/float64(len(pairs)))), from.Plus(p[1].Times(1/float64(len(pairs))))
	}
	var along, aside, size float64
	for _, p := range pairs {
		a, b := p[0].Minus(to), p[1].Minus(from)
		along, aside, size = along+b.Dot(a), aside+b.Cross(a), size+b.Dot(b)
	}
	cos, sin := 1.0, 0.0
	if scale := math.Hypot(along, aside) / size; size > 0 && scale > 0.8 && scale < 1.25 {
		cos, sin = along/size, aside/size
	}
	return func(p perspective.Point) perspective.Point {
		d := p.Minus(from)
		return to.Plus(perspective.Point{X: cos*d.X - sin*d.Y, Y: sin*d.X + cos*d.Y})
	}
}

// laid adds prints to a part; those that lie on one of the same number are that
// one, and lie between.
func laid(part, prints []Placed) []Placed {
	out := slices.Clone(part)
	for _, p := range prints {
		i := slices.IndexFunc(out, func(q Placed) bool { return q.Number == p.Number && q.At.Distance(p.At) < astray })
		if i < 0 {
			out = append(out, p)
			continue
		}
		n := float64(len(out[i].Seen))
		out[i].At = out[i].At.Times(n / (n + 1)).Plus(p.At.Times(1 / (n + 1)))
		out[i].Seen = append(slices.Clone(out[i].Seen), p.Seen...)
	}
	return out
}
