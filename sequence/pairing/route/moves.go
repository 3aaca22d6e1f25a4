package route

// reconnect looks at the point i for two steps that can be replaced by two cheaper
// ones, turning what lies between (G. A. Croes, "A method for solving
// traveling-salesman problems", Operations Research 6, 1958), and returns what was
// gained, 0 if there is nothing.
func (t *tour) reconnect(i int) int64 {
	next, prev := t.after(i), t.ahead(i)
	for _, j := range t.near[i] {
		near := t.cost(i, j)
		ahead, back := t.cost(i, next)-near, t.cost(prev, i)-near
		if ahead <= 0 && back <= 0 {
			return 0 // of what is gained, some step gains by itself: seen from there
		}
		if ahead > 0 && j != next {
			jNext := t.after(j)
			if g := ahead + t.cost(j, jNext) - t.cost(next, jNext); g > 0 && jNext != i {
				t.turn(next, j)
				t.loosen(i, next, j, jNext)
				return g
			}
		}
		if back > 0 && j != prev {
			jPrev := t.ahead(j)
			if g := back + t.cost(jPrev, j) - t.cost(prev, jPrev); g > 0 && jPrev != i {
				t.turn(i, jPrev)
				t.loosen(i, prev, j, jPrev)
				return g
			}
		}
	}
	return 0
}

// longestCarried is how many neighbours are moved together.
const longestCarried = 3

// carry looks for a stretch of one to three points beginning or ending at i that is
// cheaper elsewhere, beside one of i's neighbours (I. Or's exchange, thesis,
// Northwestern, 1976), and returns what was gained, 0 if there is nothing.
func (t *tour) carry(i int) int64 {
	back, fore := i, i
	for range longestCarried {
		if g := t.carryStretch(i, fore, i); g > 0 { // i‥fore, joined to a neighbour of i
			return g
		}
		if g := t.carryStretch(back, i, i); g > 0 {
			return g
		}
		back, fore = t.ahead(back), t.after(fore)
	}
	return 0
}

// carryStretch tries to put the stretch first‥last between two neighbours of which
// one is near its end i.
func (t *tour) carryStretch(first, last, i int) int64 {
	before, after := t.ahead(first), t.after(last)
	if before == last || after == first || before == after {
		return 0
	}
	free := t.cost(before, first) + t.cost(last, after) - t.cost(before, after)
	other := first
	if i == first {
		other = last
	}
	for _, j := range t.near[i] {
		if t.cost(i, j) >= free {
			return 0
		}
		if t.within(j, first, last) {
			continue
		}
		for _, k := range [2]int{t.after(j), t.ahead(j)} {
			if t.within(k, first, last) {
				continue // the step between j and k is the one that is being freed
			}
			if g := free + t.cost(j, k) - t.cost(j, i) - t.cost(k, other); g > 0 {
				t.place(first, last, i, j, k)
				t.loosen(before, after, first, last, j, k)
				return g
			}
		}
	}
	return 0
}

// within reports whether j lies on the stretch first‥last.
func (t *tour) within(j, first, last int) bool {
	n, from := len(t.order), t.at[first]
	off, size := t.at[j]-from, t.at[last]-from
	if off < 0 {
		off += n
	}
	if size < 0 {
		size += n
	}
	return off <= size
}

// place moves the stretch first‥last between the neighbours j and k, its end i
// beside j.
func (t *tour) place(first, last, i, j, k int) {
	other := first
	if i == first {
		other = last
	}
	until := j
	if t.after(j) != k {
		until = k
	}
	t.exchange(first, last, t.after(last), until)
	if t.after(j) != i && t.ahead(j) != i {
		t.turnBetween(i, other)
	}
}

// turnBetween turns the stretch between its two ends, whichever comes first.
func (t *tour) turnBetween(i, other int) {
	for x, k := i, 0; k < longestCarried; x, k = t.after(x), k+1 {
		if x == other {
			t.turn(i, other)
			return
		}
	}
	t.turn(other, i)
}
