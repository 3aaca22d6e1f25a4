package sequence

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence/place"
)

func TestAStatementChangesOneFactAndItsInverseGivesItBack(t *testing.T) {
	day := place.Day(2026, time.May, 7, place.FromMaker)
	senj := place.Where{LatLng: place.LatLng{Lat: 44.99, Lng: 14.90}, Radius: 2000, Source: place.FromMaker}
	scanned := Photo{Number: 12, Taken: place.Day(2026, time.May, 21, place.FromScanner), Roll: "00041873", Caption: "Wind"}
	for _, c := range []struct {
		fact Fact
		now  Value
	}{
		{TakenFact, Value{Taken: &day}},
		{TakenFact, Value{}},
		{WhereFact, Value{Where: &senj}},
		{RollFact, Value{Text: "00041874"}},
		{FrameFact, Value{Text: "13A"}},
		{NoteFact, Value{Text: "Print it darker"}},
		{CaptionFact, Value{Text: "The wind they call bora — bura — бура — ボラ"}},
		{FeelingFact, Value{Words: []string{"cold", "loud"}}},
		{GazeFact, Value{Gaze: &Gaze{X: 0.5, Y: 1, Towards: TowardsOut}}},
	} {
		t.Run(string(c.fact), func(t *testing.T) {
			s := Statement{Photo: 12, Fact: c.fact, Was: scanned.Fact(c.fact), Now: c.now}
			s = throughJSON(t, s)
			stated, err := scanned.State(s)
			if err != nil {
				t.Fatal(err)
			}
			if !stated.Fact(c.fact).equal(c.now) {
				t.Errorf("stated %+v, holds %+v", c.now, stated.Fact(c.fact))
			}
			for _, other := range Facts {
				if other != c.fact && !stated.Fact(other).equal(scanned.Fact(other)) {
					t.Errorf("stating %s changed %s", c.fact, other)
				}
			}
			back, err := stated.State(throughJSON(t, s.invert()))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(scanned, back); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func throughJSON(t *testing.T, s Statement) (read Statement) {
	t.Helper()
	data, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &read); err != nil {
		t.Fatal(err)
	}
	return read
}

func TestAStatementThatCannotBeIsRefused(t *testing.T) {
	photo := Photo{Number: 3, Caption: "now"}
	nowhere := place.Where{LatLng: place.LatLng{Lat: 120}, Source: place.FromMaker}
	unknown := place.When{}
	for name, s := range map[string]Statement{
		"a fact there is not":       {Fact: "mood"},
		"made on another caption":   {Fact: CaptionFact, Was: Value{Text: "then"}, Now: Value{Text: "x"}},
		"a place off the globe":     {Fact: WhereFact, Now: Value{Where: &nowhere}},
		"an unknown date as a date": {Fact: TakenFact, Now: Value{Taken: &unknown}},
		"a place as a caption":      {Fact: CaptionFact, Was: Value{Text: "now"}, Now: Value{Where: &place.Where{LatLng: place.LatLng{Lat: 1, Lng: 1}}}},
		"a book as a caption":       {Fact: CaptionFact, Was: Value{Text: "now"}, Now: Value{Text: strings.Repeat("é", longestText+1)}},
		"a gaze off the picture":    {Fact: GazeFact, Now: Value{Gaze: &Gaze{X: 1.2, Y: 0.5}}},
		"a gaze to nowhere known":   {Fact: GazeFact, Now: Value{Gaze: &Gaze{X: 0.2, Y: 0.5, Towards: "up"}}},
		"a gaze that is no figure":  {Fact: GazeFact, Now: Value{Gaze: &Gaze{X: math.NaN(), Y: 0.5}}},
		"a caption for a gaze":      {Fact: GazeFact, Now: Value{Text: "left"}},
		"feelings out of order":     {Fact: FeelingFact, Now: Value{Words: []string{"b", "a"}}},
		"a feeling twice":           {Fact: FeelingFact, Now: Value{Words: []string{"a", "a"}}},
		"a blank feeling":           {Fact: FeelingFact, Now: Value{Words: []string{" "}}},
	} {
		if got, err := photo.State(s); CodeOf(err) != Invalid || !cmp.Equal(got, photo) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAChangeInvertsWhatItSaysToo(t *testing.T) {
	c := Change{Revision: 4, Act: "call them Senj", Says: []Statement{
		{Photo: 1, Fact: CaptionFact, Now: Value{Text: "a"}}, {Photo: 1, Fact: CaptionFact, Was: Value{Text: "a"}, Now: Value{Text: "b"}}}}
	want := []Statement{{Photo: 1, Fact: CaptionFact, Was: Value{Text: "b"}, Now: Value{Text: "a"}}, {Photo: 1, Fact: CaptionFact, Was: Value{Text: "a"}}}
	if diff := cmp.Diff(want, c.Invert().Says); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]PhotoID{1}, c.Photos()); diff != "" {
		t.Error(diff)
	}
}
