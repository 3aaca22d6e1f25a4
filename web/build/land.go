package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
)

// topology is what the land of world-atlas uses of TopoJSON 1.0: arcs of
// quantised steps, and polygons that name them.
type topology struct {
	Objects struct {
		Land struct {
			Geometries []struct {
				Arcs [][][]int `json:"arcs"` // polygons of rings of arcs; ^i is arc i backwards
			} `json:"geometries"`
		} `json:"land"`
	} `json:"objects"`
	Transform struct {
		Scale, Translate [2]float64
	} `json:"transform"`
	Arcs [][][2]int `json:"arcs"`
}

// The outline's plane: Mercator on a sphere (Snyder, Map Projections: A Working
// Manual, equations 7-1 and 7-2), scaled so that the equator is so many units
// round. One unit is 1.2 km on the equator.
const (
	worldWidth = 32768
	farNorth   = 85.0511287798 // degrees: there the map is square

	// A point whose triangle with its neighbours is smaller than this is left out
	// (Visvalingam and Whyatt 1993), and so is an island: both in square units as
	// they are on the equator, because Mercator swells what lies near the poles.
	leastTriangle = 4
	leastIsland   = 3
)

type spot struct{ x, y float64 }

// writeLand turns land-50m.json of the npm package world-atlas into the outline.
func writeLand(from, to string) error {
	text, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	var world topology
	if err := json.Unmarshal(text, &world); err != nil {
		return fmt.Errorf("%s: %w", from, err)
	}
	if len(world.Objects.Land.Geometries) == 0 {
		return errors.New(from + " holds no land")
	}
	arcs := world.project()
	var path strings.Builder
	for _, geometry := range world.Objects.Land.Geometries {
		for _, polygon := range geometry.Arcs {
			for _, ring := range polygon {
				writeRing(&path, simplified(unrolled(joined(arcs, ring))))
			}
		}
	}
	return os.WriteFile(to, []byte(path.String()), 0o644)
}

// project gives every arc in units of the plane, y downwards from the north.
func (t *topology) project() [][]spot {
	arcs := make([][]spot, len(t.Arcs))
	for i, arc := range t.Arcs {
		x, y := 0, 0
		for _, step := range arc {
			x, y = x+step[0], y+step[1]
			lng := float64(x)*t.Transform.Scale[0] + t.Transform.Translate[0]
			lat := float64(y)*t.Transform.Scale[1] + t.Transform.Translate[1]
			arcs[i] = append(arcs[i], mercator(lat, lng))
		}
	}
	return arcs
}

func mercator(lat, lng float64) spot {
	lat = max(-farNorth, min(farNorth, lat)) * math.Pi / 180
	return spot{
		x: (lng + 180) / 360 * worldWidth,
		y: (0.5 - math.Log(math.Tan(math.Pi/4+lat/2))/(2*math.Pi)) * worldWidth,
	}
}

// joined follows the arcs of a ring; each begins where the one before ends.
func joined(arcs [][]spot, ring []int) []spot {
	var points []spot
	for _, i := range ring {
		arc := arcs[max(i, ^i)]
		if i < 0 {
			arc = slices.Clone(arc)
			slices.Reverse(arc)
		}
		if len(points) > 0 {
			arc = arc[1:]
		}
		points = append(points, arc...)
	}
	return points
}

// unrolled lets a ring that crosses the date line go on over the map's edge.
// One that runs all round a pole is closed along the map's lower edge.
func unrolled(ring []spot) []spot {
	for i := 1; i < len(ring); i++ {
		ring[i].x += worldWidth * math.Round((ring[i-1].x-ring[i].x)/worldWidth)
	}
	first, last := ring[0], ring[len(ring)-1]
	if math.Abs(last.x-first.x) > worldWidth/2 {
		ring = append(ring, spot{last.x, worldWidth}, spot{first.x, worldWidth}, first)
	}
	return ring
}

// simplified leaves out the points that matter least, one after the other. The
// whole of it is quadratic in the worst case, which for one outline is nothing.
func simplified(ring []spot) []spot {
	if len(ring) > 1 {
		ring = ring[:len(ring)-1] // the last is the first again
	}
	if len(ring) == 0 || trueArea(ring) < leastIsland {
		return nil
	}
	for len(ring) > 3 {
		sizes := make([]float64, len(ring))
		for i, p := range ring {
			sizes[i] = trueArea([]spot{ring[(i+len(ring)-1)%len(ring)], p, ring[(i+1)%len(ring)]})
		}
		limit := min(leastTriangle, slices.Min(sizes)*1.5+1e-9)
		kept := ring[:0:0]
		for i, p := range ring {
			left := i > 0 && len(kept) < i // never two neighbours at once
			if sizes[i] < limit && !(left && sizes[i-1] < limit) {
				continue
			}
			kept = append(kept, p)
		}
		if len(kept) == len(ring) || len(kept) < 3 {
			break
		}
		ring = kept
	}
	return ring
}

// trueArea takes back how much the map swells at the first point: by the secant
// of the latitude, each way.
func trueArea(ring []spot) float64 {
	north := (0.5 - ring[0].y/worldWidth) * 2 * math.Pi
	return math.Abs(area(ring)) / (math.Cosh(north) * math.Cosh(north))
}

// area is half the sum of cross products: positive when it runs one way round.
func area(ring []spot) float64 {
	sum := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		sum += p.x*q.y - q.x*p.y
	}
	return sum / 2
}

// longestStep is how far one pair of characters leads: 94 can be printed.
const longestStep = 46

// writeRing writes a line: where the ring begins, and then each point by how far
// it lies from the one before, a character each way, "O" for none. Two bytes a
// point leave the shore twice the detail that SVG's own numbers would.
func writeRing(out *strings.Builder, ring []spot) {
	type unit struct{ x, y int }
	var units []unit
	for _, p := range ring {
		units = append(units, unit{int(math.Round(p.x)), int(math.Round(p.y))})
	}
	units = slices.Compact(units)
	if len(units) < 3 {
		return
	}
	fmt.Fprintf(out, "%d %d ", units[0].x, units[0].y)
	at := units[0]
	for _, u := range units[1:] {
		parts := 1 + max(abs(u.x-at.x), abs(u.y-at.y), 1)/(longestStep+1)
		from := at
		for i := 1; i <= parts; i++ {
			to := unit{from.x + (u.x-from.x)*i/parts, from.y + (u.y-from.y)*i/parts}
			out.WriteByte(byte('O' + to.x - at.x))
			out.WriteByte(byte('O' + to.y - at.y))
			at = to
		}
	}
	out.WriteByte('\n')
}

func abs(n int) int { return max(n, -n) }
