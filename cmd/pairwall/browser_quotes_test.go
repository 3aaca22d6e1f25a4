package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence/edition"
	"pairwall/sequence/edition/quotes"
	"pairwall/store"
)

func kept(name string) string   { return fmt.Sprintf(`[data-field="%s"]`, name) }
func lineOf(key string) string  { return panel("quotes") + fmt.Sprintf(` [data-line="%s"]`, key) }
func partOf(name string) string { return act("quotes-" + name) }
func cell(row, n string) string { return fmt.Sprintf(`[data-row="%s"] td[data-quote="%s"]`, row, n) }

// retypes types into a field in place of what is in it, and leaves it by keyboard.
func (b *tab) retypes(selector, words string) {
	b.t.Helper()
	b.write(selector, "")
	b.keyWith("a", chromedp.ModifierCtrl)
	b.do(chromedp.KeyEvent(words))
	b.key(kb.Tab)
}

// inquiry waits until what is kept is as it should be.
func (b *tab) inquiry(what string, is func(store.Inquiry) bool) {
	b.t.Helper()
	var in store.Inquiry
	b.wait(what, func() bool {
		var err error
		if in, err = b.app.store.Inquiry(b.t.Context(), b.app.title); err != nil {
			b.t.Fatal(err)
		}
		return is(in)
	}, func() string { return fmt.Sprintf("; it is %+v", in) })
}

func TestAQuoteIsAskedForTypedInComparedAndPriced(t *testing.T) {
	a := startApp(t)
	a.hang("[1] (2 3) (4 -) [-]")
	b := a.visit(desktop)
	into := b.downloads()

	b.click(act("quotes"))
	b.says(lineOf("title"), titleName)
	b.says(lineOf("pages"), "6 text pages, 2 of them blank")
	b.says(lineOf("packing"), "not said yet")
	b.retypes(kept("packing"), "wrapped in tens")
	b.says(lineOf("packing"), "wrapped in tens")
	b.retypes(kept("quantities"), "200 50 100")
	b.says(lineOf("quantities"), "50 / 100 / 200 copies")
	b.retypes(kept("overs"), "many")
	b.says(panel("quotes")+" .wrong", "A number")
	b.retypes(kept("overs"), "5")
	b.says(lineOf("overs"), "up to 5 % overs")
	b.until("the letter has it", `document.querySelector(".letter-text").value.includes("Packing: wrapped in tens")`)
	b.click(act("make-specification"))
	if file := b.arrives(into, titleName+", specification.pdf"); !strings.HasPrefix(file, "%PDF-") {
		t.Errorf("it begins with %.10q", file)
	}

	b.click(partOf("asked"))
	for n, name := range []string{"Tipografia Immaginaria", "Stamperia Inesistente"} {
		b.write(panel("quotes")+" .name-form input", name)
		b.key(kb.Enter)
		b.there(fmt.Sprintf(`[data-printer="%d"]`, n+1))
	}
	b.click(`[data-printer="1"] ` + act("asked-today"))
	b.says("[data-asked]", "1 printer of 2 asked, 0 answered")
	b.inquiry("the letter is kept as it was sent", func(in store.Inquiry) bool {
		asked := in.Printers[0].Is.Asked
		return len(asked) == 1 && strings.Contains(asked[0].Letter, "Dear Tipografia Immaginaria,") && strings.Contains(asked[0].Letter, "wrapped in tens")
	})

	b.click(partOf("given"))
	b.click(act("add-quote") + `[data-of="1"]`)
	b.says(`[data-quote="1"] [data-left-out]`, "any price")
	b.retypes(kept("set-up"), "€ 1.234,50")
	b.retypes(kept("run-on"), "4,00")
	b.retypes(kept("quote-unders"), "10")
	b.retypes(kept("quote-overs"), "0")
	b.retypes(kept("valid"), "30")
	b.selects(kept("proof"), "included")
	b.selects(kept("delivery"), "once")
	b.retypes(kept("delivery-amount"), "35")
	b.selects(kept("tax"), "in")
	b.retypes(kept("tax-percent"), "22")
	b.says(`[data-quote="1"] [data-left-out]`, "Says everything")
	b.inquiry("the quote is kept as typed", func(in store.Inquiry) bool {
		q := in.Quotes[0].Is
		return q.SetUp != nil && *q.SetUp == edition.Money{Minor: 123450, Currency: "EUR"} && q.Delivery != nil && q.Delivery.Amount.Minor == 3500 && q.Finishing == nil
	})

	b.click(partOf("side"))
	b.says(cell("ordered", "1"), "112")
	b.says(cell("total", "1"), "EUR 1,717.50") // 1234.50 + 112 × 4.00 + 35.00
	b.says(cell("finishing", "1"), "not asked for")
	b.says(cell("unit-100", "1"), "EUR 17.18 least")
	b.there(".plot svg path")

	b.click(partOf("price"))
	b.pick(kept("by-quote"), "1")
	b.says(`[data-sum="cost"]`, "EUR 1,717.50")
	b.says(`[data-sum="eight"]`, "EUR 137.44")
	b.retypes(kept("price"), "30")
	b.says(`[data-left="2"] [data-cell="6"]`, "96") // of 30.00 a shop keeps 40 %: 1717.50 ÷ 18.00 = 95.4
	b.says(panel("quotes")+" .what-if", "100 sold")
	b.key(kb.Escape)
	b.gone(panel("quotes"))
}

func TestQuotesAreTakenOutPutBackUndoneAndSeenInAnotherWindow(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	ctx := t.Context()
	if err := a.store.KeepPrinter(ctx, a.title, 0, 0, quotes.Printer{Name: "Tipografia Immaginaria"}); err != nil {
		t.Fatal(err)
	}
	run := quotes.UnitPrice{Amount: edition.Money{Minor: 400, Currency: "EUR"}, Per: 1}
	if err := a.store.KeepQuote(ctx, a.title, 0, 0, quotes.Quote{Printer: 1, Currency: "EUR", RunOn: &run}); err != nil {
		t.Fatal(err)
	}
	b := a.visit(desktop)
	second := b.beside()
	for _, window := range []*tab{b, second} {
		window.click(act("quotes"))
		window.click(partOf("given"))
		window.there(`[data-quote="1"] ` + kept("run-on"))
	}
	b.retypes(kept("run-on"), "5")
	second.until("the other window sees it", call(`(s) => document.querySelector(s).value === "5.00"`, kept("run-on")))

	second.click(act("take-out-quote"))
	b.gone(`[data-quote="1"]`)
	b.click(".taken-out summary")
	b.click(act("put-back"))
	b.there(`[data-quote="1"]`)
	b.click(act("undo-inquiry"))
	b.gone(`[data-quote="1"]`)
	b.hears("Taken back: add the quote of Tipografia Immaginaria")
	b.click(act("redo-inquiry"))
	b.there(`[data-quote="1"]`)
	for range 3 {
		b.click(act("undo-inquiry"))
	}
	b.inquiry("all but the beginning is undone", func(in store.Inquiry) bool { return len(in.Quotes) == 1 && in.Quotes[0].Is.RunOn.Amount.Minor == 400 })

	// What is being written is kept when the dialog is closed from the keyboard.
	b.click(partOf("specification"))
	b.write(kept("packing"), "loose")
	b.click(panel("quotes") + " " + act("close"))
	b.inquiry("it is kept", func(in store.Inquiry) bool { return in.Specification.Is.Packing == "loose" })
}

func TestAPrinterIsAskedFromTheKeyboardAlone(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	b := a.visit(desktop)

	b.tabTo(group("printers"))
	b.key(kb.ArrowDown)
	b.focusOn("quotes")
	b.key(kb.Enter)
	b.there(panel("quotes") + " [data-part]")
	b.tabTo(partOf("asked"))
	b.key(kb.Enter)
	b.tabTo(panel("quotes") + " .name-form input")
	b.do(chromedp.KeyEvent("Tipografia Immaginaria"))
	b.key(kb.Enter)
	b.there(`[data-printer="1"]`)
	b.tabTo(kept("contact"))
	b.do(chromedp.KeyEvent("upstairs"))
	b.tabTo(act("asked-today"))
	b.key(kb.Enter)
	b.inquiry("both are kept", func(in store.Inquiry) bool {
		return len(in.Printers) == 1 && in.Printers[0].Is.Contact == "upstairs" && len(in.Printers[0].Is.Asked) == 1
	})
	b.keyWith("z", chromedp.ModifierCtrl)
	b.hears("Taken back: change the printer Tipografia Immaginaria")
	b.inquiry("one is undone, and nothing on the wall", func(in store.Inquiry) bool { return len(in.Printers[0].Is.Asked) == 0 })
	b.sees("[-] (1 2) [-]")

	b.tabTo(kept("contact"))
	b.keyWith("a", chromedp.ModifierCtrl)
	b.do(chromedp.KeyEvent("a slip"))
	b.key(kb.Escape) // is for the field
	b.until("the field has what is kept", call(`(s) => document.querySelector(s).value === "upstairs"`, kept("contact")))
	b.key(kb.Escape)
	b.gone(panel("quotes"))
	b.focusOn("printers")
}

func TestEveryPartOfTheQuotesIsFreeOfAccessibilityFaults(t *testing.T) {
	for _, as := range []size{desktop, {360, 740}, {2560, 1300}} {
		t.Run(fmt.Sprintf("%d px wide", as.width), func(t *testing.T) {
			a := startApp(t)
			a.hang("[1] (2 3) (4 -) [-]")
			ctx := t.Context()
			for n, name := range []string{"Tipografia Immaginaria", "Stamperia Inesistente"} {
				asked := []quotes.Asking{{Day: "2026-03-02", Letter: "as it was sent"}}
				if err := a.store.KeepPrinter(ctx, a.title, 0, 0, quotes.Printer{Name: name, Asked: asked}); err != nil {
					t.Fatal(err)
				}
				setUp := edition.Money{Minor: int64(60000 - 40000*n), Currency: "EUR"}
				run := quotes.UnitPrice{Amount: edition.Money{Minor: int64(200 + 400*n), Currency: "EUR"}, Per: 1}
				if err := a.store.KeepQuote(ctx, a.title, 0, 0, quotes.Quote{Printer: n + 1, Currency: "EUR", SetUp: &setUp, RunOn: &run}); err != nil {
					t.Fatal(err)
				}
			}
			plan := quotes.FirstPlan()
			plan.Price, plan.Quote = &edition.Money{Minor: 2400, Currency: "EUR"}, 1
			if err := a.store.KeepPrice(ctx, a.title, 0, plan); err != nil {
				t.Fatal(err)
			}
			b := a.visit(as)
			b.bringAxe()
			b.click(act("quotes"))
			for _, name := range []string{"specification", "asked", "given", "side", "price"} {
				b.click(partOf(name))
				b.there(fmt.Sprintf(`[data-part="%s"]`, name))
				b.passes(name, panel("quotes"))
			}
		})
	}
}
