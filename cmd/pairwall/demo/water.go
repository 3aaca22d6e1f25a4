package demo

import "math"

// sea is open water seen from a height above it, mirroring a sky.
type sea struct {
	horizon float64
	eye     float64 // metres above the water
	wind    float64 // deviation of the slope of the waves; 0.02 calm, 0.12 fresh
	length  float64 // longest wave in metres
	deep    rgb     // light that comes back out of the water
	above   *sky
	glint   float64 // strength of the sun's reflection
	foam    float64 // 0..1
	seed    uint32
	haze    float64 // share of horizon light over the far water
	cross   float64 // turn of the waves against the view
	rough   float64 // share of wave energy in small ripples
}

// waveTurns lets each train of waves run a little across the one before (tangents).
var waveTurns = [...]float64{0, 0.3, -0.28, 0.16, -0.4, 0.22}

// slopes are the tilts of the surface at a place, and the deviation of what is too
// small to see there: waves shorter than a pixel blur the mirror instead of shaping it.
func (s *sea) slopes(wx, wz, foot float64) (sx, sz, rest float64) {
	l, amp := s.length, 1.0
	ck, cm := 1.0, 0.0
	if s.cross != 0 {
		cm, ck = math.Sincos(s.cross)
	}
	for i, t := range waveTurns {
		k, m := ck-cm*t, cm+ck*t
		w := 1 / (1 + (foot/l)*(foot/l)*4)
		u, v := (wx*k-wz*m)/(l*2.2), (wx*m+wz*k)/l
		if w > 0.02 {
			sx += amp * w * (noise(u+9.1, v, s.seed+uint32(i)*3) - 0.5) * 1.0
			sz += amp * w * (noise(u, v+4.7, s.seed+uint32(i)*3+1) - 0.5) * 1.6
		}
		rest += amp * amp * (1 - w) * (1 - w) * 0.045
		l *= 0.43
		amp *= 1.02 + s.rough
	}
	return sx * s.wind, sz * s.wind, math.Sqrt(rest)*s.wind + 0.004
}

// schlick is the share of light a smooth surface mirrors (Schlick 1994), given the
// share at right angles and the cosine of the angle of view.
func schlick(f0, cos float64) float64 {
	m := 1 - clamp(cos, 0, 1)
	return f0 + (1-f0)*m*m*m*m*m
}

// at is the light off the water at a point below the horizon.
func (s *sea) at(c *canvas, x, y float64) rgb {
	t := max(y-s.horizon, 0.5/c.unit)
	dist := s.eye / t
	wx, wz := (x-c.aspect/2)*dist, dist
	foot := dist * dist / s.eye / c.unit
	sx, sz, rest := s.slopes(wx, wz, foot)
	vx, vy, vz := x-c.aspect/2, -t, 1.0
	nl := 1 / math.Sqrt(sx*sx+1+sz*sz)
	nx, ny, nz := sx*nl, nl, -sz*nl
	dot := vx*nx + vy*ny + vz*nz
	dot = min(dot, -0.01)
	rx, ry, rz := vx-2*dot*nx, vy-2*dot*ny, vz-2*dot*nz
	ry = math.Abs(ry)
	px, py := c.aspect/2+rx/rz, s.horizon-ry/rz
	// Of waves too small to see, those tilted towards the eye show most: rough water
	// mirrors the sky from higher up, and mirrors less of it.
	up := s.horizon - (ry+1.7*rest)/rz
	cosv := -dot / math.Sqrt(vx*vx+vy*vy+vz*vz)
	f := schlick(0.02, cosv+1.3*rest)
	v := mix(s.deep, s.above.clear(px, max(up, -1)), f)
	if s.glint > 0 {
		dx, dy := px-s.above.sunX, py-s.above.sunY
		r := s.above.disc + 0.02
		if q := (dx*dx/(r*r+rest*rest*0.5) + dy*dy/(r*r+rest*rest*8)) / 2; q < 7 {
			v = v.add(s.above.sun.mul(s.glint * math.Exp(-q) * (0.3 + 0.7*f)))
		}
	}
	if s.foam > 0 {
		white, shade := s.foamAt(wx, wz, foot)
		v = mix(v.mul(shade), s.above.low.mul(0.8).add(grey(0.12)), white)
	}
	return mix(v, s.above.clear(x, s.horizon), s.haze*math.Exp(-t*18))
}

// foamAt is the share of white water, and a factor on the light of the rest: caps
// break in thin torn lines along the crests of the larger waves, lace is left behind
// them, and troughs lie darker than crests.
func (s *sea) foamAt(wx, wz, foot float64) (white, shade float64) {
	m, k := math.Sincos(s.cross)
	u, v := wx*k-wz*m, wx*m+wz*k
	crest := 1 - math.Abs(2*warped(u/s.length*0.45, v/s.length*1.5, 2, 0.7, s.seed+77)-1)
	n := fbm(u*0.9, v*1.6, 5, s.seed+5)
	gust := fbm(u*0.012, v*0.03, 3, s.seed+61)
	caps := ramp(0.93-0.10*s.foam, 0.99-0.08*s.foam, crest+0.35*(n-0.5)+0.5*(gust-0.5)) * ramp(0.42, 0.56, n)
	lace := ramp(0.03, 0.0, math.Abs(warped(u*0.35, v*0.7, 4, 1.5, s.seed+31)-0.5)) * ramp(0.5, 0.62, n) * ramp(0.45, 0.65, gust)
	fine := 1 / (1 + foot*foot*0.4)
	return clamp(caps+0.5*s.foam*lace*fine, 0, 0.95), 0.68 + 0.5*crest*crest
}

func (s *sea) paint(c *canvas) {
	c.shade(s.horizon, c.aspect, 1, func(x, y float64) rgb { return s.at(c, x, y) })
}

// mirror is sheltered water: it gives back what is painted above the line y,
// broken by ripples that grow towards the viewer.
type mirror struct {
	line    float64
	ripple  float64 // reach of the displacement, in heights
	scale   float64 // ripples per height near the line
	tint    rgb     // what the water takes and keeps
	deep    rgb
	dim     float64 // share of light that is given back
	seed    uint32
	stretch float64 // height above the line seen per height below it; 0 means 1
}

func (m *mirror) paint(c *canvas) {
	above := c.clone()
	if m.stretch == 0 {
		m.stretch = 1
	}
	c.shade(m.line, c.aspect, 1, func(x, y float64) rgb {
		t := y - m.line
		p := m.scale / (0.08 + t*1.5)
		wx, wz := (x-c.aspect/2)*p*0.4, p*0.9
		a := m.ripple * (0.15 + 2.2*t)
		n := fbm(wx*2, wz*6, 3, m.seed) - 0.5
		n2 := fbm(wx*0.7+3, wz*16, 2, m.seed+9) - 0.5
		sy := m.line - t*m.stretch + a*(n*2.6+n2*3.4)
		v := above.sample(x+a*0.35*n2, clamp(sy, 0, 2*m.line-0.002-sy+2))
		if sy > m.line {
			v = above.sample(x, m.line-(sy-m.line)*0.3-0.004)
		}
		f := m.dim * (1 - 0.55*ramp(0, 0.6, t))
		return mix(m.deep, v.times(m.tint), clamp(f+0.5*n, 0.1, 1))
	})
}
