package server

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
	"pairwall/sequence/proof"
	"pairwall/server/printing"
)

// invented is a picture with enough in it to be found by: discs of many colours
// on a slope of greys.
func invented(seed int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, 1200, 800))
	for y := range 800 {
		for x := range 1200 {
			v := 60 + 120*x/1200
			c := [3]int{v, v - 8, v - 20}
			for k := range 60 {
				n := k*k*31 + seed*977 + k*137
				dx, dy, r := x-n%1200, y-(n*7)%800, 15+n%50
				if dx*dx+dy*dy < r*r {
					c = [3]int{40 + n*3%180, 40 + n*5%180, 40 + n*11%180}
				}
			}
			img.SetRGBA(x, y, color.RGBA{uint8(c[0]), uint8(c[1]), uint8(c[2]), 255})
		}
	}
	return img
}

func encoded(t *testing.T, img image.Image) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := jpeg.Encode(&file, img, &jpeg.Options{Quality: 92}); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// proofOf photographs a page as it would come with so much more of a*, on a dark
// table in even light that leaves white paper at nine tenths.
func (h *house) proofOf(title sequence.TitleID, page int, more float64) []byte {
	h.t.Helper()
	m, err := printing.Gather(context.Background(), h.store, title)
	if err != nil {
		h.t.Fatal(err)
	}
	wanted, err := h.press.Wanted(context.Background(), m, page)
	if err != nil {
		h.t.Fatal(err)
	}
	size := wanted.Picture.Rect.Size()
	shot := image.NewRGBA(image.Rect(0, 0, size.X+400, size.Y+300))
	draw.Draw(shot, shot.Rect, image.NewUniform(color.RGBA{70, 62, 55, 255}), image.Point{}, draw.Src)
	for y := range size.Y {
		for x := range size.X {
			p := wanted.Picture.Pix[wanted.Picture.PixOffset(x, y):]
			light := [3]float64{colour.LinearSRGB(p[0]), colour.LinearSRGB(p[1]), colour.LinearSRGB(p[2])}
			if slices.ContainsFunc(wanted.Printed, func(r image.Rectangle) bool { return image.Pt(x, y).In(r) }) {
				light = colour.D50FromLinear(light).Plus(colour.LabD50{A: more}).Linear()
			}
			out := shot.Pix[shot.PixOffset(x+190, y+140):]
			for c, v := range light {
				out[c] = colour.EncodeSRGB(0.8 * v)
			}
		}
	}
	return encoded(h.t, shot)
}

// withPages is a title whose first pages have pictures.
func (h *house) withPages() (sequence.Title, string) {
	h.t.Helper()
	title, at := h.newTitle("Trieste to Bari")
	folder := h.t.TempDir()
	for i := range 2 {
		put(h.t, filepath.Join(folder, []string{"a.jpg", "b.jpg"}[i]), encoded(h.t, invented(i+1)))
	}
	h.bringAll(at, folder)
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "hang two", Steps: []sequence.Step{
		{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Now: 1}, {Do: sequence.Put, Page: &sequence.Page{Side: sequence.Closing}, Now: 2}}}, nil)
	return title, at
}

func TestAProofIsMeasuredKeptAndComparedWithTheRoundBefore(t *testing.T) {
	h := newHouse(t)
	title, at := h.withPages()
	var got proofsShown
	h.want(200, "GET", at+"/proofs", nil, &got)
	if len(got.Pages) != 2 || got.Pages[0] != 1 || len(got.Questions) < 8 || len(got.Rounds) != 0 {
		t.Fatalf("%+v", got)
	}
	events, _ := h.listen(at, "")
	first := proof.Round{Date: "2026-06-01", Printer: "Tipografia del Molo", Kind: "digital", Looks: []proof.Look{}}
	h.want(201, "POST", at+"/proofs", first, &got)
	h.next(events, "proofs", nil)
	if got.Rounds[0].Round.Sent.Version == 0 || len(got.Versions) != 1 {
		t.Errorf("no version is kept: %+v", got.Rounds[0])
	}
	if status := h.upload(at+"/proofs/1/photographs?page=1", map[string][]byte{"first.jpg": h.proofOf(title.ID, 1, 6)}, &got); status != 201 {
		t.Fatal(status)
	}
	found := got.Rounds[0].Findings[0]
	mid := found.Finding.Zone(proof.Midtones)
	if found.Finding.Base != proof.ByPaper || math.Abs(mid.Shift.A-6) > 0.8 || math.Abs(mid.Shift.B) > 0.8 {
		t.Errorf("%s %+v", found.Finding.Base, mid)
	}
	if said := strings.Join(found.Words.Says, " "); !strings.Contains(said, "Midtones lean pink: +") || !strings.Contains(found.Words.Trust, "no spectrophotometer") {
		t.Error(said)
	}

	h.want(201, "POST", at+"/proofs", proof.Round{Date: "2026-06-09", Printer: "Tipografia del Molo", Looks: []proof.Look{}}, nil)
	if status := h.upload(at+"/proofs/2/photographs?page=1", map[string][]byte{"second.jpg": h.proofOf(title.ID, 1, 0)}, &got); status != 201 {
		t.Fatal(status)
	}
	since := got.Rounds[1].Findings[0].Since
	if since == nil || since.Round != 1 || !strings.Contains(strings.Join(since.Words, " "), "Better: midtones") && !strings.Contains(strings.Join(since.Words, " "), "Better: lights") {
		t.Errorf("%+v", since)
	}

	refused := h.upload(at+"/proofs/2/photographs?page=2", map[string][]byte{"wrong.jpg": h.proofOf(title.ID, 1, 0)}, nil)
	if refused != 404 {
		t.Errorf("the wrong page: %d", refused)
	}
	for name, file := range map[string][]byte{"torn.jpg": h.proofOf(title.ID, 1, 0)[:300], "words.txt": []byte("no picture")} {
		if status := h.upload(at+"/proofs/2/photographs?page=1", map[string][]byte{name: file}, nil); status != 422 && status != 415 {
			t.Errorf("%s: %d", name, status)
		}
	}
}

func TestARoundIsWrittenAnewTakenOutAndPutBack(t *testing.T) {
	h := newHouse(t)
	title, at := h.withPages()
	var got proofsShown
	h.refused(400, sequence.Invalid, "POST", at+"/proofs", proof.Round{Date: "soon", Looks: []proof.Look{}})
	h.want(201, "POST", at+"/proofs", proof.Round{Date: "2026-06-01", Looks: []proof.Look{}}, &got)
	r := got.Rounds[0].Round
	r.Verdict, r.Changes, r.Looks = proof.WithChanges, "less magenta", []proof.Look{{Item: "trim", Seen: "not good", Note: "2 mm short"}}
	h.want(200, "PUT", at+"/proofs/1", roundWanted{1, r}, &got)
	if is := got.Rounds[0]; is.Revision != 2 || is.Round.Verdict != proof.WithChanges || is.Round.Looks[0].Note != "2 mm short" {
		t.Errorf("%+v", is)
	}
	h.refused(409, sequence.Stale, "PUT", at+"/proofs/1", roundWanted{1, r})
	h.refused(404, sequence.NotFound, "PUT", at+"/proofs/7", roundWanted{1, r})
	h.want(200, "DELETE", at+"/proofs/1", nil, &got)
	if len(got.Rounds) != 0 || len(got.TakenOut) != 1 {
		t.Errorf("%+v", got)
	}
	h.want(200, "POST", at+"/proofs/1/put-back", nil, &got)
	if len(got.Rounds) != 1 {
		t.Errorf("%+v", got)
	}

	h.upload(at+"/proofs/1/photographs?page=1", map[string][]byte{"page.jpg": h.proofOf(title.ID, 1, 3)}, nil)
	card := pages.Point{X: 0.05, Y: 0.5} // the table is an even brownish grey
	h.want(200, "POST", at+"/proofs/photographs/1/again", measuredWith{Card: &card}, &got)
	if is := got.Rounds[0].Findings[0].Finding; is.Base != proof.ByCard || is.Paper == nil || is.Paper.Colour != proof.Shifted || is.Paper.Shift.B > -3 {
		t.Errorf("by a card that is brown the paper must lean blue: %s %+v", is.Base, is.Paper)
	}
	h.refused(400, sequence.Invalid, "POST", at+"/proofs/photographs/1/again", measuredWith{Card: &pages.Point{X: 7, Y: 7}})
	h.refused(400, sequence.Invalid, "POST", at+"/proofs/photographs/1/again", measuredWith{Target: "1976"})
	h.want(200, "POST", at+"/proofs/photographs/1/again", measuredWith{}, &got)
	if is := got.Rounds[0].Findings[0].Finding; is.Base != proof.ByPaper {
		t.Errorf("by %s", is.Base)
	}
	h.want(200, "DELETE", at+"/proofs/photographs/1", nil, &got)
	if len(got.Rounds[0].Findings) != 0 || len(got.Rounds[0].TakenOut) != 1 {
		t.Errorf("%+v", got.Rounds[0])
	}
	h.want(200, "POST", at+"/proofs/photographs/1/put-back", nil, &got)
	if status := h.call("GET", at+"/proofs/photographs/1/picture", nil, nil); status != 200 || len(got.Rounds[0].Findings) != 1 {
		t.Errorf("%d, %+v", status, got.Rounds[0])
	}
	h.refused(404, sequence.NotFound, "GET", at+"/proofs/photographs/9/picture", nil)
	if leftovers, _ := filepath.Glob(filepath.Join(os.TempDir(), "pairwall-proof-*")); len(leftovers) > 0 {
		t.Errorf("left behind: %v", leftovers)
	}
}

func TestATestStripIsPrintedAndMeasured(t *testing.T) {
	h := newHouse(t)
	title, at := h.withPages()
	if status := h.call("GET", fmt.Sprintf("/print/%d/strip.pdf", title.ID), nil, nil); status != 200 {
		t.Errorf("the strip's PDF: %d", status)
	}
	h.want(201, "POST", at+"/proofs", proof.Round{Date: "2026-06-01", Looks: []proof.Look{}}, nil)
	var got proofsShown
	if status := h.upload(at+"/proofs/1/photographs?page=0", map[string][]byte{"strip.jpg": h.proofOf(title.ID, 0, 4)}, &got); status != 201 {
		t.Fatal(status)
	}
	found := got.Rounds[0].Findings[0].Finding
	if z := found.Zone(proof.Neutrals); found.Base != proof.ByPaper || math.Abs(z.Shift.A-4) > 0.8 {
		t.Errorf("%s %+v", found.Base, z)
	}
}
