package main

import (
	"context"
	"fmt"
	"slices"
	"testing"

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
	b.unchanged(before)
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
	b.unchanged(0)
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
			b.there(panel("choose") + " " + act("facts") + ":not([disabled])") // the words beside it make room for the count
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
