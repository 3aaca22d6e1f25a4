package place

import (
	"math"
	"strconv"
)

// LatLng is a position on the WGS84 ellipsoid in degrees: Lat −90..90, north
// positive; Lng −180..180, east positive.
type LatLng struct {
	Lat float64 `json:"lat"`
	Lng float64 `json:"lng"`
}

// Valid reports whether p can be the position of a photograph: finite, in
// range, and not exactly 0,0. Cameras without a fix write 0,0 to mean "none",
// and nobody has ever stood there by accident.
func (p LatLng) Valid() bool {
	return p.inRange() && (p.Lat != 0 || p.Lng != 0)
}

// inRange is false for NaN too: every comparison with NaN is.
func (p LatLng) inRange() bool {
	return math.Abs(p.Lat) <= 90 && math.Abs(p.Lng) <= 180
}

// Source says who told us a time or a position.
type Source string

// The sources there are. The empty Source means that nobody said.
const (
	FromCamera  Source = "camera"
	FromScanner Source = "scanner"
	FromMaker   Source = "maker"
	FromPhone   Source = "phone"
	FromTrack   Source = "track"
	// FromNotes is what stands in the file beside what the camera wrote, as XMP or
	// IPTC, and FromSidecar what stands in a file of XMP beside it: somebody's
	// word, or a program's, of which nobody can tell whether a clock or a
	// receiver stood behind it.
	FromNotes   Source = "notes"
	FromSidecar Source = "sidecar"
)

func (s Source) known() bool {
	switch s {
	case "", FromCamera, FromScanner, FromMaker, FromPhone, FromTrack, FromNotes, FromSidecar:
		return true
	}
	return false
}

// Where is a position as somebody stated it. Radius is in metres, 0 when not
// stated. A Where whose position is not Valid states no place at all.
type Where struct {
	LatLng
	Radius float64 `json:"radius"`
	Source Source  `json:"source"`
}

// CompassWord names an azimuth, in degrees clockwise from north, by the
// nearest of the eight winds: 41 is "north-east". Any finite angle will do;
// NaN and infinities have no name and give "".
func CompassWord(azimuth float64) string {
	if math.IsNaN(azimuth) || math.IsInf(azimuth, 0) {
		return ""
	}
	winds := [...]string{
		"north", "north-east", "east", "south-east",
		"south", "south-west", "west", "north-west",
	}
	turn := math.Mod(azimuth, 360)
	if turn < 0 {
		turn += 360
	}
	return winds[int(math.Floor(turn/45+0.5))%len(winds)]
}

// sameSpot is about what a phone's position in a street is worth, so two
// pictures nearer than this, in metres, cannot honestly be called apart.
const sameSpot = 15

// DistanceWords puts a distance in metres into words, rounded as one would say
// it: "on the same spot" below 15 m, then steps of 5 m, 10 m, 0.1 km, 1 km,
// 10 km and 100 km. A negative or non-finite distance gives "distance unknown".
func DistanceWords(m float64) string {
	switch {
	case !(m >= 0) || math.IsInf(m, 1):
		return "distance unknown"
	case m < sameSpot:
		return "on the same spot"
	case m < 97.5:
		return grouped(roundTo(m, 5)) + " m apart"
	case m < 995:
		return grouped(roundTo(m, 10)) + " m apart"
	case m < 9950:
		km := roundTo(m, 100) / 1000
		return strconv.FormatFloat(km, 'f', -1, 64) + " km apart"
	}
	km := m / 1000
	step := 1.0
	if km >= 995 {
		step = 100
	} else if km >= 99.5 {
		step = 10
	}
	return grouped(roundTo(km, step)) + " km apart"
}

func roundTo(v, step float64) float64 { return math.Round(v/step) * step }

// grouped writes a whole number with a comma between thousands.
func grouped(v float64) string {
	digits := strconv.FormatFloat(v, 'f', 0, 64)
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return digits
}
