package track

import (
	"time"

	"pairwall/sequence/place"
)

// Point is one place on a track. At is UTC, and zero when the file gives no time
// or none that can be true. Elevation is in metres as the file states it, nil
// when it states none.
type Point struct {
	place.LatLng
	At        time.Time
	Elevation *float64
}

// Segment is a run of points that the receiver wrote without interruption, in
// the file's order.
type Segment []Point

// Track is one recorded way. Name is what the file calls it, From the file's own
// name. Tracks and segments stay as the file has them, empty ones too.
type Track struct {
	Name     string
	Segments []Segment
	From     string
}

// The years in which a fix can have been made. Receivers that do not know the
// time show the start of their calendar, 6 January 1980 (IS-GPS-200), computers
// 1901 or 1970; receivers that one could carry came in 1989 (from memory). The
// upper end only keeps out nonsense: this package does not know today.
const (
	firstYear = 1989
	lastYear  = 2099
)

// credible reports whether a fix can have been made at t.
func credible(t time.Time) bool {
	year := t.UTC().Year()
	return year >= firstYear && year <= lastYear
}
