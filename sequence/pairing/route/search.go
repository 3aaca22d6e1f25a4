package route

// search improves several first orders as far as single moves can, and keeps
// the cheapest. How many it tries falls with the number of points, so that a
// few hundred take a fraction of a second and a few thousand some seconds.
func (p *problem) search() []int {
	tries := max(1, min(16, 4_000_000/(p.n*p.n)))
	var best []int
	var bestLength int64
	for _, start := range p.starts(tries) {
		order := p.nearestFirst(start)
		p.improve(order)
		if length := p.length(order); best == nil || length < bestLength {
			best, bestLength = order, length
		}
	}
	return best
}

// starts returns the points from which first orders begin: the fixed first one,
// else points drawn by a generator with a fixed seed (Knuth's constants for
// MMIX), so that equal input gives equal output.
func (p *problem) starts(tries int) []int {
	if p.first != Free {
		return []int{p.first}
	}
	points := make([]int, 0, p.n)
	for i := range p.n {
		if i != p.last {
			points = append(points, i)
		}
	}
	state := uint64(p.n)
	for k := range min(tries, len(points)) {
		state = state*6364136223846793005 + 1442695040888963407
		other := k + int((state>>33)%uint64(len(points)-k))
		points[k], points[other] = points[other], points[k]
	}
	return points[:min(tries, len(points))]
}

// nearestFirst goes from start always to the cheapest point not yet visited,
// and to the fixed last one at the end.
func (p *problem) nearestFirst(start int) []int {
	order := make([]int, 0, p.n)
	visited := make([]bool, p.n)
	visit := func(k int) {
		order = append(order, k)
		visited[k] = true
	}
	visit(start)
	if p.last != Free {
		visited[p.last] = true
	}
	for here := start; ; here = order[len(order)-1] {
		next := -1
		for k := range p.n {
			if !visited[k] && (next < 0 || p.between(here, k) < p.between(here, next)) {
				next = k
			}
		}
		if next < 0 {
			break
		}
		visit(next)
	}
	if p.last != Free {
		order = append(order, p.last)
	}
	return order
}

// improve applies moves that shorten the path until there is none: the reversal
// of a stretch (G. A. Croes, "A method for solving traveling-salesman problems",
// Operations Research 6, 1958) and the moving of one to three neighbours
// elsewhere, either way round (I. Or's exchange, thesis, Northwestern, 1976).
func (p *problem) improve(order []int) {
	low, high := 0, p.n-1
	if p.first != Free {
		low++
	}
	if p.last != Free {
		high--
	}
	for p.reverseOne(order, low, high) || p.moveOne(order, low, high) {
	}
}

// at is the cost of the step between two places in the order; a step beyond an
// end costs nothing.
func (p *problem) at(order []int, i, j int) int64 {
	if i < 0 || j >= p.n {
		return 0
	}
	return p.between(order[i], order[j])
}

// reverseOne goes once through all stretches between the places low and high and
// reverses those whose reversal is cheaper.
func (p *problem) reverseOne(order []int, low, high int) (improved bool) {
	for i := low; i < high; i++ {
		for j := i + 1; j <= high; j++ {
			gain := p.at(order, i-1, i) + p.at(order, j, j+1)
			if i > 0 {
				gain -= p.between(order[i-1], order[j])
			}
			if j < p.n-1 {
				gain -= p.between(order[i], order[j+1])
			}
			if gain > 0 {
				reverse(order[i : j+1])
				improved = true
			}
		}
	}
	return improved
}

// moveOne goes once through all stretches of one to three places and puts each
// where it makes the path cheapest, if that is cheaper than where it is.
func (p *problem) moveOne(order []int, low, high int) (improved bool) {
	rest := make([]int, 0, p.n)
	for size := 1; size <= 3; size++ {
		for i := low; i+size-1 <= high; i++ {
			if p.moveStretch(order, i, size, low, high, rest) {
				improved = true
			}
		}
	}
	return improved
}

func (p *problem) moveStretch(order []int, i, size, low, high int, rest []int) bool {
	head, tail := order[i], order[i+size-1]
	saved := p.at(order, i-1, i) + p.at(order, i+size-1, i+size)
	if i > 0 && i+size < p.n {
		saved -= p.between(order[i-1], order[i+size])
	}
	rest = append(append(rest[:0], order[:i]...), order[i+size:]...)

	var bestGain int64
	bestAt, turned := -1, false
	// Put before place k of the rest, which has size places fewer.
	for k := low; k <= high-size+1; k++ {
		var ahead, back int64 // with the stretch as it is, and turned round
		open := int64(0)
		if k > 0 {
			ahead += p.between(rest[k-1], head)
			back += p.between(rest[k-1], tail)
		}
		if k < len(rest) {
			ahead += p.between(tail, rest[k])
			back += p.between(head, rest[k])
		}
		if k > 0 && k < len(rest) {
			open = p.between(rest[k-1], rest[k])
		}
		if gain := saved + open - ahead; gain > bestGain {
			bestGain, bestAt, turned = gain, k, false
		}
		if gain := saved + open - back; gain > bestGain {
			bestGain, bestAt, turned = gain, k, true
		}
	}
	if bestAt < 0 {
		return false
	}
	stretch := [3]int{}
	copy(stretch[:], order[i:i+size])
	if turned {
		reverse(stretch[:size])
	}
	copy(order[:bestAt], rest[:bestAt])
	copy(order[bestAt:], stretch[:size])
	copy(order[bestAt+size:], rest[bestAt:])
	return true
}
