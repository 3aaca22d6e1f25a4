package main

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
)

func partner(photo sequence.PhotoID, what string) string {
	return fmt.Sprintf(`[data-partner="%d"] %s`, photo, act(what))
}

func TestAPartnerForAFreePageIsTriedOnTheSpreadAndLeftWithoutATraceOrTaken(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (- 4) (5 6) [-]")
	b := a.visit(desktop)
	was := a.wall().Revision
	b.click(fmt.Sprintf(`[data-handle="%d"]`, a.wall().Spreads[1].ID))
	b.click(actOfChosen("partners"))
	b.says(panel("partners"), "Who could fill the left page, beside 4?")
	b.there(panel("partners") + " [data-partner]")
	found := b.proposed()[0]
	b.says(fmt.Sprintf(`[data-partner="%d"]`, found), "It would lie on the left")

	b.click(partner(found, "try"))
	b.says(panel("trial"), fmt.Sprintf("Trying %d beside 4 on pages 4 and 5", found))
	b.there(".large.tried .leaf")
	b.there(fmt.Sprintf(`.wall [data-photo="%d"]`, found))
	b.hears("nothing has changed")
	b.bringAxe()
	b.passes("a pair that is tried", panel("trial"))
	b.key(kb.Escape)
	b.gone(panel("trial"))
	b.there(partner(found, "try") + ":focus")
	b.unchanged(was)

	b.key(kb.Enter) // on the button that tries it
	b.click(act("enlarge-trial"))
	b.gone(".large.tried")
	b.click(act("leave-trial"))
	b.sees("[-] (1 2) (- 4) (5 6) [-]")
	b.unchanged(was)

	b.click(partner(found, "try"))
	b.there(act("take-trial") + ":focus")
	b.key(kb.Enter)
	b.gone(panel("trial"))
	b.there(card(found) + ":focus")
	b.wait("the two hang together", func() bool {
		s := a.wall().Spreads[1]
		return s.Left == found && s.Right == 4
	}, func() string { return "; the wall is " + notation(a.wall()) })
}

func TestWhatEndsATrialIsAnyOtherAct(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (4 -) (5 6) [-]")
	b := a.visit(desktop)
	b.asksFor(4)
	b.click(partner(b.proposed()[0], "try"))
	b.there(panel("trial"))
	other := b.beside()
	other.click(card(1))
	other.key("n") // a blank spread before it, in another window: the trial goes on, on the wall as it is now
	b.says(panel("trial"), "on pages 6 and 7")
	b.click(panel("partners") + " " + act("close"))
	b.gone(panel("trial"))
	b.sees("[-] (1 2) (- -) (4 -) (5 6) [-]")
}

func TestAnArrangementBeginsAndEndsAsWishedAndLeavesOutWhatIsNotWantedNow(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)
	sheet := panel("arrange")
	b.click(act("arrange"))
	b.write(sheet+` [data-plan="first"]`, "7")
	b.write(sheet+` [data-plan="last"]`, "3")
	b.click(sheet + " " + act("ask-arrangement"))
	b.there(sheet + ` .proposed > li:first-child img[alt="Photo 7"]`)
	b.there(sheet + ` .proposed > li:last-child img[alt="Photo 3"]`)

	pair := read[[]string](b, `[...document.querySelectorAll(".proposed > li:first-child img")].map((img) => img.alt.replace("Photo ", ""))`)
	b.click(sheet + " .proposed > li:first-child " + act("not-now"))
	b.says(sheet+" .not-together", fmt.Sprintf("This time: %s with %s, allow", pair[0], pair[1]))
	b.until("they are no longer paired", call(`(one, other) => ![...document.querySelectorAll(".proposed > li")].some((li) => li.querySelector('img[alt="Photo ' + one + '"]') && li.querySelector('img[alt="Photo ' + other + '"]'))`, pair[0], pair[1]))
	b.bringAxe()
	b.passes("what is wished of an arrangement", sheet)
	b.click(sheet + " " + act("allow-now"))
	b.gone(sheet + " .not-together")
}
