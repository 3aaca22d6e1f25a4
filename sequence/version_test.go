package sequence

import (
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
			Diff{Kept: []Pair{{2, 3}, {4, 5}, {7, 8}}}},
		{"the last pair moved to the front", hang(1, [2]PhotoID{7, 8}, [2]PhotoID{2, 3}, [2]PhotoID{4, 5}, [2]PhotoID{6, 0}),
			Diff{Kept: []Pair{{2, 3}, {4, 5}, {7, 8}}, Moved: 1}},
		{"one pair broken, one new, one photo come and one gone", hang(1, [2]PhotoID{2, 9}, [2]PhotoID{4, 5}, [2]PhotoID{6, 0}, [2]PhotoID{7, 8}),
			Diff{Kept: []Pair{{4, 5}, {7, 8}}, Broken: []Pair{{2, 3}}, New: []Pair{{2, 9}}, Come: []PhotoID{9}, Gone: []PhotoID{3}}},
		{"everything taken down", Sequence{}, Diff{Broken: []Pair{{2, 3}, {4, 5}, {7, 8}}, Gone: []PhotoID{1, 2, 3, 4, 5, 6, 7, 8}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, Compare(earlier, c.later), cmpopts.EquateEmpty()); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestPagesAreCountedAsAPrinterCountsThem(t *testing.T) {
	q := hang(1, [2]PhotoID{2, 3}, [2]PhotoID{4, 5})
	q.Closing = 6
	if got := q.PageCount(); got != 6 {
		t.Errorf("two spreads between an opening and a closing page make %d pages", got)
	}
	for page, want := range map[Page]int{
		{Side: Opening}: 1, {1, Left}: 2, {1, Right}: 3, {2, Left}: 4, {2, Right}: 5, {Side: Closing}: 6, {9, Left}: 0,
	} {
		if got := q.PageNumber(page); got != want {
			t.Errorf("%s is page %d, want %d", page, got, want)
		}
	}
	if diff := cmp.Diff([]PhotoID{1, 2, 3, 4, 5, 6}, q.Wall()); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]PhotoID{7, 9}, q.Table([]PhotoID{7, 3, 9, 1})); diff != "" {
		t.Error(diff)
	}
}
