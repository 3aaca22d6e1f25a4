package colour

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

func readJSON(t *testing.T, name string, into any) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// testdata/transport_linprog.json: SciPy's linprog (HiGHS dual simplex), nine
// decimals; its own feasibility tolerance of 1e-10 times costs up to 100 leaves
// about 1e-8.
func TestTransportFindsTheOptimumOfEveryJudgedProblem(t *testing.T) {
	var problems []struct {
		Cost, Supply, Demand []float64
		Optimum              float64
	}
	readJSON(t, "transport_linprog.json", &problems)
	if len(problems) != 100 {
		t.Fatalf("%d problems, want 100", len(problems))
	}
	for k, p := range problems {
		if got := transport(p.Cost, p.Supply, p.Demand); math.Abs(got-p.Optimum) > 2e-8 {
			t.Errorf("problem %d (%d×%d): %.10f, linprog %.9f", k, len(p.Supply), len(p.Demand), got, p.Optimum)
		}
	}
}

// Equal shares make an assignment problem, whose optimum trying every order
// finds; ties in the costs make nearly every tree degenerate.
func TestTransportOfEqualSharesIsTheBestAssignment(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 8))
	for range 300 {
		n := 1 + random.IntN(6)
		cost, shares := make([]float64, n*n), make([]float64, n)
		for i := range cost {
			cost[i] = float64(random.IntN(4))
		}
		for i := range shares {
			shares[i] = 1 / float64(n)
		}
		best := bestAssignment(cost, n, 0, 0) / float64(n)
		if got := transport(cost, shares, shares); math.Abs(got-best) > 1e-12 {
			t.Fatalf("%d×%d %v: %v, best order %v", n, n, cost, got, best)
		}
	}
}

func bestAssignment(cost []float64, n, row int, taken uint) float64 {
	if row == n {
		return 0
	}
	best := math.Inf(1)
	for j := range n {
		if taken&(1<<j) == 0 {
			best = min(best, cost[row*n+j]+bestAssignment(cost, n, row+1, taken|1<<j))
		}
	}
	return best
}

// On a line with |x−y| as cost the optimum is the area between the two
// cumulative distributions (Vallender 1974), at any size.
func TestTransportOnALineIsTheAreaBetweenDistributions(t *testing.T) {
	random := rand.New(rand.NewPCG(19, 74))
	for _, size := range []int{2, 5, 8, 9, 30, 60} {
		for range 20 {
			n, m := size, 1+random.IntN(size)
			supply, demand, cost := make([]float64, n), make([]float64, m), make([]float64, 0, n*m)
			step := make([]float64, 101)
			at := make([]int, m)
			for j := range demand {
				demand[j], at[j] = 1/float64(m), random.IntN(101)
				step[at[j]] -= demand[j]
			}
			for i := range supply {
				x := random.IntN(101)
				supply[i] = 1 / float64(n)
				step[x] += supply[i]
				for j := range demand {
					cost = append(cost, math.Abs(float64(x-at[j])))
				}
			}
			area, balance := 0.0, 0.0
			for _, s := range step {
				balance += s
				area += math.Abs(balance)
			}
			if got := transport(cost, supply, demand); math.Abs(got-area) > 1e-9 {
				t.Fatalf("%d×%d: %.12f, area %.12f", n, m, got, area)
			}
		}
	}
}
