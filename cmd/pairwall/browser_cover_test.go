package main

import (
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pairwall/sequence/pages"
	"pairwall/store"
)

// perfectBound binds the title on so many pages more than the wall has.
func (a *app) perfectBound(more int) {
	a.t.Helper()
	now, err := a.store.Pages(a.t.Context(), a.title)
	if err != nil {
		a.t.Fatal(err)
	}
	want := store.PagesWanted{Revision: now.Revision, Act: "bind it", Format: now.Format.Bound(pages.PerfectBound), Plan: now.Plan}
	for range more {
		want.Plan.Front = append(want.Plan.Front, pages.Leaf{Kind: pages.BlankLeaf})
	}
	if _, err := a.store.SavePages(a.t.Context(), a.title, want, "a test"); err != nil {
		a.t.Fatal(err)
	}
}

// designed has Ghostscript make a designer's PDF of a size in points, trimmed by
// 3 mm on every side.
func designed(t *testing.T, width, height string, trim string) string {
	t.Helper()
	dir := t.TempDir()
	from, to := filepath.Join(dir, "in.ps"), filepath.Join(dir, "harbour.pdf")
	ps := "<< /PageSize [" + width + " " + height + "] >> setpagedevice [/TrimBox [" + trim + "] /PAGE pdfmark 0.4 0.1 0.1 setrgbcolor 0 0 " + width + " " + height + " rectfill showpage"
	if err := os.WriteFile(from, []byte(ps), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.CommandContext(t.Context(), "gs", "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pdfwrite", "-o", to, from).CombinedOutput(); err != nil {
		t.Fatalf("gs: %v\n%s", err, out)
	}
	return to
}

func TestACoverGoesToItsDesignerAndComesBack(t *testing.T) {
	a := startApp(t)
	a.hang("[9] (1 2) (3 4) (5 6) (7 8) [-]")
	b := a.visit(desktop)
	a.perfectBound(38) // and the wall's 10: 48 pages, 3.24 mm
	b.bringAxe()
	into := b.downloads()

	b.click(act("cover"))
	b.says("[data-spine]", "3.24 mm, from 3.08 mm to 3.4 mm (± 5 %)")
	b.says("[data-flat]", "299.24 mm × 210 mm")
	b.says(panel("cover"), "too thin for words")
	b.passes("the cover", panel("cover"))

	b.write(`input[name="spine"]`, "6,5")
	b.do(chromedp.SendKeys(chromedp.CSS(`input[name="spine"]`), "\t"))
	b.says("[data-flat]", "302.5 mm × 210 mm")
	b.says(`.brief`, "The printer's own figure, 6.5 mm, counts")
	b.click(act("undo-cover"))
	b.says("[data-flat]", "299.24 mm × 210 mm")

	b.click(act("make-brief"))
	if brief := b.arrives(into, titleName+", cover brief.txt"); !strings.Contains(brief, "299.24 mm × 210 mm (11.781 × 8.268 in)") {
		t.Errorf("the brief: %s", brief)
	}
	b.click(act("make-template"))
	if file := b.arrives(into, titleName+", cover template.pdf"); !strings.HasPrefix(file, "%PDF-") {
		t.Errorf("it begins with %.10q", file)
	}
	b.click(act("make-template-picture"))
	b.arrives(into, titleName+", cover template 300 ppi.png")

	// 848.24 × 595.28 points are 299.24 × 210 mm; with another spine the file is wrong.
	b.giveFile(`[data-file="bring-cover"]`, designed(t, "865.25", "612.28", "8.504 8.504 856.746 603.776"))
	b.says(panel("cover"), "harbour.pdf")
	b.there(`.objections [data-harm="ask"]`)
	b.gone(`.objections [data-harm="stops"]`)
	b.says(panel("cover"), "ask for a picture of the page beside it")
	b.write(`input[name="spine"]`, "5")
	b.do(chromedp.SendKeys(chromedp.CSS(`input[name="spine"]`), "\t"))
	b.says(`.objections [data-harm="stops"]`, "made for a spine of 3.24 mm; yours is 5 mm")

	picture := filepath.Join(t.TempDir(), "harbour.png")
	file, err := os.Create(picture)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(file, image.NewGray(image.Rect(0, 0, 610, 432))); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
	b.giveFile(`[data-file="view-cover"]`, picture)
	b.there(`.block [data-face="front"] image[href*="/covers/"]`)
	b.gone(panel("cover") + " .cover-seen .trouble") // 610 × 432 pixels are 305 × 216 mm
	b.passes("the file that came back", panel("cover"))

	b.allow("422") // what is no PDF is refused, and what was there stays
	b.giveFile(`[data-file="bring-cover"]`, picture)
	b.says(panel("cover")+` [role="alert"]`, "cannot be read as a PDF")
	b.says(panel("cover"), "harbour.pdf")
	b.click(act("drop-cover"))
	b.gone(".objections")
}

func TestASimpleCoverIsSeenAroundTheBlockAndPrinted(t *testing.T) {
	a := startApp(t)
	a.hang("[9] (1 2) (3 4) (5 6) (7 8) [-]")
	b := a.visit(size{360, 800})
	a.perfectBound(60)
	into := b.downloads()
	b.click(act("cover"))
	b.there(`select[name="photo"] option[value="9"]`)
	b.pick(`select[name="photo"]`, "9")
	b.there(`.block [data-face="front"] image[href*="/9/1600.jpg"]`)
	b.pick(`select[name="manner"]`, "full-bleed")
	b.says(panel("cover"), "The words lie on the picture")
	b.click(act("turn-spine"))
	b.there(`.block[data-facing="spine"]`)
	b.there(`[data-face="spine"] .printed-words`)
	b.click(act("make-cover"))
	made := b.arrives(into, titleName+", cover.pdf")
	if !strings.HasPrefix(made, "%PDF-") {
		t.Errorf("it begins with %.10q", made)
	}
	path := filepath.Join(t.TempDir(), "cover.pdf")
	if err := os.WriteFile(path, []byte(made), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.CommandContext(t.Context(), "qpdf", "--check", path).CombinedOutput(); err != nil {
		t.Errorf("qpdf: %v\n%s", err, out)
	}
	b.unchanged(1)
}
