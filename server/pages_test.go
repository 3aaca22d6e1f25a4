package server

import (
	"bytes"
	"fmt"
	"net/http"
	"os"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/server/printing"
	"pairwall/store"
	"pairwall/web"
)

func TestFormatAndPlanAreKeptToldAndUndone(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Trieste to Bari")
	var formats formatList
	h.want(200, "GET", "/api/formats", nil, &formats)
	if len(formats.Sizes) < 8 || formats.First.Check() != nil || formats.Hides != pages.PerfectSwallow {
		t.Errorf("%+v", formats)
	}
	var now store.Pages
	h.want(200, "GET", at+"/pages", nil, &now)
	events, _ := h.listen(at, "")
	want := store.PagesWanted{Revision: now.Revision, Act: "bind with saddle stitch", Format: now.Format.Bound(pages.SaddleStitch), Plan: now.Plan}
	h.want(200, "PUT", at+"/pages", want, &now)
	if now.Format.Binding != pages.SaddleStitch || now.Undo != want.Act {
		t.Errorf("%+v", now)
	}
	var told pagesEvent
	h.next(events, "pages", &told)
	var title titleEvent
	h.next(events, "title", &title)
	if told.Pages.Revision != now.Revision || title.Title.Binding != string(pages.SaddleStitch) {
		t.Errorf("other windows were told %+v, %+v", told, title)
	}
	refused := h.refused(http.StatusConflict, sequence.Stale, "PUT", at+"/pages", want)
	if refused.Pages == nil || refused.Pages.Revision != now.Revision {
		t.Errorf("%+v", refused)
	}
	h.want(200, "POST", at+"/pages/undo", onRevision{now.Revision}, &now)
	if now.Format.Binding != pages.Unbound || now.Redo != want.Act {
		t.Errorf("%+v", now)
	}
	h.want(200, "POST", at+"/pages/redo", onRevision{now.Revision}, &now)
	h.refused(http.StatusNotFound, sequence.NotFound, "POST", at+"/pages/redo", onRevision{now.Revision})
	want.Revision, want.Format.Trim.Width = now.Revision, 1
	h.refused(http.StatusBadRequest, sequence.Invalid, "PUT", at+"/pages", want)
}

func TestABookIsLaidOutBeforeItIsTaken(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Trieste to Bari")
	var shown printing.BookShown
	h.want(200, "GET", at+"/book", nil, &shown)
	if len(shown.Book.Pages) != 2 || len(shown.Lines) != 2 || len(shown.Misfits) != 0 { // an empty wall: opening and closing page
		t.Errorf("%+v", shown)
	}
	asked := bookAsked{Format: pages.FirstFormat.Bound(pages.SaddleStitch), Plan: pages.FirstPlan}
	asked.Plan.Front = []pages.Leaf{{Kind: pages.TitleLeaf, Text: "Eleven days\nfrom Trieste to Bari ש"}}
	h.want(200, "POST", at+"/book", asked, &shown)
	kinds := []pages.MisfitKind{}
	for _, m := range shown.Misfits {
		kinds = append(kinds, m.Kind)
	}
	if len(kinds) != 3 || kinds[0] != pages.TornMisfit || kinds[1] != pages.CountMisfit || kinds[2] != pages.LettersMisfit {
		t.Errorf("%v", shown.Misfits)
	}
	if len(shown.Lines[0]) != 2 || shown.Lines[0][0].Text != "Eleven days" {
		t.Errorf("%+v", shown.Lines[0])
	}
	asked.Format.Bleed = 400
	h.refused(http.StatusBadRequest, sequence.Invalid, "POST", at+"/book", asked)
	var now store.Pages
	h.want(200, "GET", at+"/pages", nil, &now)
	if now.Revision != 0 {
		t.Errorf("looking changed it: %+v", now)
	}
}

func TestThePageGetsTheFacesThatArePrinted(t *testing.T) {
	h := newHouse(t)
	got := h.fetch("/fonts/1.ttf", "")
	if got.status != 200 || !bytes.Equal(got.body, web.Fonts[0]) {
		t.Errorf("%d, %d bytes", got.status, len(got.body))
	}
	// The browser knows by itself how many there are.
	for file, want := range map[string]string{"../web/src/panels/faces.ts": fmt.Sprintf("const faces = %d;", len(web.Fonts)), "../web/styles/cover.css": fmt.Sprintf(`"Printed %d", sans-serif`, len(web.Fonts))} {
		if text, err := os.ReadFile(file); err != nil || !strings.Contains(string(text), want) {
			t.Errorf("%s does not say %s: %v", file, want, err)
		}
	}
	if got := h.fetch("/fonts/9.ttf", ""); got.status != 404 {
		t.Errorf("%d", got.status)
	}
}
