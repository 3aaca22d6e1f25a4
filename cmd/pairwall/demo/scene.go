package demo

import "math"

// vec is metres: x right, y up, z away.
type vec struct{ x, y, z float64 }

func (a vec) add(b vec) vec     { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) sub(b vec) vec     { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) mul(s float64) vec { return vec{a.x * s, a.y * s, a.z * s} }
func (a vec) dot(b vec) float64 { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) length() float64   { return math.Sqrt(a.dot(a)) }
func (a vec) unit() vec         { return a.mul(1 / a.length()) }
func (a vec) cross(b vec) vec   { return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x} }

// panel is a flat rectangle (or parallelogram) in space; its material is asked in
// metres along the two edges.
type panel struct {
	o, a, b vec
	m       func(u, v float64) matter
}

// matter is what a surface is at a point: its colour, how much of the sun that
// falls there its own relief lets through, and light of its own.
type matter struct {
	paint rgb
	sun   float64
	glow  rgb
	open  bool // a hole: nothing here
}

func plain(v rgb) func(u, v2 float64) matter {
	return func(_, _ float64) matter { return matter{paint: v, sun: 1} }
}

// scene is flat things in space under one sun, painted far to near.
type scene struct {
	c         *canvas
	eye       vec
	fwd, rt   vec
	up        vec
	focal     float64 // in picture heights
	cx, cy    float64
	sunDir    vec // towards the sun
	sun, amb  rgb
	fog       rgb
	fogReach  float64 // metres at which fog hides about two thirds; 0 none
	casts     []panel // what throws shadows
	penumbra  float64 // softness of shadows per metre of distance
	lamps     []lamp
	ambGround float64 // 0..1: how much darker the light is low down, in narrow streets
}

type lamp struct {
	at    vec
	light rgb // at one metre
}

// look places the eye and turns it; yaw to the right and pitch upward in degrees.
func look(c *canvas, eye vec, yaw, pitch, focal float64) *scene {
	sy, ky := math.Sincos(yaw * math.Pi / 180)
	sp, kp := math.Sincos(pitch * math.Pi / 180)
	s := &scene{c: c, eye: eye, focal: focal, cx: c.aspect / 2, cy: 0.5, penumbra: 0.01}
	s.fwd, s.rt = vec{sy * kp, sp, ky * kp}, vec{ky, 0, -sy}
	s.up = vec{-sy * sp, kp, -ky * sp}
	return s
}

func (s *scene) project(p vec) (pt, float64) {
	d := p.sub(s.eye)
	z := d.dot(s.fwd)
	return pt{s.cx + s.focal*d.dot(s.rt)/z, s.cy - s.focal*d.dot(s.up)/z}, z
}

func (s *scene) ray(x, y float64) vec {
	return s.fwd.add(s.rt.mul((x - s.cx) / s.focal)).add(s.up.mul((s.cy - y) / s.focal))
}

// outline projects a polygon in space, cut at the near plane.
func (s *scene) outline(ps ...vec) path {
	const near = 0.05
	var out []pt
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		zp, zq := p.sub(s.eye).dot(s.fwd), q.sub(s.eye).dot(s.fwd)
		if zp >= near {
			a, _ := s.project(p)
			out = append(out, a)
		}
		if (zp < near) != (zq < near) {
			a, _ := s.project(p.add(q.sub(p).mul((near - zp) / (zq - zp))))
			out = append(out, a)
		}
	}
	if len(out) < 3 {
		return nil
	}
	return path{out}
}

// lay paints one panel, lit and fogged.
func (s *scene) lay(p panel) {
	o := s.outline(p.o, p.o.add(p.a), p.o.add(p.a).add(p.b), p.o.add(p.b))
	if o == nil {
		return
	}
	n := p.a.cross(p.b).unit()
	if n.dot(s.eye.sub(p.o)) < 0 {
		n = n.mul(-1)
	}
	la, lb := p.a.length(), p.b.length()
	au, bu := p.a.mul(1/la), p.b.mul(1/lb)
	ab := au.dot(bu)
	facing := max(0, n.dot(s.sunDir))
	s.c.lay(s.c.cover(o, 0), func(x, y float64) (rgb, float64) {
		r := s.ray(x, y)
		den := r.dot(n)
		if math.Abs(den) < 1e-9 {
			return rgb{}, 0
		}
		t := p.o.sub(s.eye).dot(n) / den
		at := s.eye.add(r.mul(t))
		d := at.sub(p.o)
		da, db := d.dot(au), d.dot(bu)
		u, v := (da-ab*db)/(1-ab*ab), (db-ab*da)/(1-ab*ab)
		m := p.m(clamp(u, 0, la), clamp(v, 0, lb))
		if m.open {
			return rgb{}, 0
		}
		return s.light(m, at, n, facing, t), 1
	})
}

func (s *scene) light(m matter, at, n vec, facing, dist float64) rgb {
	lit := s.amb.mul((0.75 + 0.25*n.y) * (1 - s.ambGround*ramp(5, 0, at.y)))
	if facing > 0 && m.sun > 0 {
		lit = lit.add(s.sun.mul(facing * m.sun * s.sunlight(at.add(n.mul(0.004)))))
	}
	for _, l := range s.lamps {
		d := l.at.sub(at)
		r2 := d.dot(d)
		lit = lit.add(l.light.mul(max(0.04, n.dot(d)/math.Sqrt(r2)) / (r2 + 0.15)))
	}
	v := m.paint.times(lit).add(m.glow)
	if s.fogReach > 0 {
		v = mix(s.fog, v, math.Exp(-dist/s.fogReach))
	}
	return v
}

// sunlight is the share of the sun that reaches a place past what throws shadows.
func (s *scene) sunlight(at vec) float64 {
	left := 1.0
	for i := range s.casts {
		p := &s.casts[i]
		n := p.a.cross(p.b)
		den := n.dot(s.sunDir)
		if math.Abs(den) < 1e-9 {
			continue
		}
		t := n.dot(p.o.sub(at)) / den
		if t < 0.02 {
			continue
		}
		d := at.add(s.sunDir.mul(t)).sub(p.o)
		la, lb := p.a.length(), p.b.length()
		u, v := d.dot(p.a)/la, d.dot(p.b)/lb
		e := s.penumbra*t + 0.003
		in := ramp(-e, e, min(min(u, la-u), min(v, lb-v)))
		if in > 0 && p.m != nil && p.m(u, v).open {
			in = 0
		}
		left *= 1 - in
	}
	return left
}

// box lays the faces of an upright block that the eye can see.
func (s *scene) box(lo, hi vec, side, front, top func(u, v float64) matter) {
	dx, dy, dz := vec{hi.x - lo.x, 0, 0}, vec{0, hi.y - lo.y, 0}, vec{0, 0, hi.z - lo.z}
	if s.eye.x < lo.x {
		s.lay(panel{lo, dz, dy, side})
	}
	if s.eye.x > hi.x {
		s.lay(panel{lo.add(dx), dz, dy, side})
	}
	if s.eye.y > hi.y {
		s.lay(panel{lo.add(dy), dx, dz, top})
	}
	if s.eye.y < lo.y {
		s.lay(panel{lo, dx, dz, top})
	}
	s.lay(panel{lo, dx, dy, front})
}

// rod draws a thin straight thing in space: a rail, a wire, a pole.
func (s *scene) rod(a, b vec, width float64, v rgb) {
	const near = 0.1
	za, zb := a.sub(s.eye).dot(s.fwd), b.sub(s.eye).dot(s.fwd)
	if za < near && zb < near {
		return
	}
	if za < near {
		a = a.add(b.sub(a).mul((near - za) / (zb - za)))
	} else if zb < near {
		b = b.add(a.sub(b).mul((near - zb) / (za - zb)))
	}
	pa, za := s.project(a)
	pb, zb := s.project(b)
	va, vb := v, v
	if s.fogReach > 0 {
		va, vb = mix(s.fog, v, math.Exp(-za/s.fogReach)), mix(s.fog, v, math.Exp(-zb/s.fogReach))
	}
	s.c.line(pa, pb, width*s.focal/za, width*s.focal/zb, mix(va, vb, 0.4), 1)
}
