package main

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
)

// wordsMeet tells which words on a pile's paper are cut off or lie on one
// another, when its picture is narrow, its original missing and its numbers long.
const wordsMeet = `((selector) => {
	const print = document.querySelector(selector), card = print.querySelector(".card"), number = print.querySelector(".number"), word = print.querySelector(".pile-word");
	const was = [print.style.getPropertyValue("--r"), number.textContent, word.textContent];
	print.style.setProperty("--r", ".4");
	card.dataset.missing = "";
	[number.textContent, word.textContent] = ["388", word.textContent.replace(/^\d+/, "33")];
	const [a, b] = [number.getBoundingClientRect(), word.getBoundingClientRect()];
	const found = [];
	if (a.right > b.left) found.push("the number lies from " + a.left + " to " + a.right + ", the pile's words from " + b.left + " to " + b.right + ", the print is " + print.clientWidth + " wide: " + number.textContent);
	if (number.scrollWidth > number.clientWidth) found.push("the number is cut off");
	if (word.scrollWidth > print.clientWidth) found.push("the pile's words are wider than the print");
	print.style.setProperty("--r", was[0]);
	delete card.dataset.missing;
	[number.textContent, word.textContent] = was.slice(1);
	return found;
})`

// headBarCrowded tells what in the head bar wraps to a second line or lies on another.
const headBarCrowded = `(() => {
	const bar = document.querySelector(".head-bar");
	const parts = [...bar.querySelectorAll("button, .size, .grounds")].filter((el) => el.getBoundingClientRect().width > 0).map((el) => [el.textContent, el.getBoundingClientRect()]);
	const middles = parts.map(([, box]) => (box.top + box.bottom) / 2);
	const out = Math.max(...middles) - Math.min(...middles) > 12 ? ["the head bar has two lines"] : [];
	parts.sort(([, a], [, b]) => a.left - b.left).forEach(([words, box], i, all) => {
		const next = all[i + 1];
		if (next && box.right > next[1].left + 1) out.push(words + " lies on " + next[0]);
	});
	return out;
})()`

// outlined tells what keeps an element's outline from being seen, "" when nothing does.
const outlined = `(selector) => {
	const el = document.querySelector(selector);
	if (!el) return "there is none";
	const box = el.getBoundingClientRect(), style = getComputedStyle(el);
	if (box.bottom <= 0 || box.top >= innerHeight) return "it is out of sight, at " + box.top;
	if (style.outlineStyle === "none" || parseFloat(style.outlineWidth) < 2) return "it has no outline";
	if (style.outlineColor === getComputedStyle(document.documentElement).backgroundColor) return "its outline is of the ground's colour";
	return "";
}`

func (b *tab) outlined(what, selector string) {
	b.t.Helper()
	if told := read[string](b, call(outlined, selector)); told != "" {
		b.t.Errorf("%s: %s", what, told)
	}
}

// adapted makes the tab one of a person who has the page at 200 %, wants no
// motion and gives it colours of their own.
func (b *tab) adapted() {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}, {Name: "prefers-reduced-motion", Value: "reduce"}},
		})
		return err
	}))
	if !read[bool](b, `matchMedia("(forced-colors: active)").matches && matchMedia("(prefers-reduced-motion: reduce)").matches && devicePixelRatio === 2`) {
		b.t.Fatal("the browser does not take the person's wishes")
	}
}

// At 200 % a window of 1280 by 800 pixels has 640 by 400 of the page's own.
func TestAtTwiceTheSizeWithoutMotionAndInForcedColoursAllCanBeUsedAndSeen(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	b := a.visit(size{640, 400}, chromedp.EmulateScale(2))
	b.adapted()

	b.standOn(card(1))
	b.key(kb.ArrowRight)
	b.standsOn(2)
	b.outlined("the card that has the focus", card(2))
	b.click(card(2))
	b.outlined("the card that is chosen", card(2)+"[data-chosen]")
	room := read[float64](b, `document.querySelector(".tray").getBoundingClientRect().top - document.querySelector(".head-bar").getBoundingClientRect().bottom`)
	if room = min(room, read[float64](b, `document.querySelector(".tray").getBoundingClientRect().top`)); room < 90 {
		t.Errorf("the wall has %.0f px left while a photo is chosen", room)
	}
	b.click(actOfChosen("choose-where"))
	b.key(kb.ArrowRight)
	b.until("the place aimed at is marked", `(() => {
		const at = document.querySelector("[data-aimed]");
		const drawn = at && (at.matches("[data-between]") ? getComputedStyle(at, "::before").backgroundColor : getComputedStyle(at).outlineStyle);
		return drawn && drawn !== "none" && drawn !== "rgba(0, 0, 0, 0)";
	})()`)
	b.click(act("put-down"))
	b.gone("[data-aimed]")
	b.click(act("put-down"))
	for _, what := range read[[]string](b, cutOff) {
		t.Errorf("the wall: %s", what)
	}

	b.click(act("choose-by"))
	b.there(panel("choose"))
	b.click(panel("choose") + " " + act("choose-group"))
	b.outlined("the group that is chosen", panel("choose")+` .group[aria-pressed="true"]`)
	for _, what := range read[[]string](b, cutOff) {
		t.Errorf("choosing: %s", what)
	}
	b.click(panel("choose") + " " + act("close"))
	b.gone(panel("choose"))
	b.click(act("map"))
	b.there(panel("map"))
	b.click(panel("map") + " " + act("close"))
	if !read[bool](b, `!document.getAnimations().some((a) => a.playState === "running")`) {
		t.Error("something moves")
	}
}

func TestALongCaptionIsToldWholeAndBreaksNothing(t *testing.T) {
	a := startApp(t)
	b := a.visit(size{360, 740})
	words := strings.TrimSpace(strings.Repeat("Before the rain at Ancona, ", 16)) + strings.Repeat("m", 70)
	b.click(card(2))
	b.click(actOfChosen("facts"))
	b.write(`[data-say="caption"]`, words)
	b.click(act("say-caption"))
	b.comes(2, "has its caption", func(p sequence.Photo) bool { return p.Caption == words })
	for _, what := range read[[]string](b, cutOff) {
		t.Errorf("what is known: %s", what)
	}
	note := strings.Repeat("the same light from the left, ", 14)
	b.write(fact("note")+" textarea", note)
	b.click(fact("note") + " [type=submit]")
	b.comes(2, "has its note", func(p sequence.Photo) bool { return p.Note == strings.TrimSpace(note) })
	b.click(panel("facts") + " " + act("close"))
	b.says(".hand .noted q", "the same light")
	if tall := read[float64](b, `document.querySelector(".hand .noted").getBoundingClientRect().height`); tall > 30 {
		t.Errorf("the note beside the wall takes %.0f px, not one line", tall)
	}
	b.click(actOfChosen("look"))
	b.says("[data-panel=look] [data-caption]", words)
	for _, what := range read[[]string](b, cutOff) {
		t.Errorf("looking closely: %s", what)
	}
}
