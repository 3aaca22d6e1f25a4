package track

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"
	"time"

	"pairwall/sequence/place"
)

var trieste = place.LatLng{Lat: 45.6495, Lng: 13.7768}

// travels are the journeys clocks are sought on. A second of clock moves a
// walker by 1.3 m, so with photos 30 m off nobody can tell seconds on foot; a
// train and a ferry tell them.
var travels = []struct {
	name   string
	from   place.LatLng
	pieces []piece
}{
	{"a day by train and ferry", trieste, []piece{walk, train, walk, ferry, sit, walk}},
	{"two days with a night", trieste, []piece{walk, train, sit, walk, night, ferry, walk, train}},
	{"a train", trieste, []piece{train}},
	{"a receiver that writes nothing at rest or in tunnels", trieste, []piece{walk, rest, walk, train, tunnel, train, rest, walk}},
	{"a ferry across the date line", place.LatLng{Lat: -17, Lng: 179.9}, []piece{walk, ferry, ferry, walk}},
}

// Camera clocks on a journey in Italy in summer, UTC + 2 h.
var offsets = []struct {
	name   string
	offset time.Duration
}{
	{"right", -2 * time.Hour},
	{"on UTC", 0},
	{"left on winter time", -time.Hour},
	{"seven minutes fast", -2*time.Hour - 7*time.Minute},
	{"seconds slow", -2*time.Hour + 13*time.Second},
	{"never set after a journey to the east", -14 * time.Hour},
	{"never set after a journey to the west, and slow", 11*time.Hour + 7*time.Minute},
}

// A handful of photos may all be from the parts on foot; then the spread has to
// say so instead.
func TestAClockIsFoundToFiveSecondsOrCannotBeTold(t *testing.T) {
	for _, way := range travels {
		found, worst := 0, time.Duration(0)
		for i, o := range offsets {
			for _, n := range []int{8, 15, 40} {
				seed := int64(1000*i + n)
				j := travel(seed, way.from, way.pieces...)
				c, ok := FindClock(Join([]Track{j.track}), j.photos(seed, n, 1, o.offset), AnyZone)
				if !ok {
					continue
				}
				found++
				off := (c.Offset - o.offset).Abs()
				worst = max(worst, off)
				allowed := 5 * time.Second
				if n < 15 {
					allowed = max(allowed, c.Spread)
				}
				if off > allowed || off > c.Spread+time.Second {
					t.Errorf("%s, %s, %d photos: %v off: %s", way.name, o.name, n, off, c.Words())
				}
				if c.Used != n || c.Within > n || 2*c.Within < n || c.Residual > 80 {
					t.Errorf("%s, %s: %d photos, a fifth in wrong places, taken as %+v", way.name, o.name, n, c)
				}
			}
		}
		t.Logf("%s: found %d of %d, at worst %v off", way.name, found, 3*len(offsets), worst)
		if found < 2*len(offsets) {
			t.Errorf("%s: only %d of %d clocks told", way.name, found, 3*len(offsets))
		}
	}
}

// On foot the photos' own error makes seconds impossible to know. Then the
// spread must say so: it is meant to hold 19 times in 20.
func TestOnFootTheSpreadOwnsUp(t *testing.T) {
	told, outside := 0, 0
	for seed := range int64(60) {
		j := travel(seed, trieste, walk, walk, sit, walk)
		offset := offsets[seed%int64(len(offsets))].offset
		c, ok := FindClock(Join([]Track{j.track}), j.photos(seed, 20, 1, offset), AnyZone)
		if !ok {
			continue
		}
		told++
		off := (c.Offset - offset).Abs()
		if off > c.Spread {
			outside++
		}
		if off > 2*c.Spread || c.Spread > time.Minute {
			t.Errorf("seed %d: %v off: %s", seed, off, c.Words())
		}
	}
	if told < 50 || outside > told/10 {
		t.Errorf("%d of 60 told, %d of them further off than their spread", told, outside)
	}
	t.Logf("%d of 60 told, %d further off than their spread", told, outside)
}

func TestAClockNothingSpeaksForCannotBeTold(t *testing.T) {
	day := travel(1, trieste, walk, train, walk, ferry)
	still := travel(2, trieste, sit, sit, sit)

	// The same way on two days, and three times round one block.
	again := day.track.Segments[0]
	tomorrow := slices.Clone(again)
	for i := range tomorrow {
		tomorrow[i].At = tomorrow[i].At.Add(24 * time.Hour)
	}
	loop := travel(3, trieste, piece{lasts: 20 * time.Minute, speed: 1.3, turn: 4})
	var round Segment
	for lap := range 3 {
		for _, p := range loop.track.Segments[0] {
			p.At = p.At.Add(time.Duration(lap) * 25 * time.Minute)
			round = append(round, p)
		}
	}
	scattered := day.photos(4, 30, 5, 0)
	r := rand.New(rand.NewSource(4))
	for i := range scattered {
		scattered[i].LatLng = blurred(r, trieste, 50_000)
	}

	tests := []struct {
		name   string
		line   *Line
		known  []Fix
		within time.Duration
	}{
		{"no photos", Join([]Track{day.track}), nil, AnyZone},
		{"two photos", Join([]Track{day.track}), day.photos(1, 2, 0, 0), AnyZone},
		{"no track", Join(nil), day.photos(1, 20, 0, 0), AnyZone},
		{"a track without neighbours", lineOf(Segment{seen(0, 45, 13)}), day.photos(1, 20, 0, 0), AnyZone},
		{"standing still", Join([]Track{still.track}), still.photos(2, 40, 0, 0), AnyZone},
		{"the same way every day", lineOf(again, tomorrow), day.photos(1, 40, 0, 0), AnyZone},
		{"three times round a block", lineOf(round), loop.photos(3, 40, 0, 0), AnyZone},
		{"photos from somewhere else", Join([]Track{day.track}), scattered, AnyZone},
		{"a clock further off than sought", Join([]Track{day.track}), day.photos(1, 40, 0, 26*time.Hour+10*time.Minute), AnyZone},
		{"sought nowhere", Join([]Track{day.track}), day.photos(1, 40, 0, 0), -time.Hour},
		{"photos of 0,0", Join([]Track{day.track}), make([]Fix, 20), AnyZone},
	}
	for _, tt := range tests {
		if c, ok := FindClock(tt.line, tt.known, tt.within); ok {
			t.Errorf("%s: told as %s", tt.name, c.Words())
		}
	}
	// The same ways are told where the doubt is outside of what is sought.
	c, ok := FindClock(lineOf(again, tomorrow), day.photos(1, 40, 0, 0), 12*time.Hour)
	if !ok || c.Offset.Abs() > 5*time.Second {
		t.Errorf("within 12 h: %v, %s", ok, c.Words())
	}
}

// The same drive and walk as real receivers wrote them, photos placed by us.
func TestClocksAreFoundOnRealTracks(t *testing.T) {
	for _, name := range []string{"around-visnjan-with-car.gpx", "visnjan.gpx", "korita-zbevnica.gpx"} {
		tracks, _ := realTrack(t, name)
		l := Join(tracks)
		from, to, _ := l.Span()
		for i, o := range offsets {
			r := rand.New(rand.NewSource(int64(i)))
			var known []Fix
			for len(known) < 25 {
				at := from.Add(time.Duration(r.Int63n(int64(to.Sub(from))))).Truncate(time.Second)
				where, _, ok := l.At(at, 5*time.Minute)
				if !ok {
					continue
				}
				if len(known)%5 == 0 {
					where.LatLng = blurred(r, where.LatLng, 2000)
				}
				known = append(known, Fix{Wall: at.Add(-o.offset), LatLng: blurred(r, where.LatLng, 10)})
			}
			c, ok := FindClock(l, known, AnyZone)
			if off := (c.Offset - o.offset).Abs(); !ok || off > max(5*time.Second, c.Spread) {
				t.Errorf("%s, %s: %v, %v off, %s", name, o.name, ok, off, c.Words())
			}
		}
	}
}

// Two receivers on one journey are no reason to believe a photo twice, and no
// reason to doubt it.
func TestASecondReceiverChangesNothing(t *testing.T) {
	j := travel(5, trieste, walk, train, walk)
	known := j.photos(5, 20, 1, time.Hour)
	once, ok := FindClock(Join([]Track{j.track}), known, AnyZone)
	twice, again := FindClock(Join([]Track{j.track, j.track}), known, AnyZone)
	if !ok || !again || once != twice {
		t.Errorf("one receiver %v %+v, two %v %+v", ok, once, again, twice)
	}
}

func TestManyPhotosAreAllCounted(t *testing.T) {
	j := travel(6, trieste, walk, train, walk)
	c, ok := FindClock(Join([]Track{j.track}), j.photos(6, 3*mostPhotos, 1, 0), time.Hour)
	if !ok || c.Used != 3*mostPhotos || c.Within < 2*mostPhotos || c.Offset.Abs() > time.Second {
		t.Errorf("%v, %+v", ok, c)
	}
}

func TestAClockIsPutIntoWords(t *testing.T) {
	tests := []struct {
		clock Clock
		want  string
	}{
		{Clock{Offset: -time.Hour - 7*time.Minute - 3*time.Second, Spread: 4 * time.Second, Used: 20, Within: 18, Residual: 24.6},
			"clock 1 h 7 min 3 s ahead of UTC, give or take 4 s: 18 of 20 photos then lie on the track, 25 m off in the middle case"},
		{Clock{Offset: 90 * time.Second, Spread: time.Minute, Used: 3, Within: 3}, "clock 1 min 30 s behind UTC, give or take 1 min: 3 of 3"},
		{Clock{Spread: time.Second, Used: 3, Within: 3}, "clock on UTC, give or take 1 s"},
	}
	for _, tt := range tests {
		if got := tt.clock.Words(); !strings.HasPrefix(got, tt.want) {
			t.Errorf("%+v says %q, want %q", tt.clock, got, tt.want)
		}
	}
	if got := (Clock{Offset: -2 * time.Hour}).UTC(noon); !got.Equal(after(-7200)) {
		t.Errorf("noon is %v", got)
	}
}

func ExampleFindClock() {
	// A ferry southward at 9 m/s; the camera was left on winter time and a
	// minute slow, so that 59 min must be taken off to get UTC.
	start := time.Date(2026, time.May, 3, 8, 0, 0, 0, time.UTC)
	const metre = 1 / 111_132.0 // of latitude, in degrees
	var ferry Segment
	for s := 0; s < 3600; s += 10 {
		ferry = append(ferry, Point{
			LatLng: place.LatLng{Lat: 45 - float64(s)*9*metre, Lng: 13.5},
			At:     start.Add(time.Duration(s) * time.Second),
		})
	}
	l := Join([]Track{{From: "ferry.gpx", Segments: []Segment{ferry}}})
	var known []Fix
	for s := 300; s < 3600; s += 300 {
		known = append(known, Fix{
			Wall:   start.Add(time.Duration(s)*time.Second + 59*time.Minute),
			LatLng: place.LatLng{Lat: 45 - float64(s)*9*metre, Lng: 13.5001},
		})
	}
	clock, ok := FindClock(l, known, AnyZone)
	where, sure, _ := l.At(clock.UTC(known[2].Wall.Add(4*time.Second)), time.Minute)
	fmt.Println(ok, clock.Words())
	fmt.Printf("%.4f, %.4f within %.0f m %s\n", where.Lat, where.Lng, where.Radius, sure.Words())
	// Output:
	// true clock 59 min ahead of UTC, give or take 1 s: 11 of 11 photos then lie on the track, 8 m off in the middle case
	// 44.9268, 13.5000 within 46 m from track ferry.gpx, between fixes 10 s apart
}
