package main

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"pairwall/sequence"
)

var phone = size{390, 844}

func (a *app) visitByTouch() *tab {
	a.t.Helper()
	return a.visit(phone, chromedp.EmulateMobile, chromedp.EmulateTouch)
}

// finger sends one touch event; at is nowhere for the end of a touch.
func (b *tab) finger(kind input.DispatchTouchEventType, at ...point) {
	b.t.Helper()
	event := input.DispatchTouchEventParams{Type: kind, TouchPoints: []*input.TouchPoint{}}
	for _, p := range at {
		event.TouchPoints = append(event.TouchPoints, &input.TouchPoint{X: p.X, Y: p.Y})
	}
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, input.DispatchTouchEvent, event)
		return err
	}))
}

func (b *tab) tap(selector string) {
	b.t.Helper()
	b.unfold(selector, b.tap)
	at := b.spot(selector)
	b.finger(input.DispatchTouchEventTypeTouchStart, at)
	b.finger(input.DispatchTouchEventTypeTouchEnd)
}

// swipe draws a finger over the screen without resting first.
func (b *tab) swipe(from, to point) {
	b.t.Helper()
	const steps = 8
	b.finger(input.DispatchTouchEventTypeTouchStart, from)
	for i := 1.0; i <= steps; i++ {
		b.finger(input.DispatchTouchEventTypeTouchMove, from.plus((to.X-from.X)*i/steps, (to.Y-from.Y)*i/steps))
	}
	b.finger(input.DispatchTouchEventTypeTouchEnd)
}

// pressAndDrag rests a finger on one thing until it is lifted, then draws it
// onto another.
func (b *tab) pressAndDrag(from, to, words string) {
	b.t.Helper()
	start, end := b.spots(from, to)
	b.finger(input.DispatchTouchEventTypeTouchStart, start)
	b.there(".ghost")
	const steps = 6
	for i := 1.0; i <= steps; i++ {
		b.finger(input.DispatchTouchEventTypeTouchMove, start.plus((end.X-start.X)*i/steps, (end.Y-start.Y)*i/steps))
	}
	b.says(to+"[data-aimed] .says", words)
	b.finger(input.DispatchTouchEventTypeTouchEnd)
	b.gone(".ghost")
}

func TestAFingerThatRestsCarriesAPhoto(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 -) [-]")
	b := a.visitByTouch()

	b.pressAndDrag(card(4), onSpread(1, sequence.Right), "put here")
	b.sees("[-] (1 4) [-]")
	b.tap(act("fold-table")) // a phone shows two pages one above the other only then
	b.pressAndDrag(card(1), opening, "put here")
	b.sees("[1] (- 4) [-]")
}

func TestAFingerThatRestsLongAndLetsGoChangesNothing(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visitByTouch()
	before := a.wall().Revision

	b.finger(input.DispatchTouchEventTypeTouchStart, b.spot(card(2)))
	b.there(".ghost")
	time.Sleep(700 * time.Millisecond) // longer than a browser's own long press, which would open a menu
	b.there(".ghost")
	b.finger(input.DispatchTouchEventTypeTouchEnd)
	b.gone(".ghost")
	b.hears("Left where it was.")
	b.unchanged(before)
}

func TestAQuickSwipeOverCardsScrollsAndChangesNothing(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) (5 6) (7 8) (9 10) (11 12) [-]")
	b := a.visitByTouch()
	before := a.wall().Revision

	at := b.spot(card(3))
	far := read[float64](b, "document.scrollingElement.scrollHeight - innerHeight")
	if far < 200 {
		t.Fatalf("the page can be scrolled by %g px only", far)
	}
	was := read[float64](b, "scrollY")
	b.swipe(at, at.plus(0, -160))
	b.until("the page was scrolled by the swipe", fmt.Sprintf("scrollY >= %g", was+80))
	b.gone(".ghost")

	table := b.spot(region("table"))
	b.swipe(table, table.plus(0, -120))
	b.until("the table was scrolled by the swipe", `document.querySelector('[data-region="table"]').scrollTop > 40`)
	b.shows("[-] (1 2) (3 4) (5 6) (7 8) (9 10) (11 12) [-]")
	b.unchanged(before)
}

func TestTappingAPhotoAndThenAPlaceMovesIt(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visitByTouch()

	b.tap(card(5))
	b.there(card(5) + "[data-chosen]")
	b.tap(actOfChosen("choose-where"))
	b.there("body[data-placing]")
	b.tap(between(1))
	b.sees("[-] (1 2) (- 5) [-]")

	b.tap(card(7))
	b.tap(onSpread(2, sequence.Left))
	b.sees("[-] (1 2) (7 5) [-]")

	b.tap(card(1))
	b.tap(actOfChosen("box"))
	b.sees("[-] (- 2) (7 5) [-] box 1")
}
