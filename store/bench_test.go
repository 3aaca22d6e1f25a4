package store

import (
	"fmt"
	"testing"

	"pairwall/sequence"
)

// arranged is a title of that many photos, all paired on the wall.
func arranged(b *testing.B, photos int) (*Store, sequence.TitleID, sequence.Sequence) {
	b.Helper()
	s := openStore(b, b.TempDir())
	title := newTitle(b, s, "Adria", photos)
	change := sequence.Change{Act: "pair them all"}
	for n := range photos / 2 {
		change.Steps = append(change.Steps, sequence.Step{Do: sequence.Add, Index: n,
			Spread: &sequence.Spread{ID: sequence.SpreadID(n + 1), Left: sequence.PhotoID(2*n + 1), Right: sequence.PhotoID(2*n + 2)}})
	}
	_, wall, err := s.Apply(ctx, title, change, "")
	if err != nil {
		b.Fatal(err)
	}
	return s, title, wall.Sequence
}

func BenchmarkApply(b *testing.B) {
	for _, photos := range []int{100, 500, 5000} {
		b.Run(fmt.Sprintf("%d photos", photos), func(b *testing.B) {
			s, title, q := arranged(b, photos)
			for b.Loop() {
				_, wall, err := s.Apply(ctx, title, sequence.Change{Revision: q.Revision, Act: "move the last spread to the front",
					Steps: []sequence.Step{{Do: sequence.Move, Index: photos/2 - 1, To: 0}}}, "")
				if err != nil {
					b.Fatal(err)
				}
				q = wall.Sequence
			}
		})
	}
}

func BenchmarkUndoAndRedo(b *testing.B) {
	s, title, q := arranged(b, 500)
	for b.Loop() {
		_, wall, err := s.Undo(ctx, title, q.Revision, "")
		if err != nil {
			b.Fatal(err)
		}
		if _, wall, err = s.Redo(ctx, title, wall.Sequence.Revision, ""); err != nil {
			b.Fatal(err)
		}
		q = wall.Sequence
	}
}

func BenchmarkPhotos(b *testing.B) {
	for _, photos := range []int{500, 5000} {
		b.Run(fmt.Sprint(photos), func(b *testing.B) {
			s := openStore(b, b.TempDir())
			title := newTitle(b, s, "Adria", photos)
			for b.Loop() {
				if all, err := s.Photos(ctx, title); err != nil || len(all) != photos {
					b.Fatal(len(all), err)
				}
			}
		})
	}
}

func BenchmarkWall(b *testing.B) {
	s, title, _ := arranged(b, 500)
	for b.Loop() {
		if _, err := s.Wall(ctx, title); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAddPhoto(b *testing.B) {
	s := openStore(b, b.TempDir())
	title := newTitle(b, s, "Adria", 0)
	n := 0
	for b.Loop() {
		n++
		if _, _, err := s.AddPhoto(ctx, title, photoOf(n)); err != nil {
			b.Fatal(err)
		}
	}
}
