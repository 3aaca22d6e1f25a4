package main

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"

	"github.com/chromedp/chromedp/kb"
	"pairwall/sequence/pages"
)

func group(name string) string { return fmt.Sprintf(`[data-group="%s"]`, name) }

// focused is the mark of what has the focus, so that a failing check names it.
const focused = `document.activeElement.dataset.act ?? document.activeElement.dataset.group ?? document.activeElement.tagName`

func (b *tab) focusOn(mark string) {
	b.t.Helper()
	on := ""
	b.wait("the focus is on "+mark, func() bool { on = read[string](b, focused); return on == mark },
		func() string { return "; it is on " + on })
}

func TestCommandsLieInGroupsThatOpenOneAtATime(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)

	b.click(group("photographs"))
	b.there(group("photographs") + `[aria-expanded="true"]`)
	b.there(act("choose-by"))
	b.click(group("pairs"))
	b.there(act("arrange"))
	b.gone(act("choose-by"))
	b.click(card(9)) // elsewhere
	b.gone(act("arrange"))
	b.click(group("pairs"))
	b.click(act("loss"))
	b.gone(act("arrange"))
	b.there(panel("loss"))
	b.click(group("pairs"))
	b.there(act("loss") + `[aria-pressed="true"]`)
	b.click(act("loss"))
	b.gone(panel("loss"))
	if n := read[int](b, `[...document.querySelectorAll("[data-group]")].filter((el) => el.dataset.holds === "").length`); n > 0 {
		t.Errorf("%d groups hold nothing", n)
	}
}

func TestGroupsAreWalkedFromTheKeyboard(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)

	b.tabTo(group("photographs"))
	b.key(kb.ArrowDown)
	b.focusOn("bring")
	b.key(kb.ArrowUp)
	b.focusOn("originals")
	b.key(kb.Home, kb.ArrowDown)
	b.focusOn("choose-by")
	b.key(kb.ArrowRight)
	b.focusOn("pairs")
	b.there(group("pairs") + `[aria-expanded="true"]`)
	b.key(kb.ArrowDown)
	b.focusOn("partners")
	b.key(kb.Escape)
	b.focusOn("pairs")
	b.gone(act("partners"))
	b.key(kb.ArrowUp) // opens at the end
	b.focusOn("loss")
	b.key(kb.ArrowUp)
	b.key(kb.Enter)
	b.there(panel("arrange") + "[open]")
	b.key(kb.Escape)
	b.gone(panel("arrange"))
	b.focusOn("pairs")
	b.key(kb.Enter)
	b.there(act("partners"))
	b.key(kb.Tab, kb.Tab, kb.Tab, kb.Tab) // through the list and on
	b.gone(act("partners"))
}

func TestTheBarKeepsOneLineFromALaptopUp(t *testing.T) {
	a := startApp(t)
	a.multiply(400)
	a.pairs(24)
	b := a.visit(desktop)
	b.click(act("count-pages"))
	b.click(`[data-binding="saddle-stitch"]`)
	b.says(`[data-binding="saddle-stitch"]`, "2 pages more")
	b.there(`[data-binding="saddle-stitch"] :checked`)
	b.click(act("take-format"))
	b.wait("the title keeps it", func() bool {
		title, err := a.store.Title(t.Context(), a.title)
		return err == nil && title.Binding == string(pages.SaddleStitch)
	}, func() string { return "" })
	b.click(panel("format") + " " + act("close"))
	b.says(".counts .lack", "2 more or fewer for saddle stitch") // the longest the bar says
	for _, width := range []int64{1280, 1380, 1400, 1520, 1600, 2560} {
		b.do(chromedp.EmulateViewport(width, 900))
		b.until("the window has its size", fmt.Sprintf("innerWidth === %d", width))
		for _, what := range read[[]string](b, headBarCrowded) {
			t.Errorf("at %d px: %s", width, what)
		}
	}
}

func TestAnOpenGroupLiesWholeInTheWindow(t *testing.T) {
	for _, as := range []struct {
		name string
		size
	}{{"a phone", size{360, 740}}, {"twice as large", size{640, 450}}} {
		t.Run(as.name, func(t *testing.T) {
			b := startApp(t).visit(as.size, chromedp.EmulateMobile, chromedp.EmulateTouch)
			for _, name := range read[[]string](b, `[...document.querySelectorAll("[data-group]")].map((el) => el.dataset.group)`) {
				b.tap(group(name))
				b.there(group(name) + ` + ul`)
				for _, what := range read[[]string](b, cutOff) {
					t.Errorf("%s: %s", name, what)
				}
				if hidden := read[[]string](b, `[...document.querySelectorAll(".head-row")].filter((el) => {
					const box = el.getBoundingClientRect();
					return box.height < 44 || box.left < 0 || box.right > innerWidth || document.elementFromPoint(box.left + 4, box.top + box.height / 2)?.closest(".head-row") !== el;
				}).map((el) => el.textContent)`); len(hidden) > 0 {
					t.Errorf("in %s, too small, cut off or covered: %q", name, hidden)
				}
				b.tap(group(name))
				b.gone(group(name) + ` + ul`)
			}
			b.tap(act("map"))
			b.there(panel("map"))
		})
	}
}
