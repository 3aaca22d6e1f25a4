package server

import (
	"fmt"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pairing"
)

func TestLossesAreToldOfTheWallAndOfAnyOnePhoto(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(6))
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "hang", Steps: []sequence.Step{
		{Do: sequence.Add, Spread: &sequence.Spread{ID: 1, Left: 1, Right: 2}}, {Do: sequence.Add, Index: 1, Spread: &sequence.Spread{ID: 2, Left: 3}}},
		Says: []sequence.Statement{{Photo: 1, Fact: sequence.FeelingFact, Now: sequence.Value{Words: []string{"cold"}}}}}, nil)
	var of lossList
	h.want(200, "GET", at+"/losses", nil, &of)
	seen := make(map[sequence.PhotoID]pairing.Loss)
	for _, loss := range of.Losses {
		seen[loss.Photo] = loss
	}
	if len(of.Losses) != 3 || len(seen) != 3 {
		t.Fatalf("%+v, want the three on the wall", of)
	}
	if fmt.Sprint(seen[1].Only) == fmt.Sprint(seen[2].Only) {
		t.Errorf("1 is the only one that feels cold: %+v", seen[1])
	}
	h.want(200, "GET", at+"/losses?photo=5", nil, &of)
	if len(of.Losses) != 1 || of.Losses[0].Photo != 5 {
		t.Errorf("%+v, want 5, which does not hang", of)
	}
	h.refused(404, sequence.NotFound, "GET", at+"/losses?photo=9", nil)
	h.refused(404, sequence.NotFound, "GET", "/api/titles/9/losses", nil)
}

func TestFeelingsAreOfferedFromTheMakersOwnWordsAtOnce(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(4))
	var offered suggestionList
	h.want(200, "GET", at+"/photos/1/feelings", nil, &offered)
	if len(offered.Suggestions) != 0 {
		t.Errorf("%+v, and no word was ever used", offered)
	}
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "say", Steps: []sequence.Step{}, Says: []sequence.Statement{
		{Photo: 2, Fact: sequence.FeelingFact, Now: sequence.Value{Words: []string{"cold", "waiting"}}},
		{Photo: 3, Fact: sequence.FeelingFact, Now: sequence.Value{Words: []string{"cold"}}}}}, nil)
	h.want(200, "GET", at+"/photos/1/feelings", nil, &offered)
	used := make(map[string]int)
	for _, s := range offered.Suggestions {
		used[s.Word] = s.Used
	}
	if len(used) != 2 || used["cold"] != 2 || used["waiting"] != 1 {
		t.Errorf("%+v", offered)
	}
	h.want(200, "GET", at+"/photos/2/feelings", nil, &offered)
	if len(offered.Suggestions) != 0 {
		t.Errorf("%+v, and 2 has both words", offered)
	}
	h.refused(404, sequence.NotFound, "GET", at+"/photos/9/feelings", nil)
	h.refused(404, sequence.NotFound, "GET", "/api/titles/9/photos/1/feelings", nil)
}
