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
		"": "must say", "?photo=": "must say", "?photo=one": "as one integer", "?photo=1&photo=2": "given once", "?photo=1&colour=2": "between 0 and 1",
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

func TestAnArrangementIsOnlyProposedAndItsChangeMakesIt(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(8))
	var plan pairing.Proposal
	h.want(200, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Table, Weights: map[string]float64{"colour": 1}}, &plan)
	if wall := h.state(at).Wall; wall.Sequence.Revision != 0 || len(plan.Spreads) == 0 || plan.Rule == "" {
		t.Fatalf("%+v of %+v", wall, plan)
	}
	var now changed
	h.want(200, "POST", at+"/changes", plan.Change, &now)
	if fmt.Sprint(now.Wall.Sequence) != fmt.Sprint(plan.Sequence) {
		t.Errorf("made %+v, proposed %+v", now.Wall.Sequence, plan.Sequence)
	}
	if is := h.refused(409, sequence.Stale, "POST", at+"/changes", plan.Change); is.Wall == nil {
		t.Error("the proposal could be made twice")
	}
	h.want(200, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Wall}, &plan)
	h.refused(400, sequence.Invalid, "POST", at+"/arrangement", arrangementAsked{Scope: "room"})
	h.refused(400, sequence.Invalid, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Wall, Weights: map[string]float64{"scent": 1}})
	h.refused(404, sequence.NotFound, "POST", "/api/titles/9/arrangement", arrangementAsked{Scope: pairing.Wall})
}
