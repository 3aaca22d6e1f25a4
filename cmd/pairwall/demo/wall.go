package demo

import "math"

// plaster is lime wash that has seen weather: broad stains, runs of rain, fine grit.
func plaster(base rgb, age float64, seed uint32) func(u, v float64) matter {
	return func(u, v float64) matter {
		broad := fbm(u*0.5, v*0.4, 4, seed) - 0.5
		runs := fbm(u*5, v*0.35, 3, seed+3) - 0.5
		grit := fbm(u*14, v*14, 3, seed+5) - 0.5
		col := base.mul(1 + age*(0.7*broad+0.45*runs) + 0.3*grit)
		p := warped(u*0.8, v*0.8, 5, 1.2, seed+11) + 0.08*(noise(u*9, v*9, seed)-0.5)
		if flake := ramp(0.66-0.05*age, 0.68-0.05*age, p); flake > 0 && age > 0.3 {
			under := mix(grey(base.luma()), hex(0xb59f86), 0.6).mul(0.85 + 0.5*grit)
			col = mix(col, under, flake*clamp(age, 0, 1))
			edge := ramp(0.62-0.05*age, 0.66-0.05*age, p) * (1 - flake)
			return matter{paint: col, sun: 1 - 0.25*edge}
		}
		return matter{paint: col, sun: 1 - 0.5*max(0, grit)}
	}
}

// stone is coursed masonry: blocks of uneven length, worn edges, each its own tone.
func stone(base rgb, course, length float64, seed uint32) func(u, v float64) matter {
	return func(u, v float64) matter {
		wob := 0.12 * course * (fbm(u*1.7, v*1.7, 2, seed+1) - 0.5)
		row := math.Floor((v + wob) / course)
		fv := frac((v + wob) / course)
		l := length * (0.7 + 0.6*cellRnd(row, 0, seed+2))
		pu := u/l + cellRnd(row, 1, seed+3)*7 + 0.25*(noise(u/l, row*3.1, seed+4)-0.5)
		fu := frac(pu)
		id := cellRnd(math.Floor(pu), row, seed)
		n := fbm(u*6, v*6, 4, seed+5) - 0.5
		e := min(min(fu, 1-fu)*l, min(fv, 1-fv)*course) + 0.02*n
		joint := ramp(0.022, 0.004, e)
		col := base.mul(0.8 + 0.35*id + 0.55*n)
		col = mix(col, col.times(rgb{1.08, 0.96, 0.8}), cellRnd(math.Floor(pu), row, seed+8))
		pit := ramp(0.66, 0.74, fbm(u*22, v*22, 2, seed+6))
		// The upper edge of a block catches light, the lower throws a thin shadow.
		relief := 1 + 0.25*ramp(0.75, 0.97, fv) - 0.3*ramp(0.25, 0.03, fv)
		return matter{paint: col.mul((1 - 0.45*joint) * (1 - 0.3*pit)), sun: clamp(relief*(1-0.6*joint), 0, 1.25)}
	}
}

// paving is worn limestone flags; shine is left to the scene.
func paving(base rgb, size float64, seed uint32) func(u, v float64) matter {
	return func(u, v float64) matter {
		row := math.Floor(v / size)
		pu := u/(size*1.5) + cellRnd(row, 0, seed)*5
		fu, fv := frac(pu), frac(v/size)
		id := cellRnd(math.Floor(pu), row, seed+1)
		n := fbm(u*4, v*4, 4, seed+2) - 0.5
		e := min(min(fu, 1-fu)*1.5, min(fv, 1-fv)) * size
		j := ramp(0.025, 0.006, e)
		return matter{paint: base.mul((0.78 + 0.4*id + 0.6*n) * (1 - 0.5*j)), sun: 1 - 0.4*j}
	}
}

// planks are boards along v with seams along u.
func planks(base rgb, width float64, seed uint32) func(u, v float64) matter {
	return func(u, v float64) matter {
		k := math.Floor(u / width)
		f := frac(u / width)
		g := fbm(u*40, v*2.5+k*9, 3, seed) - 0.5
		id := cellRnd(k, 0, seed+1)
		j := ramp(0.06, 0.015, min(f, 1-f))
		return matter{paint: base.mul((0.75 + 0.45*id + 0.7*g) * (1 - 0.75*j)), sun: 1 - 0.6*j}
	}
}

// bays describes the windows of a house front, in metres.
type bays struct {
	wall           func(u, v float64) matter
	wide, high     float64 // size of a cell
	w, h           float64 // size of the opening
	sill           float64 // bottom of the opening above the bottom of the cell
	first          float64 // height of the lowest row of cells
	rows           int     // rows of windows; 0 means as many as the wall holds
	shutter, frame rgb
	shut           float64 // share of windows with closed shutters
	noShutters     bool
	sunSide        float64 // +1: the sun stands to the right of the wall, -1 to the left
	fall           float64 // length of relief shadows
	lamplight      float64 // share of windows lit from inside
	seed           uint32
}

// at is the wall with its windows.
func (b *bays) at(u, v float64) matter {
	if v < b.first || (b.rows > 0 && v > b.first+float64(b.rows)*b.high) {
		return b.wall(u, v)
	}
	ci, cj := math.Floor(u/b.wide), math.Floor((v-b.first)/b.high)
	x := frac(u/b.wide)*b.wide - b.wide/2
	y := (v - b.first) - cj*b.high - b.sill
	closed := cellRnd(ci, cj, b.seed) < b.shut
	half, leaf := b.w/2, b.w*0.52
	ax := math.Abs(x)
	inLeaf := !b.noShutters && y > -0.02 && y < b.h+0.02 &&
		((!closed && ax > half && ax < half+leaf) || (closed && ax <= half))
	switch {
	case inLeaf:
		return b.leaf(x, y, closed)
	case ax <= half && y > 0 && y < b.h:
		return b.glass(x, y, ci, cj)
	case y > -0.14 && y <= 0 && ax < half+0.14:
		return matter{paint: b.frame.mul(1 + 0.2*(noise(u*9, v*9, b.seed)-0.5)), sun: 1}
	}
	m := b.wall(u, v)
	if ax < half+0.16 && y > -0.02 && y < b.h+0.2 && b.noShutters {
		m.paint = b.frame.mul(0.92 + 0.16*noise(u*7, v*7, b.seed))
	}
	return b.shadow(m, x, y, closed)
}

// leaf is one shutter with its louvres.
func (b *bays) leaf(x, y float64, closed bool) matter {
	half, leaf := b.w/2, b.w*0.52
	lx := math.Abs(x) - half
	if closed {
		lx, leaf = math.Abs(x), half
	}
	border := min(min(lx, leaf-lx), min(y, b.h-y))
	mid := math.Abs(y - b.h*0.5)
	fade := 1 + 0.18*(fbm(x*3, y*2, 3, b.seed+4)-0.5)
	if border < 0.05 || mid < 0.04 {
		return matter{paint: b.shutter.mul(fade * (1 - 0.5*ramp(0.012, 0, border))), sun: 1}
	}
	slat := frac(y / 0.065)
	k := 0.55 + 0.6*ramp(0.15, 0.75, slat)
	return matter{paint: b.shutter.mul(fade * k), sun: 0.35 + 0.65*ramp(0.1, 0.6, slat)}
}

func (b *bays) glass(x, y, ci, cj float64) matter {
	f := min(min(b.w/2-math.Abs(x), math.Abs(x)), min(y, b.h-y))
	bar := math.Abs(y - b.h*0.66)
	deep := 1 - 0.75*ramp(0.3, 0.05, b.h-y) // the lintel's shadow
	if x*b.sunSide > b.w/2-0.16 {
		deep *= 0.5
	}
	if f < 0.05 || bar < 0.03 {
		return matter{paint: b.frame.mul(0.8), sun: deep}
	}
	if cellRnd(ci, cj, b.seed+21) < b.lamplight {
		k := 0.6 + 0.6*noise(x*3+ci*5, y*3, b.seed)
		return matter{paint: grey(0.05), glow: rgb{1.2, 0.68, 0.27}.mul(k)}
	}
	curtain := ramp(0.15, 0.35, math.Abs(x)/b.w+0.15*(cellRnd(ci, cj, b.seed+2)-0.5))
	col := mix(rgb{0.02, 0.025, 0.03}, rgb{0.3, 0.29, 0.27}, 0.5*curtain*cellRnd(ci, cj, b.seed+3))
	sheen := 0.10 * cellRnd(ci, cj, b.seed+9) * ramp(0, b.h, y)
	return matter{paint: col.add(rgb{0.7, 0.85, 1}.mul(sheen)), sun: deep}
}

// shadow is what sills, leaves and lintels throw on the wall beside them.
func (b *bays) shadow(m matter, x, y float64, closed bool) matter {
	if b.fall == 0 {
		return m
	}
	half, out := b.w/2, 0.0
	if !b.noShutters && !closed {
		out = b.w * 0.52
	}
	xs, ys := x+b.sunSide*b.fall*0.7, y+b.fall
	k := ramp(0.03, -0.03, math.Abs(xs)-half-out) * ramp(0.03, -0.03, math.Abs(ys-b.h/2)-b.h/2)
	if b.noShutters {
		k = 0
	}
	s := ramp(0.02, -0.02, math.Abs(xs)-half-0.14) * ramp(0.02, -0.02, math.Abs(y+0.14+b.fall*0.2)-b.fall*0.2)
	m.sun *= 1 - 0.9*max(k*0.9, s)
	return m
}
