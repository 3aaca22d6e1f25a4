package track

import (
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"
)

// Whatever the bytes: no crash, the same answer twice, nothing but points that
// can be, and a line that lends nothing but positions that can be.
func FuzzRead(f *testing.F) {
	files, _ := filepath.Glob(filepath.Join(realTracks(f), "*.gpx"))
	for _, path := range files {
		if bytes, err := os.ReadFile(path); err != nil {
			f.Fatal(err)
		} else if len(bytes) < 6000 {
			f.Add(string(bytes))
		}
	}
	f.Add(wrapped(`<trkpt lat="1" lon="180"><time>2026-05-03T10:00:00Z</time></trkpt><trkpt lat="1" lon="-180"><time>2026-05-03T10:01:00+23:59</time></trkpt>`))
	f.Add("\xfe\xff\x00<\x00g\x00p\x00x\x00>")
	f.Add(`<?xml version="1.0" encoding="windows-1250"?><gpx><trk><trkseg><trkpt lat="-90" lon="1"><time>2099-12-31T23:59:59.999999999-12:00</time>`)
	f.Fuzz(func(t *testing.T, file string) {
		tracks, findings, err := Read(strings.NewReader(file), "fuzz.gpx")
		again, same, _ := Read(strings.NewReader(file), "fuzz.gpx")
		if !reflect.DeepEqual(tracks, again) || !reflect.DeepEqual(findings, same) {
			t.Fatal("read differently the second time")
		}
		if err != nil && (tracks != nil || findings != nil) {
			t.Fatalf("refused with %v, and yet %d tracks, %v", err, len(tracks), findings)
		}
		for _, track := range tracks {
			for _, s := range track.Segments {
				for _, p := range s {
					if !p.Valid() || !p.At.IsZero() && !credible(p.At) || p.At.Location() != time.UTC ||
						p.Elevation != nil && math.IsNaN(*p.Elevation) {
						t.Fatalf("took the point %+v", p)
					}
				}
			}
		}
		l := Join(tracks)
		from, to, ok := l.Span()
		if ok != (l.Len() > 0) || to.Before(from) {
			t.Fatalf("%d fixes from %v to %v", l.Len(), from, to)
		}
		for _, at := range []time.Time{from, to, from.Add(to.Sub(from) / 3), from.Add(-time.Second), to.Add(time.Hour)} {
			where, sure, ok := l.At(at, 24*time.Hour)
			if ok && (!(math.Abs(where.Lat) <= 90 && math.Abs(where.Lng) <= 180) || !(where.Radius >= fixError) || sure.Words() == "") {
				t.Fatalf("at %v: %+v, %+v", at, where, sure)
			}
		}
	})
}
