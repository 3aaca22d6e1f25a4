package main

import (
	"context"
	"fmt"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

// clickWith clicks while a key is held.
func (b *tab) clickWith(selector string, held chromedp.Modifier) {
	b.t.Helper()
	at := b.spot(selector)
	for _, kind := range []input.DispatchMouseEventType{chromedp.MousePressed, chromedp.MouseReleased} {
		event := input.DispatchMouseEventParams{Type: kind, X: at.X, Y: at.Y, Button: input.MouseButtonLeft, ClickCount: 1, Modifiers: int64(held)}
		b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, input.DispatchMouseEvent, event)
			return err
		}))
	}
}

// chosen waits until exactly these photos are chosen.
func (b *tab) chosen(want ...sequence.PhotoID) {
	b.t.Helper()
	var are []sequence.PhotoID
	b.wait(fmt.Sprintf("chosen are %v", want), func() bool {
		are = read[[]sequence.PhotoID](b, `[...document.querySelectorAll("[data-region] [data-photo][data-chosen]")].map((el) => Number(el.dataset.photo)).sort((a, b) => a - b)`)
		return slices.Equal(are, want)
	}, func() string { return fmt.Sprintf("; they are %v", are) })
}

// photo reads a photo as the data file has it.
func (a *app) photo(id sequence.PhotoID) sequence.Photo {
	a.t.Helper()
	p, err := a.store.Photo(a.t.Context(), a.title, id)
	if err != nil {
		a.t.Fatal(err)
	}
	return p
}

// comes waits until the data file has what is wanted of a photo.
func (b *tab) comes(id sequence.PhotoID, what string, is func(sequence.Photo) bool) {
	b.t.Helper()
	b.wait(fmt.Sprintf("photo %d %s", id, what), func() bool { return is(b.app.photo(id)) },
		func() string {
			p := b.app.photo(id)
			return fmt.Sprintf("; it has %s, %+v, roll %q, frame %q, %q, %q", p.Taken.Words(), p.Where, p.Roll, p.Frame, p.Feeling, p.Caption)
		})
}

func fact(name string) string { return fmt.Sprintf(`[data-fact=%q]`, name) }

func TestSeveralCardsAreChosenByPointerAndKeyboard(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.click(card(1))
	b.clickWith(card(3), chromedp.ModifierCtrl)
	b.chosen(1, 3)
	b.says(".chosen-name", "2 photos")
	b.clickWith(card(1), chromedp.ModifierCtrl)
	b.chosen(3)
	b.clickWith(card(6), chromedp.ModifierShift)
	b.chosen(3, 4, 5, 6)
	b.click(act("put-down"))
	b.chosen()

	b.tabTo(region("table"))
	b.key("c", kb.ArrowRight, kb.ArrowRight, "c")
	b.chosen(1, 3)
	b.hears("2 photos chosen.")
	b.key(" ")
	b.chosen(1)
	b.key(kb.Escape)
	b.chosen()
}

func TestAFingerThatRestsOnACardBeginsToChooseSeveral(t *testing.T) {
	a := startApp(t)
	b := a.visitByTouch()
	before := a.wall().Revision

	b.finger(input.DispatchTouchEventTypeTouchStart, b.spot(card(2)))
	b.there(".ghost")
	b.finger(input.DispatchTouchEventTypeTouchEnd)
	b.gone(".ghost")
	b.chosen(2)
	b.tap(card(3))
	b.chosen(2, 3)
	b.tap(card(2))
	b.chosen(3)
	b.tap(act("put-down"))
	b.chosen()
	b.stays(before)
}

func TestSeveralChosenCardsMoveAtOnceAndOneUndoTakesItBack(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.click(card(1))
	b.clickWith(card(3), chromedp.ModifierShift)
	b.click(actOfChosen("hang"))
	b.sees("[-] (1 2) (3 -) [-]")
	b.hears("Done: Hang 1, 2 and 3 at the end.")
	b.click(act("undo"))
	b.sees("[-] [-]")
}

func TestPhotosAreChosenByWhatTheyShare(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.click(act("choose-by"))
	b.click(`[data-group="2024-08-10"] ` + act("choose-group"))
	b.hears("19 photos chosen.")
	b.says(panel("choose"), "19 photos chosen.")
	b.click(panel("choose") + ` input[value="missing"]`)
	b.click(`[data-group="date"] ` + act("choose-group"))
	b.chosen(20, 21, 22, 23, 24, 25, 26, 27, 28)
	b.click(panel("choose") + ` input[value="place"]`)
	b.click(`[data-group="Vatican City, Vatican City"] ` + act("choose-group"))
	b.chosen(19)
	b.click(panel("choose") + ` input[value="colour"]`)
	b.click(panel("choose") + " .swatches li:first-child " + act("choose-colour"))
	b.until("the photos of that colour are chosen", `document.querySelectorAll("[data-region] [data-chosen]").length ===
		Number(document.querySelector(".swatches li:first-child .colour").textContent)`)
	b.says(panel("choose"), "chosen.")
	b.click(panel("choose") + " " + act("choose-none"))
	b.chosen()
	b.click(panel("choose") + ` input[value="roll"]`)
	b.says(panel("choose")+" .empty", "say its roll")
}

func TestADateIsSaidOfManyAtOnceAndTakenBack(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.click(card(20))
	b.clickWith(card(22), chromedp.ModifierShift)
	b.click(actOfChosen("say-when"))
	b.says(panel("facts"), "What is known of 3 photos")
	b.says(fact("taken"), "date unknown")
	b.write(`[data-say="taken"]`, "3-9 may 2024")
	b.says("#when-read", "Read as 3–9 May 2024, some time in these days.")
	b.key(kb.Enter)
	b.hears("Done: Say that photos 20, 21 and 22 were taken 3–9 May 2024.")
	for id := sequence.PhotoID(20); id <= 22; id++ {
		b.comes(id, "has the days", func(p sequence.Photo) bool {
			return p.Taken.Words() == "3–9 May 2024" && p.Taken.Source == place.FromMaker
		})
	}
	b.says(fact("taken"), "some time in these days; you said")
	if wall := a.wall(); wall.Revision != 1 {
		t.Errorf("three photos took %d changes", wall.Revision)
	}

	b.clickWith(card(1), chromedp.ModifierCtrl)
	b.says(fact("taken"), "Mixed:")
	b.says(fact("taken"), "10 August 2024, 13:25")
	b.says(fact("taken"), "says the camera")

	b.click(act("undo"))
	b.comes(21, "has no date again", func(p sequence.Photo) bool { return !p.Taken.Known() })
	b.says(fact("taken"), "date unknown")
	b.click(act("redo"))
	b.comes(21, "has its days again", func(p sequence.Photo) bool { return p.Taken.Known() })
	b.says(fact("taken"), "3–9 May 2024")
}

func TestWhatIsNoDateIsRefusedAndChangesNothing(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)
	b.click(card(20))
	b.key("k")
	b.write(`[data-say="taken"]`, "31 February 2024")
	b.click(act("say-taken"))
	b.says(fact("taken")+" [role=alert]", "There is no 31 February 2024.")
	b.stays(0)
}

func TestAPlaceIsFoundByItsNameOfflineAndSaid(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.click(card(20))
	b.clickWith(card(21), chromedp.ModifierCtrl)
	b.click(actOfChosen("say-where"))
	b.write(`[data-say="where"]`, "civitavec")
	b.there(`[data-town="Civitavecchia"]`)
	b.key(kb.ArrowDown, kb.Enter)
	b.until("the name is complete", `document.querySelector('[data-say="where"]').value === "Civitavecchia, Italy"`)
	b.key(kb.Enter)
	b.hears("Done: Say that photos 20 and 21 were taken at Civitavecchia, Italy.")
	civitavecchia := place.LatLng{Lat: 42.093, Lng: 11.797} // from memory, to a kilometre
	b.comes(21, "was taken there", func(p sequence.Photo) bool {
		return p.Where != nil && p.Where.Source == place.FromMaker && p.Where.Radius >= 1000 && place.Distance(p.Where.LatLng, civitavecchia) < 3000
	})
	b.says(fact("where"), "Civitavecchia, Italy")
	b.says(fact("where"), "you said")
	b.says(panel("facts"), "GeoNames")
	b.click(fact("where") + " " + act("forget-where"))
	b.comes(21, "was taken nowhere known", func(p sequence.Photo) bool { return p.Where == nil })
}

func TestRollFramesFeelingsAndCaptionAreSaid(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.click(card(20))
	b.clickWith(card(22), chromedp.ModifierShift)
	b.click(actOfChosen("say-roll"))
	b.write(`[data-say="roll"]`, "7"+kb.Enter)
	b.comes(22, "is of the roll", func(p sequence.Photo) bool { return p.Roll == "7" })
	b.write(`[data-say="frame"]`, "13A"+kb.Enter)
	b.comes(22, "is numbered on", func(p sequence.Photo) bool { return p.Frame == "15A" })
	b.click(fact("roll") + " " + act("reverse-roll"))
	b.hears("Done: Reverse roll 7.")
	b.comes(20, "is the last frame now", func(p sequence.Photo) bool { return p.Frame == "15A" })
	b.comes(22, "is the first", func(p sequence.Photo) bool { return p.Frame == "13A" })

	b.write(`[data-say="feeling"]`, "waiting, cold"+kb.Enter)
	b.comes(21, "has both words", func(p sequence.Photo) bool { return slices.Equal(p.Feeling, []string{"cold", "waiting"}) })
	b.click(b.named(fact("feeling")+" "+act("feeling"), "cold"))
	b.comes(21, "has one word less", func(p sequence.Photo) bool { return slices.Equal(p.Feeling, []string{"waiting"}) })

	b.click(card(1))
	b.says(panel("facts"), "What is known of 1")
	b.click(b.named(fact("feeling")+" "+act("feeling"), "waiting"))
	b.comes(1, "has the word of the others", func(p sequence.Photo) bool { return slices.Equal(p.Feeling, []string{"waiting"}) })
	b.write(`[data-say="caption"]`, "Before the rain")
	b.click(act("say-caption"))
	b.comes(1, "has its caption", func(p sequence.Photo) bool { return p.Caption == "Before the rain" })
}

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

func TestNearlyTheSamePicturesLieInAPileWithTheSharpestOnTop(t *testing.T) {
	b := begin(t, "Twice the same")
	b.allow("ERR_CONNECTION_REFUSED") // the program is away while the terminal brings in
	folder := folderOf(t, 2)
	first := filepath.Join(folder, filepath.Base(mustGlob(t, folder, "*.jpg")[0]))
	coarse := filepath.Join(folder, "again.jpg")
	saveCoarser(t, first, coarse)
	if _, err := b.app.bringAll(folder); err != nil {
		t.Fatal(err)
	}
	b.open(b.app.wallAddress())
	b.reload()
	pile := `.print[data-pile="2"]`
	b.there(pile)
	b.says(pile, "2 alike")
	if n := b.cards(); n != 2 {
		t.Errorf("%d prints lie on the table, of three in a pile of two and one alone", n)
	}
	if n := read[string](b, `document.querySelector('[data-count="table"]').textContent`); n != "3" {
		t.Errorf("the table counts %s", n)
	}
	b.click(pile + " " + act("pile"))
	b.wait("all lie open", func() bool { return b.cards() == 3 }, func() string { return fmt.Sprintf("; %d do", b.cards()) })
	b.hears("The pile is open")
	b.click(`.print[data-pile="open"] [data-photo]`)
	b.key("u")
	b.wait("it is closed again", func() bool { return b.cards() == 2 }, func() string { return fmt.Sprintf("; %d lie there", b.cards()) })
	b.stays(0)
}

func mustGlob(t *testing.T, folder, pattern string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(folder, pattern))
	if err != nil || len(found) == 0 {
		t.Fatalf("no %s in %s, %v", pattern, folder, err)
	}
	return found
}

// saveCoarser saves a picture once more, in poor quality and without its date.
func saveCoarser(t *testing.T, from, to string) {
	t.Helper()
	source, err := os.Open(from)
	if err != nil {
		t.Fatal(err)
	}
	defer source.Close()
	picture, err := jpeg.Decode(source)
	if err != nil {
		t.Fatal(err)
	}
	file, err := os.Create(to)
	if err != nil {
		t.Fatal(err)
	}
	if err := jpeg.Encode(file, picture, &jpeg.Options{Quality: 30}); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
}

// bringAll brings a folder into the title, as the terminal does.
func (a *app) bringAll(folder string) (sequence.TitleID, error) {
	title, err := a.store.Title(a.t.Context(), a.title)
	if err != nil {
		return 0, err
	}
	a.stop()
	if code := run(a.t.Context(), []string{"--data", a.data, "bring", "--title", title.Name, folder}, a.t.Output(), a.t.Output()); code != 0 {
		return 0, fmt.Errorf("bringing in ended with %d", code)
	}
	next := serveAt(a.t, a.data, strings.TrimPrefix(a.address, "http://"))
	a.store, a.stop = next.store, next.stop
	return title.ID, nil
}

func TestMovedOriginalsAreMissedAndFoundAgainByWhatIsInThem(t *testing.T) {
	b := begin(t, "Moved away")
	b.allow("ERR_CONNECTION_REFUSED") // the program is away while the terminal brings in
	folder := folderOf(t, 3)
	if _, err := b.app.bringAll(folder); err != nil {
		t.Fatal(err)
	}
	attic := filepath.Join(filepath.Dir(folder), "Attic")
	if err := os.Mkdir(attic, 0o700); err != nil {
		t.Fatal(err)
	}
	for i, name := range mustGlob(t, folder, "*.jpg") {
		if err := os.Rename(name, filepath.Join(attic, fmt.Sprintf("renamed-%d.jpg", i))); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("HOME", attic)
	b.open(b.app.wallAddress())
	b.reload()
	b.says("[data-missing-originals]", "3 originals are no longer where they were.")
	b.until("the card says so", `document.querySelector('[data-region] [data-photo="1"]').getAttribute("aria-label").includes("original missing")`)
	b.click("[data-missing-originals] " + act("originals"))
	b.there(`[data-lost="3"]`)
	b.says(panel("originals")+" .here", attic)
	b.click(act("look-in-folder"))
	b.says(panel("originals"), "Every original is where it was")
	b.until("the card is sound again", `!document.querySelector('[data-region] [data-photo="1"]').getAttribute("aria-label").includes("missing")`)
	if p := b.app.photo(1); filepath.Dir(p.Path) != attic {
		t.Errorf("it is remembered in %s", p.Path)
	}
}

func TestTheViewsOfFactsAreFreeOfAccessibilityFaults(t *testing.T) {
	for _, as := range []size{desktop, {360, 740}} {
		t.Run(fmt.Sprintf("%d px wide", as.width), func(t *testing.T) {
			a := startApp(t)
			a.hang("[1] (2 3 pinned) (4 -) [-] box 6 7")
			b := a.visit(as)
			b.bringAxe()
			for _, view := range factViews() {
				view.open(b)
				b.passes(view.name, view.part)
				view.leave(b)
			}
		})
	}
}

func factViews() []view {
	leave := func(name string) func(b *tab) {
		return func(b *tab) { b.click(panel(name) + " " + act("close")); b.gone(panel(name)) }
	}
	by := func(what string) view {
		return view{name: "choosing by " + what, part: panel("choose"), open: func(b *tab) {
			b.click(act("choose-by"))
			b.click(panel("choose") + fmt.Sprintf(` input[value=%q]`, what))
		}, leave: leave("choose")}
	}
	return []view{
		by("day"), by("place"), by("colour"), by("missing"),
		{name: "what is known of many", part: panel("facts"), open: func(b *tab) {
			b.click(act("choose-by"))
			b.click(panel("choose") + " " + act("choose-all"))
			b.click(panel("choose") + " " + act("facts"))
			b.write(`[data-say="where"]`, "rom")
			b.there("[data-town]")
		}, leave: func(b *tab) { leave("facts")(b); b.click(act("put-down")) }},
		{name: "what is known of one", part: panel("facts"), open: func(b *tab) { b.click(card(9)); b.key("k"); b.there(fact("caption")) }, leave: leave("facts")},
		{name: "several chosen", part: ".tray", open: func(b *tab) { b.click(card(9)); b.clickWith(card(12), chromedp.ModifierShift) }, leave: func(b *tab) { b.click(act("put-down")) }},
		{name: "the map", part: panel("map"), open: func(b *tab) { b.click(act("map")); b.there("[data-dot]") }, leave: leave("map")},
		{name: "borrowing", part: panel("borrow"), open: func(b *tab) {
			b.click(act("map"))
			b.click(panel("map") + " " + act("borrow"))
			b.says(panel("borrow"), "No track yet.")
		}, leave: leave("borrow")},
	}
}
