package sun

import (
	"math"
	"time"

	"pairwall/sequence/place"
)

// Height returns how many degrees the middle of the sun stands above the level
// horizon, refraction left out, and whether it is before it stands highest. wall
// is the clock where the picture was taken, offset its minutes east of UTC.
//
// The low-accuracy series of J. Meeus, "Astronomical Algorithms", 2nd ed. 1998,
// chapters 22 and 25, as the NOAA solar calculator uses it; to 0.01° or so between
// 1900 and 2100, far finer than light can be told apart.
func Height(at place.LatLng, wall time.Time, offset int) (degrees float64, rising bool) {
	universal := wall.Add(-time.Duration(offset) * time.Minute)
	const unixEpoch, j2000 = 2440587.5, 2451545.0
	julian := unixEpoch + float64(universal.UnixMilli())/86_400_000
	t := (julian - j2000) / 36525 // Julian centuries

	sin := func(d float64) float64 { return math.Sin(d * math.Pi / 180) }
	cos := func(d float64) float64 { return math.Cos(d * math.Pi / 180) }
	longitude := 280.46646 + t*(36000.76983+t*0.0003032) // mean, of the sun
	anomaly := 357.52911 + t*(35999.05029-t*0.0001537)
	centre := sin(anomaly)*(1.914602-t*(0.004817+t*0.000014)) +
		sin(2*anomaly)*(0.019993-t*0.000101) + sin(3*anomaly)*0.000289
	node := 125.04 - 1934.136*t
	apparent := longitude + centre - 0.00569 - 0.00478*sin(node)
	tilt := 23.43929111 - t*(0.013004167+t*(0.0000001639-t*0.0000005036)) + 0.00256*cos(node)

	declination := math.Asin(sin(tilt) * sin(apparent))
	ascension := math.Atan2(cos(tilt)*sin(apparent), cos(apparent)) * 180 / math.Pi
	// Mean sidereal time at Greenwich, degrees (chapter 12).
	sidereal := 280.46061837 + 360.98564736629*(julian-j2000) + t*t*0.000387933
	hour := math.Remainder(sidereal+at.Lng-ascension, 360)
	height := math.Asin(sin(at.Lat)*math.Sin(declination) + cos(at.Lat)*math.Cos(declination)*cos(hour))
	return height * 180 / math.Pi, hour < 0
}
