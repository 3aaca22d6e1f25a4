package track

import (
	"math"
	"slices"
	"testing"
	"time"

	"pairwall/sequence/place"
)

var noon = time.Date(2026, time.May, 3, 12, 0, 0, 0, time.UTC)

// seen is a point so many seconds after noon.
func seen(seconds float64, lat, lng float64) Point {
	return Point{LatLng: place.LatLng{Lat: lat, Lng: lng}, At: after(seconds)}
}

func after(seconds float64) time.Time { return noon.Add(time.Duration(seconds * 1e9)) }

func lineOf(segments ...Segment) *Line {
	return Join([]Track{{From: "ferry.gpx", Segments: segments}})
}

func TestPositionsLieOnTheGeodesicGeodSolveFinds(t *testing.T) {
	for _, d := range readAlong(t) {
		l := lineOf(Segment{{LatLng: d.a, At: noon}, {LatLng: d.b, At: after(1000)}})
		where, sure, ok := l.At(after(1000*d.share), time.Hour)
		if off := place.Distance(where.LatLng, d.on); !ok || !(off < 1e-4) || !where.Valid() {
			t.Errorf("%s: at %v, GeodSolve %v, %.3g m off", d.kind, where, d.on, off)
		}
		away := 1000 * math.Min(d.share, 1-d.share)
		if radius := 10 + away*math.Max(1.4, d.metres/1000); math.Abs(where.Radius-radius) > 1e-3*radius {
			t.Errorf("%s: radius %.1f m, want %.1f", d.kind, where.Radius, radius)
		}
		if where.Source != place.FromTrack || math.Abs(sure.Away.Abs().Seconds()-away) > 1e-5 {
			t.Errorf("%s: %+v, %+v; want %.3f s from a fix", d.kind, where, sure, away)
		}
	}
}

func TestAPositionIsLentAsTheGapAllows(t *testing.T) {
	// Northward at 1.5 m/s along a meridian, where 1″ of latitude is about 31 m
	// here; then 20 min of nothing; then a fix 10 min after which a new segment
	// begins.
	const lat, step = 45.0, 60 * 1.5 / 111_132.0
	l := lineOf(
		Segment{seen(0, lat, 13), seen(60, lat+step, 13), seen(1260, lat+3*step, 13)},
		Segment{seen(1860, lat+4*step, 13), seen(1920, lat+5*step, 13)},
	)
	tests := []struct {
		name    string
		seconds float64
		maxGap  time.Duration
		lat     float64 // 0 when there is no answer
		radius  float64
		words   string
	}{
		{"on a fix", 60, time.Minute, lat + step, 10, "from track ferry.gpx, at a fix"},
		{"on a fix, no gap allowed", 60, 0, lat + step, 10, "from track ferry.gpx, at a fix"},
		{"halfway", 30, time.Minute, lat + step/2, 55, "from track ferry.gpx, between fixes 60 s apart"},
		{"near the later fix", 50, time.Minute, lat + step*5/6, 25, "from track ferry.gpx, between fixes 60 s apart"},
		{"in a gap that is allowed", 660, 20 * time.Minute, lat + 2*step, 10 + 600*1.4, "from track ferry.gpx, between fixes 20 min apart"},
		{"in a gap longer by a second than allowed", 660, 20*time.Minute - time.Second, 0, 0, ""},
		{"at the edge of such a gap", 100, 10 * time.Minute, lat + step, 10 + 40*1.5, "from track ferry.gpx, 40 s after a fix"},
		{"at its other edge, where the speed is unknown", 1250, 10 * time.Minute, lat + 3*step, 10 + 10*1.4, "from track ferry.gpx, 10 s before a fix"},
		{"past that edge", 121, 10 * time.Minute, 0, 0, ""},
		{"between segments", 1560, 10 * time.Minute, lat + 3.5*step, 10 + 300*1.4, "from track ferry.gpx, between fixes 10 min apart"},
		{"between segments too far apart", 1560, 9 * time.Minute, 0, 0, ""},
		{"before the first fix", -60, time.Hour, lat, 10 + 60*1.5, "from track ferry.gpx, 60 s before a fix"},
		{"long before it", -61, time.Hour, 0, 0, ""},
		{"after the last fix", 1921, time.Hour, lat + 5*step, 10 + 1.5, "from track ferry.gpx, 1 s after a fix"},
		{"long after it", 1981, 100 * time.Hour, 0, 0, ""},
		{"after it, when less is allowed than the tolerance", 1940, 10 * time.Second, 0, 0, ""},
		{"between fixes too far apart for a strict maker", 30, 10 * time.Second, 0, 0, ""},
		{"a gap below nothing", 60, -1, 0, 0, ""},
	}
	for _, tt := range tests {
		where, sure, ok := l.At(after(tt.seconds), tt.maxGap)
		if ok != (tt.lat != 0) {
			t.Errorf("%s: answered %v with %v", tt.name, ok, where)
			continue
		}
		if !ok {
			if where != (place.Where{}) || sure.Words() != "" {
				t.Errorf("%s: no answer, but %v %q", tt.name, where, sure.Words())
			}
			continue
		}
		// Between these fixes share of latitude and share of way differ by micrometres.
		if math.Abs(where.Lat-tt.lat) > 1e-9 || where.Lng != 13 || math.Abs(where.Radius-tt.radius) > 0.01*tt.radius {
			t.Errorf("%s: %v within %.2f m, want latitude %v within %.2f m", tt.name, where.LatLng, where.Radius, tt.lat, tt.radius)
		}
		if got := sure.Words(); got != tt.words {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.words)
		}
	}
}

func TestTheDateLineIsNoJump(t *testing.T) {
	l := lineOf(Segment{seen(0, -17, 179.99), seen(600, -17, -179.97)})
	for _, tt := range []struct{ seconds, lng float64 }{{75, 179.995}, {150, 180}, {300, -179.99}} {
		where, _, ok := l.At(after(tt.seconds), time.Hour)
		if !ok || math.Abs(math.Remainder(where.Lng-tt.lng, 360)) > 1e-6 || math.Abs(where.Lng) > 180 {
			t.Errorf("%v s on: %v, want longitude %v", tt.seconds, where, tt.lng)
		}
		if where.Radius > 10+300*7.2 {
			t.Errorf("%v s on: within %v m, as if round the world", tt.seconds, where.Radius)
		}
	}
}

func TestSeveralTracksMakeOneLine(t *testing.T) {
	zone := time.FixedZone("", 2*3600)
	later := Track{From: "b.gpx", Segments: []Segment{nil, {seen(300, 45.03, 13), seen(200, 45.02, 13), seen(300, 45.9, 13)}}}
	earlier := Track{From: "a.gpx", Segments: []Segment{
		{{LatLng: place.LatLng{Lat: 45, Lng: 13}, At: noon.In(zone)}, {LatLng: place.LatLng{Lat: 45.005, Lng: 13}}},
		{seen(100, 45.01, 13), {LatLng: place.LatLng{}, At: after(150)}, {LatLng: place.LatLng{Lat: 45, Lng: 13}, At: time.Unix(0, 0)}},
	}}
	for _, order := range [][]Track{{later, earlier}, {earlier, later}} {
		l := Join(order)
		from, to, ok := l.Span()
		if l.Len() != 4 || !ok || !from.Equal(noon) || !to.Equal(after(300)) || from.Location() != time.UTC {
			t.Fatalf("%d fixes from %v to %v, want 4 from %v to %v", l.Len(), from, to, noon, after(300))
		}
		for _, tt := range []struct {
			seconds, lat float64
			from         []string
		}{
			{50, 45.005, []string{"a.gpx"}},
			{150, 45.015, []string{"a.gpx", "b.gpx"}},
			{250, 45.025, []string{"b.gpx"}},
			{300, 45.03, []string{"b.gpx"}},
		} {
			where, sure, ok := l.At(after(tt.seconds), 2*time.Minute)
			if !ok || math.Abs(where.Lat-tt.lat) > 1e-6 || !slices.Equal(sure.From, tt.from) {
				t.Errorf("after %v s at %v from %v, want %v from %v", tt.seconds, where, sure.From, tt.lat, tt.from)
			}
		}
	}
	_, sure, _ := Join([]Track{earlier, later}).At(after(150), 2*time.Minute)
	if got, want := sure.Words(), "from tracks a.gpx and b.gpx, between fixes 100 s apart"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestOverlappingTracksAreNotMixed(t *testing.T) {
	// Two receivers on one ferry, 100 m of sea apart, and a third one elsewhere.
	sparse := Track{From: "sparse.gpx", Segments: []Segment{{seen(0, 45, 13.0013), seen(100, 45.01, 13.0013)}}}
	dense := Track{From: "dense.gpx", Segments: []Segment{{seen(5, 45.0005, 13), seen(45, 45.0045, 13), seen(55, 45.0055, 13), seen(200, 45.02, 13)}}}
	elsewhere := Track{From: "elsewhere.gpx", Segments: []Segment{{seen(0, 44, 13), seen(90, 44, 13)}}}

	where, sure, ok := Join([]Track{sparse, dense}).At(after(50), time.Hour)
	if !ok || where.Lng != 13 || sure.From[0] != "dense.gpx" || sure.Apart != 10*time.Second {
		t.Errorf("at %v from %+v, want the closest pair of one receiver", where, sure)
	}
	if where.Radius > 100 {
		t.Errorf("%.0f m for two receivers that agree", where.Radius)
	}
	where, _, _ = Join([]Track{sparse, dense, elsewhere}).At(after(50), time.Hour)
	if want := place.Distance(where.LatLng, place.LatLng{Lat: 44, Lng: 13}); where.Radius != want || where.Lng != 13 {
		t.Errorf("%v, want the contradiction as radius: %.0f m", where, want)
	}
	where, sure, ok = Join([]Track{sparse, dense}).At(after(60), 100*time.Second)
	if !ok || sure.From[0] != "sparse.gpx" || where.Lng != 13.0013 {
		t.Errorf("at %v from %+v, want the receiver whose gap is allowed", where, sure)
	}
}

func TestAnEmptyLineKnowsNothing(t *testing.T) {
	for _, l := range []*Line{Join(nil), lineOf(Segment{{LatLng: place.LatLng{Lat: 45, Lng: 13}}})} {
		if where, _, ok := l.At(noon, time.Hour); ok {
			t.Errorf("at %v", where)
		}
		if from, to, ok := l.Span(); ok || l.Len() != 0 {
			t.Errorf("%d fixes from %v to %v", l.Len(), from, to)
		}
	}
	l := lineOf(Segment{seen(0, 45, 13)})
	for _, never := range []time.Time{{}, time.Unix(1<<60, 0), time.Date(1901, 1, 1, 0, 0, 0, 0, time.UTC)} {
		if where, _, ok := l.At(never, math.MaxInt64); ok {
			t.Errorf("in the year %d at %v", never.Year(), where)
		}
	}
}

// Between any two fixes of a real walk and a real drive the answer lies on the
// straight way and close to both.
func TestRealTracksLendWhatTheirFixesSay(t *testing.T) {
	for _, name := range []string{"around-visnjan-with-car.gpx", "visnjan.gpx", "korita-zbevnica.gpx"} {
		tracks, _ := realTrack(t, name)
		l := Join(tracks)
		for i := 1; i < len(l.fixes); i++ {
			a, b := l.fixes[i-1], l.fixes[i]
			gap := time.Duration(b.at-a.at) * time.Microsecond
			where, sure, ok := l.At(time.UnixMicro((a.at+b.at)/2), 5*time.Minute)
			if ok != (gap <= 5*time.Minute) {
				t.Errorf("%s: between fixes %v apart: %v", name, gap, ok)
			}
			if !ok {
				continue
			}
			length := place.Distance(a.LatLng, b.LatLng)
			if d := place.Distance(a.LatLng, where.LatLng); math.Abs(d-length/2) > 0.001+length*1e-6 || sure.Apart != gap {
				t.Errorf("%s: %v is %.3f m from a fix of a way of %.3f m; %+v", name, where, d, length, sure)
			}
		}
	}
}
