package main

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/store"
)

// planned waits until the data file has pages of which something is so.
func (b *tab) planned(a *app, what string, is func(store.Pages) bool) store.Pages {
	b.t.Helper()
	var now store.Pages
	b.wait(what, func() bool {
		var err error
		now, err = a.store.Pages(b.t.Context(), a.title)
		return err == nil && is(now)
	}, func() string { return fmt.Sprintf("; they are %+v", now) })
	return now
}

func placement(p store.Pages, photo sequence.PhotoID) pages.Placement {
	for _, one := range p.Plan.Placements {
		if one.Photo == photo {
			return one
		}
	}
	return pages.Placement{}
}

// writeOver types in place of what a field has.
func (b *tab) writeOver(selector, words string) {
	b.t.Helper()
	b.write(selector, "")
	b.keyWith("a", chromedp.ModifierCtrl)
	b.do(chromedp.KeyEvent(words))
}

func half(page int) string     { return fmt.Sprintf(`[data-half="%d"]`, page) }
func overview(page int) string { return fmt.Sprintf(`[data-page-of="%d"]`, page) }

// inHand opens the pages with a page's spread in the hand.
func (b *tab) inHand(press func(string), page int) {
	b.t.Helper()
	press(act("pages"))
	b.there(overview(page) + `[aria-selected]`)
	press(overview(page))
	press(act("see-fit"))
	b.there(half(page) + "[data-selected]")
}

func TestACropIsMovedByPointerAndByKeysAndTakenBack(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 -) [-]")
	b := a.visit(desktop)
	b.inHand(b.click, 2)
	b.click(`.page-settings input[value="full-bleed"]`)
	b.planned(a, "photo 2 fills its page", func(p store.Pages) bool { return placement(p, 2).Manner == pages.FullBleed })
	b.click(act("nearer"))
	near := b.planned(a, "it is nearer", func(p store.Pages) bool { c := placement(p, 2).Crop; return c != nil && c.Zoom > 1.05 })

	at := b.spot(half(2))
	b.mouse(chromedp.MouseMoved, at, 0, 0)
	b.mouse(chromedp.MousePressed, at, 1, 1)
	b.carry(at, at.plus(40, 12))
	b.mouse(chromedp.MouseReleased, at.plus(40, 12), 0, 1)
	b.hears("The crop of photo 2 is kept.")
	moved := b.planned(a, "the crop is kept", func(p store.Pages) bool { return p.Revision == near.Revision+1 })
	was, is := placement(near, 2).Crop, placement(moved, 2).Crop
	if was == nil || is == nil || is.Middle.X >= was.Middle.X || is.Zoom != was.Zoom {
		t.Errorf("drawn to the right it goes from %+v to %+v", was, is)
	}

	b.key(kb.ArrowLeft, kb.ArrowLeft, kb.ArrowLeft)
	keyed := b.planned(a, "three keys are one act", func(p store.Pages) bool { return p.Revision == moved.Revision+1 })
	if by := placement(keyed, 2).Crop.Middle.X - is.Middle.X; by <= 0 {
		t.Errorf("moved to the left the middle goes by %g", by)
	}
	b.key("+")
	b.planned(a, "plus brings it nearer", func(p store.Pages) bool { return placement(p, 2).Crop.Zoom > is.Zoom })
	b.key("0")
	b.planned(a, "and 0 shows it whole", func(p store.Pages) bool { return placement(p, 2).Crop == nil })
	for range 3 {
		b.keyWith("z", chromedp.ModifierCtrl)
	}
	b.planned(a, "three acts are taken back", func(p store.Pages) bool {
		c := placement(p, 2).Crop
		return c != nil && math.Abs(c.Middle.X-is.Middle.X) < 1e-9
	})
	b.unchanged(1) // the wall knows nothing of it
}

func TestAFingerMovesACropAndTwoBringItNearer(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 -) [-]")
	b := a.visitByTouch()
	b.inHand(b.tap, 3)
	b.tap(`.page-settings input[value="full-bleed"]`)
	b.planned(a, "photo 3 fills its page", func(p store.Pages) bool { return placement(p, 3).Manner == pages.FullBleed })
	at := b.spot(half(3))
	b.finger(input.DispatchTouchEventTypeTouchStart, at.plus(-10, 0))
	b.finger(input.DispatchTouchEventTypeTouchStart, at.plus(-10, 0), at.plus(10, 0))
	for i := 1.0; i <= 5; i++ {
		b.finger(input.DispatchTouchEventTypeTouchMove, at.plus(-10-4*i, 0), at.plus(10+4*i, 0))
	}
	b.finger(input.DispatchTouchEventTypeTouchEnd)
	near := b.planned(a, "two fingers bring it nearer", func(p store.Pages) bool { c := placement(p, 3).Crop; return c != nil && c.Zoom > 1.5 })
	b.swipe(b.spot(half(3)), b.spot(half(3)).plus(20, 30))
	b.planned(a, "one finger moves it", func(p store.Pages) bool {
		c := placement(p, 3).Crop
		return c.Middle.X < placement(near, 3).Crop.Middle.X && c.Middle.Y < placement(near, 3).Crop.Middle.Y && c.Zoom == placement(near, 3).Crop.Zoom
	})
}

func TestWhatMustStayInSightIsMarkedShownAndWarnedOf(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 - across) (4 -) [-]")
	b := a.visit(desktop)
	b.inHand(b.click, 2)
	b.click(`.page-settings input[value="full-bleed"]`)
	b.planned(a, "photo 2 fills both pages", func(p store.Pages) bool { return placement(p, 2).Manner == pages.FullBleed })
	b.click(act("mark"))
	b.there(half(2) + "[data-marking]:focus")
	b.key(kb.ArrowRight, kb.Enter) // from the middle of the picture, which lies on the fold
	b.planned(a, "the mark is kept", func(p store.Pages) bool { return placement(p, 2).Keep != nil })
	b.there(".keep-mark")
	b.says(`[data-all-misfits]`, "from the fold, where the gutter hides it")
	b.click(act("mark"))
	at := b.spot(half(2))
	b.mouse(chromedp.MouseMoved, at, 0, 0)
	b.mouse(chromedp.MousePressed, at, 1, 1)
	b.mouse(chromedp.MouseReleased, at, 0, 1)
	b.planned(a, "a click puts it elsewhere", func(p store.Pages) bool { k := placement(p, 2).Keep; return k != nil && k.X < 0.4 })
	b.until("nothing is warned of", `!document.querySelector("[data-all-misfits]").textContent.includes("from the fold")`)
}

func TestPagesBeforeTheWallThatWouldTearItAreTold(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 -) [-]")
	b := a.visit(desktop)
	b.click(act("pages"))
	b.click(act("set-book"))
	b.click(act("add-title"))
	b.says(panel("pages")+" .page-settings", "Page 1, title page")
	b.click(act("set-book"))
	b.says("[data-torn]", "no spread faces as it hangs")
	b.click(act("add-blank"))
	b.gone("[data-torn]")
	now := b.planned(a, "a blank page was added because the maker said so", func(p store.Pages) bool { return len(p.Plan.Front) == 2 })
	if now.Plan.Front[0].Kind != pages.TitleLeaf || now.Plan.Front[1].Kind != pages.BlankLeaf || now.Plan.Front[0].Text != titleName {
		t.Errorf("%+v", now.Plan.Front)
	}
	b.until("the bar counts them", `document.querySelector('[data-count="pages"]').textContent === "8"`)

	b.click(overview(1))
	b.writeOver(`textarea[name="leaf-text"]`, "Elf Tage ש\nvon Triest nach Bari")
	b.says("[data-all-misfits]", "the typeface lacks “ש” (U+05E9)")
	b.until("the words stand on the page", `[...document.querySelectorAll('.overview-spread text')].some((el) => el.textContent === "von Triest nach Bari")`)
	b.click(overview(7)) // the blank page that faces photo 4
	b.click(act("write-here"))
	b.there(`textarea[name="leaf-text"]`)
	b.write(`textarea[name="leaf-text"]`, "Written where nothing hangs.")
	b.click(panel("pages") + " " + act("close"))
	b.click(act("checks"))
	b.click(`[data-misfit="letters"] ` + act("show-on-page"))
	b.says(panel("pages")+" .page-settings", "Page 1, title page")
	b.planned(a, "words lie on a blank page", func(p store.Pages) bool {
		return len(p.Plan.Laid) == 1 && p.Plan.Laid[0].Text == "Written where nothing hangs."
	})
}

func TestAFormatTellsWhatNoLongerFitsBeforeItIsTaken(t *testing.T) {
	a := startApp(t)
	all, err := a.store.Photos(t.Context(), a.title)
	if err != nil {
		t.Fatal(err)
	}
	enough := slices.IndexFunc(all, func(p sequence.Photo) bool { return p.Width > p.Height && p.Width > 1500 && p.Width < 3900 }) // for A5, not for 19 inches
	if enough < 0 {
		t.Fatal("the case has no photo of such a size")
	}
	a.hang(fmt.Sprintf("[%d] (- -) [-]", all[enough].Number))
	b := a.visit(desktop)
	b.click(act("format"))
	b.there(panel("format") + " [data-misfits]")
	b.click(`input[name="unit"][value="in"]`)
	b.writeOver(`input[name="width"]`, "19 in")
	b.writeOver(`input[name="height"]`, "19 1/2")
	b.says(panel("format")+" .format-outcome", "would not fit any more")
	b.says(panel("format")+` [data-misfit="resolution"]`, "pixels to the inch")
	b.planned(a, "nothing is kept yet", func(p store.Pages) bool { return p.Revision == 0 })
	b.click(act("take-format"))
	now := b.planned(a, "it is taken", func(p store.Pages) bool { return p.Revision == 1 })
	if math.Abs(now.Format.Trim.Width.Inches()-19) > 1e-9 || math.Abs(now.Format.Trim.Height.Inches()-19.5) > 1e-9 || now.Format.Unit != pages.Inches {
		t.Errorf("%+v", now.Format)
	}
	b.click(act("undo-pages"))
	b.planned(a, "and taken back", func(p store.Pages) bool { return p.Format.Trim == pages.FirstFormat.Trim })
	b.writeOver(`input[name="bleed"]`, "three")
	b.says(panel("format"), "No length: write 3")
}

func TestATrueMillimetreIsLearntFromACard(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 -) [-]")
	b := a.visit(desktop)
	b.click(act("pages"))
	b.click(act("see-true"))
	b.tabTo(`input[name="screen-scale"]`)
	b.key(kb.End) // 12 pixels to the millimetre
	b.until("a card is 85.6 mm wide", `Math.abs(document.querySelector(".card-outline").getBoundingClientRect().width - 85.6 * 12) < 1 || Math.abs(document.querySelector(".card-outline").getBoundingClientRect().height - 85.6 * 12) < 1`)
	b.until("two pages of A5 are 296 mm wide", `Math.abs(document.querySelector(".in-scale .opened").getBoundingClientRect().width - 296 * 12) < 1`)
	b.reload()
	b.there(group("pages"))
	b.click(act("pages"))
	b.click(act("see-true"))
	b.until("it is asked once", `Math.abs(document.querySelector(".in-scale .opened").getBoundingClientRect().width - 296 * 12) < 1`)
}

func TestThePagesAreFreeOfAccessibilityFaultsAndNothingSticksOut(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 -) (5 - across) [-]")
	for _, as := range []size{{360, 740}, desktop, {2560, 1300}} {
		b := a.visit(as)
		b.bringAxe()
		b.click(act("pages"))
		b.there(".overview-spread")
		for _, line := range []string{"bleed", "safe"} {
			b.click(fmt.Sprintf(`input[name="line-%s"]`, line))
		}
		b.passes("all spreads", panel("pages"))
		b.tabTo(overview(1))
		b.key(kb.ArrowRight, kb.ArrowRight, kb.Enter)
		b.there(half(3) + "[data-selected]")
		b.passes("a spread in the hand", panel("pages"))
		b.click(panel("pages") + " " + act("close"))
		b.click(act("format"))
		b.there(panel("format") + " [data-misfits]")
		b.passes("the format", panel("format"))
	}
}
