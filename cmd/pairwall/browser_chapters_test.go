package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
)

// Chapters and notes: by pointer, by finger and from the keyboard.

// chapterName is the name of a chapter above its first spread.
func chapterName(id sequence.ChapterID) string {
	return fmt.Sprintf(`.chapter-name[data-chapter="%d"]`, id)
}

func stack(id sequence.ChapterID) string { return fmt.Sprintf(`[data-stack="%d"]`, id) }

// chapters writes a wall's chapters with the spreads they hold: "Ferry: 2 3".
func chapters(q sequence.Sequence) string {
	var told []string
	for _, c := range q.Chapters {
		line := c.Name + ":"
		for _, s := range q.Spreads {
			if s.Chapter == c.ID {
				line += fmt.Sprintf(" %d", s.ID)
			}
		}
		told = append(told, line)
	}
	return strings.Join(told, "; ")
}

func (b *tab) hasChapters(want string) {
	b.t.Helper()
	stored := ""
	b.wait("the data file has the chapters "+want,
		func() bool { stored = chapters(b.app.wall()); return stored == want },
		func() string { return "; it has " + stored })
}

// standOn gives an element of the wall the focus, as walking to it would.
func (b *tab) standOn(selector string) {
	b.t.Helper()
	b.until("the focus is on "+selector, call("(s) => { const el = document.querySelector(s); el?.focus(); return el !== null && document.activeElement === el; }", selector))
}

// pick takes an entry of a list of choices.
func (b *tab) pick(selector, value string) {
	b.t.Helper()
	b.until(selector+" is "+value, call("(s, v) => { const el = document.querySelector(s); el.value = v; el.dispatchEvent(new Event('change', { bubbles: true })); return el.value === v; }", selector, value))
}

// anew marks what is in the field, so that typing replaces it: the driver sends a
// key's letter even after the page has taken the key for itself.
func (b *tab) anew() {
	b.t.Helper()
	b.until("a field has the focus", `(() => { const el = document.activeElement; el.select?.(); return el.matches("input, textarea"); })()`)
}

// nameChapter names a run without hands, for tests of what comes after.
func (a *app) nameChapter(name string, from, to int) {
	a.t.Helper()
	q := a.wall()
	next := q.Clone()
	next.LastChapter++
	next.Chapters = append(next.Chapters, sequence.Chapter{ID: next.LastChapter, Name: name})
	for i := from; i <= to; i++ {
		next.Spreads[i].Chapter = next.LastChapter
	}
	change, err := sequence.Between(q, next, "name "+name)
	if err != nil {
		a.t.Fatal(err)
	}
	if _, _, err := a.store.Apply(a.t.Context(), a.title, change, "test"); err != nil {
		a.t.Fatal(err)
	}
}

func TestAChapterIsNamedMovedFoldedAndEndedWithThePointer(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) (5 6) (7 8) [-]")
	b := a.visit(desktop)

	b.bringAxe()
	b.click(foot(1))
	b.click(actOfChosen("name-chapter"))
	b.there(panel("chapter"))
	b.click(act("name-run"))
	b.says(panel("chapter"), "A chapter needs a name.")
	b.write(`[data-say="chapter-name"]`, "Ferry at dawn")
	b.pick(`[data-say="chapter-to"]`, "2")
	b.passes("the naming of a chapter", panel("chapter"))
	b.click(act("name-run"))
	b.gone(panel("chapter"))
	b.hears("Done: Name pages 2–5 “Ferry at dawn”.")
	b.hasChapters("Ferry at dawn: 1 2")

	b.drag(chapterName(1), between(4), "move the chapter here")
	b.sees("[-] (5 6) (7 8) (1 2) (3 4) [-]")
	b.hasChapters("Ferry at dawn: 1 2")
	b.drag(foot(3), between(3), "move here") // a spread put inside the run joins it
	b.hears("join chapter “Ferry at dawn”.")
	b.hasChapters("Ferry at dawn: 1 3 2")
	b.click(act("undo"))
	b.hasChapters("Ferry at dawn: 1 2")

	b.click(`[data-run="1"] ` + act("fold-here"))
	b.says(stack(1), "2 spreads, pages 6–9")
	b.passes("a wall with a folded chapter", region("wall"))
	b.drag(stack(1)+" .page", between(0), "move the chapter here")
	b.sees("[-] (1 2) (3 4) (5 6) (7 8) [-]")
	b.reload()
	b.says(stack(1), "2 spreads, pages 2–5")
	b.says(`[data-spread="3"] .foot`, "6")
	b.click(stack(1) + " " + act("fold-here"))
	b.gone(stack(1))

	b.click(chapterName(1))
	b.click(actOfChosen("end-chapter"))
	b.gone(chapterName(1))
	b.hasChapters("")
	b.click(act("undo"))
	b.says(chapterName(1), "Ferry at dawn")
}

func TestAChapterIsMovedByAFingerOnItsName(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) (5 6) [-]")
	a.nameChapter("Ferry", 2, 2)
	b := a.visit(size{390, 1200}, chromedp.EmulateMobile, chromedp.EmulateTouch) // high enough that neither end of the way lies at an edge that scrolls

	b.pressAndDrag(chapterName(1), between(1), "move the chapter here")
	b.sees("[-] (1 2) (5 6) (3 4) [-]")
	b.hasChapters("Ferry: 3")
	b.tap(chapterName(1))
	b.tap(actOfChosen("fold-chapter"))
	b.says(stack(1), "1 spread, pages 4–5")
	b.tap(stack(1) + " " + act("fold-here"))
	b.tap(chapterName(1))
	b.tap(actOfChosen("choose-where"))
	b.tap(between(0))
	b.sees("[-] (5 6) (1 2) (3 4) [-]")
}

func TestAChapterIsNamedMovedAndFoldedFromTheKeyboard(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) (5 6) [-]")
	b := a.visit(desktop)
	other := b.beside()

	b.click(card(3))
	b.key("g")
	b.there(panel("chapter"))
	b.anew()
	b.key("Стара лука", kb.Enter)
	b.gone(panel("chapter"))
	b.hasChapters("Стара лука: 2 3")
	other.says(chapterName(1), "Стара лука")

	b.click(card(3))
	b.key(kb.ArrowLeft) // the name is a step on the way like any other
	b.until("the name has the focus", call("(s) => document.activeElement === document.querySelector(s)", chapterName(1)))
	b.key("g")
	b.there(`[data-say="chapter"]`)
	b.anew()
	b.key("Old quay", kb.Enter)
	b.hasChapters("Old quay: 2 3")
	b.until("the name keeps the focus", call("(s) => document.activeElement === document.querySelector(s)", chapterName(1)))
	b.key(" ")
	b.hears("Chapter “Old quay” picked up.")
	b.key(kb.Home)
	b.key(" ")
	b.sees("[-] (3 4) (5 6) (1 2) [-]")
	b.hears("Done: Move chapter “Old quay” to pages 2–5.")
	other.shows("[-] (3 4) (5 6) (1 2) [-]")

	b.standOn(chapterName(1))
	b.key("y")
	b.there(stack(1))
	b.hears("Chapter “Old quay” is folded.")
	b.standOn(card(1))
	b.key("m") // the places inside the stack are passed over
	b.key(kb.ArrowLeft)
	b.there(stack(1) + " [data-aimed]")
	b.key(kb.Escape)
	b.standOn(chapterName(1))
	b.key("y")
	b.gone(stack(1))
	b.keyWith("z", chromedp.ModifierCtrl)
	b.sees("[-] (1 2) (3 4) (5 6) [-]")
}

func TestNotesAreWrittenShownFoundAndUndone(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	b := a.visit(desktop)

	b.bringAxe()
	b.click(card(1))
	b.key("e")
	b.there(`[data-fact="why"] textarea`)
	b.until("the field has the focus", `document.activeElement.dataset.say === "why"`)
	b.anew()
	b.key("Both wait for the same boat.")
	b.click(act("say-why"))
	b.hears("Done: Write a note on pages 2–3.")
	b.says(foot(1), "noted")
	b.write(`[data-say="note"]`, "Print it darker.")
	b.click(act("say-note"))
	b.hears("Done: Write a note on photo 1.")
	b.there(card(1) + "[data-noted]")
	b.passes("notes beside the wall", panel("facts"))
	b.says(".hand", "Both wait for the same boat.")
	b.says(".hand", "Print it darker.")

	b.wait("the data file has the note", func() bool { return a.wall().Spreads[0].Note != "" }, func() string { return "" })
	kept := a.wall()
	if kept.Spreads[0].Note != "Both wait for the same boat." {
		t.Errorf("the wall has %q", kept.Spreads[0].Note)
	}
	b.reload()
	b.there(card(1) + "[data-noted]")
	b.click(act("undo"))
	b.gone(card(1) + "[data-noted]")
	b.click(act("undo"))
	b.until("the note is gone", `!document.querySelector(".wall").textContent.includes("noted")`)
}
