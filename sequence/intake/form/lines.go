package form

import "math"

// slope is which way and how steeply brightness rises at a pixel, per pixel.
type slope struct{ x, y float32 }

// edge is the steepness from which a pixel counts as edge: a tenth of the way
// from black to white over three pixels of a picture of 400.
const edge = 0.033

// slopesOf takes the slopes of the pixels within a smoothed picture.
func slopesOf(p plane) []slope {
	if p.width < 3 || p.height < 3 {
		return nil
	}
	s := p.smoothed()
	list := make([]slope, 0, (p.width-2)*(p.height-2))
	for y := 1; y < p.height-1; y++ {
		for x := 1; x < p.width-1; x++ {
			i := y*p.width + x
			list = append(list, slope{(s.at[i+1] - s.at[i-1]) / 2, (s.at[i+p.width] - s.at[i-p.width]) / 2})
		}
	}
	return list
}

func (s slope) steepness() float64 { return math.Hypot(float64(s.x), float64(s.y)) }

// detail is the share of pixels that are edge.
func detail(slopes []slope) float64 {
	if len(slopes) == 0 {
		return 0
	}
	edges := 0
	for _, s := range slopes {
		if s.steepness() > edge {
			edges++
		}
	}
	return float64(edges) / float64(len(slopes))
}

// directions shares the edges out over the four ways they can run: level,
// rising to the right, upright, falling to the right. Each edge counts by its
// steepness, and one between two ways for both by its angle; all are 0 when there is no
// edge at all.
func directions(slopes []slope) (shares [4]float64) {
	var sum float64
	for _, s := range slopes {
		steep := s.steepness()
		if steep <= edge {
			continue
		}
		// An edge runs square to its slope. y grows downwards, so an edge that
		// rises to the right has its slope at 45° in these axes.
		angle := math.Atan2(float64(s.y), float64(s.x)) - math.Pi/2
		way := math.Mod(-angle/(math.Pi/4)+16, 4)
		low := int(way)
		part := way - float64(low)
		shares[low%4] += steep * (1 - part)
		shares[(low+1)%4] += steep * part
		sum += steep
	}
	if sum == 0 {
		return [4]float64{}
	}
	for i := range shares {
		shares[i] /= sum
	}
	return shares
}
