package matching

import "fmt"

// Blossom is an odd set of at least three vertices and its dual value. Within
// a set of 2k+1 vertices at most k pairs can be made; the dual is the price of
// that limit.
type Blossom struct {
	Members []int // ascending
	Dual    int64 // doubled, above zero
}

// Certificate proves a matching heaviest. It is a solution of the linear
// programme dual to the matching problem (J. Edmonds, "Maximum matching and a
// polyhedron with 0,1-vertices", J. Res. Nat. Bur. Standards 69B, 1965). All
// values are twice those of the programme, which keeps them whole.
type Certificate struct {
	Vertex   []int64 // one per vertex, doubled, never below zero
	Blossoms []Blossom
}

// Verify reports whether mate (mate[i] the partner of i, or -1) is a matching
// of greatest weight in w. It looks at nothing but its arguments:
//
//   - mate is a matching along edges of w;
//   - every edge is paid for: the values of its two ends and of the blossoms
//     that hold both come to at least twice its weight. So the sum of all
//     vertex values, and of each blossom's value times the pairs it has room
//     for, is at least twice the weight of every matching there is;
//   - nothing is paid in vain: paired edges are paid for exactly, a vertex
//     above zero is paired, a blossom above zero holds as many pairs as it
//     can. So that sum is exactly twice the weight of this matching.
//
// The error names the first condition broken; nil is the proof. It takes
// O(n²) time and memory beyond the sum of the squares of the blossoms' sizes.
func (c Certificate) Verify(w *Weights, mate []int) error {
	if err := checkMatching(w, mate); err != nil {
		return err
	}
	if err := c.checkValues(w, mate); err != nil {
		return err
	}
	price := c.prices(w.n)
	for i := range w.n {
		for j := i + 1; j < w.n; j++ {
			weight, ok := w.At(i, j)
			if !ok {
				continue
			}
			slack := price[i*w.n+j] - 2*weight
			if slack < 0 {
				return fmt.Errorf("edge (%d, %d) of weight %d is short by %d", i, j, weight, -slack)
			}
			if slack > 0 && mate[i] == j {
				return fmt.Errorf("paired edge (%d, %d) of weight %d is overpaid by %d", i, j, weight, slack)
			}
		}
	}
	return nil
}

func checkMatching(w *Weights, mate []int) error {
	if len(mate) != w.n {
		return fmt.Errorf("%d mates for %d vertices", len(mate), w.n)
	}
	for i, j := range mate {
		if j == -1 {
			continue
		}
		if j < 0 || j >= w.n || j == i || mate[j] != i {
			return fmt.Errorf("vertex %d has mate %d, which does not answer it", i, j)
		}
		if _, ok := w.At(i, j); !ok {
			return fmt.Errorf("vertices %d and %d are paired without an edge", i, j)
		}
	}
	return nil
}

// A value above twice the greatest weight is never needed, and refusing it
// keeps the sums of Verify from overflowing on a made-up certificate.
const maxDual = 4 * MaxWeight

func (c Certificate) checkValues(w *Weights, mate []int) error {
	if len(c.Vertex) != w.n {
		return fmt.Errorf("%d vertex values for %d vertices", len(c.Vertex), w.n)
	}
	if len(c.Blossoms) > w.n {
		return fmt.Errorf("%d blossoms among %d vertices", len(c.Blossoms), w.n)
	}
	for i, u := range c.Vertex {
		if u < 0 || u > maxDual {
			return fmt.Errorf("vertex %d has the value %d", i, u)
		}
		if u > 0 && mate[i] < 0 {
			return fmt.Errorf("vertex %d is alone but has the value %d", i, u)
		}
	}
	for k, b := range c.Blossoms {
		if err := b.check(w.n, mate); err != nil {
			return fmt.Errorf("blossom %d: %w", k, err)
		}
	}
	return nil
}

func (b Blossom) check(n int, mate []int) error {
	if len(b.Members) < 3 || len(b.Members)%2 == 0 {
		return fmt.Errorf("%d members", len(b.Members))
	}
	if b.Dual < 0 || b.Dual > maxDual {
		return fmt.Errorf("value %d", b.Dual)
	}
	within := make(map[int]bool, len(b.Members))
	for _, v := range b.Members {
		if v < 0 || v >= n || within[v] {
			return fmt.Errorf("member %d is no vertex or named twice", v)
		}
		within[v] = true
	}
	paired := 0
	for _, v := range b.Members {
		if mate[v] >= 0 && within[mate[v]] {
			paired++
		}
	}
	if b.Dual > 0 && paired != len(b.Members)-1 {
		return fmt.Errorf("%d of %d members are paired inside", paired, len(b.Members))
	}
	return nil
}

// prices returns, for each two vertices, what they and their common blossoms pay.
func (c Certificate) prices(n int) []int64 {
	price := make([]int64, n*n)
	for i, u := range c.Vertex {
		for j, v := range c.Vertex {
			price[i*n+j] = u + v
		}
	}
	for _, b := range c.Blossoms {
		for _, i := range b.Members {
			for _, j := range b.Members {
				price[i*n+j] += b.Dual
			}
		}
	}
	return price
}
