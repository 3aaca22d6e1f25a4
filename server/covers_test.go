package server

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"math"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/press/preflight"
	"pairwall/server/printing"
	"pairwall/store"
)

// bound makes a title perfect bound on 48 pages of 150 g/m² and bulk 0.9, whose
// spine is published as 3.24 mm (table of sources).
func (h *house) bound(at string) {
	h.t.Helper()
	var now store.Pages
	h.want(200, "GET", at+"/pages", nil, &now)
	want := store.PagesWanted{Revision: now.Revision, Act: "bind it", Format: now.Format.Bound(pages.PerfectBound), Plan: now.Plan}
	for range 46 { // and the wall's opening and closing page
		want.Plan.Front = append(want.Plan.Front, pages.Leaf{Kind: pages.BlankLeaf})
	}
	h.want(200, "PUT", at+"/pages", want, &now)
}

func TestACoverFollowsBlockAndPrinter(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Trieste to Bari")
	h.bound(at)
	var c printing.CoverShown
	h.want(200, "GET", at+"/cover", nil, &c)
	near := func(a pages.Length, b float64) bool { return math.Abs(float64(a)-b) < 1e-9 }
	if !near(c.Spine.Width, 3.24) || c.Spine.Printers || !near(c.Spine.Least, 3.24*0.95) || !near(c.Spine.Most, 3.24*1.05) || !near(c.Flat.Trim.Width, 2*148+3.24) {
		t.Errorf("%+v, %+v", c.Spine, c.Flat.Trim)
	}
	if !slices.ContainsFunc(c.Doubts, func(d string) bool { return strings.Contains(d, "too thin for words") }) || c.Own.Spine != nil {
		t.Errorf("letters on 3 mm: %q", c.Doubts)
	}
	events, _ := h.listen(at, "")
	plan := c.Plan
	plan.Spine, plan.Barcode, plan.Own.Name = 6.5, true, "A. Maker"
	h.want(200, "PUT", at+"/cover", coverWanted{c.Revision, plan}, &c)
	if !c.Spine.Printers || c.Spine.Width != 6.5 || !near(c.Spine.Computed, 3.24) || !near(c.Flat.Trim.Width, 302.5) || c.Own.Spine == nil || c.Flat.Barcode == nil {
		t.Errorf("%+v", c)
	}
	h.next(events, "cover", nil)
	for _, says := range []string{"302.5 mm × 210 mm", "308.5 mm × 216 mm", "6.5 mm (0.256 in)", "printer's own figure", "“Trieste to Bari”", "PDF/X-4", "Barcode"} {
		if !strings.Contains(c.Brief, says) {
			t.Errorf("the brief does not say %q:\n%s", says, c.Brief)
		}
	}
	h.refused(http.StatusConflict, sequence.Stale, "PUT", at+"/cover", coverWanted{0, plan})
	plan.Hinge = -1
	h.refused(http.StatusBadRequest, sequence.Invalid, "PUT", at+"/cover", coverWanted{c.Revision, plan})
	h.refused(http.StatusNotFound, sequence.NotFound, "GET", "/api/titles/99/cover", nil)
}

func TestTemplatesAndBriefAreMade(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Trieste to Bari")
	h.bound(at)
	out := fmt.Sprintf("/out/%d/cover-", title.ID)
	if got := h.fetch(out+"template.pdf", ""); got.status != 200 || !bytes.HasPrefix(got.body, []byte("%PDF-")) {
		t.Errorf("pdf: %d", got.status)
	}
	got := h.fetch(out+"template.png?ppi=100", "")
	size, err := png.DecodeConfig(bytes.NewReader(got.body))
	if want := int(math.Round((2*148 + 3.24 + 6) / 25.4 * 100)); err != nil || size.Width != want {
		t.Errorf("png: %d %v %+v, not %d", got.status, err, size, want)
	}
	if got := h.fetch(out+"template.png?ppi=5000", ""); got.status != 400 {
		t.Errorf("too fine: %d", got.status)
	}
	if got := h.fetch(out+"template.gif", ""); got.status != 404 {
		t.Errorf("gif: %d", got.status)
	}
	if got := h.fetch(out+"brief.txt", ""); got.status != 200 || !strings.Contains(string(got.body), "Flat with bleed") {
		t.Errorf("brief: %d", got.status)
	}
	cover := fmt.Sprintf("/print/%d/cover.pdf", title.ID)
	one, two := h.fetch(cover, ""), h.fetch(cover, "")
	if one.status != 200 || !bytes.Equal(one.body, two.body) {
		t.Errorf("the same cover is not the same file: %d", one.status)
	}
}

// converted has Ghostscript make a PDF of a picture at a size.
func designersFile(t *testing.T, postscript string) []byte {
	t.Helper()
	dir := t.TempDir()
	from, to := filepath.Join(dir, "in.ps"), filepath.Join(dir, "out.pdf")
	if err := os.WriteFile(from, []byte(postscript), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.CommandContext(t.Context(), "gs", "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pdfwrite", "-o", to, from).CombinedOutput(); err != nil {
		t.Fatalf("gs: %v %s", err, out)
	}
	b, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestTheDesignersFileIsJudgedInAWorkerAndAgainWhenTheSpineChanges(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Trieste to Bari")
	h.bound(at)
	// 299.24 × 210 mm with 3 mm of bleed: 848.24 + 17.01 points wide.
	file := designersFile(t, `<< /PageSize [865.25 612.28] >> setpagedevice [/TrimBox [8.504 8.504 856.746 603.776] /PAGE pdfmark
		[/BleedBox [0 0 865.25 612.28] /PAGE pdfmark 0.4 0.1 0.1 setrgbcolor 0 0 865.25 612.28 rectfill showpage`)
	var c printing.CoverShown
	if status := h.upload(at+"/cover/file", map[string][]byte{"front & back.pdf": file}, &c); status != 201 {
		t.Fatal(status)
	}
	if c.Brought == nil || c.Brought.Name != "front & back.pdf" || c.Brought.Pages != 1 || c.View != 0 || c.Brought.Shown {
		t.Fatalf("%+v", c.Brought)
	}
	stops := func() (n int) {
		for _, o := range c.Brought.Objections {
			if o.Harm == preflight.Stops {
				n++
			}
		}
		return n
	}
	if stops() != 0 {
		t.Errorf("of the right size: %+v", c.Brought.Objections)
	}
	plan := c.Plan
	plan.Spine = 5
	h.want(200, "PUT", at+"/cover", coverWanted{c.Revision, plan}, &c)
	if stops() != 1 || !strings.Contains(c.Brought.Objections[0].Why, "a spine of 3.24 mm; yours is 5 mm") {
		t.Errorf("after the printer said 5 mm: %+v", c.Brought.Objections)
	}
	// Beside it, a picture to show around the block.
	img := image.NewGray(image.Rect(0, 0, 600, 420))
	var picture bytes.Buffer
	if err := png.Encode(&picture, img); err != nil {
		t.Fatal(err)
	}
	if status := h.upload(at+"/cover/view", map[string][]byte{"cover.png": picture.Bytes()}, &c); status != 201 || c.View == 0 {
		t.Fatal(status, c.View)
	}
	if got := h.fetch(fmt.Sprintf("/covers/%d/view.jpg?of=%d", title.ID, c.View), ""); got.status != 200 || !bytes.HasPrefix(got.body, []byte{0xff, 0xd8}) {
		t.Errorf("view: %d", got.status)
	}
	for name, bytes := range map[string][]byte{"torn.pdf": file[:200], "none.pdf": []byte("hello"), "empty.pdf": nil} {
		if status := h.upload(at+"/cover/file", map[string][]byte{name: bytes}, nil); status != 422 && status != 400 {
			t.Errorf("%s: %d", name, status)
		}
	}
	c = printing.CoverShown{}
	h.want(200, "GET", at+"/cover", nil, &c)
	if c.Brought == nil || c.View == 0 {
		t.Error("what was there is gone after files that were refused")
	}
	c = printing.CoverShown{}
	h.want(200, "DELETE", at+"/cover/file", nil, &c)
	if c.Brought != nil || c.View != 0 || c.Plan.Spine != 5 {
		t.Errorf("%+v", c)
	}
}

// A cover that is one picture is shown from the file itself.
func TestACoverThatIsOnePictureIsShownFromItsFile(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Trieste to Bari")
	folder := h.photographs(1)
	h.bringAll(at, folder)
	var c printing.CoverShown
	h.want(200, "GET", at+"/cover", nil, &c)
	plan := c.Plan
	plan.Own.Photo, plan.Own.Manner = 1, pages.FullBleed
	h.want(200, "PUT", at+"/cover", coverWanted{c.Revision, plan}, &c)
	if c.Own.Picture == nil {
		t.Fatal("no picture")
	}
	pdf := h.fetch(fmt.Sprintf("/print/%d/cover.pdf", title.ID), "")
	if pdf.status != 200 {
		t.Fatal(pdf.status, string(pdf.body))
	}
	// Our own cover, brought back in, is what it should be but has words on it.
	if status := h.upload(at+"/cover/file", map[string][]byte{"own.pdf": pdf.body}, &c); status != 201 {
		t.Fatal(status)
	}
	for _, o := range c.Brought.Objections {
		if o.Harm == preflight.Stops {
			t.Errorf("our own cover: %+v", o)
		}
	}
	if c.View != 0 || !strings.HasPrefix(c.Brought.Standard, "PDF/X-4") || c.Brought.Fonts == 0 || c.Brought.Pictures != 1 {
		t.Errorf("%+v", c.Brought)
	}
	jpegs, err := filepath.Glob(filepath.Join(folder, "*.jpg"))
	if err != nil || len(jpegs) == 0 {
		t.Fatal(err, folder)
	}
	picture, err := os.ReadFile(jpegs[0])
	if err != nil {
		t.Fatal(err)
	}
	config, _, err := image.DecodeConfig(bytes.NewReader(picture))
	if err != nil {
		t.Fatal(err)
	}
	content := "q 600 0 0 400 0 0 cm /P Do Q"
	objects := []string{"<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1/MediaBox[0 0 600 400]>>",
		"<</Type/Page/Parent 2 0 R/Contents 4 0 R/Resources<</XObject<</P 5 0 R>>>>>>", fmt.Sprintf("<</Length %d>>stream\n%s\nendstream", len(content), content),
		fmt.Sprintf("<</Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8/ColorSpace/DeviceRGB/Filter/DCTDecode/Length %d>>stream\n%s\nendstream", config.Width, config.Height, len(picture), picture)}
	var b bytes.Buffer
	b.WriteString("%PDF-1.5\n")
	at2 := []int{}
	for i, o := range objects {
		at2 = append(at2, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	xref := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, a := range at2 {
		fmt.Fprintf(&b, "%010d 00000 n \n", a)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, xref)
	if status := h.upload(at+"/cover/file", map[string][]byte{"one.pdf": b.Bytes()}, &c); status != 201 {
		t.Fatal(status)
	}
	if c.View == 0 || !c.Brought.Shown {
		t.Errorf("not shown: %+v", c.Brought)
	}
	if _, err := json.Marshal(c); err != nil {
		t.Error(err)
	}
}

// coverAnswers drives every route of the cover.
func (h *house) coverAnswers(title sequence.Title, at string) {
	h.t.Helper()
	var c printing.CoverShown
	h.want(200, "GET", at+"/cover", nil, &c)
	plan := c.Plan
	plan.Barcode = true
	h.want(200, "PUT", at+"/cover", coverWanted{c.Revision, plan}, &c)
	file := designersFile(h.t, "0 0 100 100 rectfill showpage")
	if status := h.upload(at+"/cover/file", map[string][]byte{"cover.pdf": file}, &c); status != 201 {
		h.t.Errorf("file: %d", status)
	}
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 60, 40))); err != nil {
		h.t.Fatal(err)
	}
	if status := h.upload(at+"/cover/view", map[string][]byte{"cover.png": picture.Bytes()}, &c); status != 201 {
		h.t.Errorf("view: %d", status)
	}
	for _, path := range []string{"/covers/%d/view.jpg", "/out/%d/cover-template.pdf", "/out/%d/cover-template.png?ppi=72", "/out/%d/cover-brief.txt"} {
		if got := h.fetch(fmt.Sprintf(path, title.ID), ""); got.status != 200 {
			h.t.Errorf("%s: %d", path, got.status)
		}
	}
	h.want(200, "DELETE", at+"/cover/file", nil, &c)
}
