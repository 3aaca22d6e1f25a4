package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
)

func TestSheetsOfSmallPrintsAreSeenBeforeTheyAreMade(t *testing.T) {
	a := startApp(t)
	a.hang("[3] (1 2) (4 -) [5]")
	b := a.visit(desktop)
	b.allow("400") // a size that cannot be is asked about all the same
	into := b.downloads()

	b.click(group("paper"))
	b.click(act("prints"))
	b.says(panel("prints"), "5 prints on 1 sheet of A4")
	if n := read[int](b, `document.querySelectorAll('[data-panel="prints"] image').length`); n != 5 {
		t.Errorf("%d pictures lie on the sheet", n)
	}
	long := func(mm string) {
		b.until("the size is written", call(`(mm) => { const el = document.querySelector('input[name="long"]'); el.value = mm; el.dispatchEvent(new Event("input", { bubbles: true })); return true; }`, mm))
	}
	long("230")
	b.says(panel("prints"), "does not fit on A4")
	b.there(act("make-cards") + "[disabled]")
	long("70")
	b.there(act("make-cards") + ":not([disabled])")
	b.click(act("make-cards"))
	file := b.arrives(into, titleName+", cards.pdf")
	if !strings.HasPrefix(file, "%PDF-") {
		t.Errorf("it begins with %.10q", file)
	}
	b.unchanged(1)
}

// downloads has files that the page hands over arrive in a folder of its own.
func (b *tab) downloads() string {
	b.t.Helper()
	into := b.t.TempDir()
	chosen := browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: into,
		BrowserContextID: chromedp.FromContext(b.ctx).BrowserContextID}
	if _, err := chromedp.Call(b.ctx, browser.SetDownloadBehavior, chosen); err != nil {
		b.t.Fatal(err)
	}
	return into
}

// arrives waits for a file of that name and returns what is in it.
func (b *tab) arrives(into, name string) string {
	b.t.Helper()
	path := filepath.Join(into, name)
	b.wait(name+" arrives", func() bool {
		known, err := os.Stat(path)
		return err == nil && known.Size() > 0 // a browser holds the name with an empty file first
	}, func() string {
		there, _ := filepath.Glob(filepath.Join(into, "*"))
		return fmt.Sprintf("; %v did", there)
	})
	content, err := os.ReadFile(path)
	if err != nil {
		b.t.Fatal(err)
	}
	return string(content)
}

func TestATitleIsPackedAndOpenedAgainFromTheFirstPage(t *testing.T) {
	a := startApp(t)
	a.hang("[3] (1 2) [-]")
	b := a.visit(desktop)
	into := b.downloads()
	b.click(group("paper"))
	b.click(act("pack"))
	b.click(`input[name="whom"][value="me"]`)
	b.says(panel("pack"), "Keep it to yourself")
	b.click(act("make-pack"))
	b.arrives(into, titleName+", packed.zip")
	b.click(act("make-csv"))
	if table := b.arrives(into, titleName+", order.csv"); !strings.Contains(table, "page,side,spread") {
		t.Errorf("%.60q", table)
	}
	b.open(a.address)
	b.there(act("unpack"))
	choose := func(path string) {
		b.do(chromedp.SetUploadFiles(chromedp.CSS(`input[type="file"]`), []string{path}))
	}
	choose(filepath.Join(into, titleName+", order.csv"))
	b.allow("422") // what is no pack is refused
	b.says(`[role="alert"]`, "no packed title")
	choose(filepath.Join(into, titleName+", packed.zip"))
	b.there(region("wall"))
	b.says("h1", titleName+" (2)")
	b.sees("[3] (1 2) [-]")
}
