package route

import (
	"fmt"
	"slices"
	"testing"
)

// dice is a generator with Knuth's constants for MMIX.
type dice uint64

func (d *dice) roll(sides int64) int64 {
	*d = *d*6364136223846793005 + 1442695040888963407
	return int64(*d>>33) % sides
}

func table(n int, low, top int64, seed uint64) func(i, j int) int64 {
	d := dice(seed)
	c := make([]int64, n*n)
	for i := range n {
		for j := i + 1; j < n; j++ {
			c[i*n+j] = low + d.roll(top-low+1)
			c[j*n+i] = c[i*n+j]
		}
	}
	return func(i, j int) int64 { return c[i*n+j] }
}

func plane(n int, seed uint64) func(i, j int) int64 {
	d := dice(seed)
	x, y := make([]int64, n), make([]int64, n)
	for i := range n {
		x[i], y[i] = d.roll(1000), d.roll(1000)
	}
	return func(i, j int) int64 {
		dx, dy := x[i]-x[j], y[i]-y[j]
		return max(dx, -dx) + max(dy, -dy)
	}
}

func length(order []int, cost func(i, j int) int64) int64 {
	var sum int64
	for k := 1; k < len(order); k++ {
		sum += cost(order[k-1], order[k])
	}
	return sum
}

// shortestByTrial tries every order.
func shortestByTrial(n int, cost func(i, j int) int64, first, last int) int64 {
	best := int64(1) << 62
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	var place func(k int)
	place = func(k int) {
		if k == n {
			if (first == Free || order[0] == first) && (last == Free || order[n-1] == last) {
				best = min(best, length(order, cost))
			}
			return
		}
		for i := k; i < n; i++ {
			order[k], order[i] = order[i], order[k]
			place(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	place(0)
	return best
}

func checkOrder(t *testing.T, order []int, n, first, last int) {
	t.Helper()
	sorted := slices.Sorted(slices.Values(order))
	for i := range n {
		if len(sorted) != n || sorted[i] != i {
			t.Fatalf("%v does not hold every point once", order)
		}
	}
	if first != Free && order[0] != first || last != Free && order[n-1] != last {
		t.Fatalf("%v does not go from %d to %d", order, first, last)
	}
}

func TestSmallPathsAreAsShortAsTrialOfAllOrders(t *testing.T) {
	for n := 1; n <= 7; n++ {
		for seed := range uint64(20) {
			cost := table(n, -3, 12, seed)
			if seed%2 == 1 {
				cost = plane(n, seed)
			}
			for first := Free; first < n; first++ {
				for last := Free; last < n; last++ {
					if n > 1 && first == last && first != Free {
						continue
					}
					order := Path(n, cost, first, last)
					checkOrder(t, order, n, first, last)
					if got, want := length(order, cost), shortestByTrial(n, cost, first, last); got != want {
						t.Fatalf("n %d seed %d from %d to %d: %d, by trial %d", n, seed, first, last, got, want)
					}
				}
			}
		}
	}
}

// The search for long paths, let loose on short ones, may not beat the exact
// programme and should seldom be far behind.
func TestSearchComesCloseToTheExactProgramme(t *testing.T) {
	var exact, found int64
	for seed := range uint64(200) {
		p := newProblem(Task{Points: ExactUpTo, Step: plane(ExactUpTo, seed), First: Free, Last: Free})
		best, near := p.length(p.exact()), p.length(p.search())
		if near < best {
			t.Fatalf("seed %d: search %d is shorter than exact %d", seed, near, best)
		}
		exact += best
		found += near
	}
	if found*100 > exact*101 {
		t.Errorf("search is more than 1 %% longer in the mean: %d against %d", found, exact)
	}
}

func TestPointsOnALineAreWalkedFromEndToEnd(t *testing.T) {
	const n = 80
	place := make([]int64, n)
	d := dice(5)
	for i := range place {
		j := d.roll(int64(i + 1))
		place[i] = place[j]
		place[j] = int64(i * i)
	}
	cost := func(i, j int) int64 { return max(place[i]-place[j], place[j]-place[i]) }
	order := Path(n, cost, Free, Free)
	checkOrder(t, order, n, Free, Free)
	if got := length(order, cost); got != (n-1)*(n-1) {
		t.Errorf("the walk is %d long, the line %d", got, (n-1)*(n-1))
	}
}

func TestNoSingleMoveMakesALongPathShorter(t *testing.T) {
	for seed := range uint64(6) {
		const n = 40
		cost := plane(n, seed)
		first, last := Free, Free
		if seed%2 == 1 {
			first = 3
		}
		if seed%3 == 1 {
			last = 7
		}
		order := Path(n, cost, first, last)
		checkOrder(t, order, n, first, last)
		now := length(order, cost)
		for _, moved := range singleMoves(order) {
			if first != Free && moved[0] != first || last != Free && moved[n-1] != last {
				continue
			}
			if l := length(moved, cost); l < now {
				t.Fatalf("seed %d: %v of %d can be made %v of %d", seed, order, now, moved, l)
			}
		}
	}
}

// singleMoves returns every order one reversal, or one moving of up to three
// neighbours, away; made here by slicing, apart from the search's arithmetic.
func singleMoves(order []int) [][]int {
	n := len(order)
	var out [][]int
	for i := range n {
		for j := i + 1; j < n; j++ {
			moved := slices.Clone(order)
			slices.Reverse(moved[i : j+1])
			out = append(out, moved)
		}
	}
	for size := 1; size <= 3; size++ {
		for i := 0; i+size <= n; i++ {
			stretch := slices.Clone(order[i : i+size])
			rest := slices.Concat(order[:i], order[i+size:])
			for range 2 {
				for k := 0; k <= len(rest); k++ {
					out = append(out, slices.Insert(slices.Clone(rest), k, stretch...))
				}
				slices.Reverse(stretch)
			}
		}
	}
	return out
}

func TestEqualInputGivesEqualOrders(t *testing.T) {
	for _, n := range []int{9, 50} {
		cost := table(n, 1, 4, 3)
		if a, b := Path(n, cost, Free, Free), Path(n, cost, Free, Free); !slices.Equal(a, b) {
			t.Errorf("n %d: %v and %v", n, a, b)
		}
	}
	if got := Path(0, nil, Free, Free); len(got) != 0 {
		t.Errorf("no points: %v", got)
	}
}

func TestPathRefusesEndsThatAreNone(t *testing.T) {
	for _, ends := range [][2]int{{3, Free}, {Free, 3}, {-2, 0}, {1, 1}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("no panic for %v", ends)
				}
			}()
			Path(3, func(i, j int) int64 { return 1 }, ends[0], ends[1])
		}()
	}
}

func BenchmarkPath(b *testing.B) {
	for _, n := range []int{12, 60, 150, 500, 2000} {
		cost := plane(n, 1)
		b.Run(fmt.Sprintf("n=%d", n), func(b *testing.B) {
			for b.Loop() {
				Path(n, cost, Free, Free)
			}
		})
	}
}
