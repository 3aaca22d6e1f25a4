package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// bookSheet opens the sheet on which a book is printed.
func (b *tab) bookSheet() {
	b.t.Helper()
	b.click(group("pages"))
	b.click(act("print"))
	b.there(panel("print") + " " + act("begin-printing"))
}

func kindOfPDF(kind string) string {
	return panel("print") + ` input[name="kind"][value="` + kind + `"]`
}

// pageCount has another program read a PDF.
func pageCount(t *testing.T, content string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "fetched.pdf")
	if err := os.WriteFile(file, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := exec.CommandContext(t.Context(), "pdfinfo", file).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	for line := range strings.Lines(string(said)) {
		if rest, is := strings.CutPrefix(line, "Pages:"); is {
			return strings.TrimSpace(rest)
		}
	}
	t.Fatalf("no pages: %s", said)
	return ""
}

func TestABookIsPrintedFromThePageAndFetched(t *testing.T) {
	a := startApp(t)
	a.hang("[3] (1 2) (4 -) [5]")
	b := a.visit(desktop)
	into := b.downloads()

	b.bookSheet()
	b.says(panel("print"), "6 single pages")
	b.says(panel("print"), "PDF/X-4 asks for the profile of a printing press")
	b.click(panel("print") + ` input[name="marks"]`)
	b.click(act("begin-printing"))
	b.there(`[data-printing="done"]`)
	b.hears("It is made.")
	b.click(act("fetch-printing"))
	if n := pageCount(t, b.arrives(into, titleName+", pages.pdf")); n != "6" {
		t.Errorf("%s pages", n)
	}

	b.click(kindOfPDF("dummy"))
	b.says(panel("print"), "The last 2 pages of the dummy are blank")
	b.click(act("begin-printing"))
	b.says(panel("print"), "A dummy. It is made.")
	b.click(act("fetch-printing"))
	if n := pageCount(t, b.arrives(into, titleName+", dummy.pdf")); n != "5" { // two sheets on both sides, and how to make it
		t.Errorf("%s pages", n)
	}

	b.click(kindOfPDF("test"))
	b.there(act("begin-printing") + "[disabled]")
	b.write(panel("print")+` input[name="pages"]`, "2-3")
	b.click(act("begin-printing"))
	b.says(panel("print"), "A few pages at true size. It is made.")
	b.unchanged(1)
}

func TestTheSheetOnWhichABookIsPrintedIsFreeOfAccessibilityFaults(t *testing.T) {
	for _, as := range []size{desktop, {360, 740}} {
		a := startApp(t)
		a.hang("[3] (1 2) (4 -) [5]")
		b := a.visit(as)
		b.do(chromedp.EmulateViewport(as.width, as.height))
		b.bringAxe()
		b.bookSheet()
		for _, kind := range []string{"pages", "dummy", "test", "spreads"} {
			b.click(kindOfPDF(kind))
			b.passes("printing "+kind, panel("print"))
		}
		b.click(act("begin-printing"))
		b.there(`[data-printing="done"]`)
		b.passes("a PDF that is made", panel("print"))
	}
}
