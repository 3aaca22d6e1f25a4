package demo

import "math"

// velebit: the mountain above the channel, fold behind fold in the afternoon haze.
func velebit(c *canvas) {
	s := sky{horizon: 0.6, low: hex(0xf1dcc4), mid: hex(0xb9cbd9).mul(0.9), high: hex(0x6f9ac6).mul(0.75), sunX: c.aspect * 0.8, sunY: 0.08, sun: rgb{2.4, 1.9, 1.3}, glow: 0.5, clouds: 0.25, scale: 0.8, lit: hex(0xfbeede), dark: hex(0xb5bcc8).mul(0.85), seed: 34, softness: 0.25, stretch: 1.7}
	s.paint(c, 0.7)
	far, near := hex(0xb7c4d3).mul(0.8), hex(0x2f3f4a).mul(0.4)
	for i := range 7 {
		t := float64(i) / 6
		top := mix(far, near, math.Pow(t, 1.25))
		r := ridge{base: 0.28 + 0.105*float64(i) - 0.02*math.Sin(float64(i)*2), height: 0.2 - 0.013*float64(i), freq: 0.85 + 0.22*float64(i), rough: 6, seed: uint32(i)*13 + 41,
			top: top, foot: mix(top, hex(0xdcd3cc).mul(0.85), 0.62-0.25*t), depth: 0.15, rock: 0.35 + 0.3*t, light: mix(hex(0xf0d8b8), hex(0xa88d62), t).mul(0.35 * (1 - 0.3*t)), slopeX: 0.03 * math.Sin(float64(i)*1.7)}
		if i > 4 {
			r.trees = 0.004 + 0.004*(t-0.6)
		}
		r.paint(c)
		if i > 0 && i < 5 {
			c.haze(r.base+0.0, r.base+0.14, hex(0xe3d8cd).mul(0.88), 0.2, uint32(i)+3)
		}
	}
	mirrored := s // the channel gives back the upper sky, not the haze at its foot
	mirrored.low, mirrored.mid = hex(0xc3c6c8).mul(0.6), hex(0x8fa9c0).mul(0.6)
	(&sea{horizon: 0.872, eye: 60, wind: 0.16, length: 14, deep: hex(0x2c566c).mul(0.6), above: &mirrored, glint: 0.05, seed: 3, haze: 0.12}).paint(c)
	(&ridge{base: 1.0, height: 0.16, freq: 1.5, rough: 5, seed: 99, top: hex(0x2a2f24).mul(0.35), foot: hex(0x33382a).mul(0.5), depth: 0.1, trees: 0.02, rock: 0.6, light: hex(0x8c7c4c).mul(0.4), slopeX: 0.03}).paint(c)
}

// meadow is ground that runs to a horizon; cover gives colour by place in metres.
func meadow(c *canvas, horizon, eye float64, cover func(wx, wz, foot float64) rgb, roll float64) {
	c.shade(horizon, c.aspect, 1, func(x, y float64) rgb {
		t := y - horizon + 0.004 + roll*(fbm(x*1.5, 0.3, 2, 3)-0.5)*ramp(0.3, 0, y-horizon)
		d := eye / max(t, 0.003)
		return cover((x-c.aspect/2)*d, d, d*d/eye/c.unit)
	})
}

// blades adds grass and stalks near the eye, lit from one side.
func blades(c *canvas, n int, y0 float64, tall float64, dark, light rgb, seed uint32) {
	d := dice(seed)
	for i := range n {
		t := math.Sqrt(float64(i) / float64(n))
		y := lerp(y0, 1.08, t)
		k := (y - y0 + 0.12) * tall
		x := d.in(-0.05, c.aspect+0.05)
		lean := d.bell()*0.25 + 0.2
		v := mix(dark, light, clamp(d.next()*0.9+0.1*d.bell(), 0, 1))
		c.line(pt{x, y}, pt{x + lean*k*0.5, y - k*0.6}, 0.006*k*4, 0.004*k*4, v.mul(0.7), 0.9)
		c.line(pt{x + lean*k*0.5, y - k*0.6}, pt{x + lean*k, y - k}, 0.004*k*4, 0.001, v, 0.9)
	}
}

// ochreField: cut hay near Termoli, one pine, the sea as a line.
func ochreField(c *canvas) {
	s := sky{horizon: 0.46, low: hex(0xe9e0cf), mid: hex(0xa6c6de).mul(0.88), high: hex(0x5d93c7).mul(0.75), sunX: -0.3, sunY: 0.1, clouds: 0.36, scale: 0.9, lit: hex(0xfff6e8).mul(1.05), dark: hex(0xaeb8c6).mul(0.8), seed: 57, softness: 0.16, stretch: 1.2}
	s.paint(c, 0.5)
	c.fill(rect(0, 0.437, c.aspect, 0.47), func(x, y float64) rgb { return mix(hex(0x4d86ad), hex(0x86b3c4), ramp(0.46, 0.437, y)).mul(0.75) })
	(&ridge{base: 0.462, height: 0.03, freq: 1.6, rough: 4, seed: 22, top: hex(0x6f7f4b).mul(0.6), foot: hex(0x98904d).mul(0.7), depth: 0.03, trees: 0.006}).paint(c)
	meadow(c, 0.465, 2.6, func(wx, wz, foot float64) rgb {
		rows := 0.5 + 0.5*math.Sin((wx*0.92+wz*0.16)*2.1+1.2*fbm(wx*0.1, wz*0.06, 3, 4))
		rows *= 1 / (1 + foot*1.6)
		n := fbm(wx*0.12, wz*0.07, 4, 8) - 0.5
		f := (fbm(wx*6, wz*2.2, 3, 2) - 0.5) / (1 + foot*4)
		v := mix(hex(0xe0a63f), hex(0xc9933a), rows)
		v = mix(v, hex(0x9c9440), ramp(0.05, 0.3, n))
		return v.mul(0.9 * (1 + 0.6*n + 0.9*f - 0.35*rows))
	}, 0.06)
	x, y := c.aspect*0.68, 0.545
	c.cast(smooth(poly(x-0.01, y-0.004, x+0.12, y+0.0, x+0.3, y+0.012, x+0.34, y+0.028, x+0.26, y+0.036, x+0.12, y+0.022, x-0.005, y+0.008)), 0.006)
	c.crown(x, y+0.004, 0.3, 0.62, 0.62, hex(0x4b5b2a).mul(0.6), hex(0x93983f).mul(0.8), -1, 12)
	for i := range 5 {
		bx, by := 0.14+0.23*float64(i)+0.05*cellRnd(float64(i), 0, 2), 0.6+0.07*cellRnd(float64(i), 1, 5)
		bale(c, bx, by, 0.06*(by-0.46)*5.2)
	}
	blades(c, 1100, 0.8, 0.42, hex(0x9a7428).mul(0.5), hex(0xf0c668), 6)
}

// bale is a round bale of hay seen from its end, with its shadow.
func bale(c *canvas, x, y, r float64) {
	c.cast(oval(x+1.3*r, y-0.02*r, 1.5*r, 0.22*r), 0.1*r)
	side := func(px, py float64) rgb {
		k := math.Sin(clamp((y-py)/(2*r), 0, 1) * math.Pi * 0.5)
		return hex(0xc98f3a).mul((0.16 + 0.55*k*k) * (0.8 + 0.4*fbm(px*60, py*240, 3, 5)))
	}
	c.fill(rect(x, y-2*r, x+1.15*r, y), side)
	c.fill(oval(x+1.15*r, y-r, 0.5*r, r), side)
	c.ellipse(x, y-r, 0.62*r, r, 0, func(u, v float64) (rgb, float64) {
		d := math.Hypot(u, v)
		return hex(0xe0b052).mul(0.85 + 0.18*math.Sin(d*26+2*math.Atan2(v, u)) - 0.25*v*0.6 + 0.3*(fbm(u*9, v*9, 3, 4)-0.5)), 1
	})
}

// poppies: a field margin by the line south of Pescara.
func poppies(c *canvas) {
	s := sky{horizon: 0.3, low: hex(0xe3e6e2), mid: hex(0xb4cbdc).mul(0.9), high: hex(0x7ba3cc).mul(0.8), sunX: 1.4, sunY: 0, clouds: 0.45, scale: 0.9, lit: grey(1.0), dark: hex(0xb3bcc8).mul(0.8), seed: 67, softness: 0.2}
	s.paint(c, 0.33)
	(&ridge{base: 0.3, height: 0.1, freq: 1, rough: 4, seed: 6, top: hex(0x8fa3b0).mul(0.7), foot: hex(0xb0bdb8).mul(0.75), depth: 0.1}).paint(c)
	(&ridge{base: 0.325, height: 0.035, freq: 2, rough: 4, seed: 16, top: hex(0x5b6f45).mul(0.5), foot: hex(0x71804c).mul(0.55), depth: 0.05, trees: 0.008}).paint(c)
	for i := range 6 {
		c.cypress(0.2+0.045*float64(i)+0.01*cellRnd(float64(i), 0, 3), 0.33, 0.075+0.03*cellRnd(float64(i), 1, 3), hex(0x33452f).mul(0.55), uint32(i))
	}
	meadow(c, 0.325, 1.3, func(wx, wz, foot float64) rgb {
		n, f := fbm(wx*0.25, wz*0.1, 4, 5)-0.5, (fbm(wx*5, wz*1.5, 3, 7)-0.5)/(1+foot*3)
		red := ramp(0.48, 0.66, fbm(wx*0.14+3, wz*0.08, 3, 9)+0.4*f) * ramp(2, 9, wz)
		v := mix(hex(0x6f8a3c), hex(0xa9a852), ramp(-0.2, 0.3, n)).mul(0.62 * (1 + 0.7*n + f))
		return mix(v, hex(0xc23a24).mul(0.75), red*0.75)
	}, 0.03)
	blades(c, 2200, 0.5, 0.5, hex(0x3d5a22).mul(0.5), hex(0xb4c066).mul(0.9), 3)
	d := dice(11)
	for i := range 420 {
		t := math.Pow(float64(i)/420, 1.5)
		y := lerp(0.39, 1.04, t)
		r := 0.0022 + 0.036*t*d.in(0.6, 1.15)
		poppy(c, d.in(-0.02, c.aspect+0.02), y+d.bell()*0.01, r, &d)
	}
	c.blurBand(0.006, func(_, y float64) float64 { return max(ramp(0.5, 0.36, y)*0.8, ramp(0.86, 1.05, y)) })
}

func poppy(c *canvas, x, y, r float64, d *dice) {
	base := mix(hex(0xd8301c), hex(0xee5a2e), d.next())
	tilt, open := d.bell()*0.25, d.in(0.5, 0.85)
	if r > 0.007 {
		c.line(pt{x, y}, pt{x - r*0.6*tilt, y + r*4}, r*0.12, r*0.12, hex(0x5d7a34).mul(0.6), 1)
	}
	for k := range 3 {
		o := float64(k-1) * 0.42
		c.ellipse(x+o*r, y-math.Abs(o)*0.15*r, r*0.66, r*open, tilt+o*0.7, func(u, v float64) (rgb, float64) {
			return base.mul(clamp(0.75-0.38*v+0.25*u+0.12*math.Sin(u*14+o*3), 0.25, 1.3)), 1
		})
	}
	if r > 0.006 {
		c.ellipse(x, y+0.12*r, r*0.2, r*0.16, 0, func(_, _ float64) (rgb, float64) { return hex(0x241412).mul(0.4), 0.9 })
	}
}

// tiles is a roof of curved tiles seen from above; u along the eaves, v up the slope.
func tiles(base rgb, seed uint32) func(u, v float64) matter {
	return func(u, v float64) matter {
		col := math.Floor(u / 0.24)
		fu := frac(u / 0.24)
		row := math.Floor(v/0.36 + 0.3*cellRnd(col, 0, seed))
		fv := frac(v/0.36 + 0.3*cellRnd(col, 0, seed))
		id := cellRnd(col, row, seed+1)
		round := math.Sin(fu * math.Pi)
		n := fbm(u*1.1, v*1.1, 2, seed+2) - 0.5
		v0 := mix(base, mix(hex(0xe0b48c), hex(0x8d4a34), id), 0.45).mul(0.75 + 0.3*id + 0.7*n)
		v0 = mix(v0, hex(0x9a9a78).mul(0.8), ramp(0.6, 0.8, fbm(u*3, v*3, 2, seed+4))*0.5) // lichen
		return matter{paint: v0.mul(0.5 + 0.55*round), sun: (0.35 + 0.75*ramp(0.05, 0.6, fu)*ramp(1.05, 0.7, fu)) * (0.7 + 0.3*ramp(0, 0.15, fv))}
	}
}

// roofs: Šibenik from the fortress, tiles down to the channel.
func roofs(c *canvas) {
	s := sky{horizon: 0.17, low: hex(0xdfe6e6), mid: hex(0xa9cbe2).mul(0.9), high: hex(0x74a8d6).mul(0.8), sunX: -0.5, sunY: -0.2}
	s.paint(c, 0.2)
	(&ridge{base: 0.165, height: 0.06, freq: 1.2, rough: 5, seed: 61, top: hex(0x8d9fae).mul(0.7), foot: hex(0xa9b6ba).mul(0.75), depth: 0.06}).paint(c)
	w := sea{horizon: 0.185, eye: 33, wind: 0.05, length: 9, deep: hex(0x2b7794).mul(0.6), above: &s, seed: 4, haze: 0.3}
	(&ridge{base: 0.2, height: 0.035, freq: 1.7, rough: 4, seed: 24, top: hex(0x5b6b4a).mul(0.55), foot: hex(0x7c8566).mul(0.6), depth: 0.05, trees: 0.005, slopeX: -0.02, rock: 0.8, light: hex(0xa8a070).mul(0.35)}).paint(c)
	c.shade(0.212, c.aspect, 1, func(x, y float64) rgb { return w.at(c, x, y) })
	c.flat(rect(0, 0.2105, c.aspect, 0.2135), hex(0xb9b49a).mul(0.6))
	sc := look(c, vec{0, 33, 0}, 0, -14.5, 1.25)
	sc.sunDir, sc.sun, sc.amb = vec{-0.7, 0.62, 0.1}.unit(), rgb{2.3, 1.9, 1.3}, rgb{0.24, 0.28, 0.36}
	sc.fog, sc.fogReach = hex(0xb5c6d3).mul(0.85), 480
	for row := 14; row >= 0; row-- {
		z := 26 + 6.6*float64(row) + 0.28*float64(row*row)
		n := int(z/4.2) + 3
		for i := -n; i <= n; i++ {
			h := func(k uint32) float64 { return cellRnd(float64(i), float64(row), k) }
			w := 6.2 + 2.6*h(1)
			x := float64(i)*7.4 + 3.5*h(2) + float64(row%2)*3
			if p, d := sc.project(vec{x, 8, z}); d < 1 || p.x < -0.4 || p.x > c.aspect+0.4 {
				continue
			}
			house(sc, vec{x, 18 - 0.085*z + 2.4*h(3), z + 2*h(4)}, w, 6.5+2*h(5), 5.5, h(6) > 0.42, uint32(row*57+i+900))
		}
	}
	for i := range 3 {
		p, d := sc.project([]vec{{-16, 12, 62}, {24, 12, 52}, {3, 8, 96}}[i])
		k := sc.focal / d
		c.cypress(p.x, p.y+5*k, 14*k, hex(0x3b4f33).mul(0.7), uint32(i)+5)
	}
	belfry(sc, vec{9, 8, 88}, 30)
}

// house is four walls under a pitched roof; eaves at `at`.
func house(s *scene, at vec, w, deep, tall float64, across bool, seed uint32) {
	hue := []uint32{0xe8dcc3, 0xdcc7a0, 0xcfc0a8, 0xe3c9a4, 0xd6b48c}[seed%5]
	b := bays{wall: plaster(hex(hue).mul(0.9), 0.5, seed%7), wide: 2.4, high: 2.8, w: 0.8, h: 1.3, sill: 0.9, first: tall - 5.4, shutter: []rgb{hex(0x4b6f4e), hex(0x6d4b36), hex(0x3d6c98)}[seed%3], frame: hex(0xddd3c0), shut: 0.5, sunSide: -1, fall: 0.25, seed: seed % 11}
	lo, hi := at.add(vec{0, -tall, 0}), at.add(vec{w, 0, deep})
	front := b.at
	if at.z > 80 { // too far to see what the wall is like
		front = plain(hex(hue).mul(0.85))
	}
	s.box(lo, hi, front, front, plain(grey(0.3)))
	t := tiles(mix(hex(0xc4683a), hex(0xb47650), cellRnd(float64(seed), 0, 3)), seed%13)
	const e, rise = 0.4, 2.0
	if across { // ridge from left to right: one slope faces the eye
		s.lay(panel{at.add(vec{-e, rise, deep / 2}), vec{w + 2*e, 0, 0}, vec{0, -rise - 0.2, deep/2 + e}, t})
		s.lay(panel{at.add(vec{-e, -0.2, -e}), vec{w + 2*e, 0, 0}, vec{0, rise + 0.2, deep/2 + e}, t})
		s.rod(at.add(vec{-e, rise, deep / 2}), at.add(vec{w + e, rise, deep / 2}), 0.3, hex(0xd08a62).mul(0.7))
	} else { // ridge runs away: a gable, one slope in the sun and one in shade
		p, _ := s.project(at)
		q, _ := s.project(at.add(vec{w, 0, 0}))
		r, _ := s.project(at.add(vec{w / 2, rise, 0}))
		s.c.flat(poly(p.x, p.y, r.x, r.y, q.x, q.y), hex(hue).times(s.amb).mul(1.25))
		left := panel{at.add(vec{-e, -0.25, -e}), vec{0, 0, deep + 2*e}, vec{w/2 + e, rise + 0.25, 0}, t}
		right := panel{at.add(vec{w + e, -0.25, -e}), vec{0, 0, deep + 2*e}, vec{-w/2 - e, rise + 0.25, 0}, t}
		if s.eye.x < at.x+w/2 {
			s.lay(right)
			s.lay(left)
		} else {
			s.lay(left)
			s.lay(right)
		}
		s.rod(at.add(vec{w / 2, rise, -e}), at.add(vec{w / 2, rise, deep + e}), 0.3, hex(0xd08a62).mul(0.6))
	}
	if seed%3 == 0 {
		k := at.add(vec{w * 0.3, 0.6, deep * 0.45})
		s.box(k, k.add(vec{0.7, 1.9, 0.7}), plain(hex(0xd9c8aa)), plain(hex(0xcdbd9f)), plain(hex(0xa06040)))
	}
}

// belfry is a slender stone tower with a pyramid on top.
func belfry(s *scene, at vec, tall float64) {
	st := stone(hex(0xe3d8c0), 0.7, 1.2, 3)
	open := func(u, v float64) matter {
		m := st(u, v)
		if d := math.Abs(u - 2.2); v > tall-6 && v < tall-2 && d < 1.1 && math.Hypot(d, max(0, v-tall+3.1)) < 1.1 {
			m.paint = grey(0.04)
		}
		return m
	}
	s.box(at.add(vec{0, -10, 0}), at.add(vec{4.4, tall - 10, 4.4}), open, func(u, v float64) matter { return open(u, v) }, plain(grey(0.4)))
	p, d := s.project(at.add(vec{2.2, tall - 10, 0}))
	k := s.focal / d
	top := s.sun.mul(0.75).add(s.amb)
	s.c.flat(poly(p.x-2.5*k, p.y, p.x, p.y-6*k, p.x-0.3*k, p.y), mix(hex(0xcdbba0).times(top), s.fog, 0.2))
	s.c.flat(poly(p.x-0.4*k, p.y, p.x, p.y-6*k, p.x+2.5*k, p.y), mix(hex(0xcdbba0).times(s.amb), s.fog, 0.2))
}
