package pixels

import (
	"bytes"
	"math"

	"github.com/kovidgoyal/imaging/prism/meta/icc"

	"pairwall/sequence/colour"
	"pairwall/sequence/colour/inks"
	"pairwall/sequence/intake/header"
)

// toInks converts to the four inks of a press: relative colorimetric with black
// point compensation, as printing programs commonly do. Colours that come with a
// profile go from it to the inks directly; others are sRGB first.
//
// A grid of colours is converted exactly and the rest interpolated between them,
// as colour management commonly does: 33 steps a channel, 17 with four of them.
func toInks(from lines, h header.Header, own []byte, press *inks.Profile) (toPlate, error) {
	if own != nil {
		if exact, err := between(own, press, from.colours); err == nil {
			return gridOf(exact, from.colours), nil
		}
	}
	exact, err := between(colour.SRGBProfile(), press, 3)
	if err != nil {
		return nil, err
	}
	space, err := spaceOfLines(h, from)
	if err != nil {
		return nil, err
	}
	return gridOf(func(c *colourIn) {
		if space.convert != nil {
			c[0], c[1], c[2] = space.convert(c)
		}
		exact(c)
	}, from.colours), nil
}

// between is the exact conversion from a profile to a press.
func between(own []byte, press *inks.Profile, channels int) (exact toPlate, err error) {
	defer func() {
		if recover() != nil {
			exact, err = nil, errTornProfile
		}
	}()
	p, err := icc.DecodeProfile(bytes.NewReader(own))
	if err != nil {
		return nil, err
	}
	meeting, err := p.CreateTransformerToPCS(icc.RelativeColorimetricRenderingIntent, channels, true)
	if err != nil {
		return nil, err
	}
	toLab := icc.NewXYZtoLAB(p.PCSIlluminant).Transform
	if p.Header.ProfileConnectionSpace == icc.ColorSpaceLab {
		toLab = func(l, a, b float64) (float64, float64, float64) { return l, a, b }
	}
	return func(c *colourIn) {
		var in, out [8]float64
		copy(in[:], c[:channels])
		meeting.TransformGeneral(out[:], in[:])
		var lab colour.Lab
		lab.L, lab.A, lab.B = toLab(out[0], out[1], out[2])
		k := press.Of(lab)
		copy(c[:4], k[:])
	}, nil
}

// grid interpolates a conversion to four channels between steps points a
// channel.
type grid struct {
	channels, steps int
	nodes           [][4]float32
}

// gridOf converts the nodes of a grid.
func gridOf(exact toPlate, channels int) toPlate {
	g := grid{channels: channels, steps: map[int]int{1: 256, 3: 33, 4: 17}[channels]}
	count := int(math.Pow(float64(g.steps), float64(channels)))
	g.nodes = make([][4]float32, count)
	for i := range g.nodes {
		var c colourIn
		for k, rest := channels-1, i; k >= 0; k, rest = k-1, rest/g.steps {
			c[k] = float64(rest%g.steps) / float64(g.steps-1)
		}
		exact(&c)
		for k := range 4 {
			g.nodes[i][k] = float32(c[k])
		}
	}
	return g.convert
}

// convert interpolates linearly along every channel.
func (g grid) convert(c *colourIn) {
	var corners [16]int
	var shares [16]float32
	corners[0], shares[0] = 0, 1
	n := 1
	for k := range g.channels {
		at := min(max(c[k], 0), 1) * float64(g.steps-1)
		below := min(int(at), g.steps-2)
		part := float32(at - float64(below))
		for i := range n {
			node := corners[i]*g.steps + below
			corners[i+n], shares[i+n] = node+1, shares[i]*part
			corners[i], shares[i] = node, shares[i]*(1-part)
		}
		n *= 2
	}
	var sum [4]float32
	for i := range n {
		node := &g.nodes[corners[i]]
		for k := range sum {
			sum[k] += shares[i] * node[k]
		}
	}
	for k := range sum {
		c[k] = float64(sum[k])
	}
}
