package demo

import (
	"image"
	"image/draw"
	"math"

	"golang.org/x/image/vector"
)

type pt struct{ x, y float64 }

// path is one or more closed outlines; an outline wound the other way is a hole.
type path [][]pt

func poly(xy ...float64) path {
	p := make([]pt, len(xy)/2)
	for i := range p {
		p[i] = pt{xy[2*i], xy[2*i+1]}
	}
	return path{p}
}

func rect(x0, y0, x1, y1 float64) path { return poly(x0, y0, x1, y0, x1, y1, x0, y1) }

func oval(cx, cy, rx, ry float64) path {
	p := make([]pt, 48)
	for i := range p {
		s, k := math.Sincos(float64(i) / 48 * 2 * math.Pi)
		p[i] = pt{cx + rx*k, cy + ry*s}
	}
	return path{p}
}

// smooth rounds an outline: a closed Catmull-Rom curve through its points.
func smooth(p path) path {
	out := make(path, len(p))
	for k, o := range p {
		n := len(o)
		for i := range o {
			a, b, d, e := o[(i+n-1)%n], o[i], o[(i+1)%n], o[(i+2)%n]
			for s := range 8 {
				out[k] = append(out[k], catmull(a, b, d, e, float64(s)/8))
			}
		}
	}
	return out
}

func catmull(a, b, d, e pt, t float64) pt {
	f := func(a, b, d, e float64) float64 {
		return 0.5 * (2*b + (d-a)*t + (2*a-5*b+4*d-e)*t*t + (3*b-a-3*d+e)*t*t*t)
	}
	return pt{f(a.x, b.x, d.x, e.x), f(a.y, b.y, d.y, e.y)}
}

// onto carries an outline through a map: flips, shears, perspective.
func (p path) onto(f func(pt) pt) path {
	out := make(path, len(p))
	for k, o := range p {
		for _, q := range o {
			out[k] = append(out[k], f(q))
		}
	}
	return out
}

// mask is coverage in [0,1] over part of a canvas.
type mask struct {
	x0, y0, w, h int
	a            []float32
}

// cover rasterises an outline with exact pixel coverage, then softens its edge
// by a blur of the given radius (in heights), as a shadow or unsharp thing wants.
func (c *canvas) cover(p path, soft float64) *mask {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, o := range p {
		for _, q := range o {
			x0, x1 = min(x0, q.x), max(x1, q.x)
			y0, y1 = min(y0, q.y), max(y1, q.y)
		}
	}
	m := 2.5*soft + 1/c.unit
	ax, ay, bx, by := c.bounds(x0-m, y0-m, x1+m, y1+m)
	k := &mask{x0: ax, y0: ay, w: bx - ax, h: by - ay}
	if k.w <= 0 || k.h <= 0 {
		return &mask{}
	}
	z := vector.NewRasterizer(k.w, k.h)
	z.DrawOp = draw.Src
	at := func(q pt) (float32, float32) {
		return float32(q.x*c.unit - float64(ax)), float32(q.y*c.unit - float64(ay))
	}
	for _, o := range p {
		z.MoveTo(at(o[0]))
		for _, q := range o[1:] {
			z.LineTo(at(q))
		}
		z.ClosePath()
	}
	img := image.NewAlpha(image.Rect(0, 0, k.w, k.h))
	z.Draw(img, img.Bounds(), image.Opaque, image.Point{})
	k.a = make([]float32, k.w*k.h)
	for i, v := range img.Pix {
		k.a[i] = float32(v) / 255
	}
	if r := int(soft * c.unit / 1.7); r > 0 {
		boxBlur(k.a, k.w, k.h, 1, r, 3)
	}
	return k
}

func (c *canvas) lay(m *mask, f func(x, y float64) (rgb, float64)) {
	for j := range m.h {
		y := (float64(m.y0+j) + 0.5) / c.unit
		for i := range m.w {
			if a := float64(m.a[j*m.w+i]); a > 0.002 {
				v, o := f((float64(m.x0+i)+0.5)/c.unit, y)
				c.blend(m.x0+i, m.y0+j, v, a*clamp(o, 0, 1))
			}
		}
	}
}

func (c *canvas) fill(p path, f func(x, y float64) rgb) { c.lay(c.cover(p, 0), opaque(f)) }

func (c *canvas) flat(p path, v rgb) {
	c.lay(c.cover(p, 0), func(x, y float64) (rgb, float64) { return v, 1 })
}

// veil lays one colour with an opacity and a soft edge: shadows, mist, light patches.
func (c *canvas) veil(p path, soft float64, v rgb, a float64) {
	c.lay(c.cover(p, soft), func(x, y float64) (rgb, float64) { return v, a })
}

// dim takes light away under a soft outline, leaving what is there visible; left is
// the share of each channel that remains in full shadow.
func (c *canvas) dim(p path, soft float64, left rgb) {
	m := c.cover(p, soft)
	for j := range m.h {
		for i := range m.w {
			if a := float64(m.a[j*m.w+i]); a > 0 {
				v := c.get(m.x0+i, m.y0+j)
				c.set(m.x0+i, m.y0+j, mix(v, v.times(left), a))
			}
		}
	}
}

// ellipse shades a turned ellipse; f receives position inside it (-1..1 along its own axes).
func (c *canvas) ellipse(cx, cy, rx, ry, turn float64, f func(u, v float64) (rgb, float64)) {
	s, k := math.Sincos(turn)
	r := max(rx, ry) + 1/c.unit
	ax, ay, bx, by := c.bounds(cx-r, cy-r, cx+r, cy+r)
	edge := min(rx, ry) * c.unit
	for py := ay; py < by; py++ {
		dy := (float64(py)+0.5)/c.unit - cy
		for px := ax; px < bx; px++ {
			dx := (float64(px)+0.5)/c.unit - cx
			u, v := (dx*k+dy*s)/rx, (dy*k-dx*s)/ry
			d := math.Sqrt(u*u + v*v)
			if a := clamp((1-d)*edge+0.5, 0, 1); a > 0 {
				col, o := f(u, v)
				c.blend(px, py, col, a*clamp(o, 0, 1))
			}
		}
	}
}

// line draws a taut stroke between two points; its width may taper.
func (c *canvas) line(a, b pt, w0, w1 float64, v rgb, alpha float64) {
	dx, dy := b.x-a.x, b.y-a.y
	l2 := dx*dx + dy*dy + 1e-12
	m := max(w0, w1)/2 + 1/c.unit
	_, ay, _, by := c.bounds(0, min(a.y, b.y)-m, 1, max(a.y, b.y)+m)
	for py := ay; py < by; py++ {
		y := (float64(py) + 0.5) / c.unit
		xa, xb := min(a.x, b.x), max(a.x, b.x)
		if math.Abs(dy) > 1e-6 { // only the stretch of the stroke near this row
			t0, t1 := (y-m-a.y)/dy, (y+m-a.y)/dy
			t0, t1 = clamp(min(t0, t1), 0, 1), clamp(max(t0, t1), 0, 1)
			xa, xb = a.x+dx*t0, a.x+dx*t1
			xa, xb = min(xa, xb), max(xa, xb)
		}
		ax, _, bx, _ := c.bounds(xa-m, 0, xb+m, 0)
		for px := ax; px < bx; px++ {
			x := (float64(px) + 0.5) / c.unit
			t := clamp(((x-a.x)*dx+(y-a.y)*dy)/l2, 0, 1)
			d := math.Hypot(x-a.x-t*dx, y-a.y-t*dy)
			w := lerp(w0, w1, t) / 2 * c.unit
			if k := clamp(w-d*c.unit+0.5, 0, min(1, 2*w)); k > 0 {
				c.blend(px, py, v, k*alpha)
			}
		}
	}
}

// sag draws a hanging wire or rope from a to b that drops by the given depth in the middle.
func (c *canvas) sag(a, b pt, drop, w float64, v rgb, alpha float64) {
	prev := a
	for i := 1; i <= 24; i++ {
		t := float64(i) / 24
		q := pt{lerp(a.x, b.x, t), lerp(a.y, b.y, t) + 4*drop*t*(1-t)}
		c.line(prev, q, w, w, v, alpha)
		prev = q
	}
}
