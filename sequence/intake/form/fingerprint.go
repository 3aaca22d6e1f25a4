package form

import (
	"fmt"
	"math"
	"math/bits"
	"slices"
	"strconv"
)

// printSide is the size to which a picture is brought before its frequencies
// are taken: large enough that rescaling and compressing hardly touch the
// lowest of them.
const printSide = 32

// fingerprint is a hash of the picture's coarse structure: the signs of its 64
// lowest frequencies but the mean, against their median. Brightness is the mean
// and exposure scales all the others, so neither changes many signs.
//
// Method: discrete cosine transform of a small grey picture, low frequencies
// thresholded at their median (Zauner, "Implementation and Benchmarking of
// Perceptual Image Hash Functions", 2010, 3.2.1). Deviation: the 64 are taken
// along the diagonals from the lowest, so that the mean is not among them.
func fingerprint(p plane) string {
	frequencies := lowest(p.to(printSide, printSide))
	sorted := slices.Clone(frequencies[:])
	slices.Sort(sorted)
	median := (sorted[31] + sorted[32]) / 2
	var print uint64
	for i, v := range frequencies {
		if v > median {
			print |= 1 << (63 - i)
		}
	}
	return fmt.Sprintf("%016x", print)
}

// Apart is in how many of 64 bits two fingerprints differ; -1 when one is none.
func Apart(a, b string) int {
	x, err := strconv.ParseUint(a, 16, 64)
	if err != nil || len(a) != 16 {
		return -1
	}
	y, err := strconv.ParseUint(b, 16, 64)
	if err != nil || len(b) != 16 {
		return -1
	}
	return bits.OnesCount64(x ^ y)
}

// lowest are the 64 lowest frequencies of a square picture along its
// diagonals, the mean left out. Noise far below what can be seen is taken out
// of them, so that a picture of a single grey has a steady fingerprint.
func lowest(p plane) (list [64]float64) {
	const most = 11 // the 64th along the diagonals lies on the eleventh
	var waves [most][printSide]float64
	for k := range waves {
		for i := range waves[k] {
			waves[k][i] = math.Cos(math.Pi * float64(k) * (float64(i) + 0.5) / printSide)
		}
	}
	n := 0
	for sum := 1; n < len(list); sum++ {
		for v := 0; v <= sum && n < len(list); v++ {
			u := sum - v
			var total float64
			for y := range printSide {
				var line float64
				for x, value := range p.row(y) {
					line += waves[u][x] * float64(value)
				}
				total += waves[v][y] * line
			}
			const unseen = 0.05 // of printSide² × full contrast: a fraction of one 8-bit step
			if math.Abs(total) > unseen {
				list[n] = total
			}
			n++
		}
	}
	return list
}
