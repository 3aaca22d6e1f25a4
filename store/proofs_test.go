package store

import (
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/proof"
)

func TestRoundsOfProofsAreKeptWithTheirPhotographs(t *testing.T) {
	s, _ := newStore(t)
	title, other := newTitle(t, s, "Adria", 3), newTitle(t, s, "Rome", 3)
	round := proof.Round{Date: "2026-06-01", Printer: "Tipografia del Molo", Looks: []proof.Look{{Item: "trim", Seen: "good"}}}
	for want := 1; want <= 2; want++ {
		if n, err := s.AddProofRound(ctx, title, round); err != nil || n != want {
			t.Fatalf("round %d: %v", n, err)
		}
	}
	found := ProofFinding{Round: 2, Page: 3, Name: "page.jpg", Finding: proof.Measurement{Base: proof.ByPaper, Corners: []pages.Point{{X: 0.5, Y: 0.25}}}}
	n, err := s.AddProofFinding(ctx, title, found, []byte("a picture"))
	if err != nil {
		t.Fatal(err)
	}
	if picture, page, err := s.ProofPicture(ctx, title, n); err != nil || string(picture) != "a picture" || page != 3 {
		t.Errorf("%q, %d, %v", picture, page, err)
	}
	got, err := s.Proofs(ctx, title)
	if err != nil || len(got) != 2 || len(got[1].Findings) != 1 || got[1].Findings[0].Finding.Corners[0].Y != 0.25 || got[0].Round.Looks[0].Seen != "good" {
		t.Errorf("%+v, %v", got, err)
	}
	round.Verdict = proof.Again
	if err := s.ChangeProofRound(ctx, title, 2, 1, round); err != nil {
		t.Error(err)
	}
	for code, err := range map[sequence.Code]error{
		sequence.Stale:   s.ChangeProofRound(ctx, title, 2, 1, round),
		sequence.Invalid: s.ChangeProofRound(ctx, title, 2, 2, proof.Round{}),
	} {
		if sequence.CodeOf(err) != code {
			t.Errorf("%s: %v", code, err)
		}
	}
	if err := s.TakeOutProofRound(ctx, title, 2, true); err != nil {
		t.Error(err)
	}
	for what, err := range map[string]error{
		"a round taken out":            s.ChangeProofRound(ctx, title, 2, 3, round),
		"a photograph of it":           second(s.AddProofFinding(ctx, title, found, nil)),
		"another title's round":        s.TakeOutProofRound(ctx, other, 1, true),
		"another title's photograph":   s.TakeOutProofFinding(ctx, other, n, true),
		"measuring what is not there":  s.MeasureProofAgain(ctx, title, 99, proof.Measurement{}),
		"a round of a title not there": second(s.AddProofRound(ctx, 999, round)),
	} {
		if sequence.CodeOf(err) != sequence.NotFound {
			t.Errorf("%s: %v", what, err)
		}
	}
	if n, err := s.AddProofRound(ctx, title, round); err != nil || n != 3 {
		t.Errorf("a number is given twice: %d, %v", n, err)
	}
}

func second[T any](_ T, err error) error { return err }

// How a title prints is between its maker and the printer.
func TestProofsStayAtHomeUnlessPlacesGoAlong(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 3)
	if _, err := s.AddProofRound(ctx, title, proof.Round{Date: "2026-06-01"}); err != nil {
		t.Fatal(err)
	}
	for places, want := range map[bool]int{false: 0, true: 1} {
		back, err := s.Unpack(ctx, packed(t, s, title, places), func(string) (string, bool) { return "", false })
		if err != nil {
			t.Fatal(err)
		}
		if rounds, err := s.Proofs(ctx, back.ID); err != nil || len(rounds) != want {
			t.Errorf("with places %v: %d rounds, %v", places, len(rounds), err)
		}
	}
}
