package track

import (
	"math"
	"math/rand"
	"time"

	"pairwall/sequence/place"
)

// piece is a part of an invented journey: how long, how fast, how much it winds.
type piece struct {
	lasts       time.Duration
	speed, turn float64 // metres a second; degrees of turn per root second
	silent      bool    // the receiver writes nothing
}

var (
	walk   = piece{lasts: 90 * time.Minute, speed: 1.3, turn: 4}
	train  = piece{lasts: 70 * time.Minute, speed: 24, turn: 0.4}
	ferry  = piece{lasts: 2 * time.Hour, speed: 9, turn: 0.2}
	sit    = piece{lasts: time.Hour}
	night  = piece{lasts: 9 * time.Hour}
	rest   = piece{lasts: time.Hour, silent: true}
	tunnel = piece{lasts: 12 * time.Minute, speed: 24, silent: true}
)

// journey is where somebody was at every second, and what a receiver noted.
type journey struct {
	start time.Time
	truth []place.LatLng // at each second
	track Track
}

// travel invents a journey through the pieces from a place and a seed. The
// receiver writes a fix every 4 to 20 s, 5 m off along either axis.
func travel(seed int64, from place.LatLng, pieces ...piece) journey {
	r := rand.New(rand.NewSource(seed))
	j := journey{start: time.Date(2026, time.May, 3, 6, 0, 0, 0, time.UTC)}
	at, heading := from, 360*r.Float64()
	var silent []bool
	for _, p := range pieces {
		for range int(p.lasts / time.Second) {
			j.truth, silent = append(j.truth, at), append(silent, p.silent)
			heading += p.turn * r.NormFloat64()
			at = ahead(at, heading, p.speed)
		}
	}
	var s Segment
	for i := 0; i < len(j.truth); i += 4 + r.Intn(17) {
		if !silent[i] {
			s = append(s, Point{LatLng: blurred(r, j.truth[i], 5), At: j.start.Add(time.Duration(i) * time.Second)})
		}
	}
	j.track = Track{Name: "journey", From: "journey.gpx", Segments: []Segment{s}}
	return j
}

// blurred moves p by normal noise of so many metres along either axis.
func blurred(r *rand.Rand, p place.LatLng, metres float64) place.LatLng {
	x, y := metres*r.NormFloat64(), metres*r.NormFloat64()
	return ahead(p, math.Atan2(x, y)*180/math.Pi, math.Hypot(x, y))
}

// photos are n photographs taken at random on the way by a camera whose clock
// needs offset added, placed 30 m off along either axis; of every five, wrong
// are somewhere else: half of them where somebody was an hour or two before, as
// a receiver without sight of the sky writes.
func (j journey) photos(seed int64, n, wrong int, offset time.Duration) []Fix {
	r := rand.New(rand.NewSource(seed))
	fixes := make([]Fix, n)
	for i := range fixes {
		second := r.Intn(len(j.truth))
		where := blurred(r, j.truth[second], 30)
		if i%5 < wrong {
			where = blurred(r, where, 20_000)
			if r.Intn(2) == 0 {
				where = j.truth[max(0, second-3600-r.Intn(3600))]
			}
		}
		fixes[i] = Fix{Wall: j.start.Add(time.Duration(second) * time.Second).Add(-offset), LatLng: where}
	}
	return fixes
}
