package demo

// flight builds stairs that climb away from the eye between two walls.
type flight struct {
	steps          int
	rise, going    float64
	left, right    float64
	tread          func(u, v float64) matter
	lWall, rWall   func(u, v float64) matter
	wallTop, start float64
	bend           float64 // sideways drift per step
}

func (f *flight) paint(s *scene) {
	end := f.start + float64(f.steps)*f.going
	s.lay(panel{vec{f.left, -0.5, 0.1}, vec{f.bend * float64(f.steps), 0, end + 8}, vec{0, f.wallTop, 0}, f.lWall})
	s.lay(panel{vec{f.right, -0.5, 0.1}, vec{f.bend * float64(f.steps), 0, end + 8}, vec{0, f.wallTop, 0}, f.rWall})
	top := float64(f.steps) * f.rise
	s.lay(panel{vec{f.left, top, end}, vec{f.right - f.left, 0, 0}, vec{0, 0, 9}, f.tread})
	for i := f.steps - 1; i >= 0; i-- {
		y, z := float64(i)*f.rise, f.start+float64(i)*f.going
		k := 1 - 0.12*cellRnd(float64(i), 0, 5)
		nose := func(u, v float64) matter {
			m := f.tread(u, v+float64(i)*1.7)
			m.paint = m.paint.mul(k * (1 + 0.25*ramp(0.07, 0.0, v)) * (1 - 0.35*ramp(f.going*0.8, f.going, v)))
			return m
		}
		face := func(u, v float64) matter {
			m := f.tread(u+3, v+float64(i)*2.3)
			m.paint = m.paint.mul(k * 0.8 * (1 - 0.4*ramp(0.03, 0, v)))
			return m
		}
		s.lay(panel{vec{f.left - 1, y, z}, vec{f.right - f.left + 2 + f.bend*float64(f.steps), 0, 0}, vec{0, f.rise, 0}, face})
		s.lay(panel{vec{f.left - 1, y + f.rise, z}, vec{f.right - f.left + 2 + f.bend*float64(f.steps), 0, 0}, vec{0, 0, f.going}, nose})
	}
	s.lay(panel{vec{f.left, 0, 0}, vec{f.right - f.left, 0, 0}, vec{0, 0, f.start}, f.tread})
	// The walls again where they stand before the steps.
	s.lay(panel{vec{f.left, -0.5, 0.1}, vec{f.bend * float64(f.steps), 0, end + 8}, vec{0, f.wallTop, 0}, func(u, v float64) matter {
		m := f.lWall(u, v)
		m.open = v-0.5 < (u+0.1-f.start)*f.rise/f.going+f.rise*0.5
		return m
	}})
}

// stepsUp: a stair lane at Šibenik with the sun across the middle of it.
func stepsUp(c *canvas) {
	sc := look(c, vec{0.1, 1.9, -1.2}, 2, 9, 0.85)
	s := sky{horizon: 0.9, low: hex(0xdde8ee), mid: hex(0x9cc3e2).mul(0.9), high: hex(0x5f97cf).mul(0.8), sunX: 0.2, sunY: 0}
	s.paint(c, 1)
	sc.sunDir, sc.sun, sc.amb = vec{0.62, 0.72, -0.25}.unit(), rgb{2.2, 1.86, 1.35}, rgb{0.31, 0.32, 0.34}
	sc.ambGround = 0.2
	stoneL := stone(hex(0xcdbd9f), 0.38, 0.75, 4)
	b := bays{wall: stoneL, wide: 4.2, high: 4.2, w: 0.9, h: 1.5, sill: 2.4, first: 1.1, shutter: hex(0x4b7350), frame: hex(0xddd0b6), shut: 0.6, sunSide: 1, fall: 0.3, seed: 5}
	// What stands to the right and throws the shade: a house, a gap, another house.
	sc.casts = []panel{
		{o: vec{1.75, 0, -3}, a: vec{0, 0, 6.2}, b: vec{0, 9, 0}},
		{o: vec{1.75, 0, 3.2}, a: vec{0, 0, 3.4}, b: vec{0, 3.1, 0}},
		{o: vec{1.75, 0, 6.6}, a: vec{0, 0, 12}, b: vec{0, 7.6, 0}},
		{o: vec{1.75, 3.2, 4.4}, a: vec{-3.6, 0, 0.0}, b: vec{0, 0.0, 0.9}},
	}
	f := flight{steps: 26, rise: 0.17, going: 0.42, left: -1.55, right: 1.75, start: 1.2, wallTop: 9,
		tread: paving(hex(0xd8cdb6), 0.62, 12), lWall: b.at, rWall: stone(hex(0xbfae92), 0.34, 0.6, 9)}
	sc.lay(panel{vec{-7, 0, 20}, vec{14, 0, 0}, vec{0, 12.5, 0}, (&bays{wall: plaster(hex(0xe2b36a), 0.4, 3), wide: 2.6, high: 3, w: 0.9, h: 1.5, sill: 0.8, first: 4.9, shutter: hex(0x3c6c9c), frame: hex(0xe5dccb), shut: 0.4, sunSide: 1, fall: 0.3, seed: 3}).at})
	f.paint(sc)
	for i := range 3 { // lines across the lane
		z := 5.5 + 3.2*float64(i)
		y := 5.1 + 0.9*float64(i)
		laneWash(sc, vec{-1.55, y, z}, vec{1.75, y + 0.2, z + 0.4}, uint32(i)*9+4, 4)
	}
	q, d := sc.project(vec{0.35, 18 * 0.17, 1.2 + 17*0.42})
	c.figure(q.x, q.y, 1.7*sc.focal/d, 0.07, -0.02, hex(0x31343f).mul(0.35))
	for i := range 3 {
		z := 1.9 + 0.85*float64(i)
		q, d := sc.project(vec{-1.3, 0.17 * (z - 1.2) / 0.42, z})
		k := sc.focal / d
		c.fill(poly(q.x-0.13*k, q.y-0.27*k, q.x+0.13*k, q.y-0.27*k, q.x+0.1*k, q.y, q.x-0.1*k, q.y), func(x, y float64) rgb {
			return hex(0xb0603c).mul(clamp(0.3-1.2*(x-q.x)/k, 0.1, 0.5))
		})
		leaves(c, q.x, q.y-0.45*k, 0.28*k, 0.3*k, 90, hex(0x3d6b35), hex(0x86a552).mul(0.5), uint32(i)+40)
	}
}

// laneWash hangs washing between two points in space.
func laneWash(s *scene, a, b vec, seed uint32, n int) {
	pa, _ := s.project(a)
	pb, zb := s.project(b)
	k := s.focal / zb
	s.c.sag(pa, pb, 0.12*k, 0.012*k, grey(0.25), 1)
	d := dice(seed)
	hues := []uint32{0xf3f0ea, 0xe9e2d2, 0xc94f3a, 0x3d6fa8, 0xf1eee6, 0xe0b54e, 0x7d9c8c}
	for i := range n {
		t := (float64(i) + d.in(0.2, 0.5)) / float64(n)
		at := pt{lerp(pa.x, pb.x, t), lerp(pa.y, pb.y, t) + 0.48*k*t*(1-t)}
		w := d.in(0.38, 0.62) * k * 1.1
		p := clothShape(at, w, d.in(0.7, 1.15)*k, int(d.in(0, 1.5)))
		s.c.hang(p, hex(hues[int(d.in(0, 6.99))]), rgb{0.75, 0.66, 0.52}, seed+uint32(i))
	}
}

// stairShadow: hard light on steps, one walker and a longer shadow. Black and white.
func stairShadow(c *canvas) {
	sc := look(c, vec{0, 3.1, -3.2}, 0, -7, 1.05)
	c.shade(0, c.aspect, 1, func(_, _ float64) rgb { return grey(0.05) })
	sc.sunDir, sc.sun, sc.amb = vec{-0.75, 0.5, -0.42}.unit(), grey(2.3), grey(0.1)
	sc.penumbra = 0.004
	tread := paving(grey(0.62), 0.9, 3)
	f := flight{steps: 22, rise: 0.17, going: 0.5, left: -9, right: 9, start: 0.4, wallTop: 0.6, tread: tread, lWall: stone(grey(0.4), 0.4, 0.8, 2), rWall: stone(grey(0.4), 0.4, 0.8, 7)}
	sc.casts = []panel{
		{o: vec{-3.4, -1, -6}, a: vec{0, 0, 9.2}, b: vec{0, 6, 0}},
		{o: vec{-3.4, -1, 3.2}, a: vec{0, 0, 3.0}, b: vec{0, 3.4, 0}},
		{o: vec{-3.4, -1, 6.2}, a: vec{0, 0, 9}, b: vec{0, 7.2, 0}},
		{o: vec{1.15, 1.8, 5.3}, a: vec{0.3, 0, -0.25}, b: vec{0, 1.5, 0}},
	}
	f.paint(sc)
	sc.lay(panel{vec{-12, 3.6, 15}, vec{24, 0, 0}, vec{0, 9, 0}, (&bays{wall: plaster(grey(0.5), 0.6, 2), wide: 3.4, high: 4, w: 1.1, h: 1.9, sill: 0.9, first: 0.4, shutter: grey(0.2), frame: grey(0.6), shut: 0.5, sunSide: -1, fall: 0.4, seed: 4}).at})
	for i := range 12 { // a handrail and its posts down the middle
		z := 0.4 + float64(i)*0.95
		y := 0.17 * (z - 0.4) / 0.5
		sc.rod(vec{-0.9, y, z}, vec{-0.9, y + 0.95, z}, 0.045, grey(0.02))
	}
	sc.rod(vec{-0.9, 0.95, 0.4}, vec{-0.9, 0.95 + 3.6, 11}, 0.06, grey(0.02))
	q, d := sc.project(vec{1.3, 1.87, 5.4})
	c.figure(q.x, q.y, 1.72*sc.focal/d, 0.1, 0.04, grey(0.015))
}

// washingSky: lines of washing overhead in Split, looking straight up the walls.
func washingSky(c *canvas) {
	s := sky{horizon: 1.4, low: hex(0x7fb2e2).mul(0.7), mid: hex(0x4f90d6).mul(0.6), high: hex(0x2d6cba).mul(0.5), sunX: 0.2, sunY: -0.6}
	s.paint(c, 1)
	sc := look(c, vec{0, 1.6, 0}, 5, 48, 0.82)
	sc.sunDir, sc.sun, sc.amb = vec{-0.55, 0.8, 0.3}.unit(), rgb{2.1, 1.75, 1.25}, rgb{0.26, 0.29, 0.34}
	l := bays{wall: stone(hex(0xc9b795), 0.42, 0.8, 3), wide: 3.6, high: 3.6, w: 0.95, h: 1.6, sill: 1.0, first: 2, shutter: hex(0x3f6c50), frame: hex(0xd9ccb4), shut: 0.4, sunSide: -1, fall: 0.3, seed: 8}
	r := l
	r.wall, r.seed, r.shutter = plaster(hex(0xe3c08a), 0.6, 9), 5, hex(0x35679a)
	sc.lay(panel{vec{-2.6, 0, -1}, vec{0, 0, 22}, vec{0, 13, 0}, l.at})
	sc.lay(panel{vec{2.4, 0, -1}, vec{0, 0, 22}, vec{0, 14.5, 0}, r.at})
	for i := 4; i >= 0; i-- {
		z, y := 3.0+1.9*float64(i), 7.2+1.15*float64(i)
		laneWash(sc, vec{-2.6, y, z}, vec{2.4, y + 0.5, z + 0.5}, uint32(i)*13+2, 5)
	}
	sc.rod(vec{-2.6, 9, 4}, vec{2.4, 10, 3}, 0.02, grey(0.03))
}
