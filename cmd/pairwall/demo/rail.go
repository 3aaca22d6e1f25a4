package demo

import "math"

// track lays ballast, sleepers and rails along z; rails take the light of the sky.
func track(s *scene, x float64, shine rgb, seed uint32) {
	for i := 120; i >= 0; i-- {
		z := 1.2 + 0.65*float64(i)
		if z > 60 {
			continue
		}
		k := 0.8 + 0.4*cellRnd(float64(i), x, seed)
		s.lay(panel{vec{x - 1.25, 0.03, z}, vec{2.5, 0, 0}, vec{0, 0, 0.26}, plain(hex(0x8a7f74).mul(0.5 * k))})
	}
	for _, d := range []float64{-0.72, 0.72} {
		s.rod(vec{x + d + 0.03, 0.06, 0.5}, vec{x + d + 0.03, 0.06, 160}, 0.13, hex(0x3a2c24).mul(0.3))
		s.rod(vec{x + d, 0.16, 0.5}, vec{x + d, 0.16, 160}, 0.065, shine)
	}
}

func ballast(base rgb, seed uint32) func(u, v float64) matter {
	return func(u, v float64) matter {
		w := 1 / (1 + v*0.05)
		n := (fbm(u*9, v*9, 3, seed) - 0.5) * w
		o := fbm(u*0.5, v*0.15, 3, seed+2) - 0.5
		return matter{paint: base.mul(1 + 1.5*n + 0.5*o), sun: clamp(0.8+1.5*n, 0, 1.2)}
	}
}

// station is rails, masts and wires under a sky; used in colour and in black and white.
func station(c *canvas, s *sky, sun, amb, ground, iron, shine rgb, sunDir vec, fog rgb, eye vec, yaw float64) {
	s.paint(c, s.horizon+0.02)
	sc := look(c, eye, yaw, 0, 1.15)
	sc.cy = s.horizon
	sc.sunDir, sc.sun, sc.amb, sc.fog, sc.fogReach = sunDir, sun, amb, fog, 130
	sc.lay(panel{vec{-400, 0, 0.6}, vec{800, 0, 0}, vec{0, 0, 400}, ballast(ground, 5)})
	sheds(sc, ground)
	for i, x := range []float64{-9.8, -4.9, 4.9, 0} {
		track(sc, x, shine, uint32(i)+3)
	}
	pl := paving(ground.mul(1.7), 1.0, 7)
	sc.box(vec{7.6, -0.1, 0.5}, vec{13, 0.55, 130}, stone(ground.mul(1.1), 0.4, 1, 2), pl, func(u, v float64) matter {
		m := pl(u, v)
		if u > 0.35 && u < 0.6 {
			m.paint = mix(m.paint, hex(0xe9c545), 0.8)
		}
		return m
	})
	canopy(sc, ground, iron)
	for i := 8; i >= 0; i-- {
		z := 9 + 17*float64(i)
		for _, x := range []float64{-7.4, 2.45} {
			sc.rod(vec{x, 0, z}, vec{x, 7.4, z}, 0.16, iron)
			sc.rod(vec{x, 6.9, z}, vec{x - 2.6, 6.6, z}, 0.07, iron)
			sc.rod(vec{x, 6.9, z}, vec{x + 2.6, 6.6, z}, 0.07, iron)
			sc.rod(vec{x, 5.9, z}, vec{x - 2.4, 6.4, z}, 0.05, iron)
			sc.rod(vec{x, 5.9, z}, vec{x + 2.4, 6.4, z}, 0.05, iron)
		}
	}
	for _, x := range []float64{-9.8, -4.9, 0, 4.9} {
		sc.rod(vec{x, 5.6, 0.5}, vec{x, 5.6, 150}, 0.028, iron)
		sc.rod(vec{x, 6.7, 0.5}, vec{x, 6.6, 150}, 0.03, iron)
	}
}

// sheds are low goods buildings beside the line, going off into the haze.
func sheds(sc *scene, ground rgb) {
	for i := 7; i >= 0; i-- {
		h := func(k uint32) float64 { return cellRnd(float64(i), 0, k) }
		z, x := 26+19*float64(i), -21-5*h(3)
		m := (&bays{wall: plaster(ground.mul(1.1+0.8*h(1)), 0.7, uint32(i)), wide: 3.1, high: 3.4, w: 1.2, h: 1.5, sill: 1.2, first: 0.4, rows: 2, noShutters: true, frame: ground, sunSide: 1, fall: 0.2, seed: uint32(i)}).at
		sc.box(vec{x - 14, 0, z}, vec{x, 4.2 + 4.5*h(2), z + 15}, m, m, plain(ground.mul(0.5)))
	}
}

// canopy is the platform roof on its columns, with two people waiting.
func canopy(sc *scene, ground, iron rgb) {
	sc.lay(panel{vec{8.2, 4.4, 12}, vec{5.5, 0.4, 0}, vec{0, 0, 60}, plain(ground.mul(0.35))})
	sc.lay(panel{vec{8.2, 4.1, 12}, vec{0, 0, 60}, vec{0, 0.4, 0}, plain(iron.add(grey(0.02)))})
	for i := 6; i >= 0; i-- {
		z := 13 + 8*float64(i)
		sc.rod(vec{10, 0.5, z}, vec{10, 4.4, z}, 0.18, iron)
	}
	for _, p := range []vec{{9.2, 0.55, 22}, {9.7, 0.55, 23}, {9.0, 0.55, 41}} {
		q, d := sc.project(p)
		sc.c.figure(q.x, q.y, 1.72*sc.focal/d, 0.03, 0, iron)
	}
}

// railsDusk: Rijeka, the last light on the rails.
func railsDusk(c *canvas) {
	s := sky{horizon: 0.5, low: hex(0xf6a75e), mid: hex(0xc98a92).mul(0.7), high: hex(0x55699c).mul(0.5), sunX: c.aspect*0.5 - 0.09, sunY: 0.485, sun: rgb{4, 1.8, 0.6}, glow: 0.34, clouds: 0.42, scale: 0.9, lit: hex(0xf7a872), dark: hex(0x6c6583).mul(0.5), seed: 29, softness: 0.2, stretch: 1.8}
	station(c, &s, rgb{0.5, 0.25, 0.1}, rgb{0.26, 0.23, 0.29}, hex(0x7d736c).mul(0.55), hex(0x1b1a20).mul(0.4), rgb{1.25, 0.66, 0.36}, vec{-0.1, 0.12, 1}.unit(), hex(0xc98a64).mul(0.7), vec{0.4, 2.3, 0}, 0)
	for _, l := range []struct {
		x, y float64
		v    rgb
	}{{0.63, 0.44, rgb{3, 0.25, 0.12}}, {0.40, 0.45, rgb{0.3, 2.4, 1.1}}} {
		x := l.x * c.aspect
		c.line(pt{x, l.y}, pt{x, 0.53}, 0.005, 0.006, grey(0.01), 1)
		c.flat(rect(x-0.008, l.y-0.018, x+0.008, l.y+0.014), grey(0.01))
		c.lift(x, l.y-0.006, 0.005, l.v.mul(2))
		c.lift(x, l.y-0.006, 0.028, l.v.mul(0.12))
	}
}

// railsGrey: the same trade in black and white, noon and haze.
func railsGrey(c *canvas) {
	s := sky{horizon: 0.42, low: grey(0.78), mid: grey(0.52), high: grey(0.26), sunX: 1.4, sunY: 0, clouds: 0.6, scale: 1, lit: grey(0.95), dark: grey(0.35), seed: 93, softness: 0.25}
	station(c, &s, grey(0.9), grey(0.3), grey(0.2), grey(0.015), grey(1.1), vec{0.5, 0.6, 0.5}.unit(), grey(0.62), vec{-2.3, 4.6, 0}, -9)
	for i, x := range []float64{0.36, 0.4, 0.47, 0.5, 0.58, 0.29} {
		c.gull(x*c.aspect*1.2, 0.1+0.05*float64(i%4), 0.03+0.006*float64(i%3), math.Sin(float64(i)*2), 0.2*math.Cos(float64(i)*3), grey(0.03))
	}
}

// landscape paints what goes by outside: hills, fields, sea, smeared by speed.
func landscape(c *canvas, seaside bool, seed uint32) {
	s := sky{horizon: 0.5, low: hex(0xe8e6da), mid: hex(0xb3d0e2).mul(0.95), high: hex(0x7fb0dc).mul(0.85), sunX: 0.3, sunY: -0.2, clouds: 0.35, scale: 0.9, lit: grey(1.1), dark: hex(0xbfc8d4).mul(0.9), seed: seed, softness: 0.25}
	s.paint(c, 0.55)
	if seaside {
		(&ridge{base: 0.44, height: 0.16, freq: 1.1, rough: 5, seed: seed + 8, top: hex(0x7f99a8).mul(0.75), foot: hex(0xb2bfb9).mul(0.85), depth: 0.12, slopeX: -0.16, rock: 0.4, light: hex(0xd8c8a0).mul(0.3)}).paint(c)
		(&sea{horizon: 0.47, eye: 7, wind: 0.05, length: 6, deep: hex(0x2f86a0).mul(0.75), above: &s, seed: seed, haze: 0.3}).paint(c)
		c.fill(poly(0, 0.70, c.aspect, 0.66, c.aspect, 1, 0, 1), func(x, y float64) rgb {
			return hex(0xdcc89a).mul(0.85 + 0.4*(fbm(x*3, y*60, 3, 4)-0.5))
		})
	} else {
		(&ridge{base: 0.47, height: 0.12, freq: 1.2, rough: 4, seed: seed, top: hex(0x8ea5b4).mul(0.8), foot: hex(0xb6c3bd).mul(0.85), depth: 0.1}).paint(c)
		(&ridge{base: 0.53, height: 0.08, freq: 1.6, rough: 4, seed: seed + 3, top: hex(0x62804a).mul(0.7), foot: hex(0x8ea35a).mul(0.8), depth: 0.1, trees: 0.012}).paint(c)
		meadow(c, 0.56, 2, func(wx, wz, _ float64) rgb {
			n := fbm(wx*0.08, wz*0.1, 4, seed) - 0.5
			return mix(hex(0x9db057), hex(0xd9c26a), ramp(-0.1, 0.2, n)).mul(0.85 + 0.4*n)
		}, 0)
	}
	c.smear(0.05, func(y float64) float64 { return ramp(0.55, 0.85, y) })
}

// smear blurs sideways, by an amount that changes with height: speed past a window.
func (c *canvas) smear(reach float64, amount func(y float64) float64) {
	tmp := make([]float32, 3*c.w)
	for y := range c.h {
		r := int(reach * c.unit * amount((float64(y)+0.5)/c.unit))
		for range 2 {
			blurLine(c.pix[3*y*c.w:3*(y+1)*c.w], tmp, c.w, 3, 3, r)
		}
	}
}
