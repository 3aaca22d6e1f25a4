package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

func TestTheMapChoosesByAFrameAndSetsAPlace(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.click(act("map"))
	b.there("[data-dot]")
	b.click(panel("map") + ` input[value="frame"]`)
	b.there(`[data-chart][data-mode="frame"]`)
	at := b.spot("[data-chart]")
	b.mouse(chromedp.MouseMoved, at.plus(-380, -260), 0, 0)
	b.mouse(chromedp.MousePressed, at.plus(-380, -260), 1, 1)
	b.carry(at.plus(-380, -260), at.plus(380, 260))
	b.mouse(chromedp.MouseReleased, at.plus(380, 260), 0, 1)
	b.hears("16 photos chosen.")

	b.click(act("choose-unplaced"))
	b.hears("12 photos chosen.")
	b.click(panel("map") + ` input[value="set"]`)
	b.there(`[data-chart][data-mode="set"]`)
	at = b.spot("[data-chart]")
	b.mouse(chromedp.MousePressed, at, 1, 1)
	b.mouse(chromedp.MouseReleased, at, 0, 1)
	b.says("[data-mark]", "Rome, Italy")
	b.click(act("say-here"))
	b.hears("Done: Say that 12 photos were taken at Rome, Italy.")
	b.comes(28, "lies in Rome", func(p sequence.Photo) bool {
		return p.Where != nil && p.Where.Radius >= 50 && p.Where.Source == place.FromMaker
	})
	b.gone(act("choose-unplaced"))
	b.click(panel("map") + " " + act("close"))
	b.click(act("undo"))
	b.comes(28, "lies nowhere", func(p sequence.Photo) bool { return p.Where == nil })
}

func TestTheMapIsMovedBroughtNearerAndReadFromTheKeyboard(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.click(act("map"))
	b.there("[data-dot]")
	dots := func() int { return read[int](b, `document.querySelectorAll("[data-dot]").length`) }
	for range 4 { // past the way out and what a press does
		if read[bool](b, `document.activeElement.matches("[data-chart]")`) {
			break
		}
		b.key(kb.Tab)
	}
	first := dots()
	b.key("+", "+", "+", "+", "+", "+")
	b.wait("dots part or leave", func() bool { return dots() != first }, func() string { return "" })
	b.key("0")
	b.wait("all are back", func() bool { return dots() == first }, func() string { return fmt.Sprintf("; there are %d dots, not %d", dots(), first) })
	b.key(kb.Enter)
	b.hears("16 photos chosen.")
	b.says(panel("map"), "Rome, Italy")
	b.says(panel("map"), "Natural Earth")
	b.says(panel("map"), "GeoNames")
}

// walkPast is a track that passes a spot at a moment, on foot to the north.
func walkPast(at time.Time, spot place.LatLng) []byte {
	var text strings.Builder
	text.WriteString(`<?xml version="1.0"?><gpx version="1.1" creator="a test"><trk><name>A walk</name><trkseg>`)
	for i := -40; i <= 40; i++ {
		fmt.Fprintf(&text, `<trkpt lat="%.6f" lon="%.6f"><time>%s</time></trkpt>`, spot.Lat+float64(i)*2e-4, spot.Lng,
			at.Add(time.Duration(i)*15*time.Second).UTC().Format(time.RFC3339))
	}
	text.WriteString(`</trkseg></trk></gpx>`)
	return []byte(text.String())
}

func TestPlacesAreBorrowedFromATrackAsTheClockIsSetAndOnlyThoseTicked(t *testing.T) {
	a := startApp(t)
	for id := sequence.PhotoID(1); id <= 3; id++ {
		if p := a.photo(id); p.Where != nil || p.Taken.Precision != place.PrecisionInstant {
			t.Fatalf("photo %d is no borrower: %+v", id, p)
		}
	}
	second := a.photo(2).Taken.From
	track := filepath.Join(t.TempDir(), "walk.gpx")
	if err := os.WriteFile(track, walkPast(second.Add(-2*time.Hour), place.LatLng{Lat: 41.91, Lng: 12.48}), 0o600); err != nil {
		t.Fatal(err)
	}
	b := a.visit(desktop)
	b.click(act("map"))
	b.click(panel("map") + " " + act("borrow"))
	b.says(panel("borrow"), "No track yet.")
	b.giveFile(panel("borrow")+` input[type="file"]`, track)
	b.says("[data-track]", "walk.gpx, 81 points")
	b.write("[data-clock-offset]", "-2:00:00")
	b.there(`[data-offer="2"]`)
	b.says(`[data-offer="2"]`, "Rome, Italy")
	b.until("the clock that lends stands in sight", `document.querySelector("[data-clock]:not(details *)")?.checkVisibility()`)
	for _, words := range read[[]string](b, `[...document.querySelectorAll("details [data-clock]")].filter((el) => el.checkVisibility()).map((el) => el.textContent)`) {
		t.Errorf("in sight is also a clock that lends nothing: %s", words)
	}
	b.click(`[data-offer="2"] input`)
	b.says(panel("borrow")+" .sheet-foot", "ticked.")
	left := read[int](b, `document.querySelectorAll("[data-offer] input:checked").length`)
	b.click(`[data-offer="2"] input`)
	b.until("it is ticked again", fmt.Sprintf(`document.querySelectorAll("[data-offer] input:checked").length === %d`, left+1))
	b.click(act("take-places"))
	b.hears("Done: Borrow the place")
	b.comes(2, "lies on the track", func(p sequence.Photo) bool {
		return p.Where != nil && p.Where.Source == place.FromTrack && place.Distance(p.Where.LatLng, place.LatLng{Lat: 41.91, Lng: 12.48}) < 30
	})
	b.click(act("remove-track"))
	b.gone("[data-track]")
}

// giveFile chooses a file as the browser's own dialog would.
func (b *tab) giveFile(selector, path string) {
	b.t.Helper()
	b.do(chromedp.SetUploadFiles(selector, []string{path}))
}
