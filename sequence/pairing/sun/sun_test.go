package sun

import (
	"math"
	"testing"
	"time"

	"pairwall/sequence/place"
)

func TestTheSunStandsWherePublishedExamplesSay(t *testing.T) {
	for _, c := range []struct {
		name   string
		at     place.LatLng
		wall   time.Time
		offset int
		want   float64
		within float64
		rising bool
	}{
		// Meeus, "Astronomical Algorithms", example 25.a: on 13 October 1992 at 0h the
		// apparent declination is −7.78507°, which is the height at the north pole. His
		// dynamical time runs a minute ahead of the clock: less than 0.001°.
		{"Meeus 25.a", place.LatLng{Lat: 90, Lng: 0}, time.Date(1992, 10, 13, 0, 0, 0, 0, time.UTC), 0, -7.78507, 0.002, false},
		// I. Reda and A. Andreas, "Solar Position Algorithm", NREL/TP-560-34302, 2003,
		// table A5.1: zenith 50.11162° with refraction; without it, 39.872° high.
		{"Reda and Andreas", place.LatLng{Lat: 39.742476, Lng: -105.1786}, time.Date(2003, 10, 17, 12, 30, 30, 0, time.UTC), -420, 39.872, 0.01, false},
		// By geometry: on the June solstice the noon sun stands 90° − 45° + 23.44° high.
		{"midsummer noon", place.LatLng{Lat: 45, Lng: 15}, time.Date(2026, 6, 21, 12, 2, 0, 0, time.UTC), 60, 68.44, 0.02, false},
		{"an hour before", place.LatLng{Lat: 45, Lng: 15}, time.Date(2026, 6, 21, 11, 2, 0, 0, time.UTC), 60, 65.2, 0.5, true},
		{"midnight", place.LatLng{Lat: 45, Lng: 15}, time.Date(2026, 6, 21, 0, 2, 0, 0, time.UTC), 60, -21.56, 0.02, true},
	} {
		got, rising := Height(c.at, c.wall, c.offset)
		if math.Abs(got-c.want) > c.within {
			t.Errorf("%s: %.4f°, want %.4f°", c.name, got, c.want)
		}
		if c.name == "an hour before" && !rising {
			t.Errorf("%s: not rising", c.name)
		}
	}
}

func TestTheClockOfAnotherZoneShowsTheSameSun(t *testing.T) {
	at := place.LatLng{Lat: 43.5, Lng: 16.4}
	moment := time.Date(2026, 5, 3, 7, 0, 0, 0, time.UTC)
	one, _ := Height(at, moment, 0)
	other, _ := Height(at, moment.Add(2*time.Hour), 120)
	if math.Abs(one-other) > 1e-9 {
		t.Errorf("%g and %g", one, other)
	}
}
