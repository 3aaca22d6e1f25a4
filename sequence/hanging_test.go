package sequence_test

import (
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
)

func TestSpreadsThatHangUnchangedStayTheSpreadsTheyWere(t *testing.T) {
	wall := sequence.Sequence{Revision: 4, Opening: 1, Closing: 9, Last: 7, Box: []sequence.PhotoID{20, 21}, Spreads: []sequence.Spread{
		{ID: 3, Left: 2, Right: 3, Pinned: true}, {ID: 5, Left: 4, Right: 5}, {ID: 7, Left: 6, Across: true}, {ID: 2, Left: 7, Right: 8, Pinned: true}}}
	got := wall.Hung(hanging(10, 1, across(6), pair(2, 3), pair(5, 20), pair(8, 4), pair(0, 0)))
	want := sequence.Sequence{Revision: 4, Opening: 10, Closing: 1, Last: 8, Box: []sequence.PhotoID{21}, Spreads: []sequence.Spread{
		{ID: 7, Left: 6, Across: true}, {ID: 3, Left: 2, Right: 3, Pinned: true}, {ID: 5, Left: 5, Right: 20},
		{ID: 2, Left: 8, Right: 4}, {ID: 8}}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Any wall read off becomes one change that leads there and is undone at once.
func TestAWallReadOffIsOneChangeThatCanBeUndone(t *testing.T) {
	for seed := range uint64(200) {
		chance := rand.New(rand.NewPCG(seed, 47))
		wall := sequence.Sequence{}.Hung(written(chance, chance.IntN(9)))
		read := written(chance, chance.IntN(9))
		change, err := sequence.Between(wall, wall.Hung(read), "hang as read")
		if err != nil {
			t.Fatal(err)
		}
		hung, err := wall.Apply(change)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(read, hung.Hanging()); diff != "" {
			t.Fatal(diff)
		}
		back, err := hung.Apply(change.Invert())
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(wall.Hanging(), back.Hanging()); diff != "" {
			t.Fatal(diff)
		}
	}
}
