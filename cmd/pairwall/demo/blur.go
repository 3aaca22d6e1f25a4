package demo

// boxBlur runs `passes` box filters of radius r over interleaved channels;
// three passes stand close to a Gaussian of deviation r. Edges repeat.
func boxBlur(a []float32, w, h, ch, r, passes int) {
	if r < 1 || w == 0 || h == 0 {
		return
	}
	tmp := make([]float32, max(w, h)*ch)
	for range passes {
		for y := range h {
			blurLine(a[y*w*ch:], tmp, w, ch, ch, r)
		}
		for x := range w {
			blurLine(a[x*ch:], tmp, h, w*ch, ch, r)
		}
	}
}

func blurLine(a, tmp []float32, n, stride, ch, r int) {
	r = min(r, n-1)
	if r < 1 {
		return
	}
	inv := 1 / float32(2*r+1)
	for k := range ch {
		for i := range n {
			tmp[i] = a[i*stride+k]
		}
		sum := tmp[0] * float32(r+1)
		for i := 1; i <= r; i++ {
			sum += tmp[i]
		}
		for i := range n {
			a[i*stride+k] = sum * inv
			sum += tmp[min(i+r+1, n-1)] - tmp[max(i-r, 0)]
		}
	}
}

// blur puts everything painted so far out of focus; radius in heights.
func (c *canvas) blur(radius float64) {
	boxBlur(c.pix, c.w, c.h, 3, int(radius*c.unit/1.7+0.5), 3)
}

// blurBand blurs by a radius that changes with height in the picture, for a near
// or far ground out of focus: amount(y) in 0..1 mixes towards the blurred picture.
func (c *canvas) blurBand(radius float64, amount func(x, y float64) float64) {
	d := c.clone()
	d.blur(radius)
	c.glaze(0, 0, c.aspect, 1, func(x, y float64) (rgb, float64) {
		a := amount(x, y)
		if a <= 0 {
			return rgb{}, 0
		}
		return d.get(int(x*c.unit), int(y*c.unit)), a
	})
}

// quarter returns the light above a threshold, at a quarter of the size, blurred:
// the raw material of bloom and halation.
func (c *canvas) quarter(threshold, radius float64) *canvas {
	k := max(1, min(4, c.h/100))
	d := newCanvas(c.w/k, c.h/k)
	for y := range d.h {
		for x := range d.w {
			var s rgb
			for j := range k {
				for i := range k {
					s = s.add(c.get(x*k+i, y*k+j))
				}
			}
			s = s.mul(1 / float64(k*k))
			if m := max(s.r, s.g, s.b); m > threshold {
				d.set(x, y, s.mul((m-threshold)/m))
			}
		}
	}
	d.blur(radius)
	return d
}
