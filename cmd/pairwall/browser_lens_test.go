package main

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
)

// line is how many spreads make a line of the wall, counted on the screen.
const line = `(() => {
	const rows = [...document.querySelectorAll('[data-region="wall"] > [data-spread]')].map((el) => el.getBoundingClientRect());
	return rows.filter((box) => Math.abs(box.top - rows[0].top) < 2).length;
})()`

// inSight tells how many spreads lie whole between bar and table.
const inSight = `(() => {
	const top = document.querySelector(".head-bar").getBoundingClientRect().bottom, bottom = document.querySelector(".tray").getBoundingClientRect().top;
	return [...document.querySelectorAll('[data-region="wall"] > [data-spread]')].map((el) => el.getBoundingClientRect())
		.filter((box) => box.top > top - 1 && box.bottom < bottom + 1).length;
})()`

const allAtRest = `!document.getAnimations().some((a) => a.playState === "running")`

// stands waits until so many spreads make a line and nothing moves any more.
func (b *tab) stands(spreads int) {
	b.t.Helper()
	now := 0
	b.wait(fmt.Sprintf("%d spreads make a line", spreads),
		func() bool { now = read[int](b, line); return now == spreads && read[bool](b, allAtRest) },
		func() string { return fmt.Sprintf("; %d do", now) })
}

// wheel turns the wheel with Ctrl held.
func (b *tab) wheel(at point, by float64) {
	b.t.Helper()
	event := input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseWheel, X: at.X, Y: at.Y, DeltaX: 0.01, DeltaY: by, Modifiers: int64(chromedp.ModifierCtrl)}
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, input.DispatchMouseEvent, event)
		return err
	}))
}

func (b *tab) top(selector string) float64 {
	b.t.Helper()
	return read[float64](b, call(`(s) => document.querySelector(s).getBoundingClientRect().top`, selector))
}

func TestOneStepsBackUntilTheWholeSequenceIsInSightAndInUntilOneSpreadIs(t *testing.T) {
	a := startApp(t)
	a.multiply(120)
	a.pairs(60)
	b := a.visit(desktop)
	b.stands(4)

	b.key("-")
	b.stands(5)
	b.hears("5 spreads to a line.")
	b.key("+")
	b.stands(4)
	b.key("0")
	b.hears("the whole sequence is in sight.")
	b.until("every spread lies whole in sight", inSight+" === 62")
	b.until("the nearest step is one spread", allAtRest)
	b.click(foot(a.wall().Spreads[30].ID))
	b.key("1")
	b.stands(1)
	b.until("exactly one lies whole in sight", inSight+" === 1")
	if n := read[int](b, fmt.Sprintf(`(() => { const box = document.querySelector('[data-spread="%d"]').getBoundingClientRect(); return Math.round(box.top); })()`, a.wall().Spreads[30].ID)); n < 0 || n > 300 {
		t.Errorf("the chosen spread begins at %d px", n)
	}
	b.until("its pictures are drawn with more pixels", `[...document.querySelectorAll('[data-region="wall"] img')].some((img) => /400/.test(img.src))`)
	b.click(group("look"))
	b.click(act("whole"))
	b.until("every spread lies whole in sight", inSight+" === 62")
	b.reload()
	b.there(opening)
	b.until("where one stood is kept", inSight+" > 40")

	slider := `[data-view="size"]`
	b.do(chromedp.Focus(slider))
	was := read[int](b, line)
	b.key(kb.ArrowRight)
	b.stands(was - 1)
	if words := read[string](b, call(`(s) => document.querySelector(s).getAttribute("aria-valuetext")`, slider)); words != fmt.Sprintf("%d spreads to a line.", was-1) {
		t.Errorf("the slider says %q", words)
	}
}

func TestTheWheelStepsAboutThePlaceUnderTheEye(t *testing.T) {
	a := startApp(t)
	a.multiply(120)
	a.pairs(60)
	b := a.visit(desktop)
	here := fmt.Sprintf(`[data-spread="%d"] [data-page="left"]`, a.wall().Spreads[24].ID)
	at := b.spot(here)
	was := b.top(here)

	for range 3 {
		b.wheel(at, 40)
	}
	b.until("it steps back", line+" > 4 && "+allAtRest)
	if now := b.top(here); math.Abs(now-at.Y) > 0.6*math.Abs(was-at.Y)+40 {
		t.Errorf("the page under the pointer lay at %.0f and lies at %.0f px, pointed at %.0f", was, now, at.Y)
	}
	for range 9 {
		b.wheel(at, -60)
	}
	b.stands(1)
	if now := read[string](b, `(() => { const wall = document.querySelector(".wall"); return wall.style.transform + wall.style.willChange; })()`); now != "" {
		t.Errorf("at rest the wall is still drawn by %q", now)
	}
	b.wheel(at, 3) // less than a step
	b.until("all is at rest", allAtRest)
	b.stands(1)
}

func TestTwoFingersStepBackAndIn(t *testing.T) {
	a := startApp(t)
	a.multiply(60)
	a.pairs(30)
	b := a.visitByTouch()
	b.stands(1)
	middle := point{195, 300}
	pinch := func(from, to float64) {
		b.finger(input.DispatchTouchEventTypeTouchStart, middle.plus(0, -from), middle.plus(0, from))
		const steps = 8
		for i := 1.0; i <= steps; i++ {
			by := from + (to-from)*i/steps
			b.finger(input.DispatchTouchEventTypeTouchMove, middle.plus(0, -by), middle.plus(0, by))
		}
		b.finger(input.DispatchTouchEventTypeTouchEnd)
	}
	pinch(120, 50)
	b.until("it steps back", line+" >= 2 && "+allAtRest)
	b.unchanged(a.wall().Revision)
	away := read[int](b, line)
	pinch(60, 110)
	b.until("it steps in", fmt.Sprintf("%s < %d && %s", line, away, allAtRest))
	if scale := read[float64](b, "visualViewport.scale"); scale != 1 {
		t.Errorf("the browser magnified the page %g times as well", scale)
	}
	for range 6 {
		pinch(120, 25)
	}
	b.until("the whole sequence is in sight", inSight+" === 32")
	b.gone(".ghost")
}

func TestNewsFromAnotherWindowDoNotEndAGesture(t *testing.T) {
	a := startApp(t)
	a.multiply(60)
	a.pairs(30)
	q := a.wall()
	next := q.Clone()
	next.Spreads[0].Pinned = true
	change, err := sequence.Between(q, next, "pin")
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := a.store.Apply(t.Context(), a.title, change, "test"); err != nil {
		t.Fatal(err)
	}
	b := a.visit(desktop)
	b.there("[data-pinned]")
	b.stands(4)
	b.wheel(b.spot(card(9)), 60)
	a.post("undo", map[string]any{"revision": a.wall().Revision}) // within the moment in which the wheel may be turned further
	b.gone("[data-pinned]")
	b.until("it steps back", line+" > 4 && "+allAtRest)
}

func TestWhoWantsNoMotionStandsThereAtOnce(t *testing.T) {
	a := startApp(t)
	a.multiply(60)
	a.pairs(30)
	b := a.visit(desktop)
	b.calm()
	b.key("-")
	b.hears("5 spreads to a line.")
	if !read[bool](b, allAtRest) || read[int](b, line) != 5 {
		t.Errorf("something moves, or %d spreads make a line", read[int](b, line))
	}
}

// calm makes the tab one of a person who wants no motion.
func (b *tab) calm() {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}},
		})
		return err
	}))
}

func TestSpreadsAreLaidOutAheadInQuietMoments(t *testing.T) {
	const spreads, most = 270, 250
	a := startApp(t)
	a.multiply(2 * spreads)
	a.pairs(spreads)
	b := a.visit(desktop)
	ahead := func(row string) string {
		return fmt.Sprintf(`document.querySelectorAll("[data-ahead]").length === %d && getComputedStyle(document.querySelector(%q)).contentVisibility === "visible"`, most, row)
	}
	b.until("so many as are nearest are laid out", ahead(".wall > .opening"))
	if read[bool](b, `document.querySelector(".wall > .closing").hasAttribute("data-ahead")`) {
		t.Error("the spread that is farthest away was laid out, too")
	}
	read[chromedp.Void](b, `scrollTo(0, document.documentElement.scrollHeight)`)
	b.until("others are now", ahead(".wall > .closing"))
	if read[bool](b, `document.querySelector(".wall > .opening").hasAttribute("data-ahead")`) {
		t.Error("the spread that is farthest away now was not let go")
	}
}
