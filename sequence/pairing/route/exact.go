package route

import "math/bits"

const unreachable int64 = 1 << 60

// exact is the dynamic programme of M. Held and R. M. Karp ("A dynamic
// programming approach to sequencing problems", J. SIAM 10, 1962) for an open
// path: the cheapest way through a set of points that ends at a given one, for
// ever larger sets. Where runs of one class cost something, how many of the end's
// class stand on end is part of the state; the size of the set says which place
// comes next, hence what is held there. O(2ⁿ n² r) time, O(2ⁿ n r) memory for runs
// of up to r.
func (p *problem) exact() []int {
	e := &programme{problem: p, runs: 1}
	if p.class != nil {
		e.runs = min(p.mostInRow, p.n)
	}
	e.cheapest = make([]int64, (p.n*e.runs)<<p.n)
	e.before = make([]int16, len(e.cheapest))
	for at := range e.cheapest {
		e.cheapest[at] = unreachable
	}
	for set := 1; set < 1<<p.n; set++ {
		place := bits.OnesCount(uint(set)) - 1
		for end := range p.n {
			if set&(1<<end) == 0 || p.held[place] != Free && p.held[place] != end || p.holds[end] != Free && p.holds[end] != place {
				continue
			}
			e.reach(set, end)
		}
	}
	return e.trace()
}

type programme struct {
	*problem
	runs     int
	cheapest []int64 // at (set·n + end)·runs + (length of the run − 1)
	before   []int16 // end and run before, as end·runs + run − 1
}

// reach finds the cheapest ways through a set that end at one of its points.
func (e *programme) reach(set, end int) {
	rest := set &^ (1 << end)
	at := (set*e.n + end) * e.runs
	if rest == 0 {
		e.cheapest[at] = e.shy[end]
		return
	}
	for s := rest; s != 0; s &= s - 1 {
		k := bits.TrailingZeros(uint(s))
		for run := range e.runs {
			from := (rest*e.n+k)*e.runs + run
			if e.cheapest[from] >= unreachable {
				continue
			}
			c, now := e.cheapest[from]+e.between(k, end), 0
			if e.class != nil && e.class[k] >= 0 && e.class[k] == e.class[end] {
				now = run + 1
				if now == e.runs {
					now, c = run, c+e.runPast()
				}
			}
			if c < e.cheapest[at+now] {
				e.cheapest[at+now], e.before[at+now] = c, int16(k*e.runs+run)
			}
		}
	}
}

// runPast is what a point costs beyond the longest run counted; with fewer points
// than a run may have, no run is too long.
func (e *programme) runPast() int64 {
	if e.runs < e.mostInRow {
		return 0
	}
	return e.runCost
}

// trace follows the choices back from the cheapest end.
func (e *programme) trace() []int {
	all := 1<<e.n - 1
	best := -1
	for end := range e.n {
		for run := range e.runs {
			at := (all*e.n+end)*e.runs + run
			if e.cheapest[at] < unreachable && (best < 0 || e.cheapest[at] < e.cheapest[best]) {
				best = at
			}
		}
	}
	end, run := best/e.runs%e.n, best%e.runs
	order := make([]int, e.n)
	for k := e.n - 1; k >= 0; k-- {
		order[k] = end
		before := int(e.before[(all*e.n+end)*e.runs+run])
		all &^= 1 << end
		end, run = before/e.runs, before%e.runs
	}
	return order
}
