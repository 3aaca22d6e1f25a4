package main

import (
	"context"
	"fmt"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"pairwall/sequence"
)

// What a person's hand does: every event goes through the browser's own input,
// not through the page's scripts.

func card(photo sequence.PhotoID) string {
	return fmt.Sprintf(`[data-region] [data-photo="%d"]`, photo)
}
func onSpread(id sequence.SpreadID, side sequence.Side) string {
	return fmt.Sprintf(`[data-page="%s"][data-spread="%d"]`, side, id)
}
func between(index int) string         { return fmt.Sprintf(`[data-between="%d"]`, index) }
func foot(id sequence.SpreadID) string { return fmt.Sprintf(`[data-handle="%d"]`, id) }
func act(name string) string           { return fmt.Sprintf(`[data-act="%s"]`, name) }
func actOfChosen(name string) string {
	return `[role="group"][aria-label="What can be done with it"] ` + act(name)
}
func panel(name string) string  { return fmt.Sprintf(`[data-panel="%s"]`, name) }
func region(name string) string { return fmt.Sprintf(`[data-region="%s"]`, name) }

const (
	opening = `[data-page="opening"]`
	closing = `[data-page="closing"]`
)

// point is a place in the window, in CSS pixels.
type point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

func (p point) plus(x, y float64) point { return point{p.X + x, p.Y + y} }

// findSpot gives the middle of what is in sight of an element that lies still
// under nothing else; null otherwise. When it is not in sight, it scrolls there.
const findSpot = `(selector) => {
	const el = document.querySelector(selector);
	if (!el || document.getAnimations().some((a) => a.playState === "running")) return null;
	const box = el.getBoundingClientRect();
	const middle = (from, to, end) => Math.round((Math.max(from, 0) + Math.min(to, end)) / 2);
	const x = middle(box.left, box.right, innerWidth), y = middle(box.top, box.bottom, innerHeight);
	const hit = document.elementFromPoint(x, y);
	if (hit && (el.contains(hit) || hit.closest("label")?.contains(el))) return { x, y };
	el.scrollIntoView({ block: "center", inline: "nearest" });
	return null;
}`

// groupOf finds the word in the bar that a command lies behind while it is not
// to be seen itself.
const groupOf = `(selector) => {
	if (document.querySelector(selector)) return "";
	const command = /^\[data-act="([a-z-]+)"\]$/.exec(selector)?.[1];
	const group = command && document.querySelector('[data-holds~="' + command + '"]');
	return group ? '[data-group="' + group.dataset.group + '"]' : "";
}`

// unfold opens the group a command lies in, as one must who wants to point at it.
func (b *tab) unfold(selector string, press func(string)) {
	b.t.Helper()
	group := read[string](b, call(groupOf, selector))
	if group == "" {
		return
	}
	// A word may move under the finger while a panel closes; one presses again then.
	b.wait(selector+" is unfolded", func() bool {
		if !read[bool](b, call(`(s) => document.querySelector(s)?.getAttribute("aria-expanded") === "true"`, group)) {
			press(group)
		}
		return read[bool](b, call(`(s) => !!document.querySelector(s)`, selector))
	}, func() string { return "" })
}

// spot waits for the place where a person would point at an element.
func (b *tab) spot(selector string) point {
	b.t.Helper()
	var at *point
	b.wait(selector+" can be pointed at", func() bool {
		at = read[*point](b, call(findSpot, selector))
		return at != nil
	}, func() string {
		return "; there is " + read[string](b, call(`(s) => { const el = document.querySelector(s); const box = el?.getBoundingClientRect(); return el ? JSON.stringify(box) + " under " + document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2)?.outerHTML.slice(0, 200) : "none"; }`, selector))
	})
	return *at
}

// spots are two places that are in sight together.
func (b *tab) spots(from, to string) (point, point) {
	b.t.Helper()
	b.spot(to)
	start := b.spot(from)
	end := b.spot(to)
	if again := b.spot(from); again != start || b.spot(to) != end {
		b.fail(from + " and " + to + " do not fit into the window together")
	}
	return start, end
}

func (b *tab) mouse(kind input.DispatchMouseEventType, at point, buttons, clicks int64) {
	b.t.Helper()
	b.pointer(input.DispatchMouseEventPointerTypeMouse, kind, at, buttons, clicks)
}

// pointer sends an event of a mouse or a pen.
func (b *tab) pointer(of input.DispatchMouseEventPointerType, kind input.DispatchMouseEventType, at point, buttons, clicks int64) {
	b.t.Helper()
	event := input.DispatchMouseEventParams{Type: kind, X: at.X, Y: at.Y, Buttons: buttons, ClickCount: clicks, PointerType: of}
	if clicks > 0 || buttons > 0 {
		event.Button = input.MouseButtonLeft
	}
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, input.DispatchMouseEvent, event)
		return err
	}))
}

// lift presses on a place and draws away from it, so that what lies there is
// carried.
func (b *tab) lift(at point) {
	b.t.Helper()
	b.mouse(chromedp.MouseMoved, at, 0, 0)
	b.mouse(chromedp.MousePressed, at, 1, 1)
	b.mouse(chromedp.MouseMoved, at.plus(3, -3), 1, 0)
	b.mouse(chromedp.MouseMoved, at.plus(9, -9), 1, 0)
	b.there(".ghost")
}

// carry moves what is carried from one place to another, on the way and not at
// once.
func (b *tab) carry(from, to point) {
	b.t.Helper()
	const steps = 6
	for i := 1.0; i <= steps; i++ {
		b.mouse(chromedp.MouseMoved, from.plus((to.X-from.X)*i/steps, (to.Y-from.Y)*i/steps), 1, 0)
	}
}

func (b *tab) letGo(at point) {
	b.t.Helper()
	b.mouse(chromedp.MouseReleased, at, 0, 1)
	b.gone(".ghost")
}

// drag carries one thing onto another with the mouse. Before it lets go, the
// place must say in words what will happen.
func (b *tab) drag(from, to, words string) {
	b.t.Helper()
	start, end := b.spots(from, to)
	b.lift(start)
	b.carry(start, end)
	b.says(to+"[data-aimed] .says", words)
	if told := b.text("[data-aimed] .says"); told != words {
		b.fail(fmt.Sprintf("the place says %q, not %q", told, words))
	}
	b.letGo(end)
	b.gone("[data-aimed]")
}

// watchPress notes whether the next press begins and ends on an element or its
// label; what the press takes away need not be there at its end.
const watchPress = `(selector) => {
	window.pressed = false;
	const on = (el, e) => el.contains(e.target) || !!e.target.closest("label")?.contains(el);
	document.addEventListener("pointerdown", (e) => {
		const el = document.querySelector(selector);
		if (!el || !on(el, e)) return;
		document.addEventListener("pointerup", (e) => { window.pressed = !el.isConnected || on(el, e); }, { capture: true, once: true });
	}, { capture: true, once: true });
}`

func (b *tab) click(selector string) {
	b.t.Helper()
	b.unfold(selector, b.click)
	// What one points at may move under the finger when an answer comes in above
	// it; one presses again then.
	b.wait(selector+" is pressed", func() bool {
		at := b.spot(selector)
		b.mouse(chromedp.MouseMoved, at, 0, 0)
		b.do(chromedp.Evaluate[chromedp.Void](call(watchPress, selector)))
		b.mouse(chromedp.MousePressed, at, 1, 1)
		b.mouse(chromedp.MouseReleased, at, 0, 1)
		return read[bool](b, "window.pressed === true")
	}, func() string { return "" })
}

// key presses keys, one after the other.
func (b *tab) key(keys ...string) {
	b.t.Helper()
	for _, k := range keys {
		b.do(chromedp.KeyEvent(k))
	}
}

// keyWith presses a key while others are held.
func (b *tab) keyWith(k string, held ...chromedp.Modifier) {
	b.t.Helper()
	b.do(chromedp.KeyEvent(k, chromedp.KeyModifiers(held...)))
}

// write clicks into a field and types.
func (b *tab) write(selector, words string) {
	b.t.Helper()
	// A field may move under the hand while a panel fills; one presses again then.
	b.wait(selector+" takes what is written", func() bool {
		b.click(selector)
		return read[bool](b, call(`(s) => document.activeElement === document.querySelector(s)`, selector))
	}, func() string { return "" })
	b.do(chromedp.KeyEvent(words))
}
