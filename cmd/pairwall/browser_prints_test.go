package main

import (
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
	into := t.TempDir()
	chosen := browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: into,
		BrowserContextID: chromedp.FromContext(b.ctx).BrowserContextID}
	if _, err := chromedp.Call(b.ctx, browser.SetDownloadBehavior, chosen); err != nil {
		t.Fatal(err)
	}

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
	b.wait("the file arrives", func() bool {
		files, _ := filepath.Glob(filepath.Join(into, "*.pdf"))
		return len(files) == 1
	}, func() string { return "" })
	files, _ := filepath.Glob(filepath.Join(into, "*.pdf"))
	file, err := os.ReadFile(files[0])
	if err != nil || !strings.HasPrefix(string(file), "%PDF-") || filepath.Base(files[0]) != titleName+", cards.pdf" {
		t.Errorf("%v, %v", files, err)
	}
	b.unchanged(1)
}
