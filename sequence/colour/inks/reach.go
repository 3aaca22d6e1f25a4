package inks

import "pairwall/sequence/colour"

// Reach knows of every sRGB colour how far the inks miss it and how much ink
// it takes: worked out on a grid of 33 steps each way, and in between by
// trilinear interpolation, so that a picture of millions of pixels takes a
// moment.
type Reach struct {
	grid [steps * steps * steps]reached
}

type reached struct{ missed, ink float32 }

const steps = 33

// Visible is the difference from which a miss is worth telling, ΔE00. A just
// noticeable ΔE*ab is about 2.3 (the table of sources); beside that 3 is from
// memory.
const Visible = 3

// Reach works the table out.
//
// Complexity: 35,937 colours there and back.
func (p *Profile) Reach() *Reach {
	r := new(Reach)
	black := p.Lab(p.Of(colour.Lab{}))
	level := func(i int) uint8 { return uint8((i*255 + (steps-1)/2) / (steps - 1)) }
	at := 0
	for red := range steps {
		for green := range steps {
			for blue := range steps {
				wanted := colour.UnderD50(level(red), level(green), level(blue))
				k := p.Of(wanted)
				r.grid[at] = reached{float32(colour.DeltaE00(compensated(wanted, black.L), p.Lab(k))), float32(k.Sum())}
				at++
			}
		}
	}
	return r
}

// compensated is what black point compensation makes of a colour: light scaled
// so that black becomes the darkest the inks can do (ISO 18619). Deep shadows
// are lighter on every paper; that is no colour out of reach.
func compensated(c colour.Lab, blackL float64) colour.Lab {
	x, y, z := c.Ratios()
	_, black, _ := colour.Lab{L: blackL}.Ratios()
	scaled := func(v float64) float64 { return v*(1-black) + black }
	return colour.FromRatios(scaled(x), scaled(y), scaled(z))
}

// Of tells how far the inks miss an sRGB colour, ΔE00, and how much ink it
// takes, 0..4.
func (r *Reach) Of(red, green, blue uint8) (missed, ink float64) {
	var low [3]int
	var part [3]float32
	for i, v := range [3]uint8{red, green, blue} {
		scaled := float32(v) * (steps - 1) / 255
		low[i] = min(int(scaled), steps-2)
		part[i] = scaled - float32(low[i])
	}
	var sum reached
	for corner := range 8 {
		weight, at := float32(1), 0
		for i := range 3 {
			up := corner >> i & 1
			at = at*steps + low[i] + up
			if up == 1 {
				weight *= part[i]
			} else {
				weight *= 1 - part[i]
			}
		}
		sum.missed += weight * r.grid[at].missed
		sum.ink += weight * r.grid[at].ink
	}
	return float64(sum.missed), float64(sum.ink)
}
