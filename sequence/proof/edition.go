package proof

import "pairwall/sequence/colour"

// Edition is which making of the 24-patch colour target lies in a photograph:
// its maker changed the paints in November 2014.
type Edition string

// The editions.
const (
	Before2014 Edition = "before2014"
	After2014  Edition = "after2014"
)

// Lab is the published colour of a patch, 0..23, row by row from dark skin to
// black; see reference/SOURCES.md.
func (e Edition) Lab(patch int) colour.LabD50 {
	if e == Before2014 {
		return targetBefore[patch]
	}
	return targetAfter[patch]
}

var targetBefore = [24]colour.LabD50{
	{L: 37.986, A: 13.555, B: 14.059},   // dark skin
	{L: 65.711, A: 18.13, B: 17.81},     // light skin
	{L: 49.927, A: -4.88, B: -21.905},   // blue sky
	{L: 43.139, A: -13.095, B: 21.905},  // foliage
	{L: 55.112, A: 8.844, B: -25.399},   // blue flower
	{L: 70.719, A: -33.397, B: -0.199},  // bluish green
	{L: 62.661, A: 36.067, B: 57.096},   // orange
	{L: 40.02, A: 10.41, B: -45.964},    // purplish blue
	{L: 51.124, A: 48.239, B: 16.248},   // moderate red
	{L: 30.325, A: 22.976, B: -21.587},  // purple
	{L: 72.532, A: -23.709, B: 57.255},  // yellow green
	{L: 71.941, A: 19.363, B: 67.857},   // orange yellow
	{L: 28.778, A: 14.179, B: -50.297},  // blue
	{L: 55.261, A: -38.342, B: 31.37},   // green
	{L: 42.101, A: 53.378, B: 28.19},    // red
	{L: 81.733, A: 4.039, B: 79.819},    // yellow
	{L: 51.935, A: 49.986, B: -14.574},  // magenta
	{L: 51.038, A: -28.631, B: -28.638}, // cyan
	{L: 96.539, A: -0.425, B: 1.186},    // white 9.5
	{L: 81.257, A: -0.638, B: -0.335},   // neutral 8
	{L: 66.766, A: -0.734, B: -0.504},   // neutral 6.5
	{L: 50.867, A: -0.153, B: -0.27},    // neutral 5
	{L: 35.656, A: -0.421, B: -1.231},   // neutral 3.5
	{L: 20.461, A: -0.079, B: -0.973},   // black 2
}

var targetAfter = [24]colour.LabD50{
	{L: 37.54, A: 14.37, B: 14.92},   // dark skin
	{L: 64.66, A: 19.27, B: 17.5},    // light skin
	{L: 49.32, A: -3.82, B: -22.54},  // blue sky
	{L: 43.46, A: -12.74, B: 22.72},  // foliage
	{L: 54.94, A: 9.61, B: -24.79},   // blue flower
	{L: 70.48, A: -32.26, B: -0.37},  // bluish green
	{L: 62.73, A: 35.83, B: 56.5},    // orange
	{L: 39.43, A: 10.75, B: -45.17},  // purplish blue
	{L: 50.57, A: 48.64, B: 16.67},   // moderate red
	{L: 30.1, A: 22.54, B: -20.87},   // purple
	{L: 71.77, A: -24.13, B: 58.19},  // yellow green
	{L: 71.51, A: 18.24, B: 67.37},   // orange yellow
	{L: 28.37, A: 15.42, B: -49.8},   // blue
	{L: 54.38, A: -39.72, B: 32.27},  // green
	{L: 42.43, A: 51.05, B: 28.62},   // red
	{L: 81.8, A: 2.67, B: 80.41},     // yellow
	{L: 50.63, A: 51.28, B: -14.12},  // magenta
	{L: 49.57, A: -29.71, B: -28.32}, // cyan
	{L: 95.19, A: -1.03, B: 2.93},    // white 9.5
	{L: 81.29, A: -0.57, B: 0.44},    // neutral 8
	{L: 66.89, A: -0.75, B: -0.06},   // neutral 6.5
	{L: 50.76, A: -0.13, B: 0.14},    // neutral 5
	{L: 35.63, A: -0.46, B: -0.48},   // neutral 3.5
	{L: 20.64, A: 0.07, B: -0.46},    // black 2
}
