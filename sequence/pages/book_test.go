package pages

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"pairwall/sequence"
)

func photosOf(sizes map[sequence.PhotoID][2]int) map[sequence.PhotoID]sequence.Photo {
	photos := map[sequence.PhotoID]sequence.Photo{}
	for id, s := range sizes {
		photos[id] = sequence.Photo{Number: id, Width: s[0], Height: s[1]}
	}
	return photos
}

// The design: page 1 is a right page, 2 and 3 face each other, and a sequence of
// n spreads has 2n+2 pages.
func TestTheWallsPagesFaceEachOtherInTheBook(t *testing.T) {
	q := sequence.Sequence{Opening: 1, Spreads: []sequence.Spread{{ID: 1, Left: 2, Right: 3}, {ID: 2, Left: 4, Across: true}}, Closing: 5}
	photos := photosOf(map[sequence.PhotoID][2]int{1: {3000, 2000}, 2: {2000, 3000}, 3: {3000, 2000}, 4: {6000, 2000}, 5: {100, 100}})
	p := FirstPlan
	for range 3 {
		b := Lay(FirstFormat, p, q, photos)
		if len(b.Pages) != q.PageCount()+len(p.Front) {
			t.Fatalf("%d pages", len(b.Pages))
		}
		for i, page := range b.Pages {
			if page.Number != i+1 || page.Right() != (i%2 == 0) {
				t.Errorf("page %d is called %d, right %v", i+1, page.Number, page.Right())
			}
			if page.On != nil && page.Right() == (page.On.Side == sequence.Left || page.On.Side == sequence.Closing) != p.Torn() {
				t.Errorf("the %s lies on page %d", page.On, page.Number)
			}
		}
		p.Front = append(p.Front, Leaf{Kind: TitleLeaf})
	}
}

// Whatever the crop, no paper shows within a window, and the picture keeps its proportion.
func TestAPictureAlwaysFillsItsWindow(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for range 2000 {
		w, h := 100+rng.IntN(5000), 100+rng.IntN(5000)
		f := FirstFormat.Bound(Bindings()[rng.IntN(3)])
		across := rng.IntN(2) == 0
		one := Placement{Photo: 1, Manner: []Manner{FullBleed, Framed, Small}[rng.IntN(3)], Share: 0.2 + 0.8*rng.Float64(),
			Crop: &Crop{Point{rng.Float64(), rng.Float64()}, 1 + 7*rng.Float64()}}
		if across {
			one.Apart = Length(rng.Float64() * 10)
		}
		p := FirstPlan
		p.Placements = []Placement{one}
		if err := p.Check(f); err != nil {
			t.Fatal(err)
		}
		b := Lay(f, p, sequence.Sequence{Spreads: []sequence.Spread{{ID: 1, Left: 1, Across: across}}}, photosOf(map[sequence.PhotoID][2]int{1: {w, h}}))
		for _, page := range b.Pages {
			s := page.Shown
			if s == nil {
				continue
			}
			if s.Window.X < s.Picture.X-tiny || s.Window.Y < s.Picture.Y-tiny || s.Window.Right() > s.Picture.Right()+tiny || s.Window.Bottom() > s.Picture.Bottom()+tiny {
				t.Fatalf("%+v shows paper in %+v", one, *s)
			}
			if got, want := float64(s.Picture.Width/s.Picture.Height), float64(w)/float64(h); math.Abs(got/want-1) > 1e-9 {
				t.Fatalf("proportion %g, not %g", got, want)
			}
		}
	}
}

// At the fold both halves show the same point of the picture: on the left page
// as far from it as on the right.
func TestTheHalvesOfAPictureAcrossTheGutterMeet(t *testing.T) {
	f := FirstFormat.Bound(PerfectBound)
	for _, apart := range []Length{0, 4, 10} {
		p := FirstPlan
		p.Placements = []Placement{{Photo: 1, Manner: FullBleed, Apart: apart}}
		b := Lay(f, p, sequence.Sequence{Spreads: []sequence.Spread{{ID: 1, Left: 1, Across: true}}}, photosOf(map[sequence.PhotoID][2]int{1: {6000, 4000}}))
		left, right := b.Pages[1].Shown, b.Pages[2].Shown
		fold := func(s *Shown, x Length) float64 { return float64((x - s.Picture.X) / s.Picture.Width) }
		if l, r := fold(left, f.Trim.Width-apart), fold(right, apart); math.Abs(l-0.5) > 1e-9 || math.Abs(r-0.5) > 1e-9 {
			t.Errorf("apart %s: %g and %g of the picture", apart, l, r)
		}
		if left.Window.Right() < f.Trim.Width || right.Window.X > 0 {
			t.Errorf("apart %s: paper shows at the fold", apart)
		}
	}
}

// Thickness of a leaf: the published spine of 48 pages of 150 g/m² and bulk 0.9
// is 3.24 mm (table of sources), so 24 leaves of 0.135 mm.
func TestTheThicknessOfALeaf(t *testing.T) {
	if got := (Paper{Grammage: 150, Bulk: 0.9}).Thickness() * 24; math.Abs(float64(got)-3.24) > 1e-9 {
		t.Errorf("%s", got)
	}
	if got := (Paper{Grammage: 150, Bulk: 0.9, Caliper: 0.2}).Thickness(); got != 0.2 {
		t.Errorf("%s", got)
	}
}

func TestAFormatThatCannotBeMadeIsRefusedInWords(t *testing.T) {
	if err := FirstFormat.Check(); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(*Format){
		"no size": func(f *Format) { f.Trim = Size{} }, "not a number": func(f *Format) { f.Trim.Width = Length(math.NaN()) },
		"bleed": func(f *Format) { f.Bleed = -1 }, "safe": func(f *Format) { f.Safe = 70 }, "unit": func(f *Format) { f.Unit = "ell" },
		"margins": func(f *Format) { f.Margins.Inner = 140 }, "binding": func(f *Format) { f.Binding = "tied" }, "paper": func(f *Format) { f.Text.Grammage = -5 },
	} {
		f := FirstFormat
		spoil(&f)
		if err := f.Check(); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The browser is held to the same file, which was reckoned by hand.
func TestACropFillsItsWindow(t *testing.T) {
	text, err := os.ReadFile("../../testdata/crops.json")
	if err != nil {
		t.Fatal(err)
	}
	var table struct {
		Cases []struct {
			Name           string
			Whole, Picture Rect
			Width, Height  int
			Crop           Crop
		}
	}
	if err := json.Unmarshal(text, &table); err != nil || len(table.Cases) < 6 {
		t.Fatal(err, len(table.Cases))
	}
	for _, c := range table.Cases {
		got := show(Placement{Crop: &c.Crop}, sequence.Photo{Width: c.Width, Height: c.Height}, c.Whole, c.Whole).Picture
		if !got.Within(c.Picture.Size) || !c.Picture.Within(got.Size) || math.Abs(float64(got.X-c.Picture.X)) > 1e-9 || math.Abs(float64(got.Y-c.Picture.Y)) > 1e-9 {
			t.Errorf("%s: %+v, not %+v", c.Name, got, c.Picture)
		}
	}
}
