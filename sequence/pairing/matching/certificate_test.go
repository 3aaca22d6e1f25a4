package matching

import (
	"strings"
	"testing"
)

// One triangle and one vertex beside it: the heaviest matching is one edge of
// the triangle, and only a blossom can prove it.
func triangle() (*Weights, []int, Certificate) {
	w := NewWeights(4)
	w.Set(0, 1, 4)
	w.Set(1, 2, 4)
	w.Set(0, 2, 4)
	return w, []int{1, 0, -1, -1}, Certificate{
		Vertex:   []int64{0, 0, 0, 0},
		Blossoms: []Blossom{{Members: []int{0, 1, 2}, Dual: 8}},
	}
}

func TestVerifyAcceptsAProof(t *testing.T) {
	w, mate, c := triangle()
	if err := c.Verify(w, mate); err != nil {
		t.Fatal(err)
	}
	if err := (Certificate{}).Verify(NewWeights(0), nil); err != nil {
		t.Fatal("the empty graph:", err)
	}
}

func TestVerifyNamesWhatIsWrong(t *testing.T) {
	cases := []struct {
		name, want string
		spoil      func(w *Weights, mate []int, c *Certificate) []int
	}{
		{"a mate that does not answer", "does not answer", func(w *Weights, m []int, c *Certificate) []int { m[0] = 2; return m }},
		{"a mate out of range", "does not answer", func(w *Weights, m []int, c *Certificate) []int { m[3] = 9; return m }},
		{"its own mate", "does not answer", func(w *Weights, m []int, c *Certificate) []int { m[3] = 3; return m }},
		{"a pair without an edge", "without an edge", func(w *Weights, m []int, c *Certificate) []int { m[2], m[3] = 3, 2; return m }},
		{"too few mates", "3 mates", func(w *Weights, m []int, c *Certificate) []int { return m[:3] }},
		{"an edge heavier than what is paid", "short by 2", func(w *Weights, m []int, c *Certificate) []int { w.Set(1, 2, 5); return m }},
		{"a heavier matching left aside", "short by 2", func(w *Weights, m []int, c *Certificate) []int { w.Set(2, 3, 1); return m }},
		{"a pair overpaid", "overpaid by 2", func(w *Weights, m []int, c *Certificate) []int { w.Set(0, 1, 3); return m }},
		{"a lone vertex with a value", "is alone", func(w *Weights, m []int, c *Certificate) []int { c.Vertex[3] = 1; return m }},
		{"a value below zero", "has the value -1", func(w *Weights, m []int, c *Certificate) []int { c.Vertex[0] = -1; return m }},
		{"a value beyond all weights", "has the value", func(w *Weights, m []int, c *Certificate) []int { c.Vertex[0] = 1 << 60; return m }},
		{"a blossom not full", "are paired inside", func(w *Weights, m []int, c *Certificate) []int { m[0], m[1] = -1, -1; return m }},
		{"a blossom of even size", "2 members", func(w *Weights, m []int, c *Certificate) []int {
			c.Blossoms[0].Members = []int{0, 1}
			return m
		}},
		{"a member named twice", "named twice", func(w *Weights, m []int, c *Certificate) []int {
			c.Blossoms[0].Members = []int{0, 1, 1}
			return m
		}},
		{"a blossom below zero", "value -8", func(w *Weights, m []int, c *Certificate) []int { c.Blossoms[0].Dual = -8; return m }},
		{"a flood of blossoms", "5 blossoms", func(w *Weights, m []int, c *Certificate) []int {
			for range 4 {
				c.Blossoms = append(c.Blossoms, c.Blossoms[0])
			}
			return m
		}},
	}
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			w, mate, c := triangle()
			err := c.Verify(w, k.spoil(w, mate, &c))
			if err == nil || !strings.Contains(err.Error(), k.want) {
				t.Fatalf("got %v, want %q in it", err, k.want)
			}
		})
	}
}

// The proof must fail for every matching that is not heaviest, whatever
// certificate the solver gave for the heaviest.
func TestNoCertificatePassesALighterMatching(t *testing.T) {
	for seed := range uint64(300) {
		w := recipe{8, 70, 1, 6}.graph(seed)
		mate, _, cert := Match(w)
		for i, j := range mate {
			if i < j {
				lighter := append([]int(nil), mate...)
				lighter[i], lighter[j] = -1, -1
				if cert.Verify(w, lighter) == nil {
					t.Fatalf("seed %d: passes without the pair (%d, %d)", seed, i, j)
				}
			}
		}
	}
}

func TestWeightsRefuseWhatIsNoPairOrNoWeight(t *testing.T) {
	w := NewWeights(3)
	w.Set(2, 0, 7)
	if v, ok := w.At(0, 2); v != 7 || !ok {
		t.Errorf("At(0, 2) = %d, %v after Set(2, 0, 7)", v, ok)
	}
	w.Set(0, 2, NoEdge)
	if _, ok := w.At(2, 0); ok {
		t.Error("NoEdge does not take the edge away")
	}
	for name, f := range map[string]func(){
		"same vertex":    func() { w.Set(1, 1, 1) },
		"below":          func() { w.At(-1, 1) },
		"beyond":         func() { w.At(0, 3) },
		"too heavy":      func() { w.Set(0, 1, MaxWeight+1) },
		"too light":      func() { w.Set(0, 1, -MaxWeight-1) },
		"negative count": func() { NewWeights(-1) },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			f()
		})
	}
}
