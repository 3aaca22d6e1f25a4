package matching

import (
	"fmt"
	"slices"
	"testing"
)

// prove runs the solver and checks everything that can be checked of its answer
// without knowing the right one.
func prove(t testing.TB, w *Weights) int64 {
	t.Helper()
	mate, total, cert := Match(w)
	if err := cert.Verify(w, mate); err != nil {
		t.Fatalf("the certificate does not prove the matching: %v", err)
	}
	var sum int64
	for i, j := range mate {
		if j < i {
			continue
		}
		v, ok := w.At(i, j)
		if !ok || v <= 0 {
			t.Fatalf("pair (%d, %d) has weight %d, edge %v", i, j, v, ok)
		}
		sum += v
	}
	if sum != total {
		t.Fatalf("total %d, but the pairs weigh %d", total, sum)
	}
	return total
}

func TestSmallGraphsAreMatchedAsHeavilyAsTrialOfAllMatchings(t *testing.T) {
	kinds := []struct {
		name     string
		percent  int64
		low, top int64
	}{
		{"dense, ones and twos", 100, 1, 2},
		{"dense, small, full of ties", 95, 1, 6},
		{"half the edges, small", 50, 1, 5},
		{"sparse, small", 30, 1, 4},
		{"sparse, wide", 35, 1, 1000},
		{"dense, wide", 90, 1, 1_000_000},
		{"narrow band, where pairs nearly tie", 60, 95, 105},
		{"negative and zero among them", 80, -5, 5},
		{"all negative or zero", 100, -3, 0},
		{"at the limit of weights", 100, MaxWeight - 3, MaxWeight},
	}
	for _, k := range kinds {
		t.Run(k.name, func(t *testing.T) {
			for n := 0; n <= 10; n++ {
				for seed := range uint64(400) {
					w := recipe{n, k.percent, k.low, k.top}.graph(seed)
					if got, want := prove(t, w), heaviestByTrial(w); got != want {
						t.Fatalf("n %d seed %d: total %d, by trial %d", n, seed, got, want)
					}
				}
			}
		})
	}
}

func TestLargeGraphsAreProvenByTheirCertificate(t *testing.T) {
	for _, r := range []recipe{
		{100, 100, 1, 1_000_000}, {150, 100, 1, 3}, {151, 10, 1, 20}, {200, 5, 1, 8},
		{201, 3, 1, 2}, {250, 50, 900, 1000}, {300, 2, 1, 4}, {300, 100, -100, 100}, {301, 1, 1, 3},
	} {
		t.Run(fmt.Sprintf("%+v", r), func(t *testing.T) {
			for seed := range uint64(4) {
				prove(t, r.graph(seed))
			}
		})
	}
}

func TestEqualGraphsGiveEqualAnswers(t *testing.T) {
	r := recipe{60, 70, 1, 3}
	first, _, firstCert := Match(r.graph(7))
	again, _, againCert := Match(r.graph(7))
	if !slices.Equal(first, again) || !slices.Equal(firstCert.Vertex, againCert.Vertex) {
		t.Fatal("two runs on one graph differ")
	}
}

func TestMatchLeavesTheGraphAsItWas(t *testing.T) {
	r := recipe{20, 70, 1, 9}
	w := r.graph(3)
	Match(w)
	if !slices.Equal(w.upper, r.graph(3).upper) {
		t.Fatal("the weights were changed")
	}
}

func FuzzMatchIsHeaviestAndProven(f *testing.F) {
	f.Add([]byte{5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10})
	f.Add([]byte{9, 2, 2, 2, 2, 2, 2, 1, 1, 1, 1, 1, 3, 3, 3})
	f.Add([]byte{40, 1, 2, 1, 2, 200, 255, 7})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) == 0 {
			return
		}
		n := int(data[0]) % 48
		w := NewWeights(n)
		at := 0
		for i := range n {
			for j := i + 1; j < n; j++ {
				at++
				b := data[at%len(data)]
				if b >= 224 { // one in eight is no edge
					continue
				}
				w.Set(i, j, int64(b%32)-4+int64(at/len(data)%3))
			}
		}
		got := prove(t, w)
		if n <= 11 {
			if want := heaviestByTrial(w); got != want {
				t.Fatalf("total %d, by trial %d", got, want)
			}
		}
	})
}

func BenchmarkMatchDense(b *testing.B) {
	for _, n := range []int{100, 300, 500, 1000} {
		for name, w := range map[string]*Weights{
			"spread":   recipe{n, 100, 1, 1_000_000}.graph(1),
			"ties":     recipe{n, 100, 1, 100}.graph(1),
			"clusters": clusters(n, 1),
		} {
			b.Run(fmt.Sprintf("n=%d/%s", n, name), func(b *testing.B) {
				for b.Loop() {
					Match(w)
				}
			})
		}
	}
}
