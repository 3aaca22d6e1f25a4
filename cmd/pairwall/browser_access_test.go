package main

import (
	"fmt"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// axe is the accessibility checker axe-core, as the lock file of web names it.
var axe = sync.OnceValues(func() (string, error) {
	script, err := os.ReadFile("../../web/node_modules/axe-core/axe.min.js")
	if err != nil {
		return "", fmt.Errorf("axe-core is missing, run npm ci in web: %w", err)
	}
	return string(script), nil
})

// runAxe checks the page as it stands against the rules of WCAG 2.2 AA and axe's
// own best practices; or only the contrast within a part of it.
const runAxe = `async (contrastOf) => {
	const only = contrastOf ? { runOnly: { type: "rule", values: ["color-contrast"] } } : {};
	const found = await axe.run(contrastOf || document, { resultTypes: ["violations"], ...only });
	return found.violations.map((v) => v.id + ": " + v.help + " " + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160) + " " + n.any.map((a) => a.message).join(" ")).join(" // "));
}`

// passes checks that nothing is cut off, and the page on all three grounds. Only
// contrast can differ between them, so on the second and third only contrast is
// looked at, within the part that this view is about.
func (b *tab) passes(where, part string) {
	b.t.Helper()
	b.until("all is at rest", `!document.getAnimations().some((a) => a.playState === "running") && !document.querySelector("[data-veiled]")`)
	for _, what := range read[[]string](b, cutOff) {
		b.t.Errorf("%s: %s", where, what)
	}
	for _, ground := range []string{"paper", "grey", "black"} {
		contrastOf := part
		if ground == "paper" {
			contrastOf = "" // everything, everywhere
		}
		read[chromedp.Void](b, call(`(ground) => { document.documentElement.dataset.ground = ground; }`, ground))
		for _, violation := range read[[]string](b, call(runAxe, contrastOf)) {
			if b.told == nil {
				b.told = make(map[string]bool)
			}
			if !b.told[violation] { // once is enough: most views share their surroundings
				b.t.Errorf("%s, %s ground: %s", where, ground, violation)
			}
			b.told[violation] = true
		}
	}
	read[chromedp.Void](b, `void (document.documentElement.dataset.ground = "paper")`)
}

func (b *tab) bringAxe() {
	b.t.Helper()
	script, err := axe()
	if err != nil {
		b.t.Fatal(err)
	}
	read[chromedp.Void](b, script+"; undefined")
}

func TestEveryViewIsFreeOfAccessibilityFaults(t *testing.T) {
	for _, as := range []size{desktop, {360, 740}} {
		t.Run(fmt.Sprintf("%d px wide", as.width), func(t *testing.T) {
			a := startApp(t)
			a.hang("[1] (2 3 pinned) (4 -) (5 - across) (- -) [-] box 6 7")
			if _, err := a.store.KeepVersion(t.Context(), a.title, "As it was in spring"); err != nil {
				t.Fatal(err)
			}
			b := a.visit(as)
			b.bringAxe()
			for _, view := range a.views() {
				view.open(b)
				b.passes(view.name, view.part)
				view.leave(b)
			}
		})
	}
}

// view is something the page can show, how it is opened and left.
type view struct {
	name, part  string
	open, leave func(b *tab)
}

func (a *app) views() []view {
	sheet := func(name string, open func(b *tab)) view {
		return view{name, panel(name), func(b *tab) { open(b); b.there(panel(name)) },
			func(b *tab) { b.click(panel(name) + " " + act("close")); b.gone(panel(name)) }}
	}
	clicking := func(selector string) func(b *tab) { return func(b *tab) { b.click(selector) } }
	onTable := card(9)
	return []view{
		{"the wall", "body", func(b *tab) { b.there(region("wall")) }, func(b *tab) {}},
		{"the wall with a photo chosen", "body", clicking(card(2)), clicking(act("put-down"))},
		{"the wall while a place is being chosen", "body", func(b *tab) { b.click(onTable); b.click(actOfChosen("choose-where")); b.there("[data-aimed]") },
			func(b *tab) { b.click(act("put-down")); b.click(act("put-down")) }},
		{"a group of commands", ".head-groups", func(b *tab) { b.click(group("photographs")); b.there(act("map")) },
			func(b *tab) { b.key(kb.Escape); b.gone(act("map")) }},
		sheet("partners", func(b *tab) { b.click(onTable); b.click(actOfChosen("partners")); b.there("[data-partner]") }),
		sheet("versions", func(b *tab) { b.click(act("versions")); b.there("[data-version]") }),
		{"an earlier version", "body", func(b *tab) { b.click(act("versions")); b.click(act("look-at-version")); b.there(".band") },
			func(b *tab) {
				b.click(".band " + act("return-to-present"))
				b.click(panel("versions") + " " + act("close"))
			}},
		sheet("arrange", func(b *tab) { b.click(act("arrange")); b.click(act("ask-arrangement")); b.there(act("accept")) }),
		sheet("bring", func(b *tab) { b.click(act("bring")); b.there(act("bring-folder")) }),
		sheet("prints", func(b *tab) { b.click(act("prints")); b.there(panel("prints") + " svg") }),
		sheet("pack", func(b *tab) { b.click(act("pack")); b.there(act("make-pack")) }),
		sheet("keys", clicking(act("keys"))),
		{"the ribbon of colours", ".head-bar", func(b *tab) { b.click(act("ribbon")); b.there(ribbonLine) },
			func(b *tab) { b.click(act("ribbon")); b.gone(ribbonLine) }},
		{"the whole sequence", "#wall", func(b *tab) { b.key("0"); b.hears("spreads to a line") }, func(b *tab) { b.key("+") }},
		sheet("in-hand", clicking(act("in-hand"))),
		sheet("leafing", clicking(act("leafing"))),
		sheet("look", func(b *tab) { b.click(onTable); b.click(actOfChosen("look")) }),
	}
}

func TestTheFirstPageAndAnEmptyTitleAreFreeOfAccessibilityFaults(t *testing.T) {
	for _, as := range []size{desktop, {360, 740}} {
		t.Run(fmt.Sprintf("%d px wide", as.width), func(t *testing.T) {
			b := begin(t, "Nothing yet")
			b.do(chromedp.EmulateViewport(as.width, as.height))
			b.bringAxe()
			b.passes("a title without photographs", "body")
			b.click(act("titles"))
			b.there(act("open-title"))
			b.passes("the list of titles", "body")
		})
	}
}

func TestThePolicyForbidsScriptsThatAreNotOurs(t *testing.T) {
	b := startApp(t).visit(desktop)
	b.allow("Content Security Policy", "script-src", "img-src", "far.png")
	read[chromedp.Void](b, `(() => {
		const script = document.createElement("script");
		script.textContent = "window.broken = true";
		document.head.append(script);
		const far = document.createElement("img");
		far.src = "http://127.0.0.1:9/far.png";
		document.body.append(far);
	})()`)
	b.until("both were forbidden", `["script-src", "img-src"].every((kind) => window.forbidden.some((what) => what.startsWith(kind)))`)
	if read[bool](b, "Boolean(window.broken)") {
		t.Error("the script ran")
	}
}

func TestTheStatusLineIsOnePoliteRegion(t *testing.T) {
	b := startApp(t).visit(desktop)
	lines := read[[]string](b, `[...document.querySelectorAll("[aria-live], [role=status], [role=alert], [role=log]")].map((el) => el.outerHTML)`)
	if len(lines) != 1 || !strings.Contains(lines[0], `aria-live="polite"`) {
		t.Errorf("the page speaks through %q", lines)
	}
	b.click(card(3))
	b.click(card(5))
	start := time.Now()
	b.click(actOfChosen("box"))
	b.hears("Done: Set 5 aside.")
	if waited := time.Since(start); waited > 3*time.Second {
		t.Errorf("it spoke after %v", waited)
	}
}
