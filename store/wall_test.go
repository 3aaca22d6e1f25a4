package store

import (
	"context"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"pairwall/sequence"
)

func TestWall(t *testing.T) {
	t.Run("a new title has an empty wall with nothing to undo", func(t *testing.T) {
		s, _ := newStore(t)
		want := Wall{Sequence: sequence.Sequence{Spreads: []sequence.Spread{}, Box: []sequence.PhotoID{}}}
		if diff := cmp.Diff(want, wallOf(t, s, newTitle(t, s, "Adria", 0))); diff != "" {
			t.Fatal(diff)
		}
	})
	t.Run("an applied change is on the wall, in the journal and still there after reopening", func(t *testing.T) {
		dir := t.TempDir()
		s, c := openStore(t, dir), newClock()
		s.Now = c.now
		title := newTitle(t, s, "Adria", 4)
		change := pair(wallOf(t, s, title).Sequence, 1, 4)
		entry, wall, err := s.Apply(ctx, title, change, "window-7")
		if err != nil {
			t.Fatal(err)
		}
		wantEntry := sequence.Entry{Revision: 1, Way: sequence.Act, UndoNext: 1, At: c.at.UTC(), From: "window-7", Change: change}
		if diff := cmp.Diff(wantEntry, entry); diff != "" {
			t.Fatal(diff)
		}
		wantWall := Wall{Undo: "pair 1 with 4", Sequence: sequence.Sequence{Revision: 1, Last: 1,
			Spreads: []sequence.Spread{{ID: 1, Left: 1, Right: 4}}, Box: []sequence.PhotoID{}}}
		if diff := cmp.Diff(wantWall, wall); diff != "" {
			t.Fatal(diff)
		}
		s.Close()
		again := openStore(t, dir)
		if diff := cmp.Diff(wantWall, wallOf(t, again, title)); diff != "" {
			t.Fatal(diff)
		}
		if diff := cmp.Diff([]sequence.Entry{wantEntry}, replays(t, again, title)); diff != "" {
			t.Fatal(diff)
		}
	})
	t.Run("undo and redo tell which act they are about", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, "Adria", 6)
		apply(t, s, title, 1, 2)
		first := apply(t, s, title, 3, 4)
		entry, wall, err := s.Undo(ctx, title, 2, "b")
		if err != nil || wall.Undo != "pair 1 with 2" || wall.Redo != "pair 3 with 4" || entry.Way != sequence.Undo || entry.Of != 2 {
			t.Fatalf("%+v %+v %v", entry, wall, err)
		}
		entry, wall, err = s.Redo(ctx, title, 3, "b")
		if err != nil || wall.Undo != "pair 3 with 4" || wall.Redo != "" || entry.Way != sequence.Redo || entry.Of != 3 {
			t.Fatalf("%+v %+v %v", entry, wall, err)
		}
		if diff := cmp.Diff(first.Sequence, wall.Sequence, sees); diff != "" {
			t.Fatal(diff)
		}
		if diff := cmp.Diff(wall, wallOf(t, s, title)); diff != "" {
			t.Fatalf("the wall returned is not the wall kept:\n%s", diff)
		}
	})
	t.Run("the journal can be read from any revision on", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, "Adria", 6)
		apply(t, s, title, 1, 2)
		apply(t, s, title, 3, 4)
		apply(t, s, title, 5, 6)
		late, err := s.Journal(ctx, title, 2)
		if err != nil || len(late) != 1 || late[0].Revision != 3 {
			t.Fatalf("%+v %v", late, err)
		}
		none, err := s.Journal(ctx, title, 3)
		if err != nil || none == nil || len(none) != 0 {
			t.Fatalf("%#v %v", none, err)
		}
	})
	t.Run("titles do not touch each other's walls", func(t *testing.T) {
		s, _ := newStore(t)
		one, other := newTitle(t, s, "Adria", 4), newTitle(t, s, "Istria", 2)
		apply(t, s, one, 1, 2)
		apply(t, s, one, 3, 4)
		if w := apply(t, s, other, 1, 2); w.Sequence.Revision != 1 || w.Undo != "pair 1 with 2" {
			t.Fatalf("%+v", w)
		}
	})
}

func TestRefusedChangesLeaveEverythingAsItWas(t *testing.T) {
	put := func(revision int64, id sequence.PhotoID) sequence.Change {
		return sequence.Change{Revision: revision, Act: "open with it",
			Steps: []sequence.Step{{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Now: id}}}
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	cases := []struct {
		promise string
		code    sequence.Code
		do      func(*Store, sequence.TitleID) (sequence.Entry, Wall, error)
	}{
		{"a change made on an earlier state is stale", sequence.Stale, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) {
			return s.Apply(ctx, id, put(0, 3), "")
		}},
		{"a change made on a state yet to come is stale", sequence.Stale, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) {
			return s.Apply(ctx, id, put(2, 3), "")
		}},
		{"undo of an earlier state is stale", sequence.Stale, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) { return s.Undo(ctx, id, 0, "") }},
		{"redo of an earlier state is stale", sequence.Stale, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) { return s.Redo(ctx, id, 0, "") }},
		{"redo with nothing undone finds nothing", sequence.NotFound, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) { return s.Redo(ctx, id, 1, "") }},
		{"a photo of no title is refused", sequence.Invalid, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) {
			return s.Apply(ctx, id, put(1, 5), "")
		}},
		{"a photo with a negative number is refused", sequence.Invalid, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) {
			return s.Apply(ctx, id, put(1, -1), "")
		}},
		{"a photo named in a step that comes to nothing is refused too", sequence.Invalid, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) {
			c := put(1, 99)
			c.Steps = append(c.Steps, sequence.Step{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Was: 99, Now: 3})
			return s.Apply(ctx, id, c, "")
		}},
		{"a photo that lies elsewhere already is refused", sequence.Invalid, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) {
			return s.Apply(ctx, id, put(1, 1), "")
		}},
		{"an act without steps is refused", sequence.Invalid, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) {
			return s.Apply(ctx, id, sequence.Change{Revision: 1, Act: "nothing"}, "")
		}},
		{"an act without words is refused", sequence.Invalid, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) {
			c := put(1, 3)
			c.Act = " "
			return s.Apply(ctx, id, c, "")
		}},
		{"an act whose asker has gone is cancelled", sequence.Cancelled, func(s *Store, id sequence.TitleID) (sequence.Entry, Wall, error) {
			return s.Apply(stopped, id, put(1, 3), "")
		}},
	}
	for _, c := range cases {
		t.Run(c.promise, func(t *testing.T) {
			s, clock := newStore(t)
			newTitle(t, s, "another, with more photos", 5)
			title := newTitle(t, s, "Adria", 4)
			before := apply(t, s, title, 1, 2)
			clock.forward(2 * sequence.SittingPause)
			entry, wall, err := c.do(s, title)
			isCoded(t, err, c.code)
			if c.code != sequence.Cancelled { // then nothing can be read either
				if diff := cmp.Diff(before, wall); diff != "" {
					t.Errorf("the wall that comes with the refusal is not the present one:\n%s", diff)
				}
			}
			if diff := cmp.Diff(sequence.Entry{}, entry); diff != "" {
				t.Error(diff)
			}
			if diff := cmp.Diff(before, wallOf(t, s, title)); diff != "" {
				t.Error(diff)
			}
			if entries := replays(t, s, title); len(entries) != 1 {
				t.Errorf("%d entries", len(entries))
			}
		})
	}
	t.Run("undo on an empty wall finds nothing", func(t *testing.T) {
		s, _ := newStore(t)
		_, _, err := s.Undo(ctx, newTitle(t, s, "Adria", 0), 0, "")
		isCoded(t, err, sequence.NotFound)
	})
}

func TestWhatIsNotThereIsNotFound(t *testing.T) {
	s, _ := newStore(t)
	here := newTitle(t, s, "Adria", 1)
	version, err := s.KeepVersion(ctx, newTitle(t, s, "Istria", 0), "empty")
	if err != nil {
		t.Fatal(err)
	}
	const nowhere = sequence.TitleID(99)
	errs := map[string]error{}
	_, errs["Title"] = s.Title(ctx, nowhere)
	_, errs["TitleNamed"] = s.TitleNamed(ctx, "Bari")
	errs["RenameTitle"] = s.RenameTitle(ctx, nowhere, "Bari")
	errs["SetWeights"] = s.SetWeights(ctx, nowhere, nil)
	_, _, errs["AddPhoto"] = s.AddPhoto(ctx, nowhere, photoOf(1))
	_, errs["Photos"] = s.Photos(ctx, nowhere)
	_, errs["Photo"] = s.Photo(ctx, here, 2)
	errs["Refuse"] = s.Refuse(ctx, nowhere, Refusal{Path: "/a", Code: sequence.Damaged})
	_, errs["Refusals"] = s.Refusals(ctx, nowhere)
	_, errs["Wall"] = s.Wall(ctx, nowhere)
	_, _, errs["Apply"] = s.Apply(ctx, nowhere, pair(sequence.Sequence{}, 1, 2), "")
	_, _, errs["Undo"] = s.Undo(ctx, nowhere, 0, "")
	_, _, errs["Redo"] = s.Redo(ctx, nowhere, 0, "")
	_, errs["Journal"] = s.Journal(ctx, nowhere, 0)
	_, errs["Versions"] = s.Versions(ctx, nowhere)
	_, errs["Version of another title"] = s.Version(ctx, here, version.ID)
	_, errs["KeepVersion"] = s.KeepVersion(ctx, nowhere, "x")
	_, errs["AmendVersion of another title"] = s.AmendVersion(ctx, here, version.ID, VersionAmendment{Name: new("x")})
	_, _, errs["BringBack of another title's"] = s.BringBack(ctx, here, version.ID, 0, "")
	_, errs["StartBring"] = s.StartBring(ctx, nowhere, []string{"/a"})
	errs["SaveBring"] = s.SaveBring(ctx, Bring{ID: 9, State: Done})
	_, errs["Bring"] = s.Bring(ctx, 9)
	_, errs["Brings"] = s.Brings(ctx, nowhere)
	for what, err := range errs {
		t.Run(what, func(t *testing.T) { isCoded(t, err, sequence.NotFound) })
	}
}

func TestTheJournalIsAppendOnly(t *testing.T) {
	for promise, statement := range map[string]string{
		"an entry cannot be changed":            `UPDATE journal SET origin = 'x' WHERE revision = 1`,
		"an entry cannot be deleted":            `DELETE FROM journal WHERE revision = 2`,
		"an entry cannot be replaced":           `INSERT OR REPLACE INTO journal SELECT * FROM journal WHERE revision = 1`,
		"an entry cannot be left out":           `INSERT INTO journal SELECT title_id, 4, way, 0, 4, 0, at, origin, json_set(change, '$.revision', 3) FROM journal WHERE revision = 2`,
		"a version's state cannot be rewritten": `UPDATE versions SET state = json_set(state, '$.opening', 1)`,
		"the wall's revision is the state's":    `UPDATE walls SET revision = 7`,
		"a number is not text":                  `UPDATE photos SET width = 'wide' WHERE number = 1`,
		"a time has one width":                  `UPDATE walls SET reached = '2026-11-25T10:00:00Z'`,
		"a photo's hash is a SHA-256":           `UPDATE photos SET hash = 'abc' WHERE number = 1`,
		"a photo belongs to a title":            `UPDATE photos SET title_id = 77 WHERE number = 1`,
	} {
		t.Run(promise, func(t *testing.T) {
			s, _ := newStore(t)
			title := newTitle(t, s, "Adria", 4)
			apply(t, s, title, 1, 2)
			apply(t, s, title, 3, 4)
			if _, err := s.KeepVersion(ctx, title, "two pairs"); err != nil {
				t.Fatal(err)
			}
			if _, err := s.db.Exec(statement); err == nil {
				t.Fatal("SQLite let it pass")
			}
			if entries := replays(t, s, title); len(entries) != 2 {
				t.Fatalf("%d entries", len(entries))
			}
		})
	}
}

func TestTimesComeBackAsTheyWere(t *testing.T) {
	for _, want := range []time.Time{
		time.Date(2026, 11, 25, 23, 59, 59, 999_999_999, time.FixedZone("", -3*3600)),
		time.Date(1975, 1, 1, 0, 0, 0, 0, time.UTC), {},
	} {
		var got time.Time
		if err := (moment{&got}).Scan(written(want)); err != nil || !got.Equal(want) || got.Location() != time.UTC {
			t.Errorf("%v came back as %v, %v", want, got, err)
		}
	}
	earlier, later := written(time.Unix(99, 5)), written(time.Unix(1e9, 0))
	if !(earlier < later) || len(earlier) != len(later) {
		t.Errorf("%q and %q do not sort as text", earlier, later)
	}
	var got time.Time
	if err := (moment{&got}).Scan("yesterday"); err == nil {
		t.Error("a time that is none was read")
	}
	if diff := cmp.Diff(time.Time{}, got, cmpopts.EquateEmpty()); diff != "" {
		t.Error(diff)
	}
}
