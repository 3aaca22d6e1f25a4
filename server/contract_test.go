package server

import (
	"fmt"
	"net/http"
	"net/url"
	"path/filepath"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/pairing"
	"pairwall/sequence/proof"
	"pairwall/store"
)

// Every call of every test here is held against openapi.json (see witness);
// this one goes through all there is.
func TestEveryRouteAnswersAsDescribed(t *testing.T) {
	h := newHouse(t)
	built(h)
	title, at := h.newTitle("Adriatic")
	folder := h.photographs(6)
	events, _ := h.listen(at, "")

	h.want(200, "GET", "/api/titles", nil, nil)
	h.want(200, "PATCH", at, amendment{Weights: map[string]float64{"colour": 1}}, nil)
	h.want(200, "GET", "/api/folders?path="+url.QueryEscape(folder), nil, nil)
	put(t, filepath.Join(folder, "sketched.jpg"), sketchedOf(t, 50))
	job := h.bringAll(at, folder)
	if got := h.fetch(fmt.Sprintf("/previews/%d/%d/7.jpg", title.ID, job.ID), ""); got.status != http.StatusOK {
		t.Errorf("a preview: %d", got.status)
	}
	h.want(http.StatusAccepted, "POST", fmt.Sprintf("%s/brings/%d/go-on", at, job.ID), nil, nil)
	h.want(http.StatusAccepted, "DELETE", fmt.Sprintf("%s/brings/%d", at, job.ID), nil, nil)
	h.await(at, job.ID)
	var dropped store.Bring
	if status := h.drop(at, map[string][]byte{"a.jpg": jpegOf(t, 40)}, &dropped); status != http.StatusAccepted {
		t.Fatal(status)
	}
	h.await(at, dropped.ID)
	h.want(200, "GET", at, nil, nil)

	if status := h.upload(at+"/tracks", map[string][]byte{"quay.gpx": gpx(nine, piran, piran)}, nil); status != http.StatusCreated {
		t.Fatal(status)
	}
	var tracks trackList
	h.want(200, "GET", at+"/tracks", nil, &tracks)
	h.want(200, "POST", at+"/borrowings", borrowingAsked{From: fromTracks}, nil)
	h.want(200, "DELETE", fmt.Sprintf("%s/tracks/%d", at, tracks.Tracks[0].ID), nil, nil)
	h.want(200, "GET", "/api/towns?name=piran", nil, nil)
	h.want(200, "GET", at+"/piles", nil, nil)
	h.want(200, "GET", at+"/originals", nil, nil)
	h.want(http.StatusAccepted, "POST", at+"/originals", lookIn{folder}, nil)
	h.want(http.StatusAccepted, "DELETE", at+"/originals", nil, nil)
	one, two := sequence.Value{Text: "1"}, sequence.Value{Text: "2"}
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "say the roll", Steps: []sequence.Step{}, Says: []sequence.Statement{
		{Photo: 1, Fact: sequence.RollFact, Now: sequence.Value{Text: "R 7/b"}}, {Photo: 2, Fact: sequence.RollFact, Now: sequence.Value{Text: "R 7/b"}},
		{Photo: 1, Fact: sequence.FrameFact, Now: one}, {Photo: 2, Fact: sequence.FrameFact, Now: two}}}, nil)
	h.want(200, "PATCH", at+"/rolls/R%207%2Fb", rollAsked{Reversed: true}, nil)
	h.want(200, "POST", at+"/undo", onRevision{1}, nil)

	h.want(200, "GET", at+"/partners?photo=1", nil, nil)
	var plan pairing.Proposal
	h.want(200, "POST", at+"/arrangement", arrangementAsked{Scope: pairing.Table}, &plan)
	h.want(200, "POST", at+"/arrangement/accept", acceptance{Plan: arrangementAsked{Scope: pairing.Table}, Revision: 2, Spreads: []sequence.SpreadID{plan.Spreads[0].Spread}}, nil)
	h.want(200, "PUT", at+"/apart", apartAsked{Pair: sequence.Pair{1, 2}, Apart: true}, nil)
	h.want(200, "PUT", at+"/apart", apartAsked{Pair: sequence.Pair{1, 2}}, nil)
	h.want(200, "GET", at+"/apart", nil, nil)
	h.want(200, "GET", at+"/photos/1/feelings", nil, nil)
	var now changed
	h.want(200, "POST", at+"/changes", plan.Change, &now)
	h.want(200, "GET", at+"/losses", nil, nil)
	h.want(200, "POST", at+"/undo", onRevision{3}, nil)
	h.want(200, "POST", at+"/redo", onRevision{4}, nil)
	var version sequence.Version
	h.want(201, "POST", at+"/versions", versionName{"first"}, &version)
	h.want(200, "POST", at+"/changes", addSpread(sequence.Sequence{Revision: 5, Spreads: now.Wall.Sequence.Spreads, Last: now.Wall.Sequence.Last}), nil)
	where := fmt.Sprintf("%s/versions/%d", at, version.ID)
	h.want(200, "GET", at+"/hung", nil, nil)
	h.want(200, "GET", at+"/versions", nil, nil)
	h.want(200, "GET", where, nil, nil)
	h.want(200, "PATCH", where, versionName{"the first"}, nil)
	h.want(200, "POST", where+"/bring-back", onRevision{6}, nil)
	h.weeksAnswer(at, version.ID)
	h.paperAnswers(title, at)
	h.inksAnswer(title, at)
	h.proofsAnswer()
	h.pagesAnswer(at)
	h.printingsAnswer(title, at)
	h.printersAnswer(title, at)
	h.copiesAnswer(title, at)
	h.coverAnswers(title, at)
	h.parcelsAnswer(title, at)
	for revision := int64(0); revision < 7; {
		h.next(events, "change", &now)
		revision = now.Entry.Revision
	}

	h.want(200, "GET", at+"/prints?of=all&sheet=A3&long=60&backs=1", nil, nil)
	for _, path := range []string{fmt.Sprintf("/print/%d/contact.pdf?of=all", title.ID),
		fmt.Sprintf("/out/%d/order.csv", title.ID), fmt.Sprintf("/out/%d/order.json", title.ID), fmt.Sprintf("/cards/%d/1/160.jpg", title.ID), "/", "/static/" + h.hash + "/app.js", "/api"} {
		if got := h.fetch(path, ""); got.status != http.StatusOK {
			t.Errorf("%s: %d", path, got.status)
		}
	}
	packed := h.fetch(fmt.Sprintf("/out/%d/packed.zip?places=1&originals=1", title.ID), "")
	if status := h.upload("/api/packs", map[string][]byte{"adriatic.zip": packed.body}, nil); status != http.StatusCreated {
		t.Errorf("unpacking: %d", status)
	}
	for _, line := range routes() {
		if !h.seen[operation(line)] {
			t.Errorf("%s %s was never answered with success", line.Method, line.Path)
		}
	}
}

// proofsAnswer drives what is about proofs, on a title of its own: to be found
// in a photograph a page needs more in it than jpegOf draws.
func (h *house) proofsAnswer() {
	title, at := h.withPages()
	round := proof.Round{Date: "2026-06-01", Looks: []proof.Look{}}
	h.want(201, "POST", at+"/proofs", round, nil)
	h.want(200, "PUT", at+"/proofs/1", roundWanted{1, round}, nil)
	h.want(200, "DELETE", at+"/proofs/1", nil, nil)
	h.want(200, "POST", at+"/proofs/1/put-back", nil, nil)
	if status := h.upload(at+"/proofs/1/photographs?page=1", map[string][]byte{"page.jpg": h.proofOf(title.ID, 1, 3)}, nil); status != http.StatusCreated {
		h.t.Errorf("a photograph of a proof: %d", status)
	}
	photograph := at + "/proofs/photographs/1"
	h.want(200, "POST", photograph+"/again", measuredWith{}, nil)
	h.want(200, "DELETE", photograph, nil, nil)
	h.want(200, "POST", photograph+"/put-back", nil, nil)
	if got := h.fetch(photograph+"/picture", ""); got.status != http.StatusOK {
		h.t.Errorf("the photograph of a proof: %d", got.status)
	}
	h.want(200, "GET", at+"/proofs", nil, nil)
}

// inksAnswer drives what is about the printer's profile.
func (h *house) inksAnswer(title sequence.Title, at string) {
	if status := h.upload(at+"/inks", map[string][]byte{"press.icc": printers(h.t)}, nil); status != http.StatusCreated {
		h.t.Errorf("a profile: %d", status)
	}
	h.want(200, "PATCH", at+"/inks", inkLimit{280}, nil)
	h.want(200, "GET", at+"/inks", nil, nil)
	h.want(200, "GET", at+"/check", nil, nil)
	if got := h.fetch(fmt.Sprintf("/beyond/%d/1.png", title.ID), ""); got.status != http.StatusOK {
		h.t.Errorf("where inks do not reach: %d", got.status)
	}
	h.want(200, "DELETE", at+"/inks", nil, nil)
}

// pagesAnswer drives what is about format and page plan.
func (h *house) pagesAnswer(at string) {
	var now store.Pages
	h.want(200, "GET", "/api/formats", nil, nil)
	h.want(200, "GET", at+"/pages", nil, &now)
	h.want(200, "PUT", at+"/pages", store.PagesWanted{Act: "bind", Format: now.Format.Bound(pages.PerfectBound), Plan: now.Plan}, nil)
	h.want(200, "POST", at+"/pages/undo", onRevision{1}, nil)
	h.want(200, "POST", at+"/pages/redo", onRevision{2}, nil)
	h.want(200, "GET", at+"/book", nil, nil)
	h.want(200, "POST", at+"/book", bookAsked{now.Format, now.Plan}, nil)
	if got := h.fetch("/fonts/1.ttf", ""); got.status != http.StatusOK {
		h.t.Errorf("a face: %d", got.status)
	}
}

// paperAnswers drives what is about the wall of paper.
func (h *house) paperAnswers(title sequence.Title, at string) {
	h.t.Helper()
	h.want(200, "POST", at+"/hangings", hangingAsked{"1+2"}, nil)
	one, read := h.readThrough(at, map[string][]byte{"wall.jpg": paperWall(h.t, code.TagOf(title), []sequence.PhotoID{1, 2})})
	if got := h.fetch(fmt.Sprintf("/shots/%d/%d/1.jpg", title.ID, read.ID), ""); got.status != http.StatusOK {
		h.t.Errorf("a photograph of the wall is answered with %d", got.status)
	}
	h.want(200, "DELETE", one, nil, nil)
}

// weeksAnswer drives what is about the weeks a wall has hung.
func (h *house) weeksAnswer(at string, version sequence.VersionID) {
	h.t.Helper()
	h.want(200, "POST", at+"/lines", lineBegun{Revision: 7, From: version, Name: "Another end"}, nil)
	h.want(200, "PATCH", at+"/lines/1", lineName{"The other end"}, nil)
	h.want(200, "POST", at+"/lines/0/go-over", onRevision{8}, nil)
	h.want(201, "POST", at+"/aside", asideAsked{Revision: 9, Line: "From memory", Name: "Bare",
		Sequence: sequence.Sequence{Spreads: []sequence.Spread{}, Box: []sequence.PhotoID{}}}, nil)
	h.want(200, "POST", at+"/comparison", comparisonAsked{Earlier: side{Version: version}}, nil)
	h.want(200, "GET", at+"/settled", nil, nil)
	h.want(200, "GET", at+"/thinning?keep=day", nil, nil)
	h.want(200, "POST", at+"/thinning", thinningAsked{[]sequence.VersionID{}}, nil)
	h.want(200, "POST", at+"/thinning/put-back", nothing{}, nil)
}
