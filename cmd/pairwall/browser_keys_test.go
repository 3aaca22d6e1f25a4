package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
)

// standsOn waits until the focus is on a photo's card.
func (b *tab) standsOn(photo sequence.PhotoID) {
	b.t.Helper()
	where := ""
	b.wait(fmt.Sprintf("the focus is on photo %d", photo), func() bool {
		where = read[string](b, `document.activeElement?.closest("[data-photo]")?.dataset.photo ?? document.activeElement?.outerHTML.slice(0, 200)`)
		return where == fmt.Sprint(photo)
	}, func() string { return "; it is on " + where })
}

// tabTo presses Tab until the focus is within an element.
func (b *tab) tabTo(selector string) {
	b.t.Helper()
	for range 40 {
		b.key(kb.Tab)
		if read[bool](b, call("(s) => Boolean(document.activeElement?.closest(s))", selector)) {
			return
		}
	}
	b.fail("Tab does not lead to " + selector)
}

// walkTo presses an arrow until the focus is on a photo's card.
func (b *tab) walkTo(photo sequence.PhotoID, arrow string) {
	b.t.Helper()
	for range 60 {
		if read[bool](b, fmt.Sprintf(`document.activeElement?.dataset.photo === "%d"`, photo)) {
			return
		}
		b.key(arrow)
	}
	b.fail(fmt.Sprintf("the arrows do not lead to photo %d", photo))
}

// aims presses an arrow until what is carried would go where words say.
func (b *tab) aims(arrow, at, words string) {
	b.t.Helper()
	for range 40 {
		if read[bool](b, call("(s) => Boolean(document.querySelector(s))", at+"[data-aimed]")) {
			b.says(at+"[data-aimed] .says", words)
			return
		}
		b.key(arrow)
	}
	b.fail("the arrows do not lead to " + at)
}

func TestAWallCanBeHungFromTheKeyboardAlone(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.tabTo(region("table"))
	b.standsOn(1)
	b.walkTo(3, kb.ArrowRight)
	b.key(" ")
	b.hears("3 picked up from the table.")
	b.aims(kb.ArrowRight, between(0), "new spread here")
	b.hears("Between pages 1 and 2: new spread here.")
	b.key(kb.Enter)
	b.sees("[-] (- 3) [-]")
	b.hears("Done: Open a spread with 3 between pages 1 and 2.")
	b.standsOn(3)

	b.tabTo(region("table"))
	b.walkTo(2, kb.ArrowRight)
	b.walkTo(2, kb.ArrowLeft)
	b.key(" ")
	b.aims(kb.ArrowRight, onSpread(1, sequence.Left), "put here")
	b.key(" ")
	b.sees("[-] (2 3) [-]")
	b.standsOn(2)
}

func TestOneKeyDoesWhatTheLineOffers(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)

	b.tabTo(region("wall"))
	b.walkTo(1, kb.ArrowRight)
	b.key("s")
	b.sees("[-] (2 1) [-]")
	b.hears("Done: Swap pages 2–3.")
	b.standsOn(1)
	b.key("a")
	b.sees("[-] (2 -) (- 1) [-]")
	b.standsOn(1)
	b.key("h")
	b.sees("[-] (2 -) (- 1 pinned) [-]")
	b.hears("Done: Pin pages 4–5.")
	b.key("w")
	b.sees("[-] (2 -) (1 - across pinned) [-]")
	b.key("w")
	b.sees("[-] (2 -) (1 - pinned) [-]")
	b.key("n")
	b.sees("[-] (2 -) (1 - pinned) (- -) [-]")
	b.standsOn(1)
}

func TestAPhotoSentAwayLeavesTheFocusWithItsNeighbour(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	b := a.visit(desktop)

	b.tabTo(region("wall"))
	b.walkTo(2, kb.ArrowRight)
	b.key("b")
	b.sees("[-] (1 -) (3 4) [-] box 2")
	b.hears("Done: Set 2 aside.")
	b.standsOn(3)
	b.key("t")
	b.sees("[-] (1 -) (- 4) [-] box 2")
	b.standsOn(4)
}

func TestUndoAndRedoFromTheKeyboardSayWhatTheyTouch(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)

	b.tabTo(region("wall"))
	b.walkTo(2, kb.ArrowRight)
	b.key("s")
	b.sees("[-] (2 1) [-]")
	b.keyWith("z", chromedp.ModifierCtrl)
	b.sees("[-] (1 2) [-]")
	b.hears("Undone: Swap pages 2–3.")
	b.standsOn(2)
	b.keyWith("Z", chromedp.ModifierCtrl, chromedp.ModifierShift)
	b.sees("[-] (2 1) [-]")
	b.hears("Done again: Swap pages 2–3.")
}

func TestCarryingFromTheKeyboardCanBeGivenUp(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	b := a.visit(desktop)
	before := a.wall().Revision

	b.tabTo(region("wall"))
	b.walkTo(4, kb.ArrowRight)
	b.key(kb.Enter, kb.ArrowLeft, kb.ArrowLeft, kb.ArrowLeft)
	b.there("[data-aimed]")
	b.key(kb.Escape)
	b.gone("[data-aimed]")
	b.hears("Left where it was.")
	b.standsOn(4)
	b.shows("[-] (1 2) (3 4) [-]")
	b.unchanged(before)
}

func TestASpreadIsMovedFromTheKeyboard(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) (5 6) [-]")
	b := a.visit(desktop)

	b.tabTo(region("wall"))
	b.walkTo(6, kb.ArrowRight)
	b.key("m")
	b.hears("Pages 6–7 picked up.")
	b.aims(kb.ArrowLeft, between(1), "move here")
	b.key(kb.Enter)
	b.sees("[-] (1 2) (5 6) (3 4) [-]")
	b.standsOn(6)
}

func TestSeveralPhotosAreChosenWithShiftAndSetAsideTogether(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.tabTo(region("table"))
	b.walkTo(4, kb.ArrowRight)
	b.keyWith(kb.ArrowRight, chromedp.ModifierShift)
	b.keyWith(kb.ArrowRight, chromedp.ModifierShift)
	b.hears("3 photos chosen.")
	b.key("b")
	b.sees("[-] [-] box 4 5 6")
	b.keyWith("z", chromedp.ModifierCtrl)
	b.sees("[-] [-]")
}

func TestLettersWrittenIntoAFieldDoNothingToTheWall(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)
	before := a.wall().Revision

	b.click(card(1))
	b.click(act("versions"))
	b.write(panel("versions")+" input", "swap the top")
	if written := read[string](b, `document.querySelector('[data-panel="versions"] input').value`); !strings.Contains(written, "swap the top") {
		t.Errorf("the field holds %q", written)
	}
	b.unchanged(before)
}

func TestWalkingThroughTheTableLeavesTheWallWhereItIs(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) (5 6) (7 8) [-]")
	b := a.visit(size{800, 700})

	if far := read[float64](b, "document.scrollingElement.scrollHeight - innerHeight"); far < 100 {
		t.Fatalf("the page can be scrolled by %g px only", far)
	}
	b.click(card(9))
	was := read[float64](b, "scrollY")
	b.walkTo(12, kb.ArrowRight)
	if now := read[float64](b, "scrollY"); now != was {
		t.Errorf("the wall was scrolled from %g to %g px", was, now)
	}
}

func TestTheFocusIsNeverHiddenBelowTheTable(t *testing.T) {
	a := startApp(t)
	a.multiply(60)
	a.pairs(30)
	b := a.visit(desktop)
	b.says(".notices", "originals are no longer where they were") // it comes above the wall, a moment later

	b.tabTo(region("wall"))
	for _, arrow := range []string{kb.ArrowDown, kb.ArrowUp} {
		for range 9 {
			b.key(arrow)
			b.until("the focus is in sight", `(() => {
				const box = document.activeElement.getBoundingClientRect();
				const corners = [[box.left + 3, box.top + 3], [box.right - 3, box.bottom - 3]];
				return corners.every(([x, y]) => document.activeElement.contains(document.elementFromPoint(x, y)));
			})()`)
		}
	}
}

func TestADialogOpenedByAKeyGivesTheFocusBack(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)

	b.tabTo(region("wall"))
	b.walkTo(1, kb.ArrowRight)
	b.key("l")
	b.says(panel("look")+"[open] h2", "Photo 1")
	b.key(kb.ArrowRight)
	b.says(panel("look")+" h2", "Photo 2")
	b.key(kb.Escape)
	b.gone(panel("look"))
	b.standsOn(1)
	b.key("?")
	b.there(panel("keys") + "[open]")
	b.key(kb.Escape)
	b.gone(panel("keys"))
	b.standsOn(1)
}

func TestOneKeyHangsTheBestFreePartnerBesideAPhoto(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (- 4) [-]")
	b := a.visit(desktop)

	b.tabTo(region("wall"))
	b.walkTo(4, kb.ArrowRight)
	b.key("f")
	b.wait("4 faces somebody from the table", func() bool { return a.wall().Spreads[1].Left > 4 }, func() string { return "; there is " + notation(a.wall()) })
	b.hears("Done: Pair 4 with ")
	b.standsOn(4)
	b.keyWith("z", chromedp.ModifierCtrl)
	b.sees("[-] (1 2) (- 4) [-]")
}
