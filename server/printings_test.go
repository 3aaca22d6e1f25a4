package server

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"pairwall/sequence"
	"pairwall/server/printing"
	"pairwall/store"
)

// printingsAnswer drives what is about PDFs made in the background.
func (h *house) printingsAnswer(title sequence.Title, at string) {
	h.t.Helper()
	events, _ := h.listen(at, "")
	var terms printTerms
	h.want(200, "GET", at+"/print-terms", nil, &terms)
	if len(terms.Creeps) != 5 || len(terms.Unmet) != 1 || terms.Pages == 0 {
		h.t.Errorf("%+v", terms)
	}
	for _, wish := range []printingWish{{Kind: printing.Pages, Press: printing.PressStyle{Marks: true}}, {Kind: printing.Spreads},
		{Kind: printing.Dummy, Sheet: "A4", Duplex: "short", Creep: "gaps"}, {Kind: printing.Test, Sheet: "A4", Pages: []int{2, 3}}} {
		made := h.printedInBackground(events, at, wish)
		if made.State != store.Done || made.Bytes == 0 {
			h.t.Fatalf("%+v", made)
		}
		got := h.fetch(fmt.Sprintf("/out/%d/printed/%d.pdf", title.ID, made.ID), "")
		if got.status != http.StatusOK || !bytes.HasPrefix(got.body, []byte("%PDF-1.6")) || int64(len(got.body)) != made.Bytes {
			h.t.Errorf("%s: %d, %d bytes", wish.Kind, got.status, len(got.body))
		}
	}
	var list printingList
	h.want(200, "GET", at+"/printings", nil, &list)
	if len(list.Printings) != 4 {
		h.t.Errorf("%+v", list)
	}
	last := list.Printings[3].ID
	h.want(200, "DELETE", fmt.Sprintf("%s/printings/%d", at, last), nil, nil)
	h.refused(404, sequence.NotFound, "DELETE", fmt.Sprintf("%s/printings/%d", at, last), nil)
}

// printedInBackground begins a PDF and waits for its end.
func (h *house) printedInBackground(events <-chan heard, at string, wish printingWish) printingShown {
	h.t.Helper()
	var begun, now printingShown
	h.want(http.StatusAccepted, "POST", at+"/printings", wish, &begun)
	for now.ID != begun.ID || now.State == store.Running {
		h.next(events, "printing", &now)
	}
	return now
}

func TestAPDFWhosePictureIsMissingNamesThePageAndTheWayOut(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	folder := h.photographs(3)
	h.bringAll(at, folder)
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "open", Steps: []sequence.Step{{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Now: 2}}}, nil)
	events, _ := h.listen(at, "")
	if err := os.Remove(filepath.Join(folder, "frame 2.jpg")); err != nil {
		t.Fatal(err)
	}
	var terms printTerms
	h.want(200, "GET", at+"/print-terms", nil, &terms)
	if len(terms.Unfit) != 1 || terms.Unfit[0].Page != 1 || terms.Unfit[0].Photo != 2 {
		t.Errorf("%+v", terms.Unfit)
	}
	failed := h.printedInBackground(events, at, printingWish{Kind: printing.Pages})
	if failed.State != store.Failed || !strings.HasPrefix(failed.Words, "Page 1: ") || !strings.Contains(failed.Hint, "card image") {
		t.Errorf("%+v", failed)
	}
	made := h.printedInBackground(events, at, printingWish{Kind: printing.Pages, Press: printing.PressStyle{Cards: true}})
	if made.State != store.Done {
		t.Errorf("%+v", made)
	}
	left, err := os.ReadDir(filepath.Join(h.data, "printing"))
	if err != nil || len(left) != 1 {
		t.Errorf("there are %v; only what is made stays: %v", left, err)
	}
}

func TestABackgroundPDFThatCannotBeIsRefusedAtOnce(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	for _, wish := range []printingWish{{Kind: "cards"}, {Kind: printing.Dummy, Sheet: "B7"}, {Kind: printing.Pages, Press: printing.PressStyle{Most: 5}}} {
		h.refused(http.StatusBadRequest, sequence.Invalid, "POST", at+"/printings", wish)
	}
}

// A PNG, and a JPEG that is turned, go to a printer whose profile is known: as
// they are, and converted to its inks.
func TestPagesAreMadeForThePrintersProfile(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	folder := h.photographs(1)
	var drawn bytes.Buffer
	if err := png.Encode(&drawn, image.NewGray16(image.Rect(0, 0, 60, 40))); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(folder, "drawn.png"), drawn.Bytes())
	h.bringAll(at, folder)
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "hang both", Steps: []sequence.Step{{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Now: 1},
		{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Closing}, Now: 2}}}, nil)
	if status := h.upload(at+"/inks", map[string][]byte{"press.icc": printers(t)}, nil); status != http.StatusCreated {
		t.Fatal(status)
	}
	events, _ := h.listen(at, "")
	for _, c := range []struct {
		name                  string
		style                 printing.PressStyle
		jpegs, inked, samples int
	}{
		{"their own colours", printing.PressStyle{}, 1, 0, 1},
		{"inks", printing.PressStyle{Convert: true}, 0, 2, 2},
		{"sRGB", printing.PressStyle{Screen: true, Convert: true}, 1, 0, 1},
		{"no finer than 72 to the inch", printing.PressStyle{Most: 72}, 1, 0, 1}, // they are coarser anyway
	} {
		made := h.printedInBackground(events, at, printingWish{Kind: printing.Pages, Press: c.style})
		if made.State != store.Done || (len(made.Unmet) == 0) == c.style.Screen {
			t.Fatalf("%s: %+v", c.name, made)
		}
		file := h.fetch(fmt.Sprintf("/out/%d/printed/%d.pdf", title.ID, made.ID), "").body
		if n := bytes.Count(file, []byte("/DCTDecode")); n != c.jpegs {
			t.Errorf("%s: %d pictures are JPEG", c.name, n)
		}
		if n := bytes.Count(file, []byte("/ColorSpace /DeviceCMYK")); n != c.inked {
			t.Errorf("%s: %d pictures are in the device's inks", c.name, n)
		}
		if n := bytes.Count(file, []byte("/Predictor 15")); n != c.samples {
			t.Errorf("%s: %d pictures are samples", c.name, n)
		}
	}
	if left, err := os.ReadDir(filepath.Join(h.data, "printing")); err != nil || len(left) != 4 {
		t.Errorf("%v, %v", left, err)
	}
}

// A run that ends in the midst leaves nothing that looks like a PDF.
func TestAStoppedPDFLeavesNothing(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(2))
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "open", Steps: []sequence.Step{{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Now: 1}}}, nil)
	m, err := printing.Gather(t.Context(), h.store, title.ID)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := h.press.Make(ctx, m, printing.Order{Kind: printing.Pages}, nil); sequence.CodeOf(err) != sequence.Cancelled {
		t.Errorf("%v", err)
	}
	if left, err := os.ReadDir(filepath.Join(h.data, "printing")); err != nil || len(left) > 0 {
		t.Errorf("%v, %v", left, err)
	}
}

func TestAPDFInTheMakingIsStoppedByTheMaker(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	noise := image.NewGray(image.Rect(0, 0, 5000, 4000)) // takes a worker far longer than the next request
	r := rand.New(rand.NewPCG(1, 2))
	for i := range noise.Pix {
		noise.Pix[i] = byte(r.Uint32())
	}
	var drawn bytes.Buffer
	if err := png.Encode(&drawn, noise); err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	put(t, filepath.Join(folder, "noise.png"), drawn.Bytes())
	h.bringAll(at, folder)
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "open", Steps: []sequence.Step{{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Now: 1}}}, nil)
	events, _ := h.listen(at, "")
	var begun, now printingShown
	h.want(http.StatusAccepted, "POST", at+"/printings", printingWish{Kind: printing.Pages}, &begun)
	h.refused(http.StatusConflict, sequence.Conflict, "POST", at+"/printings", printingWish{Kind: printing.Pages})
	h.want(200, "DELETE", fmt.Sprintf("%s/printings/%d", at, begun.ID), nil, nil)
	for now.State != store.Cancelled {
		h.next(events, "printing", &now)
		if now.State == store.Done {
			t.Fatal("it was made all the same")
		}
	}
	if left, err := os.ReadDir(filepath.Join(h.data, "printing")); err != nil || len(left) > 0 {
		t.Errorf("%v, %v", left, err)
	}
}

// Linux has a device that is always full.
func TestADiskFullOfPDFIsSaid(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(2))
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "open", Steps: []sequence.Step{{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Now: 1}}}, nil)
	m, err := printing.Gather(t.Context(), h.store, title.ID)
	if err != nil {
		t.Fatal(err)
	}
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	write := func(out io.Writer) error {
		return h.press.Write(t.Context(), out, m, printing.Order{Kind: printing.Pages}, nil)
	}
	for how, err := range map[string]error{"as it comes": write(full), "in large pieces": printing.Buffered(full, write)} {
		var coded *sequence.Error
		if !errors.As(err, &coded) || !errors.Is(err, syscall.ENOSPC) || !strings.Contains(coded.Message, "full") {
			t.Errorf("%s: %v", how, err)
		}
	}
}
