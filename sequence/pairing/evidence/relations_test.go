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
		{Town, nil, func(p *sequence.Photo) { p.Where = where(piran) }, 0, 0, "other named places"},
		{Sitting, nil, func(p *sequence.Photo) { p.Taken = when(3, 7, 20) }, 0.9, 1, "the same sitting"},
		{Sitting, nil, func(p *sequence.Photo) { p.Taken = when(3, 7, 45) }, 0, 0, "not the same sitting"},
		{Day, nil, func(p *sequence.Photo) { p.Taken = when(3, 23, 0) }, 0.5, 0.6, "the same day"},
		{Hour, nil, func(p *sequence.Photo) { p.Taken = when(9, 7, 5) }, 0.95, 1, "the same hour of another day, 07:00 and 07:05"},
		{Hour, nil, func(p *sequence.Photo) { p.Taken = when(3, 7, 5) }, 0, 0, "other hours"},
		{Hour, nil, func(p *sequence.Photo) { p.Taken = when(9, 12, 0) }, 0, 0.001, "other hours"},
		{Light, nil, func(p *sequence.Photo) { p.Taken = when(9, 7, 0) }, 0.9, 1, "the same low light of the morning"},
		{Light, nil, func(p *sequence.Photo) { p.Taken = when(9, 19, 20) }, 0, 0, "other light"}, // as low, but in the evening
		{Accent, func(p *sequence.Photo) { p.Palette = colour.Palette{lab(55, 0, 2, 0.94), red} },
			func(p *sequence.Photo) { p.Palette = colour.Palette{lab(75, -8, -30, 0.94), red} }, 0.6, 1, "a touch of deep red in both"},
		{Opposites, func(p *sequence.Photo) { p.Palette = colour.Palette{sea, lab(80, 0, 0, 0.5)} },
			func(p *sequence.Photo) { p.Palette = colour.Palette{lab(65, 8, 38, 0.5), lab(20, 0, 0, 0.5)} }, 0.8, 1, "steel blue against tan"},
		{Mixed, func(p *sequence.Photo) { p.Tone = colour.Tone{Mean: 40, Deviation: 20, Light: 70, Monochrome: true} },
			func(p *sequence.Photo) { p.Tone = colour.Tone{Mean: 41, Deviation: 20, Light: 70} }, 0.7, 1, "colour beside black and white, light and dark alike"},
		{Mixed, nil, func(p *sequence.Photo) {}, 0, 0, "not colour beside black and white"},
		{Words, func(p *sequence.Photo) { p.Feeling = []string{"quiet", "salt"} }, func(p *sequence.Photo) { p.Feeling = []string{"quiet", "salt"} }, 1, 1, "both “quiet” and “salt”"},
		{Words, func(p *sequence.Photo) { p.Feeling = []string{"quiet"} }, func(p *sequence.Photo) { p.Feeling = []string{"loud"} }, 0, 0, "no word of yours in common"},
		{Shape, nil, func(p *sequence.Photo) { p.Width, p.Height = 2000, 3000 }, 0, 0.1, "upright beside lying"},
		{Shape, nil, func(p *sequence.Photo) {}, 1, 1, "both lying, of one shape"},
		{Lines, func(p *sequence.Photo) { p.Form.Horizon, p.Form.HorizonRight, p.Form.HorizonLeft = 0.9, 0.4, 0.8 },
			func(p *sequence.Photo) { p.Form.Horizon, p.Form.HorizonLeft, p.Form.HorizonRight = 0.9, 0.41, 0.1 }, 0.8, 0.9, "the horizons meet at the gutter"},
		{Lines, func(p *sequence.Photo) { p.Form.Lines = [4]float64{0.1, 0.1, 0.7, 0.1} },
			func(p *sequence.Photo) { p.Form.Lines = [4]float64{0.1, 0.1, 0.7, 0.1} }, 0.5, 0.6, "the lines of both run upright"},
		{Lead, func(p *sequence.Photo) { p.Form.WeightX = 0.65 }, func(p *sequence.Photo) { p.Form.WeightX = 0.4 }, 0.99, 1, "the weight of both leads in to the gutter"},
		{Reach, func(p *sequence.Photo) { p.Form.Depth, p.Form.Horizon = 0.6, 0.9 }, func(p *sequence.Photo) { p.Form.Depth = 0.3 }, 0.9, 1, "a wide view beside a close one"},
		{Focus, func(p *sequence.Photo) { p.Form.Sharpness = 0.8 }, func(p *sequence.Photo) { p.Form.Sharpness = 0.1 }, 1, 1, "sharp beside soft"},
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

// A picture of no particular mood is like another of none, and yet they share no
// feeling worth a spread.
func TestALikenessOfMoodsCountsByHowDecidedTheyAre(t *testing.T) {
	photos := title()
	photos[0].Palette, photos[1].Palette = colour.Palette{lab(50, 45, 45, 1)}, colour.Palette{lab(50, 44, 46, 1)}
	w := Of(photos)
	middling := 2
	for k := 2; k < len(photos); k++ {
		if w.decided(k, k) < w.decided(middling, middling) {
			middling = k
		}
	}
	if one, other := w.Score(moodRow, 0, 1), w.Score(moodRow, middling, middling); one <= 0.8 || other >= 0.75*one {
		t.Errorf("two glowing pictures score %g, a middling one with itself %g", one, other)
	}
	if e := w.Evidence(feelingRow, 0, 1); !strings.HasPrefix(e.Words, "both warm") {
		t.Errorf("%+v", e)
	}
}

func TestTheNameOfAPlaceAndTheWayCountWhereDistanceSaysLittle(t *testing.T) {
	photos := title()
	// Four spots, each photographed thrice; the last stands in Piran as well, but a
	// walk from the others there.
	koper, pula := place.LatLng{Lat: 45.5481, Lng: 13.7302}, place.LatLng{Lat: 44.8666, Lng: 13.8496}
	for k := range photos {
		photos[k].Where = where([]place.LatLng{trieste, koper, pula, piran}[k/3])
	}
	far := piran
	far.Lng -= 0.012
	photos = append(photos, sequence.Photo{Number: 13, Where: where(far)})
	w := Of(photos)
	if distance, score := w.Score(distanceRow, 11, 12), w.Score(placeRow, 11, 12); distance >= townCounts*w.Score(townRow, 11, 12) || score != townCounts*w.Score(townRow, 11, 12) {
		t.Errorf("place scores %g, distance %g, town %g", score, distance, w.Score(townRow, 11, 12))
	}
	if e := w.Evidence(placeRow, 11, 12); !strings.HasSuffix(e.Words, "both in Piran, Slovenia") {
		t.Errorf("%+v", e)
	}
}

// Lying pictures of other shapes meet where they meet on the page, not at the same
// share of their own heights.
func TestHorizonsOfOtherShapesMeetOnThePage(t *testing.T) {
	square, wide := &subject{ratio: 1}, &subject{ratio: 2}
	square.form.Horizon, wide.form.Horizon = 0.9, 0.9
	square.form.HorizonRight, wide.form.HorizonLeft = 0.3, 0.1 // the panorama is half as tall, in the middle
	if gap, strength := horizons(square, wide); gap > 1e-9 || strength < 0.89 {
		t.Errorf("%g of the height apart, %g", gap, strength)
	}
	wide.form.HorizonLeft = 0.3
	if gap, strength := horizons(square, wide); gap < 0.09 || strength > 0.01 {
		t.Errorf("at one share of unlike heights: %g apart, %g", gap, strength)
	}
}

func TestABlackAndWhiteSharesNoWorldOfColourWithAColour(t *testing.T) {
	photos := title()
	photos[0].Tone = colour.Tone{Mean: 40, Deviation: 20, Light: 70, Monochrome: true}
	w := Of(photos)
	if e := w.Evidence(worldRow, 0, 1); e.Score != 0 || e.Tells {
		t.Errorf("%+v", e)
	}
	if e := w.Evidence(colourRow, 0, 1); !strings.HasPrefix(e.Words, "colour beside black and white") {
		t.Errorf("%+v", e)
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
			// A likeness of moods counts by how decided they are, also with oneself.
			if m := w.Measure(row, a, a); m > 1e-6 || row != moodRow && w.Score(row, a, a) < 1-1e-6 {
				t.Errorf("%s of %d with itself: %g", row.Kind(), a+1, m)
			}
		}
	}
}
