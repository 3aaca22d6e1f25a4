package demo

import "math"

// sky is the light above a horizon, in picture coordinates.
type sky struct {
	horizon         float64 // y of the horizon
	low, mid, high  rgb     // at the horizon, a third up, and one height up
	sunX, sunY      float64
	sun             rgb     // colour and strength of the disc; zero: no sun in view
	disc            float64 // radius of the disc
	glow            float64 // reach of the light round the sun
	clouds          float64 // share of sky covered, 0..1
	scale, stretch  float64 // size and flatness of clouds
	lit, dark       rgb     // sunny side and belly of a cloud
	seed            uint32
	softness        float64 // width of a cloud's edge
	far             float64 // how quickly clouds crowd towards the horizon
	streak, streakY float64 // thin high cloud: strength and scale
}

// clear is the sky without clouds.
func (s *sky) clear(x, y float64) rgb {
	e := max(s.horizon-y, 0)
	v := mix(mix(s.low, s.mid, ramp(0, 0.38, e)), s.high, ramp(0.2, 1, e))
	if s.glow > 0 {
		d := math.Hypot(x-s.sunX, (y-s.sunY)*1.25)
		if g := 0.10 * math.Exp(-d/s.glow); d < 0.9*s.glow {
			v = v.add(s.sun.mul(g + 0.10*math.Exp(-d*d/(s.glow*s.glow*0.08))))
		} else {
			v = v.add(s.sun.mul(g))
		}
	}
	if s.disc > 0 {
		d := math.Hypot(x-s.sunX, y-s.sunY)
		v = v.add(s.sun.mul(ramp(s.disc*1.15, s.disc*0.85, d)))
	}
	return v
}

// cover is the cloud's density at a point, 0..1.
func (s *sky) density(x, y float64) float64 {
	e := max(s.horizon-y, 0) + s.far
	u, v := (x-s.sunX)/e*s.scale*0.3, s.scale/(e+0.12)*0.55*s.stretch
	n := warped(u+float64(s.seed%17), v, 5, 0.9, s.seed)
	edge := 1 - s.clouds
	return ramp(edge*0.62+0.2-s.softness/2, edge*0.62+0.2+s.softness, n)
}

func (s *sky) at(x, y float64) rgb {
	v := s.clear(x, y)
	if s.streak > 0 {
		e := s.horizon - y
		n := warped(x*1.1+e*0.8, y*s.streakY+x*0.35, 4, 1.3, s.seed+91)
		v = mix(v, s.lit, s.streak*ramp(0.45, 0.8, n)*ramp(0, 0.2, e))
	}
	if s.clouds <= 0 {
		return v
	}
	d := s.density(x, y)
	if d <= 0.003 {
		return v
	}
	dx, dy := s.sunX-x, s.sunY-y
	l := math.Hypot(dx, dy) + 1e-6
	// Light comes through where there is less cloud on the way to the sun.
	thin := d - s.density(x+dx/l*0.025, y+dy/l*0.025)
	k := clamp(0.5+1.1*thin-0.4*(d-0.5), 0, 1)
	col := mix(s.dark, s.lit, k)
	col = mix(col, s.low, 0.55*ramp(0.25, 0, s.horizon-y)) // far clouds sink into the haze
	return mix(v, col, d*0.95)
}

// paint fills the canvas down to y with the sky.
func (s *sky) paint(c *canvas, to float64) {
	if s.softness == 0 {
		s.softness = 0.16
	}
	if s.far == 0 {
		s.far = 0.1
	}
	if s.stretch == 0 {
		s.stretch = 1
	}
	c.coarse(0, to, 3, opaque(s.at))
}

// ridge is one layer of land against the sky.
type ridge struct {
	base, height float64 // y of its mean line, height of its relief
	freq         float64
	rough        int
	seed         uint32
	top, foot    rgb // colour along the crest and down in the haze
	depth        float64
	rock         float64 // contrast of gullies and light on the slopes
	light        rgb     // colour of the light on slopes that face it
	trees        float64 // raggedness of a wooded crest
	slopeX       float64 // tilt of the crest over the width
}

func (r *ridge) crest(x float64) float64 {
	n := ridged(x*r.freq, float64(r.seed%31)+0.5, r.rough, r.seed)*0.6 + fbm(x*r.freq*0.6, 7.7, 2, r.seed+5)*0.6
	y := r.base - r.height*(n-0.25) + r.slopeX*x
	if r.trees > 0 {
		y -= r.trees * ridged(x*90, 3.3, 3, r.seed+9)
	}
	return y
}

func (r *ridge) paint(c *canvas) {
	tops := make([]float64, c.w)
	high := 1.0
	for i := range tops {
		tops[i] = r.crest((float64(i) + 0.5) / c.unit)
		high = min(high, tops[i])
	}
	c.glaze(0, high-0.01, c.aspect, 1, func(x, y float64) (rgb, float64) {
		t := tops[min(int(x*c.unit), c.w-1)]
		a := clamp((y-t)*c.unit+0.5, 0, 1)
		if a == 0 {
			return rgb{}, 0
		}
		d := y - t
		v := mix(r.top, r.foot, ramp(0, r.depth, d))
		if r.rock > 0 {
			g := ridged(x*r.freq*2.2+d*3, y*r.freq*1.2, 4, r.seed+3) - ridged(x*r.freq*2.2+d*3+0.12, y*r.freq*1.2-0.06, 4, r.seed+3)
			k := clamp(0.45+2.6*g, 0, 1) * r.rock * ramp(r.depth*1.4, 0, d)
			v = v.add(r.light.mul(k))
		}
		return v, a
	})
}

// haze lays mist between two heights, thickest at y1.
func (c *canvas) haze(y0, y1 float64, v rgb, strength float64, seed uint32) {
	c.coarse(y0, 1, 4, func(x, y float64) (rgb, float64) {
		n := 0.6 + 0.8*fbm(x*2.2, y*6, 3, seed)
		return v, clamp(strength*ramp(y0, y1, y)*n, 0, 1)
	})
}
