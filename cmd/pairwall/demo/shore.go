package demo

import "math"

// molo: Trieste's stone pier at sundown, people walking out along it.
func molo(c *canvas) {
	s := sky{horizon: 0.47, low: hex(0xf2a96b), mid: hex(0xd995a0).mul(0.72), high: hex(0x6d82b8).mul(0.55),
		sunX: c.aspect * 0.36, sunY: 0.405, sun: rgb{8, 4, 1.3}, disc: 0.018, glow: 0.26, clouds: 0.36, scale: 0.9, lit: hex(0xf4b287), dark: hex(0x8a7593).mul(0.6), seed: 19, softness: 0.22, stretch: 1.9}
	s.paint(c, 0.5)
	(&ridge{base: 0.468, height: 0.02, freq: 2, rough: 3, seed: 2, top: hex(0x8a7590).mul(0.6), foot: hex(0xc08f86).mul(0.6), depth: 0.03}).paint(c)
	(&sea{horizon: 0.472, eye: 4, wind: 0.05, length: 4, deep: hex(0x1f3a50).mul(0.5), above: &s, glint: 0.7, seed: 8, haze: 0.3}).paint(c)
	sc := look(c, vec{1.2, 3.4, -1}, 6, 0.8, 1.05)
	sc.cy = 0.472 + 0.0147
	sc.sunDir, sc.sun, sc.amb = vec{-0.28, 0.12, 0.95}.unit(), rgb{2.4, 1.2, 0.5}, rgb{0.30, 0.27, 0.36}
	pv := paving(hex(0xb8a795), 1.5, 7)
	st := stone(hex(0x9a8b7c), 0.7, 1.6, 3)
	sc.lay(panel{vec{-7, -2.4, 0}, vec{0, 0, 190}, vec{0, 2.4, 0}, st})
	sc.lay(panel{vec{8, -2.4, 0}, vec{0, 0, 190}, vec{0, 2.4, 0}, st})
	sc.lay(panel{vec{-7, 0, -1}, vec{15, 0, 0}, vec{0, 0, 191}, func(u, v float64) matter {
		m := pv(u, v)
		shine := math.Exp(-math.Pow((u-7+0.27*(v-2))/(1.6+0.12*v), 2)) * (0.4 + 0.6*fbm(u*2, v*0.6, 4, 6))
		m.glow = rgb{0.85, 0.42, 0.17}.mul(shine * 0.9 * m.sun)
		return m
	}})
	dark := hex(0x241b1d).mul(0.5)
	for i := range 6 {
		z := 7 + 12*float64(i)
		bollard(sc, vec{-6.2, 0, z}, dark)
		bollard(sc, vec{7.2, 0, z + 4}, dark)
	}
	for i, p := range []struct{ x, z, st float64 }{{-1, 62, 0.1}, {0.3, 60, -0.08}, {3, 44, 0.12}, {-4.5, 38, 0.02}, {-3.9, 38.5, 0.03}, {4.9, 24, 0.13}, {-2.2, 19, 0.1}} {
		q, d := sc.project(vec{p.x, 0, p.z})
		h := (1.62 + 0.04*float64(i)) * sc.focal / d
		c.dim(poly(q.x-0.06*h, q.y, q.x+0.06*h, q.y, q.x+0.9*h, q.y+1.0*h, q.x+0.55*h, q.y+1.0*h), 0.05*h, rgb{0.5, 0.55, 0.7})
		c.figure(q.x-0.012*h, q.y, h, p.st, 0.02, rgb{1.2, 0.55, 0.2})
		c.figure(q.x, q.y, h, p.st, 0.02, dark)
	}
}

func bollard(s *scene, at vec, v rgb) {
	q, d := s.project(at)
	k := s.focal / d
	s.c.dim(oval(q.x+0.3*k, q.y+0.1*k, 0.7*k, 0.13*k), 0.05*k, grey(0.5))
	s.c.flat(poly(q.x-0.2*k, q.y, q.x-0.16*k, q.y-0.5*k, q.x+0.16*k, q.y-0.5*k, q.x+0.2*k, q.y), v)
	s.c.ellipse(q.x, q.y-0.5*k, 0.28*k, 0.12*k, 0, func(u, w float64) (rgb, float64) {
		return v.add(rgb{0.6, 0.3, 0.12}.mul(ramp(0.2, -0.9, w) * ramp(0.5, -0.8, u))), 1
	})
}

// lighthouse: landfall at Ancona, six in the morning.
func lighthouse(c *canvas) {
	s := sky{horizon: 0.66, low: hex(0xf4d3b0), mid: hex(0xa6c0d0).mul(0.78), high: hex(0x4f82b4).mul(0.55),
		sunX: c.aspect * 0.86, sunY: 0.69, sun: rgb{3, 1.9, 1}, glow: 0.4, clouds: 0.4, scale: 0.8, lit: hex(0xf8dcc4), dark: hex(0x7f95ac).mul(0.65), seed: 28, softness: 0.25, stretch: 2.4}
	s.paint(c, 0.68)
	(&ridge{base: 0.64, height: 0.16, freq: 0.8, rough: 4, seed: 14, top: hex(0x5f7a94).mul(0.55), foot: hex(0xb9b2ac).mul(0.75), depth: 0.14, slopeX: 0.05}).paint(c)
	(&sea{horizon: 0.662, eye: 9, wind: 0.045, length: 6, deep: hex(0x23465e).mul(0.5), above: &s, seed: 30, haze: 0.45}).paint(c)
	x, y := c.aspect*0.34, 0.70
	c.fill(poly(-0.1, y-0.018, x+0.15, y-0.03, x+0.2, y+0.008, -0.1, y+0.02), func(px, py float64) rgb {
		n := ridged(px*40, py*60, 3, 5)
		return hex(0x4a4350).mul(0.25 + 0.35*n).add(rgb{0.22, 0.12, 0.08}.mul(ramp(y-0.01, y-0.03, py)))
	})
	tower := poly(x-0.026, y-0.02, x-0.017, 0.335, x+0.017, 0.335, x+0.026, y-0.02)
	c.fill(tower, func(px, py float64) rgb {
		w := lerp(0.017, 0.026, (py-0.335)/0.345)
		u := (px - x) / w
		k := 0.3 + 0.75*ramp(-0.4, 1, u)
		return mix(hex(0x9fa3bd), hex(0xffe2cc), ramp(-0.5, 0.9, u)).mul(k * (0.92 + 0.16*fbm(px*80, py*14, 3, 2)))
	})
	c.flat(rect(x-0.026, 0.328, x+0.026, 0.337), hex(0x5c5564).mul(0.4))
	c.fill(rect(x-0.012, 0.288, x+0.012, 0.33), func(px, _ float64) rgb { return mix(hex(0x4f5a70), hex(0xf5d7bd), ramp(-0.01, 0.012, px-x)).mul(0.6) })
	c.flat(smooth(poly(x-0.017, 0.29, x, 0.262, x+0.017, 0.29)), hex(0x4f3b3f).mul(0.5))
	c.lift(x, 0.309, 0.006, rgb{5, 3.6, 2})
	c.lift(x, 0.309, 0.03, rgb{0.35, 0.22, 0.14})
	c.gull(c.aspect*0.52, 0.3, 0.06, 0.5, -0.25, hex(0x5a5468).mul(0.6))
	c.gull(c.aspect*0.61, 0.24, 0.035, -0.3, 0.2, hex(0x5a5468).mul(0.6))
	c.gull(c.aspect*0.47, 0.42, 0.028, 0.1, 0.1, hex(0x5a5468).mul(0.7))
	(&boat{x: c.aspect * 0.72, y: 0.735, l: -0.11, hull: hex(0x3b4560).mul(0.5), top: hex(0xd9c6c0).mul(0.7), stripe: hex(0xb96a52).mul(0.7), cabin: true, mast: 0.55}).paint(c, 1, 1, rgb{})
}

// trabucco: a fishing platform on stilts near Termoli, its poles out over the water.
func trabucco(c *canvas) {
	s := sky{horizon: 0.66, low: grey(0.72), mid: grey(0.5), high: grey(0.22), sunX: 1.2, sunY: 0.5, sun: grey(1.4), glow: 0.4, clouds: 0.5, scale: 1, lit: grey(0.85), dark: grey(0.22), seed: 83, softness: 0.28, stretch: 1.3}
	s.paint(c, 0.7)
	v := grey(0.012)
	l := func(x0, y0, x1, y1, w float64) { c.line(pt{x0, y0}, pt{x1, y1}, w, w*0.85, v, 1) }
	for i := range 12 { // stilts and their braces
		x := 0.16 + 0.052*float64(i)
		l(x+0.006*math.Sin(float64(i)*2.3), 0.70, x, 0.535, 0.007)
		if i < 11 {
			l(x, 0.55, x+0.052, 0.665, 0.003)
			if i%2 == 0 {
				l(x+0.052, 0.56, x, 0.675, 0.003)
			}
		}
	}
	l(-0.1, 0.522, 0.78, 0.535, 0.013)
	l(-0.1, 0.487, 0.76, 0.503, 0.004)
	for i := range 14 {
		x := -0.02 + 0.058*float64(i)
		l(x, 0.53, x, 0.488+0.001*float64(i), 0.0035)
	}
	c.flat(poly(0.33, 0.53, 0.335, 0.40, 0.5, 0.40, 0.505, 0.53), v)
	c.flat(poly(0.31, 0.405, 0.415, 0.345, 0.525, 0.405), v)
	c.flat(rect(0.36, 0.435, 0.395, 0.475), grey(0.55))
	for i, p := range []struct{ x, y float64 }{{1.18, 0.27}, {1.3, 0.36}, {1.02, 0.2}} { // booms and stays
		l(0.6+0.03*float64(i), 0.53, p.x, p.y, 0.0085)
		c.sag(pt{0.6, 0.14}, pt{p.x, p.y}, 0.008, 0.0022, v, 1)
		c.sag(pt{p.x, p.y}, pt{1.08 + 0.07*float64(i), 0.6}, 0.004, 0.0018, v, 0.9)
	}
	l(0.585, 0.53, 0.6, 0.13, 0.01)
	l(0.47, 0.4, 0.455, 0.2, 0.007)
	c.sag(pt{0.6, 0.14}, pt{0.455, 0.2}, 0.01, 0.0022, v, 1)
	c.sag(pt{0.455, 0.2}, pt{0.02, 0.49}, 0.012, 0.0022, v, 1)
	net := smooth(poly(0.9, 0.55, 1.0, 0.6, 1.1, 0.625, 1.2, 0.605, 1.28, 0.56, 1.24, 0.57, 1.1, 0.585, 1.0, 0.57))
	c.lay(c.cover(net, 0), func(x, y float64) (rgb, float64) {
		k := max(math.Abs(frac(x*70+y*70)-0.5), math.Abs(frac(x*70-y*70)-0.5))
		return v, 0.25 + 0.55*ramp(0.36, 0.48, k)
	})
	c.figure(0.665, 0.528, 0.092, 0.04, 0.02, v)
	(&mirror{line: 0.685, ripple: 0.05, scale: 8, tint: grey(0.9), deep: grey(0.08), dim: 0.92, seed: 12}).paint(c)
}

// umbrellas: Pescara's beach before the season, everything folded.
func umbrellas(c *canvas) {
	s := sky{horizon: 0.34, low: hex(0xe6e9e6), mid: hex(0xa9cbe0).mul(0.85), high: hex(0x5d97cb).mul(0.75), sunX: -0.4, sunY: 0, clouds: 0.22, scale: 0.7, lit: grey(0.98), dark: hex(0xb7c3cf).mul(0.85), seed: 52, softness: 0.25, stretch: 1.8}
	s.paint(c, 0.36)
	(&sea{horizon: 0.34, eye: 4.5, wind: 0.06, length: 5, deep: hex(0x3e9aa0).mul(0.75), above: &s, seed: 9, haze: 0.2, foam: 0.12}).paint(c)
	c.fill(poly(0, 0.425, c.aspect, 0.405, c.aspect, 1, 0, 1), func(x, y float64) rgb {
		d := 1 / (y - 0.33)
		wx, wz := (x-c.aspect/2)*d*4, d*4
		n, f := fbm(wx*0.8, wz*0.5, 4, 3)-0.5, fbm(wx*7, wz*4, 3, 4)-0.5
		wet := ramp(0.045, 0.012, y-(0.425-0.02*x/c.aspect)+0.02*n)
		foam := ramp(0.007, 0.002, math.Abs(y-(0.43-0.02*x/c.aspect)+0.012*n))
		v := mix(hex(0xe3cfa8).mul(0.92*(1+0.35*n+0.55*f*ramp(0.4, 0.7, y))), hex(0x9d8f78).mul(0.7), wet)
		return mix(v, grey(0.95), foam*0.8)
	})
	sc := look(c, vec{0, 3.2, 0}, -12, 0, 1.25)
	sc.cy = 0.34
	for i := 7; i >= 0; i-- {
		for j := -9; j < 5; j++ {
			p := vec{float64(j)*3.4 + 0.6, 0, 7.5 + 4.2*float64(i)}
			if _, d := sc.project(p); d > 2 {
				folded(sc, p, (i+j+100)%2 == 0)
			}
		}
	}
}

// folded is one closed umbrella with its long shadow.
func folded(s *scene, p vec, blue bool) {
	c := s.c
	q, d := s.project(p)
	k := s.focal / d
	tip, _ := s.project(p.add(vec{2.1, 0, -0.5}))
	c.dim(poly(q.x, q.y-0.02*k, q.x, q.y+0.02*k, tip.x, tip.y+0.12*k, tip.x+0.3*k, tip.y, tip.x, tip.y-0.1*k), 0.03*k, rgb{0.5, 0.56, 0.68})
	c.line(q, pt{q.x, q.y - 2.3*k}, 0.05*k, 0.045*k, grey(0.75), 1)
	cloth := smooth(poly(q.x, q.y-2.4*k, q.x-0.1*k, q.y-2*k, q.x-0.17*k, q.y-1.1*k, q.x-0.1*k, q.y-0.75*k, q.x+0.1*k, q.y-0.75*k, q.x+0.17*k, q.y-1.1*k, q.x+0.1*k, q.y-2*k))
	base := hex(0x2f6eb0)
	if !blue {
		base = hex(0xefe7d6)
	}
	c.fill(cloth, func(x, y float64) rgb {
		u := (x - q.x) / (0.17 * k)
		fold := math.Sin(u*9+math.Sin((y-q.y)/k*3)) * 0.18
		return base.mul(clamp(0.72-0.5*u+fold, 0.22, 1.25))
	})
	c.line(pt{q.x - 0.14*k, q.y - 1.25*k}, pt{q.x + 0.14*k, q.y - 1.25*k}, 0.04*k, 0.04*k, base.mul(0.5), 1)
}
