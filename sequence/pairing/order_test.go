package pairing

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

// dated makes pairs of photos, each of about one grey and two minutes apart,
// on the days given.
func dated(days ...int) []sequence.Photo {
	var photos []sequence.Photo
	for k, day := range days {
		for half := range 2 {
			p := sequence.Photo{Number: sequence.PhotoID(2*k + half + 1), Palette: grey(8 + 15*float64(k) + 3*float64(half))}
			if day > 0 {
				p.Taken = place.Instant(time.Date(2026, 5, day, 10, 2*half, 0, 0, time.UTC), nil, place.FromCamera)
			}
			photos = append(photos, p)
		}
	}
	return photos
}

func leftPages(q sequence.Sequence) []sequence.PhotoID {
	var left []sequence.PhotoID
	for _, s := range q.Spreads {
		left = append(left, s.Left)
	}
	return left
}

func TestSpreadsFollowByDayAndWithinADayByColour(t *testing.T) {
	p := arranged(t, New(dated(5, 3, 9, 3, 5, 3)), sequence.Sequence{}, []sequence.PhotoID{12, 11, 10, 9, 8, 7, 6, 5, 4, 3, 2, 1}, nil, Table)
	// Day 3 has greys of 23, 53 and 83, day 5 of 68 and 8, day 9 of 38. The way from
	// 23 up and on into day 5 would be the shorter, but 23 is the loudest here.
	if want := []sequence.PhotoID{11, 7, 3, 1, 9, 5}; !slices.Equal(leftPages(p.Sequence), want) {
		t.Errorf("left pages %v, want %v", leftPages(p.Sequence), want)
	}
	if !strings.Contains(p.Rule, "by day and within a day by colour") {
		t.Error(p.Rule)
	}
}

func TestASpreadWithoutADayGoesWhereItsColoursFit(t *testing.T) {
	p := arranged(t, New(dated(3, 4, 0, 5, 6, 7)), sequence.Sequence{}, allOf(dated(3, 4, 0, 5, 6, 7)), Balance{"colour": 1}, Table)
	if want := []sequence.PhotoID{1, 3, 5, 7, 9, 11}; !slices.Equal(leftPages(p.Sequence), want) {
		t.Errorf("left pages %v, want %v", leftPages(p.Sequence), want)
	}
}

func TestASpreadOfTwoDaysGoesByTheEarlier(t *testing.T) {
	photos := dated(3, 4, 5, 6)
	photos[5].Taken = place.Day(2026, 5, 9, place.FromMaker) // with the photo of the fifth
	p := arranged(t, New(photos), sequence.Sequence{}, allOf(photos), Balance{"colour": 1}, Table)
	if want := []sequence.PhotoID{1, 3, 5, 7}; !slices.Equal(leftPages(p.Sequence), want) {
		t.Errorf("left pages %v, want %v", leftPages(p.Sequence), want)
	}
}

func TestDaysOfAFewDoNotOrderTheWhole(t *testing.T) {
	photos := dated(9, 0, 0, 3, 0, 0)
	photos[2].Taken = place.Span(time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC), time.Date(2026, 5, 9, 0, 0, 0, 0, time.UTC), place.FromMaker)
	photos[4].Taken = photos[2].Taken // a span of days is not a day
	p := arranged(t, New(photos), sequence.Sequence{}, allOf(photos), Balance{"colour": 1}, Table)
	if want := []sequence.PhotoID{11, 9, 7, 5, 3, 1}; !slices.Equal(leftPages(p.Sequence), want) {
		t.Errorf("left pages %v, want %v", leftPages(p.Sequence), want)
	}
}

func TestSpreadsWithoutDaysFollowByPlaceAndElseByColour(t *testing.T) {
	photos := dated(0, 0, 0, 0, 0, 0)
	ids := allOf(photos)
	byColour := arranged(t, New(photos), sequence.Sequence{}, ids, nil, Table)
	if want := []sequence.PhotoID{11, 9, 7, 5, 3, 1}; !slices.Equal(leftPages(byColour.Sequence), want) {
		t.Errorf("by colour: left pages %v, want %v", leftPages(byColour.Sequence), want)
	}
	for k, kilometres := range []float64{0, 40, 10, 50, 20, 30} {
		photos[2*k].Where, photos[2*k+1].Where = at(1000*kilometres), at(1000*kilometres+60)
	}
	byPlace := arranged(t, New(photos), sequence.Sequence{}, ids, nil, Table)
	if want := []sequence.PhotoID{7, 3, 11, 9, 5, 1}; !slices.Equal(leftPages(byPlace.Sequence), want) {
		t.Errorf("by place: left pages %v, want %v", leftPages(byPlace.Sequence), want)
	}
	// With a wall that ends at kilometre 50 the way goes back from there.
	hung := sequence.Sequence{Last: 1, Spreads: []sequence.Spread{{ID: 1, Left: 7, Right: 8}}}
	onward := arranged(t, New(photos), hung, []sequence.PhotoID{1, 2, 3, 4, 5, 6, 9, 10, 11, 12}, nil, Table)
	if want := []sequence.PhotoID{7, 3, 11, 9, 5, 1}; !slices.Equal(leftPages(onward.Sequence), want) {
		t.Errorf("onward: left pages %v, want %v", leftPages(onward.Sequence), want)
	}
	for _, p := range []struct {
		Proposal
		want string
	}{{byColour, "colours of neighbours differ least"}, {byPlace, "shortest way from place to place"}} {
		if !strings.Contains(p.Rule, p.want) {
			t.Errorf("%q does not say %q", p.Rule, p.want)
		}
	}
}

func TestTheEarlierPhotoStandsLeft(t *testing.T) {
	hour := func(h int) time.Time { return time.Date(2026, 5, 3, h, 0, 0, 0, time.UTC) }
	east, west := 180, 0
	for name, c := range map[string]struct {
		first, second place.When
		left          sequence.PhotoID
	}{
		"in time":                    {place.Instant(hour(9), nil, place.FromCamera), place.Instant(hour(10), nil, place.FromCamera), 1},
		"the other way round":        {place.Instant(hour(10), nil, place.FromCamera), place.Instant(hour(9), nil, place.FromCamera), 2},
		"no times":                   {place.When{}, place.When{}, 1},
		"one time":                   {place.When{}, place.Instant(hour(9), nil, place.FromCamera), 1},
		"within the day, who knows":  {place.Instant(hour(9), nil, place.FromCamera), place.Day(2026, 5, 3, place.FromMaker), 1},
		"a day before":               {place.Instant(hour(9), nil, place.FromCamera), place.Day(2026, 5, 2, place.FromMaker), 2},
		"clocks of different places": {place.Instant(hour(9), &west, place.FromCamera), place.Instant(hour(10), &east, place.FromCamera), 2},
	} {
		t.Run(name, func(t *testing.T) {
			photos := []sequence.Photo{{Number: 1, Taken: c.first, Palette: grey(40)}, {Number: 2, Taken: c.second, Palette: grey(50)}}
			p := arranged(t, New(photos), sequence.Sequence{}, allOf(photos), nil, Table)
			if len(p.Sequence.Spreads) != 1 || p.Sequence.Spreads[0].Left != c.left {
				t.Errorf("%+v, want %d left", p.Sequence.Spreads, c.left)
			}
		})
	}
}
