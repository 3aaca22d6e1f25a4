package main

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

const ribbonLine = "[data-ribbon]"

// saysNow is what the ribbon says of where it stands.
const saysNow = `document.querySelector("[data-ribbon]").getAttribute("aria-valuetext")`

func (b *tab) ribbonSays(words string) {
	b.t.Helper()
	now := ""
	b.wait("the ribbon says "+words, func() bool {
		now = read[string](b, saysNow)
		return len(now) >= len(words) && now[:len(words)] == words
	},
		func() string { return "; it says " + now })
}

func TestTheRibbonShowsTheColoursAndLeadsToTheSpread(t *testing.T) {
	a := startApp(t)
	a.multiply(120)
	a.pairs(60)
	b := a.visit(desktop)

	b.key("r")
	b.there(ribbonLine)
	if colours := read[int](b, `(() => {
		const canvas = document.querySelector("[data-ribbon] canvas");
		const all = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data;
		const seen = new Set();
		for (let i = 0; i < all.length; i += 4) if (all[i + 3] === 255) seen.add(all[i] << 16 | all[i + 1] << 8 | all[i + 2]);
		return seen.size;
	})()`); colours < 50 {
		t.Errorf("the ribbon has %d colours", colours)
	}

	at := b.spot(ribbonLine).plus(5, 0) // its middle lies between two spreads
	b.mouse(chromedp.MouseMoved, at, 0, 0)
	b.says("[data-glimpse]", "photos")
	b.mouse(chromedp.MousePressed, at, 1, 1)
	b.mouse(chromedp.MouseReleased, at, 0, 1)
	row := fmt.Sprintf(`[data-spread="%d"]`, a.wall().Spreads[30].ID)
	b.until("the spread in the middle is in sight", call(`(s) => { const box = document.querySelector(s).getBoundingClientRect(); return box.top > 0 && box.bottom < innerHeight; }`, row))
	b.ribbonSays("Pages 62 and 63: photos 61 and 62.")

	b.do(chromedp.Focus(ribbonLine))
	b.key(kb.Home)
	b.ribbonSays("Page 1, alone: blank.")
	b.key(kb.ArrowRight)
	b.ribbonSays("Pages 2 and 3: photos 1 and 2.")
	b.there(`[data-glimpse="1"]`)
	b.key(kb.Enter)
	b.standsOn(1)
	b.gone("[data-glimpse]")
	b.reload()
	b.there(ribbonLine)
	b.key("r")
	b.gone(ribbonLine)
}

// barOver says whether the bar of what is in sight reaches over as much of the
// ribbon as the spreads do that are to be seen: as [first, last] of the openings,
// so told by the bar and so counted on the wall.
const barOver = `(() => {
	const [line, bar] = ["[data-ribbon]", ".ribbon-sight"].map((s) => document.querySelector(s)?.getBoundingClientRect());
	if (!bar) return null;
	const top = document.querySelector(".head-bar").getBoundingClientRect().bottom, bottom = document.querySelector(".tray").getBoundingClientRect().top;
	const rows = [...document.querySelectorAll(".wall > .spread")];
	const seen = rows.flatMap((row, i) => { const b = row.getBoundingClientRect(); return b.bottom > top && b.top < bottom ? [i] : []; });
	const pages = 2 * rows.length - 2; // the first and the last row have one page each
	const part = (x) => Math.round((x - line.left) / line.width * pages);
	return [Math.ceil(part(bar.left) / 2), Math.ceil((part(bar.right) - 1) / 2), seen[0], seen.at(-1)];
})()`

func (b *tab) barIsOverWhatIsSeen() {
	b.t.Helper()
	var now []int
	b.wait("the bar is over what is in sight", func() bool {
		now = read[[]int](b, barOver)
		return len(now) == 4 && now[0] == now[2] && now[1] == now[3]
	}, func() string { return fmt.Sprintf("; it goes as far as %v", now) })
}

func TestTheRibbonMarksWhatIsInSight(t *testing.T) {
	a := startApp(t)
	a.multiply(120)
	a.pairs(60)
	b := a.visit(desktop)
	b.key("r")
	b.there(ribbonLine)
	b.barIsOverWhatIsSeen()
	b.do(scrollTo(1500))
	b.until("it was scrolled", "scrollY > 1000")
	b.barIsOverWhatIsSeen()
	b.do(chromedp.Focus(`[data-view="size"]`))
	b.key(kb.Home) // the whole sequence
	b.barIsOverWhatIsSeen()
	b.until("all is in sight", `(() => { const [line, bar] = ["[data-ribbon]", ".ribbon-sight"].map((s) => document.querySelector(s).getBoundingClientRect()); return Math.abs(line.width - bar.width) < 1; })()`)
}

func TestOnAPhoneTheRibbonSaysPlacesAndDays(t *testing.T) {
	a := startApp(t)
	a.pairs(12)
	b := a.visitByTouch()
	b.tap(act("ribbon"))
	b.there(".ribbon-labels span")
	if words := read[[]string](b, `[...document.querySelectorAll(".ribbon-labels span")].filter((el) => el.clientWidth < 40 || !el.textContent).map((el) => el.textContent + " " + el.clientWidth)`); len(words) > 0 {
		t.Errorf("too narrow or without words: %q", words)
	}
	b.bringAxe()
	b.passes("the ribbon on a phone", ".head-bar")
}

func TestTheRibbonIsPressedWithAFinger(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 5) [6]")
	b := a.visitByTouch()
	b.tap(act("ribbon"))
	b.tap(ribbonLine)
	b.ribbonSays("Pages 4 and 5: photos 4 and 5.")
}
