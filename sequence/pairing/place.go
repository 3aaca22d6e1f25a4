package pairing

import (
	"math"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

// placeGauge measures how far apart two photos were taken, in metres.
//
// Where a position is only known within a radius, the measure is the root of the
// summed squares of the distance and both radii: about how far apart they are,
// rather than how near they could be.
type placeGauge struct {
	positions []place.LatLng
	radii     []float64 // NaN where no place is known
}

// halfway round the Earth, in metres, nowhere is farther.
const halfway = 20_004_000

func newPlaceGauge(photos []sequence.Photo) gauge {
	g := placeGauge{make([]place.LatLng, len(photos)), make([]float64, len(photos))}
	for i, p := range photos {
		g.radii[i] = math.NaN()
		if p.Where != nil && p.Where.Valid() {
			g.positions[i], g.radii[i] = p.Where.LatLng, 0
			if r := p.Where.Radius; r > 0 {
				g.radii[i] = min(r, halfway)
			}
		}
	}
	return g
}

func (g placeGauge) knows(photo int) bool { return !math.IsNaN(g.radii[photo]) }

func (g placeGauge) measure(a, b int) float64 {
	d := place.Distance(g.positions[a], g.positions[b])
	if blur := math.Hypot(g.radii[a], g.radii[b]); blur > 0 {
		return math.Hypot(d, blur)
	}
	return d
}

// words names the distance, or, where the radii make up most of it, the most it
// can be.
func (g placeGauge) words(a, b int, _ float64) string {
	d, blur := place.Distance(g.positions[a], g.positions[b]), g.radii[a]+g.radii[b]
	const street = 50 // what a phone's position is worth between houses
	if blur <= max(street, d/4) {
		return place.DistanceWords(d)
	}
	return "at most " + place.DistanceWords(d+blur)
}
