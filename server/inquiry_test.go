package server

import (
	"bytes"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/quotes"
	"pairwall/store"
)

func euros(minor int64) edition.Money { return edition.Money{Minor: minor, Currency: "EUR"} }

// printersAnswer goes through the routes about printers.
func (h *house) printersAnswer(title sequence.Title, at string) {
	h.t.Helper()
	at += "/inquiry"
	var in inquiryShown
	h.want(200, "GET", at, nil, &in)
	wishes, terms, plan := in.Specification.Is, in.Terms.Is, in.Price.Is
	wishes.Finishing, wishes.DeliverTo, terms.Copies = "matt lamination", "Molo 3\nTrieste", 90
	price := euros(2400)
	plan.Price = &price
	h.want(200, "PUT", at+"/specification", wishesTold{in.Specification.Act, wishes}, nil)
	h.want(200, "PUT", at+"/terms", termsTold{in.Terms.Act, terms}, nil)
	h.want(201, "POST", at+"/printers", printerTold{Is: quotes.Printer{Name: "Tipografia Immaginaria", Asked: []quotes.Asking{}}}, &in)
	printer := in.Printers[0]
	printer.Is.Asked = append(printer.Is.Asked, quotes.Asking{Day: "2026-03-02", Letter: printer.Letter})
	h.want(200, "PUT", at+"/printers/1", printerTold{printer.Act, printer.Is}, &in)
	if in.Printers[0].Moved {
		h.t.Error("the printer was asked for what is asked for")
	}
	days := 30
	quote := quotes.Quote{Printer: 1, Day: "2026-03-04", Valid: &days, Currency: "EUR", Tax: &quotes.Tax{Included: true, Percent: "22"},
		Steps: []quotes.PriceStep{{Copies: 100, Amount: euros(74800)}, {Copies: 200, Amount: euros(112000)}}, Papers: []quotes.PaperSeen{}}
	h.want(201, "POST", at+"/quotes", quoteTold{Is: quote}, &in)
	delivery := euros(3500)
	quote.Delivery = &quotes.Charge{Amount: &delivery}
	h.want(200, "PUT", at+"/quotes/1", quoteTold{in.Quotes[0].Act, quote}, &in)
	plan.Quote = 1
	h.want(200, "PUT", at+"/price", priceTold{in.Price.Act, plan}, &in)
	if in.Price.Reckoning == nil || *in.Price.Reckoning.Cost != euros(78300) { // 90 good ones: 100 ordered at 10 %
		h.t.Errorf("%+v", in.Price)
	}
	if doubts := strings.Join(in.Price.Reckoning.Doubts, " "); !strings.Contains(doubts, "leaves something out") || !strings.Contains(doubts, "held until 3 April 2026") {
		h.t.Errorf("doubts: %q", doubts)
	}
	h.refused(409, sequence.Conflict, "DELETE", fmt.Sprintf("%s/printers/1?seen=%d", at, in.Printers[0].Act), nil)
	h.want(200, "DELETE", fmt.Sprintf("%s/quotes/1?seen=%d", at, in.Quotes[0].Act), nil, &in)
	h.want(200, "DELETE", fmt.Sprintf("%s/printers/1?seen=%d", at, in.Printers[0].Act), nil, &in)
	h.want(200, "POST", at+"/undo", nil, nil)
	h.want(200, "POST", at+"/redo", nil, nil)
	h.want(200, "POST", at+"/put-back", backTold{store.PrinterEntry, 1}, &in)
	h.want(200, "POST", at+"/put-back", backTold{store.QuoteEntry, 1}, &in)
	if len(in.Quotes) != 1 || len(in.TakenOut) != 0 {
		h.t.Errorf("%+v", in)
	}
	if got := h.fetch(fmt.Sprintf("/print/%d/specification.pdf?printer=1", title.ID), ""); got.status != http.StatusOK {
		h.t.Errorf("the letter: %d", got.status)
	}
}

func TestInquiryRefusesInPlainWords(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	at += "/inquiry"
	var in inquiryShown
	h.want(200, "GET", at, nil, &in)
	wishes := in.Specification.Is
	wishes.Packing = "wrapped in tens"
	h.want(200, "PUT", at+"/specification", wishesTold{0, wishes}, nil)
	if p := h.refused(409, sequence.Stale, "PUT", at+"/specification", wishesTold{0, in.Specification.Is}); p.Error.Hint == "" {
		t.Errorf("%+v", p)
	}
	wishes.Wording = "Dear {nobody}"
	h.refused(400, sequence.Invalid, "PUT", at+"/specification", wishesTold{1, wishes})
	h.refused(404, sequence.NotFound, "POST", at+"/quotes", quoteTold{Is: quotes.Quote{Printer: 3, Currency: "EUR"}.Tidied()})
	h.refused(404, sequence.NotFound, "PUT", at+"/quotes/0", quoteTold{Is: quotes.Quote{Printer: 3, Currency: "EUR"}.Tidied()})
	h.refused(409, sequence.Conflict, "POST", at+"/redo", nil)
	h.refused(404, sequence.NotFound, "POST", at+"/put-back", backTold{store.QuoteEntry, 1})
}

func TestAQuoteBeyondAllMeasureHidesNoOther(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	at += "/inquiry"
	h.want(201, "POST", at+"/printers", printerTold{Is: quotes.Printer{Name: "Tipografia Immaginaria", Asked: []quotes.Asking{}}}, nil)
	for _, each := range []int64{400, edition.Largest} {
		run := quotes.UnitPrice{Amount: euros(each), Per: 1}
		h.want(201, "POST", at+"/quotes", quoteTold{Is: quotes.Quote{Printer: 1, Currency: "EUR", RunOn: &run}.Tidied()}, nil)
	}
	var in inquiryShown
	h.want(200, "GET", at, nil, &in)
	if in.Comparison.Rows[0].Landed[0].Home == nil || in.Comparison.Rows[1].Landed[0].Home != nil || in.Comparison.Rows[1].Fit != nil {
		t.Errorf("%+v", in.Comparison.Rows)
	}
}

// Poppler's pdftotext reads the letter.
func TestTheSpecificationIsMadeFromTheTitle(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Trieste to Bari")
	var in inquiryShown
	h.want(200, "GET", at+"/inquiry", nil, &in)
	words := func(key string) string {
		for _, line := range in.Specification.Lines {
			if line.Key == key {
				return line.Words
			}
		}
		return "no such line"
	}
	if got := words("trim"); got != "A5, 148 × 210 mm (width × height), portrait, bound on a long side" {
		t.Errorf("trim: %q", got)
	}
	if got := words("pages"); !strings.HasPrefix(got, "2 text pages, 2 of them blank") { // opening and closing page
		t.Errorf("pages: %q", got)
	}
	renamed := "Trieste to Durrës"
	h.want(200, "PATCH", at, amendment{Name: &renamed}, nil)
	h.want(200, "GET", at+"/inquiry", nil, &in)
	if got := words("title"); got != "Trieste to Durrës" {
		t.Errorf("title: %q", got)
	}
	made := h.fetch(fmt.Sprintf("/print/%d/specification.pdf", title.ID), "")
	again := h.fetch(fmt.Sprintf("/print/%d/specification.pdf", title.ID), "")
	if !bytes.Equal(made.body, again.body) {
		t.Error("the same letter twice is not the same file")
	}
	file := filepath.Join(t.TempDir(), "letter.pdf")
	if err := os.WriteFile(file, made.body, 0o600); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	if err != nil {
		t.Fatalf("this test needs Debian's poppler-utils: %v", err)
	}
	for _, want := range []string{"Trieste to Durrës", "50 / 100 / 200 copies", "148 × 210 mm", "150 g/m²", "to be agreed"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the letter lacks %q:\n%s", want, text)
		}
	}
}
