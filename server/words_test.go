package server

import (
	"testing"

	"pairwall/sequence"
)

func TestADifferenceIsToldAsOneWouldSayIt(t *testing.T) {
	pairs := func(n int) []sequence.Pair { return make([]sequence.Pair, n) }
	photos := func(n int) []sequence.PhotoID { return make([]sequence.PhotoID, n) }
	for _, c := range []struct {
		diff sequence.Diff
		want string
	}{
		{sequence.Diff{}, "the same pairs in the same order"},
		{sequence.Diff{Kept: pairs(40)}, "the same pairs in the same order"},
		{sequence.Diff{Broken: pairs(3), New: pairs(2), Come: photos(4), Moved: 2}, "three pairs broken, two new, four photos came, order moved by two"},
		{sequence.Diff{Broken: pairs(1)}, "one pair broken"},
		{sequence.Diff{New: pairs(1)}, "one pair new"},
		{sequence.Diff{New: pairs(13), Come: photos(30)}, "13 pairs new, 30 photos came"},
		{sequence.Diff{Gone: photos(1)}, "one photo went"},
		{sequence.Diff{Come: photos(1), Gone: photos(12)}, "one photo came, twelve went"},
		{sequence.Diff{Moved: 1}, "order moved by one"},
	} {
		if got := inWords(c.diff); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
