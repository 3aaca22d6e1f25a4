package demo

import "math"

// figure is a person far off: a dark shape without a face. x, y is where the feet
// stand, h the height; stride opens the legs, lean tips the body forward.
func (c *canvas) figure(x, y, h, stride, lean float64, v rgb) {
	at := func(u, t float64) pt { return pt{x + (u+lean*t)*h, y - t*h} }
	leg := func(foot float64) {
		c.line(at(foot*0.4, 0.26), at(0.01, 0.5), 0.085*h, 0.12*h, v, 1)
		c.line(at(foot, 0.02), at(foot*0.4, 0.26), 0.055*h, 0.085*h, v, 1)
	}
	leg(stride)
	leg(-stride)
	body := smooth(path{{at(-0.085, 0.46), at(-0.1, 0.62), at(-0.125, 0.78), at(-0.06, 0.85),
		at(0.06, 0.85), at(0.125, 0.78), at(0.1, 0.62), at(0.09, 0.46)}})
	c.flat(body, v)
	for _, s := range []float64{-1, 1} {
		c.line(at(0.12*s, 0.79), at(0.145*s+stride*0.35*s, 0.6), 0.06*h, 0.05*h, v, 1)
		c.line(at(0.145*s+stride*0.35*s, 0.6), at(0.12*s+stride*0.6*s, 0.46), 0.05*h, 0.04*h, v, 1)
	}
	head := at(0.015, 0.93)
	c.line(at(0, 0.84), head, 0.06*h, 0.06*h, v, 1)
	c.ellipse(head.x, head.y, 0.055*h, 0.07*h, 0, func(_, _ float64) (rgb, float64) { return v, 1 })
}

// sitter is a person seated on an edge at y, seen from behind.
func (c *canvas) sitter(x, y, h float64, lean float64, v rgb) {
	at := func(u, t float64) pt { return pt{x + (u+lean*t)*h, y - t*h} }
	c.flat(smooth(path{{at(-0.17, 0), at(-0.19, 0.1), at(-0.15, 0.3), at(-0.17, 0.5), at(-0.185, 0.58), at(-0.13, 0.655), at(-0.045, 0.69),
		at(0.045, 0.69), at(0.13, 0.655), at(0.185, 0.58), at(0.17, 0.5), at(0.15, 0.3), at(0.19, 0.1), at(0.17, 0)}}), v)
	for _, s := range []float64{-1, 1} { // arms, hands on the knees or behind on the stone
		reach := 0.21 + 1.2*lean*s
		c.line(at(0.155*s, 0.57), at(reach*s, 0.3), 0.075*h, 0.06*h, v, 1)
		c.line(at(reach*s, 0.3), at((reach-0.02)*s, 0.05), 0.06*h, 0.045*h, v, 1)
	}
	hd := at(0.02, 0.815)
	c.line(at(0, 0.66), hd, 0.085*h, 0.08*h, v, 1)
	c.ellipse(hd.x, hd.y, 0.075*h, 0.1*h, lean, func(_, _ float64) (rgb, float64) { return v, 1 })
}

// gull is two bent wings; span in heights, flap from -1 to 1.
func (c *canvas) gull(x, y, span, flap, bank float64, v rgb) {
	s, k := math.Sincos(bank)
	at := func(u, t float64) pt { return pt{x + span*(u*k-t*s), y - span*(u*s+t*k)} }
	for _, d := range []float64{-1, 1} {
		c.flat(smooth(path{{at(0, 0.02), at(0.2*d, 0.11+0.09*flap), at(0.5*d, 0.03+0.13*flap),
			at(0.22*d, 0.05+0.08*flap), at(0, -0.04)}}), v)
	}
	c.ellipse(x, y, 0.045*span, 0.035*span, bank, func(_, _ float64) (rgb, float64) { return v, 1 })
}

// boat is a small open boat or launch seen from the side, waterline at y.
type boat struct {
	x, y, l   float64 // l is the length; negative points the bow to the left
	hull, top rgb
	stripe    rgb
	cabin     bool
	mast      float64
	tarp      rgb
}

// paint draws the boat; up = 1 upright, -1 its image in the water, whose light is dimmed.
func (b *boat) paint(c *canvas, up, share float64, water rgb) {
	at := func(u, t float64) pt { return pt{b.x + u*b.l, b.y - up*t*math.Abs(b.l)} }
	tone := func(v rgb) rgb { return mix(water, v, share) }
	hull := smooth(path{{at(-0.48, 0), at(-0.5, 0.11), at(-0.46, 0.135), at(0, 0.115), at(0.4, 0.16),
		at(0.53, 0.205), at(0.49, 0.1), at(0.42, 0)}})
	if b.mast > 0 {
		c.line(at(0.08, 0.1), at(0.06, b.mast), 0.008*math.Abs(b.l), 0.005*math.Abs(b.l), tone(hex(0x8a6b48)), 1)
		c.line(at(0.06, b.mast), at(0.5, 0.2), 0.002, 0.002, tone(grey(0.2)), 0.6)
		c.line(at(0.06, b.mast), at(-0.46, 0.13), 0.002, 0.002, tone(grey(0.2)), 0.6)
	}
	if b.cabin {
		c.flat(path{{at(-0.2, 0.1), at(-0.19, 0.27), at(0.1, 0.27), at(0.16, 0.12)}}, tone(b.top))
		c.flat(path{{at(-0.16, 0.18), at(-0.155, 0.245), at(0.09, 0.245), at(0.115, 0.18)}}, tone(hex(0x1d2a33)))
		c.flat(path{{at(-0.23, 0.265), at(-0.23, 0.285), at(0.13, 0.29), at(0.13, 0.268)}}, tone(b.top.mul(1.2)))
	} else {
		c.flat(smooth(path{{at(-0.44, 0.12), at(-0.2, 0.19), at(0.1, 0.2), at(0.4, 0.16)}}), tone(b.tarp))
	}
	c.fill(hull, func(x, y float64) rgb {
		t := (b.y - y) * up / math.Abs(b.l)
		v := b.hull.mul(0.72 + 2.2*clamp(t, 0, 0.2) + 0.16*(noise(x*60, y*200, 5)-0.5))
		if t > 0.088 && t < 0.112 {
			v = b.stripe
		}
		if t < 0.018 {
			v = v.mul(0.35)
		}
		return tone(v)
	})
}

// fleet paints boats on sheltered water: all images first, broken by ripples, then the boats.
func (c *canvas) fleet(bs []boat, water rgb, ripple float64, seed uint32) {
	top := 1.0
	for i := range bs {
		bs[i].paint(c, -1, 0.62, water)
		top = min(top, bs[i].y)
	}
	c.ripple(top, 1, ripple, 26, seed)
	for i := range bs {
		b := &bs[i]
		l := math.Abs(b.l)
		c.veil(oval(b.x, b.y+0.012*l, 0.52*l, 0.03*l), 0.015*l, water.mul(0.25), 0.7)
		b.paint(c, 1, 1, water)
	}
}

// ripple shakes what is painted between two heights, more towards the viewer.
func (c *canvas) ripple(y0, y1, reach, scale float64, seed uint32) {
	d := c.clone()
	c.shade(y0, c.aspect, y1, func(x, y float64) rgb {
		t := y - y0
		p := scale / (0.25 + t*1.5)
		n := fbm((x-c.aspect/2)*p*0.4, p*p*0.09+t*p*0.5, 3, seed) - 0.5
		m := fbm((x-c.aspect/2)*p*0.5+7, p*p*0.12+t*p, 2, seed+4) - 0.5
		a := reach * (0.25 + 1.5*t)
		return d.sample(x+a*m*1.6, max(y0+0.001, y+a*n*2.6))
	})
}

// cypress and pine are trees in the distance, lit a little from one side.
func (c *canvas) cypress(x, y, h float64, v rgb, seed uint32) {
	w := h * 0.11
	c.glaze(x-w*1.5, y-h, x+w*1.5, y, func(px, py float64) (rgb, float64) {
		t := (y - py) / h
		r := w * math.Pow(math.Sin(math.Pi*math.Pow(clamp(t, 0, 1), 0.62)), 0.8) * (0.75 + 0.5*fbm(py*30/h*0.3, 0, 2, seed))
		n := fbm((px-x)/h*26, py/h*16, 4, seed+1)
		a := ramp(0.03, -0.03, (math.Abs(px-x)-r*(0.7+0.6*n))/w)
		return v.mul(0.55 + 0.9*n*(0.6+0.5*clamp((px-x)/w, -1, 1))), a
	})
}

// crown is a broad-leaved tree or an umbrella pine: leafage in clumps over a trunk.
func (c *canvas) crown(x, y, h, wide, flatness float64, leaf, sun rgb, side float64, seed uint32) {
	c.line(pt{x - 0.02*h, y}, pt{x + 0.01*h, y - 0.6*h}, 0.07*h, 0.04*h, leaf.times(rgb{1, 0.7, 0.5}).mul(0.6), 1)
	cy, ry, rx := y-h*(1-0.45*flatness), h*0.45*flatness, h*wide
	c.glaze(x-rx*1.3, cy-ry*1.4, x+rx*1.3, cy+ry*1.3, func(px, py float64) (rgb, float64) {
		u, v := (px-x)/rx, (py-cy)/ry
		n := fbm(px/h*9, py/h*9, 5, seed)
		fine := fbm(px/h*34, py/h*34, 3, seed+2)
		d := math.Sqrt(u*u+v*v) + (n-0.5)*0.8 + (fine-0.5)*0.3
		if v > 0.55 {
			d += (v - 0.55) * 0.6
		}
		a := ramp(0.97, 0.9, d) * (0.86 + 0.14*ramp(0.3, 0.5, fine))
		k := clamp(0.45-0.38*v+0.3*side*u+1.5*(n-0.5)+1.1*(fine-0.5), 0.05, 1.3)
		return mix(leaf.mul(0.5), sun, k), a
	})
}
