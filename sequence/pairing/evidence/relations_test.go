package evidence

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/place"
)

var (
	trieste = place.LatLng{Lat: 45.6496, Lng: 13.7681}
	piran   = place.LatLng{Lat: 45.5285, Lng: 13.5684}
)

func where(at place.LatLng) *place.Where { return &place.Where{LatLng: at, Source: place.FromCamera} }

// when is a moment of May 2026 on the clock of summer time in Italy.
func when(day, hour, minute int) place.When {
	offset := 120
	return place.Instant(time.Date(2026, 5, day, hour, minute, 0, 0, time.UTC), &offset, place.FromCamera)
}

func lab(l, a, b, weight float64) colour.Swatch {
	return colour.Swatch{Lab: colour.Lab{L: l, A: a, B: b}, Weight: weight}
}

// title holds two days of six photos each: one in Trieste, one in Piran.
func title() []sequence.Photo {
	var photos []sequence.Photo
	for k := range 12 {
		day, at := 3, trieste
		if k >= 6 {
			day, at = 5, piran
		}
		at.Lng += float64(k%6) * 0.002
		p := sequence.Photo{Number: sequence.PhotoID(k + 1), Width: 3000, Height: 2000, Where: where(at), Taken: when(day, 7+2*(k%6), 10*(k%6)),
			Palette: colour.Palette{lab(30+5*float64(k), float64(k%3)*12-10, float64(k%4)*12-15, 0.7), lab(80, 2, 3, 0.3)},
			Form: sequence.Form{Measured: 1, Fingerprint: fmt.Sprintf("%016x", uint64(k+1)*0x9e3779b97f4a7c15), Sharpness: 0.5, Detail: 0.27,
				WeightX: 0.5, WeightY: 0.5, Lines: [4]float64{0.25, 0.25, 0.25, 0.25}}}
		photos = append(photos, p)
	}
	return photos
}

func TestEachRelationSaysWhatItSees(t *testing.T) {
	red, sea := lab(45, 60, 42, 0.06), lab(50, -8, -38, 0.5)
	for _, c := range []struct {
		name        Kind
		one, other  func(p *sequence.Photo)
		least, most float64
		words       string
	}{
		{Town, nil, func(p *sequence.Photo) { p.Where = where(trieste) }, 0.5, 0.6, "both in Trieste, Italy"},
		{Town, nil, func(p *sequence.Photo) { p.Where = where(piran) }, 0, 0, "in Piran, Slovenia and in Trieste, Italy"},
		{Sitting, nil, func(p *sequence.Photo) { p.Taken = when(3, 7, 20) }, 0.9, 1, "the same sitting"},
		{Sitting, nil, func(p *sequence.Photo) { p.Taken = when(3, 7, 45) }, 0, 0, "not the same sitting"},
		{Day, nil, func(p *sequence.Photo) { p.Taken = when(3, 23, 0) }, 0.5, 0.6, "the same day"},
		{Hour, nil, func(p *sequence.Photo) { p.Taken = when(9, 7, 5) }, 0.95, 1, "the same hour of another day, 07:00 and 07:05"},
		{Hour, nil, func(p *sequence.Photo) { p.Taken = when(3, 7, 5) }, 0, 0, "no other day"},
		{Hour, nil, func(p *sequence.Photo) { p.Taken = when(9, 12, 0) }, 0, 0.001, "other hours, 07:00 and 12:00"},
		{Light, nil, func(p *sequence.Photo) { p.Taken = when(9, 7, 0) }, 0.9, 1, "the same light"},
		{Light, nil, func(p *sequence.Photo) { p.Taken = when(9, 19, 20) }, 0, 0, "other light"}, // as low, but in the evening
		{Accent, func(p *sequence.Photo) { p.Palette = colour.Palette{lab(55, 0, 2, 0.94), red} },
			func(p *sequence.Photo) { p.Palette = colour.Palette{lab(75, -8, -30, 0.94), red} }, 0.6, 1, "as an accent in both"},
		{Opposites, func(p *sequence.Photo) { p.Palette = colour.Palette{sea, lab(80, 0, 0, 0.5)} },
			func(p *sequence.Photo) { p.Palette = colour.Palette{lab(65, 8, 38, 0.5), lab(20, 0, 0, 0.5)} }, 0.8, 1, "0° short of opposite"},
		{Mixed, func(p *sequence.Photo) { p.Tone = colour.Tone{Mean: 40, Deviation: 20, Light: 70, Monochrome: true} },
			func(p *sequence.Photo) { p.Tone = colour.Tone{Mean: 41, Deviation: 20, Light: 70} }, 0.7, 1, "colour beside black and white, tones L* "},
		{Mixed, nil, func(p *sequence.Photo) {}, 0, 0, "not colour beside black and white"},
		{Words, func(p *sequence.Photo) { p.Feeling = []string{"quiet", "salt"} }, func(p *sequence.Photo) { p.Feeling = []string{"quiet", "salt"} }, 1, 1, "both “quiet” and “salt”"},
		{Words, func(p *sequence.Photo) { p.Feeling = []string{"quiet"} }, func(p *sequence.Photo) { p.Feeling = []string{"loud"} }, 0, 0, "no word of the maker's in common"},
		{Shape, nil, func(p *sequence.Photo) { p.Width, p.Height = 2000, 3000 }, 0, 0.1, "upright beside lying"},
		{Shape, nil, func(p *sequence.Photo) {}, 1, 1, "both lying of one shape"},
		{Lines, func(p *sequence.Photo) { p.Form.Horizon, p.Form.HorizonRight, p.Form.HorizonLeft = 0.9, 0.4, 0.8 },
			func(p *sequence.Photo) { p.Form.Horizon, p.Form.HorizonLeft, p.Form.HorizonRight = 0.9, 0.41, 0.1 }, 0.8, 0.9, "horizons meet at the gutter, 1.0 %"},
		{Lines, func(p *sequence.Photo) { p.Form.Lines = [4]float64{0.1, 0.1, 0.7, 0.1} },
			func(p *sequence.Photo) { p.Form.Lines = [4]float64{0.1, 0.1, 0.7, 0.1} }, 0.5, 0.6, "main lines run alike, mostly upright"},
		{Lead, func(p *sequence.Photo) { p.Form.WeightX = 0.65 }, func(p *sequence.Photo) { p.Form.WeightX = 0.4 }, 0.99, 1, "weights lead in to the gutter, 25 %"},
		{Reach, func(p *sequence.Photo) { p.Form.Sharpness, p.Form.Horizon = 0.8, 0.9 }, func(p *sequence.Photo) { p.Form.Sharpness = 0.1 }, 1, 1, "a wide view beside a close one"},
		{Focus, func(p *sequence.Photo) { p.Form.Sharpness = 0.8 }, func(p *sequence.Photo) { p.Form.Sharpness = 0.1 }, 1, 1, "sharp beside soft, 0.70 apart"},
		{Gaze, func(p *sequence.Photo) { p.Gaze = &sequence.Gaze{X: 0.4, Y: 0.4, Towards: sequence.TowardsRight} },
			func(p *sequence.Photo) { p.Gaze = &sequence.Gaze{X: 0.4, Y: 0.4, Towards: sequence.TowardsLeft} }, 1, 1, "they look at each other"},
		{Gaze, func(p *sequence.Photo) { p.Gaze = &sequence.Gaze{X: 0.4, Y: 0.4, Towards: sequence.TowardsOut} }, nil, 0, 0, "no look goes across the gutter"},
	} {
		photos := title()
		photos[1] = photos[0]
		photos[1].Number = 2
		if c.one != nil {
			c.one(&photos[0])
		}
		if c.other != nil {
			c.other(&photos[1])
		}
		e := Of(photos).Evidence(rowOf[c.name], 0, 1)
		if !e.Known || e.Score < c.least || e.Score > c.most || !strings.Contains(e.Words, c.words) {
			t.Errorf("%s: %+v, want a score from %g to %g and %q", c.name, e, c.least, c.most, c.words)
		}
	}
}

func TestContrastIsOfMoodsOnBothSidesOfTheTitlesMiddle(t *testing.T) {
	photos := title()
	photos[0].Palette = colour.Palette{lab(50, 45, 45, 1)}
	photos[1].Palette = colour.Palette{lab(50, -30, -40, 1)}
	w := Of(photos)
	if e := w.Evidence(contrastRow, 0, 1); e.Score < 0.9 || !strings.HasPrefix(e.Words, "warm against cool") {
		t.Errorf("%+v", e)
	}
	if e := w.Evidence(contrastRow, 2, 2); e.Score != 0 {
		t.Errorf("a photo against itself: %+v", e)
	}
	if likeness := w.Score(moodRow, 0, 1); likeness > 0.2 {
		t.Errorf("the likeness of these moods scores %g", likeness)
	}
}

func TestStretchesOfTheWayAreCountedAlongIt(t *testing.T) {
	photos := title()
	// There and back again: the last is taken where the first was, a way later.
	photos = append(photos, sequence.Photo{Number: 13, Where: where(trieste), Taken: when(9, 9, 0)})
	w := Of(photos)
	there := place.Distance(photos[0].Where.LatLng, photos[6].Where.LatLng)
	if near, far := w.Measure(distanceRow, 0, 12), w.Measure(stretchRow, 0, 12); near > 1 || far < 1.9*there {
		t.Errorf("%g m apart, %g m along a way of there %g and back", near, far, there)
	}
}

func TestFactsThatAreMissingAreSaidToBeMissing(t *testing.T) {
	photos := title()
	photos[0] = sequence.Photo{Number: 1}
	w := Of(photos)
	for row := range Rows {
		e := w.Evidence(row, 0, 3)
		if e.Known || e.Measure != 0 || e.Score != w.Typical(row) || !strings.HasPrefix(e.Words, "no ") || !strings.Contains(e.Words, "for 1") {
			t.Errorf("%s: %+v", row.Kind(), e)
		}
	}
}

func TestAllMeasuresAreTheSameEitherWayAndZeroWithOneself(t *testing.T) {
	photos := title()
	photos[3].Tone = colour.Tone{Mean: 40, Deviation: 20, Light: 70, Monochrome: true}
	photos[4].Feeling, photos[5].Feeling = []string{"salt"}, []string{"calm", "salt"}
	photos[7].Gaze = &sequence.Gaze{X: 0.4, Y: 0.4, Towards: sequence.TowardsRight}
	w := Of(photos)
	for row := range Rows {
		for a := range photos {
			for b := range a {
				if !w.Known(row, a, b) {
					continue
				}
				one, other := w.Score(row, a, b), w.Score(row, b, a)
				if one != other || !(one >= 0 && one <= 1) || w.Measure(row, a, b) != w.Measure(row, b, a) {
					t.Errorf("%s of %d and %d: %g, the other way %g", row.Kind(), a+1, b+1, one, other)
				}
			}
		}
	}
	for _, row := range []Row{distanceRow, stretchRow, gapRow, worldRow, toneRow, moodRow} {
		for a := range photos {
			if m := w.Measure(row, a, a); m > 1e-6 || w.Score(row, a, a) < 1-1e-6 {
				t.Errorf("%s of %d with itself: %g", row.Kind(), a+1, m)
			}
		}
	}
}
