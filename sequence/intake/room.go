package intake

import "pairwall/sequence/intake/pixels"

// roomTogether bounds what the pictures being decoded at one time may take
// together, in bytes, by what their headers let expect, so that the whole program
// stays below 520 MB with two at work (testdata/memory.py). Two of a phone's HEICs
// of 24 MP just fit. One that takes more by itself is decoded alone.
const roomTogether = 384 << 20

// roomFor is how much of it the picture at a path takes. What no worker will decode
// takes none; it will say why.
func roomFor(path string, limits Limits) int64 {
	o, h, err := openPicture(path, limits)
	if err != nil {
		return 0
	}
	defer o.file.Close()
	return min(pixels.Memory(h), roomTogether)
}
