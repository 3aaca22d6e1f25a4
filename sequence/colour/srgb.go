package colour

import "math"

// The figures of IEC 61966-2-1 from which everything about sRGB here is worked
// out: chromaticities of the primaries and of D65, and the transfer curve. The
// standard's own matrix is rounded to four digits and moves Lab by up to 0.03,
// so the matrix is derived from the chromaticities instead.
var (
	srgbPrimaries = [3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}
	srgbWhite     = [2]float64{0.3127, 0.3290}
)

const (
	curveGamma  = 2.4
	curveOffset = 0.055
	curveSlope  = 12.92
	curveKnee   = 0.04045
	// linearKnee is curveKnee seen from the linear side, as the standard prints it.
	linearKnee = 0.0031308
)

var (
	linearOf = linearTable()
	// srgbToXYZ takes linear sRGB to CIE XYZ, D65, with Y of white = 1.
	srgbToXYZ = primariesToXYZ(srgbPrimaries, srgbWhite)
	// whiteRatios takes linear sRGB to X/Xn, Y/Yn, Z/Zn; its rows sum to 1.
	whiteRatios     = perWhite(srgbToXYZ, srgbWhite)
	fromWhiteRatios = whiteRatios.inverse()
)

// decode undoes the transfer curve: an sRGB channel, 0..1, to linear light.
func decode(v float64) float64 {
	if v <= curveKnee {
		return v / curveSlope
	}
	return math.Pow((v+curveOffset)/(1+curveOffset), curveGamma)
}

// encode applies the transfer curve to linear light.
func encode(v float64) float64 {
	if v <= linearKnee {
		return v * curveSlope
	}
	return (1+curveOffset)*math.Pow(v, 1/curveGamma) - curveOffset
}

func encode8(v float64) uint8 {
	return uint8(math.Round(255 * encode(min(max(v, 0), 1))))
}

func linearTable() (table [256]float64) {
	for i := range table {
		table[i] = decode(float64(i) / 255)
	}
	return table
}

type matrix [3][3]float64

func (m matrix) times(n matrix) (product matrix) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				product[i][j] += m[i][k] * n[k][j]
			}
		}
	}
	return product
}

func (m matrix) apply(v [3]float64) (out [3]float64) {
	for i := range 3 {
		out[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
	}
	return out
}

func (m matrix) inverse() (inv matrix) {
	for i := range 3 {
		for j := range 3 {
			a, b := (j+1)%3, (j+2)%3
			c, d := (i+1)%3, (i+2)%3
			inv[i][j] = m[a][c]*m[b][d] - m[a][d]*m[b][c]
		}
	}
	determinant := m[0][0]*inv[0][0] + m[0][1]*inv[1][0] + m[0][2]*inv[2][0]
	for i := range 3 {
		for j := range 3 {
			inv[i][j] /= determinant
		}
	}
	return inv
}

func diagonal(v [3]float64) matrix {
	return matrix{{v[0], 0, 0}, {0, v[1], 0}, {0, 0, v[2]}}
}

// whiteXYZ gives XYZ of a chromaticity with Y = 1.
func whiteXYZ(xy [2]float64) [3]float64 {
	return [3]float64{xy[0] / xy[1], 1, (1 - xy[0] - xy[1]) / xy[1]}
}

// primariesToXYZ scales each primary so that the three together make the white
// (SMPTE RP 177).
func primariesToXYZ(primaries [3][2]float64, white [2]float64) matrix {
	var columns matrix
	for j, xy := range primaries {
		xyz := whiteXYZ(xy)
		for i := range 3 {
			columns[i][j] = xyz[i]
		}
	}
	return columns.times(diagonal(columns.inverse().apply(whiteXYZ(white))))
}

func perWhite(m matrix, white [2]float64) matrix {
	w := whiteXYZ(white)
	return diagonal([3]float64{1 / w[0], 1 / w[1], 1 / w[2]}).times(m)
}
