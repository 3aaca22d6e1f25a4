package main

import (
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
)

// Pushing on instead of swapping, and several photos in one hand: by pointer,
// by finger and from the keyboard.

// leftEdge is a point a tenth of its width inside an element's left edge.
func (b *tab) leftEdge(selector string) point {
	b.t.Helper()
	middle := b.spot(selector)
	middle.X = read[float64](b, call(`(s) => { const box = document.querySelector(s).getBoundingClientRect(); return Math.round(box.left + box.width / 10); }`, selector))
	return middle
}

// slipIn drags one thing onto the left edge of a page, where it pushes on.
func (b *tab) slipIn(from, to, words string) {
	b.t.Helper()
	start, _ := b.spots(from, to)
	end := b.leftEdge(to)
	b.lift(start)
	b.carry(start, end)
	b.says(to+"[data-push] .says", words)
	b.letGo(end)
	b.gone("[data-aimed]")
	b.gone("[data-moves-on]")
}

func TestTheLeftEdgeOfAFullPagePushesOnAndTheRestSwaps(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) (5 -) [-]")
	b := a.visit(desktop)

	from, to := b.spots(card(9), onSpread(1, sequence.Right))
	edge := b.leftEdge(onSpread(1, sequence.Right))
	b.lift(from)
	b.carry(from, edge)
	b.says(onSpread(1, sequence.Right)+"[data-push] .says", "put here; 2, 3, 4 and 5 move on, to page 7")
	if n := read[int](b, `document.querySelectorAll("[data-moves-on]").length`); n != 4 {
		t.Errorf("%d pages are marked as moving on, not 4", n)
	}
	b.carry(edge, to)
	b.says(onSpread(1, sequence.Right)+"[data-aimed]:not([data-push]) .says", "put here, 2 to the table")
	b.gone("[data-moves-on]")
	b.carry(to, edge)
	b.there("[data-push]")
	b.letGo(edge)
	b.sees("[-] (1 9) (2 3) (4 5) [-]")
	b.hears("Done: Put 9 on page 3 and push 2, 3, 4 and 5 on.")
	b.slipIn(card(5), onSpread(1, sequence.Left), "put here; 5 photos move on, to page 7")
	b.sees("[-] (5 1) (9 2) (3 4) [-]")
	b.click(act("undo"))
	b.sees("[-] (1 9) (2 3) (4 5) [-]")
}

func TestAPinStopsPushingOnAndSaysSo(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4 pinned) (5 -) [-]")
	b := a.visit(desktop)
	before := a.wall().Revision

	b.slipIn(card(9), onSpread(1, sequence.Left), "A pin holds pages 4–5; nothing is pushed through it.")
	b.hears("Left where it was. A pin holds pages 4–5")
	b.shows("[-] (1 2) (3 4 pinned) (5 -) [-]")
	b.unchanged(before)
}

// drawFrame presses on bare ground and draws to another point.
func (b *tab) drawFrame(from, to point) {
	b.t.Helper()
	b.mouse(chromedp.MouseMoved, from, 0, 0)
	b.mouse(chromedp.MousePressed, from, 1, 1)
	b.carry(from, to)
	b.there(".frame")
	b.mouse(chromedp.MouseReleased, to, 0, 1)
	b.gone(".frame")
}

// corner is a point outside an element, so far from one of its corners.
func (b *tab) corner(selector string, right, bottom bool, out float64) point {
	b.t.Helper()
	b.spot(selector)
	box := read[[4]float64](b, call(`(s) => { const b = document.querySelector(s).getBoundingClientRect(); return [b.left, b.top, b.right, b.bottom]; }`, selector))
	at := point{box[0] - out, box[1] - out}
	if right {
		at.X = box[2] + out
	}
	if bottom {
		at.Y = box[3] + out
	}
	return at
}

func TestAFrameDrawnAroundCardsChoosesThemAndOneHandMovesThem(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	b := a.visit(desktop)

	b.drawFrame(b.corner(onSpread(1, sequence.Left), false, false, 9), b.spot(card(3)))
	b.hears("3 photos chosen.")
	b.drag(card(2), between(2), "3 in new spreads here")
	b.sees("[-] (- 4) (1 2) (3 -) [-]")
	b.hears("Done: Hang 1, 2 and 3 at the end.")
	b.click(act("undo"))
	b.sees("[-] (1 2) (3 4) [-]")
	b.drag(card(1), region("box"), "set 3 aside")
	b.sees("[-] (- 4) [-] box 1 2 3")
	b.key(kb.Escape)
	b.gone("[data-chosen]")
}

func TestAFrameDrawnOverTheTableChoosesThereToo(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.drawFrame(b.corner(card(1), false, false, 4), b.spot(card(3)))
	b.hears("3 photos chosen.")
	from, _ := b.spots(card(2), opening)
	b.lift(from)
	to := b.leftEdge(opening) // blank: there is nothing to push on
	b.carry(from, to)
	b.says(opening+"[data-aimed]:not([data-push]) .says", "put 3 here")
	b.letGo(to)
	b.sees("[1] (2 3) [-]")
}

func TestFingersChooseSeveralAndCarryThemTogether(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 -) [-]")
	b := a.visitByTouch()

	b.tap(act("fold-table")) // a phone shows two pages one above the other only then
	b.finger(input.DispatchTouchEventTypeTouchStart, b.spot(card(1)))
	b.there(".ghost")
	b.finger(input.DispatchTouchEventTypeTouchEnd)
	b.hears("1 photo chosen. Tap others to choose them along.")
	b.tap(card(2))
	b.hears("2 photos chosen.")
	b.pressAndDrag(card(2), opening, "put 2 here")
	b.sees("[1] (2 -) (3 -) [-]")
	b.tap(actOfChosen("choose-where"))
	b.tap(act("push-on"))
	b.tap(card(3))
	b.sees("[-] (1 2) (3 -) [-]")
}

func TestSeveralAreMovedAndPushedOnFromTheKeyboard(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	b := a.visit(desktop)

	b.tabTo(region("table"))
	b.standsOn(5)
	b.keyWith(kb.ArrowRight, chromedp.ModifierShift)
	b.hears("2 photos chosen.")
	b.key(kb.Enter)
	b.hears("2 photos picked up.")
	b.aims(kb.ArrowRight, onSpread(2, sequence.Left), "put 2 here, 3 and 4 to the table")
	b.key("p")
	b.hears("What lies there is pushed on.")
	b.says(onSpread(2, sequence.Left)+"[data-push] .says", "put here; 3 and 4 move on, to a new spread")
	b.key(kb.Enter)
	b.sees("[-] (1 2) (5 6) (3 4) [-]")
	b.standsOn(6)
	b.until("both are still chosen", `document.querySelectorAll(".card[data-chosen]").length === 2`)
}
