package gazetteer

import (
	"runtime"
	"testing"

	"pairwall/sequence/place"
)

var (
	land = place.LatLng{Lat: 43.82, Lng: 15.9}
	sea  = place.LatLng{Lat: 43.0, Lng: 15.0}
	far  = place.LatLng{Lat: 30, Lng: -40}
)

func BenchmarkNearest(b *testing.B) {
	towns()
	for _, at := range []struct {
		name string
		p    place.LatLng
	}{{"land", land}, {"Adriatic", sea}, {"mid-Atlantic", far}} {
		b.Run(at.name, func(b *testing.B) {
			for b.Loop() {
				Nearest(at.p)
			}
		})
		b.Run("label "+at.name, func(b *testing.B) {
			for b.Loop() {
				Label(at.p)
			}
		})
	}
}

// BenchmarkLoad also reports what stays in memory.
func BenchmarkLoad(b *testing.B) {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	var t *table
	for b.Loop() {
		var err error
		if t, err = decode(packed); err != nil {
			b.Fatal(err)
		}
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/1e6, "MB-kept")
	runtime.KeepAlive(t)
}

func BenchmarkFind(b *testing.B) {
	foldedTowns()
	for _, query := range []string{"s", "sib", "sibenik", "piran, slo"} {
		b.Run(query, func(b *testing.B) {
			for b.Loop() {
				Find(query, 8)
			}
		})
	}
}
