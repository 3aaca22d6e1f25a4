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

var fromPrinters = matrix(printersRows).inverse()

// D50FromLinear converts linear-light sRGB channels; 1 is white, more than 1 is
// lighter than white. The white is adapted to as UnderD50 says.
func D50FromLinear(light [3]float64) LabD50 {
	var f [3]float64 // beside white
	for i, row := range printersRows {
		// As in fromLinear: rows sum to 1, so that greys stay exact.
		f[i] = light[1] + row[0]*(light[0]-light[1]) + row[2]*(light[2]-light[1])
	}
	return LabD50(FromRatios(f[0], f[1], f[2]))
}

// Linear returns linear-light sRGB channels, outside 0..1 for a colour outside
// the gamut. It inverts D50FromLinear.
func (c LabD50) Linear() [3]float64 {
	fy := (c.L + 16) / 116
	return fromPrinters.apply([3]float64{LightOfStep(fy + c.A/500), LightOfStep(fy), LightOfStep(fy - c.B/200)})
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
