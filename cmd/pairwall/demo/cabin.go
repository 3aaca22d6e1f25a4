package demo

import "math"

// compartment is a train compartment with nobody in it: two benches, a window
// between them, the sun across one side. grey turns it to black and white stock.
func compartment(c *canvas, eye vec, yaw float64, seat, panelling, floor rgb, seaside bool, seed uint32) {
	out := newCanvas(c.w/2, c.h/2)
	landscape(out, seaside, seed)
	out.blur(0.006)
	c.shade(0, c.aspect, 1, func(_, _ float64) rgb { return grey(0.02) })
	sc := look(c, eye, yaw, -5, 0.92)
	sc.sunDir, sc.sun, sc.amb = vec{0.5, 0.62, 0.62}.unit(), rgb{3.4, 2.9, 2.1}, rgb{0.13, 0.14, 0.16}
	const half, deep, tall = 1.05, 1.15, 2.25
	hole := func(u, v float64) matter {
		x, y := u-half, v
		return matter{paint: panelling.mul(0.8 + 0.2*fbm(u*9, v*2, 3, 4)), open: math.Abs(x) < 0.62 && y > 0.95 && y < 1.85}
	}
	sc.casts = []panel{{o: vec{-half, 0, deep}, a: vec{2 * half, 0, 0}, b: vec{0, tall, 0}, m: hole}}
	sc.penumbra = 0.008
	// The window lights the room: a lamp of the sky's colour just inside it.
	sc.lamps = []lamp{{vec{0, 1.4, 0.75}, rgb{0.32, 0.37, 0.42}}, {vec{-0.55, 0.75, -0.1}, rgb{0.07, 0.055, 0.035}}}
	c.glaze(0, 0, c.aspect, 1, func(x, y float64) (rgb, float64) { return out.sample(x, clamp(y*1.05+0.08, 0, 1)).mul(1.55), 1 })
	sc.lay(panel{vec{-half, 0, deep}, vec{2 * half, 0, 0}, vec{0, tall, 0}, hole})
	sc.lay(panel{vec{-half, 0, -2}, vec{2 * half, 0, 0}, vec{0, 0, deep + 2}, planks(floor, 0.35, 3)})
	sc.lay(panel{vec{-half, tall, -2}, vec{2 * half, 0, 0}, vec{0, 0, deep + 2}, plain(grey(0.5))})
	for _, d := range []float64{-1, 1} {
		sc.lay(panel{vec{d * half, 0, -2}, vec{0, 0, deep + 2}, vec{0, tall, 0}, func(u, v float64) matter {
			return matter{paint: panelling.mul(0.75 + 0.25*fbm(u*2, v*12, 3, 6)), sun: 1}
		}})
		bench(sc, d, half, deep, seat)
		for i := range 5 { // luggage rack
			y := 1.92 + 0.02*float64(i)
			sc.rod(vec{d * (half - 0.08*float64(i)), y, -1.8}, vec{d * (half - 0.08*float64(i)), y, deep - 0.05}, 0.012, grey(0.25))
		}
	}
	windowFrame(sc, deep)
}

// bench is one seat along the wall: cushion, back and head rest with seams.
func bench(sc *scene, d, half, deep float64, seat rgb) {
	cloth := func(seamEvery float64) func(u, v float64) matter {
		return func(u, v float64) matter {
			seam := math.Abs(frac(u/seamEvery) - 0.5)
			puff := ramp(0.5, 0.44, seam)
			n := fbm(u*30, v*30, 2, 4) - 0.5
			return matter{paint: seat.mul((0.85 + 0.3*n) * (0.45 + 0.55*puff) * (0.75 + 0.25*ramp(0, 0.1, v))), sun: 0.5 + 0.5*puff}
		}
	}
	in := half - 0.56
	sc.lay(panel{vec{d * (half - 0.1), 0.42, -1.7}, vec{0, 0, deep + 1.6}, vec{-d * -0.06, 0.95, 0}, cloth(0.62)})
	sc.lay(panel{vec{d * in, 0.47, -1.7}, vec{0, 0, deep + 1.6}, vec{d * 0.5, -0.03, 0}, cloth(0.62)})
	sc.lay(panel{vec{d * in, 0.3, -1.7}, vec{0, 0, deep + 1.6}, vec{0, 0.17, 0}, cloth(0.62)})
	sc.lay(panel{vec{d * (in + 0.06), 0, -1.7}, vec{0, 0, deep + 1.6}, vec{0, 0.3, 0}, plain(grey(0.06))})
	sc.lay(panel{vec{d * (half - 0.16), 1.12, -1.7}, vec{0, 0, deep + 1.6}, vec{0, 0.26, 0}, func(u, v float64) matter {
		return matter{paint: grey(0.62).mul(0.9 + 0.2*fbm(u*9, v*9, 2, 6)), sun: 1, open: frac(u/0.62) < 0.14}
	}})
}

// windowFrame is the metal round the glass, the sill table and half a curtain.
func windowFrame(sc *scene, deep float64) {
	z := deep - 0.02
	alu := hex(0xb9b6ae)
	for _, e := range [][4]float64{{-0.64, 0.93, 0.64, 0.97}, {-0.64, 1.83, 0.64, 1.88}, {-0.66, 0.93, -0.61, 1.88}, {0.61, 0.93, 0.66, 1.88}, {-0.62, 1.52, 0.62, 1.55}} {
		sc.lay(panel{vec{e[0], e[1], z}, vec{e[2] - e[0], 0, 0}, vec{0, e[3] - e[1], 0}, plain(alu.mul(0.5))})
	}
	sc.lay(panel{vec{-0.26, 0.86, z - 0.36}, vec{0.52, 0, 0}, vec{0, 0, 0.36}, planks(hex(0x8b6a48), 0.3, 5)})
	sc.lay(panel{vec{-0.26, 0.82, z - 0.36}, vec{0.52, 0, 0}, vec{0, 0.04, 0}, plain(hex(0x5d4630))})
	for _, d := range []float64{-1, 1} {
		o := sc.outline(vec{d * 0.78, 1.9, z - 0.05}, vec{d * 0.5, 1.9, z - 0.05}, vec{d * 0.54, 1.4, z - 0.05}, vec{d * 0.6, 0.95, z - 0.05}, vec{d * 0.8, 0.95, z - 0.05})
		p, _ := sc.project(vec{d * 0.65, 1.4, z})
		sc.c.fill(o, func(x, y float64) rgb {
			f := 0.6 + 0.4*math.Sin((x-p.x)*160+3*math.Sin(y*5))
			return hex(0xb98a4a).mul(0.16 + 0.55*f*ramp(0.05, -0.05, d*(x-p.x)))
		})
	}
}

func compartmentColour(c *canvas) {
	compartment(c, vec{0.12, 1.25, -1.9}, 1, hex(0x2f6a68), hex(0x9b6f45), hex(0x5a5450).mul(0.6), false, 15)
}
func compartmentGrey(c *canvas) {
	compartment(c, vec{0.62, 1.3, -1.15}, -24, grey(0.12), grey(0.3), grey(0.12), true, 21)
}

// trainWindow: the coast beyond Ancona through the glass of a local train.
func trainWindow(c *canvas) {
	landscape(c, true, 37)
	// Faint image of the carriage in the glass.
	c.coarse(0, 1, 4, func(x, y float64) (rgb, float64) {
		k := ramp(0.52, 0.6, noise(x*3.1+1, 0.5, 4)) * ramp(0.9, 0.4, y)
		return rgb{0.5, 0.42, 0.34}, 0.13 * k
	})
	wall := func(x, y float64) rgb {
		k := 0.5 + 0.4*fbm(x*2, y*2, 3, 8)
		return hex(0x7d7a72).mul(0.09 * k)
	}
	a := c.aspect
	r := rounded
	frame := append(rect(-0.1, -0.1, a+0.1, 1.1), reverse(r(0.1*a, 0.09, 0.93*a, 0.80, 0.05)[0]))
	c.fill(frame, wall)
	rim := append(r(0.088*a, 0.075, 0.942*a, 0.815, 0.06), reverse(r(0.1*a, 0.09, 0.93*a, 0.80, 0.05)[0]))
	c.fill(rim, func(x, y float64) rgb { return hex(0xa9a9a4).mul(0.10 + 0.5*ramp(0.76, 0.815, y)) })
	c.fill(poly(0.02*a, 0.87, 0.98*a, 0.86, 1.08*a, 1.1, -0.1*a, 1.1), func(x, y float64) rgb {
		n := fbm(x*14, y*90, 3, 3)
		glow := math.Exp(-math.Pow((x-a*0.52)/0.5, 2)) * ramp(1.02, 0.87, y)
		return hex(0x6b4d33).mul((0.25 + 0.5*glow) * (0.7 + 0.6*n)).add(rgb{0.45, 0.5, 0.5}.mul(0.35 * glow))
	})
	cup(c, 0.70*a, 0.905, 0.066, rgb{0.35, 0.36, 0.37}, rgb{1.0, 0.98, 0.92})
	c.veil(poly(0.1*a, 0.09, 0.135*a, 0.09, 0.19*a, 0.8, 0.1*a, 0.8), 0.012, hex(0x3f6a9a).mul(0.35), 0.8)
}

// rounded is a rectangle whose corners are quarter circles of radius q.
func rounded(x0, y0, x1, y1, q float64) path {
	var o []pt
	for i, k := range []pt{{x1 - q, y1 - q}, {x0 + q, y1 - q}, {x0 + q, y0 + q}, {x1 - q, y0 + q}} {
		for j := range 9 {
			s, t := math.Sincos((float64(i) + float64(j)/8) * math.Pi / 2)
			o = append(o, pt{k.x + q*t, k.y + q*s})
		}
	}
	return path{o}
}

func reverse(p []pt) []pt {
	out := make([]pt, len(p))
	for i, q := range p {
		out[len(p)-1-i] = q
	}
	return out
}

// cup is a paper cup or small white cup seen from a low angle.
func cup(c *canvas, x, y, r float64, shade, light rgb) {
	c.dim(oval(x+0.6*r, y+0.75*r, 1.3*r, 0.25*r), 0.1*r, grey(0.45))
	c.fill(smooth(poly(x-r*0.75, y-0.8*r, x+r*0.75, y-0.8*r, x+0.6*r, y+0.7*r, x+0.3*r, y+0.85*r, x-0.3*r, y+0.85*r, x-0.6*r, y+0.7*r)), func(px, _ float64) rgb {
		u := (px - x) / r
		return mix(light, shade, ramp(-0.6, 0.7, u)).mul(1 - 0.35*ramp(-0.55, -0.8, u))
	})
	c.ellipse(x, y-0.8*r, 0.78*r, 0.2*r, 0, func(u, v float64) (rgb, float64) { return light.mul(0.9), 1 })
	c.ellipse(x, y-0.78*r, 0.68*r, 0.15*r, 0, func(u, v float64) (rgb, float64) { return hex(0x2a1508).mul(0.8), 1 })
}

// rainWindow: Rijeka by night through a wet pane.
func rainWindow(c *canvas) {
	c.shade(0, c.aspect, 1, func(x, y float64) rgb {
		return mix(hex(0x24384f).mul(0.35), hex(0x141a22).mul(0.3), ramp(0.2, 0.75, y)).mul(0.8 + 0.4*noise(x*3, y*3, 5))
	})
	d := dice(77)
	hues := []rgb{{2.4, 1.15, 0.35}, {2.2, 1.7, 0.9}, {1.9, 0.18, 0.1}, {0.3, 1.3, 0.85}, {2.5, 1.0, 0.25}, {1.3, 1.6, 1.9}}
	for i := range 46 { // lights out of focus: discs with a brighter rim
		x, y := d.in(-0.05, c.aspect+0.05), 0.56+d.bell()*0.13
		r, v := d.in(0.018, 0.06), hues[i%len(hues)].mul(d.in(0.12, 0.6))
		c.ellipse(x, y, r, r, 0, func(u, w float64) (rgb, float64) {
			q := math.Hypot(u, w)
			return c.sample(x+u*r, y+w*r).add(v.mul(0.7 + 0.5*ramp(0.75, 0.97, q))), 1
		})
	}
	c.blur(0.006)
	c.coarse(0, 1, 3, func(x, y float64) (rgb, float64) { return hex(0x5d7186).mul(0.32), 0.2 * fbm(x*3, y*2, 3, 9) })
	back := c.clone()
	for range 1500 {
		r := math.Pow(d.next(), 3)*0.012 + 0.0015
		drop(c, back, d.in(0, c.aspect), d.in(0, 1), r, r*d.in(1, 1.35))
	}
	for i := range 15 {
		trickle(c, back, d.in(0, c.aspect), d.in(0.2, 0.95), uint32(i), &d)
	}
	c.flat(rect(0, 0, 0.055, 1), hex(0x1b1d20).mul(0.25))
	c.fill(rect(0.055, 0, 0.066, 1), func(_, y float64) rgb { return hex(0x6a7078).mul(0.16 + 0.1*noise(1, y*6, 3)) })
}

// drop is a lens of water: it shows the view upside down, dark above and bright below.
func drop(c, back *canvas, x, y, rx, ry float64) {
	c.ellipse(x, y, rx, ry, 0, func(u, v float64) (rgb, float64) {
		q := u*u + v*v
		s := back.sample(clamp(x-u*0.16, 0, c.aspect), clamp(y-v*0.2+0.02, 0, 1))
		k := 0.55 + 0.55*v + 0.35*ramp(0.5, 1, q)*v
		w := s.mul(max(0.18, k) * 1.5)
		w = w.add(grey(0.5).mul(ramp(0.25, 0.0, math.Hypot(u+0.35, v+0.45))))
		return w, ramp(1.0, 0.75, q)
	})
}

// trickle is a drop that has run down and left a track of beads.
func trickle(c, back *canvas, x, y float64, seed uint32, d *dice) {
	top, r := y-d.in(0.15, 0.55), d.in(0.006, 0.0095)
	px := x
	for t := top; t < y; t += 0.006 {
		nx := x + 0.02*(fbm(t*5, 1, 3, seed)-0.5)
		c.glaze(nx-r*0.5, t, nx+r*0.5, t+0.0062, func(qx, qy float64) (rgb, float64) {
			u := (qx - nx) / (r * 0.5)
			return back.sample(clamp(qx-u*0.05, 0, c.aspect), clamp(qy+0.05, 0, 1)).mul(0.85 + 0.5*u), 0.75 * (1 - u*u)
		})
		if d.next() < 0.1 {
			drop(c, back, nx+d.bell()*0.002, t, r*0.45, r*0.55)
		}
		px = nx
	}
	drop(c, back, px, y, r, r*1.35)
}
