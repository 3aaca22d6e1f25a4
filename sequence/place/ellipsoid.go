package place

import "math"

// The WGS84 ellipsoid (NIMA TR8350.2, third edition, table 3.1) and what the
// geodesic formulas make of it; all are exact constant arithmetic.
const (
	equatorial  = 6378137.0         // a, metres
	flattening  = 1 / 298.257223563 // f
	axisRatio   = 1 - flattening    // b/a
	polar       = equatorial * axisRatio
	eccSquared  = flattening * (2 - flattening)        // e²
	ecc2Squared = eccSquared / (axisRatio * axisRatio) // e′²
	thirdFlat   = flattening / (2 - flattening)        // n
)

// turn is an angle held as its sine and cosine, so that nothing is lost near
// the poles, at right angles or in differences of almost equal angles.
type turn struct{ sin, cos float64 }

// turnOf takes degrees. The reduction to ±45° is exact, so multiples of 90°
// come out exact as well.
func turnOf(degrees float64) turn {
	quarters := math.Round(degrees / 90)
	s, c := math.Sincos((degrees - 90*quarters) * (math.Pi / 180))
	switch int(quarters) & 3 {
	case 1:
		return turn{c, -s}
	case 2:
		return turn{-s, -c}
	case 3:
		return turn{-c, s}
	}
	return turn{s, c}
}

func (t turn) radians() float64 { return math.Atan2(t.sin, t.cos) }

// unit scales t to length one.
func (t turn) unit() turn {
	r := math.Sqrt(t.sin*t.sin + t.cos*t.cos)
	return turn{t.sin / r, t.cos / r}
}

func (t turn) plus(u turn) turn {
	return turn{t.sin*u.cos + t.cos*u.sin, t.cos*u.cos - t.sin*u.sin}
}

func (t turn) minus(u turn) turn { return t.plus(turn{-u.sin, u.cos}) }

// reducedLatitude is β with tan β = (1−f) tan φ (Karney 2013, eq. 6).
func reducedLatitude(latitude float64) turn {
	phi := turnOf(latitude)
	return turn{axisRatio * phi.sin, phi.cos}.unit()
}

// stretch is √(1 + e′² sin²β): how much faster arc length grows at reduced
// latitude β than on the auxiliary sphere of radius b.
func stretch(beta turn) float64 {
	return math.Sqrt(1 + ecc2Squared*beta.sin*beta.sin)
}
