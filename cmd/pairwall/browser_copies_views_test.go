package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
)

// longOrders enters what makes a panel wide: long words without a space, scripts
// of several directions, a long wish. All invented.
func (a *app) longOrders() {
	a.t.Helper()
	for n, to := range []orders.Addressee{
		{Name: strings.Repeat("Longestname", 8), Lines: []string{strings.Repeat("Harbourstreet", 6)}, Postcode: "1000", Town: strings.Repeat("Townwithoutspace", 4), Country: "SI"},
		{Name: "山田 花子", Lines: []string{"波止場町2-2"}, Postcode: "650-0042", Town: "神戸市", Region: "兵庫県", Country: "JP"},
		{Name: "Ελένη Παπαδοπούλου", Lines: []string{"Οδός Κέρκυρας 12"}, Postcode: "491 00", Town: "Κέρκυρα", Country: "GR"},
	} {
		o := orders.Order{Number: fmt.Sprintf("%s-%d", strings.Repeat("N", 30), n), Channel: strings.Repeat("channel", 8), Copies: 1 + n, Price: edition.Money{Minor: 2200, Currency: "EUR"}, To: to,
			Wish: strings.Repeat("sowhoeverwrites", 8) + " on and on"}
		if _, err := a.store.EnterOrder(a.t.Context(), a.title, o, nil, false); err != nil {
			a.t.Fatal(err)
		}
	}
}

func TestEveryPanelOfCopiesIsFreeOfAccessibilityFaultsAndFitsTheWindow(t *testing.T) {
	a, b := startPacking(t)
	a.longOrders()
	sheet := func(name, sees string) view {
		return view{name, panel(name), func(b *tab) { b.click(act(name)); b.there(panel(name) + " " + sees) },
			func(b *tab) { b.click(panel(name) + " " + act("close")); b.gone(panel(name)) }}
	}
	within := func(name, opens, sees string) view {
		v := sheet(name, opens)
		open := v.open
		v.name, v.open = name+": "+sees, func(b *tab) { open(b); b.click(panel(name) + " " + opens); b.there(panel(name) + " " + sees) }
		return v
	}
	views := []view{
		sheet("edition", "[data-tally]"),
		sheet("orders", "[data-orders]"),
		within("orders", `[data-order="6"] `+act("open-order"), "[data-label]"),
		within("orders", act("orders-table"), `[aria-label="The shop's table"]`),
		within("postage", act("postage-sender"), `[name="country"]`),
		within("postage", act("postage-shelf"), "[data-material]"),
		within("postage", act("postage-prices"), "[data-price]"),
		within("postage", act("postage-limits"), "[data-limit]"),
		within("postage", act("postage-outlay"), "[data-outlay]"),
		sheet("labels", act("make-labels")),
		sheet("packing", "[data-parcel]"),
		sheet("money", "[data-left]"),
	}
	for _, as := range []size{{360, 740}, {1280, 900}, {2560, 1300}} {
		b.do(chromedp.EmulateViewport(as.width, as.height))
		b.until("the window has its size", fmt.Sprintf("innerWidth === %d", as.width))
		for _, v := range views {
			v.open(b)
			b.passes(fmt.Sprintf("%s at %d px", v.name, as.width), v.part)
			b.pictured(fmt.Sprintf("copies %d %s", as.width, v.name))
			v.leave(b)
		}
	}
}
