package demo

import "math"

// daylight is sun and sky for house fronts.
var (
	noonSun  = rgb{1.15, 1.04, 0.86}
	lateSun  = rgb{1.3, 0.92, 0.56}
	skyLight = rgb{0.17, 0.21, 0.28}
)

// cast throws a soft shadow of an outline: sunlight goes, sky light stays.
func (c *canvas) cast(p path, soft float64) { c.dim(p, soft, rgb{0.24, 0.29, 0.4}) }

// ochreWall: Piran, a wall with blue shutters and somebody's washing.
func ochreWall(c *canvas) {
	const m = 5.6 // metres in one height of the picture
	b := bays{wall: plaster(hex(0xdf9c3f), 0.75, 21), wide: 3.1, high: 3.5, w: 1.0, h: 1.75, sill: 1.3, first: -0.45, rows: 2,
		shutter: hex(0x2f6aa3), frame: hex(0xcfc3ab), shut: 0.5, sunSide: -1, fall: 0.55, seed: 7}
	c.shade(0, c.aspect, 1, func(x, y float64) rgb {
		q := b.at(x*m+1.12, (1-y)*m)
		return q.paint.times(noonSun.mul(q.sun).add(skyLight))
	})
	c.cast(poly(-0.1, 1.05, -0.1, 0.7, 0.14, 0.80, 0.2, 0.775, 0.24, 0.82, 0.5, 0.93, 0.5, 0.905, 0.55, 0.9, 0.55, 0.95, 0.75, 1.05), 0.006)
	line := func(t float64) pt { return pt{t * c.aspect, 0.40 + 0.1*t*(1-t)*1.2} }
	type cloth struct {
		at, w, h float64
		v        uint32
		kind     int
	}
	wash := []cloth{{0.07, 0.10, 0.17, 0xf4f1ea, 0}, {0.25, 0.085, 0.12, 0xc9472f, 1}, {0.41, 0.13, 0.2, 0xf2eee4, 0}, {0.64, 0.07, 0.11, 0x3a6ea5, 1}, {0.79, 0.1, 0.16, 0xeadfbb, 0}}
	for _, k := range wash {
		c.cast(clothShape(line(k.at), k.w, k.h, k.kind).onto(func(p pt) pt { return pt{p.x + 0.045, p.y + 0.06} }), 0.006)
	}
	c.sag(pt{0.045, 0.46}, pt{c.aspect + 0.045, 0.46}, 0.03, 0.002, hex(0x7a5320).mul(0.5), 0.6)
	c.sag(pt{0, 0.40}, pt{c.aspect, 0.40}, 0.03, 0.0022, grey(0.7), 1)
	for i, k := range wash {
		c.hang(clothShape(line(k.at), k.w, k.h, k.kind), hex(k.v), noonSun, uint32(i)+4)
	}
}

// clothShape is a towel (0) or a shirt (1) hung by its upper edge.
func clothShape(at pt, w, h float64, kind int) path {
	x, y := at.x, at.y
	if kind == 1 {
		return smooth(poly(x, y, x-0.28*w, y+0.3*h, x-0.1*w, y+0.42*h, x+0.12*w, y+0.3*h, x+0.1*w, y+h, x+0.5*w, y+1.03*h, x+0.9*w, y+h,
			x+0.88*w, y+0.3*h, x+1.1*w, y+0.42*h, x+1.28*w, y+0.3*h, x+w, y+0.004, x+0.64*w, y+0.01, x+0.5*w, y+0.08*h, x+0.36*w, y+0.01))
	}
	return poly(x, y, x+0.5*w, y+0.006, x+w, y+0.004, x+1.01*w, y+0.5*h, x+0.97*w, y+h, x+0.6*w, y+0.985*h, x+0.3*w, y+1.01*h, x+0.02*w, y+0.99*h, x-0.01*w, y+0.5*h)
}

// hang shades cloth: soft folds down from the line, light from the left.
func (c *canvas) hang(p path, v, sun rgb, seed uint32) {
	x0, y0 := p[0][0].x, p[0][0].y
	c.fill(p, func(x, y float64) rgb {
		f := fbm((x-x0)*34, (y-y0)*4, 3, seed) - fbm((x-x0)*34+0.6, (y-y0)*4, 3, seed)
		k := clamp(0.78+1.5*f, 0.3, 1.15)
		return v.times(sun.mul(k).add(skyLight.mul(1.1)))
	})
}

// facade: the morning on a pale front in Trieste, seen from the street.
func facade(c *canvas) {
	sc := look(c, vec{0, 1.7, -17}, 10, 22, 1.15)
	s := sky{horizon: 1.1, low: hex(0xbcd3e6), mid: hex(0x89b1d9).mul(0.8), high: hex(0x4f84c0).mul(0.75), sunX: -1, sunY: 0}
	s.paint(c, 1)
	sc.sunDir, sc.sun, sc.amb = vec{-0.75, 0.55, -0.5}.unit(), rgb{2.0, 1.72, 1.3}, rgb{0.26, 0.31, 0.4}
	house := func(x0, x1, top float64, wall rgb, b bays) {
		b.wall = plaster(wall, 0.35, b.seed)
		sc.lay(panel{vec{x0, 0, 0}, vec{x1 - x0, 0, 0}, vec{0, top, 0}, b.at})
		for _, e := range []struct{ y, d, h float64 }{{top, 0.9, 0.5}, {5.2, 0.3, 0.3}} { // cornices
			sc.lay(panel{vec{x0, e.y, 0}, vec{x1 - x0, 0, 0}, vec{0, -1.6 * e.d, 0}, func(u, v float64) matter {
				return matter{open: v > 1.5*e.d, paint: wall.mul(0.85), sun: 0}
			}})
			sc.lay(panel{vec{x0 - 0.2, e.y, -e.d}, vec{x1 - x0 + 0.4, 0, 0}, vec{0, 0, e.d}, plain(wall.mul(0.8))})
			sc.lay(panel{vec{x0 - 0.2, e.y, -e.d}, vec{x1 - x0 + 0.4, 0, 0}, vec{0, e.h, 0}, func(u, v float64) matter {
				d := frac(u / 0.6)
				return matter{paint: wall.mul(1.05 - 0.3*ramp(0.5, 0.4, v/e.h)*ramp(0.1, 0.3, d)), sun: 1}
			}})
		}
	}
	base := bays{wide: 3.2, high: 4.1, w: 1.25, h: 2.3, sill: 1.0, first: 5.5, frame: hex(0xefe8da), shutter: hex(0x4f6f5c), sunSide: -1, fall: 0.7}
	a, b, d := base, base, base
	a.seed, a.noShutters, a.rows = 3, true, 4
	b.seed, b.shut, b.rows, b.wide = 11, 0.45, 4, 2.9
	d.seed, d.shut, d.rows, d.shutter = 17, 0.3, 4, hex(0x6b5a48)
	house(-26, -6.4, 21, hex(0xe6c99b), d)
	house(16.8, 40, 20, hex(0xd8a98c), d)
	house(-6.4, 6.4, 23.5, hex(0xe9e0cf), a)
	house(6.4, 16.8, 22, hex(0xe7b765), b)
	for i := range 3 { // tram wires
		sc.rod(vec{-30, 7.5 + 0.4*float64(i), -8}, vec{30, 8.6 + 0.3*float64(i), -4}, 0.025, grey(0.03))
	}
	sc.rod(vec{-3, 16, -9}, vec{12, 8, -6}, 0.02, grey(0.03))
}

// arches: the arena at Pula, sky through two tiers.
func arches(c *canvas) {
	s := sky{horizon: 1.0, low: hex(0xa9c9e6).mul(0.95), mid: hex(0x6ca3d8).mul(0.75), high: hex(0x3a78bd).mul(0.65), sunX: -0.5, sunY: 0, clouds: 0.3, scale: 1.1, lit: grey(1.05), dark: hex(0xaebccb).mul(0.8), seed: 13, softness: 0.2}
	s.paint(c, 1)
	const m = 21.0
	st := stone(hex(0xe0d2b4), 0.75, 1.5, 8)
	c.glaze(0, 0, c.aspect, 1, func(x, y float64) (rgb, float64) {
		return arena(st, x*m+1.5, (1-y)*m-0.6+0.35*(x-0.7))
	})
	c.figure(c.aspect*0.535, 0.972, 0.082, 0.09, 0.02, hex(0x2a2420).mul(0.5))
}

// archway is the distance inside (+) an opening of half width w whose arch springs at h.
func archway(u, v, w, h float64) float64 {
	if v < h {
		return w - math.Abs(u)
	}
	return w - math.Hypot(u, v-h)
}

// arena is the light off the wall at u, v in metres, and whether there is wall at all:
// two tiers of arches, above them a broken attic with square openings.
func arena(st func(u, v float64) matter, u, v float64) (rgb, float64) {
	const cell, upper, attic = 5.6, 9.2, 18.3
	cx, y0 := frac(u/cell)*cell-cell/2, v
	if v > upper {
		y0 = v - upper
	}
	d := archway(cx, y0-0.6, 1.85, 4.6)
	// The thickness of the wall shows on the side away from the sun and overhead.
	through := archway(cx-0.75, y0-0.88, 1.85, 4.6)
	switch {
	case v > attic+2.6+0.5*fbm(u*0.5, 3, 3, 5):
		return rgb{}, 0
	case v > attic:
		d = min(0.75-math.Abs(cx), v-18.9, 20.3-v)
		through = 0.75 - math.Abs(cx-0.3)
	case v > 17.6:
		d = -1
	case y0 < 0.6:
		d = min(d, y0-0.6)
	}
	amb := rgb{0.18, 0.207, 0.27}
	if d > 0 {
		if through > 0 {
			return rgb{}, 0
		}
		return st(cx*1.3+40, v).paint.times(amb.mul(0.75 + 0.3*ramp(-0.5, 0.9, -cx))), 1
	}
	q := st(u, v)
	lit := q.sun * (1 - 0.5*ramp(-0.75, -0.7, d)*ramp(4.6, 5, y0)*ramp(0.02, 0, math.Abs(math.Mod(math.Atan2(y0-5.2, cx)*9, 1))-0.04))
	if pilaster := math.Abs(cx) - 2.1; pilaster > 0 {
		q.paint = q.paint.mul(1.05)
		if cx < 0 {
			lit *= 1 - 0.55*ramp(0.12, 0, math.Abs(pilaster-0.06))
		}
	}
	ledge := min(math.Abs(y0-0.15), math.Abs(v-17.95))
	lit *= 1 - 0.75*ramp(0.75, 0.45, ledge)*ramp(0.2, 0.28, ledge)
	return q.paint.times(lateSun.mul(lit * 1.02).add(amb)), 1
}

// doorway: a white wall in Bari, a green door, a chair put out.
func doorway(c *canvas) {
	const m = 3.3
	wall := plaster(hex(0xf0ebe0), 0.28, 33)
	pv := paving(hex(0xcfc4b0), 0.5, 4)
	door := planks(hex(0x2f6f58), 0.21, 6)
	c.shade(0, c.aspect, 1, func(x, y float64) rgb {
		u, v := x*m, (0.84-y)*m
		q := wall(u, v)
		du := u - 1.42
		switch {
		case y > 0.84:
			k := 1 / (y - 0.55)
			q = pv((x-0.33)*k*1.2+9, k*1.4)
			q.sun *= 0.95
		case math.Abs(du) < 0.5 && v < 2.12:
			q = door(u+0.05, v)
			pan := min(math.Abs(math.Abs(du)-0.25)-0.16, max(math.Abs(v-0.6)-0.38, -1))
			if math.Abs(du) < 0.012 {
				q.paint = q.paint.mul(0.25)
			}
			q.sun *= 0.75 + 0.25*ramp(0, 0.03, math.Abs(pan))
			q.sun *= ramp(0, 0.1, du+0.5) * ramp(0, 0.2, 2.12-v)
		case math.Abs(du) < 0.66 && v < 2.3:
			q = stone(hex(0xdccfb4), 0.42, 0.8, 2)(u, v)
		case v < 0.55:
			q.paint = mix(q.paint, hex(0x9fb4c4).mul(0.9), 0.75*ramp(0.56, 0.54, v))
		}
		return q.paint.times(noonSun.mul(q.sun).add(skyLight.mul(1.15)))
	})
	c.flat(rect(0.235, 0.825, 0.625, 0.855), hex(0xe9dfcb).times(noonSun).mul(1.02))
	c.flat(rect(0.235, 0.855, 0.625, 0.872), hex(0xcabfa9).mul(0.5))
	c.cast(poly(-0.1, -0.1, 0.75, -0.1, 0.75, 0.16, 0.62, 0.20, 0.3, 0.11, 0.27, 0.135, 0.1, 0.08, -0.1, 0.12), 0.004)
	chair(c, 0.105, 0.9, 0.26, func(p pt) pt { return pt{p.x + (0.9-p.y)*0.36 + 0.01, p.y + (p.y-0.9)*0.05 + 0.008} }, true)
	chair(c, 0.105, 0.9, 0.26, func(p pt) pt { return p }, false)
	pots(c, 0.565, 0.875)
}

// chair is a kitchen chair turned a little; as a shadow it is mapped and dimmed.
func chair(c *canvas, x, y, h float64, at func(pt) pt, shadow bool) {
	w := 0.022 * h
	wood := hex(0x8a4f26)
	bar := func(u0, t0, u1, t1, k float64) {
		a, b := at(pt{x + u0*h, y - t0*h}), at(pt{x + u1*h, y - t1*h})
		if shadow {
			n := math.Hypot(b.x-a.x, b.y-a.y) + 1e-9
			dx, dy := -(b.y-a.y)/n*w, (b.x-a.x)/n*w
			c.cast(poly(a.x+dx, a.y+dy, b.x+dx, b.y+dy, b.x-dx, b.y-dy, a.x-dx, a.y-dy), 0.003)
			return
		}
		c.line(a, b, 2*w, 1.8*w, wood.mul(k*0.55), 1)
		c.line(pt{a.x - w*0.35, a.y}, pt{b.x - w*0.35, b.y}, 0.9*w, 0.8*w, wood.mul(k*1.25), 1)
	}
	bar(0.1, 0.08, 0.12, 0.47, 0.6)
	bar(0.46, 0.1, 0.44, 1.0, 0.8)
	bar(0.13, 0.1, 0.15, 1.02, 0.8)
	seat := poly(-0.02, 0.44, 0.36, 0.42, 0.48, 0.5, 0.13, 0.52).onto(func(p pt) pt { return at(pt{x + p.x*h, y - p.y*h}) })
	if shadow {
		c.cast(seat, 0.003)
	} else {
		c.fill(seat, func(px, py float64) rgb {
			k := 0.75 + 0.35*math.Abs(math.Sin(px*900+py*500)) + 0.3*(fbm(px*120, py*120, 2, 3)-0.5)
			return hex(0xd6a558).mul(k)
		})
	}
	for _, t := range []float64{0.68, 0.82, 0.96} {
		bar(0.145, t, 0.44, t-0.015, 1)
	}
	bar(0, 0, 0.02, 0.45, 1)
	bar(0.34, -0.02, 0.35, 0.43, 1)
	bar(0.0, 0.2, 0.345, 0.18, 0.9)
}

// pots are two plants by the door.
func pots(c *canvas, x, y float64) {
	for i, d := range []float64{0, 0.062} {
		px, h := x+d, 0.075-0.018*float64(i)
		c.cast(oval(px+0.035, y+0.004, 0.05, 0.008), 0.005)
		c.fill(poly(px-0.032, y-h, px+0.032, y-h, px+0.024, y, px-0.024, y), func(qx, qy float64) rgb {
			return hex(0xb8623c).mul(clamp(0.85-11*(qx-px), 0.3, 1.2) * (0.9 + 0.25*fbm(qx*90, qy*60, 3, 7)))
		})
		leaves(c, px, y-h-0.035, 0.055, 0.06, 60, hex(0x4c7a34), hex(0xa7bf55), uint32(i)+3)
		if i == 0 {
			d := dice(5)
			for range 16 {
				c.ellipse(px+0.045*d.bell()*0.6, y-h-0.04+0.03*d.bell()*0.8, 0.007, 0.006, 0, func(u, v float64) (rgb, float64) { return hex(0xcf2f2a).mul(0.95 - 0.4*v), 1 })
			}
		}
	}
}

// leaves strews small leaves in a round clump, dark below and light above.
func leaves(c *canvas, x, y, rx, ry float64, n int, deep, light rgb, seed uint32) {
	d := dice(seed)
	for i := range n {
		u, v := d.bell()*0.45, d.bell()*0.45
		k := clamp(0.5-0.6*v-0.4*u+0.5*float64(i)/float64(n)-0.25, 0.05, 1)
		col := mix(deep.mul(0.35), light, k)
		c.ellipse(x+u*rx, y+v*ry, 0.2*rx*d.in(0.7, 1.3), 0.085*rx, d.in(0, 3), func(p, _ float64) (rgb, float64) { return col.mul(0.9 + 0.2*p), 1 })
	}
}
