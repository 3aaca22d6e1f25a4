package server

import (
	"fmt"
	"testing"
	"time"

	"pairwall/sequence"
)

// weeks is a title with a wall that has hung for three evenings: 1 2 and 3 4;
// then 5 6 before them; then 3 faces 7.
func weeks(t *testing.T) (h *house, at string, clock *time.Time, now changed) {
	t.Helper()
	h = newHouse(t)
	title, at := h.newTitle("Adriatic")
	_ = title
	h.bringAll(at, h.photographs(9))
	evening := time.Date(2026, 5, 3, 20, 0, 0, 0, time.UTC)
	h.store.Now = func() time.Time { return evening }
	h.want(200, "POST", at+"/changes", spread(sequence.Sequence{}, 1, 2), &now)
	h.want(200, "POST", at+"/changes", spread(now.Wall.Sequence, 3, 4), &now)
	evening = evening.AddDate(0, 0, 2)
	first := spread(now.Wall.Sequence, 5, 6)
	first.Steps[0].Index = 0
	h.want(200, "POST", at+"/changes", first, &now)
	evening = evening.AddDate(0, 0, 7)
	h.want(200, "POST", at+"/changes", sequence.Change{Revision: 3, Act: "break", Steps: []sequence.Step{
		{Do: sequence.Put, Page: &sequence.Page{Spread: 2, Side: sequence.Right}, Was: 4, Now: 7}}}, &now)
	evening = evening.AddDate(0, 0, 1)
	return h, at, &evening, now
}

func (h *house) versions(at string) versionList {
	h.t.Helper()
	var list versionList
	h.want(200, "GET", at+"/versions", nil, &list)
	return list
}

func TestAVersionTellsWhatTheMakerSaidOfItAndWhatItsWallLooksLike(t *testing.T) {
	h, at, clock, _ := weeks(t)
	list := h.versions(at)
	if len(list.Versions) != 3 || len(list.Lines) != 1 || list.Lines[0].Name != sequence.FirstLine {
		t.Fatalf("%+v", list)
	}
	v := list.Versions[1]
	if fmt.Sprint(v.Pages) != "[0 5 6 1 2 3 4 0]" || v.Words != "one pair new, two photos came" {
		t.Errorf("%+v", v)
	}
	where := fmt.Sprintf("%s/versions/%d", at, v.ID)
	h.want(200, "PATCH", where, versionAmendment{Why: new("the ferry first"), Slip: new(true), Looked: true}, nil)
	v = h.versions(at).Versions[1]
	if v.Why != "the ferry first" || !v.Slip || v.Looked == nil || !v.Looked.Equal(*clock) || v.Named {
		t.Errorf("%+v", v)
	}
}

func TestTwoVersionsOrAVersionAndThePresentAreCompared(t *testing.T) {
	h, at, _, _ := weeks(t)
	list := h.versions(at).Versions
	var got comparison
	h.want(200, "POST", at+"/comparison", comparisonAsked{Earlier: side{Version: list[2].ID}}, &got)
	if got.Words != "one pair broken, two new, three photos came, one went" || len(got.Earlier.Spreads) != 2 || len(got.Later.Spreads) != 3 || *got.Diff.Tau != 1 {
		t.Errorf("%+v", got)
	}
	remade := sequence.Sequence{Spreads: []sequence.Spread{{ID: 1, Left: 3, Right: 4}, {ID: 2, Left: 1, Right: 2}}, Box: []sequence.PhotoID{}, Last: 2}
	h.want(200, "POST", at+"/comparison", comparisonAsked{Earlier: side{Version: list[2].ID}, Later: side{Sequence: &remade}}, &got)
	if got.Words != "1 and 2 moved to the end" || got.Diff.Moved != 1 {
		t.Errorf("%+v", got)
	}
	remade.Last = 1
	h.refused(400, sequence.Invalid, "POST", at+"/comparison", comparisonAsked{Later: side{Sequence: &remade}})
	h.refused(404, sequence.NotFound, "POST", at+"/comparison", comparisonAsked{Later: side{Version: 99}})
}

func TestTwoLinesOfWorkAreGoneOnWithBesideEachOther(t *testing.T) {
	h, at, _, now := weeks(t)
	list := h.versions(at).Versions
	events, _ := h.listen(at, "")
	h.want(200, "POST", at+"/lines", lineBegun{Revision: 4, From: list[2].ID, Name: "Without the ferry", Present: "With the ferry"}, &now)
	if now.Wall.Sequence.Line != 1 || len(now.Wall.Sequence.Spreads) != 2 {
		t.Errorf("%+v", now.Wall)
	}
	h.next(events, "versions", nil)
	all := h.versions(at)
	if len(all.Lines) != 2 || all.Lines[0].Name != "With the ferry" || all.Lines[1].Root != 2 {
		t.Errorf("%+v", all.Lines)
	}
	h.refused(409, sequence.Conflict, "POST", at+"/lines", lineBegun{Revision: 5, Name: "with the ferry"})
	var lines lineList
	h.want(200, "PATCH", at+"/lines/1", lineName{"By day"}, &lines)
	if lines.Lines[1].Name != "By day" {
		t.Errorf("%+v", lines)
	}
	var back changed // no line is sent of the first
	h.want(200, "POST", at+"/lines/0/go-over", onRevision{5}, &back)
	if back.Wall.Sequence.Line != 0 || len(back.Wall.Sequence.Spreads) != 3 || back.Wall.Undo != "go over to “With the ferry”" {
		t.Errorf("%+v", back.Wall)
	}
	h.want(200, "POST", at+"/undo", onRevision{6}, &now)
	if now.Wall.Sequence.Line != 1 {
		t.Errorf("%+v", now.Wall)
	}
	h.refused(404, sequence.NotFound, "POST", at+"/lines/9/go-over", onRevision{7})
}

func TestAStateMadeBesideTheWallIsKeptAndTheWallStays(t *testing.T) {
	h, at, _, before := weeks(t)
	remade := sequence.Sequence{Spreads: []sequence.Spread{{ID: 1, Left: 2, Right: 1}}, Box: []sequence.PhotoID{}, Last: 1}
	var kept keptAside
	h.want(201, "POST", at+"/aside", asideAsked{Revision: 4, Sequence: remade, Line: "From memory", Name: "From memory, 13 May"}, &kept)
	if kept.Version.Name != "From memory, 13 May" || kept.Version.Sequence.Line != 1 || kept.Changed.Wall.Undo != before.Wall.Undo || len(kept.Changed.Wall.Sequence.Spreads) != 3 {
		t.Errorf("%+v", kept)
	}
	is := h.refused(409, sequence.Stale, "POST", at+"/aside", asideAsked{Revision: 4, Sequence: remade, Line: "From memory", Name: "x"})
	if is.Wall == nil || is.Wall.Sequence.Revision != 6 {
		t.Errorf("%+v", is)
	}
}

func TestTheWeeksTellWhatHeldAndWhatWasBroken(t *testing.T) {
	h, at, _, _ := weeks(t)
	var got settled
	h.want(200, "GET", at+"/settled", nil, &got)
	r := got.Report
	if r.Sittings != 3 || r.Hold[0].Pair != (sequence.Pair{1, 2}) || r.Hold[0].Sittings != 3 || r.Hold[0].Days != 10 ||
		len(r.Broken) != 1 || r.Broken[0].Pair != (sequence.Pair{3, 4}) || r.Broken[0].Sittings != 2 || r.Broken[0].Days != 9 {
		t.Errorf("%+v", r)
	}
	_, bare := h.newTitle("Nothing yet")
	var nothingYet settled
	h.want(200, "GET", bare+"/settled", nil, &nothingYet)
	if nothingYet.Report.Sittings != 0 || nothingYet.Report.Since != nil {
		t.Errorf("%+v", nothingYet)
	}
}

func TestVersionsAreThinnedOutOnlyByNameAndComeBackWhenAsked(t *testing.T) {
	h, at, _, _ := weeks(t)
	list := h.versions(at).Versions
	var preview thinning
	h.want(200, "GET", at+"/thinning?keep=none&older=2", nil, &preview)
	if fmt.Sprint(preview.Spare) != fmt.Sprint([]sequence.VersionID{list[1].ID, list[2].ID}) || preview.Away != 0 {
		t.Errorf("%+v", preview)
	}
	h.refused(400, sequence.Invalid, "GET", at+"/thinning?keep=month", nil)
	h.refused(409, sequence.Conflict, "POST", at+"/thinning", thinningAsked{[]sequence.VersionID{list[0].ID}})
	var left versionList
	h.want(200, "POST", at+"/thinning", thinningAsked{preview.Spare}, &left)
	if len(left.Versions) != 1 {
		t.Errorf("%+v", left)
	}
	h.want(200, "GET", at+"/thinning?keep=none", nil, &preview)
	var back putBackCount
	h.want(200, "POST", at+"/thinning/put-back", nothing{}, &back)
	if preview.Away != 2 || back.Kept != 2 || len(h.versions(at).Versions) != 3 {
		t.Errorf("%+v %+v", preview, back)
	}
}
