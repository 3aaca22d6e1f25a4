package demo

import "math"

// lungomare: Bari's sea walk at nightfall, its lamps in a row.
func lungomare(c *canvas) {
	s := sky{horizon: 0.52, low: hex(0xd39a84).mul(0.62), mid: hex(0x55699c).mul(0.5), high: hex(0x1f3566).mul(0.45), sunX: 0.25, sunY: 0.56, sun: rgb{1.6, 0.8, 0.45}, glow: 0.35, clouds: 0.32, scale: 0.9, lit: hex(0xb98a90).mul(0.6), dark: hex(0x3d4a78).mul(0.42), seed: 88, softness: 0.24, stretch: 2}
	s.paint(c, 0.55)
	(&ridge{base: 0.516, height: 0.022, freq: 3, rough: 4, seed: 4, top: hex(0x4a4a70).mul(0.42), foot: hex(0x5f5a80).mul(0.45), depth: 0.02, trees: 0.004, slopeX: 0.012}).paint(c)
	(&sea{horizon: 0.52, eye: 3.4, wind: 0.05, length: 4, deep: hex(0x1a3050).mul(0.5), above: &s, seed: 9, haze: 0.35}).paint(c)
	d := dice(8)
	for range 46 { // the far shore puts its lamps on
		x := d.in(0, 0.62)
		k := d.in(0.3, 1)
		c.lift(x, 0.514-0.008*d.next(), 0.0018, rgb{1.7, 0.9, 0.38}.mul(k))
		c.column(x, 0.522, 0.05, 0.0016, rgb{0.6, 0.32, 0.14}.mul(k), uint32(x*900))
	}
	sc := look(c, vec{-0.3, 2.0, 0}, -5, -0.9, 1.1)
	sc.cy = 0.5
	sc.sunDir, sc.amb = vec{0, 1, 0}, rgb{0.105, 0.10, 0.145}
	for i := range 9 {
		sc.lamps = append(sc.lamps, lamp{vec{-0.1, 4.0, 5 + 8.5*float64(i)}, rgb{6.5, 3.3, 1.2}})
	}
	pv := paving(hex(0xb5a898), 0.8, 4)
	sc.lay(panel{vec{-0.8, 0, 0.4}, vec{9, 0, 0}, vec{0, 0, 120}, func(u, v float64) matter {
		m := pv(u, v)
		wet := ramp(0.42, 0.66, fbm(u*0.8, v*0.4, 4, 7))
		p := math.Abs(frac((v-4.6)/8.5)-0.5) * 2
		m.glow = rgb{0.5, 0.25, 0.09}.mul(0.35 * wet * math.Pow(p, 3) * math.Exp(-math.Abs(u-1.2)*0.7))
		return m
	}})
	sc.lay(panel{vec{-0.8, -2, 0.4}, vec{0, 0, 120}, vec{0, 2, 0}, stone(hex(0x8d8478), 0.5, 1.1, 3)})
	st := stone(hex(0xc4b69c), 0.5, 1.2, 6)
	sc.box(vec{-0.8, 0, 0.6}, vec{-0.35, 0.62, 120}, st, st, st)
	for i := 8; i >= 0; i-- {
		castLamp(sc, vec{-0.57, 0.62, 5 + 8.5*float64(i)})
	}
	sc.fog, sc.fogReach = hex(0x7d6f92).mul(0.4), 200
	dark := hex(0x14131c).mul(0.5)
	for _, p := range []struct{ x, z, st float64 }{{2.1, 26, 0.1}, {2.6, 26.3, -0.09}, {1.2, 44, 0.08}} {
		q, d := sc.project(vec{p.x, 0, p.z})
		c.figure(q.x, q.y, 1.7*sc.focal/d, p.st, 0.02, dark)
	}
}

// castLamp is an iron standard with a globe, and what the globe does to lens and air.
func castLamp(s *scene, at vec) {
	q, d := s.project(at)
	k := s.focal / d
	iron := hex(0x15171a).mul(0.4)
	s.c.flat(poly(q.x-0.14*k, q.y, q.x-0.07*k, q.y-0.8*k, q.x+0.07*k, q.y-0.8*k, q.x+0.14*k, q.y), iron)
	s.c.line(q, pt{q.x, q.y - 3.2*k}, 0.09*k, 0.07*k, iron, 1)
	s.c.line(pt{q.x - 0.16*k, q.y - 2.9*k}, pt{q.x + 0.16*k, q.y - 2.9*k}, 0.06*k, 0.06*k, iron, 1)
	g := pt{q.x, q.y - 3.4*k}
	s.c.ellipse(g.x, g.y, 0.21*k, 0.22*k, 0, func(u, v float64) (rgb, float64) {
		return rgb{6, 3.9, 1.9}.mul(1.1 - 0.4*(u*u+v*v)), 1
	})
	s.c.lift(g.x, g.y, 0.6*k, rgb{0.55, 0.27, 0.1})
	s.c.lift(g.x, g.y, 1.8*k, rgb{0.09, 0.045, 0.02})
	s.c.line(pt{q.x, g.y - 0.2*k}, pt{q.x, g.y - 0.38*k}, 0.08*k, 0.01*k, iron, 1)
}

// wetLane: Zadar after rain, one lamp, limestone worn to a mirror.
func wetLane(c *canvas) {
	c.shade(0, c.aspect, 1, func(x, y float64) rgb { return mix(hex(0x1f3358).mul(0.35), hex(0x3b4f78).mul(0.3), ramp(0, 0.5, y)) })
	sc := look(c, vec{0.1, 1.55, 0}, 0, -1, 1.02)
	sc.sunDir, sc.amb = vec{0, 1, 0}, rgb{0.030, 0.036, 0.056}
	sc.lamps = []lamp{{vec{-1.35, 3.5, 9.2}, rgb{7.5, 3.9, 1.35}}, {vec{1.5, 3.3, 20}, rgb{8, 4.3, 1.6}}, {vec{0.4, 3, 31}, rgb{14, 8, 3.2}}}
	b := bays{wall: stone(hex(0xcdbb98), 0.4, 0.8, 4), wide: 3.4, high: 3.6, w: 0.95, h: 1.6, sill: 1.0, first: 2.6, shutter: hex(0x3c6a52), frame: hex(0xd6c8ac), shut: 0.6, lamplight: 0.22, sunSide: 1, seed: 6}
	r := b
	r.wall, r.seed, r.shutter = plaster(hex(0xd9b277), 0.8, 8), 14, hex(0x345f8c)
	sc.lay(panel{vec{-5, 0, 36}, vec{10, 0, 0}, vec{0, 11, 0}, b.at})
	sc.lay(panel{vec{-1.9, 0, 0.2}, vec{0, 0, 36}, vec{0, 10, 0}, door(b.at, 3.3)})
	sc.lay(panel{vec{2.1, 0, 0.2}, vec{0, 0, 36}, vec{0, 11, 0}, door(r.at, 6.1)})
	pv := paving(hex(0xcbbda2), 0.72, 5)
	sc.lay(panel{vec{-1.9, 0, 0.3}, vec{4, 0, 0}, vec{0, 0, 36}, func(u, v float64) matter {
		m := pv(u, v)
		m.paint = m.paint.mul(0.45)
		at := vec{u - 1.9, 0, v + 0.3}
		sx, sz := (fbm(u*5, v*3, 3, 3)-0.5)*0.22, (fbm(u*4, v*2.4, 3, 9)-0.5)*0.35
		edge := 1 - m.sun
		n := vec{sx + 0.5*edge, 1, sz}.unit()
		view := at.sub(sc.eye).unit()
		ref := view.sub(n.mul(2 * view.dot(n)))
		f := 0.05 + 0.95*math.Pow(1-clamp(-view.dot(n), 0, 1), 4)
		for _, l := range sc.lamps {
			d := l.at.sub(at)
			cosr := clamp(ref.dot(d.unit()), 0, 1)
			m.glow = m.glow.add(l.light.mul(f * (0.5*math.Pow(cosr, 500) + 0.05*math.Pow(cosr, 60))))
		}
		up := ramp(0.0, 0.9, ref.y)
		m.glow = m.glow.add(hex(0x4f6a9c).mul(0.10 * f * up)).add(hex(0xb98d56).mul(0.07 * f * (1 - up) * (0.5 + fbm(u*0.8, v*0.4, 3, 8))))
		return m
	}})
	for i, l := range sc.lamps {
		p, d := sc.project(l.at)
		k := sc.focal / d
		if i < 2 {
			side := []float64{-1.9, 2.1}[i]
			sc.rod(vec{side, 3.95, l.at.z}, vec{l.at.x, 3.85, l.at.z}, 0.05, grey(0.006))
			c.line(pt{p.x, p.y - 0.4*k}, pt{p.x, p.y - 0.2*k}, 0.03*k, 0.03*k, grey(0.006), 1)
		}
		c.flat(poly(p.x-0.24*k, p.y-0.12*k, p.x, p.y-0.3*k, p.x+0.24*k, p.y-0.12*k), grey(0.006))
		c.ellipse(p.x, p.y, 0.13*k, 0.15*k, 0, func(_, _ float64) (rgb, float64) { return rgb{9, 6, 3}, 1 })
		c.lift(p.x, p.y, 0.7*k, rgb{0.6, 0.31, 0.11})
		c.lift(p.x, p.y, 2.4*k, rgb{0.10, 0.052, 0.02})
	}
	q, d := sc.project(vec{-0.5, 0, 15})
	h := 1.7 * sc.focal / d
	c.dim(poly(q.x-0.08*h, q.y, q.x+0.08*h, q.y, q.x+0.3*h, q.y+0.9*h, q.x+0.1*h, q.y+0.9*h), 0.06*h, grey(0.5))
	c.figure(q.x, q.y, h, 0.09, 0.03, grey(0.008))
}

// door puts one dark doorway into a wall at a distance along it.
func door(wall func(u, v float64) matter, at float64) func(u, v float64) matter {
	return func(u, v float64) matter {
		d := math.Abs(frac((u-at)/8.5+0.5)-0.5) * 8.5
		h := 2.15
		if d < 0.55 && v < h {
			return matter{paint: hex(0x3c2a1c).mul(0.5 + 0.4*frac(u*5)), sun: 0.5}
		}
		m := wall(u, v)
		if d < 0.75 && v < h+0.22 {
			m.paint = hex(0xd9ccb0).mul(0.95)
		}
		return m
	}
}

// palms: the shade of palms on a pale wall in Split, and a bench under it.
func palms(c *canvas) {
	const m = 5.2
	wall := stone(hex(0xe6d9bd), 0.5, 1.05, 8)
	pv := paving(hex(0xd9cfbb), 0.8, 3)
	c.shade(0, c.aspect, 1, func(x, y float64) rgb {
		q := wall(x*m, (0.8-y)*m)
		sun := q.sun
		if y > 0.8 {
			k := 1 / (y - 0.5)
			q = pv((x-0.7)*k*1.6+20, k*1.8)
			sun = q.sun * 0.9
		}
		sun *= 1 - 0.35*ramp(0.775, 0.8, y)*ramp(0.82, 0.8, y)
		return q.paint.times(noonSun.mul(sun * 1.0).add(skyLight.mul(1.05)))
	})
	for i, p := range []struct{ x, y, s, lean float64 }{{0.28, 0.2, 0.56, 0.1}, {0.98, 0.12, 0.64, -0.12}} {
		palmShade(c, p.x*1.1, p.y, p.s, p.lean, uint32(i)+2)
	}
	benchFront(c, 0.86, 0.905, 0.36)
	c.cat(1.02, 0.846, 0.085, hex(0x2a241f).mul(0.35), rgb{0.9, 0.75, 0.5}, false)
}

// palmShade is trunk and fronds thrown on the wall.
func palmShade(c *canvas, x, y, s, lean float64, seed uint32) {
	var all path
	all = append(all, []pt{{x - 0.02*s, y}, {x + 0.02*s, y}, {x + lean + 0.035*s, 0.8}, {x + lean + 0.1*s, 1.05}, {x + lean + 0.02*s, 1.05}, {x + lean - 0.035*s, 0.8}})
	c.cast(all, 0.006)
	d := dice(seed)
	for i := range 11 {
		a := -math.Pi/2 + (float64(i)-5)*0.46 + d.bell()*0.08
		l := s * d.in(0.62, 0.95)
		frond(c, x, y, a, l, &d)
	}
}

// frond is one feathered leaf, bending down towards its tip.
func frond(c *canvas, x, y, a, l float64, d *dice) {
	var leafy path
	n := 44
	prev := pt{x, y}
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		a += 0.035 * math.Cos(a)
		q := pt{prev.x + l/float64(n)*math.Cos(a), prev.y + l/float64(n)*math.Sin(a)}
		w := 0.2 * l * math.Sin(math.Pi*math.Pow(t, 0.7))
		for _, side := range []float64{-1, 1} {
			b := a + side*(0.9-0.35*t) + d.bell()*0.05
			tip := pt{q.x + w*math.Cos(b), q.y + w*math.Sin(b) + 0.015*t}
			nx, ny := -math.Sin(b)*0.008*l, math.Cos(b)*0.008*l
			o := []pt{{q.x + nx, q.y + ny}, tip, {q.x - nx, q.y - ny}}
			leafy = append(leafy, o)
		}
		leafy = append(leafy, []pt{{prev.x + 0.002, prev.y}, {q.x + 0.002, q.y}, {q.x - 0.002, q.y - 0.002}, {prev.x - 0.002, prev.y - 0.002}})
		prev = q
	}
	for i := range leafy { // all wound one way, so that overlaps do not become holes
		o := leafy[i]
		area := 0.0
		for k := range o {
			n := o[(k+1)%len(o)]
			area += o[k].x*n.y - n.x*o[k].y
		}
		if area < 0 {
			leafy[i] = reverse(o)
		}
	}
	c.cast(leafy, 0.005)
}

// benchFront is a stone seat against the wall.
func benchFront(c *canvas, x, y, w float64) {
	c.cast(poly(x-0.02, y, x+w, y, x+w+0.07, y+0.03, x+0.02, y+0.03), 0.006)
	slab := func(p path, k float64, sd uint32) {
		st := stone(hex(0xe9dfc8), 3, 5, sd)
		c.fill(p, func(px, py float64) rgb {
			q := st(px*6, py*6)
			return q.paint.times(noonSun.mul(k).add(skyLight.mul(0.9)))
		})
	}
	slab(rect(x+0.03, y-0.05, x+0.09, y), 0.35, 2)
	slab(rect(x+w-0.09, y-0.05, x+w-0.03, y), 0.35, 3)
	slab(rect(x+0.09, y-0.04, x+w-0.09, y), 0.02, 4)
	slab(rect(x, y-0.062, x+w, y-0.04), 0.55, 5)
	slab(poly(x+0.01, y-0.078, x+w+0.005, y-0.078, x+w, y-0.06, x, y-0.06), 1.0, 6)
}

// cat sits; its outline takes a rim of light. facing right unless flipped.
func (c *canvas) cat(x, y, h float64, v, rim rgb, flip bool) {
	d := 1.0
	if flip {
		d = -1
	}
	at := func(u, t float64) pt { return pt{x + d*u*h, y - t*h} }
	body := smooth(path{{at(-0.27, 0.0), at(-0.33, 0.16), at(-0.27, 0.38), at(-0.12, 0.56), at(0.0, 0.66), at(0.03, 0.74), at(0.05, 0.86),
		at(0.08, 0.99), at(0.14, 0.90), at(0.21, 0.90), at(0.27, 0.985), at(0.30, 0.85), at(0.32, 0.74), at(0.26, 0.66), at(0.2, 0.62), at(0.21, 0.4), at(0.2, 0.2), at(0.24, 0.02), at(0.1, 0.0)}})
	tail := smooth(path{{at(-0.25, 0.03), at(-0.45, 0.02), at(-0.62, -0.06), at(-0.66, -0.2), at(-0.6, -0.22), at(-0.56, -0.1), at(-0.42, -0.04), at(-0.2, -0.02)}})
	up := func(p pt) pt { return pt{p.x - 0.012*h, p.y - 0.014*h} }
	for _, p := range []path{tail, body} {
		c.flat(p.onto(up), rim)
		c.fill(p, func(px, py float64) rgb { return v.mul(0.75 + 0.9*fbm(px/h*9, py/h*26, 3, 4)) })
	}
}

// catWall: evening, a cat on a wall above the sea.
func catWall(c *canvas) {
	s := sky{horizon: 0.44, low: hex(0xf3c793), mid: hex(0xd8b9b0).mul(0.85), high: hex(0x86a3c8).mul(0.75), sunX: 0.25, sunY: 0.3, sun: rgb{2.4, 1.4, 0.6}, glow: 0.4, clouds: 0.25, scale: 0.9, lit: hex(0xfbd0a4), dark: hex(0xa89aa8).mul(0.7), seed: 39, softness: 0.3, stretch: 1.8}
	s.paint(c, 0.46)
	(&ridge{base: 0.435, height: 0.06, freq: 1.4, rough: 4, seed: 19, top: hex(0x8d8a9c).mul(0.6), foot: hex(0xc4a795).mul(0.75), depth: 0.06}).paint(c)
	(&sea{horizon: 0.44, eye: 30, wind: 0.06, length: 14, deep: hex(0x2f6478).mul(0.6), above: &s, glint: 0.35, seed: 12, haze: 0.4}).paint(c)
	c.blur(0.008)
	st := stone(hex(0xcdb48c), 0.34, 0.7, 14)
	c.fill(poly(-0.1, 0.635, c.aspect+0.1, 0.60, c.aspect+0.1, 1.1, -0.1, 1.1), func(x, y float64) rgb {
		q := st(x*2.6+3, (1-y)*2.6+0.09*x)
		return q.paint.times(rgb{0.85, 0.58, 0.33}.mul(q.sun * (0.35 + 0.65*ramp(0.62, 0.66, y))).add(rgb{0.15, 0.16, 0.21}))
	})
	c.fill(poly(-0.1, 0.592, c.aspect+0.1, 0.562, c.aspect+0.1, 0.615, -0.1, 0.65), func(x, y float64) rgb {
		n := fbm(x*14, y*40, 4, 5)
		j := ramp(0.008, 0.003, math.Abs(frac(x*2.1+0.1)-0.5)/2.1)
		top := ramp(0.64, 0.6, y+0.022*x)
		return hex(0xe0c8a0).mul((0.45 + 0.65*top) * (0.6 + 0.75*n) * (1 - 0.5*j)).times(rgb{1.15, 0.88, 0.6})
	})
	c.cast(poly(0.98, 0.585, 1.1, 0.58, 1.48, 0.60, 1.36, 0.615, 1.05, 0.607), 0.01)
	c.cat(0.98, 0.592, 0.29, hex(0x3a2a22).mul(0.22), rgb{1.5, 0.95, 0.5}, true)
	leaves(c, 0.1, 0.56, 0.24, 0.17, 260, hex(0x3f5a2c), hex(0xc2b45a), 8)
	leaves(c, -0.02, 0.7, 0.2, 0.2, 200, hex(0x35502a), hex(0xa79f4c), 9)
	d := dice(6)
	for range 26 {
		c.ellipse(0.1+0.2*d.bell()*0.5, 0.6+0.16*d.bell()*0.5, 0.014, 0.012, 0, func(u, v float64) (rgb, float64) { return hex(0xd8437a).mul(0.85 - 0.3*v - 0.2*u), 1 })
	}
}
