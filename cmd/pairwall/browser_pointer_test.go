package main

import (
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
)

func TestDraggingTwoPrintsOntoFacingPagesPairsThem(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.drag(card(3), between(0), "new spread here")
	b.sees("[-] (- 3) [-]")
	b.drag(card(5), onSpread(1, sequence.Left), "put here")
	b.sees("[-] (5 3) [-]")
	b.hears("Done: Put 5 on page 2.")
}

func TestDroppingOnAFullPageTellsWhatHappensToTheOtherPhoto(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	b := a.visit(desktop)

	b.drag(card(1), onSpread(2, sequence.Right), "swap with 4")
	b.sees("[-] (4 2) (3 1) [-]")
	b.drag(card(9), onSpread(1, sequence.Left), "put here, 4 to the table")
	b.sees("[-] (9 2) (3 1) [-]")
}

func TestACardLetGoOutsideComesBack(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)
	before := a.wall().Revision

	from := b.spot(card(1))
	b.lift(from)
	b.carry(from, point{640, 2}) // above the title's name, where nothing can lie
	b.gone("[data-aimed]")
	b.letGo(point{640, 2})
	b.hears("Left where it was.")
	b.shows("[-] (1 2) [-]")
	b.unchanged(before)
}

func TestEscapeGivesUpCarrying(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)
	before := a.wall().Revision

	from, to := b.spots(card(7), onSpread(1, sequence.Left))
	b.lift(from)
	b.carry(from, to)
	b.there("[data-aimed]")
	b.key(kb.Escape)
	b.gone(".ghost")
	b.gone("[data-aimed]")
	b.mouse(chromedp.MouseReleased, to, 0, 1)
	b.hears("Left where it was.")
	b.shows("[-] (1 2) [-]")
	b.unchanged(before)
}

func TestASpreadIsMovedByItsFoot(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) (5 6) [-]")
	b := a.visit(desktop)

	b.drag(foot(3), between(0), "move here")
	b.sees("[-] (5 6) (1 2) (3 4) [-]")
	b.drag(foot(1), between(3), "move here")
	b.sees("[-] (5 6) (3 4) (1 2) [-]")
	b.drag(foot(2), region("table"), "both pages to the table")
	b.sees("[-] (5 6) (1 2) [-]")
}

func TestPhotosGoIntoTheBoxAndOutOfIt(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)

	b.drag(card(1), region("box"), "set aside")
	b.sees("[-] (- 2) [-] box 1")
	b.drag(card(8), region("box"), "set aside")
	b.sees("[-] (- 2) [-] box 1 8")
	b.drag(card(1), region("table"), "on the table")
	b.sees("[-] (- 2) [-] box 8")
	b.drag(card(8), onSpread(1, sequence.Left), "put here")
	b.sees("[-] (8 2) [-]")
}

func TestTheFirstAndTheLastPageTakeAPhotoEach(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)

	b.drag(card(3), opening, "put here")
	b.sees("[3] (1 2) [-]")
	b.drag(card(1), closing, "put here")
	b.sees("[3] (- 2) [1]")
	b.drag(card(1), opening, "swap with 3")
	b.sees("[1] (- 2) [3]")
}

func TestClickingAPhotoAndThenABlankPageMovesItWithoutDragging(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 -) [-]")
	b := a.visit(desktop)

	b.click(card(6))
	b.there(card(6) + "[data-chosen]")
	b.click(onSpread(1, sequence.Right))
	b.sees("[-] (1 6) [-]")

	b.click(card(9))
	b.click(actOfChosen("choose-where"))
	b.there("[data-aimed]")
	b.click(onSpread(1, sequence.Left))
	b.sees("[-] (9 6) [-]")
}

func TestAPenCarriesAPrintDrawsAFrameAndChooses(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 -) [-]")
	b := a.visit(desktop)
	pen := func(kind input.DispatchMouseEventType, at point, buttons, clicks int64) {
		b.pointer(input.DispatchMouseEventPointerTypePen, kind, at, buttons, clicks)
	}
	draw := func(from, to point) {
		pen(chromedp.MouseMoved, from, 0, 0)
		pen(chromedp.MousePressed, from, 1, 1)
		for i := 1.0; i <= 6; i++ {
			pen(chromedp.MouseMoved, from.plus((to.X-from.X)*i/6, (to.Y-from.Y)*i/6), 1, 0)
		}
	}
	read[chromedp.Void](b, `(() => { window.pens = []; addEventListener("pointerdown", (e) => window.pens.push(e.pointerType), true); })()`)

	from, to := b.spots(card(4), onSpread(1, sequence.Right))
	draw(from, to)
	b.says(onSpread(1, sequence.Right)+"[data-aimed] .says", "put here")
	pen(chromedp.MouseReleased, to, 0, 1)
	b.sees("[-] (1 4) [-]")

	at := b.spot(card(1))
	pen(chromedp.MousePressed, at, 1, 1)
	pen(chromedp.MouseReleased, at, 0, 1)
	b.there(card(1) + "[data-chosen]")

	draw(b.corner(onSpread(1, sequence.Left), false, false, 9), b.corner(card(4), true, true, -20))
	pen(chromedp.MouseReleased, b.corner(card(4), true, true, -20), 0, 1)
	b.chosen(1, 4)
	if pens := read[[]string](b, "window.pens"); len(pens) != 3 || pens[0] != "pen" {
		t.Errorf("the page was pressed by %v", pens)
	}
}
