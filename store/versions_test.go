package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
)

func versionsOf(t *testing.T, s *Store, title sequence.TitleID) []sequence.Version {
	t.Helper()
	all, err := s.Versions(ctx, title)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestSittings(t *testing.T) {
	const pause = sequence.SittingPause
	t.Run("a title never worked on has no version", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 2)
		c.forward(100 * pause)
		if err := s.CloseSittings(ctx); err != nil {
			t.Fatal(err)
		}
		apply(t, s, title, 1, 2)
		if all := versionsOf(t, s, title); all == nil || len(all) != 0 {
			t.Fatalf("%#v", all)
		}
	})
	t.Run("within a sitting nothing is kept", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 6)
		for n := sequence.PhotoID(1); n < 6; n += 2 {
			apply(t, s, title, n, n+1)
			c.forward(pause - 1)
		}
		if all := versionsOf(t, s, title); len(all) != 0 {
			t.Fatalf("%+v", all)
		}
	})
	// Each of these is what first happens when a sitting has ended.
	for promise, next := range map[string]func(*Store, sequence.TitleID, sequence.Sequence) error{
		"the next change keeps how the last sitting ended": func(s *Store, id sequence.TitleID, q sequence.Sequence) error {
			_, _, err := s.Apply(ctx, id, pair(q, 5, 6), "")
			return err
		},
		"so does undo": func(s *Store, id sequence.TitleID, q sequence.Sequence) error {
			_, _, err := s.Undo(ctx, id, 3, "")
			return err
		},
		"so does redo": func(s *Store, id sequence.TitleID, q sequence.Sequence) error {
			_, _, err := s.Redo(ctx, id, 3, "")
			return err
		},
		"so does a look at the versions": func(s *Store, id sequence.TitleID, _ sequence.Sequence) error {
			_, err := s.Versions(ctx, id)
			return err
		},
		"so does the start of the program": func(s *Store, _ sequence.TitleID, _ sequence.Sequence) error { return s.CloseSittings(ctx) },
		"and all of them together keep once": func(s *Store, id sequence.TitleID, q sequence.Sequence) error {
			for range 2 {
				if err := s.CloseSittings(ctx); err != nil {
					return err
				}
				if _, err := s.Versions(ctx, id); err != nil {
					return err
				}
			}
			_, _, err := s.Apply(ctx, id, pair(q, 5, 6), "")
			return err
		},
	} {
		t.Run(promise, func(t *testing.T) {
			s, c := newStore(t)
			title := newTitle(t, s, "Adria", 6)
			apply(t, s, title, 1, 2)
			c.forward(time.Minute)
			apply(t, s, title, 3, 4)
			if _, _, err := s.Undo(ctx, title, 2, ""); err != nil { // so that there is something to redo
				t.Fatal(err)
			}
			end, q := c.at.UTC(), wallOf(t, s, title).Sequence
			c.forward(pause)
			if err := next(s, title, q); err != nil {
				t.Fatal(err)
			}
			want := []sequence.Version{{ID: 1, At: end, Sequence: q}}
			if diff := cmp.Diff(want, versionsOf(t, s, title)); diff != "" {
				t.Fatal(diff)
			}
		})
	}
	t.Run("a change refused after a pause keeps nothing by itself, and loses nothing", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 4)
		end := apply(t, s, title, 1, 2)
		c.forward(pause)
		_, _, err := s.Apply(ctx, title, pair(sequence.Sequence{}, 3, 4), "")
		isCoded(t, err, sequence.Stale)
		all := versionsOf(t, s, title)
		if len(all) != 1 || cmp.Diff(end.Sequence, all[0].Sequence) != "" {
			t.Fatalf("%+v", all)
		}
	})
	t.Run("a change that comes while a sitting is being closed begins the next one", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 4)
		end := apply(t, s, title, 1, 2)
		seen := sitting{title, 1, c.at}
		c.forward(pause)
		apply(t, s, title, 3, 4)
		if err := s.closeSitting(ctx, seen); err != nil {
			t.Fatal(err)
		}
		all := versionsOf(t, s, title)
		if len(all) != 1 || cmp.Diff(end.Sequence, all[0].Sequence) != "" {
			t.Fatalf("%+v", all)
		}
	})
	t.Run("every title has its own", func(t *testing.T) {
		s, c := newStore(t)
		one, other, fresh := newTitle(t, s, "Adria", 2), newTitle(t, s, "Istria", 2), newTitle(t, s, "Puglia", 2)
		apply(t, s, one, 1, 2)
		apply(t, s, other, 1, 2)
		c.forward(pause)
		apply(t, s, fresh, 1, 2)
		if err := s.CloseSittings(ctx); err != nil {
			t.Fatal(err)
		}
		for title, want := range map[sequence.TitleID]int{one: 1, other: 1, fresh: 0} {
			if got := len(versionsOf(t, s, title)); got != want {
				t.Errorf("title %d has %d versions, want %d", title, got, want)
			}
		}
	})
}

func TestNamedVersions(t *testing.T) {
	t.Run("a version holds the state and when it was reached", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 4)
		w := apply(t, s, title, 1, 2)
		reached := c.at.UTC()
		c.forward(5 * time.Minute)
		v, err := s.KeepVersion(ctx, title, "  first\tlook ")
		if err != nil {
			t.Fatal(err)
		}
		want := sequence.Version{ID: 1, At: reached, Named: true, Name: "first look", Sequence: w.Sequence}
		if diff := cmp.Diff(want, v); diff != "" {
			t.Fatal(diff)
		}
		apply(t, s, title, 3, 4)
		read, err := s.Version(ctx, title, v.ID)
		if diff := cmp.Diff(want, read); diff != "" || err != nil {
			t.Fatal(diff, err)
		}
	})
	t.Run("a state is one version, whatever it is called", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 4)
		apply(t, s, title, 1, 2)
		c.forward(sequence.SittingPause)
		kept := versionsOf(t, s, title)[0]
		for _, name := range []string{"for the binder", "for the printer"} {
			v, err := s.KeepVersion(ctx, title, name)
			kept.Named, kept.Name = true, name
			if diff := cmp.Diff(kept, v); diff != "" || err != nil {
				t.Fatal(diff, err)
			}
		}
		if all := versionsOf(t, s, title); len(all) != 1 {
			t.Fatalf("%+v", all)
		}
	})
	t.Run("an empty wall can be kept too, dated by the title", func(t *testing.T) {
		s, c := newStore(t)
		made := c.at.UTC()
		title := newTitle(t, s, "Adria", 0)
		c.forward(time.Hour)
		v, err := s.KeepVersion(ctx, title, "before anything")
		if err != nil || !v.At.Equal(made) || v.Sequence.Revision != 0 {
			t.Fatalf("%+v %v", v, err)
		}
	})
	t.Run("an automatic version can be named later", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 4)
		apply(t, s, title, 1, 2)
		c.forward(sequence.SittingPause)
		v := versionsOf(t, s, title)[0]
		if _, err := s.AmendVersion(ctx, title, v.ID, VersionAmendment{Name: new("the quay first")}); err != nil {
			t.Fatal(err)
		}
		v.Named, v.Name = true, "the quay first"
		if diff := cmp.Diff([]sequence.Version{v}, versionsOf(t, s, title)); diff != "" {
			t.Fatal(diff)
		}
	})
	t.Run("a name is needed", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, "Adria", 0)
		v, err := s.KeepVersion(ctx, title, "x")
		if err != nil {
			t.Fatal(err)
		}
		_, err = s.KeepVersion(ctx, title, " ")
		isCoded(t, err, sequence.Invalid)
		_, err = s.AmendVersion(ctx, title, v.ID, VersionAmendment{Name: new("")})
		isCoded(t, err, sequence.Invalid)
	})
	t.Run("the newest state comes first, whenever it got its name", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, "Adria", 6)
		for n, name := range []string{"a", "b", "c"} {
			apply(t, s, title, sequence.PhotoID(2*n+1), sequence.PhotoID(2*n+2))
			if _, err := s.KeepVersion(ctx, title, name); err != nil {
				t.Fatal(err)
			}
		}
		all := versionsOf(t, s, title)
		if len(all) != 3 || all[0].Name != "c" || all[2].Name != "a" {
			t.Fatalf("%+v", all)
		}
	})
}

func TestBringBack(t *testing.T) {
	// begun is a title whose first pair is a version, and which then went on.
	begun := func(t *testing.T) (*Store, *clock, sequence.TitleID, sequence.Version, Wall) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 8)
		apply(t, s, title, 1, 2)
		v, err := s.KeepVersion(ctx, title, "one pair")
		if err != nil {
			t.Fatal(err)
		}
		c.forward(time.Minute)
		apply(t, s, title, 3, 4)
		return s, c, title, v, apply(t, s, title, 5, 6)
	}
	t.Run("the wall is as the version has it, in one change", func(t *testing.T) {
		s, _, title, v, before := begun(t)
		entry, wall, err := s.BringBack(ctx, title, v.ID, 3, "window-2")
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(v.Sequence, wall.Sequence, sees); diff != "" {
			t.Fatal(diff)
		}
		if entry.Revision != 4 || entry.Way != sequence.Act || entry.From != "window-2" || wall.Undo != "bring back “one pair”" {
			t.Fatalf("%+v %+v", entry, wall)
		}
		if wall.Sequence.Last != before.Sequence.Last {
			t.Error("a spread's number could be given again")
		}
		replays(t, s, title)
	})
	t.Run("what was there is kept as a version, dated when it was reached", func(t *testing.T) {
		s, c, title, v, before := begun(t)
		reached := c.at.UTC()
		c.forward(time.Minute)
		if _, _, err := s.BringBack(ctx, title, v.ID, 3, ""); err != nil {
			t.Fatal(err)
		}
		want := []sequence.Version{{ID: 2, At: reached, Sequence: before.Sequence}, v}
		if diff := cmp.Diff(want, versionsOf(t, s, title)); diff != "" {
			t.Fatal(diff)
		}
	})
	t.Run("unless it is one already", func(t *testing.T) {
		s, _, title, v, _ := begun(t)
		if _, err := s.KeepVersion(ctx, title, "three pairs"); err != nil {
			t.Fatal(err)
		}
		if _, _, err := s.BringBack(ctx, title, v.ID, 3, ""); err != nil {
			t.Fatal(err)
		}
		if all := versionsOf(t, s, title); len(all) != 2 || all[0].Name != "three pairs" {
			t.Fatalf("%+v", all)
		}
	})
	t.Run("undo takes it back, redo does it again", func(t *testing.T) {
		s, _, title, v, before := begun(t)
		if _, _, err := s.BringBack(ctx, title, v.ID, 3, ""); err != nil {
			t.Fatal(err)
		}
		_, wall, err := s.Undo(ctx, title, 4, "")
		if diff := cmp.Diff(before.Sequence, wall.Sequence, sees); diff != "" || err != nil {
			t.Fatal(diff, err)
		}
		_, wall, err = s.Redo(ctx, title, 5, "")
		if diff := cmp.Diff(v.Sequence, wall.Sequence, sees); diff != "" || err != nil {
			t.Fatal(diff, err)
		}
	})
	t.Run("a version without a name is called by its date where the maker is", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 4)
		apply(t, s, title, 1, 2)
		c.forward(6 * time.Hour) // past midnight
		apply(t, s, title, 3, 4)
		_, wall, err := s.BringBack(ctx, title, versionsOf(t, s, title)[0].ID, 2, "")
		if err != nil || wall.Undo != "bring back the version of 25 November 2026, 18:04" {
			t.Fatal(wall.Undo, err)
		}
	})
	t.Run("is refused on a wall that has moved on, and keeps nothing", func(t *testing.T) {
		s, _, title, v, before := begun(t)
		_, wall, err := s.BringBack(ctx, title, v.ID, 2, "")
		isCoded(t, err, sequence.Stale)
		if diff := cmp.Diff(before, wall); diff != "" {
			t.Error(diff)
		}
		if all := versionsOf(t, s, title); len(all) != 1 {
			t.Errorf("%+v", all)
		}
	})
	t.Run("is refused where nothing would change", func(t *testing.T) {
		s, _, title, v, _ := begun(t)
		if _, _, err := s.BringBack(ctx, title, v.ID, 3, ""); err != nil {
			t.Fatal(err)
		}
		_, _, err := s.BringBack(ctx, title, v.ID, 4, "")
		isCoded(t, err, sequence.Invalid)
		replays(t, s, title)
	})
}
