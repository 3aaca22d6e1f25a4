package main

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pairwall/sequence"
	"pairwall/sequence/intake"
)

// multiply gives a title so many photos, copies of those it has under new
// contents, with their card images.
func (a *app) multiply(count int) {
	a.t.Helper()
	photos, err := a.store.Photos(a.t.Context(), a.title)
	if err != nil {
		a.t.Fatal(err)
	}
	cards := filepath.Join(a.data, "cards")
	for n := len(photos); n < count; n++ {
		photo := photos[n%len(photos)]
		old := photo.Hash
		photo.Number, photo.Name = 0, fmt.Sprintf("copy-%d.jpg", n)
		photo.Hash = fmt.Sprintf("%x", sha256.Sum256([]byte(photo.Name)))
		photo.Path = filepath.Join(a.data, photo.Name)
		if err := os.Mkdir(filepath.Join(cards, photo.Hash), 0o700); err != nil {
			a.t.Fatal(err)
		}
		for _, size := range intake.CardSizes {
			if err := os.Link(intake.CardPath(cards, old, size), intake.CardPath(cards, photo.Hash, size)); err != nil {
				a.t.Fatal(err)
			}
		}
		if _, _, err := a.store.AddPhoto(a.t.Context(), a.title, photo); err != nil {
			a.t.Fatal(err)
		}
	}
}

// pairs hangs the first photos, two and two.
func (a *app) pairs(spreads int) {
	a.t.Helper()
	var line strings.Builder
	for i := range spreads {
		fmt.Fprintf(&line, " (%d %d)", 2*i+1, 2*i+2)
	}
	a.hang("[-]" + line.String() + " [-]")
}

// cutOff names what a person would have to scroll sideways for: whatever sticks
// out of the window, and whatever scrolls by itself and is wider inside; besides,
// words that are to be heard only and can be seen.
const cutOff = `(() => {
	const scrolls = (el) => el !== document.body && /auto|scroll/.test(getComputedStyle(el).overflowX);
	const within = (el) => { for (; el; el = el.parentElement) if (scrolls(el)) return true; return false; };
	const sticksOut = (el) => {
		const box = el.getBoundingClientRect();
		const seen = box.width > 1 && box.height > 1 && !el.closest(".unseen, .skip, [data-between]") && !within(el.parentElement);
		return seen && (box.right > innerWidth + 1 || box.left < -1);
	};
	const name = (el) => el.outerHTML.slice(0, 120);
	const out = [...document.querySelectorAll("button, a, input, select, h1, h2, p, label, [data-photo], [data-page], [data-region]")]
		.filter(sticksOut).map((el) => name(el) + " ends at " + Math.round(el.getBoundingClientRect().right));
	for (const el of document.querySelectorAll("body *")) {
		if (scrolls(el) && el.clientWidth > 0 && el.scrollWidth > el.clientWidth + 1) out.push(name(el) + " is " + el.scrollWidth + " px wide inside " + el.clientWidth);
	}
	for (const el of document.querySelectorAll(".unseen")) {
		const style = getComputedStyle(el);
		if (style.clipPath === "none" && (el.offsetWidth > 1 || el.offsetHeight > 1 || style.overflowX === "visible")) out.push(name(el) + " can be seen");
	}
	const wide = document.scrollingElement.scrollWidth;
	if (wide > innerWidth) out.push("the page is " + wide + " px wide");
	return out;
})()`

func TestNothingSticksOutOfTheWindowAndTheWallTakesItsWidth(t *testing.T) {
	for _, c := range []struct{ photos, spreads int }{{0, 0}, {3, 1}, {400, 120}} {
		t.Run(fmt.Sprintf("%d photos", c.photos), func(t *testing.T) {
			b := withPhotos(t, c.photos, c.spreads)
			for _, as := range []size{{360, 740}, {800, 900}, {1280, 900}, {2560, 1300}} {
				b.do(chromedp.EmulateViewport(as.width, as.height))
				b.until("the window has its size", fmt.Sprintf("innerWidth === %d", as.width))
				b.until("all is at rest", `!document.getAnimations().some((a) => a.playState === "running")`)
				for _, what := range read[[]string](b, cutOff) {
					t.Errorf("at %d px: %s", as.width, what)
				}
				b.fills(as, c.spreads)
			}
		})
	}
}

// withPhotos opens a title of so many photos.
func withPhotos(t *testing.T, photos, spreads int) *tab {
	t.Helper()
	if photos == 0 {
		return begin(t, "Nothing yet")
	}
	a := startApp(t)
	if photos < allPhotos {
		a.keepOnly(photos)
	}
	a.multiply(photos)
	a.pairs(spreads)
	return a.visit(desktop)
}

// keepOnly makes a title of the first few photos and turns to it.
func (a *app) keepOnly(count int) {
	a.t.Helper()
	photos, err := a.store.Photos(a.t.Context(), a.title)
	if err != nil {
		a.t.Fatal(err)
	}
	title, err := a.store.CreateTitle(a.t.Context(), "A few")
	if err != nil {
		a.t.Fatal(err)
	}
	a.title = title.ID
	for _, photo := range photos[:count] {
		photo.Number = 0
		if _, _, err := a.store.AddPhoto(a.t.Context(), a.title, photo); err != nil {
			a.t.Fatal(err)
		}
	}
}

// fills checks that the wall goes from edge to edge: its lines are as wide as it
// is, and at most a tenth of the window is margin.
func (b *tab) fills(as size, spreads int) {
	b.t.Helper()
	type measure struct{ Wall, Line, Spread float64 }
	m := read[measure](b, `(() => {
		const wall = document.querySelector('[data-region="wall"]').parentElement.getBoundingClientRect();
		const rows = [...document.querySelectorAll('[data-region="wall"] > [data-spread]')].map((el) => el.getBoundingClientRect());
		const first = rows.filter((box) => Math.abs(box.top - rows[0].top) < 2);
		return { Wall: wall.width, Line: first.at(-1).right - wall.left, Spread: Math.max(...rows.map((box) => box.width)) };
	})()`)
	if m.Wall < 0.9*float64(as.width) {
		b.t.Errorf("at %d px: the wall is %.0f px wide", as.width, m.Wall)
	}
	if spreads > 50 && m.Line < m.Wall-2 {
		b.t.Errorf("at %d px: the first line ends at %.0f px of %.0f, a spread is %.0f", as.width, m.Line, m.Wall, m.Spread)
	}
}

func TestAHundredSpreadsCanBeReorderedFromEndToEnd(t *testing.T) {
	a := startApp(t)
	a.multiply(400)
	a.pairs(120)
	b := a.visit(desktop)
	last := a.wall().Spreads[119]

	b.click(foot(last.ID))
	b.click(actOfChosen("choose-where"))
	read[chromedp.Void](b, "scrollTo(0, 0)")
	b.click(between(0))
	b.wait("the last spread is the first", func() bool { return a.wall().Spreads[0] == last }, func() string { return "" })
	b.sees(notation(a.wall()))
	b.click(".piled input") // the copies are alike and lie in piles
	b.drag(card(300), opening, "put here")
	b.wait("a photo from far down the table lies on page 1", func() bool { return a.wall().Opening == sequence.PhotoID(300) }, func() string { return "" })
}

func TestOnANarrowWindowPlacesCanBeHitWithAFinger(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(size{360, 740}, chromedp.EmulateMobile, chromedp.EmulateTouch)
	b.tap(card(5))
	b.tap(actOfChosen("choose-where"))
	b.there("body[data-placing]")
	const least = 24 // CSS pixels, WCAG 2.2, 2.5.8 Target Size (Minimum)
	for i, seen := range read[[]float64](b, `[...document.querySelectorAll("[data-between]")].map((el) => {
		const box = el.getBoundingClientRect();
		return Math.min(box.right, innerWidth) - Math.max(box.left, 0);
	})`) {
		if seen < least {
			t.Errorf("of place %d only %.0f px are to be seen", i, seen)
		}
	}
}

func TestTheGroundAndTheSizeOfThePagesAreKept(t *testing.T) {
	b := startApp(t).visit(desktop)
	width := func() float64 { return read[float64](b, `document.querySelector('[data-page="opening"]').offsetWidth`) }
	was := width()

	b.click(`input[name="ground"][value="grey"]`)
	b.there(`html[data-ground="grey"]`)
	b.click(`[data-view="size"]`) // its middle
	b.until("the pages are larger", fmt.Sprintf(`document.querySelector('[data-page="opening"]').offsetWidth > %g`, was))
	larger := width()
	b.reload()
	b.there(opening)
	b.there(`html[data-ground="grey"]`)
	if now := width(); now != larger {
		t.Errorf("the pages are %g px wide after a reload, not %g", now, larger)
	}
}
