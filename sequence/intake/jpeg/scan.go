package jpeg

// zigzag is where in the block, row by row, the coefficients lie in the order
// in which they are written (T.81, figure 5).
var zigzag = [64]uint8{
	0, 1, 8, 16, 9, 2, 3, 10, 17, 24, 32, 25, 18, 11, 4, 5,
	12, 19, 26, 33, 40, 48, 41, 34, 27, 20, 13, 6, 7, 14, 21, 28,
	35, 42, 49, 56, 57, 50, 43, 36, 29, 22, 15, 23, 30, 37, 44, 51,
	58, 59, 52, 45, 38, 31, 39, 46, 53, 60, 61, 54, 47, 55, 62, 63,
}

// placesOf is where coefficients lie in a block of side × side, by their order;
// those that a smaller block has no place for go to the last one of 65.
func placesOf(side int) (places [64]uint8) {
	for k, at := range zigzag {
		x, y := int(at%8), int(at/8)
		if places[k] = 64; x < side && y < side {
			places[k] = uint8(y*side + x)
		}
	}
	return places
}

// scanning is one scan's header (T.81, B.2.3).
type scanning struct {
	members     []*component
	first, last int  // of the coefficients
	high, low   uint // successive approximation
}

func (d *decoder) scanHeader(p []byte) (s scanning, err error) {
	if d.components == nil {
		return s, damaged("a scan before its frame")
	}
	if len(p) < 1 || len(p) < 4+2*int(p[0]) || p[0] == 0 || int(p[0]) > len(d.components) {
		return s, damaged("scan header")
	}
	count := int(p[0])
	for i := range count {
		var member *component
		for j := range d.components {
			if d.components[j].id == p[1+2*i] {
				member = &d.components[j]
			}
		}
		if member == nil {
			return s, damaged("scan of an unknown channel")
		}
		for _, other := range s.members {
			if other == member {
				return s, damaged("scan of one channel twice")
			}
		}
		member.dcTable, member.acSet = int(p[2+2*i]>>4), int(p[2+2*i]&15)
		if member.dcTable > 3 || member.acSet > 3 {
			return s, damaged("scan's tables")
		}
		s.members = append(s.members, member)
	}
	s.first, s.last, s.high, s.low = 0, 63, 0, 0
	if d.progressive {
		s.first, s.last = int(p[1+2*count]), int(p[2+2*count])
		s.high, s.low = uint(p[3+2*count]>>4), uint(p[3+2*count]&15)
		wrong := s.first > s.last || s.last > 63 || s.low > 13 || s.high != 0 && s.high != s.low+1 ||
			s.first == 0 && s.last != 0 || s.first != 0 && count != 1
		if wrong {
			return s, damaged("scan's range")
		}
	}
	return s, nil
}

// scan decodes one scan as far as it goes. Damage within it is no error: it
// shows in d.broken and d.decoded.
func (d *decoder) scan(p []byte) error {
	s, err := d.scanHeader(p)
	if err != nil {
		return err
	}
	unitsX, unitsY := d.unitsX, d.unitsY
	alone := len(s.members) == 1
	if alone {
		unitsX, unitsY = s.members[0].ownX, s.members[0].ownY
	}
	total := unitsX * unitsY
	d.bits = bits{data: d.data}
	d.restart()
	unit := d.unitOf(s)
	good, expected := 0, byte(0)
	for m := 0; m < total; {
		stop := total
		if d.interval > 0 {
			stop = min(total, (m/d.interval+1)*d.interval)
		}
		for m < stop && unit(m, unitsX) {
			m, good = m+1, good+1
		}
		if m >= total {
			break
		}
		// The end of an interval, or damage. Either way the next restart marker
		// tells where to go on.
		number, found := d.findRestart()
		if !found {
			break
		}
		ahead := 0 // whole intervals that are lost
		if number != expected {
			ahead = int(number-expected) & 7
		}
		expected = (number + 1) & 7
		if d.interval == 0 {
			break
		}
		m = ((m+d.interval-1)/d.interval + ahead) * d.interval
		if m == 0 { // damage before the first
			m = d.interval
		}
		d.restart()
	}
	d.note(s, good, total)
	d.at = max(d.at, d.bits.at)
	return nil
}

// restart begins anew after a restart marker (T.81, F.2.1.3.1) or a scan header.
func (d *decoder) restart() {
	d.bits.start(d.at)
	d.eobRun = 0
	for i := range d.components {
		d.components[i].lastDC = 0
	}
}

// findRestart looks for the next restart marker and goes behind it; false if
// another marker comes first, or none.
func (d *decoder) findRestart() (number byte, found bool) {
	// Whatever of the interval was read ahead lies before its marker.
	for at := d.bits.at; at+1 < len(d.data); at++ {
		if d.data[at] != 0xFF || d.data[at+1] == 0 || d.data[at+1] == 0xFF {
			continue
		}
		if m := d.data[at+1]; m >= markerRST0 && m <= markerRST7 {
			d.at = at + 2
			return m - markerRST0, true
		}
		d.bits.at = at
		return 0, false
	}
	d.bits.at = len(d.data)
	return 0, false
}

// note takes down how far a scan came. What counts for the picture is the scan
// with the lowest frequencies of the first channel.
func (d *decoder) note(s scanning, good, total int) {
	if good < total {
		d.broken = true
	} else {
		for _, c := range s.members {
			for k := s.first; k <= s.last; k++ {
				d.finest[d.indexOf(c)][k] = int8(s.low)
			}
		}
	}
	if s.first == 0 && s.high == 0 && s.members[0] == &d.components[0] {
		d.decoded, d.wanted = good, total
	}
}

func (d *decoder) indexOf(c *component) int {
	for i := range d.components {
		if &d.components[i] == c {
			return i
		}
	}
	return 0
}

// coarse reports whether scans are missing: a channel's, or in a progressive
// picture some of the finer ones.
func (d *decoder) coarse() bool {
	if d.broken {
		return true
	}
	for i := range d.components {
		for k, left := range d.finest[i] {
			// Frequencies that no scan gives may all be zero; but where one gave
			// some bits, all must have come.
			if left > 0 || left < 0 && (k == 0 || k == 1 && i == 0) {
				return true
			}
		}
	}
	return false
}

// unitOf returns what decodes the m-th unit of a scan whose rows have so many;
// it returns false at damage. In a scan of one channel a unit is a block.
func (d *decoder) unitOf(s scanning) func(m, unitsX int) bool {
	var block func(c *component, x, y int) bool
	switch {
	case !d.progressive:
		places := placesOf(d.side)
		block = func(c *component, x, y int) bool { return d.sequential(c, x, y, &places) }
	case s.first == 0 && s.high == 0:
		block = func(c *component, x, y int) bool { return d.firstDC(c, x, y, s.low) }
	case s.first == 0:
		block = func(c *component, x, y int) bool { return d.nextDC(c, x, y, s.low) }
	case s.high == 0:
		block = func(c *component, x, y int) bool { return d.firstAC(c, x, y, s) }
	default:
		block = func(c *component, x, y int) bool { return d.nextAC(c, x, y, s) }
	}
	if len(s.members) == 1 {
		return func(m, unitsX int) bool { return block(s.members[0], m%unitsX, m/unitsX) && !d.bits.over() }
	}
	return func(m, unitsX int) bool {
		for _, c := range s.members {
			for v := range c.down {
				for h := range c.across {
					if !block(c, m%unitsX*c.across+h, m/unitsX*c.down+v) {
						return false
					}
				}
			}
		}
		return !d.bits.over()
	}
}

// sequential decodes a block and writes its pixels (T.81, F.2.2).
func (d *decoder) sequential(c *component, x, y int, places *[64]uint8) bool {
	var room [65]int32
	b, q := &d.bits, &d.quantities[c.table]
	size, ok := b.symbol(&d.dc[c.dcTable])
	if !ok || size > 15 {
		return false
	}
	c.lastDC += b.extended(int(size))
	room[0] = c.lastDC * int32(q[0])
	table := &d.ac[c.acSet]
	any := false
	for k := 1; k < 64; k++ {
		symbol, ok := b.symbol(table)
		if !ok {
			return false
		}
		run, size := int(symbol>>4), int(symbol&15)
		if size == 0 {
			if run != 15 {
				break
			}
			k += 15
			continue
		}
		if k += run; k > 63 {
			return false
		}
		if place := places[k]; place != 64 {
			room[place] = b.extended(size) * int32(q[k])
			any = true
		} else {
			b.skip(size)
		}
	}
	if b.over() {
		return false
	}
	out := c.plane[y*d.side*c.stride+x*d.side:]
	if !any {
		flat(room[0], out, c.stride, d.side)
		return true
	}
	inverse((*coefficients)(room[:64]), d.side, out, c.stride)
	return true
}

// skip passes over bits.
func (b *bits) skip(count int) {
	if b.n < 16 {
		b.fill()
	}
	b.acc <<= count
	b.n -= count
}
