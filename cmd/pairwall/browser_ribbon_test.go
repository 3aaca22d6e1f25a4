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

func TestTheRibbonIsPressedWithAFinger(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 5) [6]")
	b := a.visitByTouch()
	b.tap(act("ribbon"))
	b.tap(ribbonLine)
	b.ribbonSays("Pages 4 and 5: photos 4 and 5.")
}
