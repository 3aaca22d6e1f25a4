package main

import (
	"context"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"pairwall/sequence"
)

// Undo and redo, several windows, and a program that goes away and comes back:
// whatever happens, nothing the maker did is lost.

func TestEveryActCanBeTakenBackAndDoneAgainAfterAReload(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	states := []string{"[-] [-]"}
	done := func(state string) {
		t.Helper()
		b.sees(state)
		states = append(states, state)
	}
	b.drag(card(1), between(0), "new spread here")
	done("[-] (- 1) [-]")
	b.drag(card(2), onSpread(1, sequence.Left), "put here")
	done("[-] (2 1) [-]")
	b.click(actOfChosen("pin"))
	done("[-] (2 1 pinned) [-]")
	b.drag(card(3), region("box"), "set aside")
	done("[-] (2 1 pinned) [-] box 3")
	b.drag(card(4), opening, "put here")
	done("[4] (2 1 pinned) [-] box 3")

	b.reload()
	b.sees(states[len(states)-1])
	for i := len(states) - 2; i >= 0; i-- {
		b.click(act("undo"))
		b.sees(states[i])
	}
	b.until("there is nothing more to undo", `document.querySelector('[data-act="undo"]').disabled`)

	b.app = b.app.again()
	b.allow("net::ERR_")
	b.reload()
	b.sees(states[0])
	for _, state := range states[1:] {
		b.click(act("redo"))
		b.sees(state)
	}
	b.until("there is nothing more to redo", `document.querySelector('[data-act="redo"]').disabled`)
	b.says(act("undo"), "put 4 on page 1")
}

// withTwoActsWaiting is a window whose program has gone, with two acts made
// since.
func withTwoActsWaiting(t *testing.T) *tab {
	t.Helper()
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)
	b.allow("net::ERR_")

	a.stop()
	b.there("[data-offline]")
	b.drag(card(5), opening, "put here")
	b.drag(card(1), onSpread(1, sequence.Right), "swap with 2")
	return b
}

func TestActsWaitWhileTheProgramIsAwayAndAreSentWhenItIsBack(t *testing.T) {
	b := withTwoActsWaiting(t)
	b.shows("[5] (2 1) [-]")
	b.says("[data-offline]", "2 acts wait here")
	b.staysWhenAsked()
	b.shows("[5] (2 1) [-]")

	b.app = b.app.again()
	b.gone("[data-offline]")
	b.sees("[5] (2 1) [-]")
}

// staysWhenAsked tries to reload and, asked whether to leave, stays.
func (b *tab) staysWhenAsked() {
	b.t.Helper()
	b.mu.Lock()
	b.stays = true
	before := b.asked
	b.mu.Unlock()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, page.Reload, page.ReloadParams{})
		return err
	}))
	b.wait("the page asks before it is left", func() bool {
		b.mu.Lock()
		defer b.mu.Unlock()
		return b.asked > before
	}, func() string { return "" })
}

func TestAnActInOneWindowIsSeenInTheOther(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	one := a.visit(desktop)
	other := one.beside()

	one.drag(card(3), opening, "put here")
	one.sees("[3] (1 2) [-]")
	other.sees("[3] (1 2) [-]")
	other.hears("The wall changed in another window: Put 3 on page 1.")

	other.click(act("undo"))
	other.sees("[-] (1 2) [-]")
	one.sees("[-] (1 2) [-]")
}

func TestAnActOnAWallThatChangedMeanwhileIsKeptAndOfferedAgain(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	b := a.visit(desktop)
	b.allow("409")

	a.hang("[-] (2 1) (3 4) [9]") // behind the page's back: the spreads are others now
	b.drag(card(7), opening, "put here")
	b.there("[data-held]")
	b.says("[data-held]", "Not done: Put 7 on page 1.")
	b.says("[data-held]", "The wall has changed since")
	b.sees("[-] (2 1) (3 4) [9]")

	b.click("[data-held] " + act("again"))
	b.sees("[7] (2 1) (3 4) [9]")
	b.gone("[data-held]")
}

func TestAnActWhosePlaceIsGoneStaysOnOfferUntilItIsLetBe(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)
	b.allow("409")

	a.hang("[-] [-]")
	b.drag(card(7), onSpread(1, sequence.Left), "put here, 1 to the table")
	b.there("[data-held]")
	b.sees("[-] [-]")
	b.click("[data-held] " + act("again"))
	b.says(".notices", "That place is no longer on the wall.")
	b.there("[data-held]")
	b.click("[data-held] " + act("forget"))
	b.gone("[data-held]")
	b.sees("[-] [-]")
}

func TestActsThatWaitSurviveTheWindow(t *testing.T) {
	b := withTwoActsWaiting(t)
	b.says("[data-offline]", "2 acts wait here")
	b.open("about:blank") // asked whether to leave, this person leaves

	b.app = b.app.again()
	b.open(b.app.wallAddress())
	b.sees("[5] (2 1) [-]")
	b.hears("2 acts that waited in this browser were taken up again and sent.")
	b.until("nothing is kept any more", `!Object.keys(localStorage).some((key) => key.startsWith("pairwall-waiting"))`)
}
