package server

import (
	"fmt"
	"net/http/httptest"
	"testing"
	"time"

	"pairwall/sequence"
)

// BenchmarkManyWeeks answers what looks back over a year of evenings: 2,000
// entries of the journal in 250 sittings, on a wall of 100 spreads.
func BenchmarkManyWeeks(b *testing.B) {
	s, title := largeTitle(b, 220)
	evening := time.Date(2026, 1, 5, 20, 0, 0, 0, time.UTC)
	s.store.Now = func() time.Time { return evening }
	change := sequence.Change{Act: "hang them all"}
	for n := range 100 {
		change.Steps = append(change.Steps, sequence.Step{Do: sequence.Add, Index: n,
			Spread: &sequence.Spread{ID: sequence.SpreadID(n + 1), Left: sequence.PhotoID(2*n + 1), Right: sequence.PhotoID(2*n + 2)}})
	}
	for n := range 2000 {
		_, wall, err := s.store.Apply(b.Context(), title, change, "")
		if err != nil {
			b.Fatal(err)
		}
		q := wall.Sequence
		one, other := q.Spreads[n%100], q.Spreads[(7*n+3)%100]
		if one.ID == other.ID {
			other = q.Spreads[(7*n+4)%100]
		}
		change = sequence.Change{Revision: q.Revision, Act: "exchange", Steps: []sequence.Step{
			{Do: sequence.Put, Page: &sequence.Page{Spread: one.ID, Side: sequence.Left}, Was: one.Left, Now: other.Right},
			{Do: sequence.Put, Page: &sequence.Page{Spread: other.ID, Side: sequence.Right}, Was: other.Right, Now: one.Left}}}
		if n%8 == 7 {
			evening = evening.AddDate(0, 0, 1)
		}
	}
	served := httptest.NewServer(s.Handler())
	defer served.Close()
	for _, name := range []string{"versions", "settled", "thinning?keep=week"} {
		b.Run(name, func(b *testing.B) {
			size := 0
			for b.Loop() {
				size = bytesOf(b, fmt.Sprintf("%s/api/titles/%d/%s", served.URL, title, name))
			}
			b.ReportMetric(float64(size)/1000, "kB")
		})
	}
}
