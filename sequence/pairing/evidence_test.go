package pairing

import (
	"encoding/json"
	"math"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/place"
)

// Twenty-one photos a hundred metres from one to the next make 210 pairs, 21−k
// of them k hundred metres apart. The eleventh shortest (one in twenty) is 100 m,
// the eleventh longest 1,600 m. So the score of k hundred metres is
// 1 − ln(1 + k)/ln 17.
func TestTheScaleIsWhatOneInTwentyPairsStayWithinAndExceed(t *testing.T) {
	var photos []sequence.Photo
	for k := range 21 {
		photos = append(photos, sequence.Photo{Number: sequence.PhotoID(k + 1), Where: at(float64(100 * k))})
	}
	m := New(photos)
	for k := 1; k <= 20; k++ {
		want := max(0, 1-math.Log(1+float64(k))/math.Log(17))
		j := pairOf(t, m, 1, sequence.PhotoID(k+1), Balance{"distance": 1})
		if math.Abs(j.Score-want) > 1e-6 {
			t.Errorf("%d00 m: score %.6f, want %.6f", k, j.Score, want)
		}
	}
	j := pairOf(t, m, 1, 2, nil)
	if e := evidenceOf(t, j, Time); e.Known || e.Score != 0.5 {
		t.Errorf("where nobody knows a time, the middle is typical: %+v", e)
	}
}

func TestAPlaceWithinARadiusIsAboutThatFarAway(t *testing.T) {
	wide := at(300)
	wide.Radius = 400
	narrow := at(300)
	narrow.Radius = 10
	m := New([]sequence.Photo{{Number: 1, Where: at(0)}, {Number: 2, Where: wide}, {Number: 3, Where: narrow}})
	for _, c := range []struct {
		a, b    sequence.PhotoID
		measure float64
		words   string
	}{
		{1, 2, 500, "at most 700 m apart"},
		{1, 3, math.Hypot(300, 10), "300 m apart"},
		{2, 3, math.Hypot(400, 10), "at most 410 m apart"},
	} {
		e := evidenceOf(t, pairOf(t, m, c.a, c.b, nil), Place)
		if math.Abs(e.Measure-c.measure) > 0.01 || e.Words != c.words {
			t.Errorf("%d and %d: %+v, want %.1f m, %q", c.a, c.b, e, c.measure, c.words)
		}
	}
}

// One walk of three kilometres, and the same walk stretched to three thousand:
// what is near in the one is near in the other.
func TestAWalkAndAJourneyOfTheSameShapeScoreTheSame(t *testing.T) {
	title := func(stretch float64) *Measures {
		d := dice(9)
		var photos []sequence.Photo
		for k := range 120 {
			where := at(stretch * float64(300*(k/12)+d.roll(80)))
			photos = append(photos, sequence.Photo{Number: sequence.PhotoID(k + 1), Where: where})
		}
		return New(photos)
	}
	walk, journey := title(1), title(1000)
	for b := sequence.PhotoID(2); b <= 120; b++ {
		small, large := pairOf(t, walk, 1, b, Balance{"distance": 1}), pairOf(t, journey, 1, b, Balance{"distance": 1})
		if math.Abs(small.Score-large.Score) > 0.002 {
			t.Errorf("1 with %d: %.4f on the walk, %.4f on the journey", b, small.Score, large.Score)
		}
	}
}

func TestReasonsAreASentenceFromTheMeasures(t *testing.T) {
	rust := colour.Palette{{Lab: colour.Lab{L: 45, A: 32, B: 38}, Weight: 0.5}, {Lab: colour.Lab{L: 80, A: 0, B: -5}, Weight: 0.5}}
	paler := colour.Palette{{Lab: colour.Lab{L: 42, A: 32, B: 38}, Weight: 0.6}, {Lab: colour.Lab{L: 20, A: -8, B: 10}, Weight: 0.4}}
	noon := time.Date(2026, 5, 3, 14, 0, 0, 0, time.UTC)
	photos := []sequence.Photo{
		{Number: 12, Where: at(0), Taken: place.Instant(noon, nil, place.FromCamera), Palette: rust},
		{Number: 47, Where: at(341), Taken: place.Instant(noon.Add(2*time.Hour), nil, place.FromCamera), Palette: paler},
		{Number: 48, Taken: place.Day(2026, 5, 3, place.FromMaker), Palette: colour.Palette{{Lab: colour.Lab{L: 60, A: -40, B: -30}, Weight: 1}}},
		{Number: 49, Palette: grey(30), Tone: colour.Tone{Monochrome: true}},
		{Number: 50, Palette: grey(36), Tone: colour.Tone{Monochrome: true}},
		{Number: 51},
		{Number: 52, Where: &place.Where{LatLng: at(600).LatLng, Radius: 2000, Source: place.FromMaker}, Taken: place.Instant(noon, nil, place.FromCamera)},
		{Number: 53, Palette: colour.Palette{{Lab: colour.Lab{L: 42, A: 40, B: 34}, Weight: 1}}},
	}
	m := New(photos)
	for _, c := range []struct {
		a, b sequence.PhotoID
		w    Balance
		want string
		none string
	}{
		{12, 47, three, "340 m apart, the same afternoon; both in rust", ""},
		{47, 12, Balance{"colour": 1}, "both in rust", ""},
		{12, 53, Balance{"colour": 1}, "brick red answers rust", ""},
		{12, 48, three, "the same day; cerulean blue against rust", "no place known for 48"},
		{12, 48, Balance{"world": 1}, "no colour in common", ""},
		{49, 50, three, "both black and white, light and dark alike", "no place or date of taking known for 49 and 50"},
		{12, 49, Balance{"colour": 1, "time": 0}, "colour beside black and white", ""},
		{12, 51, three, "", "no place, date of taking or colours known for 51"},
		{12, 52, Balance{"place": 1, "time": 1}, "at most 2.6 km apart, within a second", ""},
	} {
		if got := pairOf(t, m, c.a, c.b, c.w); got.Reasons != c.want || got.Missing != c.none {
			t.Errorf("%d with %d by %v:\n got %q, %q\nwant %q, %q", c.a, c.b, c.w, got.Reasons, got.Missing, c.want, c.none)
		}
	}
}

func TestNearlyTheSamePictureIsMarkedDownAndSaysSo(t *testing.T) {
	second := 1.0 / 60
	photos := []sequence.Photo{
		{Number: 1, Taken: after(0), Where: at(0), Palette: grey(50)},
		{Number: 2, Taken: after(3 * second), Where: at(1), Palette: grey(51)},          // the next of a burst
		{Number: 3, Taken: after(3 * second), Where: at(1), Palette: grey(60)},          // turned round
		{Number: 4, Taken: after(60 * second), Where: at(1), Palette: grey(51)},         // a minute later
		{Number: 5, Palette: grey(50.2)},                                                // a scan of the same frame
		{Number: 6, Where: at(500), Palette: grey(50.2)},                                // the same grey elsewhere
		{Number: 7, Taken: place.Day(2026, 5, 3, place.FromMaker), Palette: grey(50.2)}, // some time that day
		{Number: 8, Taken: place.Day(2026, 5, 4, place.FromMaker), Palette: grey(50.2)}, // another day
	}
	m := New(photos)
	want := map[sequence.PhotoID]bool{2: true, 3: false, 4: false, 5: true, 6: false, 7: true, 8: false}
	for b, alike := range want {
		for _, w := range []Balance{nil, {"colour": 1}, {"place": 1, "time": 1}} {
			j := pairOf(t, m, 1, b, w)
			if !j.Judged {
				continue
			}
			says := len(j.Reasons) >= 23 && j.Reasons[:23] == "nearly the same picture"
			if j.Alike != alike || says != alike {
				t.Errorf("1 with %d by %v: %+v, want alike %v", b, w, j, alike)
			}
			sum, shares := 0.0, 0.0
			for _, e := range j.Evidence {
				sum, shares = sum+e.Score, shares+1
			}
			mean := sum / shares
			if alike {
				mean /= 4
			}
			if math.Abs(j.Score-mean) > 1e-12 {
				t.Errorf("1 with %d by %v: score %g, want %g", b, w, j.Score, mean)
			}
		}
	}
}

func TestWhateverAPhotoClaimsItsScoresAreFiguresFromZeroToOne(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	spot := func(lat, lng, radius float64) *place.Where {
		return &place.Where{LatLng: place.LatLng{Lat: lat, Lng: lng}, Radius: radius, Source: place.FromMaker}
	}
	swatch := func(l, weight float64) colour.Palette {
		return colour.Palette{{Lab: colour.Lab{L: l}, Weight: weight}}
	}
	photos := []sequence.Photo{
		{Where: spot(45, 13, nan)}, {Where: spot(45, 13, inf)}, {Where: spot(45, 13, -5)}, {Where: spot(45, 13, 1e308)},
		{Where: spot(91, 13, 0)}, {Where: spot(nan, 0, 0)}, {Where: spot(-90, 180, 0)}, {Where: spot(90, -180, 0)},
		{Palette: swatch(nan, 1)}, {Palette: swatch(50, 0)}, {Palette: swatch(50, inf)}, {Palette: swatch(1e300, 1)}, {Palette: swatch(40, 1e-300)}, {Palette: swatch(60, 1)},
		{Taken: place.Day(1, 1, 1, place.FromMaker)}, {Taken: place.Day(9999, 12, 31, place.FromMaker)}, {Taken: after(0)},
		{Taken: place.Span(time.Date(1800, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2500, 1, 1, 0, 0, 0, 0, time.UTC), place.FromMaker)},
	}
	for i := range photos {
		photos[i].Number = sequence.PhotoID(i + 1)
	}
	m := New(photos)
	for a := range photos {
		for b := range a {
			j := pairOf(t, m, photos[a].Number, photos[b].Number, nil)
			if !(j.Score >= 0 && j.Score <= 1) || !(j.Share >= 0 && j.Share <= 1) {
				t.Errorf("%d with %d: %+v", a+1, b+1, j)
			}
			if _, err := json.Marshal(j); err != nil {
				t.Errorf("%d with %d: %v in %+v", a+1, b+1, err, j)
			}
		}
	}
	for _, none := range []sequence.PhotoID{5, 6, 9, 10, 11, 12} {
		for _, known := range []Kind{Place, Colour} {
			if e := evidenceOf(t, pairOf(t, m, none, none%18+1, nil), known); e.Known {
				t.Errorf("%d is no evidence of %s: %+v", none, known, e)
			}
		}
	}
	arranged(t, m, sequence.Sequence{}, allOf(photos), nil, Table)
}
