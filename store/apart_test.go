package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
)

func TestPairsAreKeptApartEitherWayRoundAndOnlyInTheirTitle(t *testing.T) {
	s, _ := newStore(t)
	title, other := newTitle(t, s, "Adria", 5), newTitle(t, s, "Rome", 5)
	is := func(title sequence.TitleID, want ...sequence.Pair) {
		t.Helper()
		got, err := s.Apart(ctx, title)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(append([]sequence.Pair{}, want...), got); diff != "" {
			t.Error(diff)
		}
	}
	keep := func(pair sequence.Pair, apart bool) {
		t.Helper()
		if err := s.KeepApart(ctx, title, pair, apart); err != nil {
			t.Fatal(err)
		}
	}
	is(title)
	keep(sequence.Pair{4, 2}, true)
	keep(sequence.Pair{2, 4}, true)
	keep(sequence.Pair{1, 5}, true)
	is(title, sequence.Pair{1, 5}, sequence.Pair{2, 4})
	is(other)
	keep(sequence.Pair{4, 2}, false)
	keep(sequence.Pair{3, 2}, false)
	is(title, sequence.Pair{1, 5})
	isCoded(t, s.KeepApart(ctx, title, sequence.Pair{3, 3}, true), sequence.Invalid)
	isCoded(t, s.KeepApart(ctx, title, sequence.Pair{3, 6}, true), sequence.NotFound)
	isCoded(t, s.KeepApart(ctx, 99, sequence.Pair{1, 2}, true), sequence.NotFound)
	_, err := s.Apart(ctx, 99)
	isCoded(t, err, sequence.NotFound)
}
