package proof

import (
	"math"

	"pairwall/sequence/colour"
)

// camera takes what a camera wrote, in linear sRGB, to what the light was: each
// channel's tones are bent back, then the channels are mixed.
type camera struct {
	curve [3][3]float64 // of the logarithm: constant, slope, bend
	low   [3]float64    // logarithm of the darkest grey
	mix   [3][3]float64
}

// darkest is the linear light below which cameras write noise.
const darkest = 0.0005

var faithful = camera{curve: [3][3]float64{{0, 1, 0}, {0, 1, 0}, {0, 1, 0}}, mix: [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}

func (c camera) light(seen [3]float64) (out [3]float64) {
	if c == faithful {
		return seen
	}
	var bent [3]float64
	for i, v := range seen {
		bent[i] = c.bent(i, v)
	}
	for i := range out {
		for j := range 3 {
			out[i] += c.mix[i][j] * bent[j]
		}
	}
	return out
}

// bent bends one channel back: below the darkest grey of the target along the
// tangent there, because a curve of the second order runs wild beyond what it
// was fitted to, and below darkest in proportion, so that black stays black.
func (c camera) bent(channel int, v float64) float64 {
	k, low := c.curve[channel], c.low[channel]
	at := func(l float64) float64 {
		if l < low {
			return math.Exp(k[0] + k[1]*l + k[2]*low*(2*l-low))
		}
		return math.Exp(k[0] + k[1]*l + k[2]*l*l)
	}
	if v < darkest {
		return v / darkest * at(math.Log(darkest))
	}
	return at(math.Log(v))
}

// calibrated fits a camera to the patches of the target as it saw them, together
// with a slope of the light over the target, which would otherwise bend the
// tones: greys give the curves, all patches the mix and the slope. rest is the
// mean ΔE00 that is left of the patches that
// a file can hold.
func calibrated(seen [24][3]float64, edition Edition) (c camera, rest float64) {
	var want [24][3]float64
	for i := range want {
		want[i] = edition.Lab(i).Linear()
	}
	var slope [2]float64 // of the logarithm of light, per patch across and down
	for range 8 {
		var lit [24][3]float64
		for i := range lit {
			k := math.Exp(slope[0]*across(i) + slope[1]*down(i))
			for j := range 3 {
				lit[i][j] = want[i][j] * k
			}
		}
		c.curve = tonesOf(seen, lit)
		for j := range 3 {
			c.low[j] = math.Log(max(seen[23][j], darkest))
		}
		c.mix = [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
		c.mix = mixOf(c, seen, lit)
		slope[0], slope[1] = slopeOf(c, seen, want)
	}
	counting := 0.0
	for i := range seen {
		if !held(want[i]) {
			continue
		}
		k := math.Exp(-slope[0]*across(i) - slope[1]*down(i))
		got := c.light(seen[i])
		for j := range got {
			got[j] *= k
		}
		rest += colour.D50FromLinear(got).DeltaE00(edition.Lab(i))
		counting++
	}
	return c, rest / counting
}

// held tells whether an sRGB file can hold a colour; of the target all but cyan.
// What a file shows in its place is another colour, and no camera's doing.
func held(c [3]float64) bool { return min(c[0], c[1], c[2]) >= 0 }

func across(patch int) float64 { return float64(patch%6) - 2.5 }
func down(patch int) float64   { return float64(patch/6) - 1.5 }

// tonesOf fits the curves to the six greys. Cameras bend all channels by about
// one curve, so slope and bend are sought of all three together, and each may
// only lean a little from that: six greys that a JPEG has rounded would give
// each channel a cast of its own. A grey counts by how finely a file tells it.
func tonesOf(seen, lit [24][3]float64) (curves [3][3]float64) {
	type point struct{ fine, l, v float64 }
	var greys [3][]point
	var means [3][4]float64 // of fine, l, l², v
	for c := range 3 {
		for i := 18; i < 24; i++ {
			p := point{math.Pow(seen[i][c], 1/2.2), math.Log(max(seen[i][c], darkest)), math.Log(max(lit[i][c], darkest))}
			greys[c] = append(greys[c], p)
			for k, v := range [4]float64{1, p.l, p.l * p.l, p.v} {
				means[c][k] += p.fine * v
			}
		}
	}
	m := [3][4]float64{{1e-4, 0, 0, 1e-4}, {0, 3e-3, 0, 0}, {0, 0, 1, 0}} // the third unknown is not used
	for c, points := range greys {
		w := means[c][0]
		for _, p := range points {
			row := [3]float64{p.l - means[c][1]/w, p.l*p.l - means[c][2]/w, p.v - means[c][3]/w}
			for r := range 2 {
				for k := range 2 {
					m[r][k] += p.fine * row[r] * row[k]
				}
				m[r][3] += p.fine * row[r] * row[2]
			}
		}
	}
	slope, bend := solved3(m)[0], solved3(m)[1]
	for c, points := range greys {
		w := means[c][0]
		lean, held := 0.0, 16.0 // several times what the greys themselves weigh
		for _, p := range points {
			l := p.l - means[c][1]/w
			rest := p.v - means[c][3]/w - slope*l - bend*(p.l*p.l-means[c][2]/w)
			lean, held = lean+p.fine*l*rest, held+p.fine*l*l
		}
		lean /= held
		curves[c] = [3]float64{(means[c][3] - (slope+lean)*means[c][1] - bend*means[c][2]) / w, slope + lean, bend}
	}
	return curves
}

// mixOf fits the matrix, each row to all patches but those that no sRGB file can
// hold; a patch counts by how small an error in it is seen. Rows sum to 1, so
// that greys stay as their curves made them.
func mixOf(c camera, seen, lit [24][3]float64) (mix [3][3]float64) {
	for channel := range 3 {
		others := [2]int{(channel + 1) % 3, (channel + 2) % 3}
		m := [3][4]float64{{1e-3}, {0, 1e-3}, {0, 0, 1}} // the third unknown is not used
		for i := range seen {
			if lit[i][channel] < 0 {
				continue
			}
			from := c.light(seen[i])
			weight := 1 / (0.05 + math.Abs(lit[i][channel]))
			row := [3]float64{from[others[0]] - from[channel], from[others[1]] - from[channel], lit[i][channel] - from[channel]}
			for r := range 2 {
				for k := range 2 {
					m[r][k] += weight * row[r] * row[k]
				}
				m[r][3] += weight * row[r] * row[2]
			}
		}
		s := solved3(m)
		mix[channel][channel] = 1 - s[0] - s[1]
		mix[channel][others[0]], mix[channel][others[1]] = s[0], s[1]
	}
	return mix
}

// slopeOf fits the slope of light over the target to the luminances of patches
// that a file can hold.
func slopeOf(c camera, seen, want [24][3]float64) (x, y float64) {
	var m [3][4]float64
	m[1][1], m[2][2] = 1e-3, 1e-3
	for i := range seen {
		got, target := luminance(c.light(seen[i])), luminance(want[i])
		if got <= 0 || !held(want[i]) {
			continue
		}
		row := [4]float64{1, across(i), down(i), math.Log(got / target)}
		for r := range 3 {
			for k := range 4 {
				m[r][k] += row[r] * row[k]
			}
		}
	}
	s := solved3(m)
	return s[1], s[2]
}

func luminance(c [3]float64) float64 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

// solved3 solves three equations given with their right sides.
func solved3(m [3][4]float64) (x [3]float64) {
	for i := range 3 {
		best := i
		for r := i + 1; r < 3; r++ {
			if math.Abs(m[r][i]) > math.Abs(m[best][i]) {
				best = r
			}
		}
		m[i], m[best] = m[best], m[i]
		for r := i + 1; r < 3; r++ {
			k := m[r][i] / m[i][i]
			for c := i; c < 4; c++ {
				m[r][c] -= k * m[i][c]
			}
		}
	}
	for i := 2; i >= 0; i-- {
		x[i] = m[i][3]
		for c := i + 1; c < 3; c++ {
			x[i] -= m[i][c] * x[c]
		}
		x[i] /= m[i][i]
	}
	return x
}
