package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

const (
	layouts = `[aria-label="How the prints are laid out"]`
	uses    = `[aria-label="Which prints are shown"]`
	field   = `[data-say="find"]`
)

// lies waits until the table's prints lie as written: numbers in their order,
// with the words before each group in round brackets.
func (b *tab) lies(want string) {
	b.t.Helper()
	lies := ""
	b.wait("the table lies as "+want, func() bool {
		lies = read[string](b, `[...document.querySelectorAll('[data-region="table"] [role="row"] > *')]
			.map((el) => el.getAttribute("role") === "rowheader" ? "(" + el.innerText.trim().replace(/\s+/g, " ") + ")" : el.querySelector("[data-photo]")?.dataset.photo ?? "?").join(" ")`)
		return lies == want
	}, func() string { return "; it lies as " + lies })
}

// selects chooses in a list from the keyboard.
func (b *tab) selects(selector, value string) {
	b.t.Helper()
	read[chromedp.Void](b, call("(s) => document.querySelector(s).focus()", selector))
	b.key(kb.Home)
	for range 10 {
		if read[bool](b, call("(s, v) => document.querySelector(s).value === v", selector, value)) {
			return
		}
		b.key(kb.ArrowDown)
	}
	b.fail(value + " cannot be selected")
}

// press presses a letter as a keyboard does: what the page makes of the key
// decides whether the letter is written, also where the focus has moved.
func (b *tab) press(letter string) {
	b.t.Helper()
	for _, kind := range []input.DispatchKeyEventType{input.DispatchKeyEventTypeKeyDown, input.DispatchKeyEventTypeKeyUp} {
		event := input.DispatchKeyEventParams{Type: kind, Key: letter, Code: "Key" + strings.ToUpper(letter), WindowsVirtualKeyCode: int64(strings.ToUpper(letter)[0])}
		if kind == input.DispatchKeyEventTypeKeyDown {
			event.Text = letter
		}
		b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, input.DispatchKeyEvent, event)
			return err
		}))
	}
}

// written gives the title captions in several scripts, one of them long, and
// a roll of three.
func (a *app) written() {
	a.t.Helper()
	captions := map[sequence.PhotoID]string{21: "Порт ночью", 22: "渡船在港口", 23: "שער העיר", 24: strings.Repeat("The Šibenik ferry. ", 27)[:500]}
	change := sequence.Change{Revision: a.wall().Revision, Act: "write captions", Steps: []sequence.Step{}}
	for _, id := range []sequence.PhotoID{21, 22, 23, 24} {
		change.Says = append(change.Says, sequence.Statement{Photo: id, Fact: sequence.CaptionFact, Was: sequence.Value{Text: a.photo(id).Caption}, Now: sequence.Value{Text: captions[id]}})
	}
	for _, id := range []sequence.PhotoID{20, 21, 25} {
		change.Says = append(change.Says, sequence.Statement{Photo: id, Fact: sequence.RollFact, Now: sequence.Value{Text: "7"}})
	}
	if _, _, err := a.store.Apply(a.t.Context(), a.title, change, "a test"); err != nil {
		a.t.Fatal(err)
	}
}

func TestTheTableIsLaidOutInGroupsAndShowsWhatIsAskedFor(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (26 27) [-]")
	a.hang("[-] (26 1) [-] box 28")
	a.written()
	b := a.visit(desktop)
	b.selects(layouts, "roll")
	b.lies("(Roll 7 3) 20 21 25 (Of no known roll 22) 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 22 23 24 27")
	b.selects(layouts, "taken")
	b.says(region("table"), "10 August 2024")
	b.until("what nobody knows lies last", `[...document.querySelectorAll('[role="rowheader"]')].at(-1).textContent === "Nobody knows when7"`)

	// A group's words choose the group.
	b.click(`[role="rowheader"]:nth-last-child(8) ` + act("choose-group"))
	b.chosen(20, 21, 22, 23, 24, 25, 27)
	b.hears("7 photos chosen.")
	b.click(act("put-down"))
	b.selects(layouts, "came")

	// Once on the wall: 27 was, and 1 and 26 are there now.
	b.selects(uses, "once")
	b.lies("27")
	b.hears("1 of 25 shown.")
	b.says(".shown-line", "Show the other 24 again")
	b.selects(uses, "new")
	b.until("24 are shown", `document.querySelector("[data-shown]").dataset.shown === "24"`)
	b.click(act("show-all"))
	b.gone(".shown-line")
	b.hears("All 25 are shown.")

	// Finding, in any script, and where else it lies.
	for typed, want := range map[string]string{"ночью": "21", "港口": "22", "שער": "23", "sibenik FERRY": "24", "roll 7": "20 21 25", "3, 5-7": "3 5 6 7"} {
		b.write(field, typed)
		b.lies(want)
		b.key(kb.Escape)
		b.gone(".shown-line")
	}
	b.write(field, "26-28")
	b.lies("27")
	b.says(act("found-elsewhere"), "also 1 on the wall and 1 in the box")
	b.click(act("found-elsewhere"))
	b.chosen(26, 28)
	b.click(act("show-all"))
	b.write(field, "999")
	b.lies("")
	b.says(".tray .empty", "Nothing on the table is like this.")
	b.click(act("show-all"))

	// By what they share, several kinds together, each taken back alone.
	b.click(act("show-only"))
	b.click(panel("choose") + ` input[value="roll"]`)
	b.click(`[data-group="7"] ` + act("choose-group"))
	b.lies("20 21 25")
	b.click(panel("choose") + ` input[value="missing"]`)
	b.click(`[data-group="caption"] ` + act("choose-group"))
	b.lies("20 25")
	b.says(".shown-line", "Roll 7")
	b.click(".shown-line " + act("no-longer"))
	b.until("the roll is no longer asked for", `!document.querySelector(".shown-line").textContent.includes("Roll 7")`)
	b.click(panel("choose") + " " + act("show-all"))
	b.click(panel("choose") + ` input[value="colour"]`)
	b.click(panel("choose") + " .swatches li:nth-child(2) " + act("choose-colour"))
	b.until("the prints of that colour are shown", `document.querySelector("[data-shown]").dataset.shown ===
		document.querySelector(".swatches li:nth-child(2) .colour").textContent`)
	b.there(`.swatches li:nth-child(2) [aria-pressed="true"]`)

	b.reload() // whoever comes back sees all
	b.there(region("table"))
	b.gone(".shown-line")
	b.sees("[-] (26 1) [-] box 28")
}

func TestAThousandPrintsAreLaidAnewAndTheFocusFindsTheLast(t *testing.T) {
	a := startApp(t)
	a.multiply(1000)
	b := a.visit(desktop)
	const drawn = `[...document.querySelectorAll('[data-region="table"] .print')].every((el) => el.querySelector("[data-photo]").checkVisibility({ contentVisibilityAuto: true }))`
	b.click(".piled input")
	b.until("a thousand lie there", `document.querySelectorAll('[data-region="table"] .print').length === 1000`)
	b.selects(layouts, "light")
	b.tabTo(region("table"))
	b.key(kb.End) // perhaps before it is drawn
	b.until("the focus stands on the last print, in sight", `(() => {
		const all = document.querySelectorAll('[data-region="table"] [data-photo]');
		const el = document.activeElement;
		const box = el.getBoundingClientRect();
		return el === all[all.length - 1] && el.contains(document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 3));
	})()`)
	b.gone("[data-veiled]")
	b.until("all prints are drawn", drawn)
	b.selects(layouts, "came")
	b.until("they lie as they came", `[...document.querySelectorAll('[data-region="table"] [data-photo]')].every((el, i, all) => i === 0 || Number(all[i - 1].dataset.photo) < Number(el.dataset.photo))`)
}

func TestTheTableIsSearchedFromTheKeyboard(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	a.written()
	b := a.visit(desktop)
	b.bringAxe()

	b.tabTo(region("table"))
	b.press("d")
	b.until("the field has the focus", call("(s) => document.activeElement === document.querySelector(s)", field))
	b.key(strings.Split("ferry", "")...)
	b.lies("24")
	b.passes("the table searched", ".tray")
	b.key(kb.Enter)
	b.standsOn(24)
	b.key("b")
	b.sees("[-] (1 2) [-] box 24")
	b.press("d")
	b.key(strings.Split("1, 24", "")...)
	b.lies("")
	b.key(kb.Enter)
	b.chosen(1, 24)
	b.key(kb.Escape)
	b.gone(".shown-line")
	b.tabTo(act("show-only"))
	b.key(kb.Enter)
	b.there(panel("choose"))
	b.tabTo(panel("choose") + ` input`)
	b.key(kb.ArrowRight, kb.ArrowRight)
	b.until("rolls are shown", `document.querySelector('[name="choose-by"]:checked').value === "roll"`)
	b.tabTo(`[data-group="7"]`)
	b.key(" ")
	b.until("three are shown", `document.querySelector("[data-shown]").dataset.shown === "3"`)
	b.passes("showing only a roll", panel("choose"))
}

func TestTheTableIsSearchedByTouch(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	a.written()
	b := a.visitByTouch()

	b.gone(field + ":not(.lay-out *)")
	b.tap(act("tools"))
	b.tap(field)
	b.do(chromedp.KeyEvent("roll 7"))
	b.until("three are shown", `document.querySelector("[data-shown]").dataset.shown === "3"`)
	for _, what := range read[[]string](b, cutOff) {
		t.Error(what)
	}
	b.tap(act("show-all"))
	b.gone(".shown-line")
	b.tap(act("show-only"))
	b.tap(panel("choose") + ` input[value="kind"]`)
	b.tap(`[data-group="colour"] ` + act("choose-group"))
	b.until("some are shown", `document.querySelector("[data-shown]").dataset.shown === document.querySelector('[data-group="colour"] .quiet').textContent.split(" ")[0]`)
	b.tap(panel("choose") + " " + act("show-all"))
	b.tap(panel("choose") + " " + act("close"))
	b.tap(act("count-unpaired") + ":disabled, " + act("count-pages"))
	b.there(panel("format"))
	b.tap(`[data-binding="perfect-bound"]`)
	b.tap(act("take-format"))
	b.until("what is lacking is in sight", `document.querySelector(".counts .lack").textContent.includes("42 more")`)
}

func TestEveryCountIsAnActAndThePagesKnowTheirBinding(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 -) (- 20) (5 - across) [-] box 21")
	b := a.visit(desktop)
	count := func(name string, want int) {
		t.Helper()
		b.until(fmt.Sprintf("%d is the count of %s", want, name), fmt.Sprintf(`document.querySelector('[data-count="%s"]').textContent === "%d"`, name, want))
	}
	without := func(is func(sequence.Photo) bool) (numbers []sequence.PhotoID) {
		all, err := a.store.Photos(t.Context(), a.title)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range all {
			if is(p) && p.Number != 21 { // what lies in the box is not asked about
				numbers = append(numbers, p.Number)
			}
		}
		return numbers
	}
	unplaced := without(func(p sequence.Photo) bool { return p.Where == nil })
	undated := without(func(p sequence.Photo) bool { return !p.Taken.Known() || p.Scan })
	if len(unplaced) < 5 || len(undated) < 5 || slices.Equal(unplaced, undated) {
		t.Fatalf("the case is too easy: %v, %v", unplaced, undated)
	}
	count("unplaced", len(unplaced))
	count("undated", len(undated))
	b.click(act("count-unplaced"))
	b.chosen(unplaced...)
	b.hears(fmt.Sprintf("%d photos without a place chosen.", len(unplaced)))
	b.click(act("count-undated"))
	b.chosen(undated...)
	b.click(act("count-wall"))
	b.chosen(1, 2, 3, 4, 5, 20)
	count("unpaired", 2)
	b.click(act("count-unpaired"))
	b.chosen(4, 20)

	b.says(".counts .lack", "no binding yet")
	b.tabTo(act("count-pages"))
	b.key(kb.Enter)
	b.there(panel("format") + ` [data-misfits="0"]`)
	b.bringAxe()
	b.passes("the format", panel("format"))
	b.click(`[data-binding="saddle-stitch"]`)
	b.says(`[data-binding="saddle-stitch"]`, "2 pages more make 12, 2 fewer make 8.")
	b.says(panel("format")+` [data-misfit="count"]`, "10 pages cannot be bound with saddle stitch.") // told before it is taken
	b.click(act("take-format"))
	b.wait("the title keeps it", func() bool {
		title, err := a.store.Title(t.Context(), a.title)
		return err == nil && title.Binding == string(pages.SaddleStitch)
	}, func() string { return "" })
	b.click(panel("format") + " " + act("close"))
	b.says(".counts .lack", "2 more or fewer for saddle stitch")
	b.click(`[data-spread="1"] [data-handle]`)
	b.click(actOfChosen("add-after"))
	b.until("12 pages lack nothing", `document.querySelector(".counts .lack").textContent === ", saddle stitch"`)
	b.wait("the data file has one more", func() bool { return len(a.wall().Spreads) > 4 }, func() string { return "" })
	if wall := a.wall(); len(wall.Spreads) != 5 {
		t.Errorf("there are %d spreads, want the one that was added and no more", len(wall.Spreads))
	}
	b.reload()
	b.says(".counts .lack", "saddle stitch")
}
