package main

import (
	"testing"

	"pairwall/cmd/pairwall/demo"
	"pairwall/sequence"
)

func TestEverySceneOfTheDemosStoryIsAWallOfPicturesThereAre(t *testing.T) {
	numbers := make(map[string]sequence.PhotoID)
	for i, p := range demo.Pictures() {
		numbers[stem(p.File)] = sequence.PhotoID(i + 1)
	}
	present := sequence.Sequence{}
	for i, s := range story {
		q, err := s.hung(present, numbers)
		if err != nil {
			t.Fatal(err)
		}
		if err := q.Check(); err != nil {
			t.Fatalf("%d days ago: %v", s.daysAgo, err)
		}
		if i > 0 && s.daysAgo >= story[i-1].daysAgo {
			t.Errorf("%d days ago comes after %d", s.daysAgo, story[i-1].daysAgo)
		}
		present = q
	}
}
