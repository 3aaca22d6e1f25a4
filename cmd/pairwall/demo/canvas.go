package demo

import "math"

// rgb is light, linear, with the sRGB primaries; 1 is a white wall in the sun.
// Values above 1 are allowed and end in the shoulder of the film.
type rgb struct{ r, g, b float64 }

func (a rgb) add(b rgb) rgb     { return rgb{a.r + b.r, a.g + b.g, a.b + b.b} }
func (a rgb) mul(s float64) rgb { return rgb{a.r * s, a.g * s, a.b * s} }
func (a rgb) times(b rgb) rgb   { return rgb{a.r * b.r, a.g * b.g, a.b * b.b} }
func (a rgb) luma() float64     { return 0.2126*a.r + 0.7152*a.g + 0.0722*a.b }
func mix(a, b rgb, t float64) rgb {
	return rgb{lerp(a.r, b.r, t), lerp(a.g, b.g, t), lerp(a.b, b.b, t)}
}
func grey(v float64) rgb { return rgb{v, v, v} }

// light8 is the light of each 8-bit sRGB value (IEC 61966-2-1).
var light8 = func() (t [256]float64) {
	for i := range t {
		e := float64(i) / 255
		if e <= 0.04045 {
			t[i] = e / 12.92
		} else {
			t[i] = math.Pow((e+0.055)/1.055, 2.4)
		}
	}
	return t
}()

// hex turns a colour as one reads it off a screen (0xRRGGBB, sRGB) into light.
func hex(v uint32) rgb { return rgb{light8[v>>16&255], light8[v>>8&255], light8[v&255]} }

func lerp(a, b, t float64) float64 { return a + (b-a)*t }

// clamp is written out because the compiler turns it into compares, which are
// several times quicker here than the library's care for signed zeros.
func clamp(x, lo, hi float64) float64 {
	if x < lo {
		return lo
	}
	if x > hi {
		return hi
	}
	return x
}

// ramp runs smoothly from 0 at a to 1 at b; a may be greater than b.
func ramp(a, b, x float64) float64 {
	t := (x - a) / (b - a)
	if t <= 0 {
		return 0
	}
	if t >= 1 {
		return 1
	}
	return t * t * (3 - 2*t)
}

func frac(x float64) float64 { return x - math.Floor(x) }

// canvas holds linear light. Painters measure in heights of the picture: y runs
// from 0 (top) to 1, x from 0 to aspect, so one painting serves every size.
type canvas struct {
	w, h   int
	aspect float64
	unit   float64 // pixels per unit
	pix    []float32
}

func newCanvas(w, h int) *canvas {
	return &canvas{w: w, h: h, aspect: float64(w) / float64(h), unit: float64(h), pix: make([]float32, 3*w*h)}
}

func (c *canvas) get(px, py int) rgb {
	px, py = min(max(px, 0), c.w-1), min(max(py, 0), c.h-1)
	i := 3 * (py*c.w + px)
	return rgb{float64(c.pix[i]), float64(c.pix[i+1]), float64(c.pix[i+2])}
}

func (c *canvas) set(px, py int, v rgb) {
	i := 3 * (py*c.w + px)
	c.pix[i], c.pix[i+1], c.pix[i+2] = float32(v.r), float32(v.g), float32(v.b)
}

func (c *canvas) blend(px, py int, v rgb, a float64) {
	i, t := 3*(py*c.w+px), float32(a)
	c.pix[i] += (float32(v.r) - c.pix[i]) * t
	c.pix[i+1] += (float32(v.g) - c.pix[i+1]) * t
	c.pix[i+2] += (float32(v.b) - c.pix[i+2]) * t
}

// sample reads between pixels; outside it repeats the edge.
func (c *canvas) sample(x, y float64) rgb {
	fx, fy := x*c.unit-0.5, y*c.unit-0.5
	x0, y0 := math.Floor(fx), math.Floor(fy)
	tx, ty := fx-x0, fy-y0
	ix, iy := int(x0), int(y0)
	if ix < 0 || iy < 0 || ix >= c.w-1 || iy >= c.h-1 {
		return mix(mix(c.get(ix, iy), c.get(ix+1, iy), tx), mix(c.get(ix, iy+1), c.get(ix+1, iy+1), tx), ty)
	}
	i := 3 * (iy*c.w + ix)
	p, q := c.pix[i:i+6], c.pix[i+3*c.w:i+3*c.w+6]
	u, v := float32(tx), float32(ty)
	at := func(k int) float64 {
		a, b := p[k]+(p[k+3]-p[k])*u, q[k]+(q[k+3]-q[k])*u
		return float64(a + (b-a)*v)
	}
	return rgb{at(0), at(1), at(2)}
}

func (c *canvas) clone() *canvas {
	d := *c
	d.pix = append([]float32(nil), c.pix...)
	return &d
}

func (c *canvas) bounds(x0, y0, x1, y1 float64) (int, int, int, int) {
	lim := func(v float64, hi int) int { return int(clamp(v, 0, float64(hi))) }
	return lim(math.Floor(x0*c.unit), c.w), lim(math.Floor(y0*c.unit), c.h),
		lim(math.Ceil(x1*c.unit), c.w), lim(math.Ceil(y1*c.unit), c.h)
}

// shade covers a rectangle from the left edge with light computed point by point.
func (c *canvas) shade(y0, x1, y1 float64, f func(x, y float64) rgb) {
	ax, ay, bx, by := c.bounds(0, y0, x1, y1)
	for py := ay; py < by; py++ {
		y := (float64(py) + 0.5) / c.unit
		for px := ax; px < bx; px++ {
			c.set(px, py, f((float64(px)+0.5)/c.unit, y))
		}
	}
}

// glaze lays light with an opacity over a rectangle.
func (c *canvas) glaze(x0, y0, x1, y1 float64, f func(x, y float64) (rgb, float64)) {
	ax, ay, bx, by := c.bounds(x0, y0, x1, y1)
	for py := ay; py < by; py++ {
		y := (float64(py) + 0.5) / c.unit
		for px := ax; px < bx; px++ {
			if v, a := f((float64(px)+0.5)/c.unit, y); a > 0 {
				c.blend(px, py, v, min(a, 1))
			}
		}
	}
}

// coarse computes f only at every step-th pixel and interpolates: for skies,
// fog and glows, which hold nothing finer. step shrinks with small pictures.
func (c *canvas) coarse(y0, y1 float64, step int, f func(x, y float64) (rgb, float64)) {
	step = max(1, min(step, c.h/150))
	_, ay, _, by := c.bounds(0, y0, c.aspect, y1)
	gw, gh := c.w/step+2, (by-ay)/step+2
	col, op := make([]rgb, gw*gh), make([]float64, gw*gh)
	for j := range gh {
		for i := range gw {
			col[j*gw+i], op[j*gw+i] = f((float64(i*step)+0.5)/c.unit, (float64(ay+j*step)+0.5)/c.unit)
		}
	}
	for py := ay; py < by; py++ {
		j, ty := (py-ay)/step, float64((py-ay)%step)/float64(step)
		for px := range c.w {
			k, tx := j*gw+px/step, float64(px%step)/float64(step)
			a := lerp(lerp(op[k], op[k+1], tx), lerp(op[k+gw], op[k+gw+1], tx), ty)
			if a > 0 {
				c.blend(px, py, mix(mix(col[k], col[k+1], tx), mix(col[k+gw], col[k+gw+1], tx), ty), min(a, 1))
			}
		}
	}
}

// opaque makes a glaze of a shade.
func opaque(f func(x, y float64) rgb) func(x, y float64) (rgb, float64) {
	return func(x, y float64) (rgb, float64) { return f(x, y), 1 }
}

// lift adds light (a lamp, a flare) in a round pool that falls off nearly as a
// Gaussian of radius r, and ends at 3r.
func (c *canvas) lift(cx, cy, r float64, v rgb) {
	ax, ay, bx, by := c.bounds(cx-3*r, cy-3*r, cx+3*r, cy+3*r)
	for py := ay; py < by; py++ {
		dy := (float64(py)+0.5)/c.unit - cy
		for px := ax; px < bx; px++ {
			dx := (float64(px)+0.5)/c.unit - cx
			g := 1 - (dx*dx+dy*dy)/(9*r*r)
			if g <= 0 {
				continue
			}
			g *= g * g
			g *= g * g
			i := 3 * (py*c.w + px)
			c.pix[i] += float32(v.r * g)
			c.pix[i+1] += float32(v.g * g)
			c.pix[i+2] += float32(v.b * g)
		}
	}
}
