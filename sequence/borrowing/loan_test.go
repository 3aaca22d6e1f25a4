package borrowing

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place"
	"pairwall/sequence/place/track"
)

// realTracks reads tracks that lie beside the repository, or where
// PAIRWALL_PHOTOS says.
func realTracks(t *testing.T, names ...string) []track.Track {
	t.Helper()
	folder := os.Getenv("PAIRWALL_PHOTOS")
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "shared", "photos")
	}
	var all []track.Track
	for _, name := range names {
		file, err := os.Open(filepath.Join(folder, "gpx", name))
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		tracks, _, err := track.Read(file, name)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, tracks...)
	}
	return all
}

// snap is a photo taken where and when the line was, by a camera whose clock
// shows UTC less offset; known ones know their place, blurred as a phone does.
func snap(t *testing.T, r *rand.Rand, n int, camera string, line *track.Line, offset time.Duration, known bool) (sequence.Photo, place.LatLng) {
	t.Helper()
	from, to, ok := line.Span()
	if !ok {
		t.Fatal("a line without times")
	}
	for range 10_000 {
		moment := from.Add(time.Duration(r.Int64N(int64(to.Sub(from))))).Truncate(time.Second)
		truth, _, ok := line.At(moment, time.Minute)
		if !ok {
			continue
		}
		p := sequence.Photo{Number: sequence.PhotoID(n), Name: fmt.Sprintf("%s %d.jpg", camera, n), Camera: camera,
			Taken: place.Instant(moment.Add(-offset), nil, place.FromCamera)}
		if known {
			p.Where = &place.Where{LatLng: place.LatLng{Lat: truth.Lat + 1e-4*r.NormFloat64(), Lng: truth.Lng + 1e-4*r.NormFloat64()}, Radius: 10, Source: place.FromCamera}
		}
		return p, truth.LatLng
	}
	t.Fatal("the line is all gaps")
	return sequence.Photo{}, place.LatLng{}
}

var allow = Wish{Gap: 10 * time.Minute, Fit: true}

func TestEachCamerasClockIsFoundAndItsPhotosPlaced(t *testing.T) {
	line := track.Join(realTracks(t, "around-visnjan-with-car.gpx", "Mojstrovka.gpx"))
	r := rand.New(rand.NewPCG(7, 1))
	offsets := map[string]time.Duration{"pocket": -(2*time.Hour + 7*time.Second), "bridge": 41 * time.Minute}
	var photos []sequence.Photo
	truth := make(map[sequence.PhotoID]place.LatLng)
	for camera, offset := range offsets {
		for i := range 40 {
			p, at := snap(t, r, len(photos)+1, camera, line, offset, i < 25)
			photos = append(photos, p)
			truth[p.Number] = at
		}
	}
	loan, err := FromTracks(photos, line, allow, 5)
	if err != nil {
		t.Fatal(err)
	}
	if len(loan.Clocks) != 2 {
		t.Fatalf("%+v", loan.Clocks)
	}
	for _, c := range loan.Clocks {
		found, err := time.ParseDuration(c.Offset)
		if err != nil || (found-offsets[c.Camera]).Abs() > 20*time.Second || !c.Sure || c.Used != 25 || c.Words == "" {
			t.Errorf("%+v, want %s", c, offsets[c.Camera])
		}
	}
	if len(loan.Proposals) != 30 || len(loan.Without) != 0 || len(loan.Change.Says) != 30 || loan.Change.Revision != 5 || loan.Change.Act != "borrow 30 places from tracks" {
		t.Fatalf("%d proposals, %+v, %q", len(loan.Proposals), loan.Without, loan.Change.Act)
	}
	for i, got := range loan.Proposals {
		if off := place.Distance(got.Where.LatLng, truth[got.Photo]); off > got.Where.Radius+20 || got.Where.Source != place.FromTrack {
			t.Errorf("photo %d is %.0f m off, said %+v", got.Photo, off, got)
		}
		if !strings.Contains(got.Words, ".gpx") || !strings.HasPrefix(got.Sure, "to within ") {
			t.Errorf("%q, %q", got.Words, got.Sure)
		}
		said := loan.Change.Says[i]
		if stated, err := photos[said.Photo-1].State(said); err != nil || *stated.Where != got.Where {
			t.Errorf("%+v: %v", said, err)
		}
	}
}

func TestTheMakersOffsetAndGapCount(t *testing.T) {
	tracks := realTracks(t, "around-visnjan-with-car.gpx")
	line := track.Join(tracks)
	from, to, _ := line.Span()
	photo := sequence.Photo{Number: 1, Camera: "pocket", Taken: place.Instant(from.Add(time.Hour), nil, place.FromCamera)}
	ask := func(offset, gap time.Duration) Loan {
		t.Helper()
		loan, err := FromTracks([]sequence.Photo{photo}, line, Wish{Offset: &offset, Gap: gap, Fit: true}, 0)
		if err != nil {
			t.Fatal(err)
		}
		return loan
	}
	moved := ask(-time.Hour, time.Hour)
	if len(moved.Proposals) != 1 || !moved.Proposals[0].At.Equal(from) || moved.Clocks[0].Offset != "-1h0m0s" || !moved.Clocks[0].Sure {
		t.Errorf("%+v", moved)
	}
	if late := ask(to.Sub(from), time.Hour); len(late.Proposals) != 0 || !strings.Contains(late.Without[0].Why, "after the last track ends") {
		t.Errorf("%+v", late)
	}
	if early := ask(-48*time.Hour, time.Hour); len(early.Proposals) != 0 || !strings.Contains(early.Without[0].Why, "before the first track begins") {
		t.Errorf("%+v", early)
	}
	// A way with a hole in it of half an hour.
	a, b := place.LatLng{Lat: 45.5, Lng: 13.5}, place.LatLng{Lat: 45.6, Lng: 13.6}
	line = track.Join([]track.Track{{From: "hole.gpx", Segments: []track.Segment{{{LatLng: a, At: from}, {LatLng: b, At: from.Add(30 * time.Minute)}}}}})
	photo.Taken = place.Instant(from.Add(15*time.Minute), nil, place.FromCamera)
	if loan := ask(0, 29*time.Minute); len(loan.Proposals) != 0 || !strings.Contains(loan.Without[0].Why, "near enough") {
		t.Errorf("a position was invented across a gap: %+v", loan)
	}
	if loan := ask(0, 30*time.Minute); len(loan.Proposals) != 1 {
		t.Errorf("%+v", loan.Without)
	}
}

func TestAClockThatCannotBeToldLeavesItsPhotosButAZoneIsTakenAtItsWord(t *testing.T) {
	line := track.Join(realTracks(t, "around-visnjan-with-car.gpx"))
	from, _, _ := line.Span()
	minutes := 120
	zoned := sequence.Photo{Number: 1, Camera: "phone", Taken: place.Instant(from.Add(2*time.Hour), &minutes, place.FromCamera)}
	plain := sequence.Photo{Number: 2, Camera: "pocket", Taken: place.Instant(from, nil, place.FromCamera)}
	byHand := sequence.Photo{Number: 3, Camera: "pocket", Taken: place.Instant(from, nil, place.FromMaker)}
	inNotes := sequence.Photo{Number: 4, Camera: "pocket", Taken: place.Instant(from, nil, place.FromNotes)}
	beside := sequence.Photo{Number: 5, Camera: "pocket", Taken: place.Instant(from, nil, place.FromSidecar)}
	loan, err := FromTracks([]sequence.Photo{zoned, plain, byHand, inNotes, beside}, line, allow, 0)
	if err != nil || len(loan.Proposals) != 1 || loan.Proposals[0].Photo != 1 || !loan.Proposals[0].At.Equal(from) {
		t.Fatalf("%+v, %v", loan, err)
	}
	for _, c := range loan.Clocks {
		if c.Sure || !strings.Contains(c.Words, "three are needed") || (c.Offset == "0s") != (c.Camera == "phone") || (c.Lends == 1) != (c.Camera == "phone") {
			t.Errorf("%+v", c)
		}
	}
	whys := []string{"the clock of pocket is not known", "the clock of the times you stated", "the clock of the times written with the files", "the clock of the times written with the files"}
	if len(loan.Without) != len(whys) {
		t.Fatalf("%+v", loan.Without)
	}
	for i, why := range whys {
		if !strings.Contains(loan.Without[i].Why, why) {
			t.Errorf("%+v, want %q", loan.Without[i], why)
		}
	}
}

func TestWhoMayNotBorrowIsToldWhy(t *testing.T) {
	line := track.Join(realTracks(t, "around-visnjan-with-car.gpx"))
	from, _, _ := line.Span()
	at := func(source place.Source) *place.Where {
		return &place.Where{LatLng: place.LatLng{Lat: 45.2, Lng: 13.7}, Source: source}
	}
	zero := time.Duration(0)
	photos := []sequence.Photo{
		{Number: 1, Taken: place.Instant(from, nil, place.FromCamera), Where: at(place.FromCamera)},
		{Number: 2, Taken: place.Instant(from, nil, place.FromCamera), Where: at(place.FromMaker)},
		{Number: 3},
		{Number: 4, Scan: true, Taken: place.Instant(from, nil, place.FromScanner)},
		{Number: 5, Taken: place.Day(2026, 5, 4, place.FromCamera)},
		{Number: 6, Taken: place.Instant(from, nil, place.FromCamera), Where: at(place.FromTrack)},
		{Number: 7, Taken: place.Instant(from, nil, place.FromCamera)},
		{Number: 8, Taken: place.Instant(from, nil, place.FromCamera), Where: at(place.FromNotes)},
		{Number: 9, Taken: place.Instant(from, nil, place.FromCamera), Where: at(place.FromSidecar)},
	}
	whys := func(wish Wish) string {
		t.Helper()
		wish.Gap, wish.Offset = time.Hour, &zero
		loan, err := FromTracks(photos, line, wish, 0)
		if err != nil {
			t.Fatal(err)
		}
		var text []string
		for _, w := range loan.Without {
			text = append(text, fmt.Sprint(w.Photo, " ", w.Why))
		}
		for _, p := range loan.Proposals {
			text = append(text, fmt.Sprint(p.Photo))
		}
		return strings.Join(text, "; ")
	}
	const dateless = "3 nobody knows when it was taken; 4 its date is the day it was scanned, not the day it was taken; 5 only the day it was taken is known, not the minute"
	if got := whys(Wish{}); got != dateless+"; 7" {
		t.Errorf("of all: %s", got)
	}
	if got := whys(Wish{Photos: []sequence.PhotoID{1, 2, 6}}); got != "1 it knows its place already; 2 it knows its place already; 6" {
		t.Errorf("of three: %s", got)
	}
	for _, from := range []func([]sequence.Photo, Wish) error{
		func(p []sequence.Photo, w Wish) error { _, err := FromTracks(p, line, w, 0); return err },
		func(p []sequence.Photo, w Wish) error { _, err := FromPhone(p, w, 0); return err },
	} {
		if err := from(photos, Wish{Photos: []sequence.PhotoID{99}}); sequence.CodeOf(err) != sequence.NotFound {
			t.Errorf("%v", err)
		}
	}
}

func TestPlacesAreBorrowedFromPhonePhotosOfTheSameHour(t *testing.T) {
	nine := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	clock := func(minute int) time.Time { return nine.Add(time.Duration(minute) * time.Minute) }
	there := place.LatLng{Lat: 45.53, Lng: 13.57}
	two, three := 120, 180
	phone := func(n, minute int, offset *int, where *place.Where) sequence.Photo {
		return sequence.Photo{Number: sequence.PhotoID(n), Name: fmt.Sprintf("phone %d.jpg", n), Camera: "phone", Taken: place.Instant(clock(minute), offset, place.FromCamera), Where: where}
	}
	own := &place.Where{LatLng: there, Radius: 60, Source: place.FromCamera}
	film := sequence.Photo{Number: 9, Camera: "film body", Taken: place.Instant(clock(20), nil, place.FromMaker)}
	hour := time.Hour
	for _, c := range []struct {
		name     string
		lender   sequence.Photo
		borrower sequence.Photo
		offset   *time.Duration
		want     string // words, or why not
	}{
		{"twelve minutes apart", phone(1, 8, nil, own), film, nil, "from phone photo phone 1.jpg, taken 12 min earlier"},
		{"too long apart", phone(1, 81, nil, own), film, nil, "no photo that knows its place was taken within 60 min of 4 May 2026, 09:20"},
		{"the borrower's clock is an hour slow", phone(1, 81, nil, own), film, &hour, "from phone photo phone 1.jpg, taken 60 s later"},
		{"a camera does not move against itself", phone(1, 20, nil, own), phone(9, 21, nil, nil), &hour, "from phone photo phone 1.jpg, taken 60 s earlier"},
		{"zones differ", phone(1, 80, &three, own), phone(9, 20, &two, nil), nil, "from phone photo phone 1.jpg, taken at the same second"},
		{"a borrowed place is not lent on", phone(1, 20, nil, &place.Where{LatLng: there, Source: place.FromPhone}), film, nil, "no photo that knows its place"},
		{"nor one from a track", phone(1, 20, nil, &place.Where{LatLng: there, Source: place.FromTrack}), film, nil, "no photo that knows its place"},
		{"nor one drawn on a map", phone(1, 20, nil, &place.Where{LatLng: there, Source: place.FromMaker}), film, nil, "no photo that knows its place"},
		{"nor one written in a file", phone(1, 20, nil, &place.Where{LatLng: there, Source: place.FromNotes}), film, nil, "no photo that knows its place"},
		{"nor one written beside it", phone(1, 20, nil, &place.Where{LatLng: there, Source: place.FromSidecar}), film, nil, "no photo that knows its place"},
		{"but a phone's own is", phone(1, 20, &two, &place.Where{LatLng: there, Source: place.FromPhone}), film, nil, "from phone photo phone 1.jpg, taken at the same second"},
	} {
		loan, err := FromPhone([]sequence.Photo{c.lender, c.borrower}, Wish{Photos: []sequence.PhotoID{9}, Gap: time.Hour, Offset: c.offset}, 3)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if len(loan.Without) > 0 {
			got = loan.Without[0].Why
		} else if p := loan.Proposals[0]; len(loan.Change.Says) == 1 && p.Where.LatLng == there && p.Where.Source == place.FromPhone && p.Where.Radius >= c.lender.Where.Radius {
			got = p.Words
		}
		if !strings.HasPrefix(got, c.want) || got == "" {
			t.Errorf("%s: %q, want %q (%+v)", c.name, got, c.want, loan)
		}
	}
	scan := film
	scan.Scan, scan.Taken = true, place.Instant(clock(8), nil, place.FromScanner)
	if loan, err := FromPhone([]sequence.Photo{phone(1, 8, nil, own), scan}, Wish{Gap: time.Hour}, 0); err != nil || len(loan.Proposals) != 0 || loan.Change.Says != nil {
		t.Errorf("a scan was placed by its scanning date: %+v, %v", loan, err)
	}
}
