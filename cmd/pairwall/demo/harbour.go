package demo

import "math"

// column is a lamp's broken image in the water: a tall streak of glints below the line.
func (c *canvas) column(x, line, length, width float64, v rgb, seed uint32) {
	c.glaze(x-6*width, line, x+6*width, line+length*1.1, func(px, py float64) (rgb, float64) {
		t := (py - line) / length
		p := 1 / (0.05 + t*0.5)
		sway := (fbm(px*8, p*12+t*40, 3, seed) - 0.5) * width * (2 + 5*t)
		d := (px - x + sway) / (width * (0.7 + 1.2*t))
		n := ramp(0.42-0.25*(1-t), 0.62, fbm(px*20+3, p*16+t*110, 3, seed+3))
		g := math.Exp(-d*d) * n * math.Pow(max(0, 1-t), 0.8)
		return c.get(int(px*c.unit), int(py*c.unit)).add(v.mul(g)), 1
	})
}

// cranes: Koper's quay in the haze of the morning.
func cranes(c *canvas) {
	s := sky{horizon: 0.62, low: hex(0xf3d2a9), mid: hex(0xd9c3b0).mul(0.85), high: hex(0x92a7b8).mul(0.75),
		sunX: 0.36, sunY: 0.42, sun: rgb{4, 2.7, 1.5}, disc: 0.022, glow: 0.32, streak: 0.3, streakY: 6, lit: hex(0xf5dcc0), seed: 8}
	s.paint(c, 0.66)
	(&ridge{base: 0.6, height: 0.09, freq: 1.3, rough: 4, seed: 3, top: hex(0xb3a9a4).mul(0.8), foot: hex(0xe6c9a6).mul(0.9), depth: 0.08}).paint(c)
	for i, k := range []struct{ x, h, fog float64 }{{0.62, 0.2, 0.72}, {0.8, 0.22, 0.66}, {0.2, 0.27, 0.55}, {1.03, 0.36, 0.3}, {1.3, 0.5, 0.05}} {
		gantry(c, k.x, 0.625, k.h, mix(hex(0x2e3844).mul(0.6), hex(0xe0c4a4).mul(0.85), k.fog), i%2 == 0)
	}
	c.fill(poly(0.0, 0.6, c.aspect, 0.59, c.aspect, 0.64, 0, 0.635), func(x, y float64) rgb {
		st := cellRnd(x*42, y*90, 4)
		v := mix(hex(0x54504f), hex(0x8c5a41), st*st).mul(0.35 + 0.35*st)
		return mix(v, hex(0xd9bd9d).mul(0.8), 0.62-0.3*x/c.aspect)
	})
	(&mirror{line: 0.637, ripple: 0.035, scale: 9, tint: hex(0xe9e4dc), deep: hex(0x51606a).mul(0.6), dim: 0.92, seed: 5}).paint(c)
	c.haze(0.5, 0.64, hex(0xefd2ae), 0.10, 9)
	b := []boat{{x: 0.42, y: 0.75, l: 0.2, hull: hex(0x33383d).mul(0.5), top: hex(0x7d6f66), stripe: hex(0x50433c), cabin: true, mast: 0.4}}
	c.fleet(b, hex(0x6d6a66).mul(0.6), 0.012, 8)
}

// gantry is a container crane: legs, a boom over the water, stays.
func gantry(c *canvas, x, y, h float64, v rgb, right bool) {
	d := 1.0
	if !right {
		d = -1
	}
	at := func(u, t float64) pt { return pt{x + d*u*h, y - t*h} }
	w := 0.028 * h
	for _, u := range []float64{-0.17, 0.17} {
		c.line(at(u, 0), at(u*0.95, 0.66), w, w, v, 1)
	}
	c.line(at(-0.17, 0.3), at(0.17, 0.3), w*0.8, w*0.8, v, 1)
	c.line(at(-0.17, 0.02), at(0.17, 0.3), w*0.4, w*0.4, v, 1)
	c.line(at(-0.5, 0.66), at(0.2, 0.66), w*1.5, w*1.5, v, 1)
	c.line(at(0.2, 0.66), at(0.78, 0.92), w*1.3, w, v, 1)
	c.line(at(0.14, 0.66), at(0.1, 1.0), w*0.9, w*0.7, v, 1)
	c.line(at(0.1, 1.0), at(0.78, 0.92), w*0.35, w*0.35, v, 1)
	c.line(at(0.1, 1.0), at(-0.48, 0.67), w*0.35, w*0.35, v, 1)
	c.line(at(0.1, 1.0), at(-0.15, 0.67), w*0.35, w*0.35, v, 1)
	c.flat(poly(at(-0.3, 0.68).x, at(0, 0.68).y, at(-0.12, 0.68).x, at(0, 0.68).y, at(-0.12, 0.77).x, at(0, 0.77).y, at(-0.3, 0.77).x, at(0, 0.77).y), v)
}

// boats: Piran's small harbour at noon, house fronts in the water.
func boats(c *canvas) {
	s := sky{horizon: 0.6, low: hex(0xcfe0e8).mul(0.9), mid: hex(0x8db7d6).mul(0.8), high: hex(0x4f86bd).mul(0.7), sunX: 0.2, sunY: -0.5}
	s.paint(c, 0.5)
	(&ridge{base: 0.2, height: 0.09, freq: 1.5, rough: 5, seed: 12, top: hex(0x56703f).mul(0.55), foot: hex(0x4f683d).mul(0.45), depth: 0.2, trees: 0.012, rock: 1.1, light: hex(0x9aa552).mul(0.35)}).paint(c)
	hues := []uint32{0xd9a15a, 0xe8d5b0, 0xc77b58, 0xe9c27b, 0xd8c8b4, 0xb9b08d, 0xdda884, 0xe6d9c2, 0xd18f4e}
	x, k := -0.03, 0
	for x < c.aspect {
		w := 0.16 + 0.09*cellRnd(float64(k), 2, 5)
		top := 0.15 + 0.16*cellRnd(float64(k), 3, 9)
		front(c, x, top, x+w, 0.545, hex(hues[k%len(hues)]).mul(0.9), uint32(k))
		x, k = x+w, k+1
	}
	c.fill(rect(0, 0.54, c.aspect, 0.585), func(x, y float64) rgb {
		m := stone(hex(0xb9ac97), 0.018, 0.05, 4)(x, y)
		return m.paint.mul(0.8 * m.sun * (1 - 0.6*ramp(0.565, 0.585, y)))
	})
	(&mirror{line: 0.585, ripple: 0.05, scale: 10, tint: hex(0xcfdad2), deep: hex(0x1c4a4e).mul(0.7), dim: 0.8, seed: 15}).paint(c)
	bs := []boat{
		{x: 0.2, y: 0.63, l: 0.2, hull: hex(0xe8e6df), stripe: hex(0x2b5f9a), tarp: hex(0x2f66a0), mast: 0.5},
		{x: 0.52, y: 0.625, l: -0.19, hull: hex(0x2d6ca6), stripe: hex(0xf0ece0), tarp: hex(0xd9d2c0), mast: 0.9},
		{x: 0.9, y: 0.65, l: 0.26, hull: hex(0xefeae0), stripe: hex(0xb03a2e), top: hex(0xe9e6de), cabin: true},
		{x: 1.3, y: 0.69, l: -0.34, hull: hex(0x2a5c94), stripe: hex(0xe9e4d6), tarp: hex(0xc9752f), mast: 0.7},
		{x: 0.43, y: 0.81, l: 0.52, hull: hex(0xeceae4), stripe: hex(0x2b5f9a), tarp: hex(0x2a639e)},
	}
	c.fleet(bs, hex(0x2f5a5c).mul(0.6), 0.02, 18)
}

// front is a house seen square on, in picture units; one unit of height is about 22 m.
func front(c *canvas, x0, y0, x1, y1 float64, wall rgb, seed uint32) {
	const m = 24.0
	b := bays{wall: plaster(wall, 0.3, seed), wide: 1.9 + 0.9*cellRnd(float64(seed), 5, 1), high: 2.7 + 0.5*cellRnd(float64(seed), 6, 1), w: 0.85, h: 1.5, sill: 0.7, first: 2.6,
		shutter: []rgb{hex(0x3f6b4d), hex(0x7a4a30), hex(0x3a6793), hex(0x56705c)}[seed%4], frame: hex(0xe2dccd),
		shut: 0.35, sunSide: -1, fall: 0.35, seed: seed + 3}
	c.fill(rect(x0, y0, x1, y1), func(x, y float64) rgb {
		q := b.at((x-x0)*m+0.35, (y1-y)*m)
		eave := ramp(0.035, 0.012, y-y0)
		return q.paint.times(rgb{1.12, 1.02, 0.86}.mul(0.85 * q.sun * (1 - 0.9*eave)).add(rgb{0.2, 0.24, 0.3}))
	})
	c.cast(poly(x0-0.002, y0-0.01, x0+0.012, y0+0.03, x0+0.012, y1, x0-0.002, y1), 0.004) // shade of the taller neighbour
	for i := range 2 {                                                                    // ground floor: dark openings, some with an awning
		u := x0 + (x1-x0)*(0.27+0.46*float64(i))
		c.flat(rect(u-0.02, y1-0.075, u+0.02, y1), hex(0x2c2a26).mul(0.35))
		if cellRnd(float64(seed), float64(i), 9) > 0.45 {
			hue := []rgb{hex(0xd9d2bf), hex(0xb5523c), hex(0x4a7a8c)}[(int(seed)+i)%3]
			c.fill(poly(u-0.027, y1-0.088, u+0.027, y1-0.088, u+0.034, y1-0.058, u-0.034, y1-0.058), func(x, y float64) rgb {
				return hue.mul(0.8 + 0.35*math.Round(frac(x*110)) - 0.3*ramp(y1-0.088, y1-0.058, y))
			})
		}
	}
	c.fill(poly(x0-0.006, y0+0.006, x0+0.012, y0-0.04, x1-0.012, y0-0.04, x1+0.006, y0+0.006), func(x, y float64) rgb {
		r := 0.6 + 0.4*math.Abs(math.Sin((x-x0)*330))
		return hex(0xb5694a).mul(r * (0.75 + 0.5*fbm(x*60, y*90, 3, seed)))
	})
}

// quayNight: lamps along the quay at Pula, a moored tug.
func quayNight(c *canvas) {
	s := sky{horizon: 0.5, low: hex(0x3e5c86).mul(0.55), mid: hex(0x223f6c).mul(0.5), high: hex(0x122548).mul(0.5), sunX: 0.2, sunY: 0.45, clouds: 0.3, scale: 0.8, lit: hex(0x6a7396).mul(0.4), dark: hex(0x1c2a48).mul(0.4), seed: 31, softness: 0.3}
	s.paint(c, 0.55)
	(&ridge{base: 0.455, height: 0.05, freq: 1.4, rough: 5, seed: 9, top: hex(0x141e33).mul(0.5), foot: hex(0x1a2233).mul(0.5), depth: 0.1, trees: 0.006}).paint(c)
	for i := range 13 { // dark fronts with a few windows lit
		x := float64(i)*0.12 - 0.02
		h := 0.06 + 0.07*cellRnd(float64(i), 0, 7)
		hue := mix(hex(0x8a6c50), hex(0x6d6a70), cellRnd(float64(i), 1, 3)).mul(0.16)
		c.fill(rect(x, 0.53-h, x+0.125, 0.535), func(px, py float64) rgb {
			cx, cy := (px-x)/0.021, (py-0.53+h)/0.026
			lit := cellRnd(cx, cy, uint32(i)+50)
			in := math.Abs(frac(cx)-0.5) < 0.22 && math.Abs(frac(cy)-0.5) < 0.3
			v := hue.mul(0.5 + 1.8*ramp(0.45, 0.54, py))
			if in && lit > 0.72 {
				return rgb{1.3, 0.75, 0.3}.mul(0.6 + lit*0.6)
			} else if in {
				return v.mul(0.4)
			}
			return v
		})
	}
	c.flat(rect(0, 0.53, c.aspect, 0.553), hex(0x3b342c).mul(0.18))
	for _, k := range []float64{0.17, 0.9, 1.18} {
		gantry(c, k, 0.54, 0.3, hex(0x141a2a).mul(0.45), k < 0.5)
		c.lift(k, 0.43, 0.006, rgb{1.6, 0.12, 0.08})
	}
	(&mirror{line: 0.553, ripple: 0.06, scale: 9, tint: hex(0xc4cfdd), deep: hex(0x0b1828).mul(0.35), dim: 0.85, seed: 4}).paint(c)
	for i := range 9 {
		x := 0.07 + 0.168*float64(i) + 0.02*cellRnd(float64(i), 4, 1)
		v := mix(rgb{3.4, 1.75, 0.6}, rgb{2.2, 2.4, 2.1}, math.Floor(cellRnd(float64(i), 9, 2)+0.25))
		c.line(pt{x, 0.535}, pt{x, 0.462}, 0.003, 0.002, grey(0.01), 1)
		c.lift(x, 0.462, 0.0045, v.mul(5))
		c.lift(x, 0.465, 0.035, v.mul(0.14))
		c.lift(x, 0.53, 0.03, v.mul(0.10))
		c.column(x, 0.556, 0.34, 0.011, v.mul(0.75), uint32(i)*7)
	}
	b := []boat{{x: 0.62, y: 0.60, l: 0.26, hull: hex(0x1c2c44).mul(0.25), top: hex(0xb9a68a).mul(0.2), stripe: hex(0x83402c).mul(0.25), cabin: true, mast: 0.5}}
	c.fleet(b, hex(0x0d1a2a).mul(0.3), 0.015, 3)
	c.lift(0.6, 0.545, 0.012, rgb{1.2, 0.8, 0.4})
}

// nightFerry: the ship for Ancona at Split's quay, before boarding.
func nightFerry(c *canvas) {
	s := sky{horizon: 0.6, low: hex(0x66688a).mul(0.5), mid: hex(0x37486c).mul(0.5), high: hex(0x1b2740).mul(0.5), sunX: 1.4, sunY: 0.6, clouds: 0.35, scale: 1, lit: hex(0x8a6f8c).mul(0.45), dark: hex(0x222b4c).mul(0.4), seed: 71, softness: 0.3}
	s.paint(c, 0.65)
	(&ridge{base: 0.6, height: 0.16, freq: 0.9, rough: 5, seed: 17, top: hex(0x1d2338).mul(0.35), foot: hex(0x2b2f40).mul(0.45), depth: 0.12, trees: 0.004, slopeX: -0.03}).paint(c)
	d := dice(3)
	for range 90 { // the suburbs on the slope behind
		x, k := d.in(0, c.aspect), d.next()
		y := 0.632 - 0.075*k*k
		v := mix(rgb{1.5, 0.8, 0.3}, rgb{1.2, 1.2, 1.0}, math.Floor(d.next()*1.3)).mul(d.in(0.15, 0.9))
		c.lift(x, y, 0.0017, v)
		c.lift(x, y, 0.007, v.mul(0.05))
	}
	ship(c)
	(&mirror{line: 0.64, ripple: 0.06, scale: 9, tint: hex(0xb9c6d8), deep: hex(0x0a1428).mul(0.35), dim: 0.9, seed: 14}).paint(c)
	for i := range 12 {
		x := 0.3 + 0.077*float64(i)
		c.lift(x, 0.535, 0.0035, rgb{3, 2.4, 1.4})
		c.lift(x, 0.53, 0.03, rgb{0.10, 0.075, 0.04})
		c.column(x, 0.66, 0.3, 0.012, rgb{0.8, 0.55, 0.26}, uint32(i)*5)
	}
	for _, l := range []struct{ x, y float64 }{{0.06, 0.42}, {1.42, 0.36}} {
		c.line(pt{l.x, 0.66}, pt{l.x, l.y}, 0.006, 0.004, grey(0.01), 1)
		c.lift(l.x, l.y, 0.008, rgb{12, 6.5, 2.4})
		c.lift(l.x, l.y, 0.07, rgb{0.5, 0.26, 0.09})
		c.column(l.x, 0.66, 0.33, 0.018, rgb{2.2, 1.1, 0.4}, 90)
	}
}

// ship is the night ferry: hull, stepped decks with their lit windows, funnel, mast.
func ship(c *canvas) {
	at := func(x, y float64) pt { return pt{0.16 + x*1.16, 0.64 - y*0.5} }
	hull := path{{at(0.015, 0), at(0, 0.2), at(0.05, 0.215), at(0.85, 0.2), at(0.95, 0.22), at(1.07, 0.265), at(1.03, 0.14), at(0.985, 0)}}
	deck := path{{at(0.04, 0.19), at(0.045, 0.29), at(0.11, 0.3), at(0.115, 0.38), at(0.2, 0.39), at(0.205, 0.47), at(0.27, 0.48), at(0.275, 0.52), at(0.8, 0.53), at(0.85, 0.45), at(0.885, 0.36), at(0.93, 0.19)}}
	c.fill(deck, func(x, y float64) rgb {
		row := frac((y - 0.38) / 0.042)
		v := hex(0xdfe4ea).mul(0.14 + 0.28*ramp(0.75, 0.2, row))
		cx := x / 0.0165
		if row > 0.36 && row < 0.72 && math.Abs(frac(cx)-0.5) < 0.3 {
			if on := cellRnd(cx, y/0.042, 8); on > 0.3 {
				return rgb{2.2, 1.55, 0.8}.mul(0.5 + on*0.8)
			}
			return grey(0.04)
		}
		return v.add(rgb{0.5, 0.34, 0.16}.mul(0.35 * ramp(0.7, 0.95, row)))
	})
	c.fill(path{{at(0.3, 0.5), at(0.29, 0.7), at(0.4, 0.72), at(0.44, 0.5)}}, func(x, y float64) rgb {
		band := ramp(0.345, 0.34, y) * ramp(0.31, 0.315, y)
		return mix(hex(0x2858a0).mul(0.35), grey(0.5), band).mul(0.6 + 0.6*ramp(0.5, 0.66, x))
	})
	c.line(at(0.72, 0.52), at(0.715, 0.72), 0.007, 0.004, grey(0.12), 1)
	c.line(at(0.69, 0.63), at(0.745, 0.635), 0.003, 0.003, grey(0.12), 1)
	for i := range 3 { // lifeboats under their davits
		p := at(0.34+0.13*float64(i), 0.335)
		c.ellipse(p.x, p.y, 0.042, 0.012, 0, func(_, v float64) (rgb, float64) { return hex(0xd9582a).mul(0.32 - 0.22*v), 1 })
	}
	c.fill(hull, func(x, y float64) rgb {
		v := hex(0x2a5aa2).mul(0.13 + 0.12*ramp(0.66, 0.54, y) + 0.05*fbm(x*6, y*30, 3, 4))
		return mix(v, hex(0x9c3024).mul(0.12), ramp(0.622, 0.626, y))
	})
}
