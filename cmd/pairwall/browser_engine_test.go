package main

import (
	"fmt"
	"slices"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
)

// asksFor chooses a photo and asks who could face it.
func (b *tab) asksFor(photo sequence.PhotoID) {
	b.t.Helper()
	b.click(card(photo))
	b.click(actOfChosen("partners"))
	b.there(panel("partners") + " [data-partner]")
}

// weighs waits until the title weighs a few names so, and all else not.
func (b *tab) weighs(a *app, want map[string]float64) {
	b.t.Helper()
	var last map[string]float64
	b.wait(fmt.Sprintf("only %v counts", want), func() bool {
		title, err := a.store.Title(b.t.Context(), a.title)
		if err != nil {
			return false
		}
		last = title.Weights
		for name, weight := range last {
			if want[name] != weight {
				return false
			}
		}
		return len(last) >= len(want) && len(last) > 0
	}, func() string { return fmt.Sprintf("; it is %v", last) })
}

func TestOneRelationIsUsedAloneAndFeelingsMayBeOpposed(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)
	b.asksFor(4)
	side := panel("partners")

	b.click(side + " " + act("unfold-colour"))
	b.click(side + " " + act("only-tone"))
	b.weighs(a, map[string]float64{"tone": 1})
	b.says(side, "Light and dark alike")
	b.click(side + " " + act("unfold-feeling"))
	b.click(side + " " + act("only-feeling"))
	b.weighs(a, map[string]float64{"feeling": 1})
	b.click(side + ` input[value="contrast"]`)
	b.weighs(a, map[string]float64{"contrast": 1})
	b.says(side, "against")
	b.click(side + " " + act("all-alike"))
	b.weighs(a, map[string]float64{"colour": 1, "place": 1, "time": 1, "feeling": 1, "form": 1})
	b.click(side + " " + act("surprise"))
	b.says(side, "A surprise by")
}

func TestTheFiguresBehindAPartnerAreShownWhenAskedFor(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)
	b.asksFor(4)
	first := panel("partners") + " [data-partner]:first-child"
	b.says(first, "It would lie on the")
	b.click(first + " " + act("figures"))
	for _, words := range []string{"colour 0.", "the same world 0.", "a shared accent", "shapes that can face each other"} {
		b.says(first, words)
	}
	b.asksFor(25) // which no camera dated or placed
	b.says(panel("partners"), "place or date of taking known for 25")
}

func TestTwoThatAreNeverToFaceEachOtherAreNotProposedAgain(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)
	b.asksFor(4)
	first := b.proposed()[0]
	line := fmt.Sprintf(`[data-partner="%d"]`, first)

	b.click(line + " " + act("never"))
	b.gone(line)
	pairs, err := a.store.Apart(t.Context(), a.title)
	if err != nil || !slices.Equal(pairs, []sequence.Pair{{min(4, first), max(4, first)}}) {
		t.Errorf("kept apart are %v, %v", pairs, err)
	}
	b.click(panel("partners") + " " + act("allow"))
	b.there(line)
}

func TestAnArrangementIsTakenSpreadBySpread(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)
	sheet := panel("arrange")
	b.click(act("arrange"))
	b.click(sheet + ` input[value="light"]`)
	b.click(sheet + " " + act("ask-arrangement"))
	b.there(sheet + " " + act("accept"))
	b.says(sheet+" .rule", "light")
	shown := read[[]string](b, `[...document.querySelectorAll(".proposed > li")].map((li) => "(" + [...li.querySelectorAll("img")].map((img) => img.alt.replace("Photo ", "")).join(" ") + ")")`)
	if len(shown) < 4 {
		t.Fatalf("only %v are proposed", shown)
	}
	ticks := read[[]sequence.SpreadID](b, `[...document.querySelectorAll("[data-tick]")].map((tick) => Number(tick.dataset.tick))`)
	b.click(sheet + " " + act("tick-none"))
	for _, i := range []int{0, 2} {
		b.click(fmt.Sprintf(`[data-tick="%d"]`, ticks[i]))
	}
	b.says(sheet+" "+act("accept"), fmt.Sprintf("Accept 2 of %d", len(ticks)))
	b.click(sheet + " " + act("accept"))
	b.gone(sheet)
	b.sees(fmt.Sprintf("[-] %s %s [-]", shown[0], shown[2]))
	b.click(act("undo"))
	b.sees("[-] [-]")
}

func TestAHighFloorLeavesPhotosOnTheTableAndSaysWhy(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)
	sheet := panel("arrange")
	b.click(act("arrange"))
	read[any](b, call(`(s) => {
		const slider = document.querySelector(s);
		slider.value = "2";
		slider.dispatchEvent(new Event("input", { bubbles: true }));
	}`, `[data-plan="enough"]`))
	b.says(sheet+" output[data-floor]", "Only the best pairs")
	b.click(sheet + " " + act("ask-arrangement"))
	b.there(sheet + " .left-over li")
	b.says(sheet+" .left-over", "suits it well enough")
}

func TestWhatWouldBeLostIsToldOfAPhotoAndOfTheWall(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) (5 20) [-]")
	b := a.visit(desktop)
	side := panel("loss")
	b.click(card(4))
	b.key("x")
	b.says(side, "What would be lost with 4")
	b.click(side + " " + act("all-losses"))
	b.there(side + " [data-loss]")
	if n := read[int](b, `document.querySelectorAll("[data-loss]").length`); n != 6 {
		t.Errorf("%d of the six on the wall are told of", n)
	}
	b.click(side + ` [data-loss="20"] ` + act("choose-loss"))
	b.says(side, "What would be lost with 20")
}

// gaze waits until a photo has a mark as it should be.
func (b *tab) gaze(a *app, photo sequence.PhotoID, what string, is func(*sequence.Gaze) bool) {
	b.t.Helper()
	var last *sequence.Gaze
	b.wait(what, func() bool {
		last = a.photo(photo).Gaze
		return is(last)
	}, func() string { return fmt.Sprintf("; it is %+v", last) })
}

func TestAFaceIsMarkedWithAClickOrByKeysAndTakenBack(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)
	b.click(card(4))
	b.key("l")
	sheet := panel("look")

	b.click(sheet + " .marked img") // in its middle
	b.there(".gaze-mark")
	b.click(sheet + " " + act("gaze-left"))
	b.gaze(a, 4, "a face in the middle looks to the left", func(g *sequence.Gaze) bool {
		return g != nil && g.Towards == sequence.TowardsLeft && g.X > .45 && g.X < .55 && g.Y > .45 && g.Y < .55
	})
	b.says(sheet, "it looks to the left")
	b.click(sheet + " " + act("undo"))
	b.gaze(a, 4, "the mark is taken back", func(g *sequence.Gaze) bool { return g == nil })
	b.gone(".gaze-mark")

	b.tabTo(act("mark-face"))
	b.key(kb.Enter)
	b.there(".gaze-mark:focus")
	b.key(kb.ArrowRight, kb.ArrowRight, kb.ArrowUp)
	b.says(sheet, "52 % from the left and 39 % from the top")
	b.tabTo(act("gaze-out"))
	b.key(kb.Enter)
	b.gaze(a, 4, "it looks towards us from where the arrows moved it", func(g *sequence.Gaze) bool {
		return g != nil && *g == sequence.Gaze{X: .52, Y: .39, Towards: sequence.TowardsOut}
	})
	if revision := a.wall().Revision; revision != 3 {
		t.Errorf("marking, undoing and marking are three acts, not %d", revision)
	}
}

func TestWhatTheEngineSaysIsFreeOfAccessibilityFaults(t *testing.T) {
	for _, as := range []size{desktop, {360, 740}} {
		t.Run(fmt.Sprintf("%d px wide", as.width), func(t *testing.T) {
			a := startApp(t)
			a.hang("[-] (1 2) (3 4) [-]")
			b := a.visit(as)
			b.bringAxe()
			b.asksFor(4)
			side := panel("partners")
			for _, kind := range []string{"colour", "feeling", "form"} {
				b.click(side + " " + act("unfold-"+kind))
			}
			b.click(side + " [data-partner]:first-child " + act("figures"))
			b.there(side + " .figures ul ul")
			b.click(side + " [data-partner]:first-child " + act("never"))
			b.there(act("allow"))
			b.passes("relations and figures", side)
			b.click(side + " " + act("close"))
			b.click(actOfChosen("loss"))
			b.there(panel("loss") + " h3")
			b.passes("what would be lost", panel("loss"))
			b.click(panel("loss") + " " + act("all-losses"))
			b.there("[data-loss]")
			b.passes("what could be spared", panel("loss"))
			b.click(panel("loss") + " " + act("close"))
			b.click(card(3))
			b.click(actOfChosen("look"))
			b.click(panel("look") + " " + act("mark-face"))
			b.there(".gaze-mark")
			b.passes("a face being marked", panel("look"))
		})
	}
}
