package colour

import (
	"math"

	"github.com/lucasb-eyer/go-colorful"
)

// Lab is a colour in CIE L*a*b* (CIE 15), white point D65, 2 degree observer.
// L runs from 0 (black) to 100 (white); A (green to red) and B (blue to yellow)
// stay within about ±110 for colours an sRGB screen can show.
type Lab struct {
	L float64 `json:"l"`
	A float64 `json:"a"`
	B float64 `json:"b"`
}

// CIE 15 gives these two as exact fractions: where the cube root meets the
// straight line near black, and that line's slope.
const (
	labKnee  = 216.0 / 24389
	labSlope = 24389.0 / 27
)

// FromSRGB converts one sRGB pixel (IEC 61966-2-1). Equal channels give A and B
// of exactly 0, and white an L of exactly 100.
func FromSRGB(r, g, b uint8) Lab {
	return fromLinear(linearOf[r], linearOf[g], linearOf[b])
}

// SRGB returns the sRGB pixel for c, each channel rounded; where c lies outside
// the gamut its linear channels are clipped. It inverts FromSRGB exactly.
func (c Lab) SRGB() (r, g, b uint8) {
	lr, lg, lb := c.linear()
	return encode8(lr), encode8(lg), encode8(lb)
}

// FromColorful converts from go-colorful's type, whose channels are sRGB, 0..1.
// The conversion is ours, not go-colorful's: its white point is rounded
// differently, so that its greys carry a trace of colour (below 0.02).
func FromColorful(c colorful.Color) Lab {
	return fromLinear(decode(c.R), decode(c.G), decode(c.B))
}

// Colorful converts to go-colorful's type. Channels of a colour outside the
// sRGB gamut lie outside 0..1, so that FromColorful gives c back.
func (c Lab) Colorful() colorful.Color {
	r, g, b := c.linear()
	return colorful.Color{R: encode(r), G: encode(g), B: encode(b)}
}

// Chroma is C*ab, the distance from the grey axis: 0 for a grey, about 130 for
// the strongest sRGB blue.
func (c Lab) Chroma() float64 { return math.Sqrt(c.A*c.A + c.B*c.B) }

// Hue is the hue angle h_ab in degrees, 0 <= h < 360; 0 for a grey.
func (c Lab) Hue() float64 {
	h := math.Atan2(c.B, c.A) * (180 / math.Pi)
	if h < 0 {
		h += 360
	}
	// An angle a rounding error below zero would otherwise come out as 360.
	if h >= 360 {
		return 0
	}
	return h
}

// fromLinear converts linear-light sRGB channels, 0..1. Each row of the matrix
// sums to 1 once divided by the white point, so X/Xn can be written as g plus
// differences: that saves a third of the products and keeps greys exact.
func fromLinear(r, g, b float64) Lab {
	rg, bg := r-g, b-g
	return FromRatios(
		g+whiteRatios[0][0]*rg+whiteRatios[0][2]*bg,
		g+whiteRatios[1][0]*rg+whiteRatios[1][2]*bg,
		g+whiteRatios[2][0]*rg+whiteRatios[2][2]*bg)
}

func (c Lab) linear() (r, g, b float64) {
	x, y, z := c.Ratios()
	xy, zy := x-y, z-y
	r = y + fromWhiteRatios[0][0]*xy + fromWhiteRatios[0][2]*zy
	g = y + fromWhiteRatios[1][0]*xy + fromWhiteRatios[1][2]*zy
	b = y + fromWhiteRatios[2][0]*xy + fromWhiteRatios[2][2]*zy
	return r, g, b
}

// StepOfLight is how light the eye sees linear light beside white: the function f
// of CIE L*a*b* (CIE 15:2004, 8.2.1.1), continued as a line below nothing.
func StepOfLight(t float64) float64 {
	if t > labKnee {
		return math.Cbrt(t)
	}
	return (labSlope*t + 16) / 116
}

// LightOfStep inverts StepOfLight.
func LightOfStep(f float64) float64 {
	if cube := f * f * f; cube > labKnee {
		return cube
	}
	return (116*f - 16) / labSlope
}

// Ratios are X/Xn, Y/Yn and Z/Zn, light beside the white the colour is counted
// from (CIE 15).
func (c Lab) Ratios() (x, y, z float64) {
	fy := (c.L + 16) / 116
	return LightOfStep(fy + c.A/500), LightOfStep(fy), LightOfStep(fy - c.B/200)
}

// FromRatios is the colour of such light; it inverts Ratios.
func FromRatios(x, y, z float64) Lab {
	fx, fy, fz := StepOfLight(x), StepOfLight(y), StepOfLight(z)
	return Lab{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}
