package track

import (
	"math"

	"pairwall/sequence/place"
)

// The WGS84 ellipsoid (NIMA TR8350.2, third edition, table 3.1).
const (
	equatorial = 6378137.0 // metres
	flattening = 1 / 298.257223563
	axisRatio  = 1 - flattening
	polar      = equatorial * axisRatio
)

// along is the point that lies the given share, 0..1, of the way from a to b on
// the shortest path between them.
func along(a, b place.LatLng, share float64) place.LatLng {
	switch length := place.Distance(a, b); {
	case share <= 0 || length == 0:
		return a
	case share >= 1:
		return b
	default:
		return ahead(a, place.Direction(a, b), share*length)
	}
}

// ahead solves the direct problem after T. Vincenty, "Direct and inverse
// solutions of geodesics on the ellipsoid with application of nested equations",
// Survey Review XXIII:176, 1975, eqs. 1–11 (numbers from memory; the figures are
// held to GeographicLib). Unlike his inverse it converges for every input.
// Deviation: sines and cosines of the reduced latitude instead of its tangent,
// so that poles need no case of their own. azimuth in degrees, metres ≥ 0.
func ahead(from place.LatLng, azimuth, metres float64) place.LatLng {
	sinA1, cosA1 := math.Sincos(azimuth * (math.Pi / 180))
	sinU, cosU := math.Sincos(from.Lat * (math.Pi / 180))
	sinU *= axisRatio
	norm := math.Hypot(sinU, cosU)
	sinU, cosU = sinU/norm, cosU/norm

	sigma1 := math.Atan2(sinU, cosU*cosA1)
	sinA := cosU * sinA1
	cos2A := 1 - sinA*sinA
	u2 := cos2A * (1 - axisRatio*axisRatio) / (axisRatio * axisRatio)
	scale := 1 + u2/16384*(4096+u2*(-768+u2*(320-175*u2)))
	wave := u2 / 1024 * (256 + u2*(-128+u2*(74-47*u2)))

	first := metres / (polar * scale)
	sigma := first
	var sin, cos, mid float64 // of σ, and cos 2σm
	const rounds, settled = 20, 1e-15
	for range rounds {
		sin, cos = math.Sincos(sigma)
		mid = math.Cos(2*sigma1 + sigma)
		shift := wave * sin * (mid + wave/4*(cos*(2*mid*mid-1)-
			wave/6*mid*(4*sin*sin-3)*(4*mid*mid-3)))
		before := sigma
		if sigma = first + shift; math.Abs(sigma-before) <= settled {
			break
		}
	}
	sin, cos = math.Sincos(sigma)
	mid = math.Cos(2*sigma1 + sigma)

	back := sinU*sin - cosU*cos*cosA1
	lat := math.Atan2(sinU*cos+cosU*sin*cosA1, axisRatio*math.Hypot(sinA, back))
	lambda := math.Atan2(sin*sinA1, cosU*cos-sinU*sin*cosA1)
	c := flattening / 16 * cos2A * (4 + flattening*(4-3*cos2A))
	lng := lambda - (1-c)*flattening*sinA*(sigma+c*sin*(mid+c*cos*(2*mid*mid-1)))
	return place.LatLng{
		Lat: lat * (180 / math.Pi),
		Lng: math.Remainder(from.Lng+lng*(180/math.Pi), 360),
	}
}

// vector is a position in metres from the earth's centre, or a velocity.
type vector struct{ x, y, z float64 }

// inSpace puts p on the ellipsoid. Straight lines between such points stand for
// the way where thousands of offsets are tried: over the five minutes that one
// leg may last, a train's line dips 2 m below the ground.
func inSpace(p place.LatLng) vector {
	sin, cos := math.Sincos(p.Lat * (math.Pi / 180))
	sinL, cosL := math.Sincos(p.Lng * (math.Pi / 180))
	n := equatorial / math.Sqrt(1-flattening*(2-flattening)*sin*sin)
	return vector{n * cos * cosL, n * cos * sinL, n * axisRatio * axisRatio * sin}
}

func (v vector) minus(w vector) vector { return vector{v.x - w.x, v.y - w.y, v.z - w.z} }

func (v vector) times(f float64) vector { return vector{v.x * f, v.y * f, v.z * f} }

func (v vector) dot(w vector) float64 { return v.x*w.x + v.y*w.y + v.z*w.z }

func (v vector) length() float64 { return math.Sqrt(v.dot(v)) }
