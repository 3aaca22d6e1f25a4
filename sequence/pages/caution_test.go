package pages

import (
	"strings"
	"testing"

	"pairwall/sequence"
)

func TestWhatFitsAndYetShouldBeLookedAtIsTold(t *testing.T) {
	kinds := func(f Format, one Placement, photo sequence.Photo, across bool) string {
		photo.Number, photo.Profile = 1, "sRGB"
		one.Photo = 1
		p := FirstPlan
		p.Placements = []Placement{one}
		photos := map[sequence.PhotoID]sequence.Photo{1: photo}
		var told []string
		for _, m := range Lay(f, p, sequence.Sequence{Spreads: []sequence.Spread{{ID: 1, Left: 1, Across: across}}}, photos).Cautions(photos) {
			told = append(told, string(m.Kind))
		}
		return strings.Join(told, " ")
	}
	glued := FirstFormat.Bound(PerfectBound)
	large := sequence.Photo{Width: 6000, Height: 4000}
	level := large
	level.Form.Horizon = 0.8
	torn := large
	torn.Findings = []sequence.Finding{{Code: sequence.Damaged, Words: "The file ends early."}}
	for _, one := range []struct {
		of    string
		f     Format
		place Placement
		photo sequence.Photo
		over  bool
		want  string
	}{
		{"a large photo in a frame", FirstFormat, Placement{}, large, false, ""},
		{"cut to a standing page", FirstFormat, Placement{Manner: FullBleed}, large, false, "cut"},
		// 122 mm wide in the frame: 1200 pixels are 249 to the inch.
		{"between wanted and least", FirstFormat, Placement{}, sequence.Photo{Width: 1200, Height: 800}, false, "fine"},
		{"over the glued gutter", glued, Placement{Manner: FullBleed}, large, true, "gutter"},
		{"moved apart", glued, Placement{Manner: FullBleed, Apart: PerfectSwallow}, large, true, ""},
		{"a horizon over the fold", FirstFormat, Placement{Manner: FullBleed}, level, true, "gutter"},
		{"a file that is not whole", FirstFormat, Placement{}, torn, false, "damaged"},
	} {
		if got := kinds(one.f, one.place, one.photo, one.over); got != one.want {
			t.Errorf("%s: %q, want %q", one.of, got, one.want)
		}
	}
}

func TestPhotosThatDoNotSayTheirColoursAreToldOfTogether(t *testing.T) {
	photos := map[sequence.PhotoID]sequence.Photo{}
	q := sequence.Sequence{}
	for id := sequence.PhotoID(1); id <= 30; id += 2 {
		q.Spreads = append(q.Spreads, sequence.Spread{ID: sequence.SpreadID(id), Left: id, Right: id + 1})
		photos[id] = sequence.Photo{Number: id, Width: 6000, Height: 4000}
		photos[id+1] = sequence.Photo{Number: id + 1, Width: 6000, Height: 4000, Profile: "Display P3"}
	}
	found := Lay(FirstFormat, FirstPlan, q, photos).Cautions(photos)
	if len(found) != 1 || found[0].Kind != ProfileMisfit || !strings.HasPrefix(found[0].Words, "15 photos carry no colour profile") || !strings.Contains(found[0].Words, "and 3 more") {
		t.Errorf("%+v", found)
	}
}
