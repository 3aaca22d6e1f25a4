package demo

import "math"

// glitter: the sun low over the Zadar channel, people on the steps.
func glitter(c *canvas) {
	s := sky{horizon: 0.4, low: hex(0xf3b46a).mul(1.15), mid: hex(0xe2a27c).mul(0.8), high: hex(0x6a83ab).mul(0.6),
		sunX: c.aspect * 0.6, sunY: 0.265, sun: rgb{9, 5.2, 1.9}, disc: 0.02, glow: 0.22, streak: 0.5, streakY: 9,
		lit: hex(0xf7c08a), seed: 4}
	s.paint(c, 0.42)
	(&ridge{base: 0.398, height: 0.035, freq: 2.4, rough: 4, seed: 8, top: hex(0xb98a6c).mul(0.8), foot: hex(0xd9a06a).mul(0.8), depth: 0.04}).paint(c)
	w := sea{horizon: 0.405, eye: 5, wind: 0.075, length: 5, deep: hex(0x27424f).mul(0.5), above: &s, glint: 0.75, seed: 3, haze: 0.25, rough: 0.04}
	w.paint(c)
	dark := hex(0x1c1713).mul(0.7)
	(&boat{x: c.aspect * 0.22, y: 0.452, l: 0.07, hull: dark, top: dark, stripe: dark, cabin: true}).paint(c, 1, 1, dark)
	for i := range 4 { // steps down to the water, wet edges in the light
		y0 := 0.80 + 0.052*float64(i) + 0.012*float64(i*i)
		v := hex(0x8b7359).mul(0.28 - 0.035*float64(i))
		c.fill(poly(0, y0-0.012, c.aspect, y0+0.012, c.aspect, 1, 0, 1), func(x, y float64) rgb {
			n := fbm(x*9, y*40, 4, uint32(i)) - 0.5
			edge := ramp(0.010, 0.001, y-(y0-0.012+0.024*x/c.aspect))
			near := math.Exp(-math.Pow((x-s.sunX)/0.35, 2))
			return v.mul(1 + 0.8*n).add(rgb{1, 0.55, 0.2}.mul(edge * (0.15 + 1.1*near)))
		})
	}
	for _, p := range []struct{ x, y, h, lean float64 }{{0.28, 0.862, 0.15, 0.05}, {0.36, 0.866, 0.145, -0.09}, {0.47, 0.864, 0.12, 0.02}, {0.93, 0.872, 0.15, 0.03}} {
		x := p.x * c.aspect
		c.sitter(x+0.003, p.y-0.002, p.h, p.lean, rgb{0.75, 0.36, 0.1})
		c.sitter(x, p.y, p.h, p.lean, dark)
	}
}

// bora: the wind off the mountain at Senj, white water and a bare island.
func bora(c *canvas) {
	s := sky{horizon: 0.36, low: hex(0xb9c4c6).mul(0.8), mid: hex(0x76889a).mul(0.5), high: hex(0x41536b).mul(0.3),
		sunX: 1.2, sunY: -0.3, clouds: 0.55, scale: 1.1, lit: hex(0xdfe3e2).mul(0.9), dark: hex(0x525e6b).mul(0.35), seed: 23, softness: 0.22, stretch: 1.6}
	s.paint(c, 0.38)
	(&ridge{base: 0.34, height: 0.15, freq: 1.1, rough: 6, seed: 5, top: hex(0x6f757a).mul(0.4), foot: hex(0xb4bcbd).mul(0.7), depth: 0.14, rock: 0.7, light: hex(0xd9cfc0).mul(0.35)}).paint(c)
	(&sea{horizon: 0.365, eye: 7, wind: 0.13, length: 12, deep: hex(0x2a6470).mul(0.3), above: &s, foam: 0.6, seed: 31, haze: 0.35, cross: 0.5, rough: -0.06}).paint(c)
	c.coarse(0.3, 0.66, 2, func(x, y float64) (rgb, float64) { // spray blown off the crests
		n := warped(x*2.2-y*1.5, y*16, 4, 1.5, 9)
		return hex(0xd5dcdc).mul(0.85), 0.5 * ramp(0.52, 0.75, n) * ramp(0.31, 0.38, y) * ramp(0.66, 0.42, y)
	})
	c.gull(1.08, 0.2, 0.07, 0.4, -0.3, hex(0xf4f6f5))
	c.gull(0.42, 0.27, 0.035, -0.5, 0.2, hex(0x23262a))
}

// wakeAt is the ferry's wake at nightfall, t seconds after the first frame.
func wakeAt(t float64) func(*canvas) {
	return func(c *canvas) {
		s := sky{horizon: 0.33, low: hex(0xe9a37f).mul(0.95), mid: hex(0xa787a0).mul(0.62), high: hex(0x47608c).mul(0.45),
			sunX: 0.5, sunY: 0.36, sun: rgb{2.2, 1.1, 0.5}, glow: 0.3, clouds: 0.34, scale: 0.9, lit: hex(0xf0aa88), dark: hex(0x6d6a86).mul(0.6), seed: 61, softness: 0.25, stretch: 2.2}
		s.paint(c, 0.35)
		(&ridge{base: 0.327, height: 0.05, freq: 1.6, rough: 4, seed: 15, top: hex(0x5c6079).mul(0.6), foot: hex(0x94788a).mul(0.6), depth: 0.05}).paint(c)
		w := sea{horizon: 0.335, eye: 11, wind: 0.055, length: 9, deep: hex(0x123246).mul(0.55), above: &s, seed: 12, haze: 0.35, rough: 0.03}
		mid := c.aspect * 0.53
		c.shade(0.335, c.aspect, 1, func(x, y float64) rgb {
			v := w.at(c, x, y)
			d := w.eye / max(y-w.horizon, 0.002)
			wx, wz := (x-mid)*d-d*d*0.0009, d+t*9
			half := 3.4 + 0.055*d
			in := ramp(half*1.15, half*0.8, math.Abs(wx))
			n := warped(wx*0.55, wz*0.16, 5, 1.7, 70)
			arm := math.Exp(-math.Pow((math.Abs(wx)-half*1.05)/(0.7+0.02*d), 2)) * ramp(0.35, 0.6, fbm(wx*0.7, wz*0.3, 4, 71))
			churn := in * ramp(0.46, 0.72, n) * (0.35 + 0.65*math.Exp(-d/45))
			v = mix(v, hex(0x6fb2b4).mul(0.55), in*0.55*math.Exp(-d/60))
			return mix(v, hex(0xf1d9d0).mul(0.85), clamp(churn+0.75*arm*math.Exp(-d/80), 0, 0.95))
		})
		c.gull(0.95+0.13*t/8, 0.17-0.03*t/8, 0.05, 0.5-0.14*t, 0.25, hex(0x3b3d4d).mul(0.6))
		c.gull(0.36-0.05*t/8, 0.245, 0.024, -0.3, -0.1, hex(0x454555).mul(0.7))
		shipRail(c, 0.865+0.006*t/8, hex(0xcfc3c4).mul(0.42))
	}
}

// shipRail is the white rail at the stern.
func shipRail(c *canvas, y float64, v rgb) {
	for i := range 9 {
		x := (float64(i) - 0.35) * c.aspect / 8
		c.line(pt{x, y}, pt{x + 0.004, 1.02}, 0.011, 0.011, v.mul(0.8), 1)
	}
	for k, w := range []float64{0.026, 0.009, 0.009} {
		yy := y + 0.05*float64(k)
		c.line(pt{-0.1, yy + 0.004}, pt{c.aspect + 0.1, yy + 0.01}, w, w, v.mul(0.45), 1)
		c.line(pt{-0.1, yy - w*0.18}, pt{c.aspect + 0.1, yy + 0.006 - w*0.18}, w*0.5, w*0.5, v.mul(1.5), 1)
	}
}

// moonPath: the open Adriatic at one in the morning.
func moonPath(c *canvas) {
	s := sky{horizon: 0.44, low: hex(0x3c5878).mul(0.5), mid: hex(0x25405f).mul(0.4), high: hex(0x12233c).mul(0.4),
		sunX: c.aspect * 0.42, sunY: 0.16, sun: rgb{3.2, 3.3, 3.1}, disc: 0.022, glow: 0.12, clouds: 0.4, scale: 0.8, lit: hex(0x9fb3c4).mul(0.55), dark: hex(0x16263b).mul(0.4), seed: 44, softness: 0.3, stretch: 1.8}
	s.paint(c, 0.45)
	c.lift(s.sunX, s.sunY, 0.16, rgb{0.07, 0.09, 0.11})
	c.ellipse(s.sunX, s.sunY, 0.021, 0.021, 0, func(u, v float64) (rgb, float64) {
		return rgb{3, 3, 2.7}.mul(0.75 + 0.4*fbm(u*2, v*2, 3, 6)), 0.9
	})
	(&sea{horizon: 0.44, eye: 14, wind: 0.075, length: 12, deep: hex(0x0c2030).mul(0.4), above: &s, glint: 0.9, seed: 50, haze: 0.3, rough: 0.05}).paint(c)
	for i, x := range []float64{0.86, 0.9} { // a fishing boat's lights
		c.lift(x*c.aspect, 0.437-0.004*float64(i), 0.004, rgb{2, 1.3, 0.5})
		c.lift(x*c.aspect, 0.437, 0.02, rgb{0.12, 0.07, 0.03})
	}
}

// fogMole: a mole that ends in fog, one lamp, one walker.
func fogMole(c *canvas) {
	s := sky{horizon: 0.5, low: grey(0.5), mid: grey(0.52), high: grey(0.3), sunX: 0.5, sunY: 0.1}
	s.paint(c, 0.52)
	(&sea{horizon: 0.47, eye: 3, wind: 0.04, length: 3, deep: grey(0.16), above: &s, seed: 77, haze: 0.95}).paint(c)
	c.haze(0.3, 0.5, grey(0.52), 0.6, 6)
	sc := look(c, vec{1.7, 2.4, 0}, -7, -2.5, 1.1)
	sc.sunDir, sc.sun, sc.amb = vec{0.2, 1, 0.2}.unit(), grey(0.18), grey(0.32)
	sc.fog, sc.fogReach = grey(0.5), 26
	st := stone(grey(0.34), 0.55, 1.3, 5)
	pv := paving(grey(0.4), 0.8, 9)
	sc.lay(panel{vec{2.6, -1.2, 0.5}, vec{0, 0, 90}, vec{0, 1.2, 0}, st})
	sc.lay(panel{vec{-2.6, -1.2, 0.5}, vec{0, 0, 90}, vec{0, 1.2, 0}, st})
	sc.lay(panel{vec{-2.6, 0, 0.5}, vec{5.2, 0, 0}, vec{0, 0, 90}, func(u, v float64) matter {
		m := pv(u, v)
		wet := ramp(0.5, 0.62, fbm(u*0.7, v*0.3, 4, 3))
		m.paint = mix(m.paint, m.paint.mul(0.45), wet)
		m.glow = grey(0.17 * wet)
		return m
	}})
	for i := 5; i >= 0; i-- {
		z := 9 + 11*float64(i)
		v := grey(0.06)
		sc.rod(vec{-2.2, 0, z}, vec{-2.2, 4.3, z}, 0.1, v)
		sc.rod(vec{-2.2, 4.3, z}, vec{-1.4, 4.5, z}, 0.07, v)
		p, d := sc.project(vec{-1.4, 4.4, z})
		c.lift(p.x, p.y, 0.4/d, grey(0.5*math.Exp(-d/30)))
		c.lift(p.x, p.y, 1.5/d, grey(0.2*math.Exp(-d/30)))
	}
	p, d := sc.project(vec{0.6, 0, 11.5})
	v := mix(grey(0.5), grey(0.01), math.Exp(-d/30))
	c.veil(oval(p.x, p.y+0.004, 0.02, 0.004), 0.005, grey(0.1), 0.5)
	c.figure(p.x, p.y, 1.75*sc.focal/d, 0.1, 0.03, v)
}
