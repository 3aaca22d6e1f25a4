package jpeg

import "encoding/binary"

// bits reads the entropy-coded bytes of a scan, most significant bit first.
// Behind the scan's end it reads zeros and counts them.
type bits struct {
	data []byte
	at   int    // of the next byte not yet in acc
	acc  uint64 // the next bits, from the top
	n    int    // how many
	pad  int    // how many of them, from the end, are not the file's
}

// start begins at an offset, on a byte.
func (b *bits) start(at int) { b.at, b.acc, b.n, b.pad = at, 0, 0, 0 }

// fill brings at least 56 bits in.
func (b *bits) fill() {
	for b.n <= 56 {
		if b.at+8 <= len(b.data) {
			// Eight bytes without 0xFF need no care: those that fit are taken.
			v := binary.BigEndian.Uint64(b.data[b.at:])
			if inverse := ^v; (inverse-0x0101010101010101)&^inverse&0x8080808080808080 == 0 {
				take := (64 - b.n) >> 3
				b.acc |= v >> (64 - 8*take) << (64 - b.n - 8*take)
				b.n += 8 * take
				b.at += take
				return
			}
		}
		var next byte
		switch {
		case b.at >= len(b.data):
			b.pad += 8
		case b.data[b.at] != 0xFF:
			next = b.data[b.at]
			b.at++
		case b.at+1 < len(b.data) && b.data[b.at+1] == 0:
			next = 0xFF
			b.at += 2
		default: // a marker: the scan ends here
			b.pad += 8
		}
		b.acc |= uint64(next) << (56 - b.n)
		b.n += 8
	}
}

// over reports whether bits were taken that the file does not hold.
func (b *bits) over() bool { return b.n < b.pad }

// take returns the next count bits, at most 16.
func (b *bits) take(count int) int32 {
	if b.n < 16 {
		b.fill()
	}
	v := int32(b.acc >> (64 - count))
	b.acc <<= count
	b.n -= count
	return v
}

// extended takes a number of size bits whose upper half is positive and lower
// negative (T.81, F.2.2.1, table F.1).
func (b *bits) extended(size int) int32 {
	if size == 0 {
		return 0
	}
	v := b.take(size)
	if v < 1<<(size-1) {
		v += -1<<size + 1
	}
	return v
}

// quickBits is how long a code may be to be looked up at once.
const quickBits = 10

// huffman is a table of codes (T.81, annex C).
type huffman struct {
	quick  [1 << quickBits]uint16 // length above, symbol below; 0 for a longer code
	values [256]byte
	last   [17]int32 // largest code of a length, -1 when there is none
	shift  [17]int32 // index of a code's symbol less the code
	made   bool
}

// make fills the table from the counts of codes by length and their symbols;
// false if there cannot be such a table.
func (h *huffman) make(counts []byte, symbols []byte) bool {
	*h = huffman{made: true}
	copy(h.values[:], symbols)
	code, index := int32(0), int32(0)
	for length := 1; length <= 16; length++ {
		count := int32(counts[length-1])
		h.last[length] = -1
		if count > 0 {
			h.shift[length] = index - code
			h.last[length] = code + count - 1
		}
		for range count {
			if code >= 1<<length {
				return false
			}
			if length <= quickBits {
				first := int(code) << (quickBits - length)
				for i := range 1 << (quickBits - length) {
					h.quick[first+i] = uint16(length)<<8 | uint16(symbols[index])
				}
			}
			code++
			index++
		}
		code <<= 1
	}
	return true
}

// symbol takes the next code; false if there is none that begins like this.
func (b *bits) symbol(h *huffman) (byte, bool) {
	if b.n < 16 {
		b.fill()
	}
	if entry := h.quick[b.acc>>(64-quickBits)]; entry != 0 {
		length := int(entry >> 8)
		b.acc <<= length
		b.n -= length
		return byte(entry), true
	}
	return b.longSymbol(h)
}

func (b *bits) longSymbol(h *huffman) (byte, bool) {
	for length := quickBits + 1; length <= 16; length++ {
		code := int32(b.acc >> (64 - length))
		if h.last[length] >= 0 && code <= h.last[length] {
			index := code + h.shift[length]
			if index < 0 || index > 255 {
				return 0, false
			}
			b.acc <<= length
			b.n -= length
			return h.values[index], true
		}
	}
	return 0, false
}
