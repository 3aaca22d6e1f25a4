package demo

import (
	"image"
	"math"
)

// stock is how a film, or a sensor with its developer, answers light.
type stock struct {
	mono      bool
	expose    float64 // factor on light
	contrast  float64 // slope of the curve in the middle; 0.62 is about a plain rendering
	black     float64 // encoded value of the deepest black, 0..1
	balance   rgb     // gain per channel
	saturate  float64 // 1 leaves colours
	shadow    rgb     // encoded tint added in the shadows
	light     rgb     // encoded tint added in the lights
	grain     float64 // deviation, encoded
	coarse    int     // grain radius in pixels at 1200 px height, 0 finest
	halation  float64 // red rim around lights
	bloom     float64
	vignette  float64
	soft      float64 // lens blur in pixels at 1200 px height
	luma      rgb     // mono: sensitivity to colours (sums to 1)
	whiteStop float64 // stops above grey that reach paper white
}

var (
	sensor = stock{expose: 1, contrast: 0.68, black: 0.004, balance: rgb{1, 1, 1}, saturate: 0.92,
		grain: 0.011, bloom: 0.06, vignette: 0.18, soft: 0.5, whiteStop: 3.6}
	warmFilm = stock{expose: 1.08, contrast: 0.64, black: 0.035, balance: rgb{1.05, 1, 0.9}, saturate: 0.93,
		shadow: rgb{0.004, 0.012, 0.01}, light: rgb{0.012, 0.004, -0.024}, grain: 0.019, coarse: 1,
		halation: 0.3, bloom: 0.05, vignette: 0.3, soft: 0.9, whiteStop: 3.7}
	coolFilm = stock{expose: 0.95, contrast: 0.74, black: 0.02, balance: rgb{0.95, 1, 1.07}, saturate: 0.98,
		shadow: rgb{-0.008, 0.004, 0.022}, light: rgb{0.006, 0.004, -0.006}, grain: 0.016, coarse: 1,
		halation: 0.2, bloom: 0.06, vignette: 0.34, soft: 0.8, whiteStop: 3.4}
	silver = stock{mono: true, expose: 1.05, contrast: 0.8, black: 0.022, balance: rgb{1, 1, 1}, saturate: 1,
		grain: 0.032, coarse: 1, halation: 0.12, bloom: 0.05, vignette: 0.36, soft: 0.9,
		luma: rgb{0.38, 0.45, 0.17}, whiteStop: 3.3}
)

// tone is the film's curve as a table over the leading bits of a float32: a
// logistic in stops around middle grey (0.18), stretched so that nothing is 0 and
// whiteStop is 1. The result is encoded (as stored in a file), not light.
type tone struct{ t [23 << 8]float32 }

func (s *stock) curve() *tone {
	sig := func(e float64) float64 { return 1 / (1 + math.Exp(-s.contrast*e+0.16)) }
	lo, hi := sig(-8), sig(s.whiteStop)
	c := new(tone)
	for i := range c.t {
		x := float64(math.Float32frombits(uint32(i<<15) + (127-16)<<23))
		v := (sig(math.Log2(x/0.18)) - lo) / (hi - lo)
		c.t[i] = float32(s.black + (1-s.black)*clamp(v, 0, 1))
	}
	return c
}

func (c *tone) at(v float64) float64 {
	b := int(math.Float32bits(float32(max(v, 0)))>>15) - (127-16)<<8
	return float64(c.t[min(max(b, 0), len(c.t)-1)])
}

// develop turns light into an upright 8-bit picture.
func (c *canvas) develop(s stock, seed uint32) *image.RGBA {
	c.spill(&s)
	px := c.unit / 1200
	if a := clamp(s.soft*px, 0, 1); a > 0.05 {
		c.soften(a * 0.5)
	}
	grain := grainField(c.w, c.h, int(float64(s.coarse)*px+0.5), seed)
	curve := s.curve()
	img := image.NewRGBA(image.Rect(0, 0, c.w, c.h))
	cx, cy := float64(c.w)/2, float64(c.h)/2
	for y := range c.h {
		for x := range c.w {
			dx, dy := (float64(x)-cx)/cx, (float64(y)-cy)/cy
			r2 := (dx*dx + dy*dy) / 2
			v := c.get(x, y).times(s.balance).mul(s.expose * (1 - s.vignette*r2*(0.5+0.5*r2)))
			e := s.answer(curve, v)
			l := (e.r + e.g + e.b) / 3
			g := float64(grain[y*c.w+x]) * s.grain * (0.35 + 2.6*l*(1-l))
			i := img.PixOffset(x, y)
			img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = to8(e.r+g), to8(e.g+g), to8(e.b+g*1.05), 255
		}
	}
	return img
}

// answer is one point of light through the film, encoded.
func (s *stock) answer(curve *tone, v rgb) rgb {
	if s.mono {
		k := curve.at(v.r*s.luma.r + v.g*s.luma.g + v.b*s.luma.b)
		return grey(k)
	}
	l := v.luma()
	v = rgb{l + (v.r-l)*s.saturate, l + (v.g-l)*s.saturate, l + (v.b-l)*s.saturate}
	e := rgb{curve.at(v.r), curve.at(v.g), curve.at(v.b)}
	k := (e.r + e.g + e.b) / 3
	return e.add(s.shadow.mul((1 - k) * (1 - k))).add(s.light.mul(k * k))
}

func to8(e float64) uint8 { return uint8(clamp(e, 0, 1)*255 + 0.5) }

// spill lets strong lights run over: white bloom in the lens, red halation in the film base.
func (c *canvas) spill(s *stock) {
	if s.bloom == 0 && s.halation == 0 {
		return
	}
	wide, near := c.quarter(0.75, 0.035), c.quarter(1.0, 0.008)
	if wide.dark() {
		return
	}
	c.shade(0, c.aspect, 1, func(x, y float64) rgb {
		v := c.get(int(x*c.unit), int(y*c.unit))
		if wide.get(int(x*wide.unit), int(y*wide.unit)).g < 1e-4 {
			return v
		}
		b, h := wide.sample(x, y), near.sample(x, y)
		v = v.add(b.mul(s.bloom * 2))
		hl := h.luma() * s.halation
		return v.add(rgb{hl * 0.5, hl * 0.16, hl * 0.04})
	})
}

// dark tells whether there is no light at all.
func (c *canvas) dark() bool {
	for _, v := range c.pix {
		if v > 0 {
			return false
		}
	}
	return true
}

// soften is the small unsharpness of a lens: each pixel takes a share of its neighbours.
func (c *canvas) soften(a float64) {
	row := make([]float32, 3*c.w)
	k := float32(a / 2)
	for y := range c.h {
		p := c.pix[3*y*c.w : 3*(y+1)*c.w]
		copy(row, p)
		for i := 3; i < len(p)-3; i++ {
			p[i] = row[i]*(1-2*k) + k*(row[i-3]+row[i+3])
		}
	}
	prev := append([]float32(nil), c.pix[:3*c.w]...)
	for y := 1; y < c.h-1; y++ {
		p, n := c.pix[3*y*c.w:3*(y+1)*c.w], c.pix[3*(y+1)*c.w:]
		for i := range p {
			v := p[i]
			p[i] = v*(1-2*k) + k*(prev[i]+n[i])
			prev[i] = v
		}
	}
}

// grainField is noise of deviation 1, in clumps of the given radius.
func grainField(w, h, radius int, seed uint32) []float32 {
	g := make([]float32, w*h)
	for y := range h {
		for x := range w {
			b := hash2(int32(x), int32(y), seed)
			s := int(b&255) + int(b>>8&255) + int(b>>16&255) + int(b>>24) - 510
			g[y*w+x] = float32(s) / 148
		}
	}
	if radius > 0 { // a light binomial blur clumps without the cost of a wide one
		c := canvas{w: w, h: h}
		c.clump(g)
	}
	return g
}

func (c *canvas) clump(g []float32) {
	row := make([]float32, c.w)
	for y := range c.h {
		p := g[y*c.w : (y+1)*c.w]
		copy(row, p)
		for x := 1; x < c.w-1; x++ {
			p[x] = (row[x-1] + 2*row[x] + row[x+1]) * 0.41
		}
	}
	prev := append([]float32(nil), g[:c.w]...)
	for y := 1; y < c.h-1; y++ {
		p, n := g[y*c.w:(y+1)*c.w], g[(y+1)*c.w:]
		for x := range p {
			v := p[x]
			p[x] = (prev[x] + 2*v + n[x]) * 0.41
			prev[x] = v
		}
	}
}

// tilt turns the picture by a small angle and enlarges it just enough to fill the frame.
func (c *canvas) tilt(deg float64) {
	if deg == 0 {
		return
	}
	s, k := math.Sincos(deg * math.Pi / 180)
	zoom := 1 / (k + math.Abs(s)*max(c.aspect, 1/c.aspect))
	d := c.clone()
	c.shade(0, c.aspect, 1, func(x, y float64) rgb {
		dx, dy := (x-c.aspect/2)*zoom, (y-0.5)*zoom
		return d.sample(c.aspect/2+dx*k-dy*s, 0.5+dx*s+dy*k)
	})
}
