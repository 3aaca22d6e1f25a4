package pixels

import (
	"math"

	"github.com/kovidgoyal/imaging/prism/meta/icc"
)

// steps is how finely the tables of a quick conversion are cut. 4096 is two
// bits finer than the samples of a 10-bit scan; between entries it interpolates.
const steps = 4096

// sums is a quick conversion for spaces in which the channels' shares of light
// add up, as they do for every profile made of three curves and a matrix: the
// light of a colour is that of its red alone, of its green alone and of its
// blue alone. Tables of those three replace the powers and the matrix.
type sums struct {
	shares [3][steps + 2][3]float32 // light in red, green and blue of sRGB, by channel and its value
	curve  [65536]float32           // sRGB's transfer function over light 0..1
}

// quick returns a conversion by tables that agrees with exact to a quarter of
// an 8-bit step, or exact itself where there is none: profiles made of tables
// mix their channels. unclipped must be exact's pipeline without clipping.
//
// Cost: about 12,000 conversions once, and then a twentieth of the time each.
func quick(exact toSRGB, unclipped *icc.Pipeline) toSRGB {
	var s sums
	s.fill(unclipped)
	if !s.agrees(exact) {
		return exact
	}
	return s.convert
}

// fill computes the tables.
func (s *sums) fill(unclipped *icc.Pipeline) {
	dark := lightOf(unclipped, [3]float64{})
	for channel := range s.shares {
		for i := range s.shares[channel] {
			var c [3]float64
			c[channel] = min(float64(i)/steps, 1)
			light := lightOf(unclipped, c)
			for k := range light { // the light of black is counted once, with red
				if channel > 0 {
					light[k] -= dark[k]
				}
				s.shares[channel][i][k] = float32(light[k])
			}
		}
	}
	for i := range s.curve {
		s.curve[i] = float32(encoded(float64(i) / 65535))
	}
}

// lightOf is the linear light of sRGB for a colour, beyond 0..1 where sRGB
// cannot show it.
func lightOf(unclipped *icc.Pipeline, c [3]float64) [3]float64 {
	r, g, b := unclipped.Transform(c[0], c[1], c[2])
	return [3]float64{decoded(r), decoded(g), decoded(b)}
}

// decoded inverts sRGB's transfer function, whose straight part goes on below 0.
func decoded(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

func (s *sums) convert(c *colourIn) (r, g, b float64) {
	var light [3]float32
	for channel := range s.shares {
		at := float32(min(max(c[channel], 0), 1)) * steps
		below := int(at)
		part := at - float32(below)
		low, high := &s.shares[channel][below], &s.shares[channel][below+1]
		light[0] += low[0] + (high[0]-low[0])*part
		light[1] += low[1] + (high[1]-low[1])*part
		light[2] += low[2] + (high[2]-low[2])*part
	}
	return s.seen(light[0]), s.seen(light[1]), s.seen(light[2])
}

func (s *sums) seen(light float32) float64 {
	return float64(s.curve[int(min(max(light, 0), 1)*65535+0.5)])
}

// agrees tries the tables on colours all over the space, between their entries.
func (s *sums) agrees(exact toSRGB) bool {
	const side = 11
	for i := range side * side * side {
		c := colourIn{float64(i%side) / (side - 1), float64(i/side%side) / (side - 1), float64(i/side/side) / (side - 1)}
		for k := range 3 { // off the grid, and denser towards black
			c[k] = c[k] * c[k] * 0.9997
		}
		again := c
		r, g, b := exact(&c)
		x, y, z := s.convert(&again)
		if max(math.Abs(r-x), math.Abs(g-y), math.Abs(b-z)) > 0.25/255 {
			return false
		}
	}
	return true
}
