package pages

import (
	"testing"

	"pairwall/sequence/colour"
)

func TestAStripLiesOnItsSheetAndNothingOnItOverlaps(t *testing.T) {
	own := make([]colour.Lab, 14)
	for i := range own {
		own[i] = colour.Lab{L: float64(20 + 4*i)}
	}
	s := LayStrip(own)
	if len(s.Patches) != 30 || len(s.Marks) != 4 {
		t.Fatalf("%d patches, %d marks", len(s.Patches), len(s.Marks))
	}
	var all []Rect
	for _, p := range s.Patches {
		all = append(all, p.At)
	}
	for _, m := range s.Marks { // with the quiet zone a code needs
		all = append(all, m.At.Inset(-CodeQuiet))
	}
	for i, a := range all {
		if a.X < 0 || a.Y < 0 || a.Right() > s.Width || a.Bottom() > s.Height {
			t.Errorf("%v lies beyond the sheet", a)
		}
		for _, b := range all[:i] {
			if a.X < b.Right() && b.X < a.Right() && a.Y < b.Bottom() && b.Y < a.Bottom() {
				t.Errorf("%v lies over %v", a, b)
			}
		}
	}
}

func TestATitlesOwnColoursLieApart(t *testing.T) {
	red, near, blue := colour.Lab{L: 45, A: 50, B: 30}, colour.Lab{L: 46, A: 51, B: 30}, colour.Lab{L: 30, A: 10, B: -45}
	own := OwnColours([]colour.Palette{{{Lab: red, Weight: 1}}, {{Lab: near, Weight: 0.6}, {Lab: blue, Weight: 0.4}}, nil})
	if len(own) != 2 || own[0] != red || own[1] != blue {
		t.Errorf("%v", own)
	}
}
