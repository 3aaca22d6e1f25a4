package proof

import (
	"cmp"
	"math"
	"slices"

	"pairwall/sequence/colour"
	"pairwall/sequence/pages/perspective"
)

// target is the 24-patch target as it lies in a photograph.
type target struct {
	h    perspective.Homography // patch middles (column, row) to pixels
	seen [24][3]float64         // linear light
	made camera
	rest float64 // mean ΔE00 of its patches after calibration
}

// Limits of what is taken for the target.
const (
	targetLong   = 800     // the photograph's longer side while looking for it
	mostPatch    = 1. / 40 // of the photograph
	mostTargetΔE = 6.0
	leastPatches = 15
)

// blob is a flat piece of the photograph that may be a patch.
type blob struct {
	middle perspective.Point
	area   float64
	like   float64 // how like a parallelogram, 1: one
}

// findTarget looks for the 24-patch target: flat parallelograms of one size in
// a lattice, whose colours one camera can have made of the published ones.
//
// Complexity: O(b²) in flat pieces.
func findTarget(shot light, edition Edition) (best target, ok bool) {
	small := shot
	k := 1.0
	if long := max(shot.width, shot.height); long > targetLong {
		k = float64(long) / targetLong
		small = shot.resized(int(float64(shot.width)/k), int(float64(shot.height)/k))
	}
	blobs := flatBlobs(small, mostPatch)
	for seed := range blobs {
		lattice := grown(blobs, seed)
		if len(lattice) < leastPatches {
			continue
		}
		for _, h := range placements(lattice) {
			t, fine := read(small, h, edition)
			if fine && (!ok || t.rest < best.rest) {
				best, ok = t, true
			}
		}
		if ok {
			break
		}
	}
	best.h = perspective.Homography{{k, 0, 0}, {0, k, 0}, {0, 0, 1}}.After(best.h)
	return best, ok
}

// flatBlobs are connected flat pieces that are about parallelograms: of those
// the area is twelve times the root of the determinant of the covariance. None
// is larger than most of the picture.
func flatBlobs(l light, most float64) []blob {
	w, h := l.width, l.height
	channels := [3]grey{}
	for c := range 3 {
		g := grey{make([]float32, w*h), w, h}
		for i := range g.pix {
			g.pix[i] = l.pix[3*i+c]
		}
		channels[c] = g.smooth(2)
	}
	flat := make([]bool, w*h)
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			i := y*w + x
			steep := float32(0)
			for _, g := range channels {
				dx, dy := g.pix[i+1]-g.pix[i-1], g.pix[i+w]-g.pix[i-w]
				steep = max(steep, dx*dx+dy*dy)
			}
			flat[i] = steep < 0.02*0.02
		}
	}
	var blobs []blob
	seen := make([]bool, w*h)
	var stack []int
	for start := range flat {
		if !flat[start] || seen[start] {
			continue
		}
		var n, sx, sy, sxx, syy, sxy float64
		seen[start] = true
		stack = append(stack[:0], start)
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			x, y := float64(i%w), float64(i/w)
			n, sx, sy, sxx, syy, sxy = n+1, sx+x, sy+y, sxx+x*x, syy+y*y, sxy+x*y
			for _, j := range [4]int{i - 1, i + 1, i - w, i + w} { // the edge is never flat
				if flat[j] && !seen[j] {
					seen[j] = true
					stack = append(stack, j)
				}
			}
		}
		if n < 25 || n > most*float64(w*h) {
			continue
		}
		mx, my := sx/n, sy/n
		vx, vy, vxy := sxx/n-mx*mx+1./12, syy/n-my*my+1./12, sxy/n-mx*my
		if like := n / (12 * math.Sqrt(max(vx*vy-vxy*vxy, 1e-9))); like > 0.85 && like < 1.1 && max(vx, vy) < 5*min(vx, vy) {
			blobs = append(blobs, blob{perspective.Point{X: mx + 0.5, Y: my + 0.5}, n, like})
		}
	}
	slices.SortFunc(blobs, func(a, b blob) int { return cmp.Compare(b.area, a.area) })
	return blobs[:min(len(blobs), 300)]
}

// grown joins blobs to a lattice, beginning with one and its two nearest
// neighbours to the right and below as the lattice runs, each next one sought
// where its neighbours say.
func grown(blobs []blob, seed int) map[[2]int]perspective.Point {
	from := blobs[seed]
	near := slices.Clone(blobs)
	near = slices.DeleteFunc(near, func(b blob) bool { return b.area < 0.4*from.area || b.area > 2.5*from.area || b == from })
	slices.SortStableFunc(near, func(a, b blob) int {
		return cmp.Compare(a.middle.Distance(from.middle), b.middle.Distance(from.middle))
	})
	for i := range min(len(near), 4) {
		for j := range min(len(near), 4) {
			u, v := near[i].middle.Minus(from.middle), near[j].middle.Minus(from.middle)
			long, short := max(u.Length(), v.Length()), min(u.Length(), v.Length())
			if u.Cross(v) < 0.8*long*short || long > 1.4*short || long > 3*math.Sqrt(from.area) {
				continue
			}
			lattice := map[[2]int]perspective.Point{{0, 0}: from.middle}
			spread(lattice, near, [2]int{0, 0}, u, v)
			if len(lattice) >= leastPatches {
				return lattice
			}
		}
	}
	return nil
}

func spread(lattice map[[2]int]perspective.Point, blobs []blob, at [2]int, u, v perspective.Point) {
	type step struct {
		at   [2]int
		u, v perspective.Point
	}
	queue := []step{{at, u, v}}
	for len(queue) > 0 && len(lattice) < 40 {
		s := queue[0]
		queue = queue[1:]
		here := lattice[s.at]
		for _, d := range [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
			next := [2]int{s.at[0] + d[0], s.at[1] + d[1]}
			if _, known := lattice[next]; known {
				continue
			}
			along := s.u.Times(float64(d[0])).Plus(s.v.Times(float64(d[1])))
			for _, b := range blobs {
				if gone := b.middle.Minus(here.Plus(along)); gone.Length() < 0.22*along.Length() {
					lattice[next] = b.middle
					moved := b.middle.Minus(here)
					nu, nv := s.u, s.v
					if d[0] != 0 {
						nu = moved.Times(float64(d[0]))
					} else {
						nv = moved.Times(float64(d[1]))
					}
					queue = append(queue, step{next, nu, nv})
					break
				}
			}
		}
	}
}

// placements are the ways six columns and four rows of the target can lie on a
// lattice.
func placements(lattice map[[2]int]perspective.Point) []perspective.Homography {
	x0, y0, x1, y1 := 99, 99, -99, -99
	for at := range lattice {
		x0, y0, x1, y1 = min(x0, at[0]), min(y0, at[1]), max(x1, at[0]), max(y1, at[1])
	}
	var ways []perspective.Homography
	for turn := range 4 {
		wide, high := 6, 4
		if turn%2 == 1 {
			wide, high = 4, 6
		}
		for top := y1 - high + 1; top <= y0 || top == y1-high+1; top++ {
			for left := x1 - wide + 1; left <= x0 || left == x1-wide+1; left++ {
				if h, ok := placed(lattice, left, top, wide, high, turn); ok {
					ways = append(ways, h)
				}
			}
		}
	}
	return ways
}

func placed(lattice map[[2]int]perspective.Point, left, top, wide, high, turn int) (perspective.Homography, bool) {
	var from, to []perspective.Point
	for y := range high {
		for x := range wide {
			at, known := lattice[[2]int{left + x, top + y}]
			if !known {
				continue
			}
			column, row := x, y
			switch turn {
			case 1:
				column, row = y, 3-x
			case 2:
				column, row = 5-x, 3-y
			case 3:
				column, row = 5-y, x
			}
			from, to = append(from, perspective.Point{X: float64(column), Y: float64(row)}), append(to, at)
		}
	}
	if len(from) < leastPatches {
		return perspective.Homography{}, false
	}
	return perspective.Fit(from, to, nil)
}

// read takes the patches' colours and sees whether a camera can have made them
// of the target.
func read(l light, h perspective.Homography, edition Edition) (t target, ok bool) {
	t.h = h
	for i := range t.seen {
		var sum [3]float64
		n := 0.0
		for dy := -4; dy <= 4; dy++ {
			for dx := -4; dx <= 4; dx++ {
				p := h.At(perspective.Point{X: float64(i%6) + float64(dx)/18, Y: float64(i/6) + float64(dy)/18})
				x, y := int(p.X), int(p.Y)
				if x < 0 || y < 0 || x >= l.width || y >= l.height {
					return t, false
				}
				for k, v := range l.pix[3*(y*l.width+x):][:3] {
					sum[k] += float64(v)
				}
				n++
			}
		}
		for k := range sum {
			t.seen[i][k] = colour.LightOfStep(sum[k] / n)
		}
	}
	// From white to black every grey is darker, and white is not clipped.
	for i := 18; i < 23; i++ {
		if t.seen[i][1] <= t.seen[i+1][1] {
			return t, false
		}
	}
	t.made, t.rest = calibrated(t.seen, edition)
	return t, t.rest < mostTargetΔE
}
