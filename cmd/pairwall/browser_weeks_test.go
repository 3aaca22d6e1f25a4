package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
	"pairwall/store"
)

// The weeks a wall has hung: versions, lines of work, comparisons, what has
// settled, and the order remade from memory.

func TestAVersionIsComparedAndOneOfItsPairsHungAgain(t *testing.T) {
	a := startApp(t)
	a.hang("[9] (1 2) (3 4) (5 6) [-]")
	v, err := a.store.KeepVersion(t.Context(), a.title, "Before the ferry")
	if err != nil {
		t.Fatal(err)
	}
	a.hang("[9] (5 6) (1 2) (3 7) [-]")
	b := a.visit(desktop)

	b.click(act("versions"))
	line := fmt.Sprintf(`[data-version="%d"] `, v.ID)
	b.until("the small wall is drawn with its photos", call(`(s) => document.querySelector(s)?.toDataURL().length > 20000`, line+"canvas"))
	b.click(line + act("compare-version"))
	for figure, want := range map[string]string{"kept": "2", "broken": "1", "new": "1", "come": "1", "gone": "1", "moved": "1"} {
		b.says(panel("compare")+fmt.Sprintf(` [data-figure="%s"]`, figure), want)
	}
	b.says(panel("compare")+" [data-words]", "5 and 6 moved forward")
	b.says(panel("compare")+` [data-figure="tau"]`, "0.20 little of the order stayed") // 6 of 15 couples turned round
	b.click(panel("compare") + " " + act("hang-again"))
	b.sees("[9] (5 6) (1 2) (3 4) (- 7) [-]")
	b.hears("Done: Hang 3 and 4 again.")
	b.says(panel("compare")+` [data-figure="broken"]`, "0")

	b.click(panel("compare") + ` input[value="over"]`)
	b.there(".laid-over .above")
	b.slideToNothing("[data-over]")
	b.until("only the earlier wall is seen", `getComputedStyle(document.querySelector(".laid-over .above")).opacity === "0"`)
	b.click(panel("compare") + " " + act("close"))
	b.click(act("undo"))
	b.sees("[9] (5 6) (1 2) (3 7) [-]")
}

func TestTwoLinesOfWorkAreGoneOnWithAndAVersionTellsWhy(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	v, err := a.store.KeepVersion(t.Context(), a.title, "Two pairs")
	if err != nil {
		t.Fatal(err)
	}
	a.hang("[-] (1 2) (3 5) [-]")
	b := a.visit(desktop)
	b.click(act("versions"))
	line := fmt.Sprintf(`[data-version="%d"] `, v.ID)

	b.click(line + act("name-version"))
	b.write(line+"textarea", "the harbour works")
	b.click(line + act("save-said"))
	b.says(line+".why", "the harbour works")
	b.click(fmt.Sprintf(`[data-slip-of="%d"]`, v.ID))
	b.there(`[data-version][data-slip]`)

	b.click(line + act("go-on-from"))
	b.write(`[data-begin="name"]`, "By night")
	b.write(`[data-begin="present"]`, ", by day") // behind the name it has
	b.click(act("begin-line"))
	b.sees("[-] (1 2) (3 4) [-]")
	b.says(".lines [aria-current]", "By night")
	b.drag(card(6), opening, "put here")
	b.sees("[6] (1 2) (3 4) [-]")
	b.click(`[data-line="0"] ` + act("go-over"))
	b.sees("[-] (1 2) (3 5) [-]")
	b.hears("Done: Go over to “First line, by day”.")
	b.click(`[data-line="1"] ` + act("go-over"))
	b.sees("[6] (1 2) (3 4) [-]")
	b.click(act("undo"))
	b.sees("[-] (1 2) (3 5) [-]")

	kept, err := a.store.Version(t.Context(), a.title, v.ID)
	if err != nil || kept.Why != "the harbour works" || !kept.Slip {
		t.Errorf("%+v %v", kept, err)
	}
}

func TestTheOrderIsRemadeFromMemoryByKeysAndTheWallStays(t *testing.T) {
	a := startApp(t)
	a.hang("[9] (1 2) (3 4) [-]")
	b := a.visit(desktop)
	before := a.wall()

	b.click(act("fresh"))
	b.says(panel("fresh"), "1 of 3")
	b.key(kb.ArrowRight, kb.ArrowRight)
	b.says(panel("fresh"), "3 of 3")
	b.until("nothing is written on the pages", `document.querySelector('[data-panel="fresh"] .plain').textContent.trim() === ""`)
	b.tabTo(act("remake"))
	b.key(kb.Enter)
	for _, photo := range []sequence.PhotoID{9, 3, 4} {
		b.tabTo(fmt.Sprintf(`[data-heap="%d"]`, photo))
		b.key(kb.Enter)
		b.hears(fmt.Sprintf("Photo %d lies on page", photo))
	}
	b.reload()
	b.sees(notation(before))
	b.click(act("fresh"))
	b.there(`[data-memory-page="2"] [alt="Photo 4"]`)
	b.click(`[data-heap="1"]`)
	b.click(`[data-heap="2"]`)
	b.click(`[data-memory-page="3"]`) // 1 goes back to the heap
	b.click(`[data-heap="1"]`)
	b.click(act("compare-memory"))
	b.says(panel("fresh")+" [data-words]", "1 and 2 moved to the end")
	b.click(panel("fresh") + " " + act("save-name"))
	b.gone(panel("fresh"))
	b.sees(notation(before))
	if now := a.wall(); now.Line != before.Line || now.Revision != before.Revision+2 {
		t.Errorf("%+v", now)
	}
	versions, err := a.store.Versions(t.Context(), a.title)
	if err != nil || notation(versions[0].Sequence) != "[9] (3 4) (1 2) [-]" || versions[0].Line() != 1 {
		t.Fatalf("%+v %v", versions, err)
	}
	b.click(act("fresh"))
	b.says(panel("fresh"), "1 of 3") // the draft has gone into the version
}

// afterWeeks is the app on a wall that has hung for three evenings of May.
func afterWeeks(t *testing.T) *app {
	t.Helper()
	a := startApp(t)
	a.stop()
	st, err := store.Open(t.Context(), a.data)
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	for day, written := range []string{"[9] (1 2) (3 4) [-]", "[10] (1 2) (3 4) (5 6) [-]", "[11] (1 2) (3 7) (5 6) [-]"} {
		st.Now = func() time.Time { return time.Date(2026, 5, 3+4*day, 20, 0, 0, 0, time.UTC) }
		wall, err := st.Wall(t.Context(), a.title)
		if err != nil {
			t.Fatal(err)
		}
		change, err := sequence.Between(wall.Sequence, readNotation(t, wall.Sequence, written), "hang it")
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err := st.Apply(t.Context(), a.title, change, "a test"); err != nil {
			t.Fatal(err)
		}
	}
	served := serveData(t, a.data)
	served.title = a.title
	return served
}

func TestWhatWasBrokenAfterItHeldIsHungAgainAndVersionsAreThinnedOut(t *testing.T) {
	a := afterWeeks(t)
	b := a.visit(desktop)
	b.click(act("settled"))
	b.says(`[data-held-pair="1 2"]`, "held 3 sittings")
	b.says(`[data-restless="1"]`, "changed between 2 of 2 sittings")
	b.says(`[data-company="3"]`, "has faced 4, 7")
	b.says(`[data-broken-pair="3 4"]`, "held 2 sittings, 8 days")
	b.tabTo(`[data-broken-pair="3 4"] ` + act("hang-again"))
	b.key(kb.Enter)
	b.sees("[11] (1 2) (3 4) (- 7) (5 6) [-]")
	b.says(`[data-held-pair="3 4"]`, "hung 2 times")
	b.click(panel("settled") + " " + act("close"))
	b.click(act("undo"))
	b.sees("[11] (1 2) (3 7) (5 6) [-]")

	b.click(act("weeks"))
	b.says(panel("weeks")+" .week", "Week of")
	b.click(panel("weeks") + " " + act("thin"))
	b.says("[data-spare]", "Nothing would go.") // of each week there is one
	b.click(panel("thin") + ` input[value="none"]`)
	b.says("[data-spare]", "2 versions of 3 would go")
	b.click(panel("thin") + " " + act("thin-out"))
	b.says("[data-spare]", "Nothing would go.")
	if versions, err := a.store.Versions(t.Context(), a.title); err != nil || len(versions) != 1 {
		t.Fatalf("%+v %v", versions, err)
	}
	b.click(panel("thin") + " " + act("put-back"))
	b.says("[data-spare]", "2 versions of 3 would go")
}

func TestTheWeeksAreFreeOfAccessibilityFaults(t *testing.T) {
	a := afterWeeks(t)
	b := a.visit(desktop)
	for _, as := range []size{desktop, {360, 740}} {
		b.do(chromedp.EmulateViewport(as.width, as.height))
		b.bringAxe()
		for _, name := range []string{"weeks", "compare", "settled", "fresh"} {
			b.click(act(name))
			b.there(panel(name) + map[string]string{"weeks": " [data-version]", "compare": " .column li", "settled": " [data-broken-pair]", "fresh": " .plain"}[name])
			b.passes(name, panel(name))
			switch name {
			case "compare":
				b.click(panel(name) + ` input[value="over"]`)
				b.passes("laid over", panel(name))
			case "fresh":
				b.click(act("remake"))
				b.click("[data-heap]")
				b.passes("remaking", panel(name))
				b.click(act("let-go"))
			}
			b.click(panel(name) + " " + act("close"))
			b.gone(panel(name))
		}
		b.click(act("weeks"))
		b.click(panel("weeks") + " " + act("thin"))
		b.there("[data-spare]")
		b.passes("thin", panel("thin"))
		b.click(panel("thin") + " " + act("close"))
	}
}
