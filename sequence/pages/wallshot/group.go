package wallshot

import (
	"cmp"
	"math"
	"slices"

	"pairwall/sequence/pages/perspective"
)

// Box is a print as it hangs, in millimetres, y downwards.
type Box struct{ Left, Top, Right, Bottom float64 }

func (b Box) middle() perspective.Point {
	return perspective.Point{X: (b.Left + b.Right) / 2, Y: (b.Top + b.Bottom) / 2}
}

// Rows puts prints into rows from the top, each from the left, and returns their
// indices. Two prints are in one row when one is the other's next neighbour to
// the right among those that share half the height of the lower of them. O(n²).
func Rows(prints []Box) [][]int {
	row := make([]int, len(prints)) // a forest: each points to another of its row, or to itself
	for i := range row {
		row[i] = i
	}
	root := func(i int) int {
		for row[i] != i {
			row[i] = row[row[i]]
			i = row[i]
		}
		return i
	}
	for i, a := range prints {
		next, nearest := -1, math.Inf(1)
		for k, b := range prints {
			shared := min(a.Bottom, b.Bottom) - max(a.Top, b.Top)
			ahead := b.middle().X - a.middle().X
			if k != i && ahead > 0 && ahead < nearest && shared >= 0.5*min(a.Bottom-a.Top, b.Bottom-b.Top) {
				next, nearest = k, ahead
			}
		}
		if next >= 0 {
			row[root(i)] = root(next)
		}
	}
	gathered := make(map[int][]int)
	for i := range prints {
		gathered[root(i)] = append(gathered[root(i)], i)
	}
	height := make(map[int]float64)
	var rows [][]int
	for of, members := range gathered {
		for _, i := range members {
			height[of] += prints[i].middle().Y / float64(len(members))
		}
		slices.SortFunc(members, func(a, b int) int {
			return cmp.Or(cmp.Compare(prints[a].middle().X, prints[b].middle().X), a-b)
		})
		rows = append(rows, members)
	}
	slices.SortFunc(rows, func(a, b []int) int {
		return cmp.Or(cmp.Compare(height[root(a[0])], height[root(b[0])]), a[0]-b[0])
	})
	return rows
}

// Spread is one or two prints of a row that hang closer to each other than to
// the next.
type Spread struct {
	Prints []int // one or two indices, from the left
	Doubt  bool  // it might as well be otherwise
}

// Spreads takes rows apart into spreads by the gaps between neighbours, those of
// the whole wall together. The gaps fall into near and far where that parts them
// best (Otsu, "A Threshold Selection Method from Gray-Level Histograms", IEEE
// Trans. SMC 9(1), 1979, on the gaps themselves); then each row joins neighbours
// so that the gaps joined lie as far below the border between near and far as
// can be in all, each print joined once. When the gaps hardly differ, all is
// doubtful: they are joined in twos from the left where hands could not have
// hung them nearer, and none where there is room. O(n log n).
func Spreads(prints []Box, rows [][]int) [][]Spread {
	var gaps []float64
	for _, row := range rows {
		gaps = append(gaps, gapsOf(prints, row)...)
	}
	border, apart := parted(gaps)
	spreads := make([][]Spread, len(rows))
	for r, row := range rows {
		gaps := gapsOf(prints, row)
		joined := joinedBest(gaps, border)
		doubt := func(i int) bool {
			return apart == 0 || i >= 0 && i < len(gaps) && math.Abs(gaps[i]-border) < apart/6
		}
		for i := 0; i < len(row); i++ {
			s := Spread{Prints: row[i : i+1], Doubt: len(gaps) > 0 && (doubt(i-1) || doubt(i))}
			if i < len(gaps) && joined[i] {
				s.Prints, s.Doubt = row[i:i+2], s.Doubt || doubt(i+1)
				i++
			}
			spreads[r] = append(spreads[r], s)
		}
	}
	return spreads
}

func gapsOf(prints []Box, row []int) []float64 {
	var gaps []float64
	for i := 1; i < len(row); i++ {
		gaps = append(gaps, prints[row[i]].Left-prints[row[i-1]].Right)
	}
	return gaps
}

// parted returns the border between near and far gaps and how far apart the two
// kinds are in the mean; 0 when there is only one kind.
func parted(gaps []float64) (border, apart float64) {
	if len(gaps) == 0 {
		return 0, 0
	}
	sorted := slices.Sorted(slices.Values(gaps))
	most := max(sorted[len(sorted)/2]*1.5, 40) // a hole in a row is no third kind
	total := 0.0
	for i := range sorted {
		sorted[i] = min(sorted[i], most)
		total += sorted[i]
	}
	best, below := 0.0, 0.0
	for i := 0; i+1 < len(sorted); i++ {
		below += sorted[i]
		n, m := float64(i+1), float64(len(sorted)-i-1)
		near, far := below/n, (total-below)/m
		if between := n * m * (far - near) * (far - near); between > best && sorted[i] < sorted[i+1] {
			best, apart, border = between, far-near, (sorted[i]+sorted[i+1])/2
		}
	}
	const hands = 6 // mm: closer kinds of gaps are one kind, hung by hand
	if apart >= hands {
		return border, apart
	}
	const near = 15 // mm, common practice: hung so near, prints belong together
	if total/float64(len(sorted)) <= near {
		return sorted[len(sorted)-1] + 1, 0
	}
	return sorted[0] - 1, 0
}

// joinedBest chooses gaps of which no two follow each other, so that the sum of
// border - gap over them is largest; among equals the leftmost.
func joinedBest(gaps []float64, border float64) []bool {
	best := make([]float64, len(gaps)+2) // from gap i on
	for i := len(gaps) - 1; i >= 0; i-- {
		best[i] = max(best[i+1], border-gaps[i]+best[i+2])
	}
	joined := make([]bool, len(gaps))
	for i := 0; i < len(gaps); i++ {
		if gain := border - gaps[i]; gain > 0 && gain+best[i+2] >= best[i+1]-1e-9 {
			joined[i] = true
			i++
		}
	}
	return joined
}
