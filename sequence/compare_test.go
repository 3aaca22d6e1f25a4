package sequence

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func hang(opening PhotoID, spreads ...[2]PhotoID) Sequence {
	q := Sequence{Opening: opening}
	for _, s := range spreads {
		q.Last++
		q.Spreads = append(q.Spreads, Spread{ID: q.Last, Left: s[0], Right: s[1]})
	}
	return q
}

func TestCompareTellsPairsPhotosAndOrder(t *testing.T) {
	earlier := hang(1, [2]PhotoID{2, 3}, [2]PhotoID{4, 5}, [2]PhotoID{6, 0}, [2]PhotoID{7, 8})
	for _, c := range []struct {
		name  string
		later Sequence
		want  Diff
	}{
		{"nothing changed", earlier, Diff{Kept: []Pair{{2, 3}, {4, 5}, {7, 8}}}},
		{"a swap keeps the pair", hang(1, [2]PhotoID{3, 2}, [2]PhotoID{4, 5}, [2]PhotoID{6, 0}, [2]PhotoID{7, 8}),
			Diff{Kept: []Pair{{2, 3}, {4, 5}, {7, 8}}, Turned: []Pair{{2, 3}}}},
		{"the last pair moved to the front", hang(1, [2]PhotoID{7, 8}, [2]PhotoID{2, 3}, [2]PhotoID{4, 5}, [2]PhotoID{6, 0}),
			Diff{Kept: []Pair{{2, 3}, {4, 5}, {7, 8}}, Moved: 1, Lifted: []Lift{{Photos: []PhotoID{7, 8}, To: Earlier}}}},
		{"one pair broken, one new, one photo come and one gone", hang(1, [2]PhotoID{2, 9}, [2]PhotoID{4, 5}, [2]PhotoID{6, 0}, [2]PhotoID{7, 8}),
			Diff{Kept: []Pair{{4, 5}, {7, 8}}, Broken: []Pair{{2, 3}}, New: []Pair{{2, 9}}, Come: []PhotoID{9}, Gone: []PhotoID{3}}},
		{"everything taken down", Sequence{}, Diff{Broken: []Pair{{2, 3}, {4, 5}, {7, 8}}, Gone: []PhotoID{1, 2, 3, 4, 5, 6, 7, 8}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, Compare(earlier, c.later), cmpopts.EquateEmpty(), cmpopts.IgnoreFields(Diff{}, "Tau")); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// fewestMoves tells, of every order of n, how many times one must take a unit
// out of the rising order and put it somewhere else to come to it, found by
// trying all ways, shortest first.
func fewestMoves(n int) map[string]int {
	still := make([]int, n)
	for i := range still {
		still[i] = i
	}
	moves := map[string]int{fmt.Sprint(still): 0}
	for reach := [][]int{still}; len(reach) > 0; reach = reach[1:] {
		order := reach[0]
		so := moves[fmt.Sprint(order)]
		for i := range order {
			without := slices.Delete(slices.Clone(order), i, i+1)
			for j := range order {
				moved := slices.Insert(slices.Clone(without), j, order[i])
				if _, seen := moves[fmt.Sprint(moved)]; !seen {
					moves[fmt.Sprint(moved)] = so + 1
					reach = append(reach, moved)
				}
			}
		}
	}
	return moves
}

func orders(n int, each func([]int)) {
	order := make([]int, n)
	var place func(i int)
	place = func(i int) {
		if i == n {
			each(order)
			return
		}
		for v := range n {
			if !slices.Contains(order[:i], v) {
				order[i] = v
				place(i + 1)
			}
		}
	}
	place(0)
}

func TestLiftsAreTheFewestMovesThatExplainAnyOrderOfSix(t *testing.T) {
	fewest := fewestMoves(6)
	orders(6, func(order []int) {
		before, after := Sequence{}, Sequence{}
		for i, v := range order {
			before.Spreads = append(before.Spreads, Spread{ID: SpreadID(i + 1), Left: PhotoID(i + 1)})
			after.Spreads = append(after.Spreads, Spread{ID: SpreadID(i + 1), Left: PhotoID(v + 1)})
		}
		if got, want := Compare(before, after).Moved, fewest[fmt.Sprint(order)]; got != want {
			t.Fatalf("%v takes %d moves, not %d", order, want, got)
		}
	})
}

func TestAPhotoIsSaidToHavePassedAPairRatherThanThePairThePhoto(t *testing.T) {
	d := Compare(hang(0, [2]PhotoID{1, 0}, [2]PhotoID{2, 3}), hang(0, [2]PhotoID{2, 3}, [2]PhotoID{1, 0}))
	if diff := cmp.Diff([]Lift{{Photos: []PhotoID{1}, To: End}}, d.Lifted); diff != "" {
		t.Error(diff)
	}
	d = Compare(hang(0, [2]PhotoID{2, 3}, [2]PhotoID{1, 0}), hang(0, [2]PhotoID{1, 0}, [2]PhotoID{2, 3}))
	if diff := cmp.Diff([]Lift{{Photos: []PhotoID{1}, To: Front}}, d.Lifted); diff != "" {
		t.Error(diff)
	}
}

func TestAChapterThatMovedWholeIsToldAsOne(t *testing.T) {
	in := func(chapter ChapterID, q Sequence, ids ...SpreadID) Sequence {
		q.Chapters, q.LastChapter = []Chapter{{1, "Harbour"}}, 1
		for _, id := range ids {
			q.Spreads[q.Index(id)].Chapter = chapter
		}
		return q
	}
	earlier := in(1, hang(0, [2]PhotoID{1, 2}, [2]PhotoID{3, 4}, [2]PhotoID{5, 6}, [2]PhotoID{7, 8}, [2]PhotoID{9, 0}), 4, 5)
	later := in(1, hang(0, [2]PhotoID{7, 8}, [2]PhotoID{9, 0}, [2]PhotoID{1, 2}, [2]PhotoID{3, 4}, [2]PhotoID{5, 6}), 1, 2)
	d := Compare(earlier, later)
	if diff := cmp.Diff([]Lift{{Photos: []PhotoID{7, 8, 9}, Chapter: "Harbour", To: Front}}, d.Lifted); diff != "" || d.Moved != 2 {
		t.Error(d.Moved, diff)
	}
	if words := d.Words(); words != "“Harbour” moved to the front" {
		t.Error(words)
	}
}

// testdata/tau.json holds what SciPy gave, and beside it the command.
func TestTauIsWhatSciPyGives(t *testing.T) {
	data, err := os.ReadFile("testdata/tau.json")
	if err != nil {
		t.Fatal(err)
	}
	var figures struct {
		Cases []struct {
			Ranks []int   `json:"ranks"`
			Tau   float64 `json:"tau"`
		} `json:"cases"`
	}
	if err := json.Unmarshal(data, &figures); err != nil {
		t.Fatal(err)
	}
	if len(figures.Cases) < 20 {
		t.Fatalf("only %d cases", len(figures.Cases))
	}
	for _, c := range figures.Cases {
		if got := kendall(c.Ranks); got == nil || math.Abs(*got-c.Tau) > 1e-12 {
			t.Errorf("%.12v: tau is %v, want %v", c.Ranks, *got, c.Tau)
		}
	}
}

// M. Hollander and D. A. Wolfe, Nonparametric Statistical Methods, 1973, page
// 187, lightness and quality of tuna: T is 26 of 36 couples, so tau is 16/36
// (figures from memory, as R's documentation of cor.test has them too).
func TestTauOfAPublishedExample(t *testing.T) {
	lightness := []float64{44.4, 45.9, 41.9, 53.3, 44.7, 44.1, 50.7, 45.2, 60.1}
	quality := []float64{2.6, 3.1, 2.5, 5.0, 3.6, 4.0, 5.2, 2.8, 3.8}
	rising := slices.Sorted(slices.Values(quality))
	ranks := make([]int, len(lightness))
	for i, l := range slices.Sorted(slices.Values(lightness)) {
		ranks[i] = slices.Index(rising, quality[slices.Index(lightness, l)])
	}
	if tau := *kendall(ranks); math.Abs(tau-16.0/36) > 1e-12 {
		t.Errorf("tau is %v", tau)
	}
}

func TestTauCountsEveryCoupleOfSmallOrdersByHand(t *testing.T) {
	for n := 2; n <= 6; n++ {
		orders(n, func(order []int) {
			sum := 0
			for i := range order {
				for j := range i {
					if order[j] < order[i] {
						sum++
					} else {
						sum--
					}
				}
			}
			if got, want := *kendall(order), float64(sum)/float64(n*(n-1)/2); math.Abs(got-want) > 1e-12 {
				t.Fatalf("%v: %v, want %v", order, got, want)
			}
		})
	}
	if kendall([]int{3}) != nil {
		t.Error("one photo has an order")
	}
}

func TestAComparisonTheOtherWayRoundSwapsWhatCameAndWentAndKeepsFigures(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 500 {
		one, other := randomSequence(r, 14), randomSequence(r, 14)
		forth, back := Compare(one, other), Compare(other, one)
		sorted := cmpopts.SortSlices(func(a, b Pair) bool { return a[0] < b[0] || a[0] == b[0] && a[1] < b[1] })
		if diff := cmp.Diff(forth.New, back.Broken, sorted, cmpopts.EquateEmpty()); diff != "" {
			t.Fatal(diff)
		}
		if diff := cmp.Diff(forth.Kept, back.Kept, sorted, cmpopts.EquateEmpty()); diff != "" {
			t.Fatal(diff)
		}
		if diff := cmp.Diff(forth.Come, back.Gone, cmpopts.EquateEmpty()); diff != "" {
			t.Fatal(diff)
		}
		if forth.Moved != back.Moved || (forth.Tau == nil) != (back.Tau == nil) || forth.Tau != nil && math.Abs(*forth.Tau-*back.Tau) > 1e-12 {
			t.Fatalf("%+v\n%+v", forth, back)
		}
	}
}

func BenchmarkCompare(b *testing.B) {
	for _, spreads := range []int{20, 100, 250} {
		b.Run(fmt.Sprint(spreads, " spreads"), func(b *testing.B) {
			r := rand.New(rand.NewPCG(1, 1))
			one, other := Sequence{}, Sequence{}
			for i, at := range r.Perm(spreads) {
				one.Spreads = append(one.Spreads, Spread{ID: SpreadID(i + 1), Left: PhotoID(2*i + 1), Right: PhotoID(2*i + 2)})
				other.Spreads = append(other.Spreads, Spread{ID: SpreadID(at + 1), Left: PhotoID(2*at + 1), Right: PhotoID(2*at + 2)})
			}
			for b.Loop() {
				Compare(one, other)
			}
		})
	}
}
