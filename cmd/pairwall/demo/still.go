package demo

import (
	"math"
	"sort"
)

// espresso: a cup on a checked cloth, from above, shade of a leaf across it.
func espresso(c *canvas) {
	light := rgb{1.25, 1.08, 0.82}
	s, k := math.Sincos(0.5)
	c.shade(0, c.aspect, 1, func(x, y float64) rgb {
		p := 0.82 + 0.36*y // a little perspective: the near edge is larger
		u, v := (x-c.aspect/2)/p, (y-0.5)/(p*0.92)
		a, b := (u*k+v*s)/0.115, (v*k-u*s)/0.115
		wave := 0.05 * (fbm(a*0.5, b*0.5, 3, 4) - 0.5)
		stripe := func(t float64) float64 { return ramp(0.06, 0.03, math.Abs(frac(t+wave)-0.5)-0.22) }
		n := 0.5*(stripe(a)+stripe(b)) + 0
		weave := 0.06 * (math.Sin(a*95) + math.Sin(b*95)) / (1 + 2*math.Abs(p-1))
		col := mix(hex(0xf3eee4), hex(0xb5352b), n*0.92)
		fold := fbm(x*2.2+y, y*1.6-x, 3, 9) - fbm(x*2.2+y+0.08, y*1.6-x-0.05, 3, 9)
		return col.times(light).mul(0.92 + weave + 1.6*fold)
	})
	x, y := c.aspect*0.56, 0.47
	sh := func(p path) { c.cast(p, 0.008) }
	sh(oval(x+0.05, y+0.045, 0.255, 0.225))
	disc := func(cx, cy, r float64, f func(u, v, q float64) rgb) {
		c.ellipse(cx, cy, r, r*0.9, 0, func(u, v float64) (rgb, float64) { return f(u, v, math.Hypot(u, v)), 1 })
	}
	white := hex(0xf2efe9).times(light)
	disc(x, y, 0.245, func(u, v, q float64) rgb {
		rim := 0.25 * ramp(0.9, 0.97, q) * (-u - v)
		well := 0.22 * ramp(0.5, 0.44, q) * (u + v) * 1.1
		return white.mul(0.86 + rim + well + 0.1*(-u-v)*ramp(0.5, 0.9, q)*0.7)
	})
	sh(oval(x+0.055, y+0.04, 0.135, 0.12))
	c.line(pt{x + 0.105, y - 0.085}, pt{x + 0.175, y - 0.12}, 0.036, 0.032, white.mul(0.45), 1)
	c.line(pt{x + 0.105, y - 0.09}, pt{x + 0.175, y - 0.125}, 0.018, 0.015, white.mul(0.85), 1)
	disc(x, y, 0.137, func(u, v, q float64) rgb { return white.mul(0.82 - 0.22*(u+v)*ramp(0.8, 1, q)) })
	disc(x, y, 0.122, func(u, v, q float64) rgb { return white.mul(0.42 + 0.28*(u+v)) })
	disc(x, y+0.002, 0.112, func(u, v, q float64) rgb {
		crema := warped(u*2.4, v*2.4, 4, 2.2, 15)
		col := mix(hex(0x5f2f10), hex(0xc9883f), ramp(0.35, 0.68, crema)*0.8+0.2*ramp(0.8, 1, q)).mul(0.6)
		col = mix(col, hex(0x2a1206).mul(0.4), ramp(0.3, 0.9, -u-v)*0.6)
		return col.add(grey(0.7).mul(math.Exp(-30 * ((u-0.3)*(u-0.3) + (v-0.42)*(v-0.42)))))
	})
	spoon(c, x-0.44, y+0.27, light)
	sugar(c, x-0.37, y-0.2, light)
	for _, o := range []struct{ x, y, t float64 }{{0.02, 0.1, 0.2}, {0.2, -0.02, 0.7}, {0.42, 0.03, 0.4}, {1.3, 1.02, 2.6}, {1.5, 0.88, 2.9}, {1.12, 1.08, 2.2}} {
		sh(leafShape(o.x, o.y, 0.3, o.t))
	}
}

func leafShape(x, y, l, turn float64) path {
	s, k := math.Sincos(turn)
	return smooth(poly(0, 0, 0.25, -0.16, 0.6, -0.15, 1, 0, 0.6, 0.13, 0.25, 0.15)).onto(func(p pt) pt {
		return pt{x + l*(p.x*k-p.y*s), y + l*(p.x*s+p.y*k)}
	})
}

func spoon(c *canvas, x, y float64, light rgb) {
	c.cast(leafShape(x+0.015, y+0.018, 0.09, -0.6), 0.004)
	c.dim(poly(x+0.08, y-0.03, x+0.3, y-0.16, x+0.305, y-0.15, x+0.085, y-0.02), 0.004, grey(0.4))
	c.line(pt{x + 0.06, y - 0.045}, pt{x + 0.29, y - 0.185}, 0.011, 0.016, grey(0.3), 1)
	c.line(pt{x + 0.06, y - 0.047}, pt{x + 0.29, y - 0.188}, 0.004, 0.005, light.mul(1.6), 0.9)
	c.ellipse(x+0.03, y-0.027, 0.052, 0.032, -0.55, func(u, v float64) (rgb, float64) {
		return mix(grey(0.25), light.mul(1.3), ramp(-0.5, 0.8, v-0.5*u)), 1
	})
}

func sugar(c *canvas, x, y float64, light rgb) {
	p := poly(x, y, x+0.16, y-0.05, x+0.185, y+0.03, x+0.025, y+0.085)
	c.cast(p.onto(func(q pt) pt { return pt{q.x + 0.012, q.y + 0.014} }), 0.004)
	c.fill(p, func(px, py float64) rgb {
		f := fbm(px*30, py*30, 3, 6) - fbm(px*30+0.4, py*30+0.3, 3, 6)
		t := (px-x)*0.3 + (py - y)
		v := hex(0xefe6d2)
		if math.Abs(t-0.05) < 0.014 {
			v = hex(0x2f66a0)
		}
		return v.times(light).mul(0.9 + 1.5*f)
	})
}

// fruit is a ball of the given kind, lit from the upper left, its skin pitted.
type fruit struct {
	x, y, r, stretch, turn float64
	skin                   rgb
	pits, gloss            float64
	seed                   uint32
}

func (f *fruit) paint(c *canvas, light rgb) {
	c.dim(oval(f.x+0.18*f.r, f.y+0.3*f.r, f.r*1.08, f.r), 0.22*f.r, rgb{0.34, 0.3, 0.32})
	s, k := math.Sincos(f.turn)
	c.ellipse(f.x, f.y, f.r*f.stretch, f.r, f.turn, func(u, v float64) (rgb, float64) {
		z := math.Sqrt(max(0, 1-u*u-v*v))
		n := fbm(u*5+float64(f.seed), v*5, 3, f.seed)
		fine := fbm(u*22, v*22, 2, f.seed+2) - 0.5
		ux, vy := u*k-v*s, u*s+v*k
		d := -0.45*ux - 0.62*vy + 0.64*z + f.pits*fine
		lit := max(0, d)
		bounce := max(0, vy) * 0.16
		col := f.skin.mul(0.8 + 0.4*n).times(light.mul(lit * 1.02).add(rgb{0.16, 0.15, 0.17})).add(f.skin.times(f.skin).mul(bounce))
		h := math.Exp(-((ux+0.36)*(ux+0.36) + (vy+0.46)*(vy+0.46)) * 18)
		return col.add(light.mul(f.gloss * h * (0.7 + 0.6*fine))), 1
	})
}

// heap lays rows of fruit from the far side to the near, over a crate.
func heap(c *canvas, inside path, x0, y0, x1, y1, r float64, skins []rgb, stretch, pits, gloss float64, light rgb, seed uint32) {
	d := dice(seed)
	var fs []fruit
	for y := y0; y < y1; y += r * 1.25 {
		for x := x0 + r*d.in(0, 1.2); x < x1; x += r * 1.85 * (0.5 + stretch/2) {
			q := r * d.in(0.86, 1.12) * (0.85 + 0.3*(y-y0)/(y1-y0))
			fs = append(fs, fruit{x + d.bell()*r*0.18, y + d.bell()*r*0.2, q, lerp(1, stretch, d.in(0.5, 1.1)), d.in(-0.7, 0.7), skins[int(d.next()*float64(len(skins)))], pits, gloss, uint32(len(fs))})
		}
	}
	sort.SliceStable(fs, func(a, b int) bool { return fs[a].y < fs[b].y })
	under := c.clone()
	for i := range fs {
		fs[i].paint(c, light)
	}
	if inside != nil { // the heap ends where the crate does
		m := c.cover(inside, 0)
		full := c.clone()
		copy(c.pix, under.pix)
		c.lay(m, func(x, y float64) (rgb, float64) { return full.get(int(x*c.unit), int(y*c.unit)), 1 })
	}
}

// lemons: a crate in Split, a few leaves left on.
func lemons(c *canvas) {
	light := rgb{1.3, 1.12, 0.84}
	c.shade(0, c.aspect, 1, func(x, y float64) rgb { return hex(0x3d2d20).mul(0.4 + 0.3*fbm(x*5, y*30, 3, 2)) })
	ys := []rgb{hex(0xf2c62e), hex(0xeebb22), hex(0xf5d34e), hex(0xe3b82a), hex(0xd9c23e)}
	heap(c, nil, -0.05, -0.02, c.aspect+0.1, 0.9, 0.092, ys, 1.28, 0.3, 0.32, light, 5)
	d := dice(9)
	for i := range 11 {
		x, y, t := d.in(0, c.aspect), d.in(0.05, 0.78), d.in(0, 6)
		l := d.in(0.16, 0.23)
		c.cast(leafShape(x+0.012, y+0.018, l, t), 0.008)
		s, k := math.Sincos(t)
		c.fill(leafShape(x, y, l, t), func(px, py float64) rgb {
			u, v := ((px-x)*k+(py-y)*s)/l, ((py-y)*k-(px-x)*s)/l
			rib := ramp(0.012, 0.004, math.Abs(v)) + 0.4*ramp(0.12, 0.05, math.Abs(frac((u-math.Abs(v))*9)-0.5))
			return mix(hex(0x3d6b2b), hex(0x7ea345), clamp(0.3+2*v*math.Cos(t)+0.3*rib, 0, 1)).times(light).mul(0.75 + 0.3*noise(u*6, v*20, uint32(i)))
		})
	}
	wood := planks(hex(0xc9a26b), 0.13, 8)
	for _, y := range []float64{0.875} {
		c.dim(rect(-0.1, y-0.045, c.aspect+0.1, y), 0.02, grey(0.45))
		c.fill(poly(-0.1, y, c.aspect+0.1, y-0.015, c.aspect+0.1, 1.1, -0.1, 1.1), func(px, py float64) rgb {
			q := wood(py*1.1+0.02, px*0.9)
			return q.paint.times(light).mul(0.75*q.sun + 0.3*ramp(y+0.012, y-0.004, py))
		})
	}
	// The edge of the awning: its shade over the far corner.
	c.cast(poly(-0.1, -0.1, 0.95, -0.1, -0.1, 0.42), 0.03)
}

// market: crates at Rijeka, one colour beside the next.
func market(c *canvas) {
	light := rgb{1.16, 1.05, 0.9}
	c.shade(0, c.aspect, 1, func(_, y float64) rgb { return grey(0.02 + 0.02*y) })
	kinds := []struct {
		skins             []rgb
		r, st, pits, glos float64
	}{
		{[]rgb{hex(0xe8801e), hex(0xee9026), hex(0xd9701a)}, 0.047, 1.04, 0.28, 0.25},
		{[]rgb{hex(0x7a1420), hex(0x951a26), hex(0x5d0f1c)}, 0.022, 1.05, 0.05, 0.7},
		{[]rgb{hex(0x8db33f), hex(0xa4c252), hex(0x7fa236)}, 0.043, 1.08, 0.08, 0.35},
		{[]rgb{hex(0xcc2a20), hex(0xd93a28), hex(0xb8241d)}, 0.042, 1.05, 0.03, 0.75},
		{[]rgb{hex(0xf0c430), hex(0xe9b826)}, 0.038, 1.28, 0.3, 0.3},
		{[]rgb{hex(0x4a2a50), hex(0x3a2244), hex(0x5d3459)}, 0.052, 1.35, 0.03, 0.6},
	}
	wood := planks(hex(0xcfa873), 0.09, 4)
	n := 0
	for row := range 3 {
		y0, y1 := -0.06+0.37*float64(row), 0.28+0.37*float64(row)
		for col := range 3 {
			w := c.aspect / 2.6
			x0 := -0.16 + w*float64(col) + 0.07*float64(row%2) - 0.05*float64(row)
			k := kinds[[]int{4, 0, 2, 3, 1, 5, 2, 4, 0}[n]]
			in := poly(x0+0.02, y0, x0+w-0.02, y0, x0+w-0.01, y1, x0+0.01, y1)
			heap(c, in, x0, y0, x0+w+0.03, y1+0.02, k.r, k.skins, k.st, k.pits, k.glos, light, uint32(n)*7+3)
			for _, e := range []path{poly(x0-0.002, y0, x0+0.022, y0, x0+0.012, y1, x0-0.012, y1), poly(x0-0.012, y1-0.03, x0+w-0.008, y1-0.03, x0+w-0.008, y1+0.04, x0-0.012, y1+0.04)} {
				c.fill(e, func(px, py float64) rgb {
					q := wood(py*0.8+float64(n), px*1.2)
					return q.paint.times(light).mul(0.55 + 0.35*ramp(y1-0.02, y1-0.03, py))
				})
			}
			n++
		}
	}
	c.cast(poly(0.98, -0.1, 1.6, -0.1, 1.6, 1.1, 1.32, 1.1), 0.02)
	c.cast(poly(-0.1, -0.1, 0.25, -0.1, -0.1, 0.35), 0.03)
}

// pasta: little ears drying on a board in Bari, in raking light.
func pasta(c *canvas) {
	light := rgb{1.2, 1.02, 0.76}
	c.shade(0, c.aspect, 1, func(x, y float64) rgb {
		q := planks(hex(0xb98d5c), 0.24, 3)(y*0.9+0.06*x+0.1, x*1.1)
		return q.paint.times(light).mul(0.8 * q.sun).add(hex(0xf3ead8).mul(0.35 * ramp(0.5, 0.72, fbm(x*3, y*3, 4, 5))))
	})
	d := dice(31)
	for j := 0; j < 15; j++ {
		for i := 0; i < 21; i++ {
			x, y := 0.0+0.073*(float64(i)+0.5*float64(j%2))+d.bell()*0.008, 0.035+0.067*float64(j)+d.bell()*0.008
			if fbm(x*2.2, y*2.2, 2, 17) > 0.66 {
				continue
			}
			ear(c, x, y, 0.031*d.in(0.9, 1.1), d.in(0, 6.28), light, uint32(j*31+i))
		}
	}
	c.cast(poly(-0.1, -0.1, 0.28, -0.1, 0.1, 1.1, -0.1, 1.1), 0.05)
	c.cast(poly(0.62, -0.1, 0.71, -0.1, 0.5, 1.1, 0.41, 1.1), 0.035)
}

func ear(c *canvas, x, y, r, turn float64, light rgb, seed uint32) {
	c.cast(oval(x+0.38*r, y+0.34*r, r*1.02, r*0.86), 0.12*r)
	dough := hex(0xf0dcae)
	s, k := math.Sincos(turn)
	c.ellipse(x, y, r, r*0.84, turn, func(u, v float64) (rgb, float64) {
		q := math.Hypot(u, v)
		ux, vy := u*k-v*s, u*s+v*k
		hollow := ramp(0.78, 0.5, math.Hypot(u-0.06, v))
		tex := fbm(u*7, v*7, 3, seed) - 0.5
		rim := (-ux - vy) * 0.42 * ramp(0.6, 1, q)
		in := (ux + vy) * 0.5 * hollow
		return dough.times(light).mul(clamp(0.74+rim+in-0.1*hollow+0.55*tex*(0.4+hollow), 0.12, 1.3)), 1
	})
}
