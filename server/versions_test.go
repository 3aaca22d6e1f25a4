package server

import (
	"fmt"
	"testing"
	"time"

	"pairwall/sequence"
)

// spread adds a spread of two photos at the end.
func spread(q sequence.Sequence, left, right sequence.PhotoID) sequence.Change {
	change := addSpread(q)
	change.Steps[0].Spread.Left, change.Steps[0].Spread.Right = left, right
	return change
}

func TestVersionsTellWhatEachChangedAndCanBeBroughtBack(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(8))
	events, _ := h.listen(at, "")
	var now changed
	for i := range sequence.PhotoID(3) {
		h.want(200, "POST", at+"/changes", spread(now.Wall.Sequence, 2*i+1, 2*i+2), &now)
	}
	var first sequence.Version
	h.want(201, "POST", at+"/versions", versionName{"three spreads"}, &first)
	h.next(events, "versions", nil)
	q := now.Wall.Sequence
	h.want(200, "POST", at+"/changes", sequence.Change{Revision: q.Revision, Act: "break and move", Steps: []sequence.Step{
		{Do: sequence.Put, Page: &sequence.Page{Spread: 1, Side: sequence.Right}, Was: 2, Now: 7},
		{Do: sequence.Move, Index: 0, To: 2}}}, &now)
	h.want(201, "POST", at+"/versions", versionName{"another end"}, nil)
	h.refused(400, sequence.Invalid, "POST", at+"/versions", versionName{""})

	var list versionList
	h.want(200, "GET", at+"/versions", nil, &list)
	if len(list.Versions) != 2 {
		t.Fatalf("%+v", list)
	}
	second, old := list.Versions[0], list.Versions[1]
	if old.Name != "three spreads" || !old.Named || old.Spreads != 3 || old.Photos != 6 || old.Words != "three pairs new, six photos came" {
		t.Errorf("%+v", old)
	}
	if second.Revision != 4 || second.Words != "one pair broken, one new, one photo came, one went, 1 moved to the end" {
		t.Errorf("%+v", second)
	}

	where := fmt.Sprintf("%s/versions/%d", at, first.ID)
	var detail versionDetail
	h.want(200, "GET", where, nil, &detail)
	if len(detail.Sequence.Spreads) != 3 || detail.Words != second.Words || len(detail.Diff.Kept) != 2 {
		t.Errorf("%+v", detail)
	}
	h.want(200, "PATCH", where, versionAmendment{Name: new("the first wall")}, &first)
	if first.Name != "the first wall" {
		t.Errorf("%+v", first)
	}
	if is := h.refused(409, sequence.Stale, "POST", where+"/bring-back", onRevision{1}); is.Wall == nil || is.Wall.Sequence.Revision != 4 {
		t.Errorf("%+v", is)
	}
	h.want(200, "POST", where+"/bring-back", onRevision{4}, &now)
	if now.Wall.Sequence.Revision != 5 || now.Wall.Sequence.Spreads[0].Right != 2 || now.Wall.Undo != "bring back “the first wall”" {
		t.Errorf("%+v", now)
	}
	for now.Entry.Revision = 0; now.Entry.Revision < 5; {
		h.next(events, "change", &now)
	}
	h.next(events, "versions", nil)
	h.want(200, "POST", at+"/undo", onRevision{5}, &now)
	if now.Wall.Sequence.Spreads[2].Right != 7 {
		t.Errorf("%+v", now.Wall)
	}
	h.refused(404, sequence.NotFound, "GET", at+"/versions/99", nil)
	h.refused(404, sequence.NotFound, "PATCH", at+"/versions/99", versionAmendment{Name: new("x")})
	h.refused(404, sequence.NotFound, "POST", at+"/versions/99/bring-back", onRevision{6})
	h.refused(404, sequence.NotFound, "GET", at+"/versions/last", nil)
}

func TestAVersionLeftByASittingIsToldToEveryWindow(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	clock := time.Date(2026, 5, 3, 20, 0, 0, 0, time.UTC)
	h.store.Now = func() time.Time { return clock }
	var now changed
	h.want(200, "POST", at+"/changes", addSpread(sequence.Sequence{}), &now)
	events, _ := h.listen(at, "")
	clock = clock.Add(time.Minute)
	h.want(200, "POST", at+"/changes", addSpread(now.Wall.Sequence), &now)
	clock = clock.Add(sequence.SittingPause)
	h.want(200, "POST", at+"/changes", addSpread(now.Wall.Sequence), &now)
	var order []string
	for len(order) < 3 {
		if e := <-events; e.name == "change" || e.name == "versions" {
			order = append(order, e.name)
		}
	}
	if fmt.Sprint(order) != "[change change versions]" {
		t.Errorf("heard %v", order)
	}
	var list versionList
	h.want(200, "GET", at+"/versions", nil, &list)
	if len(list.Versions) != 1 || list.Versions[0].Named || list.Versions[0].Spreads != 2 {
		t.Errorf("%+v", list)
	}
}
