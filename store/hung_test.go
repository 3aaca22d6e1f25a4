package store

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
)

func hung(t *testing.T, s *Store, title sequence.TitleID) []sequence.PhotoID {
	t.Helper()
	photos, err := s.Hung(ctx, title)
	if err != nil {
		t.Fatal(err)
	}
	return photos
}

func TestWhatOnceHungOnTheWallIsRemembered(t *testing.T) {
	s, _ := newStore(t)
	other := newTitle(t, s, "Istria", 4)
	apply(t, s, other, 3, 4)
	title := newTitle(t, s, "Adria", 9)
	if got := hung(t, s, title); got == nil || len(got) != 0 {
		t.Errorf("on a bare wall: %#v", got)
	}
	q := apply(t, s, title, 2, 1).Sequence
	change := sequence.Change{Revision: q.Revision, Act: "open with 5 and go on with 7", Steps: []sequence.Step{
		{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Now: 5},
		{Do: sequence.Put, Page: &sequence.Page{Spread: 1, Side: sequence.Left}, Was: 2, Now: 7},
		{Do: sequence.Box, Now: 8, On: true},
	}}
	_, w, err := s.Apply(ctx, title, change, "")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]sequence.PhotoID{1, 2, 5, 7}, hung(t, s, title)); diff != "" {
		t.Errorf("after 2 gave way to 7 (-want +got):\n%s", diff)
	}
	if _, _, err := s.Undo(ctx, title, w.Sequence.Revision, ""); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]sequence.PhotoID{1, 2, 5, 7}, hung(t, s, title)); diff != "" {
		t.Errorf("after undoing it (-want +got):\n%s", diff)
	}
	_, err = s.Hung(ctx, title+1)
	isCoded(t, err, sequence.NotFound)
}

// A photo that only a version knows, as when a title came from elsewhere
// without its journal, was on the wall all the same.
func TestAVersionsWallCountsAsHung(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 9)
	apply(t, s, title, 1, 2)
	if _, err := s.db.ExecContext(ctx, `INSERT INTO versions (title_id, revision, at, named, name, state)
		VALUES (?, 0, '2026-01-01T00:00:00.000000000Z', 0, '', '{"revision":0,"opening":9,"spreads":[{"id":1,"right":6}],"box":[3],"last":1}')`, title); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]sequence.PhotoID{1, 2, 6, 9}, hung(t, s, title)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestNoPhotoOfAnyEarlierWallIsForgotten(t *testing.T) {
	s, _ := newStore(t)
	const photos = 30
	title := newTitle(t, s, "Adria", photos)
	r := rand.New(rand.NewPCG(5, 6))
	for range 60 {
		_, _, _ = s.Apply(ctx, title, randomChange(r, wallOf(t, s, title).Sequence, photos), "") // about one in four is refused
	}
	got := hung(t, s, title)
	var q sequence.Sequence
	for _, e := range replays(t, s, title) {
		q, _ = q.Apply(e.Change)
		for _, photo := range q.Wall() {
			if !slices.Contains(got, photo) {
				t.Fatalf("photo %d hung at revision %d and is not among %v", photo, e.Revision, got)
			}
		}
	}
	if len(got) < 5 {
		t.Fatalf("the case is too easy: %v", got)
	}
}
