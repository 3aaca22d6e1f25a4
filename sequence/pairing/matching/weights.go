package matching

import (
	"fmt"
	"math"
)

// MaxWeight bounds a weight on both sides: -MaxWeight ≤ w ≤ MaxWeight. It keeps
// every sum the solver and the certificate form far inside an int64.
const MaxWeight int64 = 1 << 40

// NoEdge is the value that says two vertices may not be paired. It is what every
// pair holds until Set says otherwise.
const NoEdge int64 = math.MinInt64

// Weights holds a graph as a symmetric matrix: for each pair of distinct
// vertices a weight, or NoEdge.
type Weights struct {
	n     int
	upper []int64 // row by row above the diagonal
}

// NewWeights returns a graph of n vertices, numbered from 0, without edges. It
// panics when n is negative, as making a slice does.
func NewWeights(n int) *Weights {
	if n < 0 {
		panic(fmt.Sprintf("matching: a graph of %d vertices", n))
	}
	upper := make([]int64, n*(n-1)/2)
	for i := range upper {
		upper[i] = NoEdge
	}
	return &Weights{n: n, upper: upper}
}

// Len returns the number of vertices.
func (w *Weights) Len() int { return w.n }

// Set gives the pair i, j the weight v in either order, or takes the edge away
// when v is NoEdge. It panics, as an index out of range does, when i or j is no
// vertex, when they are the same, or when v lies beyond MaxWeight.
func (w *Weights) Set(i, j int, v int64) {
	if v != NoEdge && (v < -MaxWeight || v > MaxWeight) {
		panic(fmt.Sprintf("matching: weight %d is beyond %d", v, MaxWeight))
	}
	w.upper[w.index(i, j)] = v
}

// At returns the weight of the pair i, j, and whether it may be made at all. It
// panics when i or j is no vertex or when they are the same.
func (w *Weights) At(i, j int) (v int64, ok bool) {
	v = w.upper[w.index(i, j)]
	if v == NoEdge {
		return 0, false
	}
	return v, true
}

func (w *Weights) index(i, j int) int {
	if i > j {
		i, j = j, i
	}
	if i < 0 || j >= w.n || i == j {
		panic(fmt.Sprintf("matching: no pair (%d, %d) among %d vertices", i, j, w.n))
	}
	return i*(2*w.n-i-1)/2 + (j - i - 1)
}
