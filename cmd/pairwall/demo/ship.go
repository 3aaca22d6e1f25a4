package demo

import "math"

// deck: the ferry's upper deck, blue paint, white rail, open sea.
func deck(c *canvas) {
	s := sky{horizon: 0.4, low: hex(0xe6e4da), mid: hex(0xa8cce4).mul(0.92), high: hex(0x5c98d2).mul(0.78), sunX: 1.6, sunY: -0.2, clouds: 0.2, scale: 0.7, lit: grey(1.08), dark: hex(0xc0ccd8).mul(0.9), seed: 72, softness: 0.22, stretch: 1.8}
	s.paint(c, 0.42)
	(&ridge{base: 0.397, height: 0.05, freq: 1.3, rough: 4, seed: 7, top: hex(0x8ea2b5).mul(0.75), foot: hex(0xb3c3cb).mul(0.8), depth: 0.05}).paint(c)
	(&sea{horizon: 0.4, eye: 14, wind: 0.06, length: 10, deep: hex(0x1d5f86).mul(0.65), above: &s, seed: 6, haze: 0.35, foam: 0.15}).paint(c)
	sc := look(c, vec{-0.6, 1.75, 0}, 8, -5.5, 0.95)
	sc.sunDir, sc.sun, sc.amb = vec{0.42, 0.4, 0.72}.unit(), rgb{1.75, 1.5, 1.15}, rgb{0.26, 0.31, 0.4}
	sc.penumbra = 0.004
	const z, left = 6.2, -9.0
	for i := range 3 { // bars of the rail as thin casting panels
		y := 0.42 + 0.34*float64(i)
		sc.casts = append(sc.casts, panel{o: vec{left, y, z}, a: vec{22, 0, 0}, b: vec{0, 0.05 + 0.03*float64(i/2), 0}})
	}
	for i := range 15 {
		sc.casts = append(sc.casts, panel{o: vec{left + 1.55*float64(i), 0, z - 0.03}, a: vec{0.08, 0, 0}, b: vec{0, 1.1, 0}})
	}
	sc.casts = append(sc.casts, panel{o: vec{1.3, 0.42, 2.6}, a: vec{2.6, 0, 0}, b: vec{0, 0, 0.55}}, panel{o: vec{1.3, 0.45, 3.15}, a: vec{2.6, 0, 0}, b: vec{0, 0.5, 0.1}})
	paint := hex(0x2f6fae)
	sc.lay(panel{vec{left, 0, 0.4}, vec{22, 0, 0}, vec{0, 0, z - 0.2}, func(u, v float64) matter {
		n, wear := fbm(u*0.7, v*0.7, 4, 5)-0.5, ramp(0.6, 0.72, fbm(u*2.2, v*2.2, 5, 8))
		seam := ramp(0.03, 0.012, min(math.Abs(frac(u/2.4)-0.5)*2.4, math.Abs(frac(v/2.1)-0.5)*2.1))
		col := mix(paint.mul(1+0.5*n), hex(0x8fb0c4).mul(0.7), 0.5*wear)
		rust := ramp(0.74, 0.84, fbm(u*3+9, v*3, 4, 3))
		col = mix(col, hex(0x5d4a44), 0.4*rust)
		wet := ramp(0.55, 0.7, fbm(u*0.5+4, v*0.9, 3, 21))
		return matter{paint: col.mul(1 - 0.3*seam), sun: 1, glow: rgb{0.5, 0.58, 0.66}.mul(0.35 * wet * ramp(0, 6, v))}
	}})
	sc.lay(panel{vec{left, 0, z - 0.2}, vec{22, 0, 0}, vec{0, 0.1, 0}, plain(hex(0xe6e4dc))})
	rails(sc, left, z)
	seats(sc, paint)
}

func rails(sc *scene, left, z float64) {
	w := hex(0xf0eee8)
	lit, shade := w.mul(1.0), w.times(rgb{0.36, 0.42, 0.54})
	for i := range 15 {
		x := left + 1.55*float64(i)
		sc.rod(vec{x, 0, z}, vec{x, 1.1, z}, 0.07, shade)
		sc.rod(vec{x + 0.018, 0, z}, vec{x + 0.018, 1.1, z}, 0.03, lit)
	}
	for i := range 3 {
		y := 0.44 + 0.34*float64(i)
		t := 0.045 + 0.035*float64(i/2)
		sc.rod(vec{left, y, z}, vec{left + 22, y, z}, t, shade)
		sc.rod(vec{left, y + t*0.25, z}, vec{left + 22, y + t*0.25, z}, t*0.5, lit)
	}
}

// seats is a slatted bench on the deck.
func seats(sc *scene, _ rgb) {
	wood := func(k float64) func(u, v float64) matter {
		return func(u, v float64) matter {
			return matter{paint: hex(0xc78f4d).mul(k * (0.85 + 0.4*fbm(u*2, v*20, 3, 4))), sun: 1}
		}
	}
	for _, x := range []float64{1.45, 2.6, 3.75} {
		sc.rod(vec{x, 0, 3.1}, vec{x, 0.9, 3.22}, 0.06, grey(0.5))
		sc.rod(vec{x, 0, 2.65}, vec{x, 0.42, 2.65}, 0.06, grey(0.45))
	}
	for i := 3; i >= 0; i-- {
		y := 0.52 + 0.12*float64(i)
		sc.lay(panel{vec{1.3, y, 3.18 + 0.03*float64(i)}, vec{2.6, 0, 0}, vec{0, 0.085, 0.01}, wood(0.9)})
	}
	for i := 3; i >= 0; i-- {
		z := 2.6 + 0.14*float64(i)
		sc.lay(panel{vec{1.3, 0.44, z}, vec{2.6, 0, 0}, vec{0, 0, 0.11}, wood(1)})
	}
	sc.lay(panel{vec{1.3, 0.39, 2.6}, vec{2.6, 0, 0}, vec{0, 0.05, 0}, wood(0.6)})
}

// ring is a lifebuoy against a white bulkhead with a blue band.
func ring(c *canvas) {
	light := rgb{1.2, 1.06, 0.84}
	c.shade(0, c.aspect, 1, func(x, y float64) rgb {
		col := hex(0xeeece6)
		if y > 0.66 {
			col = hex(0x2b64a4)
		}
		n, runs := fbm(x*2, y*2, 4, 4)-0.5, fbm(x*40, y*2.2, 3, 9)
		col = col.mul(1 + 0.16*n)
		col = mix(col, hex(0x9b5a2e), 0.75*ramp(0.6, 0.8, runs)*ramp(0.4, 0.75, fbm(x*3, y*1.5, 3, 2))*0.8)
		seam := ramp(0.004, 0.0015, math.Abs(y-0.66)) + ramp(0.005, 0.002, math.Abs(frac(x*1.55+0.2)-0.5)/1.55)
		return col.times(light.mul(0.97).add(skyLight)).mul(1 - 0.3*clamp(seam, 0, 1))
	})
	for i := range 24 { // rivets along the seams
		x, y := 0.03+0.065*float64(i), 0.682
		c.ellipse(x+0.003, y+0.004, 0.008, 0.008, 0, func(_, _ float64) (rgb, float64) { return grey(0.03), 0.4 })
		c.ellipse(x, y, 0.0075, 0.0075, 0, func(u, v float64) (rgb, float64) { return hex(0x3a75b6).mul(clamp(0.8-0.6*u-0.6*v, 0.1, 2)), 1 })
	}
	cx, cy, ro, ri := c.aspect*0.47, 0.47, 0.335, 0.2
	hole := append(oval(cx+0.075, cy+0.085, ro, ro), reverse(oval(cx+0.075, cy+0.085, ri, ri)[0]))
	c.cast(hole, 0.008)
	mid, half := (ro+ri)/2, (ro-ri)/2
	c.ellipse(cx, cy, ro, ro, 0, func(u, v float64) (rgb, float64) {
		r := math.Hypot(u, v) * ro
		t := (r - mid) / half
		if t < -1 {
			return rgb{}, 0
		}
		a := math.Atan2(v, u)
		nz := math.Sqrt(max(0, 1-t*t))
		d := (-0.5*math.Cos(a)-0.62*math.Sin(a))*t + 0.62*nz
		band := frac(a/(2*math.Pi)*4 + 0.14)
		col := hex(0xe2552b)
		if band < 0.28 {
			col = hex(0xf3f0e8)
		}
		n := fbm(u*9, v*9, 4, 6) - 0.5
		grime := ramp(0.55, 0.8, fbm(u*4, v*4, 4, 13))
		col = mix(col.mul(1+0.3*n), hex(0x6b4a38), 0.3*grime)
		edge := ramp(0.012, 0.004, math.Abs(band-0.28)) + ramp(0.012, 0.004, min(band, 1-band))
		return col.times(light.mul(max(0, d) * 1.15).add(skyLight.mul(1.3))).mul(1 - 0.4*clamp(edge, 0, 1)), ramp(-1, -0.985, t)
	})
	rope(c, cx, cy, ro)
	c.cast(poly(c.aspect-0.28, -0.1, c.aspect+0.1, -0.1, c.aspect+0.1, 1.1, c.aspect-0.05, 1.1), 0.012)
}

// rope runs round the ring and is held at its four white bands.
func rope(c *canvas, cx, cy, ro float64) {
	for i := range 4 {
		a0, a1 := (float64(i)+0.02)*math.Pi/2+0.0, (float64(i)+0.98)*math.Pi/2
		var prev pt
		for k := range 40 {
			t := float64(k) / 39
			a, r := lerp(a0, a1, t), ro-0.01+0.055*math.Sin(t*math.Pi)
			q := pt{cx + r*math.Cos(a), cy + r*math.Sin(a) + 0.02*math.Sin(t*math.Pi)}
			if k > 0 {
				c.line(pt{prev.x + 0.02, prev.y + 0.025}, pt{q.x + 0.02, q.y + 0.025}, 0.009, 0.009, hex(0x5d6470).mul(0.5), 0.35)
				c.line(prev, q, 0.013, 0.013, hex(0xb9a986).mul(0.5), 1)
				c.line(pt{prev.x - 0.002, prev.y - 0.002}, pt{q.x - 0.002, q.y - 0.002}, 0.007, 0.007, hex(0xe6d9b8).mul(0.8+0.3*math.Sin(float64(k)*2.6)), 1)
			}
			prev = q
		}
	}
}

// porthole: dawn through the cabin's round window, somewhere in mid-sea. A square.
func porthole(c *canvas) {
	s := sky{horizon: 0.53, low: hex(0xf9c08a).mul(1.25), mid: hex(0xe9a9a0).mul(0.95), high: hex(0x8ea3cc).mul(0.8), sunX: 0.6, sunY: 0.485, sun: rgb{6, 3.2, 1.2}, disc: 0.016, glow: 0.22, clouds: 0.35, scale: 0.8, lit: hex(0xffc49a).mul(1.1), dark: hex(0xa58ba0).mul(0.7), seed: 47, softness: 0.22, stretch: 2}
	s.paint(c, 0.55)
	(&sea{horizon: 0.53, eye: 7, wind: 0.06, length: 8, deep: hex(0x2a4a60).mul(0.6), above: &s, glint: 0.7, seed: 5, haze: 0.3}).paint(c)
	c.blur(0.0022)
	cx, cy := 0.5, 0.48
	wall := append(rect(-0.1, -0.1, 1.1, 1.1), reverse(oval(cx, cy, 0.3, 0.3)[0]))
	c.fill(wall, func(x, y float64) rgb {
		d := math.Hypot(x-cx, y-cy)
		k := math.Exp(-(d - 0.3) * 3.2)
		n := fbm(x*3, y*3, 4, 6) - 0.5
		side := clamp(0.6+0.9*(cx-x)*0.5+0.6*(y-cy), 0.15, 1.4)
		return hex(0x8d9aa0).mul(0.05 * (1 + 0.4*n)).add(rgb{0.30, 0.2, 0.14}.mul(0.42 * k * side * (1 + 0.5*n)))
	})
	c.ellipse(cx, cy, 0.385, 0.385, 0, func(u, v float64) (rgb, float64) {
		r := math.Hypot(u, v) * 0.385
		if r < 0.298 {
			return rgb{}, 0
		}
		t := (r - 0.3) / 0.085
		prof := math.Cos(t*math.Pi*1.1) + 0.25*math.Sin(t*14)
		a := math.Atan2(v, u)
		facing := -prof * (math.Cos(a)*0.3 + math.Sin(a)*0.75)
		brush := fbm(a*30, r*300, 2, 3) - 0.5
		k := clamp(0.12+0.32*max(0, facing)+0.22*max(0, -facing)*0.4+0.06*brush, 0.02, 1)
		rim := math.Exp(-t * 9)
		return hex(0xc9a46a).mul(k).add(rgb{1.0, 0.62, 0.36}.mul(rim * 0.75 * (0.55 + 0.45*math.Sin(a)))), ramp(0.298, 0.303, r)
	})
	for i := range 8 {
		s, k := math.Sincos(float64(i)*math.Pi/4 + 0.2)
		x, y := cx+0.352*k, cy+0.352*s
		c.ellipse(x+0.003, y+0.004, 0.018, 0.018, 0, func(_, _ float64) (rgb, float64) { return grey(0.005), 0.6 })
		c.ellipse(x, y, 0.016, 0.016, 0, func(u, v float64) (rgb, float64) {
			return hex(0xd9b478).mul(clamp(0.2-0.22*(u*k+v*s), 0.04, 1)), 1
		})
	}
	c.veil(smooth(poly(0.30, 0.36, 0.34, 0.29, 0.42, 0.235, 0.45, 0.24, 0.37, 0.31, 0.325, 0.4)), 0.01, rgb{1, 0.9, 0.85}, 0.16)
	c.fill(poly(-0.1, 0.93, 1.1, 0.92, 1.1, 1.1, -0.1, 1.1), func(x, y float64) rgb {
		glow := math.Exp(-math.Pow((x-0.45)/0.26, 2)) * ramp(1.03, 0.92, y)
		return hex(0xb08a62).mul(0.03).add(rgb{0.5, 0.3, 0.17}.mul(0.5 * glow * (0.8 + 0.4*fbm(x*4, y*60, 3, 4))))
	})
}
