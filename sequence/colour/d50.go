package colour

import "math"

// LabD50 is a colour in CIE L*a*b* for D50, 2 degree observer: what instruments
// in a print shop tell (ISO 13655). It is its own type so that it is not taken
// for Lab, which is for D65; where white stays white the two agree on greys and
// differ by a few units on strong colours.
type LabD50 struct {
	L float64 `json:"l"`
	A float64 `json:"a"`
	B float64 `json:"b"`
}

// toD50Ratios takes linear sRGB to X/Xn, Y/Yn, Z/Zn of D50, adapted by Bradford
// as ICC.1 does; its rows sum to 1.
var (
	toD50Ratios   = perD50()
	fromD50Ratios = toD50Ratios.inverse()
)

// perD50 takes D50 from its chromaticity, not as ICC.1 rounds it, so that white
// stays exactly white.
func perD50() matrix {
	white := whiteXYZ([2]float64{0.3457, 0.3585}) // CIE 15
	adapted := adaptation(whiteXYZ(srgbWhite), white).times(srgbToXYZ)
	return diagonal([3]float64{1 / white[0], 1 / white[1], 1 / white[2]}).times(adapted)
}

// D50FromLinear converts linear-light sRGB channels; 1 is white, more than 1 is
// lighter than white.
func D50FromLinear(c [3]float64) LabD50 {
	v := toD50Ratios.apply(c)
	fx, fy, fz := labCurve(v[0]), labCurve(v[1]), labCurve(v[2])
	return LabD50{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}

// Linear returns linear-light sRGB channels, outside 0..1 for a colour outside
// the gamut. It inverts D50FromLinear.
func (c LabD50) Linear() [3]float64 {
	fy := (c.L + 16) / 116
	return fromD50Ratios.apply([3]float64{labCurveInverse(fy + c.A/500), labCurveInverse(fy), labCurveInverse(fy - c.B/200)})
}

// Minus is the shift from d to c.
func (c LabD50) Minus(d LabD50) LabD50 { return LabD50{c.L - d.L, c.A - d.A, c.B - d.B} }

// Plus is c shifted by d.
func (c LabD50) Plus(d LabD50) LabD50 { return LabD50{c.L + d.L, c.A + d.A, c.B + d.B} }

// Chroma is C*ab, the distance from the grey axis.
func (c LabD50) Chroma() float64 { return math.Hypot(c.A, c.B) }

// DeltaE00 is the difference of two such colours, as that of two Lab is: the
// formula asks nothing of the white.
func (c LabD50) DeltaE00(d LabD50) float64 { return DeltaE00(Lab(c), Lab(d)) }

// LinearSRGB undoes the transfer curve of an sRGB channel.
func LinearSRGB(v uint8) float64 { return linearOf[v] }

// EncodeSRGB rounds linear light to an sRGB channel; what lies outside 0..1 is
// clipped.
func EncodeSRGB(v float64) uint8 { return encode8(v) }
