package proof

import (
	"image"
	"math"

	"pairwall/sequence/colour"
)

// light is a picture in three channels a pixel, each the eye's step for its
// linear light. Means are taken of steps: noise is about as large in all of
// them, while of linear light it would make every dark channel lighter.
type light struct {
	pix           []float32
	width, height int
}

// at is the linear light of a pixel; 1 is the white of the file.
func (l light) at(x, y int) (c [3]float64) {
	for n, v := range l.pix[3*(y*l.width+x):][:3] {
		c[n] = colour.LightOfStep(float64(v))
	}
	return c
}

// lightOf reads a picture, made smaller so that its longer side is at most
// long: each pixel is the mean step of the area it covers.
func lightOf(img *image.RGBA, long int) light {
	return pixelsOf(img, func(v uint8) float64 { return colour.StepOfLight(colour.LinearSRGB(v)) }).within(long)
}

// lensed reads a picture as a camera sees it that shows its longer side on so
// many pixels: what falls on one of them is mixed as light, before anything of
// it is a step, and grain that is finer looks lighter so.
func lensed(img *image.RGBA, long int) light {
	l := pixelsOf(img, colour.LinearSRGB).within(long)
	for i, v := range l.pix {
		l.pix[i] = float32(colour.StepOfLight(float64(v)))
	}
	return l
}

func pixelsOf(img *image.RGBA, value func(uint8) float64) light {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	full := light{make([]float32, 3*w*h), w, h}
	var values [256]float32
	for v := range values {
		values[v] = float32(value(uint8(v)))
	}
	for y := range h {
		row := img.Pix[y*img.Stride : y*img.Stride+4*w]
		out := full.pix[3*y*w:]
		for x := range w {
			out[3*x], out[3*x+1], out[3*x+2] = values[row[4*x]], values[row[4*x+1]], values[row[4*x+2]]
		}
	}
	return full
}

// resized makes a picture smaller by mean areas.
func (l light) resized(w, h int) light {
	narrow := light{make([]float32, 3*w*l.height), w, l.height}
	for x := range w {
		shares(x, w, l.width, func(from int, share float32) {
			for y := range l.height {
				in, out := l.pix[3*(y*l.width+from):][:3], narrow.pix[3*(y*w+x):][:3]
				for c := range 3 {
					out[c] += share * in[c]
				}
			}
		})
	}
	small := light{make([]float32, 3*w*h), w, h}
	for y := range h {
		shares(y, h, l.height, func(from int, share float32) {
			in, out := narrow.pix[3*from*w:3*(from+1)*w], small.pix[3*y*w:3*(y+1)*w]
			for i, v := range in {
				out[i] += share * v
			}
		})
	}
	return small
}

// shares calls each for the pixels of a line of n that pixel i of a line of
// few covers, with the part each has in it.
func shares(i, few, n int, each func(from int, share float32)) {
	k := float64(n) / float64(few)
	left, right := float64(i)*k, float64(i+1)*k
	for from := int(left); from < n && float64(from) < right-1e-9; from++ {
		if part := min(right, float64(from+1)) - max(left, float64(from)); part > 0 {
			each(from, float32(part/k))
		}
	}
}

// grey is how light a picture is, as the eye sees steps: about L*, 0..100.
type grey struct {
	pix           []float32
	width, height int
}

// grey weighs the channels as sRGB's luminance does.
func (l light) grey() grey {
	g := grey{make([]float32, l.width*l.height), l.width, l.height}
	for i := range g.pix {
		g.pix[i] = float32(116*math.Cbrt(luminance(l.at(i%l.width, i/l.width))+0.003) - 16)
	}
	return g
}

func (g grey) resized(w, h int) grey {
	narrow := grey{make([]float32, w*g.height), w, g.height}
	for x := range w {
		shares(x, w, g.width, func(from int, share float32) {
			for y := range g.height {
				narrow.pix[y*w+x] += share * g.pix[y*g.width+from]
			}
		})
	}
	small := grey{make([]float32, w*h), w, h}
	for y := range h {
		shares(y, h, g.height, func(from int, share float32) {
			in, out := narrow.pix[from*w:(from+1)*w], small.pix[y*w:(y+1)*w]
			for i, v := range in {
				out[i] += share * v
			}
		})
	}
	return small
}

// within scales a picture so that its longer side is at most long.
func (g grey) within(long int) grey {
	if max(g.width, g.height) <= long {
		return g
	}
	k := float64(long) / float64(max(g.width, g.height))
	return g.resized(max(int(math.Round(float64(g.width)*k)), 1), max(int(math.Round(float64(g.height)*k)), 1))
}

// at reads between pixels; the middle of the first is (0.5, 0.5). ok is false
// beyond the edges.
func (g grey) at(x, y float64) (v float32, ok bool) {
	x, y = x-0.5, y-0.5
	if !(x >= 0 && y >= 0 && x < float64(g.width-1) && y < float64(g.height-1)) {
		return 0, false
	}
	column, row := int(x), int(y)
	fx, fy := float32(x-float64(column)), float32(y-float64(row))
	i := row*g.width + column
	top := g.pix[i]*(1-fx) + g.pix[i+1]*fx
	bottom := g.pix[i+g.width]*(1-fx) + g.pix[i+g.width+1]*fx
	return top*(1-fy) + bottom*fy, true
}

// smooth averages a picture over a 3 × 3 binomial window, passes times.
func (g grey) smooth(passes int) grey {
	from := append([]float32(nil), g.pix...)
	to := make([]float32, len(from))
	w, h := g.width, g.height
	for range passes {
		for y := range h {
			for x := range w {
				i := y*w + x
				to[i] = (from[y*w+max(x-1, 0)] + 2*from[i] + from[y*w+min(x+1, w-1)]) / 4
			}
		}
		for y := range h {
			up, here, down := to[max(y-1, 0)*w:], to[y*w:], to[min(y+1, h-1)*w:]
			for x := range w {
				from[y*w+x] = (up[x] + 2*here[x] + down[x]) / 4
			}
		}
	}
	return grey{from, w, h}
}

// boxMeans is the mean of values and of how many counted around every pixel:
// those within radius whose mark is set.
func boxMeans(values []float32, marked []bool, w, h, radius int) (means []float32) {
	sums, counts := make([]float64, (w+1)*(h+1)), make([]int32, (w+1)*(h+1))
	for y := range h {
		line, count := 0.0, int32(0)
		for x := range w {
			if i := y*w + x; marked == nil || marked[i] {
				line += float64(values[i])
				count++
			}
			sums[(y+1)*(w+1)+x+1] = sums[y*(w+1)+x+1] + line
			counts[(y+1)*(w+1)+x+1] = counts[y*(w+1)+x+1] + count
		}
	}
	means = make([]float32, len(values))
	for y := range h {
		y0, y1 := max(y-radius, 0), min(y+radius+1, h)
		for x := range w {
			x0, x1 := max(x-radius, 0), min(x+radius+1, w)
			a, b, c, d := y0*(w+1)+x0, y0*(w+1)+x1, y1*(w+1)+x0, y1*(w+1)+x1
			if n := counts[d] - counts[b] - counts[c] + counts[a]; n > 0 {
				means[y*w+x] = float32((sums[d] - sums[b] - sums[c] + sums[a]) / float64(n))
			}
		}
	}
	return means
}
