package pages

import (
	"math/rand/v2"
	"testing"

	"pairwall/sequence"
)

func pictures(n int, width, height float64) []Proportion {
	list := make([]Proportion, n)
	for i := range list {
		list[i] = Proportion{sequence.PhotoID(i + 1), width, height}
	}
	return list
}

// Worked by hand: a print of 3:2 at 70 mm is 76 × 62.1 mm (46.67 + 3 + 12.43).
// Within 198 × 285 mm there are 2 × 4 of them on A4 standing, 3 × 3 lying.
func TestAsManyPrintsAsFitShareASheet(t *testing.T) {
	for _, c := range []struct {
		name          string
		sheet         Sheet
		width, height float64
		each          int
	}{
		{"lying 3:2 on A4", Sheets[0], 3, 2, 9},
		{"standing 2:3 on A4", Sheets[0], 2, 3, 10},       // 52.7 × 85.4: 3 × 3 standing, 5 × 2 lying
		{"square on A4", Sheets[0], 1, 1, 6},              // 76 × 85.4: 2 × 3
		{"lying 3:2 on A3", Sheets[1], 3, 2, 20},          // 285 × 408: 3 × 6 standing, 5 × 4 lying
		{"lying 3:2 on Letter", Sheets[2], 3, 2, 9},       // 203.9 × 267.4: 2 × 4 standing, 3 × 3 lying
		{"a panorama 65:24 on A4", Sheets[0], 65, 24, 12}, // 76 × 41.3: 2 × 6 standing, 3 × 4 lying
	} {
		t.Run(c.name, func(t *testing.T) {
			style := FirstPrintStyle
			style.Sheet = c.sheet
			sheets, err := style.LayPrints(pictures(2*c.each, c.width, c.height))
			if err != nil {
				t.Fatal(err)
			}
			if len(sheets) != 2 || len(sheets[0].Prints) != c.each {
				t.Errorf("%d sheets, %d prints on the first; want 2 with %d", len(sheets), len(sheets[0].Prints), c.each)
			}
		})
	}
}

func TestPrintsOfAnyShapeLieApartWithinTheMarginsAndInStrips(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	for range 60 {
		var all []Proportion
		for i := range 1 + rng.IntN(60) {
			all = append(all, Proportion{sequence.PhotoID(i + 1), 0.2 + rng.Float64()*3, 0.2 + rng.Float64()*3})
		}
		style := FirstPrintStyle
		style.Sheet, style.Long = Sheets[rng.IntN(len(Sheets))], 30+Length(rng.IntN(100))
		sheets, err := style.LayPrints(all)
		if err != nil {
			t.Fatal(err)
		}
		seen := make(map[sequence.PhotoID]bool)
		for _, sheet := range sheets {
			checkSheet(t, style, sheet)
			for _, p := range sheet.Prints {
				if seen[p.Photo] {
					t.Errorf("photo %d is printed twice", p.Photo)
				}
				seen[p.Photo] = true
			}
		}
		if len(seen) != len(all) {
			t.Errorf("%d of %d photos are printed", len(seen), len(all))
		}
	}
}

func checkSheet(t *testing.T, style PrintStyle, sheet PrintSheet) {
	t.Helper()
	room := Rect{Size: sheet.Size}.Inset(style.Margin)
	for i, p := range sheet.Prints {
		inside(t, "print", p.Cut, room)
		inside(t, "picture", p.Picture, p.Cut.Inset(style.Border-tiny))
		inside(t, "foot", p.Foot, p.Cut)
		inside(t, "code with its quiet zone", p.Code.Inset(-CodeQuiet), p.Foot)
		if long := max(p.Picture.Width, p.Picture.Height); long < style.Long-tiny || long > style.Long+tiny {
			t.Errorf("a picture's longer side is %v, want %v", long, style.Long)
		}
		for _, other := range sheet.Prints[:i] {
			a, b := p.Cut, other.Cut
			if a.X < b.Right()-tiny && b.X < a.Right()-tiny && a.Y < b.Bottom()-tiny && b.Y < a.Bottom()-tiny {
				t.Errorf("prints %d and %d overlap", p.Photo, other.Photo)
			}
			// Strips: two prints either begin at the same height or one lies wholly below the other.
			if a.Y != b.Y && a.Y < b.Bottom()-tiny && b.Y < a.Bottom()-tiny {
				t.Errorf("prints %d and %d cannot be parted by a cut from edge to edge", p.Photo, other.Photo)
			}
		}
	}
}

func inside(t *testing.T, what string, r, room Rect) {
	t.Helper()
	if r.X < room.X-tiny || r.Y < room.Y-tiny || r.Right() > room.Right()+tiny || r.Bottom() > room.Bottom()+tiny {
		t.Errorf("a %s at %+v reaches beyond %+v", what, r, room)
	}
}

func TestPrintsThatCannotBeMadeAreRefusedWithTheWayOut(t *testing.T) {
	small, large, blank := FirstPrintStyle, FirstPrintStyle, []Proportion{{Photo: 3, Width: 0, Height: 1}}
	small.Long, large.Long = 12, 240
	for name, c := range map[string]struct {
		style PrintStyle
		of    []Proportion
	}{
		"smaller than its code": {small, pictures(1, 3, 2)},
		"larger than the sheet": {large, pictures(1, 3, 2)},
		"nothing":               {FirstPrintStyle, nil},
		"no size":               {FirstPrintStyle, blank},
	} {
		if _, err := c.style.LayPrints(c.of); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// ISO 216: A4 is 210 × 297 mm, A3 297 × 420 mm. Letter is 8.5 × 11 in.
func TestSheetsAreFoundByNameAndHaveTheirPublishedSize(t *testing.T) {
	for name, want := range map[string]Size{"a4": {210, 297}, " A3": {297, 420}, "LETTER": {215.9, 279.4}} {
		sheet, err := SheetNamed(name)
		if err != nil || !sheet.Within(want) || !want.Within(sheet.Size) {
			t.Errorf("%q: %v, %v", name, sheet, err)
		}
	}
	if _, err := SheetNamed("B7"); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("B7: %v", err)
	}
}
