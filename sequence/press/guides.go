package press

import "pairwall/sequence/pages"

// stroke is one line of a template; on and off are 0 for a whole one.
type stroke struct {
	x1, y1, x2, y2 pages.Length
	on, off        pages.Length
	grey           float64
}

// styleOf is how the lines of a mark are broken: none depends on colour.
func styleOf(m pages.Mark) stroke {
	switch m {
	case pages.BleedMark:
		return stroke{on: 4, off: 1.5}
	case pages.EdgeMark:
		return stroke{on: 8, off: 2}
	case pages.SafeMark:
		return stroke{on: 0.6, off: 1.2, grey: 0.3}
	case pages.FoldMark:
		return stroke{on: 2, off: 1}
	case pages.HingeMark:
		return stroke{on: 1, off: 1, grey: 0.3}
	}
	return stroke{}
}

// strokes are the lines of guides. Panels have none of their own: trim and folds
// bound them.
func strokes(guides []pages.Guide) []stroke {
	var list []stroke
	for _, g := range guides {
		switch g.Mark {
		case pages.BackMark, pages.FrontMark, pages.SpineMark:
			continue
		}
		r := g.At
		sides := [][4]pages.Length{{r.X, r.Y, r.Right(), r.Y}, {r.Right(), r.Y, r.Right(), r.Bottom()}, {r.Right(), r.Bottom(), r.X, r.Bottom()}, {r.X, r.Bottom(), r.X, r.Y}}
		if r.Width == 0 {
			sides = sides[1:2]
		}
		for _, side := range sides {
			s := styleOf(g.Mark)
			s.x1, s.y1, s.x2, s.y2 = side[0], side[1], side[2], side[3]
			list = append(list, s)
		}
	}
	return list
}

const zoneGrey = 0.93

// zones are areas that a template tints.
func zones(guides []pages.Guide) []pages.Rect {
	var list []pages.Rect
	for _, g := range guides {
		switch g.Mark {
		case pages.HingeMark, pages.FreeMark, pages.BarcodeMark:
			list = append(list, g.At)
		}
	}
	return list
}

// label is words on a template, from where their baseline begins.
type label struct {
	Text       string
	Size, X, Y pages.Length
}

// labels name the parts of a template where there is room for it; the legend
// names all.
func labels(guides []pages.Guide, letters Letters) []label {
	var list []label
	said := map[string]bool{}
	for _, g := range guides {
		var size pages.Length
		switch g.Mark {
		case pages.BackMark, pages.FrontMark:
			size = 4.2
		case pages.BarcodeMark:
			size = captionSize
		case pages.TrimMark, pages.EdgeMark, pages.SafeMark: // in their corner
			if !said[g.Name] {
				list = append(list, label{g.Name, captionSize, g.At.X + 1, g.At.Y + 1.2*captionSize})
			}
			said[g.Name] = true
			continue
		default:
			continue
		}
		if wide := letters.Width(g.Name, size); wide < g.At.Width {
			list = append(list, label{g.Name, size, g.At.X + (g.At.Width-wide)/2, g.At.Y + g.At.Height/2})
		}
	}
	return list
}
