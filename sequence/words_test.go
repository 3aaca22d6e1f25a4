package sequence

import "testing"

func TestADifferenceIsToldAsOneWouldSayIt(t *testing.T) {
	pairs := func(n int) []Pair { return make([]Pair, n) }
	photos := func(n int) []PhotoID { return make([]PhotoID, n) }
	for _, c := range []struct {
		diff Diff
		want string
	}{
		{Diff{}, "the same pairs in the same order"},
		{Diff{Kept: pairs(40)}, "the same pairs in the same order"},
		{Diff{Broken: pairs(3), New: pairs(2), Come: photos(4), Moved: 3, Lifted: make([]Lift, 3)}, "three pairs broken, two new, four photos came, order moved by three"},
		{Diff{Broken: pairs(1)}, "one pair broken"},
		{Diff{New: pairs(1)}, "one pair new"},
		{Diff{New: pairs(13), Come: photos(30)}, "13 pairs new, 30 photos came"},
		{Diff{Gone: photos(1)}, "one photo went"},
		{Diff{Come: photos(1), Gone: photos(12)}, "one photo came, twelve went"},
		{Diff{Moved: 1, Lifted: []Lift{{Photos: []PhotoID{12, 47}, To: Front}}}, "12 and 47 moved to the front"},
		{Diff{Moved: 2, Lifted: []Lift{{Photos: []PhotoID{3}, To: Earlier}, {Photos: []PhotoID{9}, To: End}}}, "3 moved forward, 9 moved to the end"},
		{Diff{Moved: 2, Lifted: []Lift{{Photos: []PhotoID{3, 4, 9, 8}, Chapter: "Harbour", To: Front}}}, "“Harbour” moved to the front"},
		{Diff{Kept: pairs(3), Turned: pairs(1)}, "one pair turned round"},
	} {
		if got := c.diff.Words(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
