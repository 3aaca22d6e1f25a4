package proof

import (
	"cmp"
	"math"
	"slices"

	"pairwall/sequence/pages/perspective"
)

// pair is a feature of the page and the one like it in the photograph.
type pair struct {
	page, shot  perspective.Point
	grow, turn  float64 // what takes the one onto the other
	unlikelness float64
}

// pairs joins each feature of the page with the nearest of the photograph, where
// no other place there is nearly as near (Lowe 2004, section 7.1).
//
// Complexity: O(n·m).
func pairs(page, shot []feature) []pair {
	const clear = 0.9
	var list []pair
	for i := range page {
		p := &page[i]
		best, second, at := float32(math.Inf(1)), float32(math.Inf(1)), -1
		for j := range shot {
			d := apart(&p.sign, &shot[j].sign, second)
			if d >= second {
				continue
			}
			near := at >= 0 && math.Hypot(shot[j].x-shot[at].x, shot[j].y-shot[at].y) < 6*shot[j].scale
			switch {
			case d < best && near:
				best, at = d, j
			case d < best:
				best, second, at = d, best, j
			case !near:
				second = d
			}
		}
		if at >= 0 && best < clear*clear*second {
			q := shot[at]
			list = append(list, pair{perspective.Point{X: p.x, Y: p.y}, perspective.Point{X: q.x, Y: q.y}, q.scale / p.scale, q.angle - p.angle, float64(best / second)})
		}
	}
	return list
}

// apart is the squared distance of two signs, given up beyond enough.
func apart(a, b *[128]float32, enough float32) float32 {
	sum := float32(0)
	for k := 0; k < 128; k += 16 {
		for i := k; i < k+16; i++ {
			d := a[i] - b[i]
			sum += d * d
		}
		if sum > enough {
			return sum
		}
	}
	return sum
}

// agreed is the map from page to photograph that most pairs agree on. Every
// pair alone proposes a similarity, so nothing is left to chance (after Lowe
// 2004, section 7.3); the best proposals are bent into a homography while those
// that lie off are dropped. votes is how many pairs lie within tolerance of it.
//
// Complexity: O(n²).
func agreed(list []pair, reach, tolerance float64) (best perspective.Homography, votes int) {
	type proposal struct {
		from  int
		votes int
	}
	proposals := make([]proposal, len(list))
	for i, p := range list {
		proposals[i].from = i
		for _, q := range list {
			if p.similarity(q.page).Distance(q.shot) < 0.12*reach*p.grow && math.Abs(math.Log(q.grow/p.grow)) < 0.6 {
				proposals[i].votes++
			}
		}
	}
	slices.SortStableFunc(proposals, func(a, b proposal) int { return cmp.Compare(b.votes, a.votes) })
	for _, start := range proposals[:min(len(proposals), 12)] {
		if h, n := bent(list, list[start.from], reach, tolerance); n > votes {
			best, votes = h, n
		}
	}
	return best, votes
}

func (p pair) similarity(at perspective.Point) perspective.Point {
	sin, cos := math.Sincos(p.turn)
	d := at.Minus(p.page).Times(p.grow)
	return p.shot.Plus(perspective.Point{X: d.X*cos - d.Y*sin, Y: d.X*sin + d.Y*cos})
}

// bent fits homographies to fewer and fewer pairs, nearer and nearer.
func bent(list []pair, start pair, reach, tolerance float64) (h perspective.Homography, votes int) {
	predict, fitted := start.similarity, false
	for room := 0.12 * reach * start.grow; ; room = max(room*0.6, tolerance) {
		var from, to []perspective.Point
		var weights []float64
		for _, p := range list {
			if d := predict(p.page).Distance(p.shot); d < room {
				from, to = append(from, p.page), append(to, p.shot)
				weights = append(weights, 1/(1+d*d/(tolerance*tolerance)))
			}
		}
		if len(from) < 6 {
			return h, 0
		}
		if fitted && room == tolerance {
			return h, distinct(to, tolerance)
		}
		next, ok := perspective.Fit(from, to, weights)
		if !ok || !sane(next, reach) {
			return h, 0
		}
		h, predict, fitted = next, next.At, true
	}
}

// distinct counts places that are not the same within a distance.
func distinct(places []perspective.Point, room float64) int {
	n := 0
	for i, p := range places {
		if !slices.ContainsFunc(places[:i], func(q perspective.Point) bool { return p.Distance(q) < room }) {
			n++
		}
	}
	return n
}

// sane tells whether a square as large as the page is still one: not folded, not
// mirrored, not seen from its edge.
func sane(h perspective.Homography, reach float64) bool {
	q := perspective.Quad{h.At(perspective.Point{}), h.At(perspective.Point{X: reach}), h.At(perspective.Point{X: reach, Y: reach}), h.At(perspective.Point{Y: reach})}
	longest, shortest := 0.0, math.Inf(1)
	for i := range q {
		side, next := q[(i+1)%4].Minus(q[i]), q[(i+2)%4].Minus(q[(i+1)%4])
		if side.Cross(next) <= 0 {
			return false
		}
		longest, shortest = max(longest, side.Length()), min(shortest, side.Length())
	}
	return longest < 5*shortest
}
