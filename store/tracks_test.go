package store

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"pairwall/sequence"
	"pairwall/sequence/place"
	"pairwall/sequence/place/track"
)

// realWays reads every track that lies beside the repository, or where
// PAIRWALL_PHOTOS says.
func realWays(t testing.TB) map[string][]track.Track {
	t.Helper()
	folder := os.Getenv("PAIRWALL_PHOTOS")
	if folder == "" {
		folder = filepath.Join("..", "..", "shared", "photos")
	}
	names, err := filepath.Glob(filepath.Join(folder, "gpx", "*.gpx"))
	if err != nil || len(names) < 10 {
		t.Fatalf("%d tracks in %s, %v", len(names), folder, err)
	}
	files := make(map[string][]track.Track)
	for _, name := range names {
		file, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		if files[filepath.Base(name)], _, err = track.Read(file, filepath.Base(name)); err != nil {
			t.Fatal(err)
		}
	}
	return files
}

// sameWay allows for what packing rounds away.
var sameWay = cmp.Options{cmpopts.EquateApprox(0, 0.0051), cmpopts.EquateApproxTime(time.Microsecond), cmpopts.EquateEmpty(),
	cmp.FilterPath(func(p cmp.Path) bool { return p.Last().String() == ".LatLng" }, cmp.Comparer(func(a, b place.LatLng) bool {
		return math.Abs(a.Lat-b.Lat) <= 0.51e-7 && math.Abs(a.Lng-b.Lng) <= 0.51e-7
	}))}

func TestEveryRealTrackIsKeptToACentimetreAndAMicrosecond(t *testing.T) {
	s, _ := newStore(t)
	for name, ways := range realWays(t) {
		title := newTitle(t, s, name, 0)
		if err := s.AddTracks(ctx, title, []TrackFile{{From: name, Tracks: ways}}); err != nil {
			t.Fatal(err)
		}
		got, err := s.Ways(ctx, title)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(ways, got, sameWay); diff != "" {
			t.Errorf("%s:\n%s", name, diff)
		}
		tracks, err := s.Tracks(ctx, title)
		if err != nil || len(tracks) != 1 {
			t.Fatalf("%+v, %v", tracks, err)
		}
		points := 0
		for _, way := range ways {
			for _, segment := range way.Segments {
				points += len(segment)
			}
		}
		from, to, timed := track.Join(ways).Span()
		kept := tracks[0]
		if kept.Points != points || kept.From != name || kept.Name == "" || kept.Findings == nil {
			t.Errorf("%+v, want %d points", kept, points)
		}
		if timed && (kept.Start == nil || !kept.Start.Equal(from.Truncate(time.Microsecond)) || !kept.End.Equal(to.Truncate(time.Microsecond))) {
			t.Errorf("%s: %v to %v, want %v to %v", name, kept.Start, kept.End, from, to)
		}
	}
}

func TestOddPointsDoNotSpoilATrack(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adriatic", 0)
	infinite, deep := math.Inf(1), -430.5
	at := time.Date(2026, 5, 4, 9, 0, 0, 123_456_000, time.UTC)
	piran := place.LatLng{Lat: 45.528333, Lng: 13.568333}
	ways := []track.Track{{Name: "", From: "a.gpx"}, {Name: "quay", From: "a.gpx", Segments: []track.Segment{nil, {
		{LatLng: piran, At: at, Elevation: &infinite},
		{LatLng: place.LatLng{Lat: math.NaN(), Lng: 1}, At: at},
		{LatLng: place.LatLng{}, At: at},
		{LatLng: piran, Elevation: &deep},
		{LatLng: place.LatLng{Lat: -90, Lng: -180}, At: at.Add(-time.Hour)},
	}}}}
	if err := s.AddTracks(ctx, title, []TrackFile{{From: "a.gpx", Tracks: ways, Findings: []sequence.Finding{{Code: sequence.Damaged, Words: "It breaks off."}}}}); err != nil {
		t.Fatal(err)
	}
	want := []track.Track{{From: "a.gpx"}, {Name: "quay", From: "a.gpx", Segments: []track.Segment{nil, {
		{LatLng: piran, At: at}, {LatLng: piran, Elevation: &deep}, {LatLng: place.LatLng{Lat: -90, Lng: -180}, At: at.Add(-time.Hour)}}}}}
	got, err := s.Ways(ctx, title)
	if diff := cmp.Diff(want, got, sameWay); diff != "" || err != nil {
		t.Errorf("%v\n%s", err, diff)
	}
	tracks, err := s.Tracks(ctx, title)
	if err != nil || len(tracks) != 1 || tracks[0].Name != "quay" || tracks[0].Points != 3 || !tracks[0].Start.Equal(at.Add(-time.Hour)) || !tracks[0].End.Equal(at) ||
		len(tracks[0].Findings) != 1 || tracks[0].Findings[0].Words != "It breaks off." {
		t.Errorf("%+v, %v", tracks, err)
	}
}

func TestTracksAreKeptOnceListedByTimeAndTakenAway(t *testing.T) {
	s, _ := newStore(t)
	title, other := newTitle(t, s, "Adriatic", 0), newTitle(t, s, "Another", 0)
	file := func(name string, day int) TrackFile {
		var at time.Time
		if day > 0 {
			at = time.Date(2026, 5, day, 9, 0, 0, 0, time.UTC)
		}
		return TrackFile{From: name, Tracks: []track.Track{{From: name, Segments: []track.Segment{{{LatLng: place.LatLng{Lat: 45, Lng: 13}, At: at}}}}}}
	}
	files := []TrackFile{file("late.gpx", 9), file("timeless.gpx", 0), file("early.gpx", 2), file("late.gpx", 9)}
	for range 2 { // the same files once more
		if err := s.AddTracks(ctx, title, files); err != nil {
			t.Fatal(err)
		}
	}
	tracks, err := s.Tracks(ctx, title)
	if err != nil || len(tracks) != 3 || tracks[0].From != "early.gpx" || tracks[1].From != "late.gpx" || tracks[2].From != "timeless.gpx" || tracks[2].Start != nil {
		t.Fatalf("%+v, %v", tracks, err)
	}
	ways, err := s.Ways(ctx, title)
	if err != nil || len(ways) != 3 || ways[0].From != "early.gpx" {
		t.Errorf("%+v, %v", ways, err)
	}
	isCoded(t, s.RemoveTrack(ctx, other, tracks[0].ID), sequence.NotFound)
	if err := s.RemoveTrack(ctx, title, tracks[0].ID); err != nil {
		t.Fatal(err)
	}
	isCoded(t, s.RemoveTrack(ctx, title, tracks[0].ID), sequence.NotFound)
	if tracks, err = s.Tracks(ctx, title); err != nil || len(tracks) != 2 {
		t.Errorf("%+v, %v", tracks, err)
	}
	if tracks, err = s.Tracks(ctx, other); err != nil || tracks == nil || len(tracks) != 0 {
		t.Errorf("%+v, %v", tracks, err)
	}
	isCoded(t, s.AddTracks(ctx, 99, files), sequence.NotFound)
	_, err = s.Tracks(ctx, 99)
	isCoded(t, err, sequence.NotFound)
	_, err = s.Ways(ctx, 99)
	isCoded(t, err, sequence.NotFound)
}

func FuzzPackedWays(f *testing.F) {
	at := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	height := 12.5
	whole, err := deflated(packWays([]track.Track{{Name: "quay", From: "a.gpx", Segments: []track.Segment{{{LatLng: place.LatLng{Lat: 45, Lng: 13}, At: at, Elevation: &height}}}}}))
	if err != nil {
		f.Fatal(err)
	}
	many, err := deflated(binary.AppendUvarint([]byte{waysForm}, math.MaxUint64))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(whole)
	f.Add(many)
	f.Add(whole[:len(whole)-3])
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, packed []byte) {
		ways, err := unpackWays(packed)
		if err != nil {
			return
		}
		again, err := deflated(packWays(ways))
		if err != nil {
			t.Fatal(err)
		}
		once, err := unpackWays(again)
		if err != nil {
			t.Fatal(err)
		}
		if twice := packWays(once); !bytes.Equal(packWays(ways), twice) {
			t.Fatal("unpacked and packed again it is another track")
		}
	})
}

// BenchmarkWays keeps and reads eleven days at a point a second, twelve hours a
// day, and reports how much room a point takes.
func BenchmarkWays(b *testing.B) {
	var s track.Segment
	at := time.Date(2026, 5, 4, 6, 0, 0, 0, time.UTC)
	for i := range 475_000 {
		height := 20 + 10*math.Sin(float64(i)/900)
		s = append(s, track.Point{LatLng: place.LatLng{Lat: 45 - float64(i)*1e-5 + 3e-6*math.Sin(float64(i)), Lng: 13 + 8e-6*float64(i) + 4e-6*math.Cos(1.7*float64(i))}, At: at.Add(time.Duration(i) * time.Second), Elevation: &height})
	}
	ways := []track.Track{{Name: "eleven days", From: "days.gpx", Segments: []track.Segment{s}}}
	var packed []byte
	for b.Loop() {
		var err error
		if packed, err = deflated(packWays(ways)); err != nil {
			b.Fatal(err)
		}
		if _, err := unpackWays(packed); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(packed))/float64(len(s)), "bytes/point")
}
