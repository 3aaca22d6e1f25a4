package route

import (
	"cmp"
	"slices"
)

// search improves an order as far as single moves can, then shakes it locally over
// and over and keeps what is cheaper: iterated local search (H. R. Lourenço, O. C.
// Martin and T. Stützle, in "Handbook of Metaheuristics", 2003) over 2-opt and
// Or-opt moves, each shake the exchange of two neighbouring stretches (the double
// bridge of O. C. Martin, S. W. Otto and E. W. Felten, Complex Systems 5, 1991).
// How often it shakes falls with the number of points, so that a few hundred take
// a fraction of a second and a few thousand some seconds.
func (p *problem) search() []int {
	if p.fixed {
		return p.settle(p.aroundHeld())
	}
	t := newTour(p)
	t.improve(t.order)
	t.shakeFor(max(300, min(30*p.n, 1_500_000/p.n)))
	order := t.path()
	const thorough = 400 // points up to which every single move is tried in the end
	if p.plain && p.n > thorough {
		return order
	}
	best := p.settle(order)
	if p.plain {
		return best
	}
	if p.held[0] == Free && p.held[p.n-1] == Free {
		if turned := p.settle(reversed(order)); p.cost(turned) < p.cost(best) {
			return turned
		}
	}
	return best
}

// aroundHeld puts the points that are not held, in a good order of their own, into
// the places that are left.
func (p *problem) aroundHeld() []int {
	var loose []int
	for i := range p.n {
		if p.holds[i] == Free {
			loose = append(loose, i)
		}
	}
	among := Path(len(loose), func(i, j int) int64 { return p.between(loose[i], loose[j]) }, Free, Free)
	order := slices.Clone(p.held)
	for at := range order {
		if order[at] == Free {
			order[at], among = loose[among[0]], among[1:]
		}
	}
	return order
}

// A tour is the path closed to a ring by one more point, the gate, to which every
// step costs nothing; where an end is held, the step from it to the gate is so
// cheap that it is always taken.
type tour struct {
	*problem
	gate  int
	order []int // the ring, by place
	at    []int // by point: its place
	near  [][]int
	loose []int  // points at which a move may have become possible
	open  []bool // by point: whether it is among loose
	dice  uint64
	moves []stretch // reversals since the last mark, to be taken back
}

// A stretch of the ring, from one place to another, both included.
type stretch struct{ from, to int }

const (
	neighbours = 10
	held       = 1 << 53 // what a held end's step to the gate is cheaper than any other
)

func newTour(p *problem) *tour {
	t := &tour{problem: p, gate: p.n, at: make([]int, p.n+1), open: make([]bool, p.n+1), dice: uint64(p.n)}
	t.setNeighbours()
	t.order = append(t.nearestFirst(), t.gate)
	for k, i := range t.order {
		t.at[i] = k
	}
	return t
}

func (t *tour) cost(i, j int) int64 {
	if i == t.gate {
		i, j = j, i
	}
	if j != t.gate {
		return t.step[i*t.n+j]
	}
	if i != t.gate && (t.problem.held[0] == i || t.problem.held[t.n-1] == i) {
		return -held
	}
	return 0
}

// setNeighbours lists for each point those that are cheapest to step to, and the
// gate.
func (t *tour) setNeighbours() {
	t.near = make([][]int, t.n+1)
	others := make([]int, 0, t.n)
	for i := range t.n {
		others = others[:0]
		for j := range t.n {
			if j != i {
				others = append(others, j)
			}
		}
		slices.SortFunc(others, func(x, y int) int { return cmp.Or(cmp.Compare(t.cost(i, x), t.cost(i, y)), cmp.Compare(x, y)) })
		near := append(slices.Clone(others[:min(neighbours, len(others))]), t.gate)
		slices.SortStableFunc(near, func(x, y int) int { return cmp.Compare(t.cost(i, x), t.cost(i, y)) })
		t.near[i] = near
	}
}

// nearestFirst goes from the held first point, or the first of all, always to the
// cheapest point not yet visited, and to the held last one at the end.
func (t *tour) nearestFirst() []int {
	order := make([]int, 0, t.n+1)
	visited := make([]bool, t.n)
	last := t.problem.held[t.n-1]
	if last != Free {
		visited[last] = true
	}
	here := t.problem.held[0]
	if here == Free {
		here = 0
		if last == 0 {
			here = 1
		}
	}
	for here >= 0 {
		order = append(order, here)
		visited[here] = true
		next := -1
		for k := range t.n {
			if !visited[k] && (next < 0 || t.between(here, k) < t.between(here, next)) {
				next = k
			}
		}
		here = next
	}
	if last != Free {
		order = append(order, last)
	}
	return order
}

// path opens the ring at the gate, the held end first.
func (t *tour) path() []int {
	k := t.at[t.gate]
	order := slices.Concat(t.order[k+1:], t.order[:k])
	if first := t.problem.held[0]; first != Free && order[0] != first {
		reverse(order)
	}
	if last := t.problem.held[t.n-1]; last != Free && order[t.n-1] != last {
		reverse(order)
	}
	return order
}

func (t *tour) after(i int) int {
	if k := t.at[i] + 1; k < len(t.order) {
		return t.order[k]
	}
	return t.order[0]
}

func (t *tour) ahead(i int) int {
	if k := t.at[i]; k > 0 {
		return t.order[k-1]
	}
	return t.order[len(t.order)-1]
}

// turn reverses the ring between two points, both included, going forward; or all
// the rest of it if that is shorter, which as a ring is the same.
func (t *tour) turn(from, to int) {
	i, j, n := t.at[from], t.at[to], len(t.order)
	inside := j - i + 1
	if inside <= 0 {
		inside += n
	}
	if 2*inside > n {
		i, j = t.at[t.after(to)], t.at[t.ahead(from)]
		inside = n - inside
	}
	t.moves = append(t.moves, stretch{i, j})
	t.swap(i, j, inside)
}

func (t *tour) swap(i, j, size int) {
	n := len(t.order)
	for range size / 2 {
		x, y := t.order[i], t.order[j]
		t.order[i], t.order[j] = y, x
		t.at[y], t.at[x] = i, j
		if i++; i == n {
			i = 0
		}
		if j--; j < 0 {
			j = n - 1
		}
	}
}

// takeBack undoes all turns since the mark.
func (t *tour) takeBack() {
	n := len(t.order)
	for _, m := range slices.Backward(t.moves) {
		size := m.to - m.from + 1
		if size <= 0 {
			size += n
		}
		t.swap(m.from, m.to, size)
	}
	t.moves = t.moves[:0]
}

func (t *tour) loosen(points ...int) {
	for _, i := range points {
		if !t.open[i] {
			t.open[i] = true
			t.loose = append(t.loose, i)
		}
	}
}

// improve applies moves that make the ring cheaper until there is none at the
// points given or at those that the moves touch. It returns what was gained.
func (t *tour) improve(points []int) (gain int64) {
	t.loosen(points...)
	for len(t.loose) > 0 {
		i := t.loose[len(t.loose)-1]
		t.loose = t.loose[:len(t.loose)-1]
		t.open[i] = false
		for {
			g := t.reconnect(i)
			if g == 0 {
				g = t.carry(i)
			}
			if g == 0 {
				break
			}
			gain += g
		}
	}
	return gain
}

func (t *tour) roll(sides int) int {
	t.dice = t.dice*6364136223846793005 + 1442695040888963407 // Knuth's constants for MMIX
	return int(t.dice>>33) % sides
}

// shakeFor exchanges two neighbouring stretches at random, mends what that broke,
// and takes it all back where the ring came out dearer.
func (t *tour) shakeFor(rounds int) {
	longest := min(50, (len(t.order)-1)/3)
	if longest < 1 {
		return
	}
	for range rounds {
		t.moves = t.moves[:0]
		at := t.roll(len(t.order))
		one, two := 1+t.roll(longest), 1+t.roll(longest)
		point := func(k int) int { return t.order[(at+k)%len(t.order)] }
		a, b, c := point(0), point(1), point(one)
		d, e, f := point(one+1), point(one+two), point(one+two+1)
		cost := t.cost(a, d) + t.cost(e, b) + t.cost(c, f) - t.cost(a, b) - t.cost(c, d) - t.cost(e, f)
		t.exchange(b, c, d, e)
		if cost-t.improve([]int{a, b, c, d, e, f}) > 0 {
			t.takeBack()
		}
	}
}

// exchange makes of …b‥c d‥e… the ring …d‥e b‥c….
func (t *tour) exchange(b, c, d, e int) {
	before := t.ahead(b)
	t.turn(b, e) // …e‥d c‥b…, or all the rest turned, which is the same ring the other way
	if t.after(before) == e {
		t.turn(e, d)
		t.turn(c, b)
		return
	}
	t.turn(b, c)
	t.turn(d, e)
}
