package matching

import "slices"

// Match returns a matching of greatest total weight: mate[i] is the partner of
// vertex i, or -1 where i stays alone; total is the sum over the pairs; cert
// proves that no matching weighs more. The matching need not be perfect: an
// edge of weight zero or less is never chosen. Equal graphs give equal answers;
// where several matchings weigh the same, the order of the indices decides.
//
// The method is the primal–dual blossom method of J. Edmonds ("Paths, trees,
// and flowers", Canad. J. Math. 17, 1965; and the paper named at Certificate)
// as surveyed by Z. Galil ("Efficient algorithms for finding maximum matching
// in graphs", ACM Computing Surveys 18(1), 1986), with the bookkeeping by which
// H. Gabow brought it to O(n³) time: for every vertex the best edge from the
// tree, and for every outer blossom the best edge to every vertex. Memory is
// O(n²).
//
// It departs from the survey in three ways. Vertex values start at each
// vertex's own greatest weight instead of the greatest of all, so that a good
// part of the pairs is found before any search. One tree grows at a time, from
// one vertex without a mate; besides an augmenting path it may end at an outer
// vertex whose value has come to zero, which then stays alone in place of the
// root. And values change by a clock: what is stored for a vertex or blossom
// stays put while the tree's time runs, see solver.relabel.
func Match(w *Weights) (mate []int, total int64, cert Certificate) {
	s := newSolver(w)
	s.pairGreedily()
	for v := range s.n {
		if s.mate[v] < 0 {
			s.search(v)
		}
	}
	for i, j := range s.mate {
		if i < j {
			v, _ := w.At(i, j)
			total += v
		}
	}
	return s.mate, total, s.certificate()
}

// absent stands for twice the weight of a missing edge. It lies so far below
// all real weights that the time of an event along it never comes.
const absent int64 = -(1 << 60)

// never is later than the time of any event, even along a missing edge.
const never int64 = 1 << 62

type solver struct {
	n      int
	double []int64 // n×n: twice the weight, or absent
	mate   []int
	vertex []node  // the vertices as nodes
	top    []*node // the outermost node of each vertex

	// The state of one search.
	now          int64 // the clock
	value        []int64
	sideOf       []side
	reach        []approach // from any outer vertex
	outer, inner []*node    // all that were given the side, in order
	climbs       int

	turned []part
	spare  [][]approach
	tally  tally
}

// A tally counts what the searches met with, so that a test can tell that its
// graph is as hard as it claims to be.
type tally struct {
	searches, grown, augmented, retired int
	shrunk, shrunkAroundBlossom         int
	expanded, expandedAroundBlossom     int
	expandedForward, expandedBackward   int
}

func newSolver(w *Weights) *solver {
	n := w.n
	s := &solver{
		n:      n,
		double: make([]int64, n*n),
		mate:   make([]int, n),
		vertex: make([]node, n),
		top:    make([]*node, n),
		value:  make([]int64, n),
		sideOf: make([]side, n),
		reach:  make([]approach, n),
	}
	for i := range n {
		s.double[i*n+i] = absent
		for j := i + 1; j < n; j++ {
			d := absent
			// What does not add to the total is as good as missing: a vertex
			// value never falls below zero, so such an edge is always paid for.
			if v, ok := w.At(i, j); ok && v > 0 {
				d = 2 * v
			}
			s.double[i*n+j], s.double[j*n+i] = d, d
		}
		s.mate[i] = -1
		s.vertex[i] = node{base: i, vertices: []int{i}}
		s.top[i] = &s.vertex[i]
	}
	return s
}

// pairGreedily starts every vertex at its own greatest weight, which pays for
// every edge, and pairs what is then paid for exactly.
func (s *solver) pairGreedily() {
	for i := range s.n {
		s.value[i] = max(0, slices.Max(s.row(i))/2)
	}
	for i := range s.n {
		for j := i + 1; j < s.n && s.mate[i] < 0; j++ {
			if s.mate[j] < 0 && s.value[i]+s.value[j] == s.double[i*s.n+j] {
				s.pair(i, j)
			}
		}
	}
}

func (s *solver) row(i int) []int64 { return s.double[i*s.n : (i+1)*s.n] }

func (s *solver) certificate() Certificate {
	c := Certificate{Vertex: s.value}
	var collect func(b *node)
	collect = func(b *node) {
		if !b.isBlossom() {
			return
		}
		if b.dual > 0 {
			members := slices.Sorted(slices.Values(b.vertices))
			c.Blossoms = append(c.Blossoms, Blossom{Members: members, Dual: b.dual})
		}
		for _, p := range b.ring {
			collect(p.node)
		}
	}
	for v, b := range s.top {
		if v == slices.Min(b.vertices) {
			collect(b)
		}
	}
	return c
}
