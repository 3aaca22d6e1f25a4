package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/history"
)

// twoLines is a title with a wall of 1 2 and 3 4, kept as a version with 1 2
// alone, from which a second line was begun.
func twoLines(t *testing.T) (*Store, *clock, sequence.TitleID, sequence.Version) {
	t.Helper()
	s, c := newStore(t)
	title := newTitle(t, s, "Adria", 9)
	apply(t, s, title, 1, 2)
	v, err := s.KeepVersion(ctx, title, "One pair")
	if err != nil {
		t.Fatal(err)
	}
	c.forward(time.Minute)
	apply(t, s, title, 3, 4)
	c.forward(time.Minute)
	if _, _, err := s.BeginLine(ctx, title, NewLine{From: v.ID, Name: "Night ferry", Present: "By day"}, 2, "w"); err != nil {
		t.Fatal(err)
	}
	return s, c, title, v
}

func pairsOf(q sequence.Sequence) []sequence.Pair { return q.Pairs() }

func TestLinesOfWork(t *testing.T) {
	t.Run("a title begins with one", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 0)
		lines, err := s.Lines(ctx, title)
		if diff := cmp.Diff([]sequence.Line{{Name: sequence.FirstLine, Began: c.at.UTC()}}, lines); diff != "" || err != nil {
			t.Fatal(diff, err)
		}
	})
	t.Run("one goes on from an old version beside the present wall, which is kept", func(t *testing.T) {
		s, c, title, v := twoLines(t)
		w := wallOf(t, s, title)
		if w.Sequence.Line != 1 || cmp.Diff([]sequence.Pair{{1, 2}}, pairsOf(w.Sequence)) != "" || w.Undo != "go on from “One pair” as “Night ferry”" {
			t.Fatalf("%+v", w)
		}
		lines, err := s.Lines(ctx, title)
		want := []sequence.Line{{ID: 0, Name: "By day", Began: lines[0].Began}, {ID: 1, Name: "Night ferry", Began: c.at.UTC(), From: 0, Root: v.Sequence.Revision}}
		if diff := cmp.Diff(want, lines); diff != "" || err != nil {
			t.Fatal(diff, err)
		}
		all := versionsOf(t, s, title)
		if len(all) != 2 || len(all[0].Sequence.Spreads) != 2 || all[0].Line() != 0 || all[0].Named {
			t.Fatalf("%+v", all)
		}
		replays(t, s, title)
	})
	t.Run("going over brings each line as it was left", func(t *testing.T) {
		s, _, title, _ := twoLines(t)
		apply(t, s, title, 5, 6)
		for _, over := range []struct {
			line sequence.LineID
			want []sequence.Pair
		}{{0, []sequence.Pair{{1, 2}, {3, 4}}}, {1, []sequence.Pair{{1, 2}, {5, 6}}}} {
			now := wallOf(t, s, title).Sequence
			_, w, err := s.GoOver(ctx, title, over.line, now.Revision, "w")
			if err != nil || w.Sequence.Line != over.line || cmp.Diff(over.want, pairsOf(w.Sequence)) != "" {
				t.Fatalf("%+v %v", w, err)
			}
		}
		replays(t, s, title)
	})
	t.Run("undoing a going over keeps the line that is left by it", func(t *testing.T) {
		s, _, title, _ := twoLines(t)
		apply(t, s, title, 5, 6)
		for n := range int64(2) {
			if _, _, err := s.Undo(ctx, title, 4+n, "w"); err != nil {
				t.Fatal(err)
			}
		}
		w := wallOf(t, s, title)
		if w.Sequence.Line != 0 || len(w.Sequence.Spreads) != 2 {
			t.Fatalf("%+v", w)
		}
		apply(t, s, title, 7, 8) // ends redoing
		_, w, err := s.GoOver(ctx, title, 1, 7, "w")
		if err != nil || cmp.Diff([]sequence.Pair{{1, 2}}, pairsOf(w.Sequence)) != "" {
			t.Fatalf("%+v %v", w, err)
		}
		replays(t, s, title)
	})
	t.Run("names are each one's own", func(t *testing.T) {
		s, _, title, v := twoLines(t)
		isCoded(t, s.NameLine(ctx, title, 1, "BY  DAY"), sequence.Conflict)
		isCoded(t, s.NameLine(ctx, title, 7, "x"), sequence.NotFound)
		isCoded(t, s.NameLine(ctx, title, 0, ""), sequence.Invalid)
		if err := s.NameLine(ctx, title, 1, "By night"); err != nil {
			t.Fatal(err)
		}
		_, w, err := s.BeginLine(ctx, title, NewLine{From: v.ID, Name: "by night"}, 3, "w")
		isCoded(t, err, sequence.Conflict)
		if w.Sequence.Revision != 3 {
			t.Errorf("%+v", w)
		}
		_, _, err = s.BeginLine(ctx, title, NewLine{From: 99, Name: "Third"}, 3, "w")
		isCoded(t, err, sequence.NotFound)
		_, _, err = s.GoOver(ctx, title, 1, 3, "w")
		isCoded(t, err, sequence.Invalid)
		_, _, err = s.GoOver(ctx, title, 2, 3, "w")
		isCoded(t, err, sequence.NotFound)
		_, _, err = s.GoOver(ctx, title, 0, 2, "w")
		isCoded(t, err, sequence.Stale)
	})
	t.Run("none is ever taken away", func(t *testing.T) {
		s, _, title, _ := twoLines(t)
		if _, err := s.db.Exec(`DELETE FROM lines WHERE title_id = ?`, title); err == nil {
			t.Error("a line was taken away")
		}
	})
}

func TestASittingThatLeavesTheWallAsItWasLeavesNoVersion(t *testing.T) {
	s, c, title, _ := twoLines(t)
	if _, _, err := s.GoOver(ctx, title, 0, 3, "w"); err != nil {
		t.Fatal(err)
	}
	c.forward(sequence.SittingPause)
	if all := versionsOf(t, s, title); len(all) != 3 { // each line as it was left, and the named one
		t.Errorf("%+v", all)
	}
	apply(t, s, title, 5, 6)
	if _, _, err := s.Undo(ctx, title, 5, "w"); err != nil {
		t.Fatal(err)
	}
	c.forward(sequence.SittingPause)
	if all := versionsOf(t, s, title); len(all) != 3 {
		t.Errorf("%+v", all)
	}
	if v, err := s.KeepVersion(ctx, title, "The same, and it stays"); err != nil || v.Sequence.Revision != 6 {
		t.Errorf("a version kept by name is kept: %+v %v", v, err)
	}
}

func TestAStateKeptAsideLeavesTheWallUndoAndRedoAsTheyWere(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 9)
	apply(t, s, title, 1, 2)
	apply(t, s, title, 3, 4)
	if _, _, err := s.Undo(ctx, title, 2, "w"); err != nil {
		t.Fatal(err)
	}
	before := wallOf(t, s, title)
	remade := sequence.Sequence{Opening: 9, Spreads: []sequence.Spread{{ID: 1, Left: 2, Right: 1}}, Last: 1}
	aside := Aside{State: remade, Line: "From memory", Name: "From memory, 26 November", Why: "what stayed with me"}
	kept, back, after, err := s.KeepAside(ctx, title, aside, 3, "w")
	if err != nil {
		t.Fatal(err)
	}
	if kept.Line() != 1 || !kept.Named || kept.Why != aside.Why || kept.Sequence.Opening != 9 || back.Revision != 5 {
		t.Errorf("%+v %+v", kept, back)
	}
	if after.Undo != before.Undo || after.Redo != before.Redo || after.Sequence.Line != 0 || cmp.Diff(before.Sequence.Spreads, after.Sequence.Spreads) != "" {
		t.Errorf("%+v, before %+v", after, before)
	}
	if _, w, err := s.Redo(ctx, title, 5, "w"); err != nil || len(w.Sequence.Spreads) != 2 {
		t.Errorf("%+v %v", w, err)
	}
	if _, w, err := s.Undo(ctx, title, 6, "w"); err != nil || len(w.Sequence.Spreads) != 1 {
		t.Errorf("%+v %v", w, err)
	}
	aside.Name, aside.State.Closing = "Again", 8
	again, _, _, err := s.KeepAside(ctx, title, aside, 7, "w")
	if err != nil || again.Line() != 1 {
		t.Errorf("the second does not lie with the first: %+v %v", again, err)
	}
	if _, w, err := s.GoOver(ctx, title, 1, 9, "w"); err != nil || w.Sequence.Closing != 8 {
		t.Errorf("%+v %v", w, err)
	}
	aside.State.Closing = 77
	_, _, _, err = s.KeepAside(ctx, title, aside, 10, "w")
	isCoded(t, err, sequence.Invalid)
	replays(t, s, title)
}

func TestWhatTheMakerSaysOfAVersionIsKept(t *testing.T) {
	s, c := newStore(t)
	title := newTitle(t, s, "Adria", 4)
	apply(t, s, title, 1, 2)
	c.forward(sequence.SittingPause)
	v := versionsOf(t, s, title)[0]
	c.forward(time.Hour)
	got, err := s.AmendVersion(ctx, title, v.ID, VersionAmendment{Why: new(" the quay\nfirst "), Slip: new(true), Looked: true})
	want := v
	want.Why, want.Slip, want.Looked = "the quay\nfirst", true, new(c.at.UTC())
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Fatal(diff, err)
	}
	got, err = s.AmendVersion(ctx, title, v.ID, VersionAmendment{Name: new("Quay"), Slip: new(false)})
	want.Named, want.Name, want.Slip = true, "Quay", false
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Fatal(diff, err)
	}
	_, err = s.AmendVersion(ctx, title, 99, VersionAmendment{Looked: true})
	isCoded(t, err, sequence.NotFound)
}

func TestVersionsThinnedOutCanBePutBackFromTheJournal(t *testing.T) {
	s, c := newStore(t)
	title := newTitle(t, s, "Adria", 12)
	for n := range sequence.PhotoID(4) {
		apply(t, s, title, 2*n+1, 2*n+2)
		c.forward(sequence.SittingPause)
	}
	all := versionsOf(t, s, title)
	if len(all) != 4 {
		t.Fatalf("%+v", all)
	}
	if _, err := s.AmendVersion(ctx, title, all[2].ID, VersionAmendment{Slip: new(true)}); err != nil {
		t.Fatal(err)
	}
	isCoded(t, s.ThinOut(ctx, title, []sequence.VersionID{all[1].ID, all[2].ID}), sequence.Conflict)
	isCoded(t, s.ThinOut(ctx, title, []sequence.VersionID{all[1].ID, all[0].ID}), sequence.Conflict)
	isCoded(t, s.ThinOut(ctx, title, []sequence.VersionID{all[1].ID, 99}), sequence.NotFound)
	if left := versionsOf(t, s, title); len(left) != 4 {
		t.Fatalf("a refusal took versions away: %+v", left)
	}
	if err := s.ThinOut(ctx, title, []sequence.VersionID{all[1].ID, all[3].ID}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.db.Exec(`DELETE FROM versions WHERE id = ?`, all[2].ID); err == nil {
		t.Error("a version with a slip was taken away")
	}
	if left := versionsOf(t, s, title); len(left) != 2 {
		t.Fatalf("%+v", left)
	}
	ends, err := history.Ends(replays(t, s, title), c.at)
	if err != nil {
		t.Fatal(err)
	}
	if kept, err := s.PutBack(ctx, title, ends); err != nil || kept != 2 {
		t.Fatalf("%d %v", kept, err)
	}
	back := versionsOf(t, s, title)
	for i := range back {
		back[i].ID, back[i].Slip = all[i].ID, all[i].Slip
	}
	if diff := cmp.Diff(all, back); diff != "" {
		t.Fatal(diff)
	}
}
