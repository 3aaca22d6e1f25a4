package pairing

import (
	"math"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/place"
)

// three counts the kinds that titles made by these tests are mostly about.
var three = Balance{"place": 1, "time": 1, "colour": 1}

// dice is a generator with Knuth's constants for MMIX.
type dice uint64

func (d *dice) roll(sides int) int {
	*d = *d*6364136223846793005 + 1442695040888963407
	return int(*d>>33) % sides
}

func (d *dice) between(low, high float64) float64 {
	return low + (high-low)*float64(d.roll(1<<20))/(1<<20)
}

// stops are ports and stations round the Adriatic, from an atlas, to about a
// kilometre.
var stops = []place.LatLng{
	{Lat: 45.65, Lng: 13.77}, {Lat: 45.55, Lng: 13.73}, {Lat: 44.87, Lng: 13.85}, {Lat: 45.33, Lng: 14.44},
	{Lat: 44.12, Lng: 15.23}, {Lat: 43.51, Lng: 16.44}, {Lat: 43.17, Lng: 16.44}, {Lat: 42.65, Lng: 18.09},
	{Lat: 42.10, Lng: 19.10}, {Lat: 41.32, Lng: 19.45}, {Lat: 41.13, Lng: 16.87},
}

// journey makes a title of n photos taken on eleven days from stop to stop, a
// third of them with something missing: place, date, both, or a scanner's date
// only. Palettes hold one to eight swatches around the day's light.
func journey(n int, seed uint64) []sequence.Photo {
	d := dice(seed)
	d.roll(1)
	photos := make([]sequence.Photo, n)
	for i := range photos {
		day := i * len(stops) / n
		photos[i] = sequence.Photo{Number: sequence.PhotoID(i + 1), Palette: palette(&d, day)}
		at := stops[day]
		at.Lat += d.between(-0.01, 0.01)
		at.Lng += d.between(-0.01, 0.01)
		moment := time.Date(2026, 5, 3+day, 7+d.roll(13), d.roll(60), d.roll(60), 0, time.UTC)
		switch d.roll(12) {
		case 0:
			photos[i].Where = &place.Where{LatLng: at, Source: place.FromCamera}
		case 1:
			photos[i].Taken = place.Instant(moment, nil, place.FromCamera)
		case 2:
			photos[i].Taken = place.Instant(moment.AddDate(0, 2, 0), nil, place.FromScanner)
		case 3:
			photos[i].Taken = place.Day(2026, 5, 3+day, place.FromMaker)
			photos[i].Where = &place.Where{LatLng: at, Radius: 3000, Source: place.FromMaker}
		default:
			photos[i].Taken = place.Instant(moment, nil, place.FromCamera)
			photos[i].Where = &place.Where{LatLng: at, Source: place.FromCamera}
		}
	}
	return photos
}

func palette(d *dice, day int) colour.Palette {
	p := make(colour.Palette, 1+d.roll(8))
	sum := 0.0
	for k := range p {
		hue := float64(day)*0.5 + d.between(-0.9, 0.9)
		chroma := d.between(0, 55)
		p[k] = colour.Swatch{
			Lab:    colour.Lab{L: d.between(8, 95), A: chroma * math.Cos(hue), B: chroma * math.Sin(hue)},
			Weight: d.between(0.05, 1),
		}
		sum += p[k].Weight
	}
	for k := range p {
		p[k].Weight /= sum
	}
	return p
}

func allOf(photos []sequence.Photo) []sequence.PhotoID {
	ids := make([]sequence.PhotoID, len(photos))
	for i, p := range photos {
		ids[i] = p.Number
	}
	return ids
}

// at makes a photo's place so many metres east of a point on the equator, where
// a degree of longitude is 111,319.49 m (WGS84: a·π/180).
func at(metres float64) *place.Where {
	return &place.Where{LatLng: place.LatLng{Lat: 0, Lng: 20 + metres/111319.49}, Source: place.FromCamera}
}

// after makes an instant so many minutes into the third of May.
func after(minutes float64) place.When {
	return place.Instant(time.Date(2026, 5, 3, 6, 0, 0, 0, time.UTC).Add(time.Duration(minutes*float64(time.Minute))), nil, place.FromCamera)
}

// grey is a palette of one grey. Between greys the distance grows with the
// difference in lightness.
func grey(l float64) colour.Palette {
	return colour.Palette{{Lab: colour.Lab{L: l}, Weight: 1}}
}
