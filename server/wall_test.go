package server

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/server/gate"
	"pairwall/server/route"
)

func TestTwoWindowsWorkOnOneWallAndNeitherOverwritesTheOther(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(4))
	left, _ := h.listen(at, "")
	right, _ := h.listen(at, "")

	pair := sequence.Change{Act: "pair 1 with 2", Steps: []sequence.Step{{Do: sequence.Add, Spread: &sequence.Spread{ID: 1, Left: 1, Right: 2}}}}
	var made changed
	if status := h.from("left", "POST", at+"/changes", pair, &made); status != 200 {
		t.Fatalf("%d", status)
	}
	if made.Entry.From != "left" || made.Wall.Undo != "pair 1 with 2" || made.Wall.Redo != "" || len(made.Wall.Sequence.Spreads) != 1 {
		t.Errorf("%+v", made)
	}
	for _, events := range []<-chan heard{left, right} {
		var heardOf changed
		h.next(events, "change", &heardOf)
		if heardOf.Entry.Revision != 1 || heardOf.Entry.From != "left" {
			t.Errorf("%+v", heardOf.Entry)
		}
	}

	var is route.Problem
	other := sequence.Change{Act: "set 2 aside", Steps: []sequence.Step{{Do: sequence.Box, Now: 2, On: true}}} // made before it heard
	if status := h.from("right", "POST", at+"/changes", other, &is); status != http.StatusConflict || is.Error.Code != sequence.Stale {
		t.Fatalf("%d %+v", status, is)
	}
	if is.Wall == nil || is.Wall.Sequence.Revision != 1 || len(is.Wall.Sequence.Spreads) != 1 || is.Wall.Undo != "pair 1 with 2" {
		t.Errorf("the refusal carries %+v, want the wall as it is", is.Wall)
	}
	if status := h.from("right", "POST", at+"/undo", onRevision{0}, &is); status != http.StatusConflict || is.Wall == nil {
		t.Errorf("a stale undo: %d %+v", status, is)
	}
	if status := h.from("right", "POST", at+"/undo", onRevision{1}, &made); status != 200 || made.Entry.Way != sequence.Undo || made.Wall.Redo != "pair 1 with 2" {
		t.Errorf("%d %+v", status, made)
	}
	h.want(200, "POST", at+"/redo", onRevision{2}, &made)
	if made.Entry.Revision != 3 || made.Wall.Sequence.Spreads[0].Right != 2 {
		t.Errorf("%+v", made)
	}
	h.refused(404, sequence.NotFound, "POST", at+"/redo", onRevision{3})
	var ever hungList
	h.want(200, "GET", at+"/hung", nil, &ever)
	if !slices.Equal(ever.Photos, []sequence.PhotoID{1, 2}) {
		t.Errorf("%v were on the wall, want 1 and 2", ever.Photos)
	}
	h.refused(404, sequence.NotFound, "GET", "/api/titles/99/hung", nil)
	if wall := h.state(at).Wall; wall.Sequence.Revision != 3 {
		t.Errorf("the refusals moved the wall: %+v", wall)
	}
}

func TestAnActThatMakesNoSenseIsRefusedInWords(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	for name, body := range map[string]any{
		"no steps":               sequence.Change{Act: "nothing", Steps: []sequence.Step{}},
		"a photo there is not":   sequence.Change{Act: "box", Steps: []sequence.Step{{Do: sequence.Box, Now: 9, On: true}}},
		"a step there is not":    sequence.Change{Act: "fly", Steps: []sequence.Step{{Do: "fly"}}},
		"a field there is not":   map[string]any{"revision": 0, "act": "x", "steps": []any{}, "force": true},
		"a number for a list":    map[string]any{"revision": 0, "act": "x", "steps": 7},
		"text for a number":      map[string]any{"revision": "zero", "act": "x", "steps": []any{}},
		"a list for a change":    []int{1},
		"nothing where one must": nil,
	} {
		t.Run(name, func(t *testing.T) {
			if body == nil {
				h.refused(http.StatusUnsupportedMediaType, route.WrongMedia, "POST", at+"/changes", nil)
				return
			}
			h.refused(http.StatusBadRequest, sequence.Invalid, "POST", at+"/changes", body)
		})
	}
	h.refused(404, sequence.NotFound, "POST", "/api/titles/99/changes", addSpread(sequence.Sequence{}))
	h.refused(404, sequence.NotFound, "POST", "/api/titles/none/changes", addSpread(sequence.Sequence{}))
	if wall := h.state(at).Wall; wall.Sequence.Revision != 0 {
		t.Errorf("the refusals moved the wall: %+v", wall)
	}
}

func TestABodyThatIsTooLargeOrNoJSONIsRefused(t *testing.T) {
	h := newHouse(t)
	for _, c := range []struct {
		media, body string
		status      int
	}{
		{"application/json", `{"name":"` + strings.Repeat("x", route.BodyBound) + `"}`, http.StatusRequestEntityTooLarge},
		{"application/json", `{"name":"a"} {"name":"b"}`, http.StatusBadRequest},
		{"application/json", `{"name":`, http.StatusBadRequest},
		{"application/json", ``, http.StatusBadRequest},
		{"text/plain", `{"name":"a"}`, http.StatusUnsupportedMediaType},
		{"application/x-www-form-urlencoded", `name=a`, http.StatusUnsupportedMediaType},
		{"", `{"name":"a"}`, http.StatusUnsupportedMediaType},
	} {
		request, err := http.NewRequest(http.MethodPost, h.served.URL+"/api/titles", strings.NewReader(c.body))
		if err != nil {
			t.Fatal(err)
		}
		request.Header.Set("Content-Type", c.media)
		request.Header.Set(gate.Window, "w")
		var is route.Problem
		if status := h.send(request, &is); status != c.status || is.Error.Message == "" {
			t.Errorf("%q %.30s: %d %+v, want %d", c.media, c.body, status, is, c.status)
		}
	}
	if titles := (titleList{}); h.call("GET", "/api/titles", nil, &titles) != http.StatusOK || len(titles.Titles) != 0 {
		t.Errorf("a refused request began a title: %+v", titles)
	}
}
