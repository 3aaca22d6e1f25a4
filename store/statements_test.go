package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

func TestStatementsAreKeptWithThePhotosUnderTheSameUndo(t *testing.T) {
	s, c := newStore(t)
	title := newTitle(t, s, "Adriatic", 3)
	before, err := s.Photo(ctx, title, 2)
	if err != nil {
		t.Fatal(err)
	}
	day := place.Day(2026, time.May, 7, place.FromMaker)
	senj := place.Where{LatLng: place.LatLng{Lat: 44.99, Lng: 14.9}, Radius: 2000, Source: place.FromMaker}
	change := sequence.Change{Act: "say where and when 2 was taken", Says: []sequence.Statement{
		{Photo: 2, Fact: sequence.TakenFact, Was: before.Fact(sequence.TakenFact), Now: sequence.Value{Taken: &day}},
		{Photo: 2, Fact: sequence.WhereFact, Was: before.Fact(sequence.WhereFact), Now: sequence.Value{Where: &senj}},
		{Photo: 2, Fact: sequence.FeelingFact, Was: before.Fact(sequence.FeelingFact), Now: sequence.Value{Words: []string{"cold", "loud"}}},
		{Photo: 2, Fact: sequence.CaptionFact, Was: before.Fact(sequence.CaptionFact), Now: sequence.Value{Text: "Wind"}},
		{Photo: 2, Fact: sequence.RollFact, Was: before.Fact(sequence.RollFact), Now: sequence.Value{Text: "7"}},
		{Photo: 2, Fact: sequence.FrameFact, Was: before.Fact(sequence.FrameFact), Now: sequence.Value{Text: "13A"}},
		{Photo: 2, Fact: sequence.GazeFact, Was: before.Fact(sequence.GazeFact), Now: sequence.Value{Gaze: &sequence.Gaze{X: 0.25, Y: 0.4, Towards: sequence.TowardsRight}}},
	}}
	_, wall, err := s.Apply(ctx, title, change, "one")
	if err != nil {
		t.Fatal(err)
	}
	want := before
	want.Taken, want.Where, want.Feeling, want.Caption, want.Roll, want.Frame = day, &senj, []string{"cold", "loud"}, "Wind", "7", "13A"
	want.Gaze = &sequence.Gaze{X: 0.25, Y: 0.4, Towards: sequence.TowardsRight}
	if diff := cmp.Diff(want, reread(t, s, title)); diff != "" {
		t.Error(diff)
	}
	if _, _, err := s.Undo(ctx, title, wall.Sequence.Revision, "one"); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, reread(t, s, title)); diff != "" {
		t.Errorf("after undo: %s", diff)
	}
	c.forward(time.Hour)
	wall, err = s.Wall(ctx, title)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.Redo(ctx, title, wall.Sequence.Revision, "one"); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, reread(t, s, title)); diff != "" {
		t.Errorf("after redo: %s", diff)
	}
}

func reread(t *testing.T, s *Store, title sequence.TitleID) sequence.Photo {
	t.Helper()
	p, err := s.Photo(ctx, title, 2)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestOneStatementThatDoesNotFitLeavesAllUnsaid(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adriatic", 3)
	before := reread(t, s, title)
	_, _, err := s.Apply(ctx, title, sequence.Change{Act: "name them", Says: []sequence.Statement{
		{Photo: 2, Fact: sequence.CaptionFact, Was: before.Fact(sequence.CaptionFact), Now: sequence.Value{Text: "Wind"}},
		{Photo: 3, Fact: sequence.CaptionFact, Was: sequence.Value{Text: "never said"}, Now: sequence.Value{Text: "Sea"}},
	}}, "one")
	if sequence.CodeOf(err) != sequence.Invalid {
		t.Fatalf("got %v", err)
	}
	if diff := cmp.Diff(before, reread(t, s, title)); diff != "" {
		t.Error(diff)
	}
	wall, err := s.Wall(ctx, title)
	if err != nil || wall.Sequence.Revision != 0 {
		t.Errorf("revision %d, %v", wall.Sequence.Revision, err)
	}
}

func TestANoteOnAPhotoIsKeptAndTakenBack(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 2)
	noteOf := func() string {
		t.Helper()
		p, err := s.Photo(ctx, title, 2)
		if err != nil {
			t.Fatal(err)
		}
		return p.Note
	}
	said := sequence.Statement{Photo: 2, Fact: sequence.NoteFact, Now: sequence.Value{Text: "Print it darker"}}
	_, w, err := s.Apply(ctx, title, sequence.Change{Act: "write a note on photo 2", Says: []sequence.Statement{said}}, "")
	if err != nil {
		t.Fatal(err)
	}
	if got := noteOf(); got != "Print it darker" {
		t.Errorf("the note is %q", got)
	}
	if _, _, err := s.Undo(ctx, title, w.Sequence.Revision, ""); err != nil {
		t.Fatal(err)
	}
	if got := noteOf(); got != "" {
		t.Errorf("taken back, the note is %q", got)
	}
}

func TestAVersionBringsChaptersAndNotesOnSpreadsBack(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 4)
	apply(t, s, title, 1, 2)
	before := apply(t, s, title, 3, 4).Sequence
	named := before.Clone()
	named.Chapters, named.LastChapter = []sequence.Chapter{{ID: 1, Name: "Trieste"}}, 1
	named.Spreads[0].Chapter, named.Spreads[0].Note = 1, "Both wait"
	change, err := sequence.Between(before, named, "name a chapter")
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.Apply(ctx, title, change, ""); err != nil {
		t.Fatal(err)
	}
	kept, err := s.KeepVersion(ctx, title, "named")
	if err != nil {
		t.Fatal(err)
	}
	now := wallOf(t, s, title).Sequence
	if change, err = sequence.Between(now, sequence.Sequence{}, "take all down"); err != nil {
		t.Fatal(err)
	}
	if _, _, err = s.Apply(ctx, title, change, ""); err != nil {
		t.Fatal(err)
	}
	if _, _, err = s.BringBack(ctx, title, kept.ID, wallOf(t, s, title).Sequence.Revision, ""); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(named, wallOf(t, s, title).Sequence, sees); diff != "" {
		t.Error(diff)
	}
}
