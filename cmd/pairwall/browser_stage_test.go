package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp/kb"
)

// open is what lies open on the stage: the photos on its left and right page.
const open = `[".verso", ".recto"].map((side) => {
	const leaf = document.querySelector(".stage .book > " + side);
	return leaf.dataset.shows === undefined ? "none" : leaf.dataset.shows + (leaf.hasAttribute("data-half") ? " half" : "");
}).join(" | ")`

func (b *tab) opens(left, right string) {
	b.t.Helper()
	want, now := left+" | "+right, ""
	b.wait("it lies open at "+want, func() bool { now = read[string](b, open); return now == want }, func() string { return "; it is " + now })
}

func TestASpreadLiesInTheHandWithItsGutter(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 - across) (- 5) [6]")
	b := a.visit(desktop)

	b.click(card(3))
	b.key("i")
	b.there(panel("in-hand") + "[open]")
	b.opens("2", "3")
	b.says(".stage-words", "Pages 2 and 3: photos 2 and 3.")
	gutter := read[[]float64](b, `(() => {
		const [left, right] = [".verso", ".recto"].map((side) => document.querySelector(".stage .book > " + side).getBoundingClientRect());
		return [right.left - left.right, left.width / innerWidth, left.height / innerHeight];
	})()`)
	if gutter[0] > 0.5 || gutter[0] < -0.5 || gutter[2] < 0.8 && gutter[1] < 0.45 {
		t.Errorf("the pages lie %.1f px apart and are %.2f of the window wide, %.2f high", gutter[0], gutter[1], gutter[2])
	}
	b.key(kb.ArrowRight)
	b.opens("4 half", "4 half")
	b.hears("Pages 4 and 5: photo 4 across both.")
	if off := read[float64](b, `(() => {
		const [left, right] = [...document.querySelectorAll(".stage .book > [data-half] img")].map((img) => img.getBoundingClientRect());
		return Math.abs(left.left - right.left) + Math.abs(left.width - right.width);
	})()`); off > 1 {
		t.Errorf("the halves of the photo across the gutter are %.1f px off", off)
	}
	b.click(act("next-spread"))
	b.opens("0", "5")
	b.key(kb.End)
	b.opens("6", "none")
	b.until("there is nothing after the last page", `document.querySelector('[data-act="next-spread"]').ariaDisabled === "true"`)
	b.key(kb.Home)
	b.opens("none", "1")
	b.key("q")
	b.there("html[data-squint]")
	b.key("q")
	b.gone("html[data-squint]")
	b.key(kb.Escape)
	b.gone(panel("in-hand"))
}

func TestOneLeafsThroughForwardsOnly(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 - across) [6]")
	before := a.wall().Revision
	b := a.visit(desktop)

	b.click(act("leafing"))
	b.there(panel("leafing") + "[open]")
	b.opens("none", "1")
	b.key(kb.ArrowLeft)
	b.key(" ")
	b.until("the page turns", `document.querySelector(".turning")`)
	b.until("it lies", `!document.querySelector(".turning")`)
	b.opens("2", "3")
	b.hears("Pages 2 and 3: photos 2 and 3.")
	b.key(kb.ArrowLeft) // there is no way back
	b.opens("2", "3")
	b.click(".turn-here")
	b.until("it lies", `!document.querySelector(".turning") && document.querySelector(".turn-here").dataset.at === "2"`)
	b.opens("4 half", "4 half")
	b.key(kb.ArrowRight, kb.ArrowRight) // the second press does not wait
	b.opens("6", "none")
	b.key(kb.ArrowRight)
	b.says(".stage-words", "That was the last page.")
	b.click(act("leaf-again"))
	b.opens("none", "1")
	b.key(kb.Escape)
	b.gone(panel("leafing"))
	b.unchanged(before)
}

func TestPagesTurnByThemselvesAtAnOwnPaceUntilPaused(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 5) [6]")
	b := a.visit(desktop)
	b.calm() // without motion: at once

	b.key("v")
	b.there(panel("leafing") + "[open]")
	b.click(act("by-itself"))
	for range 4 {
		b.click(act("faster"))
	}
	b.says(".leafing-foot", "2 seconds a page")
	b.opens("2", "3")
	b.click(act("by-itself"))
	b.says(act("by-itself"), "Turn by itself")
	time.Sleep(2200 * time.Millisecond) // longer than the pace
	b.opens("2", "3")
	b.gone(".turning")
}

func TestLeafingByTouch(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) [6]")
	b := a.visitByTouch()
	b.tap(act("leafing"))
	b.opens("none", "1")
	b.tap(".turn-here")
	b.opens("2", "3")
	b.tap(panel("leafing") + " " + act("close"))
	b.gone(panel("leafing"))
}

func TestSquintingLeavesWeightsAndLight(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) [6]")
	b := a.visit(desktop)
	filter := `getComputedStyle(document.querySelector('[data-region="wall"] [data-photo] img')).filter`

	b.key("q")
	b.hears("Squinting")
	if now := read[string](b, filter); now == "none" || now == "" {
		t.Errorf("the pictures are drawn with %q", now)
	}
	b.click(group("look"))
	b.there(act("squint") + `[aria-pressed="true"]`)
	b.click(act("squint"))
	b.hears("Eyes open.")
	b.until("the pictures are as they are", filter+` === "none"`)
	if spoken := read[int](b, fmt.Sprintf(`window.said.filter((line) => line.includes(%q)).length`, "undefined")); spoken > 0 {
		t.Error("it said something undefined")
	}
}

func TestSquintingAndASpreadInTheHandByTouch(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 5) [6]")
	b := a.visitByTouch()
	b.tap(act("squint"))
	b.there("html[data-squint]")
	b.tap(act("squint"))
	b.gone("html[data-squint]")

	b.tap(card(3))
	b.tap(act("in-hand"))
	b.opens("2", "3")
	b.tap(act("next-spread"))
	b.opens("4", "5")
	b.tap(act("squint-here"))
	b.there(act("squint-here") + `[aria-pressed="true"]`)
	b.tap(act("squint-here"))
	b.tap(act("previous-spread"))
	b.opens("2", "3")
	b.tap(panel("in-hand") + " " + act("close"))
	b.gone(panel("in-hand"))
}
