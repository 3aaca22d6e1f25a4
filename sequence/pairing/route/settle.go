package route

// settle improves an order under all that a task asks for: by reversing a stretch,
// by moving one to three neighbours and by exchanging two points, wherever no held
// place is touched, until none of these makes it cheaper. What a move does to the
// steps is known at once; runs are only counted again where they could decide.
func (p *problem) settle(order []int) []int {
	s := &settler{problem: p, order: append([]int(nil), order...), trial: make([]int, p.n)}
	s.now = p.cost(s.order)
	s.penalty = s.now - p.length(s.order)
	const mostRounds = 60 // far beyond what was ever seen to be needed
	for range mostRounds {
		if !s.reverseAny() && !s.moveAny() && !s.exchangeAny() {
			break
		}
	}
	return s.order
}

type settler struct {
	*problem
	order, trial []int
	now, penalty int64
}

// take makes the trial the order if it is cheaper.
func (s *settler) take() bool {
	cost := s.cost(s.trial)
	if cost >= s.now {
		return false
	}
	s.order, s.trial = s.trial, s.order
	s.now = cost
	s.penalty = cost - s.length(s.order)
	return true
}

// freeBetween reports whether no place from i to j is held.
func (s *settler) freeBetween(i, j int) bool {
	for k := i; k <= j; k++ {
		if s.held[k] != Free {
			return false
		}
	}
	return true
}

// join is the cost of the step between the points at two places; beyond the ends
// there is none.
func (s *settler) join(i, j int) int64 {
	if i < 0 || j >= s.n {
		return 0
	}
	return s.between(s.order[i], s.order[j])
}

func (s *settler) reverseAny() (any bool) {
	for i := range s.n {
		for j := i + 1; j < s.n && s.held[j] == Free && s.held[i] == Free; j++ {
			change := -s.join(i-1, i) - s.join(j, j+1)
			if i > 0 {
				change += s.join(i-1, j)
			}
			if j < s.n-1 {
				change += s.join(i, j+1)
			}
			if change >= s.penalty {
				continue
			}
			copy(s.trial, s.order)
			reverse(s.trial[i : j+1])
			any = s.take() || any
		}
	}
	return any
}

func (s *settler) moveAny() (any bool) {
	for size := 1; size <= 3; size++ {
		for i := 0; i+size <= s.n; i++ {
			for to := 0; to+size <= s.n; to++ {
				if to != i && s.freeBetween(min(i, to), max(i, to)+size-1) {
					any = s.move(i, size, to) || any
				}
			}
		}
	}
	return any
}

// move tries the stretch of so many points at place i at another place.
func (s *settler) move(i, size, to int) bool {
	saved := s.join(i-1, i) + s.join(i+size-1, i+size)
	if i > 0 && i+size < s.n {
		saved -= s.join(i-1, i+size)
	}
	left := to - 1 // the places, as they are now, between which it comes to stand
	if to > i {
		left = to + size - 1
	}
	spent := -s.join(left, left+1)
	if left >= 0 {
		spent += s.join(left, i)
	}
	if left+1 < s.n {
		spent += s.join(i+size-1, left+1)
	}
	turned := -s.join(left, left+1)
	if left >= 0 {
		turned += s.join(left, i+size-1)
	}
	if left+1 < s.n {
		turned += s.join(i, left+1)
	}
	if spent-saved < s.penalty {
		if s.carry(i, size, to); s.take() {
			return true
		}
	}
	if size > 1 && turned-saved < s.penalty {
		s.carry(i, size, to)
		reverse(s.trial[to : to+size])
		return s.take()
	}
	return false
}

// carry sets the trial to the order with a stretch at another place.
func (s *settler) carry(i, size, to int) {
	s.trial = append(s.trial[:0], s.order[:i]...)
	s.trial = append(s.trial, s.order[i+size:]...)
	s.trial = append(s.trial, s.order[i:i+size]...) // grown to its full length again
	copy(s.trial[to+size:], s.trial[to:s.n-size])
	copy(s.trial[to:], s.order[i:i+size])
}

func (s *settler) exchangeAny() (any bool) {
	for i := range s.n {
		for j := i + 1; j < s.n; j++ {
			if s.held[i] != Free || s.held[j] != Free {
				continue
			}
			change := s.exchanged(i, j)
			if change >= s.penalty {
				continue
			}
			copy(s.trial, s.order)
			s.trial[i], s.trial[j] = s.trial[j], s.trial[i]
			any = s.take() || any
		}
	}
	return any
}

// exchanged is what exchanging the points at two places does to the steps.
func (s *settler) exchanged(i, j int) int64 {
	if j == i+1 {
		change := -s.join(i-1, i) - s.join(j, j+1)
		if i > 0 {
			change += s.join(i-1, j)
		}
		if j < s.n-1 {
			change += s.join(i, j+1)
		}
		return change
	}
	change := -s.join(i-1, i) - s.join(i, i+1) - s.join(j-1, j) - s.join(j, j+1)
	change += s.join(j, i+1) + s.join(j-1, i)
	if i > 0 {
		change += s.join(i-1, j)
	}
	if j < s.n-1 {
		change += s.join(i, j+1)
	}
	return change
}
