package pairing

import (
	"pairwall/sequence"
	"pairwall/sequence/place"
)

// timeGauge measures how long apart two photos were taken, in seconds. Where a
// time is known to a day or a span only, it is the middle between the shortest
// and the longest gap there can be.
type timeGauge []place.When

func newTimeGauge(photos []sequence.Photo) gauge {
	g := make(timeGauge, len(photos))
	for i, p := range photos {
		g[i] = p.Taken
	}
	return g
}

func (g timeGauge) knows(photo int) bool { return g[photo].CountsAsTaken() }

func (g timeGauge) measure(a, b int) float64 {
	shortest, longest, _ := place.GapWithin(g[a], g[b])
	return shortest.Seconds()/2 + longest.Seconds()/2
}

func (g timeGauge) words(a, b int, _ float64) string { return place.TimeWords(g[a], g[b]) }
