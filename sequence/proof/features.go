package proof

import (
	"cmp"
	"math"
	"slices"
)

// feature is a corner in a picture with what lies around it.
type feature struct {
	x, y  float64 // in pixels of the picture that was given
	scale float64 // pixels of that picture to one of the level it was found on
	angle float64 // of the strongest gradient around it
	sign  [128]float32
}

const (
	levelStep   = 0.8
	mostLevels  = 9
	leastLevel  = 48 // pixels of the shorter side
	cellsAcross = 8  // features are spread over so many cells a side
)

// features finds corners on several scales (smaller eigenvalue of the structure
// tensor: Shi and Tomasi, "Good Features to Track", CVPR 1994) and describes
// each by histograms of gradients turned to its own direction (Lowe, "Distinctive
// Image Features from Scale-Invariant Keypoints", IJCV 60(2), 2004). Deviation:
// corners on a pyramid instead of extrema of differences of Gaussians, so that
// scale comes in steps; both pictures are searched on every step.
//
// most is about how many are kept. Time is linear in pixels.
func features(g grey, most int) []feature {
	var all []feature
	area := 0.0
	sizes := [][2]int{}
	for k := range mostLevels {
		s := math.Pow(levelStep, float64(k))
		w, h := int(float64(g.width)*s), int(float64(g.height)*s)
		if min(w, h) < leastLevel {
			break
		}
		sizes = append(sizes, [2]int{w, h})
		area += float64(w * h)
	}
	level := g
	for _, size := range sizes {
		level = level.resized(size[0], size[1])
		share := float64(size[0]*size[1]) / area
		all = append(all, level.corners(int(math.Ceil(float64(most)*share)), float64(g.width)/float64(size[0]))...)
	}
	return all
}

// slopes are the gradients of a picture.
type slopes struct{ x, y []float32 }

func (g grey) slopes() slopes {
	w, h := g.width, g.height
	s := slopes{make([]float32, w*h), make([]float32, w*h)}
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			i := y*w + x
			s.x[i], s.y[i] = (g.pix[i+1]-g.pix[i-1])/2, (g.pix[i+w]-g.pix[i-w])/2
		}
	}
	return s
}

const patchRadius = 12 // pixels of a level around a feature that must be there

func (g grey) corners(most int, scale float64) []feature {
	g = g.smooth(1)
	w, h := g.width, g.height
	s := g.slopes()
	xx, yy, xy := make([]float32, w*h), make([]float32, w*h), make([]float32, w*h)
	for i := range xx {
		xx[i], yy[i], xy[i] = s.x[i]*s.x[i], s.y[i]*s.y[i], s.x[i]*s.y[i]
	}
	xx, yy, xy = boxMeans(xx, nil, w, h, 2), boxMeans(yy, nil, w, h, 2), boxMeans(xy, nil, w, h, 2)
	strength := make([]float32, w*h)
	for i := range strength {
		half, d := (xx[i]+yy[i])/2, (xx[i]-yy[i])/2
		strength[i] = half - float32(math.Sqrt(float64(d*d+xy[i]*xy[i])))
	}
	type spot struct {
		at int
		v  float32
	}
	cells := make([][]spot, cellsAcross*cellsAcross)
	for y := patchRadius; y < h-patchRadius; y++ {
		for x := patchRadius; x < w-patchRadius; x++ {
			i := y*w + x
			if v := strength[i]; v > 0.05 && highest(strength, i, w) {
				cell := y*cellsAcross/h*cellsAcross + x*cellsAcross/w
				cells[cell] = append(cells[cell], spot{i, v})
			}
		}
	}
	var found []feature
	each := max(most/(cellsAcross*cellsAcross), 2)
	for _, spots := range cells {
		slices.SortFunc(spots, func(a, b spot) int { return cmp.Or(cmp.Compare(b.v, a.v), cmp.Compare(a.at, b.at)) })
		for _, p := range spots[:min(len(spots), each)] {
			x, y := p.at%w, p.at/w
			for _, angle := range s.directions(x, y, w) {
				f := feature{x: (float64(x) + 0.5) * scale, y: (float64(y) + 0.5) * scale, scale: scale, angle: angle}
				s.describe(&f, x, y, w, h)
				found = append(found, f)
			}
		}
	}
	return found
}

func highest(v []float32, i, w int) bool {
	for dy := -2; dy <= 2; dy++ {
		for dx := -2; dx <= 2; dx++ {
			j := i + dy*w + dx
			if v[j] > v[i] || v[j] == v[i] && j < i {
				return false
			}
		}
	}
	return true
}

// directions are the strongest directions of gradients around a place, one or
// two (Lowe 2004, section 5).
func (s slopes) directions(x, y, w int) []float64 {
	const bins, radius, sigma = 36, 8, 4.0
	var raw [bins]float64
	for dy := -radius; dy <= radius; dy++ {
		for dx := -radius; dx <= radius; dx++ {
			i := (y+dy)*w + x + dx
			gx, gy := float64(s.x[i]), float64(s.y[i])
			weight := math.Exp(-float64(dx*dx+dy*dy) / (2 * sigma * sigma))
			bin := int(math.Floor((math.Atan2(gy, gx)/(2*math.Pi)+1)*bins)) % bins
			raw[bin] += weight * math.Hypot(gx, gy)
		}
	}
	var h [bins]float64
	for i := range h {
		h[i] = (raw[(i+bins-2)%bins] + 4*raw[(i+bins-1)%bins] + 6*raw[i] + 4*raw[(i+1)%bins] + raw[(i+2)%bins]) / 16
	}
	top := slices.Max(h[:])
	var angles []float64
	for i, v := range h {
		before, after := h[(i+bins-1)%bins], h[(i+1)%bins]
		if v > before && v >= after && v >= 0.8*top && len(angles) < 2 {
			peak := float64(i) + 0.5 + 0.5*(before-after)/(before-2*v+after)
			angles = append(angles, peak*2*math.Pi/bins)
		}
	}
	return angles
}

// describe fills in a feature's sign: 4 × 4 histograms of 8 directions over a
// square of 16 pixels turned to its angle (Lowe 2004, section 6).
func (s slopes) describe(f *feature, x, y, w, h int) {
	sin, cos := math.Sincos(f.angle)
	for v := -8; v < 8; v++ {
		for u := -8; u < 8; u++ {
			pu, pv := float64(u)+0.5, float64(v)+0.5
			ix, iy := x+int(math.Round(pu*cos-pv*sin)), y+int(math.Round(pu*sin+pv*cos))
			if ix < 0 || iy < 0 || ix >= w || iy >= h {
				continue
			}
			i := iy*w + ix
			gx, gy := float64(s.x[i]), float64(s.y[i])
			size := math.Hypot(gx, gy) * math.Exp(-(pu*pu+pv*pv)/128)
			turn := math.Mod(math.Atan2(gy, gx)-f.angle+4*math.Pi, 2*math.Pi) / (2 * math.Pi) * 8
			f.add((pu+8)/4-0.5, (pv+8)/4-0.5, turn, size)
		}
	}
	f.normalise()
	for i, v := range f.sign {
		f.sign[i] = min(v, 0.2) // so that one bright edge does not say everything
	}
	f.normalise()
}

// add shares a gradient among the neighbouring histograms and directions.
func (f *feature) add(u, v, turn, size float64) {
	u0, v0, t0 := math.Floor(u), math.Floor(v), math.Floor(turn)
	for k := range 8 {
		cu, cv, ct := u0+float64(k&1), v0+float64(k>>1&1), t0+float64(k>>2)
		if cu < 0 || cv < 0 || cu > 3 || cv > 3 {
			continue
		}
		share := (1 - math.Abs(u-cu)) * (1 - math.Abs(v-cv)) * (1 - math.Abs(turn-ct))
		f.sign[(int(cv)*4+int(cu))*8+int(ct)%8] += float32(share * size)
	}
}

func (f *feature) normalise() {
	sum := float32(1e-12)
	for _, v := range f.sign {
		sum += v * v
	}
	k := float32(1 / math.Sqrt(float64(sum)))
	for i := range f.sign {
		f.sign[i] *= k
	}
}
