package server

import (
	"errors"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/server/route"
)

func TestTitlesAreBegunListedAndRenamed(t *testing.T) {
	h := newHouse(t)
	var none titleList
	h.want(200, "GET", "/api/titles", nil, &none)
	if none.Titles == nil || len(none.Titles) != 0 {
		t.Errorf("%+v, want an empty list", none)
	}
	title, at := h.newTitle("Trieste to Bari")
	h.refused(http.StatusConflict, sequence.Conflict, "POST", "/api/titles", newTitle{"trieste  to BARI"})
	h.refused(http.StatusBadRequest, sequence.Invalid, "POST", "/api/titles", newTitle{"  "})
	events, _ := h.listen(at, "")
	name := "Eleven days"
	h.want(200, "PATCH", at, amendment{Name: &name, Weights: map[string]float64{"colour": 0.25}}, &title)
	if title.Name != name || title.Weights["colour"] != 0.25 {
		t.Errorf("%+v", title)
	}
	var told titleEvent
	h.next(events, "title", &told)
	if told.Title.Name != name {
		t.Errorf("other windows were told %+v", told)
	}
	other := "Twelve days"
	h.refused(400, sequence.Invalid, "PATCH", at, amendment{Name: &other, Weights: map[string]float64{"scent": 1}}) // none of it is made
	for _, c := range []struct {
		kind   string
		weight float64
		words  string
	}{{"scent", 1, "no evidence called"}, {"colour", 1.01, "between 0 and 1"}, {"place", -0.01, "between 0 and 1"}} {
		is := h.refused(400, sequence.Invalid, "PATCH", at, amendment{Weights: map[string]float64{c.kind: c.weight}})
		if !strings.Contains(is.Error.Message, c.words) {
			t.Errorf("%+v: %q", c, is.Error.Message)
		}
	}
	state := h.state(at)
	if state.Title.Name != name || state.Photos == nil || state.Refusals == nil || state.Brings == nil || state.Wall.Sequence.Spreads == nil || state.Wall.Sequence.Box == nil {
		t.Errorf("%+v", state)
	}
	h.refused(404, sequence.NotFound, "GET", "/api/titles/2", nil)
	h.refused(404, sequence.NotFound, "GET", "/api/titles/-1", nil)
	h.refused(404, sequence.NotFound, "PATCH", "/api/titles/2", amendment{Name: &name})
}

func TestWhatIsNotThereIsSaidInJSON(t *testing.T) {
	h := newHouse(t)
	h.refused(404, sequence.NotFound, "GET", "/api/nothing", nil)
	h.refused(405, route.NotAllowed, "DELETE", "/api/titles", nil)
	h.refused(400, sequence.Invalid, "GET", "/api/folders?paths=/", nil)
}

func TestAnErrorWithoutACodeShowsNothingOfItself(t *testing.T) {
	for _, err := range []error{errors.New("secret/path: 45.6, 13.7"),
		&sequence.Error{Code: sequence.Internal, Message: "secret"}, &sequence.Error{Code: "invented", Message: "secret"}} {
		status, body := route.Render(err)
		if status != 500 || body.Error.Code != sequence.Internal || strings.Contains(body.Error.Message+body.Error.Hint, "secret") {
			t.Errorf("%v: %d %+v", err, status, body)
		}
	}
}

func TestEveryCodeOfTheDomainHasAStatus(t *testing.T) {
	for _, code := range []sequence.Code{sequence.Invalid, sequence.NotFound, sequence.Stale, sequence.Conflict, sequence.Damaged, sequence.Unsupported,
		sequence.TooLarge, sequence.Unreadable, sequence.Cancelled, sequence.Internal} {
		if status, _ := route.Render(&sequence.Error{Code: code}); status < 400 || (status == 500) != (code == sequence.Internal) {
			t.Errorf("%s: %d", code, status)
		}
	}
}

func TestAPanicCostsOneRequest(t *testing.T) {
	h := newHouse(t)
	answer := httptest.NewRecorder()
	h.recover(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("secret") })).
		ServeHTTP(answer, httptest.NewRequest(http.MethodGet, "/", nil))
	if answer.Code != 500 || strings.Contains(answer.Body.String(), "secret") || !strings.Contains(answer.Body.String(), `"internal"`) {
		t.Errorf("%d %s", answer.Code, answer.Body)
	}
}
