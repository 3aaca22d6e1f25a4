package pages

import (
	"fmt"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pages/code"
)

// Strip is a page of even patches that a proof is measured by: greys, skin and
// memory colours, and the title's own. Codes in its corners let a program find
// it in a photograph.
type Strip struct {
	Size
	Patches []StripPatch
	Marks   []StripMark
}

// StripPatch is one even patch.
type StripPatch struct {
	Name   string
	Colour colour.Lab // as the file has it
	At     Rect
}

// StripMark is a code in a corner.
type StripMark struct {
	Number sequence.PhotoID // beyond any photo's
	At     Rect             // its modules, without their quiet zone
}

// memoryColours are patches of the 24-patch target as published (edition before
// November 2014, see the table of sources): skin, sky, leaves, and strong colours
// that sRGB and four inks both hold.
var memoryColours = []struct {
	name string
	lab  colour.LabD50
}{
	{"dark skin", colour.LabD50{L: 37.986, A: 13.555, B: 14.059}},
	{"light skin", colour.LabD50{L: 65.711, A: 18.13, B: 17.81}},
	{"blue sky", colour.LabD50{L: 49.927, A: -4.88, B: -21.905}},
	{"foliage", colour.LabD50{L: 43.139, A: -13.095, B: 21.905}},
	{"orange yellow", colour.LabD50{L: 71.941, A: 19.363, B: 67.857}},
	{"red", colour.LabD50{L: 42.101, A: 53.378, B: 28.19}},
	{"green", colour.LabD50{L: 55.261, A: -38.342, B: 31.37}},
	{"blue", colour.LabD50{L: 28.778, A: 14.179, B: -50.297}},
	{"yellow", colour.LabD50{L: 81.733, A: 4.039, B: 79.819}},
	{"magenta", colour.LabD50{L: 51.935, A: 49.986, B: -14.574}},
}

// Measures of the strip: A6 lying, which fits beside any page.
const (
	stripAcross        = 10 // patches in a row, and the most of the title's own
	stripPatch  Length = 11
	stripHeight Length = 16
	stripGap    Length = 2
	stripTop    Length = 20
	stripStep   Length = 20
	stripEdge   Length = 6 // from the edge to a code
)

// LayStrip lays a test strip out with up to ten of the title's own colours.
func LayStrip(own []colour.Lab) Strip {
	s := Strip{Size: Size{148, 105}}
	left := (s.Width - stripAcross*stripPatch - (stripAcross-1)*stripGap) / 2
	add := func(row, column int, name string, c colour.Lab) {
		at := Rect{left + Length(column)*(stripPatch+stripGap), stripTop + Length(row)*stripStep, Size{stripPatch, stripHeight}}
		s.Patches = append(s.Patches, StripPatch{name, c, at})
	}
	for i := range stripAcross {
		l := 5 + 10*float64(i)
		add(0, i, fmt.Sprintf("grey L* %.0f", l), colour.Lab{L: l})
	}
	for i, m := range memoryColours {
		light := m.lab.Linear()
		add(1, i, m.name, colour.FromSRGB(colour.EncodeSRGB(light[0]), colour.EncodeSRGB(light[1]), colour.EncodeSRGB(light[2])))
	}
	for i, c := range own[:min(len(own), stripAcross)] {
		add(2, i, fmt.Sprintf("own %d", i+1), c)
	}
	for i := range 4 {
		at := Rect{stripEdge, stripEdge, Size{CodeWidth, CodeWidth}}
		if i%2 == 1 {
			at.X = s.Width - stripEdge - CodeWidth
		}
		if i >= 2 {
			at.Y = s.Height - stripEdge - CodeWidth
		}
		s.Marks = append(s.Marks, StripMark{code.MostNumber - sequence.PhotoID(3-i), at})
	}
	return s
}

// OwnColours are the colours that stand for a title: the heaviest of its photos'
// palettes that lie at least 12 ΔE00 from each other, in the order of the photos.
func OwnColours(palettes []colour.Palette) []colour.Lab {
	const apart = 12
	var own []colour.Lab
	for rank := range 3 {
		for _, p := range palettes {
			if rank >= len(p) || len(own) == stripAcross {
				continue
			}
			c, fresh := p[rank].Lab, true
			for _, known := range own {
				fresh = fresh && colour.DeltaE00(c, known) >= apart
			}
			if fresh {
				own = append(own, c)
			}
		}
	}
	return own
}
