package colour

import (
	"image"
	"math"
	"slices"
)

// Tone sums up lightness and colourfulness of a picture, seen from far enough
// for its grain to vanish.
type Tone struct {
	// L* of the picture, 0..100: mean, standard deviation, 5th and 95th
	// percentile.
	Mean      float64 `json:"mean"`
	Deviation float64 `json:"deviation"`
	Dark      float64 `json:"dark"`
	Light     float64 `json:"light"`
	// Chroma is the mean C*ab.
	Chroma float64 `json:"chroma"`
	// Monochrome is true of black and white, toned prints included.
	Monochrome bool `json:"monochrome"`
	// Lights says how L* is spread: the share of the picture in each of sixteen
	// equal steps from 0 to 100, rounded to 0.0001. All 0 where it was measured
	// by an edition that did not count them.
	Lights [LightSteps]float64 `json:"lights,omitzero"`
}

// LightSteps is how many steps of L* Tone.Lights counts.
const LightSteps = 16

// Known reports whether anything was measured.
func (t Tone) Known() bool { return t != Tone{} && t != Tone{Monochrome: true} }

// Spread is Lights, or where they were not counted those of a normal
// distribution with the tone's mean and deviation. They sum to 1.
func (t Tone) Spread() [LightSteps]float64 {
	spread, sum := t.Lights, 0.0
	for _, share := range spread {
		sum += share
	}
	if !(sum > 0) {
		sum = 0
		deviation := max(t.Deviation, 1)
		below := func(l float64) float64 { return (1 + math.Erf((l-t.Mean)/(deviation*math.Sqrt2))) / 2 }
		for k := range spread {
			spread[k] = below(float64(k+1)*lightStep) - below(float64(k)*lightStep)
			sum += spread[k]
		}
	}
	if !(sum > 0) {
		return [LightSteps]float64{}
	}
	for k := range spread {
		spread[k] /= sum
	}
	return spread
}

const lightStep = 100.0 / LightSteps

// ToneDistance is how far, on average, the lights and darks of one picture must
// be moved to become those of the other, in L*: the earth mover's distance on one
// scale, which is the area between the two cumulated spreads. 0 for equal
// spreads, symmetric, at most 100.
func ToneDistance(p, q [LightSteps]float64) float64 {
	var ahead, sum float64
	for k := range p {
		ahead += p[k] - q[k]
		sum += math.Abs(ahead)
	}
	return sum * lightStep
}

// Measure returns palette and tone of a picture of sRGB pixels, from one set of
// samples. A picture without pixels has neither: nil and the zero Tone.
func Measure(img image.Image) (Palette, Tone) {
	cells := samples(img)
	return extract(cells), toneOf(cells)
}

func toneOf(cells []Lab) Tone {
	if len(cells) == 0 {
		return Tone{}
	}
	n := float64(len(cells))
	lights := make([]float64, len(cells))
	var tone Tone
	for i, c := range cells {
		lights[i] = c.L
		tone.Mean += c.L
		tone.Chroma += c.Chroma()
		tone.Lights[min(max(int(c.L/lightStep), 0), LightSteps-1)]++
	}
	for k := range tone.Lights {
		tone.Lights[k] = math.Round(tone.Lights[k]/n*1e4) / 1e4
	}
	tone.Mean /= n
	tone.Chroma /= n
	for _, l := range lights {
		tone.Deviation += (l - tone.Mean) * (l - tone.Mean)
	}
	tone.Deviation = math.Sqrt(tone.Deviation / n)
	slices.Sort(lights)
	tone.Dark, tone.Light = percentile(lights, 0.05), percentile(lights, 0.95)
	tone.Monochrome = monochrome(cells)
	return tone
}

// percentile is the nearest-rank percentile of sorted values.
func percentile(sorted []float64, share float64) float64 {
	rank := int(math.Ceil(share * float64(len(sorted))))
	return sorted[max(rank, 1)-1]
}

// monochrome tells black and white, toned or not, from colour: at each lightness
// the picture has one colour only, and that is nowhere stronger than the toning
// baths of the trade make it: the deepest Prussian blue of a cyanotype reaches a
// chroma of about 60 (from memory).
//
// The colour of a toned print runs through its lightness, steeply where the bath
// is strong; so colours are held against a line through those of about the same
// lightness, and not against their mean.
//
// Measured on 40 real photographs: in colour they stray by 2.6 (a white marble
// front) to 37; toned lightly by at most 0.6, in strong sepia by at most 0.6, as a
// deep cyanotype by at most 1.1. Fog in a single hue can pass for a toned print.
func monochrome(cells []Lab) bool {
	const (
		toned    = 65.0
		strong   = 0.02 // share of cells that may be stronger, such as a date stamp
		straying = 1.8
	)
	stronger := 0
	for _, c := range cells {
		if c.Chroma() > toned {
			stronger++
		}
	}
	return float64(stronger) <= strong*float64(len(cells)) && strays(cells) < straying
}

// strays is how far, root mean square, the colours of cells lie from one colour
// at each lightness: from lines through a* and b* over L*, one in each of twelve
// bands. O(len(cells)).
func strays(cells []Lab) float64 {
	const (
		toneBands  = 12
		bandHeight = 100.0 / toneBands
	)
	var bands [toneBands]run
	for _, c := range cells {
		bands[min(max(int(c.L/bandHeight), 0), toneBands-1)].add(c)
	}
	sum := 0.0
	for _, r := range bands {
		sum += r.rest()
	}
	return math.Sqrt(sum / float64(len(cells)))
}

// run sums up the colours of one band: counts, sums and products.
type run struct{ n, l, ll, a, aa, la, b, bb, lb float64 }

func (r *run) add(c Lab) {
	r.n++
	r.l, r.ll = r.l+c.L, r.ll+c.L*c.L
	r.a, r.aa, r.la = r.a+c.A, r.aa+c.A*c.A, r.la+c.L*c.A
	r.b, r.bb, r.lb = r.b+c.B, r.bb+c.B*c.B, r.lb+c.L*c.B
}

// steepest is how much the colour of a toned print can change with L*. Two
// colours of a scene would be joined by a line as well, but by a steeper one.
const steepest = 4.0

// rest is the sum of squares that lines of best fit leave of a* and b*: that of
// the deviations, less what goes with L*.
func (r run) rest() float64 {
	if r.n == 0 {
		return 0
	}
	rest := max(r.aa-r.a*r.a/r.n, 0) + max(r.bb-r.b*r.b/r.n, 0)
	if light := r.ll - r.l*r.l/r.n; light > 1e-6*r.n {
		a, b := (r.la-r.l*r.a/r.n)/light, (r.lb-r.l*r.b/r.n)/light
		if math.Hypot(a, b) < steepest {
			rest -= (a*a + b*b) * light
		}
	}
	return max(rest, 0)
}
