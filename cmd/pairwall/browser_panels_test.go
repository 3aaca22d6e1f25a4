package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

// slideToNothing draws a slider's thumb to its left end.
func (b *tab) slideToNothing(selector string) {
	b.t.Helper()
	b.spot(selector)
	ends := read[[]point](b, call(`(s) => {
		const el = document.querySelector(s), box = el.getBoundingClientRect(), y = box.top + box.height / 2;
		const part = (el.value - el.min) / (el.max - el.min);
		return [{ x: box.left + 5 + part * (box.width - 10), y }, { x: box.left - 4, y }];
	}`, selector))
	b.mouse(chromedp.MouseMoved, ends[0], 0, 0)
	b.mouse(chromedp.MousePressed, ends[0], 1, 1)
	b.carry(ends[0], ends[1])
	b.mouse(chromedp.MouseReleased, ends[1], 0, 1)
	b.until(selector+" stands at nothing", call(`(s) => document.querySelector(s).value === "0"`, selector))
}

// proposed lists the partners on the screen that are not marked down for being
// nearly the same picture, best first.
func (b *tab) proposed() []sequence.PhotoID {
	b.t.Helper()
	return read[[]sequence.PhotoID](b, `[...document.querySelectorAll('[data-panel="partners"] [data-partner]')]
		.filter((line) => !line.textContent.includes("Nearly the same")).map((line) => Number(line.dataset.partner))`)
}

func TestPartnersFollowTheSlidersAndOneIsTaken(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)

	b.click(card(4))
	b.click(actOfChosen("partners"))
	b.there(panel("partners") + " [data-partner]")
	b.says(panel("partners"), "Who could face 4?")
	before := b.proposed()

	b.slideToNothing(`[data-weight="colour"]`)
	b.slideToNothing(`[data-weight="time"]`)
	b.slideToNothing(`[data-weight="feeling"]`)
	b.slideToNothing(`[data-weight="form"]`)
	b.wait("the answer changes", func() bool { return !slices.Equal(b.proposed(), before) },
		func() string { return fmt.Sprintf("; it stays at %v", before) })
	b.wait("only what is known of the place counts, so the nearest comes first",
		func() bool { return a.nearestFirst(4, b.proposed()) },
		func() string { return fmt.Sprintf("; it is %v", b.proposed()) })
	b.wait("the sliders are kept with the title", func() bool {
		title, err := a.store.Title(t.Context(), a.title)
		return err == nil && title.Weights["colour"] == 0 && title.Weights["time"] == 0 && title.Weights["place"] == 1
	}, func() string { return "" })

	first := b.proposed()[0]
	b.click(fmt.Sprintf(`[data-partner="%d"] %s`, first, act("pair")))
	b.wait("the two hang", func() bool { return len(a.wall().Pairs()) == 1 }, func() string { return "" })
	pair := a.wall().Pairs()[0]
	if pair != (sequence.Pair{4, first}) && pair != (sequence.Pair{first, 4}) {
		t.Errorf("4 and %d were paired, %v hang", first, pair)
	}
	b.sees(fmt.Sprintf("[-] (%d %d) [-]", pair[0], pair[1]))
	b.hears(fmt.Sprintf("Done: Pair %d with %d.", pair[0], pair[1]))
}

// nearestFirst tells whether photos are in order of their distance from one, as
// far as a person would call the distances different.
func (a *app) nearestFirst(from sequence.PhotoID, photos []sequence.PhotoID) bool {
	a.t.Helper()
	where := func(id sequence.PhotoID) place.LatLng {
		photo, err := a.store.Photo(a.t.Context(), a.title, id)
		if err != nil || photo.Where == nil {
			a.t.Fatalf("photo %d has no place: %v", id, err)
		}
		return photo.Where.LatLng
	}
	const same = 15 // metres: what a position in a street is worth
	far := func(id sequence.PhotoID) float64 { return max(same, place.Distance(where(from), where(id))) }
	return len(photos) > 5 && slices.IsSortedFunc(photos, func(x, y sequence.PhotoID) int { return int(far(x) - far(y)) })
}

func TestAPartnerForAPhotoOnTheWallTakesTheFacingPage(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 -) [-]")
	b := a.visit(desktop)

	b.click(card(2))
	b.click(actOfChosen("partners"))
	b.there(panel("partners") + " [data-partner]")
	first := b.proposed()[0]
	line := fmt.Sprintf(`[data-partner="%d"]`, first)
	b.says(line, "1 goes to the table")
	b.click(line + " " + act("pair"))
	want := fmt.Sprintf("[-] (%d 2) (3 -) [-]", first)
	switch first {
	case 1:
		t.Fatal("the photo it faces already is proposed")
	case 3:
		want = "[-] (3 2) [-]"
	}
	b.sees(want)
}

func TestAnArrangementIsLookedAtAndLeftWithoutATrace(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)
	before := a.wall().Revision

	b.click(act("arrange"))
	b.click(panel("arrange") + " " + act("ask-arrangement"))
	b.there(panel("arrange") + " " + act("accept"))
	if rule := b.text(panel("arrange") + " .rule"); len(strings.Fields(rule)) < 5 {
		t.Errorf("the rule of the order is told as %q", rule)
	}
	b.click(panel("arrange") + " " + act("leave"))
	b.gone(panel("arrange"))
	b.shows("[-] (1 2) [-]")
	b.unchanged(before)
	if versions, err := a.store.Versions(t.Context(), a.title); err != nil || len(versions) > 0 {
		t.Errorf("it left %d versions behind, %v", len(versions), err)
	}
}

func TestAnAcceptedArrangementIsHungAsItWasShownAndPinnedSpreadsStay(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4 pinned) (5 6) [-]")
	b := a.visit(desktop)

	b.click(act("arrange"))
	b.click(panel("arrange") + ` label:nth-of-type(2) input[name="scope"]`)
	b.click(panel("arrange") + " " + act("ask-arrangement"))
	b.there(panel("arrange") + " " + act("accept"))
	shown := read[[]string](b, `[...document.querySelectorAll('[data-panel="arrange"] .proposed > li')].map((li) =>
		"(" + [...li.querySelectorAll(".leaf")].map((leaf) => leaf.querySelector("img")?.alt.replace("Photo ", "") ?? "-").join(" ") + ")")`)
	if len(shown) < 5 {
		t.Fatalf("only %v is proposed", shown)
	}
	b.click(panel("arrange") + " " + act("accept"))
	b.gone(panel("arrange"))
	b.wait("it is hung", func() bool { return len(a.wall().Spreads) > 3 }, func() string { return "" })
	hung := notation(a.wall())
	b.sees(hung)
	if a.wall().Spreads[1] != (sequence.Spread{ID: 2, Left: 3, Right: 4, Pinned: true}) {
		t.Errorf("the pinned spread did not stay: %s", hung)
	}
	for _, spread := range shown {
		if !strings.Contains(hung, spread) {
			t.Errorf("%s was shown and not hung: %s", spread, hung)
		}
	}
	b.click(act("undo"))
	b.sees("[-] (1 2) (3 4 pinned) (5 6) [-]")
}

func TestAnEarlierVersionIsLookedAtAndBroughtBackAndThePresentIsKept(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	b := a.visit(desktop)

	b.click(act("versions"))
	b.write(panel("versions")+" input", "Before the journey south")
	b.click(panel("versions") + " " + act("save-name"))
	b.says(panel("versions")+" [data-version]", "Before the journey south")
	named := read[int](b, `Number(document.querySelector("[data-version]").dataset.version)`)

	b.drag(card(5), onSpread(1, sequence.Left), "put here, 1 to the table")
	b.sees("[-] (5 2) (3 4) [-]")

	b.click(fmt.Sprintf(`[data-version="%d"] %s`, named, act("look-at-version")))
	b.shows("[-] (1 2) (3 4) [-]")
	b.there(".band")
	b.says(".band", "You are looking at Before the journey south")
	present := a.wall().Revision
	b.click(card(1))
	b.gone(actOfChosen("swap"))
	b.key("s")
	b.lookOnly(card(3), opening)
	b.unchanged(present)

	b.click(".band " + act("return-to-present"))
	b.sees("[-] (5 2) (3 4) [-]")
	b.click(fmt.Sprintf(`[data-version="%d"] %s`, named, act("bring-back")))
	b.sees("[-] (1 2) (3 4) [-]")
	b.gone(".band")
	versions, err := a.store.Versions(t.Context(), a.title)
	if err != nil || len(versions) != 2 || notation(versions[0].Sequence) != "[-] (5 2) (3 4) [-]" {
		t.Fatalf("the present wall was not kept: %+v, %v", versions, err)
	}
	b.there(fmt.Sprintf(`[data-version="%d"]`, versions[0].ID))
	b.click(act("undo"))
	b.sees("[-] (5 2) (3 4) [-]")
}

// lookOnly tries to drag where nothing can be moved.
func (b *tab) lookOnly(from, to string) {
	b.t.Helper()
	start, end := b.spots(from, to)
	b.mouse(chromedp.MouseMoved, start, 0, 0)
	b.mouse(chromedp.MousePressed, start, 1, 1)
	b.carry(start, end)
	b.gone(".ghost")
	b.gone("[data-aimed]")
	b.mouse(chromedp.MouseReleased, end, 0, 1)
}
