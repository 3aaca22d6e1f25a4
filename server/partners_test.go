package server

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pairing"
)

func TestPartnersAreProposedBestFirstFromOutsideTheBox(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(9))
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "set 4 aside", Steps: []sequence.Step{{Do: sequence.Box, Now: 4, On: true}}}, nil)
	h.want(200, "POST", at+"/changes", sequence.Change{Revision: 1, Act: "set 5 on the wall", Steps: []sequence.Step{{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Now: 5}}}, nil)

	numbers := func(query string) map[sequence.PhotoID]bool {
		var list partnerList
		h.want(200, "GET", at+"/partners?photo=1"+query, nil, &list)
		seen := make(map[sequence.PhotoID]bool)
		for i, p := range list.Partners {
			if i > 0 && p.Score > list.Partners[i-1].Score || p.Reasons == "" || len(p.Evidence) == 0 {
				t.Errorf("partner %d: %+v", i, p)
			}
			seen[p.Photo] = true
		}
		if list.Of != 1 || seen[1] {
			t.Errorf("%+v", list)
		}
		return seen
	}
	if seen := numbers("&colour=1"); len(seen) != 7 || seen[4] || !seen[5] {
		t.Errorf("%v, want all but 1 and 4, which is in the box", seen)
	}
	if seen := numbers("&colour=1&box=1"); len(seen) != 8 || !seen[4] {
		t.Errorf("%v, want all but 1", seen)
	}
	if seen := numbers("&n=3"); len(seen) != 3 {
		t.Errorf("%v, want 3", seen)
	}
	var none partnerList
	h.want(200, "GET", at+"/partners?photo=1&place=1&colour=0", nil, &none) // the pictures say nothing of a place
	if len(none.Partners) != 0 || none.Partners == nil || none.Unjudged != 7 {
		t.Errorf("%+v", none)
	}
}

func TestPartnersRefuseWhatMakesNoSense(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(2))
	for query, words := range map[string]string{
		"": "must say", "?photo=": "as one integer", "?photo=1&spread=1": "either", "?photo=1&surprise=2": "0 or 1", "?photo=one": "as one integer", "?photo=1&photo=2": "given once", "?photo=1&colour=2": "between 0 and 1",
		"?photo=1&colour=-0.1": "between 0 and 1", "?photo=1&colour=NaN": "between 0 and 1", "?photo=1&colour=much": "as one number", "?photo=1&colour=": "as one number",
		"?photo=1&scent=1": "Nothing called", "?photo=1&n=-1": "-1 partners", "?photo=1&box=2": "0 or 1", "?photo=1&colour=0&place=0&time=0": "No kind of evidence counts",
	} {
		if is := h.refused(400, sequence.Invalid, "GET", at+"/partners"+query, nil); !strings.Contains(is.Error.Message, words) {
			t.Errorf("%q: %q, want it to say %q", query, is.Error.Message, words)
		}
	}
	h.refused(404, sequence.NotFound, "GET", at+"/partners?photo=3", nil)
	h.refused(404, sequence.NotFound, "GET", "/api/titles/9/partners?photo=1", nil)
}

func TestPhotosThatCameInSinceAreProposedToo(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	folder := h.photographs(3)
	h.bringAll(at, folder)
	count := func() int {
		var list partnerList
		h.want(200, "GET", at+"/partners?photo=1", nil, &list)
		return len(list.Partners) + list.Unjudged
	}
	if n := count(); n != 2 {
		t.Fatalf("%d partners of 3 photos", n)
	}
	put(t, filepath.Join(folder, "frame 4.jpg"), jpegOf(t, 4))
	h.bringAll(at, folder)
	if n := count(); n != 3 {
		t.Errorf("%d partners of 4 photos", n)
	}
	photo := h.state(at).Photos[0] // as another process would add one
	photo.Hash, photo.Path = strings.Repeat("f", 64), photo.Path+"x"
	if _, _, err := h.store.AddPhoto(t.Context(), title.ID, photo.Photo); err != nil {
		t.Fatal(err)
	}
	h.state(at)
	if n := count(); n != 4 {
		t.Errorf("%d partners of 5 photos", n)
	}
}

func TestPartnersAreWeighedByAKindOrByOneRelationOfIt(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(6))
	for _, name := range vocabulary() {
		var list partnerList
		h.want(200, "GET", at+"/partners?photo=1&"+name+"=1", nil, &list)
		if len(list.Partners)+list.Unjudged != 5 {
			t.Errorf("%s: %d partners and %d unjudged of 5 others", name, len(list.Partners), list.Unjudged)
		}
		for _, p := range list.Partners {
			if len(p.Evidence) != 1 || string(p.Evidence[0].Kind) != name || p.Side != sequence.Left && p.Side != sequence.Right {
				t.Errorf("%s: %+v", name, p)
			}
		}
	}
	h.want(200, "PATCH", at, amendment{Weights: map[string]float64{"tone": 1, "contrast": .5}}, nil)
	var list partnerList
	h.want(200, "GET", at+"/partners?photo=1", nil, &list)
	if len(list.Partners) == 0 || len(list.Partners[0].Evidence) != 2 {
		t.Errorf("%+v, want the title's two relations weighed", list)
	}
	h.refused(400, sequence.Invalid, "PATCH", at, amendment{Weights: map[string]float64{"scent": 1}})
}

func TestASurpriseNamesTheOneKindThatSpeaksForIt(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(8))
	var list partnerList
	h.want(200, "GET", at+"/partners?photo=1&surprise=1&colour=1&form=1&feeling=1", nil, &list)
	named := 0
	for _, p := range list.Partners {
		if p.Surprise != "" {
			named++
		}
	}
	if named == 0 {
		t.Errorf("no surprise among %+v", list.Partners)
	}
}

func TestABlankPageIsFilledByWhoCouldFaceItsOther(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(5))
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "hang 2 and 3", Steps: []sequence.Step{
		{Do: sequence.Add, Spread: &sequence.Spread{ID: 1, Right: 3}},
		{Do: sequence.Add, Index: 1, Spread: &sequence.Spread{ID: 2, Left: 2}},
		{Do: sequence.Add, Index: 2, Spread: &sequence.Spread{ID: 3, Left: 4, Right: 5}}}}, nil)
	for spread, want := range map[int]struct {
		of   sequence.PhotoID
		side sequence.Side
	}{1: {3, sequence.Left}, 2: {2, sequence.Right}} {
		var list partnerList
		h.want(200, "GET", fmt.Sprintf("%s/partners?spread=%d&colour=1", at, spread), nil, &list)
		if list.Of != want.of || list.Page == nil || list.Page.Side != want.side || len(list.Partners) != 4 {
			t.Errorf("spread %d: %+v, want partners of %d for the %s page", spread, list, want.of, want.side)
		}
	}
	h.refused(400, sequence.Invalid, "GET", at+"/partners?spread=3", nil)
	h.refused(404, sequence.NotFound, "GET", at+"/partners?spread=4", nil)
}

func TestPairsKeptApartAreNeitherPartnersNorArranged(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(4))
	var apart apartList
	for _, other := range []sequence.PhotoID{2, 3} {
		h.want(200, "PUT", at+"/apart", apartAsked{Pair: sequence.Pair{other, 1}, Apart: true}, &apart)
	}
	if fmt.Sprint(apart.Pairs) != "[[1 2] [1 3]]" {
		t.Errorf("%v", apart.Pairs)
	}
	var list partnerList
	h.want(200, "GET", at+"/partners?photo=1&colour=1", nil, &list)
	if len(list.Partners) != 1 || list.Partners[0].Photo != 4 {
		t.Errorf("%+v, want 4 alone", list.Partners)
	}
	var proposal pairing.Proposal
	h.want(200, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Table, Weights: map[string]float64{"colour": 1}, Enough: .01, Refused: []sequence.Pair{{4, 1}}}, &proposal)
	for _, pair := range proposal.Sequence.Pairs() {
		if pair[0] == 1 || pair[1] == 1 {
			t.Errorf("%v is proposed", pair)
		}
	}
	h.want(200, "PUT", at+"/apart", apartAsked{Pair: sequence.Pair{1, 2}}, &apart)
	h.want(200, "GET", at+"/apart", nil, &apart)
	if len(apart.Pairs) != 1 {
		t.Errorf("%v", apart.Pairs)
	}
	h.refused(400, sequence.Invalid, "PUT", at+"/apart", apartAsked{Pair: sequence.Pair{2, 2}, Apart: true})
	h.refused(404, sequence.NotFound, "PUT", at+"/apart", apartAsked{Pair: sequence.Pair{2, 9}, Apart: true})
	h.refused(404, sequence.NotFound, "GET", "/api/titles/9/apart", nil)
}
