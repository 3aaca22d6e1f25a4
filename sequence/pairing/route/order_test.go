package route

import (
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The bounds are those of a linear programme; testdata/README.md says how they
// were made.
func TestLongPathsAreWithinTwoPerCentOfTheBestThereCanBe(t *testing.T) {
	data, err := os.ReadFile("testdata/bounds.tsv")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")[1:]
	if len(lines) != 5 {
		t.Fatalf("%d paths, want 5", len(lines))
	}
	for _, line := range lines {
		f := strings.Split(line, "\t")
		n, err := strconv.Atoi(f[0])
		if err != nil {
			t.Fatal(err)
		}
		seed, err := strconv.ParseUint(f[1], 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		bound, err := strconv.ParseFloat(f[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		cost := plane(n, seed)
		order := Path(n, cost, Free, Free)
		checkOrder(t, order, n, Free, Free)
		got := float64(length(order, cost))
		if got < bound-0.01 || got > 1.02*bound {
			t.Errorf("%d points, seed %d: %.0f, %.2f %% above the bound of %.2f", n, seed, got, 100*(got/bound-1), bound)
		}
		t.Logf("%d points, seed %d: %.2f %% above the bound", n, seed, 100*(got/bound-1))
	}
}

// costOf counts, apart from the solver, what a task says an order costs; ok is
// false for an order that it does not allow.
func costOf(task Task, order []int) (cost int64, ok bool) {
	n := task.Points
	if task.First != Free && order[0] != task.First || task.Last != Free && order[n-1] != task.Last {
		return 0, false
	}
	for at, point := range task.Held {
		if point != Free && order[at] != point {
			return 0, false
		}
	}
	cost = length(order, task.Step)
	if len(task.Shy) > 0 && task.Shy[order[0]] {
		cost += task.ShyCost
	}
	for k := range order {
		back := 0
		for back <= k && task.Class[order[k-back]] == task.Class[order[k]] && task.Class[order[k]] >= 0 {
			back++
		}
		if back > task.MostInRow {
			cost += task.RunCost
		}
	}
	return cost, true
}

func someTask(n int, seed uint64) Task {
	d := dice(seed)
	d.roll(1)
	task := Task{Points: n, Step: plane(n, seed), First: Free, Last: Free, Class: make([]int, n), MostInRow: 1 + int(d.roll(3)),
		RunCost: d.roll(600), Shy: make([]bool, n), ShyCost: d.roll(500), Held: make([]int, n)}
	for i := range n {
		task.Class[i] = int(d.roll(3)) - 1
		task.Shy[i] = d.roll(4) == 0
		task.Held[i] = Free
	}
	if d.roll(2) == 0 {
		task.Held[d.roll(int64(n))] = int(d.roll(int64(n)))
	}
	return task
}

func orders(n int, visit func([]int)) {
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	var place func(k int)
	place = func(k int) {
		if k == n {
			visit(order)
		}
		for i := k; i < n; i++ {
			order[k], order[i] = order[i], order[k]
			place(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	place(0)
}

func TestSmallTasksCostAsLittleAsTrialOfAllOrders(t *testing.T) {
	for seed := range uint64(80) {
		task := someTask(2+int(seed%6), seed)
		best := int64(1) << 62
		orders(task.Points, func(order []int) {
			if c, ok := costOf(task, order); ok {
				best = min(best, c)
			}
		})
		got, ok := costOf(task, Order(task))
		if !ok || got != best {
			t.Fatalf("seed %d: %d, allowed %v; by trial %d", seed, got, ok, best)
		}
	}
}

// The search for long orders, let loose on short ones, against the programme.
func TestSearchKeepsWhatATaskHoldsAndComesCloseToTheProgramme(t *testing.T) {
	var exact, found int64
	for seed := range uint64(120) {
		task := someTask(10, seed)
		p := newProblem(task)
		best, ok := costOf(task, p.exact())
		near, held := costOf(task, p.search())
		if !ok || !held || near < best {
			t.Fatalf("seed %d: exact %d (%v), search %d (%v)", seed, best, ok, near, held)
		}
		exact, found = exact+best, found+near
	}
	if found*100 > exact*104 {
		t.Errorf("search costs %d where %d is the least", found, exact)
	}
}

func TestALongLineHasNoLongRunsWhereTheyCanBeParted(t *testing.T) {
	const n = 120
	task := Task{Points: n, Step: plane(n, 8), First: Free, Last: Free, Class: make([]int, n), MostInRow: 4, RunCost: 700, Held: make([]int, n)}
	for i := range n {
		task.Class[i] = i % 3
		task.Held[i] = Free
	}
	task.Held[0], task.Held[50], task.Held[n-1] = 17, 3, 99
	order := Order(task)
	if order[0] != 17 || order[50] != 3 || order[n-1] != 99 {
		t.Errorf("held points stand at %d, %d and %d", slices.Index(order, 17), slices.Index(order, 3), slices.Index(order, 99))
	}
	run, tooLong := 0, 0
	for k := range order {
		run++
		if k == 0 || task.Class[order[k]] != task.Class[order[k-1]] {
			run = 1
		}
		if run > 4 {
			tooLong++
		}
	}
	if tooLong > 0 {
		t.Errorf("%d points stand beyond four of their class", tooLong)
	}
	free := length(Path(n, task.Step, Free, Free), task.Step)
	if got := length(order, task.Step); got > 13*free/10 {
		t.Errorf("%d long where %d would do without holding anything", got, free)
	}
}

func TestOrderRefusesWhatCannotBeHeld(t *testing.T) {
	for name, task := range map[string]Task{
		"a point twice":      {Points: 3, First: Free, Last: Free, Held: []int{1, 1, Free}},
		"no such point":      {Points: 3, First: Free, Last: Free, Held: []int{Free, 3, Free}},
		"no such place":      {Points: 2, First: Free, Last: Free, Held: []int{Free, Free, 1}},
		"against the first":  {Points: 3, First: 0, Last: Free, Held: []int{2, Free, Free}},
		"a run beyond cost":  {Points: 1, First: Free, Last: Free, RunCost: MaxCost + 1},
		"nothing to be held": {Points: 0, First: Free, Last: Free, Held: []int{Free}},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			task.Step = func(i, j int) int64 { return 1 }
			Order(task)
		}()
	}
}
