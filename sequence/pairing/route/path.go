package route

import "fmt"

// MaxCost bounds a step's cost on both sides; it keeps sums inside an int64.
const MaxCost int64 = 1 << 50

// Free leaves an end of the path, or a place in it, to be chosen.
const Free = -1

// ExactUpTo is the greatest number of points for which the cheapest order is sure
// to be found.
const ExactUpTo = 12

// A Task asks for an order of the points 0..Points-1.
//
// Step(i, j) is the cost of the step between i and j and must equal Step(j, i); it
// is asked once for each i < j. First and Last fix the ends of the path unless
// they are Free. The rest may be left zero: Held fixes, by place in the order,
// which point stands there, Free elsewhere. Class sorts the points, and every
// point beyond MostInRow of one class on end costs RunCost; a class below 0 stands
// for none. Shy points cost ShyCost at the beginning.
type Task struct {
	Points      int
	Step        func(i, j int) int64
	First, Last int

	Held      []int
	Class     []int
	MostInRow int
	RunCost   int64
	Shy       []bool
	ShyCost   int64
}

// Path returns the points 0..n-1 in an order of least summed cost, beginning at
// first and ending at last unless they are Free. See Order.
func Path(n int, cost func(i, j int) int64, first, last int) []int {
	return Order(Task{Points: n, Step: cost, First: first, Last: last})
}

// Order returns the points of a task in an order of least summed cost.
//
// Up to ExactUpTo points the order is cheapest. Beyond, it is the best of many
// orders, each of which no reversal of a stretch and no moving of one to three
// neighbours makes cheaper. Equal input gives equal output; of two directions
// that cost the same, the one that begins at the lower number is returned.
//
// It panics when a number is negative, an end or a held point is no point, a
// point is held twice, or a cost lies beyond MaxCost.
func Order(t Task) []int {
	p := newProblem(t)
	if p.n == 0 {
		return []int{}
	}
	var order []int
	if p.n <= ExactUpTo {
		order = p.exact()
	} else {
		order = p.search()
	}
	if turned := reversed(order); p.allowed(turned) && turned[0] < order[0] && p.cost(turned) == p.cost(order) {
		return turned
	}
	return order
}

type problem struct {
	n     int
	step  []int64 // n×n
	held  []int   // by place: the point, or Free
	holds []int   // by point: its place, or Free
	fixed bool    // whether any place but the ends is held

	class     []int
	mostInRow int
	runCost   int64
	shy       []int64 // what each point costs at the beginning
	plain     bool    // neither runs nor beginnings cost anything
}

func newProblem(t Task) *problem {
	n := t.Points
	if n < 0 {
		panic(fmt.Sprintf("route: a path of %d points", n))
	}
	p := &problem{n: n, step: make([]int64, n*n), class: t.Class, mostInRow: max(1, t.MostInRow), runCost: t.RunCost,
		shy: make([]int64, n), held: make([]int, n), holds: make([]int, n), plain: true}
	for i := range n {
		p.held[i], p.holds[i] = Free, Free
		for j := i + 1; j < n; j++ {
			c := t.Step(i, j)
			checkCost(c)
			p.step[i*n+j], p.step[j*n+i] = c, c
		}
		if i < len(t.Shy) && t.Shy[i] {
			p.shy[i] = t.ShyCost
			p.plain = false
		}
	}
	checkCost(t.RunCost)
	checkCost(t.ShyCost)
	if len(t.Class) != n || t.MostInRow < 1 || t.RunCost == 0 {
		p.class = nil
	} else {
		p.plain = false
	}
	p.hold(t)
	return p
}

func checkCost(c int64) {
	if c < -MaxCost || c > MaxCost {
		panic(fmt.Sprintf("route: cost %d is beyond %d", c, MaxCost))
	}
}

func (p *problem) hold(t Task) {
	n := p.n
	put := func(at, point int) {
		if point == Free {
			return
		}
		if point < 0 || point >= n || p.holds[point] != Free && p.holds[point] != at || p.held[at] != Free && p.held[at] != point {
			panic(fmt.Sprintf("route: no path of %d points with %d at place %d", n, point, at))
		}
		p.held[at], p.holds[point] = point, at
	}
	if n == 0 {
		if t.First != Free && t.First != 0 || t.Last != Free && t.Last != 0 || len(t.Held) > 0 {
			panic("route: a held point of a path without points")
		}
		return
	}
	put(0, t.First)
	put(n-1, t.Last)
	for at, point := range t.Held {
		if at >= n {
			panic(fmt.Sprintf("route: place %d of a path of %d points is held", at, n))
		}
		put(at, point)
		p.fixed = p.fixed || point != Free && at > 0 && at < n-1
	}
}

func (p *problem) between(i, j int) int64 { return p.step[i*p.n+j] }

// length is the sum of all steps.
func (p *problem) length(order []int) int64 {
	var sum int64
	for k := 1; k < len(order); k++ {
		sum += p.between(order[k-1], order[k])
	}
	return sum
}

// cost is the length with what runs and the beginning cost.
func (p *problem) cost(order []int) int64 {
	sum := p.length(order) + p.shy[order[0]]
	if p.class == nil {
		return sum
	}
	run := 0
	for k, i := range order {
		run++
		if k == 0 || p.class[i] < 0 || p.class[i] != p.class[order[k-1]] {
			run = 1
		}
		if run > p.mostInRow {
			sum += p.runCost
		}
	}
	return sum
}

// allowed reports whether every held place holds its point.
func (p *problem) allowed(order []int) bool {
	for at, point := range p.held {
		if point != Free && order[at] != point {
			return false
		}
	}
	return true
}

func reverse(order []int) {
	for i, j := 0, len(order)-1; i < j; i, j = i+1, j-1 {
		order[i], order[j] = order[j], order[i]
	}
}

func reversed(order []int) []int {
	turned := append([]int(nil), order...)
	reverse(turned)
	return turned
}
