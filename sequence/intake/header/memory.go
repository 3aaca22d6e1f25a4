package header

// boxMemory is what decoding a HEIC or AVIF takes: the canvas, its tiles and the
// picture as handed over, and the file twice.
//
// The bytes a pixel are measured on the resident size of a worker: 7 on HEICs of
// 1 to 36 MP with 8 bits, 14 on one with 10, 24 on AVIFs of 9 and 20 MP with 8
// bits. AVIF with more is reckoned: its colours are handed over in twice the
// bytes, three times. One that does not say its bits counts as deep.
func (h *Header) boxMemory(size int64) int64 {
	each, deep := int64(8), int64(15)
	if h.Format == "avif" {
		each, deep = 25, 40
	}
	if h.bits != 8 {
		each = deep
	}
	return each*int64(h.Width)*int64(h.Height) + 2*size
}
