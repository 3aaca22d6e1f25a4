package jpeg

// coefficients are a block's frequencies, already multiplied by their
// quantisation, row by row: 8 × 8 of them, or as many as the scale needs.
type coefficients [64]int32

// The cosines of the transforms in 13 bits: cos(kπ/16) × √½ for eight points,
// and those for four.
const (
	fraction = 13
	c1       = 5681 // cos(π/16) / √2 · 2¹³, and so on
	c2       = 5352
	c3       = 4816
	c4       = 4096
	c5       = 3218
	c6       = 2217
	c7       = 1130
	f1       = 5352 // cos(π/8) / √2 · 2¹³
	f3       = 2217 // cos(3π/8) / √2 · 2¹³
)

// clamped rounds a fixed-point value, adds the middle grey and cuts to a byte.
func clamped(v int32, shift int) uint8 {
	v = (v+1<<(shift-1))>>shift + 128
	if uint32(v) > 255 {
		if v < 0 {
			return 0
		}
		return 255
	}
	return uint8(v)
}

// flat fills a block of side × side with the shade of its first frequency:
// that is eight times the mean.
func flat(dc int32, out []uint8, stride, side int) {
	v := clamped(dc, 3)
	for y := range side {
		row := out[y*stride : y*stride+side]
		for x := range row {
			row[x] = v
		}
	}
}

// inverse8 is the inverse discrete cosine transform of T.81, A.3.3, first over
// columns and then over rows, by halves into even and odd frequencies. Eight
// points cost 22 products. Both passes are too large by √2, which the last shift
// takes out; four more bits are kept between them.
func inverse8(c *coefficients, out []uint8, stride int) {
	const kept = 4
	var t [64]int32
	for x := range 8 {
		a := c[x : x+57]
		if a[8]|a[16]|a[24]|a[32]|a[40]|a[48]|a[56] == 0 {
			v := (a[0]*c4 + 1<<(fraction-kept-1)) >> (fraction - kept)
			for y := range 8 {
				t[8*y+x] = v
			}
			continue
		}
		eight(a[0], a[8], a[16], a[24], a[32], a[40], a[48], a[56], 1<<(fraction-kept-1), fraction-kept, t[x:x+57], 8)
	}
	var line [8]int32
	for y := range 8 {
		a := t[8*y : 8*y+8]
		eight(a[0], a[1], a[2], a[3], a[4], a[5], a[6], a[7], 0, 0, line[:], 1)
		row := out[y*stride : y*stride+8]
		for x := range row {
			row[x] = clamped(line[x], fraction+kept+1)
		}
	}
}

// eight transforms eight frequencies and writes them step apart.
func eight(s0, s1, s2, s3, s4, s5, s6, s7, round int32, shift int, out []int32, step int) {
	even0, even1 := (s0+s4)*c4+round, (s0-s4)*c4+round
	turn0, turn1 := s2*c2+s6*c6, s2*c6-s6*c2
	e0, e3 := even0+turn0, even0-turn0
	e1, e2 := even1+turn1, even1-turn1
	o0 := s1*c1 + s3*c3 + s5*c5 + s7*c7
	o1 := s1*c3 - s3*c7 - s5*c1 - s7*c5
	o2 := s1*c5 - s3*c1 + s5*c7 + s7*c3
	o3 := s1*c7 - s3*c5 + s5*c3 - s7*c1
	_ = out[7*step]
	out[0], out[7*step] = (e0+o0)>>shift, (e0-o0)>>shift
	out[step], out[6*step] = (e1+o1)>>shift, (e1-o1)>>shift
	out[2*step], out[5*step] = (e2+o2)>>shift, (e2-o2)>>shift
	out[3*step], out[4*step] = (e3+o3)>>shift, (e3-o3)>>shift
}

// inverse4 makes four by four pixels of a block's 16 lowest frequencies: the
// transform of four points over the frequencies of eight, which are larger by
// half in each direction together.
func inverse4(c *coefficients, out []uint8, stride int) {
	const kept = 4
	var t [16]int32
	for x := range 4 {
		even0, even1 := (c[x]+c[8+x])*c4, (c[x]-c[8+x])*c4
		odd0, odd1 := c[4+x]*f1+c[12+x]*f3, c[4+x]*f3-c[12+x]*f1
		const round = 1 << (fraction - kept - 1)
		t[x], t[12+x] = (even0+odd0+round)>>(fraction-kept), (even0-odd0+round)>>(fraction-kept)
		t[4+x], t[8+x] = (even1+odd1+round)>>(fraction-kept), (even1-odd1+round)>>(fraction-kept)
	}
	for y := range 4 {
		a := t[4*y : 4*y+4]
		even0, even1 := (a[0]+a[2])*c4, (a[0]-a[2])*c4
		odd0, odd1 := a[1]*f1+a[3]*f3, a[1]*f3-a[3]*f1
		row := out[y*stride : y*stride+4]
		row[0], row[3] = clamped(even0+odd0, fraction+kept+1), clamped(even0-odd0, fraction+kept+1)
		row[1], row[2] = clamped(even1+odd1, fraction+kept+1), clamped(even1-odd1, fraction+kept+1)
	}
}

// inverse2 makes two by two pixels of the four lowest frequencies.
func inverse2(c *coefficients, out []uint8, stride int) {
	sum, difference := c[0]+c[2], c[0]-c[2]
	sumX, differenceX := c[1]+c[3], c[1]-c[3]
	out[0], out[1] = clamped(sum+sumX, 3), clamped(sum-sumX, 3)
	out[stride], out[stride+1] = clamped(difference+differenceX, 3), clamped(difference-differenceX, 3)
}

// inverse writes a block of side × side pixels.
func inverse(c *coefficients, side int, out []uint8, stride int) {
	switch side {
	case 8:
		inverse8(c, out, stride)
	case 4:
		inverse4(c, out, stride)
	case 2:
		inverse2(c, out, stride)
	default:
		out[0] = clamped(c[0], 3)
	}
}
