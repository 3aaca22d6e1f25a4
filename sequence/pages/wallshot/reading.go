package wallshot

import (
	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// Group is what hangs as one spread.
type Group struct {
	Prints []Placed // one or two, from the left
	Doubt  bool     // the gaps do not tell clearly who faces whom
}

// Around is the box of a small print around the middle of its code.
func Around(p pages.Print) Box {
	code := p.Code.Centred(pages.Size{})
	return Box{(p.Cut.X - code.X).Mm(), (p.Cut.Y - code.Y).Mm(), (p.Cut.Right() - code.X).Mm(), (p.Cut.Bottom() - code.Y).Mm()}
}

// Read reads the wall off photographs of it: the rows from the top, parts that
// no photograph joins one after the other. box tells how a print lies around the
// middle of its code.
func Read(shots [][]Found, box func(sequence.PhotoID) Box) [][]Group {
	var all [][]Group
	for _, part := range Join(shots) {
		boxes := make([]Box, len(part))
		for i, p := range part {
			b := box(p.Number)
			boxes[i] = Box{b.Left + p.At.X, b.Top + p.At.Y, b.Right + p.At.X, b.Bottom + p.At.Y}
		}
		for _, row := range Spreads(boxes, Rows(boxes)) {
			groups := make([]Group, len(row))
			for i, s := range row {
				groups[i].Doubt = s.Doubt
				for _, k := range s.Prints {
					groups[i].Prints = append(groups[i].Prints, part[k])
				}
			}
			all = append(all, groups)
		}
	}
	return all
}

// Hanging is the wall that was read, as pages. A print alone is the opening page
// where it is the first of all and the closing page where it is the last; of one
// in between nobody can tell which page is blank, so that it lies as on the
// wall that was, and otherwise left. Of a number that hangs twice the first
// counts.
func Hanging(rows [][]Group, was sequence.Sequence) sequence.Hanging {
	h := sequence.Hanging{Spreads: []sequence.Facing{}}
	before := make(map[sequence.PhotoID]sequence.Facing)
	for _, s := range was.Spreads {
		before[s.Left], before[s.Right] = s.Facing(), s.Facing()
	}
	var spreads [][]sequence.PhotoID
	seen := make(map[sequence.PhotoID]bool)
	for _, row := range rows {
		for _, g := range row {
			var photos []sequence.PhotoID
			for _, p := range g.Prints {
				if !seen[p.Number] {
					photos = append(photos, p.Number)
				}
				seen[p.Number] = true
			}
			if len(photos) > 0 {
				spreads = append(spreads, photos)
			}
		}
	}
	for i, photos := range spreads {
		switch f := before[photos[0]]; {
		case len(photos) == 2:
			h.Spreads = append(h.Spreads, sequence.Facing{Left: photos[0], Right: photos[1]})
		case i == 0:
			h.Opening = photos[0]
		case i == len(spreads)-1:
			h.Closing = photos[0]
		case f.Across:
			h.Spreads = append(h.Spreads, f)
		case f.Right == photos[0]:
			h.Spreads = append(h.Spreads, sequence.Facing{Right: photos[0]})
		default:
			h.Spreads = append(h.Spreads, sequence.Facing{Left: photos[0]})
		}
	}
	return h
}
