package jpeg

// A progressive picture's coefficients come in several scans, first the highest
// bits of a range of them and then one bit more at a time (T.81, annex G).

// block is the room of one block's coefficients.
func (c *component) block(x, y int) []int16 {
	at := 64 * (y*c.blocksX + x)
	return c.saved[at : at+64 : at+64]
}

func (d *decoder) firstDC(c *component, x, y int, low uint) bool {
	size, ok := d.bits.symbol(&d.dc[c.dcTable])
	if !ok || size > 15 {
		return false
	}
	c.lastDC += d.bits.extended(int(size))
	if d.bits.over() {
		return false
	}
	c.block(x, y)[0] = int16(c.lastDC << low)
	return true
}

func (d *decoder) nextDC(c *component, x, y int, low uint) bool {
	bit := d.bits.take(1)
	if d.bits.over() {
		return false
	}
	c.block(x, y)[0] |= int16(bit << low)
	return true
}

func (d *decoder) firstAC(c *component, x, y int, s scanning) bool {
	if d.eobRun > 0 {
		d.eobRun--
		return true
	}
	block, table, b := c.block(x, y), &d.ac[c.acSet], &d.bits
	for k := s.first; k <= s.last; k++ {
		symbol, ok := b.symbol(table)
		if !ok || b.over() {
			return false
		}
		run, size := int(symbol>>4), int(symbol&15)
		if size == 0 {
			if run < 15 {
				d.eobRun = 1<<run - 1
				if run > 0 {
					d.eobRun += b.take(run)
				}
				return true
			}
			k += 15
			continue
		}
		if k += run; k > s.last {
			return false
		}
		block[k] = int16(b.extended(size) << s.low)
	}
	return true
}

// nextAC gives the coefficients known already their next bit, and brings in
// those that this bit makes different from zero (T.81, G.1.2.3).
func (d *decoder) nextAC(c *component, x, y int, s scanning) bool {
	block, table, b := c.block(x, y), &d.ac[c.acSet], &d.bits
	delta := int16(1) << s.low
	k := s.first
	if d.eobRun == 0 {
		for k <= s.last {
			symbol, ok := b.symbol(table)
			if !ok || b.over() {
				return false
			}
			run, size := int(symbol>>4), int(symbol&15)
			value := int16(0)
			switch {
			case size == 0 && run < 15:
				d.eobRun = 1 << run
				if run > 0 {
					d.eobRun += b.take(run)
				}
			case size == 1:
				value = -delta
				if b.take(1) == 1 {
					value = delta
				}
			case size != 0:
				return false
			}
			if d.eobRun > 0 {
				break
			}
			if k = refine(b, block, k, s.last, run, delta); value != 0 {
				if k > s.last {
					return false
				}
				block[k] = value
			}
			k++
		}
	}
	if d.eobRun > 0 {
		d.eobRun--
		refine(b, block, k, s.last, -1, delta)
	}
	return !b.over()
}

// refine gives every known coefficient from k on its next bit and passes over
// so many unknown ones; it returns where the next unknown one after them lies. A
// negative run passes over all.
func refine(b *bits, block []int16, k, last, run int, delta int16) int {
	for ; k <= last; k++ {
		if block[k] == 0 {
			if run == 0 {
				return k
			}
			run--
			continue
		}
		if b.take(1) == 1 && block[k]&delta == 0 {
			if block[k] > 0 {
				block[k] += delta
			} else {
				block[k] -= delta
			}
		}
	}
	return k
}

// renderSaved turns the coefficients into pixels, those blocks left out that
// nothing is known of.
func (d *decoder) renderSaved() {
	places := placesOf(d.side)
	for i := range d.components {
		c := &d.components[i]
		q := &d.quantities[c.table]
		for y := range c.blocksY {
			for x := range c.blocksX {
				d.render(c, c.block(x, y), q, &places, c.plane[y*d.side*c.stride+x*d.side:])
			}
		}
	}
}

func (d *decoder) render(c *component, block []int16, q *[64]uint16, places *[64]uint8, out []uint8) {
	var room [65]int32
	any := int32(0)
	for k := 1; k < 64; k++ {
		if v := block[k]; v != 0 && places[k] != 64 {
			room[places[k]] = int32(v) * int32(q[k])
			any = 1
		}
	}
	room[0] = int32(block[0]) * int32(q[0])
	if any == 0 {
		flat(room[0], out, c.stride, d.side)
		return
	}
	inverse((*coefficients)(room[:64]), d.side, out, c.stride)
}
