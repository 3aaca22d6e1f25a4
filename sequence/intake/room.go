package intake

import (
	"pairwall/sequence/intake/header"
	"pairwall/sequence/intake/pixels"
)

// roomTogether bounds what the pictures being decoded at one time may take
// together, in bytes, by what their headers let expect, so that the whole program
// stays below 520 MB with two at work (testdata/memory.py). Two of a phone's HEICs
// of 24 MP just fit. One that takes more by itself is decoded alone.
const roomTogether = 384 << 20

// roomFor is how much of it the picture at a path takes. What is no picture takes
// none; a worker will say why.
func roomFor(path string) int64 {
	o, err := openOriginal(path)
	if err != nil {
		return 0
	}
	defer o.file.Close()
	h, err := header.Read(o.kind, o.file, o.size())
	if err != nil {
		return 0
	}
	return min(pixels.Memory(h), roomTogether)
}
