package server

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/intake"
	"pairwall/sequence/place"
	"pairwall/server/bringing"
	"pairwall/store"
)

func says(p sequence.Photo, f sequence.Fact, now sequence.Value) sequence.Statement {
	return sequence.Statement{Photo: p.Number, Fact: f, Was: p.Fact(f), Now: now}
}

func TestFactsOfManyPhotosAreStatedInOneChangeAndTakenBackInOne(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(5))
	before := h.state(at)
	day := place.Day(2026, time.May, 4, place.FromMaker)
	there := place.Where{LatLng: piran, Radius: 500, Source: place.FromMaker}
	change := sequence.Change{Act: "say when and where five photos were taken", Steps: []sequence.Step{}}
	for _, p := range before.Photos {
		change.Says = append(change.Says, says(p.Photo, sequence.TakenFact, sequence.Value{Taken: &day}),
			says(p.Photo, sequence.WhereFact, sequence.Value{Where: &there}), says(p.Photo, sequence.FeelingFact, sequence.Value{Words: []string{"cold", "still"}}))
	}
	events, _ := h.listen(at, "")
	var now changed
	h.want(200, "POST", at+"/changes", change, &now)
	if len(now.Labels) != 5 || now.Labels[1] != "Piran, Slovenia" {
		t.Errorf("%v", now.Labels)
	}
	var heard changed
	if h.next(events, "change", &heard); len(heard.Entry.Change.Says) != 15 || len(heard.Labels) != 5 {
		t.Errorf("%d statements, %d labels", len(heard.Entry.Change.Says), len(heard.Labels))
	}
	for _, p := range h.state(at).Photos {
		if p.Taken.From != day.From || p.Taken.Source != place.FromMaker || p.Where == nil || *p.Where != there || !slices.Equal(p.Feeling, []string{"cold", "still"}) || p.Label != "Piran, Slovenia" {
			t.Errorf("%+v", p)
		}
	}
	h.want(200, "POST", at+"/undo", onRevision{1}, &now)
	if len(now.Labels) != 5 || now.Labels[1] != "" {
		t.Errorf("after undo: %v", now.Labels)
	}
	for i, p := range h.state(at).Photos {
		if p.Taken.Known() || p.Where != nil || p.Feeling != nil || p.Label != "" || p.Number != before.Photos[i].Number {
			t.Errorf("after undo: %+v", p)
		}
	}
	h.want(200, "POST", at+"/redo", onRevision{2}, nil)
	if p := h.state(at).Photos[4]; p.Where == nil || p.Label != "Piran, Slovenia" {
		t.Errorf("after redo: %+v", p)
	}
}

func TestAFactThatDoesNotFitIsRefusedAndNothingIsStated(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(2))
	photos := h.state(at).Photos
	good := says(photos[0].Photo, sequence.CaptionFact, sequence.Value{Text: "Quay"})
	nowhere := place.Where{LatLng: place.LatLng{Lat: 95, Lng: 13}, Source: place.FromMaker}
	for name, bad := range map[string]sequence.Statement{
		"another was":    {Photo: 2, Fact: sequence.CaptionFact, Was: sequence.Value{Text: "Sea"}, Now: sequence.Value{Text: "Wind"}},
		"off the globe":  says(photos[1].Photo, sequence.WhereFact, sequence.Value{Where: &nowhere}),
		"no such fact":   {Photo: 2, Fact: "mood", Now: sequence.Value{Text: "x"}},
		"no such photo":  {Photo: 9, Fact: sequence.CaptionFact, Now: sequence.Value{Text: "x"}},
		"much too long":  says(photos[1].Photo, sequence.CaptionFact, sequence.Value{Text: strings.Repeat("x", 3000)}),
		"a date as text": says(photos[1].Photo, sequence.TakenFact, sequence.Value{Text: "yesterday"}),
	} {
		is := h.refused(400, sequence.Invalid, "POST", at+"/changes", sequence.Change{Act: "state", Steps: []sequence.Step{}, Says: []sequence.Statement{good, bad}})
		if strings.Contains(is.Error.Message, "wrong inside") {
			t.Errorf("%s: %+v", name, is)
		}
	}
	if now := h.state(at); now.Photos[0].Caption != "" || now.Wall.Sequence.Revision != 0 {
		t.Errorf("%+v", now.Photos[0])
	}
	h.refused(409, sequence.Stale, "POST", at+"/changes", sequence.Change{Revision: 4, Act: "state", Steps: []sequence.Step{}, Says: []sequence.Statement{good}})
}

func TestPartnersKnowAFactAsSoonAsItIsStated(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(3))
	unjudged := func() int {
		t.Helper()
		var found partnerList
		h.want(200, "GET", at+"/partners?photo=1&place=1", nil, &found)
		return found.Unjudged
	}
	if n := unjudged(); n != 2 {
		t.Fatalf("%d of two photos have no place to judge by", n)
	}
	there := place.Where{LatLng: piran, Radius: 10, Source: place.FromMaker}
	change := sequence.Change{Act: "say where", Steps: []sequence.Step{}}
	for _, p := range h.state(at).Photos {
		change.Says = append(change.Says, says(p.Photo, sequence.WhereFact, sequence.Value{Where: &there}))
	}
	h.want(200, "POST", at+"/changes", change, nil)
	if n := unjudged(); n != 0 {
		t.Errorf("%d are unjudged after their places were stated", n)
	}
	h.want(200, "POST", at+"/undo", onRevision{1}, nil)
	if n := unjudged(); n != 2 {
		t.Errorf("%d are unjudged after that was taken back", n)
	}
}

func TestTownsAreFoundByNameAndByPosition(t *testing.T) {
	h := newHouse(t)
	var found townList
	h.want(200, "GET", "/api/towns?name=sibenik&n=1", nil, &found)
	if len(found.Towns) != 1 || found.Towns[0].Name != "Šibenik" || found.Towns[0].CountryName != "Croatia" || found.Towns[0].People == 0 || !strings.Contains(found.Attribution, "GeoNames") || found.Label != "" {
		t.Errorf("%+v", found)
	}
	h.want(200, "GET", "/api/towns?name=s", nil, &found)
	if len(found.Towns) != 8 {
		t.Errorf("%d towns when nobody says how many", len(found.Towns))
	}
	found = townList{}
	h.want(200, "GET", fmt.Sprintf("/api/towns?lat=%g&lng=%g", sibenik.Lat, sibenik.Lng), nil, &found)
	if len(found.Towns) != 1 || found.Towns[0].Name != "Šibenik" || found.Label != "Šibenik, Croatia" {
		t.Errorf("%+v", found)
	}
	h.want(200, "GET", "/api/towns?name=xyzzyx", nil, &found)
	if found.Towns == nil || len(found.Towns) != 0 {
		t.Errorf("%+v", found)
	}
	for _, query := range []string{"", "?lat=45", "?lng=13", "?name=a&lat=45&lng=13", "?lat=91&lng=13", "?lat=0&lng=0", "?lat=NaN&lng=1", "?name=a&n=0", "?name=a&n=51", "?name=a&n=x", "?lat=a&lng=b", "?town=Piran"} {
		h.refused(400, sequence.Invalid, "GET", "/api/towns"+query, nil)
	}
}

func TestPilesAreShownAndNothingIsTakenAway(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	for n, form := range []sequence.Form{{Fingerprint: "5aa53cc30ff09669", Sharpness: .2}, {Fingerprint: "0123456789abcdef", Sharpness: .9}, {Fingerprint: "5aa53cc30ff0966b", Sharpness: .8}} {
		form.Measured = intake.Edition
		h.hang(title, n+1, sequence.Photo{Taken: place.Instant(nine.Add(time.Duration(n)*time.Second), nil, place.FromCamera), Form: form})
	}
	var found pileList
	h.want(200, "GET", at+"/piles", nil, &found)
	if len(found.Piles) != 1 || !slices.Equal(found.Piles[0].Photos, []sequence.PhotoID{3, 1}) || found.Piles[0].Words == "" {
		t.Errorf("%+v", found)
	}
	if n := len(h.state(at).Photos); n != 3 {
		t.Errorf("%d photos are left", n)
	}
	_, empty := h.newTitle("Empty")
	if h.want(200, "GET", empty+"/piles", nil, &found); found.Piles == nil || len(found.Piles) != 0 {
		t.Errorf("%+v", found)
	}
	h.refused(404, sequence.NotFound, "GET", "/api/titles/99/piles", nil)
}

func TestARollIsReversedWhenTheMakerMakesTheChange(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	for n := 1; n <= 3; n++ {
		h.hang(title, n, sequence.Photo{Scan: true, Roll: "50% R/7", Frame: fmt.Sprint(n)})
	}
	h.hang(title, 4, sequence.Photo{Scan: true, Roll: "R8", Frame: "1"})
	frames := func() (text string) {
		for _, p := range h.state(at).Photos {
			text += p.Frame + " "
		}
		return text
	}
	roll := at + "/rolls/50%25%20R%2F7"
	var change sequence.Change
	h.want(200, "PATCH", roll, rollAsked{Reversed: true}, &change)
	if frames() != "1 2 3 1 " {
		t.Errorf("the frames are %s before the change is made", frames())
	}
	h.want(200, "POST", at+"/changes", change, nil)
	if frames() != "3 2 1 1 " {
		t.Errorf("the frames are %s", frames())
	}
	h.want(200, "POST", at+"/undo", onRevision{1}, nil)
	if frames() != "1 2 3 1 " {
		t.Errorf("the frames are %s after undo", frames())
	}
	h.refused(400, sequence.Invalid, "PATCH", roll, rollAsked{})
	h.refused(400, sequence.Invalid, "PATCH", at+"/rolls/R8", rollAsked{Reversed: true})
	for _, none := range []string{"R9", "50%25", "%2F", "%25zz"} {
		h.refused(404, sequence.NotFound, "PATCH", at+"/rolls/"+none, rollAsked{Reversed: true})
	}
}

func TestAMissingOriginalLeavesItsCardSaysSoAndIsFoundAgain(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	folder := h.photographs(4)
	h.bringAll(at, folder)
	away := filepath.Join(t.TempDir(), "new disk")
	if err := os.Rename(folder, away); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(folder, "frame 4.jpg"), jpegOf(t, 44)) // another picture under the old name
	var look bringing.Originals
	h.want(200, "GET", at+"/originals", nil, &look)
	if len(look.Missing) != 3 || len(look.Changed) != 1 || look.Changed[0].Photo != 4 {
		t.Errorf("%+v", look)
	}
	missing := func() (n int) {
		for _, p := range h.state(at).Photos {
			if slices.ContainsFunc(p.Findings, func(f sequence.Finding) bool { return f.Code == sequence.NotFound && f.Words != "" && f.Hint != "" }) {
				n++
			}
		}
		return n
	}
	if missing() != 3 {
		t.Errorf("%d cards say that their original is missing", missing())
	}
	if card := h.fetch(fmt.Sprintf("/cards/%d/1/400.jpg", title.ID), ""); card.status != 200 {
		t.Errorf("a photo without an original has lost its card: %d", card.status)
	}
	kept, err := h.store.Photo(t.Context(), title.ID, 1)
	if err != nil || len(kept.Findings) != 0 {
		t.Errorf("what is only seen now was stored: %+v, %v", kept.Findings, err)
	}

	events, _ := h.listen(at, "")
	var search bringing.Search
	h.want(202, "POST", at+"/originals", lookIn{away}, &search)
	if search.Missing != 4 || search.State != store.Running {
		t.Errorf("%+v", search)
	}
	for search.State == store.Running {
		h.next(events, "originals", &search)
	}
	if search.State != store.Done || search.Found != 4 || search.Missing != 0 {
		t.Errorf("%+v", search)
	}
	if missing() != 0 {
		t.Errorf("%d originals are still missing", missing())
	}
	for _, p := range h.state(at).Photos {
		if filepath.Dir(p.Path) != away {
			t.Errorf("photo %d lies in %s", p.Number, p.Path)
		}
	}
	gone := filepath.Join(away, "gone")
	h.refused(404, sequence.NotFound, "POST", at+"/originals", lookIn{gone})
	h.refused(400, sequence.Invalid, "POST", at+"/originals", lookIn{"photos"})
	h.refused(400, sequence.Invalid, "POST", at+"/originals", lookIn{h.data})
	h.refused(404, sequence.NotFound, "GET", "/api/titles/99/originals", nil)
}

func TestAMovedFolderThatIsBroughtInAgainIsToldOf(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	folder := h.photographs(2)
	h.bringAll(at, folder)
	if err := os.Rename(folder, folder+"-moved"); err != nil {
		t.Fatal(err)
	}
	events, _ := h.listen(at, "")
	if job := h.bringAll(at, folder+"-moved"); job.Known != 2 || !strings.Contains(job.Words, "two originals found at a new place") {
		t.Errorf("%+v", job)
	}
	for range 2 {
		var moved photoEvent
		if h.next(events, "photo", &moved); filepath.Dir(moved.Photo.Path) != folder+"-moved" {
			t.Errorf("%+v", moved)
		}
	}
}

func TestMeasuresOfAnEarlierEditionAreTakenAgainAtTheNextStart(t *testing.T) {
	data := t.TempDir()
	var at string
	folder := (&house{t: t}).photographs(3)
	t.Run("an earlier edition", func(t *testing.T) {
		h := openHouse(t, data)
		title, address := h.newTitle("Adriatic")
		at = address
		h.bringAll(at, folder)
		for _, p := range h.state(at).Photos {
			p.Palette, p.Tone, p.Form = nil, colour.Tone{}, sequence.Form{}
			if err := h.store.UpdateMeasures(context.Background(), title.ID, p.Photo); err != nil {
				t.Fatal(err)
			}
		}
		h.want(200, "POST", at+"/changes", sequence.Change{Act: "caption", Steps: []sequence.Step{}, Says: []sequence.Statement{
			{Photo: 2, Fact: sequence.CaptionFact, Now: sequence.Value{Text: "kept"}}}}, nil)
	})
	if err := os.Remove(filepath.Join(folder, "frame 3.jpg")); err != nil {
		t.Fatal(err)
	}
	h := openHouse(t, data)
	for deadline := time.Now().Add(time.Minute); ; time.Sleep(20 * time.Millisecond) {
		photos := h.state(at).Photos
		if !slices.ContainsFunc(photos, func(p photoShown) bool { return p.Form.Measured != intake.Edition || len(p.Palette) == 0 }) {
			if photos[1].Caption != "kept" || len(photos[2].Form.Fingerprint) != 16 {
				t.Errorf("%+v", photos)
			}
			break
		}
		if time.Now().After(deadline) {
			t.Fatalf("not measured again: %+v", photos)
		}
	}
}
