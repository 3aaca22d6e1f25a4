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

func TestAChapterGoesOnWithItsSpreadsAndEndsWithThem(t *testing.T) {
	wall := sequence.Sequence{Last: 4, LastChapter: 2, Chapters: []sequence.Chapter{{ID: 1, Name: "Harbour"}, {ID: 2, Name: "Sea"}}, Spreads: []sequence.Spread{
		{ID: 1, Left: 1, Right: 2, Chapter: 1, Note: "the same hour"}, {ID: 2, Left: 3, Right: 4, Chapter: 1}, {ID: 3, Left: 5, Right: 6, Chapter: 2}, {ID: 4, Left: 7, Right: 8}}}
	got := wall.Hung(hanging(0, 0, pair(3, 4), pair(9, 0), pair(1, 2), pair(7, 8)))
	if err := got.Check(); err != nil {
		t.Fatal(err)
	}
	if len(got.Chapters) != 1 || got.Spreads[0].Chapter != 1 || got.Spreads[2].Note != "the same hour" || got.Spreads[3].Chapter != 0 {
		t.Errorf("%+v", got)
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
