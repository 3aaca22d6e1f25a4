package matching

import (
	"fmt"
	"strings"
	"testing"
)

// Each graph was found by letting seeded random graphs run until the tally held
// what the name says, then taking edges away and lowering weights as long as it
// still did. shape asserts that the case is still the case it is named for.
var hardCases = []struct {
	name  string
	n     int
	edges string
	shape func(tally) bool
}{
	{"a triangle whose third edge is the way out", 4, "0-1:5 0-2:5 1-2:2 1-3:1",
		func(c tally) bool { return c.shrunk == 1 && c.augmented == 1 }},
	{"a triangle that keeps one vertex alone", 4, "0-2:1 0-3:1 2-3:1",
		func(c tally) bool { return c.shrunk == 1 && c.retired > 0 }},
	{"a blossom within a blossom", 5, "0-2:1 0-3:2 1-3:1 1-4:1 2-3:2 2-4:1",
		func(c tally) bool { return c.shrunkAroundBlossom == 1 }},
	{"blossoms nested time and again", 7, "0-1:12 0-2:9 1-4:15 1-5:5 1-6:4 2-5:2 3-5:6 3-6:5 4-5:12",
		func(c tally) bool { return c.shrunkAroundBlossom >= 3 }},
	{"an inner blossom opened, the even way round forward", 5, "0-2:3 0-3:3 1-2:2 2-3:4 3-4:2",
		func(c tally) bool { return c.expanded == 1 && c.expandedForward == 1 }},
	{"an inner blossom opened, the even way round backward", 5, "0-3:3 0-4:4 1-4:4 2-3:4 3-4:6",
		func(c tally) bool { return c.expanded == 1 && c.expandedBackward == 1 }},
	{"a ring of five opened, two steps forward", 7, "0-1:7 0-4:5 0-5:2 1-2:7 2-6:4 3-4:4 4-6:6",
		func(c tally) bool { return c.expanded == 1 && c.expandedForward == 2 }},
	{"a ring of five opened, two steps backward", 7, "0-1:8 0-6:9 1-3:6 2-3:8 2-4:5 2-6:7 5-6:3",
		func(c tally) bool { return c.expanded == 1 && c.expandedBackward == 2 }},
	{"a nested inner blossom opened, then the one inside", 7, "0-3:12 0-5:13 1-2:10 1-3:5 1-6:5 2-5:7 3-5:2 4-5:2",
		func(c tally) bool { return c.expandedAroundBlossom == 1 && c.expanded == 2 }},
	{"a nested inner blossom opened, all ties", 7, "0-1:5 0-3:2 1-3:6 2-3:4 2-6:5 3-5:2 3-6:4 4-6:3",
		func(c tally) bool { return c.expandedAroundBlossom == 1 && c.expanded == 2 }},
}

func parseGraph(t *testing.T, n int, edges string) *Weights {
	t.Helper()
	w := NewWeights(n)
	for _, e := range strings.Fields(edges) {
		var i, j int
		var v int64
		if _, err := fmt.Sscanf(e, "%d-%d:%d", &i, &j, &v); err != nil {
			t.Fatalf("%q: %v", e, err)
		}
		w.Set(i, j, v)
	}
	return w
}

func tallyOf(w *Weights) tally {
	s := newSolver(w)
	s.pairGreedily()
	for v := range s.n {
		if s.mate[v] < 0 {
			s.search(v)
		}
	}
	return s.tally
}

func TestHardShapesAreSolvedHoweverTheirVerticesAreNumbered(t *testing.T) {
	for _, c := range hardCases {
		t.Run(c.name, func(t *testing.T) {
			w := parseGraph(t, c.n, c.edges)
			if got := tallyOf(w); !c.shape(got) {
				t.Errorf("no longer the case it is named for: %+v", got)
			}
			want := heaviestByTrial(w)
			d := dice(1)
			for range 200 {
				if got := prove(t, renumbered(w, &d)); got != want {
					t.Fatalf("total %d, by trial %d", got, want)
				}
			}
		})
	}
}

func renumbered(w *Weights, d *dice) *Weights {
	name := make([]int, w.n)
	for i := range name {
		j := int(d.roll(int64(i + 1)))
		name[i] = name[j]
		name[j] = i
	}
	out := NewWeights(w.n)
	for i := range w.n {
		for j := i + 1; j < w.n; j++ {
			if v, ok := w.At(i, j); ok {
				out.Set(name[i], name[j], v)
			}
		}
	}
	return out
}

// Chains of odd rings hung one into the next, each a little heavier than what
// holds it, are where nested blossoms grow deep.
func TestChainsOfRingsAreProven(t *testing.T) {
	deep := 0
	for _, size := range []int{3, 5, 7} {
		for seed := range uint64(30) {
			d := dice(seed)
			const rings = 30
			w := NewWeights(rings*(size-1) + 2)
			for r := range rings {
				first := r * (size - 1)
				for k := range size {
					a, b := first+k, first+(k+1)%size
					w.Set(a, b, 20+int64(r%3)+d.roll(3))
				}
			}
			w.Set(0, w.n-1, 1)
			deep += tallyOf(w).shrunkAroundBlossom
			prove(t, w)
		}
	}
	if deep == 0 {
		t.Error("no blossom was nested: the chains are not the hard case they are meant to be")
	}
}

// Pictures that lie in clusters weigh against each other like this: near ones
// much, far ones little, many alike.
func TestClustersOfPointsAreProven(t *testing.T) {
	shape := tally{}
	for seed := range uint64(6) {
		w := clusters(240, seed)
		prove(t, w)
		c := tallyOf(w)
		shape.shrunkAroundBlossom += c.shrunkAroundBlossom
		shape.expandedAroundBlossom += c.expandedAroundBlossom
	}
	if shape.shrunkAroundBlossom == 0 || shape.expandedAroundBlossom == 0 {
		t.Errorf("the clusters bring out no nested blossoms: %+v", shape)
	}
}

func clusters(n int, seed uint64) *Weights {
	d := dice(seed)
	x, y := make([]int64, n), make([]int64, n)
	for i := range n {
		c := dice(d.roll(int64(n / 9)))
		c.roll(1)
		x[i] = c.roll(400) + d.roll(12)
		y[i] = c.roll(400) + d.roll(12)
	}
	w := NewWeights(n)
	for i := range n {
		for j := i + 1; j < n; j++ {
			dx, dy := x[i]-x[j], y[i]-y[j]
			w.Set(i, j, 1000-max(dx, -dx)-max(dy, -dy))
		}
	}
	return w
}
