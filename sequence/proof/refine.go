package proof

import (
	"math"

	"pairwall/sequence/pages/perspective"
)

// refined moves a homography from page to photograph until the two agree best,
// coarse to fine: Gauss-Newton on the differences of pictures made alike in
// their surroundings, so that neither light nor inks pull at it (Baker and
// Matthews, "Lucas-Kanade 20 Years On", IJCV 56(3), 2004, forward compositional).
//
// page and shot may be of any sizes; h maps pixels of page to pixels of shot.
// like is the correlation of the two at the end, -1..1.
func refined(page sought, shot grey, h perspective.Homography) (out perspective.Homography, like float64) {
	for _, long := range []int{120, 240, 480} {
		small := page.grey.within(long)
		up := rescaling(small.width, small.height, page.width, page.height)
		// The photograph as coarse as the page is at this step.
		grow := growth(h.After(up), float64(small.width), float64(small.height))
		seen := shot
		if grow > 1.2 {
			seen = shot.resized(max(int(float64(shot.width)/grow), 8), max(int(float64(shot.height)/grow), 8))
		}
		shrink := rescaling(shot.width, shot.height, seen.width, seen.height)
		inner, at := settle(small, page.inkAt(small.width, small.height), seen, shrink.After(h).After(up))
		h = rescaling(seen.width, seen.height, shot.width, shot.height).After(inner).After(rescaling(page.width, page.height, small.width, small.height))
		like = at
		if like < enoughLike/2 { // not this page: finer steps would only make sure
			break
		}
	}
	return h, like
}

// growth is how many pixels of the photograph one pixel of the page covers, on
// a side.
func growth(h perspective.Homography, w, height float64) float64 {
	q := perspective.Quad{h.At(perspective.Point{}), h.At(perspective.Point{X: w}), h.At(perspective.Point{X: w, Y: height}), h.At(perspective.Point{Y: height})}
	return math.Sqrt(math.Abs(q.Area()) / (w * height))
}

const (
	mostSteps  = 25
	alikeness  = 8   // radius in pixels of the surroundings in which pictures are made alike
	evenGround = 1.5 // steps of L* below which surroundings are taken for plain
)

// settle runs the steps at one size.
func settle(page grey, ink []bool, shot grey, h perspective.Homography) (perspective.Homography, float64) {
	w, hh := page.width, page.height
	want := alike(page.pix, nil, w, hh)
	warped, inside := make([]float32, w*hh), make([]bool, w*hh)
	scale := float64(max(w, hh)) / 2
	cx, cy := float64(w)/2, float64(hh)/2
	like := -1.0
	for range mostSteps {
		warp(shot, h, w, hh, warped, inside)
		got := alike(warped, inside, w, hh)
		like = likeness(want, got, inside, ink, w, hh, func() float64 { return whollyLike(page.pix, warped, inside, ink) })
		m := equations(want, got, inside, w, hh, cx, cy, scale)
		p, ok := perspective.Solve8(m)
		if !ok {
			break
		}
		step := perspective.Homography{{1 + p[0], p[1], p[2]}, {p[3], 1 + p[4], p[5]}, {p[6], p[7], 1}}
		in := perspective.Homography{{1 / scale, 0, -cx / scale}, {0, 1 / scale, -cy / scale}, {0, 0, 1}}
		outof := perspective.Homography{{scale, 0, cx}, {0, scale, cy}, {0, 0, 1}}
		moved := outof.After(step).After(in)
		most := 0.0
		for _, c := range []perspective.Point{{}, {X: float64(w)}, {X: float64(w), Y: float64(hh)}, {Y: float64(hh)}} {
			most = max(most, moved.At(c).Distance(c))
		}
		if !(most < 0.25*scale) {
			break
		}
		h = h.After(moved)
		if most < 0.01 {
			break
		}
	}
	return h, like
}

// warp brings the photograph into the page's frame.
func warp(shot grey, h perspective.Homography, w, height int, out []float32, inside []bool) {
	for y := range height {
		for x := range w {
			p := h.At(perspective.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			out[y*w+x], inside[y*w+x] = shot.at(p.X, p.Y)
		}
	}
}

// alike takes the mean of the surroundings from every pixel and divides by their
// spread, held from below so that grain on plain ground stays small.
func alike(pix []float32, inside []bool, w, h int) []float32 {
	means := boxMeans(pix, inside, w, h, alikeness)
	squares := make([]float32, len(pix))
	out := make([]float32, len(pix))
	for i, v := range pix {
		if inside == nil || inside[i] {
			out[i] = v - means[i]
			squares[i] = out[i] * out[i]
		}
	}
	spread := boxMeans(squares, inside, w, h, alikeness)
	for i := range out {
		// On even ground the mean of the squares, a difference of sums, can come out
		// a hair below nothing; one root of that would spoil all equations.
		out[i] /= float32(math.Sqrt(max(float64(spread[i]), 0))) + evenGround
	}
	return out
}

// likeness is the correlation of the fields of a grid, the median of those that
// hold anything to compare: of what is printed, because any two pages of one
// layout have their margins in common; of the whole page where what is printed
// is even, and then it must be much alike to count as much, and how light and
// dark lie over it tells which way up it is.
func likeness(want, got []float32, inside, ink []bool, w, h int, wholly func() float64) float64 {
	const fields, least = 8, 0.1
	var printed, whole []float64
	for fy := range fields {
		for fx := range fields {
			var on, all correlation
			for y := fy * h / fields; y < (fy+1)*h/fields; y++ {
				for x := fx * w / fields; x < (fx+1)*w/fields; x++ {
					i := y*w + x
					if !inside[i] {
						continue
					}
					all.add(want[i], got[i])
					if ink[i] {
						on.add(want[i], got[i])
					}
				}
			}
			if on.n > float64(w*h)/fields/fields/4 && on.xx/on.n > least {
				printed = append(printed, on.value())
			}
			if all.n > 0 && all.xx/all.n > least {
				whole = append(whole, all.value())
			}
		}
	}
	switch {
	case len(printed) >= 4:
		return middle(printed)
	case len(whole) >= 4:
		return middle(whole) - 0.4 + 0.1*wholly()
	}
	return -1
}

// whollyLike is the correlation of how light two pictures are where there is ink.
func whollyLike(want, got []float32, inside, ink []bool) float64 {
	var meanWant, meanGot, n float64
	for i := range want {
		if inside[i] && ink[i] {
			meanWant, meanGot, n = meanWant+float64(want[i]), meanGot+float64(got[i]), n+1
		}
	}
	var c correlation
	for i := range want {
		if inside[i] && ink[i] {
			c.add(want[i]-float32(meanWant/n), got[i]-float32(meanGot/n))
		}
	}
	if !(c.xx > 0) {
		return 0
	}
	return c.value()
}

// correlation gathers two rows of values whose means are about nothing.
type correlation struct{ xx, yy, xy, n float64 }

func (c *correlation) add(x, y float32) {
	c.xx, c.yy, c.xy, c.n = c.xx+float64(x*x), c.yy+float64(y*y), c.xy+float64(x*y), c.n+1
}

func (c *correlation) value() float64 { return c.xy / math.Sqrt(c.xx*max(c.yy, 1e-9)) }

// equations are the normal equations of one step; a pixel that lies far off
// counts little.
func equations(want, got []float32, inside []bool, w, h int, cx, cy, scale float64) (m [8][9]float64) {
	for y := 1; y < h-1; y++ {
		v := (float64(y) + 0.5 - cy) / scale
		for x := 1; x < w-1; x++ {
			i := y*w + x
			if !inside[i] || !inside[i-1] || !inside[i+1] || !inside[i-w] || !inside[i+w] {
				continue
			}
			// The mean of both pictures' gradients reaches further than either.
			gx := float64(got[i+1]-got[i-1]+want[i+1]-want[i-1]) / 4 * scale
			gy := float64(got[i+w]-got[i-w]+want[i+w]-want[i-w]) / 4 * scale
			if gx == 0 && gy == 0 {
				continue
			}
			r := float64(want[i] - got[i])
			weight := 1 / (1 + r*r)
			u := (float64(x) + 0.5 - cx) / scale
			along := u*gx + v*gy
			row := [9]float64{u * gx, v * gx, gx, u * gy, v * gy, gy, -u * along, -v * along, r}
			for a := range 8 {
				wa := weight * row[a]
				for b := a; b < 9; b++ {
					m[a][b] += wa * row[b]
				}
			}
		}
	}
	for a := range 8 {
		for b := range a {
			m[a][b] = m[b][a]
		}
	}
	return m
}
