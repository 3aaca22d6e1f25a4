package proof

import (
	"context"
	"math"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/pages/perspective"
)

// Sizes at which pictures are looked at: the longer sides in pixels.
const (
	pageLong = 640
	shotLong = 1280
	// enoughLike is the least correlation of a page that was found. Of pages laid
	// on the wrong photograph none of our tests came near it.
	enoughLike  = 0.45
	enoughVotes = 8
)

// sought is the page that is looked for: how light it is, and where there is ink
// as fractions of it.
type sought struct {
	grey
	printed [][4]float64 // left, top, right, bottom
}

func soughtOf(page Page, g grey) sought {
	s := sought{grey: g}
	w, h := float64(page.Picture.Rect.Dx()), float64(page.Picture.Rect.Dy())
	for _, r := range page.Printed {
		s.printed = append(s.printed, [4]float64{float64(r.Min.X) / w, float64(r.Min.Y) / h, float64(r.Max.X) / w, float64(r.Max.Y) / h})
	}
	return s
}

// inkAt marks what lies in ink and away from its edges, at a size.
func (s sought) inkAt(w, h int) []bool {
	marks := make([]bool, w*h)
	away := float64(alikeness) / 2
	for _, r := range s.printed {
		for y := max(int(r[1]*float64(h)+away), 0); y < min(int(r[3]*float64(h)-away), h); y++ {
			for x := max(int(r[0]*float64(w)+away), 0); x < min(int(r[2]*float64(w)-away), w); x++ {
				marks[y*w+x] = true
			}
		}
	}
	return marks
}

// place is where a page lies in a photograph.
type place struct {
	h    perspective.Homography // pixels of the page's grey to pixels of the photograph's
	like float64
}

// find looks for the page in the photograph: by features, then by the edges of
// what lies in it, each aligned densely; the first that is alike enough.
//
// Errors: NotFound; Cancelled.
func find(ctx context.Context, page sought, shot grey) (place, error) {
	best := place{like: -1}
	consider := func(h perspective.Homography) {
		out, like := refined(page, shot, h)
		if like > best.like && sane(out, float64(min(page.width, page.height))) {
			best = place{out, like}
		}
	}
	reach := math.Hypot(float64(page.width), float64(page.height))
	list := pairs(features(page.grey, 900), features(shot, 2200))
	if err := stopped(ctx); err != nil {
		return place{}, err
	}
	if h, votes := agreed(list, reach, 3.5); votes >= enoughVotes {
		consider(h)
	}
	if best.like < enoughLike {
		for _, h := range byEdges(page.grey, shot) {
			if err := stopped(ctx); err != nil {
				return place{}, err
			}
			consider(h)
		}
	}
	if best.like < enoughLike {
		return place{}, &sequence.Error{Code: sequence.NotFound, Message: "The page was not found in this photograph.",
			Hint: "Show the whole page, flat, filling most of the picture and in focus, and see that it is the page you chose."}
	}
	return best, nil
}

func stopped(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return &sequence.Error{Code: sequence.Cancelled, Message: "Measuring was stopped.", Err: err}
	}
	return nil
}

// byEdges proposes the page on the largest thing in the photograph that is
// lighter or darker than what it lies on: its four corners, in the four ways a
// page can be turned.
func byEdges(page, shot grey) []perspective.Homography {
	const long = 320
	small := shot.within(long).smooth(2)
	k := float64(shot.width) / float64(small.width)
	ground, spread := surround(small)
	var proposals []perspective.Homography
	for _, room := range []float64{max(3*spread, 6), max(2*spread, 3)} {
		away := make([]bool, len(small.pix))
		for i, v := range small.pix {
			away[i] = math.Abs(float64(v)-ground) > room
		}
		q, ok := fourCorners(largest(away, small.width, small.height))
		if !ok || q.Area() < 0.05*float64(len(small.pix)) {
			continue
		}
		q = q.Scaled(k)
		w, h := float64(page.width), float64(page.height)
		from := []perspective.Point{{}, {X: w}, {X: w, Y: h}, {Y: h}}
		for turn := range 4 {
			to := []perspective.Point{q[turn], q[(turn+1)%4], q[(turn+2)%4], q[(turn+3)%4]}
			if m, ok := perspective.Fit(from, to, nil); ok {
				proposals = append(proposals, m)
			}
		}
	}
	return proposals
}

// surround is the median lightness along the photograph's edge and its typical
// distance from it.
func surround(g grey) (ground, spread float64) {
	var edge []float64
	for x := range g.width {
		edge = append(edge, float64(g.pix[2*g.width+x]), float64(g.pix[(g.height-3)*g.width+x]))
	}
	for y := range g.height {
		edge = append(edge, float64(g.pix[y*g.width+2]), float64(g.pix[(y+1)*g.width-3]))
	}
	ground = middle(edge)
	for i := range edge {
		edge[i] = math.Abs(edge[i] - ground)
	}
	return ground, 1.4826 * middle(edge)
}

// largest is the largest connected part of what is marked.
func largest(marked []bool, w, h int) []perspective.Point {
	var best, stack []int
	seen := make([]bool, len(marked))
	for start := range marked {
		if !marked[start] || seen[start] {
			continue
		}
		seen[start] = true
		part := []int{start}
		stack = append(stack[:0], start)
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			x, y := i%w, i/w
			for _, n := range [4][2]int{{x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}} {
				if n[0] < 0 || n[1] < 0 || n[0] >= w || n[1] >= h {
					continue
				}
				if j := n[1]*w + n[0]; marked[j] && !seen[j] {
					seen[j] = true
					part, stack = append(part, j), append(stack, j)
				}
			}
		}
		if len(part) > len(best) {
			best = part
		}
	}
	places := make([]perspective.Point, len(best))
	for i, at := range best {
		places[i] = perspective.Point{X: float64(at%w) + 0.5, Y: float64(at/w) + 0.5}
	}
	return places
}

// fourCorners is the quadrilateral of largest area among the corners of the
// places' convex hull, clockwise from the top left.
//
// Complexity: O(n log n) and the fourth power of the hull, which is thinned to
// at most 24 corners.
func fourCorners(places []perspective.Point) (perspective.Quad, bool) {
	hull := convex(places)
	for len(hull) > 24 { // drop what changes the area least
		drop, least := 0, math.Inf(1)
		for i := range hull {
			a, b, c := hull[(i+len(hull)-1)%len(hull)], hull[i], hull[(i+1)%len(hull)]
			if area := math.Abs(b.Minus(a).Cross(c.Minus(a))); area < least {
				drop, least = i, area
			}
		}
		hull = slices.Delete(hull, drop, drop+1)
	}
	var best perspective.Quad
	for a := range hull {
		for b := a + 1; b < len(hull); b++ {
			for c := b + 1; c < len(hull); c++ {
				for d := c + 1; d < len(hull); d++ {
					if q := (perspective.Quad{hull[a], hull[b], hull[c], hull[d]}); q.Area() > best.Area() {
						best = q
					}
				}
			}
		}
	}
	if !(best.Area() > 0) {
		return best, false
	}
	first := 0
	for i, p := range best {
		if p.X+p.Y < best[first].X+best[first].Y {
			first = i
		}
	}
	return perspective.Quad{best[first], best[(first+1)%4], best[(first+2)%4], best[(first+3)%4]}, true
}

// convex is the convex hull, clockwise on the screen (Andrew's monotone chain,
// Inf. Proc. Letters 9(5), 1979).
func convex(places []perspective.Point) []perspective.Point {
	sorted := slices.Clone(places)
	slices.SortFunc(sorted, func(a, b perspective.Point) int {
		if a.X != b.X {
			if a.X < b.X {
				return -1
			}
			return 1
		}
		switch {
		case a.Y < b.Y:
			return -1
		case a.Y > b.Y:
			return 1
		}
		return 0
	})
	half := func(points []perspective.Point) (chain []perspective.Point) {
		for _, p := range points {
			for len(chain) > 1 && chain[len(chain)-1].Minus(chain[len(chain)-2]).Cross(p.Minus(chain[len(chain)-1])) <= 0 {
				chain = chain[:len(chain)-1]
			}
			chain = append(chain, p)
		}
		return chain
	}
	if len(sorted) < 3 {
		return sorted
	}
	top := half(sorted)
	slices.Reverse(sorted)
	bottom := half(sorted)
	return append(top[:len(top)-1], bottom[:len(bottom)-1]...)
}

// middle is the median; it sorts a copy.
func middle(values []float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}
