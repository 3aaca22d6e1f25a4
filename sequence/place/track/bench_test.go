package track

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// long is a journey with a fix a second for 100,000 seconds.
func long() journey {
	j := travel(9, trieste, walk, train, walk, ferry, walk, night, walk, train, ferry, sit, train, ferry, night)
	j.truth = j.truth[:100_000]
	s := make(Segment, len(j.truth))
	for i, p := range j.truth {
		s[i] = Point{LatLng: p, At: j.start.Add(time.Duration(i) * time.Second)}
	}
	j.track.Segments = []Segment{s}
	return j
}

func BenchmarkRead100000Points(b *testing.B) {
	var points strings.Builder
	for _, p := range long().track.Segments[0] {
		fmt.Fprintf(&points, "<trkpt lat=\"%.6f\" lon=\"%.6f\"><ele>12.3</ele><time>%s</time></trkpt>\n",
			p.Lat, p.Lng, p.At.Format(time.RFC3339))
	}
	file := wrapped(points.String())
	b.SetBytes(int64(len(file)))
	for b.Loop() {
		if tracks, _, err := Read(strings.NewReader(file), "long.gpx"); err != nil || len(tracks[0].Segments[0]) != 100_000 {
			b.Fatal(err)
		}
	}
}

func BenchmarkJoin100000Points(b *testing.B) {
	j := long()
	for b.Loop() {
		Join([]Track{j.track})
	}
}

func BenchmarkAt500TimesOn100000Points(b *testing.B) {
	j := long()
	l := Join([]Track{j.track})
	for b.Loop() {
		for i := range 500 {
			if _, _, ok := l.At(j.start.Add(time.Duration(i)*199*time.Second+time.Second/3), time.Minute); !ok {
				b.Fatal("no position")
			}
		}
	}
}

func BenchmarkFindClock100PhotosOn100000Points(b *testing.B) {
	j := long()
	l, known := Join([]Track{j.track}), j.photos(9, 100, 1, -time.Hour)
	for b.Loop() {
		if c, ok := FindClock(l, known, AnyZone); !ok || (c.Offset+time.Hour).Abs() > 2*time.Second {
			b.Fatal(c.Words())
		}
	}
}
