package colour

import "math"

// transport returns the cheapest way of moving supply to demand, in cost per
// unit of supply: the exact optimum of the transportation problem with finite
// costs cost[i*len(demand)+j] >= 0. Supply and demand each hold some positive
// amount and nothing negative; they count as shares of their own sums, so
// rounding in either cannot leave anything over.
//
// Method: the network simplex on a spanning tree (Dantzig 1951; Ahuja, Magnanti
// and Orlin, Network Flows, 1993, chapter 11), started greedily over the
// cheapest cells. Amounts are integers, and every supply is raised by one grain
// (Charnes's perturbation), which rules out empty tree arcs and with them
// cycling; rounding takes the grains away again at the end. One pivot costs
// O((n+m)·depth + n·m); palettes need a handful.
func transport(cost, supply, demand []float64) float64 {
	var room struct {
		cost         [small * small]float64
		dual         [2 * small]float64
		flow, amount [2 * small]int64
		parent       [2 * small]int
	}
	s := solver{cost: room.cost[:], dual: room.dual[:], flow: room.flow[:], amount: room.amount[:], parent: room.parent[:]}
	if nodes := len(supply) + len(demand); len(cost) > len(s.cost) || nodes > len(s.dual) {
		s = solver{cost: make([]float64, len(cost)), dual: make([]float64, nodes), flow: make([]int64, nodes),
			amount: make([]int64, nodes), parent: make([]int, nodes)}
	}
	s.load(cost, supply, demand)
	s.start()
	for s.improve() {
	}
	return s.total()
}

const (
	// small is the palette size up to which the stack has room for everything.
	small = 8
	// whole is the integer that stands for all of supply.
	whole = 1 << 60
	// negligible is how far below zero a reduced cost must lie to be worth a
	// pivot: far above the rounding of costs near 100.
	negligible = 1e-11
)

// solver holds one problem. Nodes 0..n-1 are rows (supply), n..n+m-1 columns
// (demand); node 0 is the root of the tree. flow[v] is on the arc from v to
// parent[v]; in a tree arc, dual of row + dual of column = cost.
type solver struct {
	n, m   int
	grains int64 // in one unit; the perturbation stays below half of it
	cost   []float64
	dual   []float64
	flow   []int64
	amount []int64
	parent []int
}

// load copies the problem, leaving out rows and columns without any amount: an
// empty column would bring empty arcs back.
func (s *solver) load(cost, supply, demand []float64) {
	s.grains = 4
	for s.grains < int64(4*len(s.parent)) {
		s.grains *= 2
	}
	var rowRoom, columnRoom [2 * small]int
	rows := s.apportion(supply, 0, rowRoom[:0])
	columns := s.apportion(demand, len(rows), columnRoom[:0])
	s.n, s.m = len(rows), len(columns)
	for i, row := range rows {
		s.amount[i]++
		for j, column := range columns {
			s.cost[i*s.m+j] = cost[row*len(demand)+column]
		}
	}
	s.amount[s.n+s.m-1] += int64(s.n)
}

// apportion turns shares into integers summing to whole, writes those above
// zero to s.amount from node first on, and appends to kept which they were.
func (s *solver) apportion(shares []float64, first int, kept []int) []int {
	heaviest := 0
	for i, share := range shares {
		if share > shares[heaviest] {
			heaviest = i
		}
	}
	peak, sum := shares[heaviest], 0.0
	for _, share := range shares {
		sum += share / peak // not share itself, whose sum could overflow
	}
	over, main := whole/s.grains, first
	scale := float64(over) / sum
	for i, share := range shares {
		units := int64(math.Round(share / peak * scale))
		if units == 0 {
			continue
		}
		if i == heaviest {
			main = first + len(kept)
		}
		over -= units
		s.amount[first+len(kept)] = units * s.grains
		kept = append(kept, i)
	}
	s.amount[main] += over * s.grains
	return kept
}

// start sends as much as possible over the cheapest cell, then over the next
// cheapest still open, and so on. Every step but the last empties exactly one
// row or column, so the n+m-1 cells used form a spanning tree.
func (s *solver) start() {
	var room [2 * small]arc
	arcs := room[:0]
	for len(arcs) < s.n+s.m-1 {
		best, row, column := math.Inf(1), 0, 0
		for i := range s.n {
			if s.amount[i] == 0 {
				continue
			}
			for j, c := range s.cost[i*s.m : i*s.m+s.m] {
				if c < best && s.amount[s.n+j] != 0 {
					best, row, column = c, i, s.n+j
				}
			}
		}
		flow := min(s.amount[row], s.amount[column])
		s.amount[row] -= flow
		s.amount[column] -= flow
		arcs = append(arcs, arc{row, column, flow})
	}
	s.root(arcs)
}

type arc struct {
	row, column int
	flow        int64
}

// root hangs the arcs below node 0 and sets the duals.
func (s *solver) root(arcs []arc) {
	const unreached = -2
	for v := range s.n + s.m {
		s.parent[v] = unreached
	}
	s.parent[0] = -1
	for len(arcs) > 0 {
		waiting := arcs[:0]
		for _, a := range arcs {
			from, to := a.row, a.column
			if s.parent[from] == unreached {
				from, to = to, from
			}
			if s.parent[from] == unreached {
				waiting = append(waiting, a)
				continue
			}
			s.parent[to], s.flow[to] = from, a.flow
			s.dual[to] = s.cost[a.row*s.m+a.column-s.n] - s.dual[from]
		}
		arcs = waiting
	}
}

// improve brings the cell with the most negative reduced cost into the tree; it
// returns false when there is none, and the tree is optimal.
func (s *solver) improve() bool {
	worst, row, column := -negligible, -1, -1
	columns := s.dual[s.n : s.n+s.m]
	for i := range s.n {
		u := s.dual[i]
		for j, c := range s.cost[i*s.m : i*s.m+s.m] {
			if reduced := c - u - columns[j]; reduced < worst {
				worst, row, column = reduced, i, s.n+j
			}
		}
	}
	if row < 0 {
		return false
	}
	s.pivot(row, column, worst)
	return true
}

// pivot adds the arc row–column. More flow over it means less over the arcs
// that leave rows on the row's way to the meeting point, and over those that
// leave columns on the column's; the first of them to run empty goes.
func (s *solver) pivot(row, column int, reduced float64) {
	meet := s.meeting(row, column)
	flow, leaving, onRowSide := int64(math.MaxInt64), -1, false
	for v := row; v != meet; v = s.parent[v] {
		if v < s.n && s.flow[v] < flow {
			flow, leaving, onRowSide = s.flow[v], v, true
		}
	}
	for v := column; v != meet; v = s.parent[v] {
		if v >= s.n && s.flow[v] < flow {
			flow, leaving, onRowSide = s.flow[v], v, false
		}
	}
	for v := row; v != meet; v = s.parent[v] {
		if v < s.n {
			s.flow[v] -= flow
		} else {
			s.flow[v] += flow
		}
	}
	for v := column; v != meet; v = s.parent[v] {
		if v >= s.n {
			s.flow[v] -= flow
		} else {
			s.flow[v] += flow
		}
	}
	if onRowSide {
		s.rehang(row, column, leaving, flow)
		s.shift(row, reduced)
	} else {
		s.rehang(column, row, leaving, flow)
		s.shift(column, -reduced)
	}
}

// meeting is the lowest node above both a and b.
func (s *solver) meeting(a, b int) int {
	height := 0
	for v := a; v >= 0; v = s.parent[v] {
		height++
	}
	for v := b; v >= 0; v = s.parent[v] {
		height--
	}
	for ; height > 0; height-- {
		a = s.parent[a]
	}
	for ; height < 0; height++ {
		b = s.parent[b]
	}
	for a != b {
		a, b = s.parent[a], s.parent[b]
	}
	return a
}

// rehang turns the arcs from child up to leaving round and hangs child, with
// all that was below leaving, under parent.
func (s *solver) rehang(child, parent, leaving int, flow int64) {
	for v := child; ; {
		up, carried := s.parent[v], s.flow[v]
		s.parent[v], s.flow[v] = parent, flow
		if v == leaving {
			return
		}
		parent, flow, v = v, carried, up
	}
}

// shift changes the duals below top, rows by +by and columns by −by, so that
// the arc above top costs what its ends say.
func (s *solver) shift(top int, by float64) {
	for v := range s.n + s.m {
		at := v
		for at != top && at > 0 {
			at = s.parent[at]
		}
		switch {
		case at != top:
		case v < s.n:
			s.dual[v] += by
		default:
			s.dual[v] -= by
		}
	}
}

// total is the cost of the tree's flows, the perturbation rounded away.
func (s *solver) total() float64 {
	sum := 0.0
	for v := 1; v < s.n+s.m; v++ {
		row, column := min(v, s.parent[v]), max(v, s.parent[v])
		units := (s.flow[v] + s.grains/2) / s.grains
		sum += s.cost[row*s.m+column-s.n] * float64(units)
	}
	return sum / float64(whole/s.grains)
}
