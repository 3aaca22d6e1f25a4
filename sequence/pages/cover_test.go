package pages

import (
	"math"
	"strings"
	"testing"

	"pairwall/sequence"
)

func near(a, b Length) bool { return math.Abs(float64(a-b)) < 1e-9 }

func coverFormat(trim Size, b Binding) Format {
	f := FirstFormat.Bound(b)
	f.Trim = trim
	return f
}

// Telepathic Graphics, perfect binding: 8.5 + 8.5 + 0.25 = 17.25 in wide; with
// 1/8 in bleed 17.5 × 11.25 in.
func TestTheFlatOfAPerfectBoundCoverIsThePublishedOne(t *testing.T) {
	f := coverFormat(Size{8.5 * Inch, 11 * Inch}, PerfectBound)
	f.Bleed = Inch / 8
	c := LayCover(f, FirstCoverPlan, CoverSpine{Width: Inch / 4})
	if !near(c.Trim.Width, 17.25*Inch) || !near(c.Trim.Height, 11*Inch) {
		t.Errorf("flat %g × %g in", c.Trim.Width.Inches(), c.Trim.Height.Inches())
	}
	if b := c.Bled(); !near(b.Width, 17.5*Inch) || !near(b.Height, 11.25*Inch) || !near(b.X, -Inch/8) {
		t.Errorf("with bleed %+v", b)
	}
	if !near(c.Front.X-c.Back.Right(), Inch/4) {
		t.Errorf("spine of %s", c.Spine.Width)
	}
}

// Book Printing Company: inside the covers, spine + 5 mm on each side stay free
// of picture.
func TestInsideAPerfectBoundCoverTheGlueStaysFree(t *testing.T) {
	c := LayCover(coverFormat(Size{148, 210}, PerfectBound), FirstCoverPlan, CoverSpine{Width: 6.48})
	free := marked(c.Inner, FreeMark)
	if len(free) != 1 || !near(free[0].Width, 16.48) || !near(free[0].X, 143) {
		t.Fatalf("free of picture: %+v", free)
	}
	for _, safe := range marked(c.Inner, SafeMark) {
		if o := safe.meeting(free[0]); o.Width > tiny && o.Height > tiny {
			t.Errorf("safe %+v lies in the glue", safe)
		}
	}
}

func TestAFoldedCoverIsTwoPagesWideAndHasOneFold(t *testing.T) {
	for _, b := range []Binding{SaddleStitch, Unbound} {
		c := LayCover(coverFormat(Size{148, 210}, b), FirstCoverPlan, CoverSpine{Width: 3.24})
		if c.Trim != (Size{296, 210}) || c.Spine.Width != 0 {
			t.Errorf("%q: %+v, spine %s", b, c.Trim, c.Spine.Width)
		}
		if folds := marked(c.Outer, FoldMark); len(folds) != 1 || folds[0].X != 148 {
			t.Errorf("%q: folds %+v", b, folds)
		}
		if (len(c.Doubts) > 0) != (b == Unbound) {
			t.Errorf("%q: %q", b, c.Doubts)
		}
	}
}

// Common practice, from memory: 2 × (148 + 3) + (12 + 2 × 2.5) + 2 × 15 wide,
// 210 + 2 × 3 + 2 × 15 high.
func TestAHardCaseStandsOverTheBlockAndIsTurnedIn(t *testing.T) {
	c := LayCover(coverFormat(Size{148, 210}, HardCase), FirstCoverPlan, CoverSpine{Width: 12})
	if c.Trim != (Size{349, 246}) {
		t.Errorf("flat %+v", c.Trim)
	}
	if c.Spine.Width != 17 || c.Front.Size != (Size{151, 216}) || c.Front.X != 15+151+17 {
		t.Errorf("spine %+v front %+v", c.Spine, c.Front)
	}
	if len(c.Inner) > 0 {
		t.Error("the inside of a case is pasted over")
	}
	hinges := marked(c.Outer, HingeMark)
	if len(hinges) != 2 || hinges[1] != (Rect{c.Front.X, 15, Size{8, 216}}) || !near(hinges[0].Right(), c.Back.Right()) {
		t.Errorf("joints %+v", hinges)
	}
	if edge := marked(c.Outer, EdgeMark); len(edge) != 1 || edge[0] != (Rect{15, 15, Size{319, 216}}) {
		t.Errorf("edge of the boards %+v", edge)
	}
}

func TestEveryGuideLiesOnTheCoverAndSafeOnesKeepOffFoldsAndHinges(t *testing.T) {
	plan := FirstCoverPlan
	plan.Barcode = true
	for _, b := range append(Bindings(), Unbound) {
		for _, trim := range []Size{{105, 148}, {148, 148}, {210, 297}, {297, 210}} {
			c := LayCover(coverFormat(trim, b), plan, CoverSpine{Width: 8})
			for _, g := range append(c.Outer, c.Inner...) {
				if both := g.At.meeting(c.Bled()); !near(both.Width, g.At.Width) || !near(both.Height, g.At.Height) || g.Name == "" {
					t.Errorf("%s %+v: %+v is not on the cover", b, trim, g)
				}
			}
			for _, safe := range append(marked(c.Outer, SafeMark), marked(c.Outer, BarcodeMark)...) {
				for _, off := range append(marked(c.Outer, HingeMark), marked(c.Outer, SpineMark)...) {
					if both := safe.meeting(off); both.Width > tiny && both.Height > tiny {
						t.Errorf("%s %+v: safe %+v reaches into %+v", b, trim, safe, off)
					}
				}
			}
			if c.Barcode == nil {
				t.Errorf("%s %+v: no place for a barcode", b, trim)
			}
		}
	}
}

// A fold may lie 1 mm off on either side (Headley), and 6 point are 2.117 mm:
// 4.117 mm of spine take letters, 4.1 do not.
func TestLettersFindRoomOnASpineFromWhereTheyCanBeRead(t *testing.T) {
	for least, want := range map[Length]bool{0: false, 1.9: false, 4.1: false, 4.12: true, 6: true, 30: true} {
		size, fits := SpineLetters(least)
		if fits != want || size < 0 || (fits && size+2*FoldTolerance > least+tiny) {
			t.Errorf("%s: %s, %v", least, size, fits)
		}
	}
	if size, _ := SpineLetters(30); size != mostSpineLetters {
		t.Errorf("a thick spine has letters of %s", size)
	}
}

func TestAnOwnCoverKeepsItsWordsSafeAndItsPictureOverTheEdge(t *testing.T) {
	photo := sequence.Photo{Number: 7, Width: 6000, Height: 4000}
	for _, b := range []Binding{SaddleStitch, PerfectBound, HardCase} {
		f := coverFormat(Size{148, 210}, b)
		spine := CoverSpine{Width: 6, Least: 5.7, Most: 6.3}
		plan := FirstCoverPlan
		c := LayCover(f, plan, spine)
		safe := marked(c.Outer, SafeMark)[1]
		laid := c.LayOwn(f, plan, spine.Least, &photo)
		for _, room := range []Rect{laid.Title, laid.Name, laid.Picture.Window} {
			if both := room.meeting(safe); !near(both.Width, room.Width) || !near(both.Height, room.Height) {
				t.Errorf("%s: %+v leaves %+v", b, room, safe)
			}
		}
		if o := laid.Picture.Window.meeting(laid.Title); o.Width*o.Height > tiny {
			t.Errorf("%s: the picture lies under the title", b)
		}
		if (laid.Spine != nil) != (b != SaddleStitch) {
			t.Errorf("%s: spine %v", b, laid.Spine)
		}
		plan.Own.Manner = FullBleed
		bled := c.LayOwn(f, plan, spine.Least, &photo).Picture.Window
		if !near(bled.Right(), c.Trim.Width+f.Bleed) || !near(bled.Y, -f.Bleed) || !near(bled.X, c.Front.X) || !near(bled.Bottom(), c.Trim.Height+f.Bleed) {
			t.Errorf("%s: full bleed %+v", b, bled)
		}
		thin := c.LayOwn(f, plan, 1, nil)
		if thin.Picture != nil || (thin.Spine != nil) != (b == HardCase) {
			t.Errorf("%s: %+v", b, thin)
		}
	}
}

func TestACoverThatCannotBeMadeIsRefusedInWords(t *testing.T) {
	if err := FirstCoverPlan.Check(); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(*CoverPlan){
		"spine": func(p *CoverPlan) { p.Spine = -1 }, "no number": func(p *CoverPlan) { p.Spine = Length(math.NaN()) }, "hinge": func(p *CoverPlan) { p.Hinge = 99 },
		"case": func(p *CoverPlan) { p.Case.TurnIn = 200 }, "colour": func(p *CoverPlan) { p.Own.Ground = "red" }, "manner": func(p *CoverPlan) { p.Own.Manner = Small },
		"title": func(p *CoverPlan) { p.Own.Title = strings.Repeat("a", 300) }, "crop": func(p *CoverPlan) { p.Own.Crop = &Crop{Zoom: 0} },
		"line": func(p *CoverPlan) { p.Own.Name = "two\nlines" },
	} {
		p := FirstCoverPlan
		spoil(&p)
		if err := p.Check(); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func marked(guides []Guide, m Mark) []Rect {
	var list []Rect
	for _, g := range guides {
		if g.Mark == m {
			list = append(list, g.At)
		}
	}
	return list
}
