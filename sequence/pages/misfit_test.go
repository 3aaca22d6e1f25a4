package pages

import (
	"strings"
	"testing"

	"pairwall/sequence"
)

func misfits(f Format, p Plan, q sequence.Sequence, photos map[sequence.PhotoID]sequence.Photo) []Misfit {
	return Lay(f, p, q, photos).Misfits(p, photos, typewriter{})
}

// Resolution: 300 wanted, a warning under 225 (table of sources). A5 leaves 122
// mm of width for a lying picture: 225 to the inch are 1080.7 pixels.
func TestAPictureWithTooFewPixelsIsTold(t *testing.T) {
	q := sequence.Sequence{Opening: 1, Closing: 2}
	photos := photosOf(map[sequence.PhotoID][2]int{1: {1081, 600}, 2: {1080, 600}})
	found := misfits(FirstFormat, FirstPlan, q, photos)
	if len(found) != 1 || found[0].Kind != ResolutionMisfit || found[0].Photo != 2 || found[0].Page != 2 || !strings.Contains(found[0].Words, "224 pixels") {
		t.Errorf("%+v", found)
	}
}

// Everything that can go wrong with a page, one at a time.
func TestEachMisfitIsToldWithItsPageAndAWayOut(t *testing.T) {
	one := func(said Placement) Plan {
		p := FirstPlan
		said.Photo = 2
		p.Placements = []Placement{said}
		return p
	}
	yes := true
	spread := sequence.Sequence{Spreads: []sequence.Spread{{ID: 1, Left: 2}}}
	across := sequence.Sequence{Spreads: []sequence.Spread{{ID: 1, Left: 2, Across: true}}}
	bled := func(x, y float64) Plan { return one(Placement{Manner: FullBleed, Keep: &Point{x, y}}) }
	for name, c := range map[string]struct {
		plan  Plan
		wall  sequence.Sequence
		f     Format
		words string // "" for nothing
	}{
		"a point amid the page":                      {bled(0.5, 0.5), spread, FirstFormat, ""},
		"a point near the upper trim":                {bled(0.5, 0.03), spread, FirstFormat, "inside the safe margin"},
		"a point in the bleed":                       {bled(0.5, 0.005), spread, FirstFormat, "beyond the trim"},
		"a point the crop leaves out":                {one(Placement{Manner: FullBleed, Crop: &Crop{Point{1, 0.5}, 2}, Keep: &Point{0.1, 0.5}}), spread, FirstFormat, "is cut off"},
		"a point on the fold":                        {bled(0.5, 0.5), across, FirstFormat, "gutter hides it"},
		"a point across, clear of the fold":          {bled(0.3, 0.5), across, FirstFormat, ""},
		"a point in the gutter of a glued page":      {one(Placement{Manner: FullBleed, Crop: &Crop{Point{0.5, 0.5}, 1}, Keep: &Point{0.51, 0.5}}), across, FirstFormat.Bound(HardCase), "gutter hides it"},
		"a caption without room":                     {one(Placement{Manner: FullBleed, Caption: &yes}), spread, FirstFormat, "finds no room"},
		"a caption too long":                         {one(Placement{Caption: &yes, Share: 0.2, Manner: Small}), spread, FirstFormat, "longer than two lines"},
		"words on a page that has a photo now":       {Plan{Manner: Framed, Laid: []LaidLeaf{{sequence.Page{Spread: 1, Side: sequence.Left}, Leaf{TextLeaf, "a"}}}}, spread, FirstFormat, "a photo lies there now"},
		"words on a page that is gone":               {Plan{Manner: Framed, Laid: []LaidLeaf{{sequence.Page{Spread: 9, Side: sequence.Left}, Leaf{TextLeaf, "a"}}}}, spread, FirstFormat, "not on the wall any more"},
		"letters the typeface lacks":                 {Plan{Manner: Framed, Laid: []LaidLeaf{{sequence.Page{Spread: 1, Side: sequence.Right}, Leaf{TextLeaf, "a ☃"}}}}, spread, FirstFormat, "“☃” (U+2603)"},
		"words longer than their page":               {Plan{Manner: Framed, Laid: []LaidLeaf{{sequence.Page{Spread: 1, Side: sequence.Right}, Leaf{TextLeaf, strings.Repeat("word\n", 60)}}}}, spread, FirstFormat, "do not fit"},
		"one page before the wall":                   {Plan{Manner: Framed, Front: []Leaf{{Kind: BlankLeaf}}}, spread, FirstFormat, "no spread would face"},
		"four pages with saddle stitch are too few":  {FirstPlan, spread, FirstFormat.Bound(SaddleStitch), "4 pages more make 8"},
		"a narrow inner margin that glue would hide": {FirstPlan, spread, Format{Trim: FirstFormat.Trim, Unit: Millimetres, Binding: HardCase, Swallow: 6, Margins: Margins{10, 10, 10, 8}}, "gutter hides 6 mm"},
		"a margin narrower than the safe one":        {FirstPlan, spread, Format{Trim: FirstFormat.Trim, Unit: Millimetres, Safe: 5, Margins: Margins{3, 10, 10, 10}}, "narrower than the safe margin"},
	} {
		t.Run(name, func(t *testing.T) {
			photos := photosOf(map[sequence.PhotoID][2]int{2: {6000, 6000}})
			photo := photos[2]
			photo.Caption = strings.Repeat("a long caption ", 20)
			photos[2] = photo
			if err := c.plan.Tidied().Check(c.f); err != nil {
				t.Fatal(err)
			}
			found := misfits(c.f, c.plan, c.wall, photos)
			if c.words == "" {
				if len(found) > 0 {
					t.Errorf("%+v", found)
				}
				return
			}
			for _, m := range found {
				if strings.Contains(m.Words, c.words) && m.Hint != "" {
					return
				}
			}
			t.Errorf("%q is not among %+v", c.words, found)
		})
	}
}

// The face the maker marked is what stays in sight when nothing else is said.
func TestTheMarkOfAFaceIsKeptInSight(t *testing.T) {
	photos := photosOf(map[sequence.PhotoID][2]int{2: {6000, 6000}})
	photo := photos[2]
	photo.Gaze = &sequence.Gaze{X: 0.5, Y: 0.001}
	photos[2] = photo
	p := FirstPlan
	p.Manner = FullBleed
	found := misfits(FirstFormat, p, sequence.Sequence{Opening: 2}, photos)
	if len(found) != 1 || found[0].Kind != KeepMisfit || found[0].Page != 1 {
		t.Errorf("%+v", found)
	}
}

func TestTheMostHarmfulComesFirst(t *testing.T) {
	photos := photosOf(map[sequence.PhotoID][2]int{1: {100, 100}, 2: {100, 100}})
	p := FirstPlan
	p.Front = []Leaf{{Kind: TextLeaf, Text: "☃"}}
	found := misfits(FirstFormat.Bound(HardCase), p, sequence.Sequence{Opening: 1, Closing: 2}, photos)
	last := MisfitKind("")
	order := map[MisfitKind]int{}
	for i, k := range harm {
		order[k] = i
	}
	page := 0
	for _, m := range found {
		if order[m.Kind] < order[last] || m.Kind == last && m.Page < page {
			t.Errorf("%s on page %d after %s on %d", m.Kind, m.Page, last, page)
		}
		last, page = m.Kind, m.Page
	}
	if len(found) != 5 { // torn, the count, two soft pictures, a letter
		t.Errorf("%+v", found)
	}
}
