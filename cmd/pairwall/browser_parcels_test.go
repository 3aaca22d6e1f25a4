package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/edition/post"
	"pairwall/sequence/pages"
)

// aPackingShelf enters what parcels are made with, without hands: all invented.
func (a *app) aPackingShelf() {
	a.t.Helper()
	now, err := a.store.Post(a.t.Context(), a.title)
	if err != nil {
		a.t.Fatal(err)
	}
	p := now.Post
	p.Sender = orders.Addressee{Name: "Vera Immaginaria", Lines: []string{"Via del Molo 3"}, Postcode: "34121", Town: "Trieste", Country: "IT"}
	p.Materials = []post.Material{{Name: "board mailer", Kind: post.Mailer, Mass: 60_000, Inside: pages.Size{Width: 250, Height: 330}, Deepest: 20, Outside: pages.Size{Width: 260, Height: 345}, Wall: 2}}
	price := func(zone string, grams edition.Mass, cents int64) post.Price {
		return post.Price{Service: "Quiet letter", Class: post.Letter, Zone: zone, UpTo: grams * edition.Gram, Price: edition.Money{Minor: cents, Currency: "EUR"}}
	}
	p.Tariff = post.Tariff{Zones: []post.Zone{{Name: "home", Countries: []orders.Country{"IT"}}, {Name: "abroad", Countries: []orders.Country{}, Rest: true}}, Source: "invented", Day: "2026-11-01",
		Prices: []post.Price{price("home", 500, 420), price("home", 2000, 700), price("abroad", 500, 860), price("abroad", 2000, 1400)}}
	p.Thanks = "Thank you for taking this journey home."
	if err := a.store.SetPost(a.t.Context(), a.title, now.Revision, p); err != nil {
		a.t.Fatal(err)
	}
}

// someOrders enters orders without hands: one copy to Piran, two to Zürich, one
// handed over, one to nowhere in particular.
func (a *app) someOrders() {
	a.t.Helper()
	for _, o := range []orders.Order{
		{Number: "A-1", Channel: "the harbour shop", Copies: 1, Price: edition.Money{Minor: 2200, Currency: "EUR"}, Wish: "for Ada, please",
			To: orders.Addressee{Name: "Nives Prelog", Lines: []string{"Obala 5"}, Postcode: "6330", Town: "Piran", Country: "SI"}},
		{Number: "A-2", Channel: "the harbour shop", Copies: 2, Price: edition.Money{Minor: 4400, Currency: "EUR"}, Postage: edition.Money{Minor: 900, Currency: "EUR"},
			To: orders.Addressee{Name: "M. Kern", Lines: []string{"Seeweg 2"}, Postcode: "8001", Town: "Zürich", Country: "CH"}},
		{Number: "F-1", Channel: "fair", Copies: 1, Price: edition.Money{Minor: 2000, Currency: "EUR"}, To: orders.Addressee{Name: "at the fair", Lines: []string{}}},
		{Number: "A-3", Channel: "the harbour shop", Copies: 1, To: orders.Addressee{Name: "No street", Lines: []string{}, Town: "Bari", Postcode: "70121", Country: "IT"}},
		{Number: "A-4", Channel: "the harbour shop", Copies: 1, To: orders.Addressee{Name: "محمد علي", Lines: []string{"Via Sparano 1"}, Town: "Bari", Postcode: "70121", Country: "IT"}},
	} {
		if _, err := a.store.EnterOrder(a.t.Context(), a.title, o, nil, false); err != nil {
			a.t.Fatal(err)
		}
	}
}

func startPacking(t *testing.T) (*app, *tab) {
	t.Helper()
	a := startApp(t)
	a.anEdition(12)
	a.aPackingShelf()
	a.someOrders()
	b := a.visit(desktop)
	b.bringAxe()
	return a, b
}

func (a *app) states() string {
	var all []string
	for _, o := range a.orders() {
		all = append(all, o.Number+" "+string(o.State))
	}
	return strings.Join(all, ", ")
}

func TestAnAfternoonOfPackingGoesByKeyboardAndScanner(t *testing.T) {
	a, b := startPacking(t)
	b.click(act("packing"))
	b.says("[data-progress]", "0 of 4 parcels packed; 5 copies still to go; 1 order held up.")
	b.passes("the packing table", panel("packing"))
	b.says(panel("packing"), "There is no street or post box.")
	b.says(`[data-parcel="A-1"]`, "1/12")
	b.says(`[data-parcel="A-1"]`, "for Ada, please")
	b.says(`[data-parcel="A-1"]`, "SLOVENIA")

	typed := func(words string) { b.do(chromedp.KeyEvent(words)) }
	focused := func(name string) {
		b.until(name+" has the focus", call(`(name) => document.activeElement?.getAttribute("name") === name`, name))
	}
	focused("mass")
	typed("612")
	b.key(kb.Enter)
	b.says(`[data-parcel="A-1"]`, "is there a copy too many in it?")
	focused("tracking")
	b.keyWith(kb.Tab, chromedp.ModifierShift)
	focused("mass")
	b.anew()
	typed("240")
	b.key(kb.Enter)
	b.until("nothing is wrong with it", `!document.querySelector('[data-parcel="A-1"] .trouble')`)
	b.says(`[data-parcel="A-1"] [data-goes]`, "Quiet letter")
	focused("tracking")
	typed("RR123456785IT\r") // a scanner is a keyboard that ends with Enter
	b.says("[data-progress]", "1 of 4 parcels packed")
	b.there(`[data-parcel="A-2"]`)
	focused("mass")
	if got := a.states(); got != "A-1 sent, A-2 open, F-1 open, A-3 open, A-4 open" {
		t.Errorf("the data file has %s", got)
	}

	b.keyWith("z", chromedp.ModifierCtrl)
	b.says("[data-progress]", "0 of 4 parcels packed")
	b.there(`[data-parcel="A-1"]`)
	focused("mass")
	enter := func() { // not weighed, not tracked
		b.t.Helper()
		focused("mass")
		b.key(kb.Enter)
		focused("tracking")
		b.key(kb.Enter)
	}
	enter()
	b.there(`[data-parcel="A-2"]`)
	b.tabTo(act("put-off"))
	b.key(kb.Enter)
	b.says(`[data-parcel="F-1"]`, "changes hands in person")

	b.key(kb.Escape) // home for today
	b.gone(panel("packing"))
	b.reload()
	b.there(region("wall"))
	b.there(card(1))
	b.bringAxe()
	b.click(act("packing"))
	b.there(`[data-parcel="A-2"]`)
	for _, next := range []string{"F-1", "A-4", ""} {
		enter()
		if next != "" {
			b.there(`[data-parcel="` + next + `"]`)
		}
	}
	b.says("[data-progress]", "4 parcels packed; 1 order held up.")
	b.says(panel("packing"), "All that can go is packed")
	b.passes("the packing table when all is packed", panel("packing"))
	if got := a.states(); got != "A-1 sent, A-2 sent, F-1 sent, A-3 open, A-4 sent" {
		t.Errorf("the data file has %s", got)
	}
	b.click(act("unpack-F-1"))
	b.there(`[data-parcel="F-1"]`)
}

func TestLabelsAreSeenCorrectedAndMade(t *testing.T) {
	_, b := startPacking(t)
	into := b.downloads()
	b.click(act("labels"))
	b.says(panel("labels"), "3 labels on 1 sheet")
	b.says(panel("labels"), "1 label to finish by hand")
	b.says(panel("labels"), "from right to left")
	b.passes("labels", panel("labels"))
	b.typed("first-label", "20")
	b.says(panel("labels"), "3 labels on 2 sheets")
	b.typed("shift-x", "0,4")
	b.click(act("make-labels"))
	if file := b.arrives(into, titleName+", labels.pdf"); !strings.HasPrefix(file, "%PDF-") {
		t.Errorf("%.20q", file)
	}
	b.click(act("next-label"))
	b.until("the next sheet begins at its second label", `document.querySelector('dialog [name="first-label"]').value === "2"`)
	for kind, name := range map[string]string{"make-label-test": "label-test", "make-packing-list": "packing-list", "make-thanks": "thanks", "make-customs": "customs"} {
		b.click(act(kind))
		if file := b.arrives(into, titleName+", "+name+".pdf"); !strings.HasPrefix(file, "%PDF-") {
			t.Errorf("%s: %.20q", name, file)
		}
	}
}

func TestMoneyIsAddedUpAndEverySumLeadsToItsRows(t *testing.T) {
	a, b := startPacking(t)
	b.click(act("money"))
	b.says("[data-left]", "EUR 95.00 left") // 22 + 44 + 9 + 20
	b.passes("money", panel("money"))
	b.click(inDialog("new-amount"))
	b.do(chromedp.KeyEvent("60,50\r"))
	b.says("[data-left]", "EUR 34.50 left")
	b.click(act("add-fee"))
	b.typed("fee-channel-0", "the harbour shop")
	b.typed("fee-percent-0", "10")
	b.says("[data-left]", "EUR 27.00 left") // 2.20 and 5.30 less
	b.click(act("trace-channel-the harbour shop"))
	b.says(panel("money"), "The rows of: the harbour shop")
	b.there(`[data-rows="5"]`)
	into := b.downloads()
	b.click(act("make-money-csv"))
	if table := b.arrives(into, titleName+", money.csv"); strings.Count(table, "\n") != 8 || !strings.Contains(table, "order A-2") {
		t.Errorf("%s", table)
	}
	b.passes("money with rows", panel("money"))

	var account struct {
		Total struct{ Left edition.Money }
	}
	code, out, say := told(t, "--data", a.data, "money", "--title", titleName, "--json")
	if err := json.Unmarshal([]byte(out), &account); err != nil || code != 0 || account.Total.Left.Minor != 2700 {
		t.Errorf("%d %s %s %v", code, out, say, err)
	}
}
