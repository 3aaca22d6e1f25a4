package matching

import "math/bits"

// heaviestByTrial finds the greatest total by trying every matching there is,
// one set of vertices after another. It shares nothing with the solver.
func heaviestByTrial(w *Weights) int64 {
	n := w.Len()
	best := make([]int64, 1<<n)
	for set := 1; set < 1<<n; set++ {
		i := bits.TrailingZeros(uint(set))
		rest := set &^ (1 << i)
		best[set] = best[rest]
		for others := rest; others != 0; others &= others - 1 {
			j := bits.TrailingZeros(uint(others))
			if v, ok := w.At(i, j); ok {
				best[set] = max(best[set], v+best[rest&^(1<<j)])
			}
		}
	}
	return best[1<<n-1]
}

// dice is the generator documented in testdata/README.md, the same in Go and in
// Python: Knuth's MMIX constants, the top 31 bits of each state.
type dice uint64

func (d *dice) roll(sides int64) int64 {
	*d = *d*6364136223846793005 + 1442695040888963407
	return int64(*d>>33) % sides
}

// A recipe says how to make a graph from a seed.
type recipe struct {
	n        int
	percent  int64 // of all pairs that are edges
	low, top int64 // weights, both included
}

func (r recipe) graph(seed uint64) *Weights {
	d := dice(seed)
	d.roll(1)
	w := NewWeights(r.n)
	for i := range r.n {
		for j := i + 1; j < r.n; j++ {
			keep := d.roll(100) < r.percent
			v := r.low + d.roll(r.top-r.low+1)
			if keep {
				w.Set(i, j, v)
			}
		}
	}
	return w
}
