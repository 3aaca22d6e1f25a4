package wallshot

import (
	"cmp"
	"math"
	"slices"

	"pairwall/sequence/pages/perspective"
)

// finder is a place that looks like the mark in three corners of a code: dark,
// light, dark, light, dark in the proportion 1:1:3:1:1 along any line through
// its middle (ISO/IEC 18004, 6.3.3).
type finder struct {
	at     perspective.Point
	module float64 // pixels
	seen   int     // by how many lines
}

// radii of the squares that say what is dark, in pixels of a level. A level is
// good for modules of 2 to 6 pixels: the smaller square keeps off the picture
// above a small code, the larger sees beyond the mark of a large one.
var radii = [...]int{9, 24}

// finders looks for marks in one level. Places are those of the photograph.
func (l level) finders() []finder {
	var all []finder
	for _, radius := range radii {
		marked := l.darker(radius)
		s := scanner{marked, l.width, l.height}
		for y := 1; y < l.height; y += 2 {
			all = append(all, s.row(y)...)
		}
	}
	for i := range all {
		all[i].at = all[i].at.Times(l.scale)
		all[i].module *= l.scale
	}
	return merged(all)
}

// merged makes one of finders that lie on each other, those seen most often
// first.
func merged(all []finder) []finder {
	cells := make(map[[2]int][]int)
	var kept []finder
	for _, f := range all {
		reach := f.module * 1.5
		home := cell(f.at)
		found := -1
		for dx := -1; dx <= 1 && found < 0; dx++ {
			for dy := -1; dy <= 1 && found < 0; dy++ {
				for _, k := range cells[[2]int{home[0] + dx, home[1] + dy}] {
					g := kept[k]
					if f.at.Distance(g.at) < reach && f.module < 1.4*g.module && g.module < 1.4*f.module {
						found = k
						break
					}
				}
			}
		}
		if found < 0 {
			kept = append(kept, f)
			cells[home] = append(cells[home], len(kept)-1)
			continue
		}
		g := &kept[found]
		n, m := float64(g.seen), float64(f.seen)
		g.at = g.at.Times(n / (n + m)).Plus(f.at.Times(m / (n + m)))
		g.module = (g.module*n + f.module*m) / (n + m)
		g.seen += f.seen
	}
	slices.SortStableFunc(kept, func(a, b finder) int { return cmp.Compare(b.seen, a.seen) })
	return kept
}

// cell is the square of a grid in which finders near each other are looked for.
func cell(p perspective.Point) [2]int {
	const size = 64
	return [2]int{int(math.Floor(p.X / size)), int(math.Floor(p.Y / size))}
}

// scanner looks along lines of a marked picture.
type scanner struct {
	marked        []byte
	width, height int
}

// row looks along one row for runs of the right proportion and has them
// confirmed across.
func (s scanner) row(y int) []finder {
	var found []finder
	line := s.marked[y*s.width : (y+1)*s.width]
	var runs [5]int // the last five, the newest last
	start := 0
	for x := 1; x <= len(line); x++ {
		if x < len(line) && line[x] == line[x-1] {
			continue
		}
		copy(runs[:], runs[1:])
		runs[4] = x - start
		start = x
		if line[x-1] == 1 && proportioned(runs) {
			middle := float64(x) - float64(runs[4]+runs[3]) - float64(runs[2])/2
			if f, ok := s.confirm(middle, float64(y)+0.5, total(runs)); ok {
				found = append(found, f)
			}
		}
	}
	return found
}

func total(runs [5]int) int { return runs[0] + runs[1] + runs[2] + runs[3] + runs[4] }

// proportioned reports whether five runs go 1:1:3:1:1. Blur and threshold make
// dark wider or narrower by up to a pixel on each side, in small codes half a
// module: so pairs of a dark and a light run are judged, where that cancels out,
// and single runs only roughly.
func proportioned(runs [5]int) bool {
	whole := total(runs)
	if whole < 9 {
		return false
	}
	module := float64(whole) / 7
	for i, r := range runs {
		want := module
		if i == 2 {
			want = 3 * module
		}
		if math.Abs(float64(r)-want) > 0.75*max(module, 1.4)+0.25*float64(i%2) {
			return false
		}
	}
	left, right := float64(runs[0]+runs[1]), float64(runs[3]+runs[4])
	slack := 0.6*module + 0.5
	return math.Abs(left-2*module) < slack && math.Abs(right-2*module) < slack && math.Abs(left-right) < slack+0.5
}

// confirm looks up and down through a place, then across once more, and along
// both diagonals.
func (s scanner) confirm(x, y float64, whole int) (finder, bool) {
	y, tall, ok := s.along(x, y, 0, 1, whole)
	if !ok {
		return finder{}, false
	}
	x, wide, ok := s.along(x, y, 1, 0, whole)
	if !ok {
		return finder{}, false
	}
	if _, _, ok := s.along(x, y, 1, 1, whole); !ok {
		if _, _, ok := s.along(x, y, 1, -1, whole); !ok {
			return finder{}, false
		}
	}
	return finder{perspective.Point{X: x, Y: y}, float64(tall+wide) / 14, 1}, true
}

// along measures the five runs through a place in one direction, and returns
// where on that line their middle lies (x for a level line, y for others) and
// their length in steps.
func (s scanner) along(x, y float64, dx, dy, whole int) (middle float64, length int, ok bool) {
	cx, cy := int(x), int(y)
	if cx < 0 || cy < 0 || cx >= s.width || cy >= s.height || s.marked[cy*s.width+cx] == 0 {
		return 0, 0, false
	}
	var runs [5]int
	before := s.walk(cx, cy, -dx, -dy, whole)
	after := s.walk(cx, cy, dx, dy, whole)
	if before[2] == 0 || after[2] == 0 {
		return 0, 0, false
	}
	runs = [5]int{before[2], before[1], before[0] + after[0] + 1, after[1], after[2]}
	length = total(runs)
	if !proportioned(runs) || length > 2*whole || whole > 2*length {
		return 0, 0, false
	}
	shift := float64(after[0]-before[0]) / 2
	if dx == 1 && dy == 0 {
		return float64(cx) + 0.5 + shift, length, true
	}
	return float64(cy) + 0.5 + shift*float64(dy), length, true
}

// walk counts the steps from a dark place to the end of its run, of the light
// run behind it and of the dark run behind that; the last is 0 when it did not
// end within reach.
func (s scanner) walk(x, y, dx, dy, reach int) (runs [3]int) {
	want := byte(1)
	for i := range runs {
		for {
			x, y = x+dx, y+dy
			if x < 0 || y < 0 || x >= s.width || y >= s.height {
				if i < 2 {
					runs[2] = 0
				}
				return runs
			}
			if s.marked[y*s.width+x] != want {
				break
			}
			if runs[i]++; runs[i] > reach {
				runs[2] = 0
				return runs
			}
		}
		want ^= 1
		if i < 2 {
			runs[i+1] = 1 // the step that left this run is the next one's first
		}
	}
	return runs
}
