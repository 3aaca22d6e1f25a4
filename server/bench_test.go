package server

import (
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/intake"
	"pairwall/sequence/place"
	"pairwall/store"
)

// largeTitle is a title of n photos taken along the Adriatic, a fifth of them at
// sea, with all that is measured of a photo, and an original for each but one in
// a hundred.
func largeTitle(tb testing.TB, n int) (*Server, sequence.TitleID) {
	tb.Helper()
	data := tb.TempDir()
	st, err := store.Open(tb.Context(), data)
	if err != nil {
		tb.Fatal(err)
	}
	title, err := st.CreateTitle(tb.Context(), "Adriatic")
	if err != nil {
		tb.Fatal(err)
	}
	r := rand.New(rand.NewPCG(11, 25))
	for i := 1; i <= n; i++ {
		if _, _, err := st.AddPhoto(tb.Context(), title.ID, measuredPhoto(tb, r, data, i)); err != nil {
			tb.Fatal(err)
		}
	}
	pool := intake.NewPool(1, []string{"no-worker-is-needed"}, intake.DefaultLimits)
	s := New(Config{Store: st, Pool: pool, Data: data, Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	tb.Cleanup(func() {
		s.Close()
		pool.Close()
		st.Close()
	})
	return s, title.ID
}

func measuredPhoto(tb testing.TB, r *rand.Rand, data string, n int) sequence.Photo {
	p := sequence.Photo{Name: fmt.Sprintf("photo %04d.jpg", n), Hash: fmt.Sprintf("%064x", n), Format: "jpeg", Width: 6000, Height: 4000,
		Profile: "Display P3", Camera: "pocket camera", Caption: "quay, morning",
		Taken: place.Instant(nine.Add(time.Duration(n)*time.Minute), nil, place.FromCamera),
		Where: &place.Where{LatLng: place.LatLng{Lat: 45.6 - 4.4*r.Float64(), Lng: 13.6 + 3*r.Float64()}, Radius: 12, Source: place.FromCamera},
		Tone:  colour.Tone{Mean: 52.5, Deviation: 18.25, Dark: .125, Light: .0625, Chroma: 21},
		Form: sequence.Form{Measured: intake.Edition, Fingerprint: fmt.Sprintf("%016x", r.Uint64()), Sharpness: r.Float64(), Detail: r.Float64(),
			WeightX: .5, WeightY: .4, HorizonLeft: .31, HorizonRight: .32, Horizon: .8, Lines: [4]float64{.4, .2, .3, .1}}}
	for range 8 {
		p.Palette = append(p.Palette, colour.Swatch{Lab: colour.Lab{L: 100 * r.Float64(), A: 80*r.Float64() - 40, B: 80*r.Float64() - 40}, Weight: .125})
	}
	p.Path = filepath.Join(data, "originals", p.Name)
	if err := os.MkdirAll(filepath.Dir(p.Path), 0o700); err != nil {
		tb.Fatal(err)
	}
	if n%100 != 0 {
		if err := os.WriteFile(p.Path, nil, 0o600); err != nil {
			tb.Fatal(err)
		}
	}
	return p
}

// bytesOf fetches an address and counts what it answers.
func bytesOf(b *testing.B, address string) int {
	b.Helper()
	response, err := http.Get(address)
	if err != nil {
		b.Fatal(err)
	}
	defer response.Body.Close()
	n, err := io.Copy(io.Discard, response.Body)
	if err != nil || response.StatusCode != http.StatusOK {
		b.Fatal(response.StatusCode, err)
	}
	return int(n)
}

// BenchmarkLargeTitle answers what the page asks of a title with 2,000 photos.
// The state may take 300 ms.
func BenchmarkLargeTitle(b *testing.B) {
	s, title := largeTitle(b, 2000)
	served := httptest.NewServer(s.Handler())
	defer served.Close()
	at := fmt.Sprintf("%s/api/titles/%d", served.URL, title)
	began := time.Now()
	size := bytesOf(b, at)
	first := time.Since(began)
	b.Run("state", func(b *testing.B) {
		for b.Loop() {
			bytesOf(b, at)
		}
		b.ReportMetric(float64(first.Milliseconds()), "ms-first")
		b.ReportMetric(float64(size)/2000, "bytes/photo")
	})
	for _, name := range []string{"piles", "originals", "partners?photo=7"} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				bytesOf(b, at+"/"+name)
			}
		})
	}
}
