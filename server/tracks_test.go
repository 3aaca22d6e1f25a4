package server

import (
	"fmt"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/borrowing"
	"pairwall/sequence/place"
	"pairwall/server/route"
	"pairwall/store"
)

var (
	piran   = place.LatLng{Lat: 45.528, Lng: 13.568}
	sibenik = place.LatLng{Lat: 43.735, Lng: 15.892}
	nine    = time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
)

// gpx is a track with a point every minute from start on.
func gpx(start time.Time, points ...place.LatLng) []byte {
	var text strings.Builder
	text.WriteString(`<?xml version="1.0"?><gpx version="1.1" creator="a test"><trk><name>a way</name><trkseg>`)
	for i, p := range points {
		fmt.Fprintf(&text, `<trkpt lat="%.7f" lon="%.7f"><time>%s</time></trkpt>`, p.Lat, p.Lng, start.Add(time.Duration(i)*time.Minute).Format(time.RFC3339))
	}
	text.WriteString(`</trkseg></trk></gpx>`)
	return []byte(text.String())
}

// gpxFile reads one of the real tracks beside the repository.
func gpxFile(t *testing.T, name string) []byte {
	t.Helper()
	folder := os.Getenv("PAIRWALL_PHOTOS")
	if folder == "" {
		folder = filepath.Join("..", "..", "shared", "photos")
	}
	content, err := os.ReadFile(filepath.Join(folder, "gpx", name))
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// hang adds a photo that never was a file to a title.
func (h *house) hang(title sequence.Title, n int, p sequence.Photo) sequence.Photo {
	h.t.Helper()
	p.Name = fmt.Sprintf("photo %d.jpg", n)
	p.Path, p.Hash = filepath.Join(h.data, "nowhere", p.Name), fmt.Sprintf("%064x", n)
	p.Format, p.Width, p.Height = "jpeg", 3000, 2000
	kept, added, err := h.store.AddPhoto(h.t.Context(), title.ID, p)
	if err != nil || !added {
		h.t.Fatal(added, err)
	}
	return kept
}

func TestTracksAreTakenListedAndTakenAway(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	events, _ := h.listen(at, "")
	var list trackList
	if h.want(200, "GET", at+"/tracks", nil, &list); list.Tracks == nil || len(list.Tracks) != 0 {
		t.Errorf("%+v", list)
	}
	files := map[string][]byte{"../../tunnel: day 2.gpx": gpx(nine.Add(24*time.Hour), sibenik), "Mojstrovka.gpx": gpxFile(t, "Mojstrovka.gpx"),
		"cerknicko-without-times.gpx": gpxFile(t, "cerknicko-without-times.gpx")}
	for range 2 { // the same files twice are kept once
		if status := h.upload(at+"/tracks", files, &list); status != http.StatusCreated || len(list.Tracks) != 3 {
			t.Fatalf("%d %+v", status, list)
		}
	}
	h.next(events, "tracks", nil)
	last := list.Tracks[2] // its years cannot be
	if last.Start != nil || list.Tracks[0].Start == nil || last.From != "Mojstrovka.gpx" || last.Points == 0 || len(last.Findings) == 0 || last.Findings[0].Code != sequence.Invalid {
		t.Errorf("%+v", last)
	}
	day := list.Tracks[slices.IndexFunc(list.Tracks, func(t store.Track) bool { return t.Name == "a way" })]
	if strings.ContainsAny(day.From, "/:") || day.Points != 1 || !day.Start.Equal(nine.Add(24*time.Hour)) || day.Findings == nil {
		t.Errorf("%+v", day)
	}
	h.want(200, "DELETE", fmt.Sprintf("%s/tracks/%d", at, day.ID), nil, &list)
	if len(list.Tracks) != 2 {
		t.Errorf("%+v", list)
	}
	h.next(events, "tracks", nil)
	h.refused(404, sequence.NotFound, "DELETE", fmt.Sprintf("%s/tracks/%d", at, day.ID), nil)
	_, other := h.newTitle("Another")
	h.refused(404, sequence.NotFound, "DELETE", fmt.Sprintf("%s/tracks/%d", other, list.Tracks[0].ID), nil)
	if kept, err := h.store.Ways(t.Context(), title.ID); err != nil || len(kept) == 0 {
		t.Errorf("%d ways, %v", len(kept), err)
	}
}

func TestWhatIsNoTrackIsRefusedInPlainWordsAndNothingIsKept(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	for name, c := range map[string]struct {
		file   []byte
		status int
		code   sequence.Code
		words  string
	}{
		"a picture":       {jpegOf(t, 1), 422, sequence.Unsupported, "this is not a GPX file"},
		"another XML":     {[]byte("<kml></kml>"), 422, sequence.Unsupported, "this is not a GPX file"},
		"strange letters": {[]byte(`<?xml version="1.0" encoding="EBCDIC-CP-XX"?><gpx/>`), 422, sequence.Unsupported, "characters that cannot be read"},
		"cut off at once": {[]byte(`<gpx><trk><trk`), 422, sequence.Damaged, "damaged before its first point"},
		"a route only":    {[]byte(`<gpx><rte><rtept lat="45" lon="13"/></rte></gpx>`), 422, sequence.Damaged, "holds no point"},
		"nothing":         {nil, 422, sequence.Unsupported, "this is not a GPX file"},
	} {
		var is route.Problem
		status := h.upload(at+"/tracks", map[string][]byte{"a good one.gpx": gpx(nine, piran), name + ".gpx": c.file}, &is)
		if status != c.status || is.Error.Code != c.code || !strings.Contains(is.Error.Message, c.words) || !strings.Contains(is.Error.Message, name) || is.Error.Hint == "" {
			t.Errorf("%s: %d %+v", name, status, is.Error)
		}
	}
	var is route.Problem
	if status := h.upload(at+"/tracks", nil, &is); status != 400 || is.Error.Code != sequence.Invalid {
		t.Errorf("no file: %d %+v", status, is)
	}
	h.refused(415, route.WrongMedia, "POST", at+"/tracks", map[string]string{})
	var list trackList
	if h.want(200, "GET", at+"/tracks", nil, &list); len(list.Tracks) != 0 {
		t.Errorf("%+v", list)
	}
}

func TestPlacesAreBorrowedOnlyWhenTheMakerTakesTheChange(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	// A way along the quay and back into town, at a walking pace, that winds enough to tell the time by.
	var way []place.LatLng
	for i := range 90 {
		way = append(way, place.LatLng{Lat: piran.Lat + 0.004*math.Sin(float64(i)/9), Lng: piran.Lng + 0.0007*float64(i)})
	}
	if status := h.upload(at+"/tracks", map[string][]byte{"walk.gpx": gpx(nine, way...)}, nil); status != http.StatusCreated {
		t.Fatal(status)
	}
	const wrong = 2*time.Hour + 7*time.Second // the camera is ahead of UTC by
	clock := func(minute int) place.When {
		return place.Instant(nine.Add(time.Duration(minute)*time.Minute+wrong), nil, place.FromCamera)
	}
	for n := 1; n <= 8; n++ {
		h.hang(title, n, sequence.Photo{Camera: "bridge camera", Taken: clock(10 * n), Where: &place.Where{LatLng: way[10*n], Radius: 8, Source: place.FromCamera}})
	}
	loose := h.hang(title, 9, sequence.Photo{Camera: "bridge camera", Taken: clock(33)})
	scan := h.hang(title, 10, sequence.Photo{Camera: "film scanner", Scan: true, Taken: place.Instant(nine.Add(33*time.Minute), nil, place.FromScanner)})

	var loan borrowing.Loan
	h.want(200, "POST", at+"/borrowings", borrowingAsked{From: fromTracks, Gap: "5m"}, &loan)
	if len(loan.Clocks) != 1 || !loan.Clocks[0].Sure || loan.Clocks[0].Used != 8 || len(loan.Proposals) != 1 || loan.Proposals[0].Photo != loose.Number {
		t.Fatalf("%+v", loan)
	}
	found, err := time.ParseDuration(loan.Clocks[0].Offset)
	if err != nil || (found+wrong).Abs() > 10*time.Second {
		t.Errorf("the clock is found to be off by %s, want %s", loan.Clocks[0].Offset, -wrong)
	}
	if off := place.Distance(loan.Proposals[0].Where.LatLng, way[33]); off > 60 {
		t.Errorf("placed %.0f m from where it was taken", off)
	}
	if len(loan.Without) != 1 || loan.Without[0].Photo != scan.Number || !strings.Contains(loan.Without[0].Why, "scanned") {
		t.Errorf("%+v", loan.Without)
	}
	if h.state(at).Photos[loose.Number-1].Where != nil {
		t.Error("a place was borrowed before the maker took it")
	}
	events, _ := h.listen(at, "")
	h.want(200, "POST", at+"/changes", loan.Change, nil)
	var now changed
	h.next(events, "change", &now)
	if len(now.Entry.Change.Says) != 1 || !strings.HasSuffix(now.Labels[loose.Number], "Slovenia") {
		t.Errorf("%+v", now)
	}
	if shown := h.state(at).Photos[loose.Number-1]; shown.Where == nil || shown.Where.Source != place.FromTrack || shown.Label != now.Labels[loose.Number] {
		t.Errorf("%+v, %q", shown.Where, shown.Label)
	}

	// Set by hand, the clock moves the place; asked for by its number, a borrowed place may be borrowed anew.
	h.want(200, "POST", at+"/borrowings", borrowingAsked{From: fromTracks, Photos: []sequence.PhotoID{loose.Number}, Offset: (-wrong - 10*time.Minute).String()}, &loan)
	if len(loan.Proposals) != 1 || place.Distance(loan.Proposals[0].Where.LatLng, way[23]) > 20 || loan.Change.Says[0].Was.Where == nil {
		t.Errorf("%+v", loan)
	}
	no := false
	h.want(200, "POST", at+"/borrowings", borrowingAsked{From: fromTracks, Photos: []sequence.PhotoID{loose.Number}, Fit: &no}, &loan)
	if len(loan.Proposals) != 0 || len(loan.Without) != 1 || loan.Clocks[0].Sure {
		t.Errorf("%+v", loan)
	}
	h.want(200, "POST", at+"/borrowings", borrowingAsked{From: fromPhone, Photos: []sequence.PhotoID{loose.Number}, Gap: "10m"}, &loan)
	if len(loan.Proposals) != 1 || loan.Proposals[0].Where.LatLng != way[30] || !strings.Contains(loan.Proposals[0].Words, "3 min earlier") {
		t.Errorf("%+v", loan)
	}
}

func TestABorrowingThatMakesNoSenseIsRefused(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	for _, asked := range []borrowingAsked{{}, {From: "a friend"}, {From: fromTracks, Gap: "soon"}, {From: fromTracks, Gap: "-1m"}, {From: fromTracks, Gap: "25h"},
		{From: fromPhone, Offset: "2 hours"}, {From: fromPhone, Offset: "-9000h"}} {
		h.refused(400, sequence.Invalid, "POST", at+"/borrowings", asked)
	}
	h.refused(404, sequence.NotFound, "POST", at+"/borrowings", borrowingAsked{From: fromPhone, Photos: []sequence.PhotoID{3}})
	h.refused(404, sequence.NotFound, "POST", "/api/titles/99/borrowings", borrowingAsked{From: fromTracks})
}
