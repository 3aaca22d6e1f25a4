package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/colour"
)

func TestMeasuresAreTakenAgainAndFactsStay(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adriatic", 3)
	waiting, err := s.Unmeasured(ctx, title, 2)
	if err != nil || len(waiting) != 3 {
		t.Fatalf("%d photos, %v", len(waiting), err)
	}
	before := waiting[1]
	measured := sequence.Photo{Number: before.Number, Hash: before.Hash, Name: "another.jpg", Caption: "another", Roll: "R99", Width: 1,
		Palette: colour.Palette{{Lab: colour.Lab{L: 50, A: 1, B: 2}, Weight: 1}}, Tone: colour.Tone{Mean: 33},
		Form: sequence.Form{Measured: 2, Fingerprint: "0123456789abcdef", Sharpness: .5, Lines: [4]float64{.25, .25, .5, 0}}}
	if err := s.UpdateMeasures(ctx, title, measured); err != nil {
		t.Fatal(err)
	}
	want := before
	want.Palette, want.Tone, want.Form = measured.Palette, measured.Tone, measured.Form
	if diff := cmp.Diff(want, reread(t, s, title)); diff != "" {
		t.Error(diff)
	}
	if waiting, err = s.Unmeasured(ctx, title, 2); err != nil || len(waiting) != 2 || waiting[0].Number != 1 || waiting[1].Number != 3 {
		t.Errorf("%+v, %v", waiting, err)
	}
	if waiting, err = s.Unmeasured(ctx, title, 3); err != nil || len(waiting) != 3 {
		t.Errorf("%d of a later edition, %v", len(waiting), err)
	}
	measured.Hash = photoOf(1).Hash
	isCoded(t, s.UpdateMeasures(ctx, title, measured), sequence.NotFound)
	_, err = s.Unmeasured(ctx, 99, 1)
	isCoded(t, err, sequence.NotFound)
}

func TestAMovedOriginalIsKnownWhereItLiesNow(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adriatic", 3)
	before := reread(t, s, title)
	stamp := time.Date(2026, 11, 1, 8, 0, 0, 5000, time.UTC)
	if err := s.Relink(ctx, title, 2, "/media/disk/Adria 2/b.jpg", "b.jpg", stamp); err != nil {
		t.Fatal(err)
	}
	want := before
	want.Path, want.Name, want.Stamp = "/media/disk/Adria 2/b.jpg", "b.jpg", stamp
	if diff := cmp.Diff(want, reread(t, s, title)); diff != "" {
		t.Error(diff)
	}
	if known, err := s.HasFile(ctx, title, want.Path, want.Bytes, stamp); err != nil || !known {
		t.Errorf("the file at its new place is not known: %v", err)
	}
	isCoded(t, s.Relink(ctx, title, 9, "/a", "a", stamp), sequence.NotFound)
	isCoded(t, s.Relink(ctx, 99, 2, "/a", "a", stamp), sequence.NotFound)
	isCoded(t, s.Relink(ctx, title, 2, "", "a", stamp), sequence.Invalid)
}
