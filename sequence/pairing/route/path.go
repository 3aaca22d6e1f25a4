package route

import "fmt"

// MaxCost bounds a step's cost on both sides; it keeps sums inside an int64.
const MaxCost int64 = 1 << 50

// Free leaves an end of the path to be chosen.
const Free = -1

// ExactUpTo is the greatest number of points for which Path is sure to find the
// cheapest order.
const ExactUpTo = 12

// Path returns the points 0..n-1 in an order of least summed cost, beginning at
// first and ending at last unless they are Free. cost(i, j) is that of the step
// between i and j and must equal cost(j, i); it is asked once for each i < j.
//
// Up to ExactUpTo points the order is cheapest. Beyond, it is the best of a few
// orders, each of which no reversal of a stretch and no moving of one to three
// neighbours makes cheaper. Equal input gives equal output; of two directions
// with both ends free, the one that begins at the lower number is returned.
//
// It panics when n is negative, an end is no point, both ends are the same of
// several points, or a cost lies beyond MaxCost.
func Path(n int, cost func(i, j int) int64, first, last int) []int {
	p := newProblem(n, cost, first, last)
	if n == 0 {
		return []int{}
	}
	var order []int
	if n <= ExactUpTo {
		order = p.exact()
	} else {
		order = p.search()
	}
	if first == Free && last == Free && order[0] > order[n-1] {
		reverse(order)
	}
	return order
}

type problem struct {
	n           int
	step        []int64 // n×n
	first, last int
}

func newProblem(n int, cost func(i, j int) int64, first, last int) *problem {
	if n < 0 || first < Free || first >= max(n, 1) || last < Free || last >= max(n, 1) ||
		(n > 1 && first == last && first != Free) {
		panic(fmt.Sprintf("route: no path of %d points from %d to %d", n, first, last))
	}
	p := &problem{n: n, step: make([]int64, n*n), first: first, last: last}
	for i := range n {
		for j := i + 1; j < n; j++ {
			c := cost(i, j)
			if c < -MaxCost || c > MaxCost {
				panic(fmt.Sprintf("route: cost %d is beyond %d", c, MaxCost))
			}
			p.step[i*n+j], p.step[j*n+i] = c, c
		}
	}
	return p
}

func (p *problem) between(i, j int) int64 { return p.step[i*p.n+j] }

func (p *problem) length(order []int) int64 {
	var sum int64
	for k := 1; k < len(order); k++ {
		sum += p.between(order[k-1], order[k])
	}
	return sum
}

func reverse(order []int) {
	for i, j := 0, len(order)-1; i < j; i, j = i+1, j-1 {
		order[i], order[j] = order[j], order[i]
	}
}
