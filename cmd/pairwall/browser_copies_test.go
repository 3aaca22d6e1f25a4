package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/edition/post"
	"pairwall/sequence/pages"
)

// Persons, prices and services in these tests are invented.

// anEdition makes so many numbered copies without hands.
func (a *app) anEdition(size int) {
	a.t.Helper()
	e := edition.FirstEdition
	e.Size, e.Weighed, e.Origin, e.Price = size, 180_000, "IT", edition.Money{Minor: 2200, Currency: "EUR"}
	if err := a.store.SetEdition(a.t.Context(), a.title, 0, e); err != nil {
		a.t.Fatal(err)
	}
}

func (a *app) edition() []edition.Copy {
	a.t.Helper()
	state, err := a.store.Edition(a.t.Context(), a.title)
	if err != nil {
		a.t.Fatal(err)
	}
	return state.Copies
}

func (a *app) orders() []orders.Order {
	a.t.Helper()
	list, err := a.store.Orders(a.t.Context(), a.title)
	if err != nil {
		a.t.Fatal(err)
	}
	return list
}

// inDialog is a field of the panel that is open, by its name.
func inDialog(name string) string { return `dialog [name="` + name + `"]` }

// typed writes into a field what stands there instead from now on, and leaves it.
func (b *tab) typed(name, words string) {
	b.t.Helper()
	b.click(inDialog(name))
	b.until(name+" has the focus", call(`(s) => { const el = document.querySelector(s); el.select(); return document.activeElement === el; }`, inDialog(name)))
	b.do(chromedp.KeyEvent(words))
	b.key(kb.Tab)
}

func TestAnEditionIsDecidedAndItsCopiesAreMoved(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) (3 4) [-]")
	b := a.visit(desktop)
	b.bringAxe()

	b.click(act("edition"))
	b.says(panel("edition"), "Say how many are printed")
	b.typed("size", "12")
	b.there(`[data-copy="edition 12"]`)
	b.typed("weighed", "180,5")
	b.says("[data-copied]", "180.5 g")
	b.typed("price", "22")
	b.passes("the edition", panel("edition"))
	b.says("[data-tally]", "12 free to sell")

	b.tabTo(`[data-copy="edition 3"] input`)
	b.key(" ")
	b.says(panel("edition"), "1 copy chosen: 3/12")
	b.tabTo(act("move-copies"))
	b.key(kb.Enter)
	b.says("[data-tally]", "11 free to sell, 1 given")
	b.says(`[data-copy="edition 3"]`, "given")
	b.click(`[data-copy="edition 5"] input`)
	b.pick(inDialog("place"), "shop")
	b.typed("shop", "The corner")
	b.click(act("move-copies"))
	b.says(`[data-copy="edition 5"]`, "with The corner")
	b.pick(inDialog("shown"), "given")
	b.gone(`[data-copy="edition 1"]`)
	b.allow("409") // it is refused, and that is what this is about
	b.typed("size", "2")
	b.says(panel("edition"), "Something was done with 3/12, 5/12")
	if got := a.edition(); len(got) != 12 || got[2].Place != edition.Given || got[4].Shop != "The corner" {
		t.Errorf("%+v", got)
	}
}

const shopsTable = "Order;Datum;Empfänger;Straße;PLZ;Ort;Land;Menge;Preis;E-Mail;Irgendwas\n" +
	"77;03.11.2026;Nives Prelog;Obala 5;6330;Piran;Slowenien;1;22,00;nives@example.org;gift\n" +
	"78;04.11.2026;שרה לוי;רחוב הנמל 4;6100001;תל אביב;Israel;2;44,00;sara@example.org;\n" +
	"79;05.11.2026;Nobody;Nowhere 1;0;Mu;Atlantis;1;22,00;;\n"

func TestAShopsTableIsMatchedTakenAndTakenBack(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	a.anEdition(10)
	file := filepath.Join(t.TempDir(), "november.csv")
	if err := os.WriteFile(file, []byte(shopsTable), 0o600); err != nil {
		t.Fatal(err)
	}
	b := a.visit(desktop)
	b.bringAxe()

	b.click(act("orders"))
	b.says(panel("orders"), "No orders yet")
	b.passes("no orders", panel("orders"))
	b.click(act("begin-table"))
	b.giveFile(`[aria-label="The shop's table"]`, file)
	b.says("[data-read]", "3 rows in utf-8, parted by semicolons")
	b.says("[data-bad]", "Line 2, order 77: The price 22,00 does not say its currency.")
	b.write(inDialog("item"), "the z")
	a.visit(desktop).click(act("undo")) // the page draws itself anew
	b.sees("[-] [-]")
	b.until("what is being written stays", call(`(s) => document.querySelector(s).value === "the z"`, inDialog("item")))
	b.key(kb.Escape)
	b.until("what was kept is back", call(`(s) => document.querySelector(s).value === ""`, inDialog("item")))
	b.typed("currency", "eur")
	b.says("[data-content]", "2 new orders, 3 copies in all")
	b.typed("channel", "the harbour shop")
	b.pick(`[data-column="10"]`, "wish")
	b.says(`[data-bad="4"]`, "Atlantis")
	b.passes("a table", panel("orders"))
	b.tabTo(act("take-table"))
	b.key(kb.Enter)
	b.says("[data-took]", "2 orders taken.")
	b.click(act("to-orders"))
	b.says("[data-orders]", "2 orders of 2, 3 copies")
	if got := a.orders(); len(got) != 2 || got[0].Wish != "gift" || got[0].Channel != "the harbour shop" || got[1].Price.Minor != 4400 {
		t.Errorf("%+v", got)
	}
	b.passes("all orders", panel("orders"))
	b.do(chromedp.EmulateViewport(360, 740))
	b.until("the window is small", `innerWidth === 360`)
	b.passes("all orders on a phone", panel("orders"))
	b.do(chromedp.EmulateViewport(2560, 1300))
	b.until("the window is large", `innerWidth === 2560`)
	b.passes("all orders on a large screen", panel("orders"))

	b.click(act("orders-table"))
	b.giveFile(`[aria-label="The shop's table"]`, file)
	b.says("[data-read]", "A table like it was read before")
	b.says("[data-content]", "0 new orders, 3 copies in all; 2 known already")
	b.click(act("orders-list"))
	b.click(act("take-back"))
	b.says(panel("orders"), "No orders yet")
	if got := a.edition(); got[0].Place != edition.Here {
		t.Errorf("%+v", got[0])
	}
}

func TestTwoWindowsSellTheLastCopyAndOneIsTold(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	a.anEdition(1)
	b := a.visit(desktop)
	second := b.beside()
	second.allow("409") // one is told
	for _, window := range []*tab{b, second} {
		window.click(act("orders"))
		window.click(act("begin-order"))
	}
	b.write(inDialog("name"), "Ada")
	b.key(kb.Enter)
	b.says("[data-orders]", "1 order of 1")
	second.write(inDialog("name"), "Nives")
	second.key(kb.Enter)
	second.says(`dialog [role="alert"]`, "No copy is left.")
	second.click(act("keep-waiting"))
	second.says("[data-orders]", "2 orders of 2")
	second.says(panel("orders"), "waits for 1 copy")
	b.says("[data-orders]", "2 orders of 2")
	if list := a.orders(); len(list) != 2 || len(list[0].Allotted) != 1 || len(list[1].Allotted) != 0 {
		t.Errorf("%+v", list)
	}
}

func TestAnOrderIsEnteredChangedDeclaredAndItsPersonErased(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	a.anEdition(10)
	a.aPost()
	b := a.visit(desktop)
	b.bringAxe()

	b.click(act("orders"))
	b.click(act("begin-order"))
	b.typed("copies", "2")
	b.typed("price", "44,00")
	b.write(inDialog("name"), "R. Ode")
	b.write(inDialog("lines"), "9 Elm St")
	b.write(inDialog("postcode"), "97205")
	b.write(inDialog("town"), "Portland")
	b.pick(inDialog("country"), "US")
	b.passes("a new order", panel("orders"))
	b.click(act("keep-order"))
	b.says("[data-order]", "United States needs the state or province.")
	b.click(act("open-order"))
	b.says("[data-marks]", "1/10, 2/10")
	b.write(inDialog("region"), "OR")
	b.click(act("keep-order"))
	b.says("[data-label]", "Portland OR 97205")
	b.says("[data-label]", "UNITED STATES")
	b.says(`[data-declaration="CN 22"]`, "2 × Printed photobook, HS 4901.99, 360 g net, 400 g in all, EUR 44.00, 35.20 SDR")
	b.passes("an order", panel("orders"))

	into := b.downloads()
	b.click(act("person"))
	var known struct{ Orders []struct{ Title string } }
	if err := json.Unmarshal([]byte(b.arrives(into, "what is kept of order 1.json")), &known); err != nil || len(known.Orders) != 1 || known.Orders[0].Title != titleName {
		t.Errorf("%+v %v", known, err)
	}
	b.tabTo(act("erase"))
	b.key(kb.Enter)
	b.says(".erasing", "1 order of "+titleName)
	b.passes("erasing", panel("orders"))
	b.click(act("erase-for-good"))
	b.says("[data-erased]", "Erased out of 1 order")
	if list := a.orders(); !list[0].Erased || list[0].To.Name != "" || list[0].To.Country != "US" || len(list[0].Allotted) != 2 {
		t.Errorf("%+v", list)
	}
}

// aPost enters what parcels are made with, without hands.
func (a *app) aPost() {
	a.t.Helper()
	eur := func(minor int64) edition.Money { return edition.Money{Minor: minor, Currency: "EUR"} }
	state, err := a.store.Post(a.t.Context(), a.title)
	if err != nil {
		a.t.Fatal(err)
	}
	p := state.Post
	p.Sender.Country = "IT"
	p.Rates = []post.SDRRate{{Currency: "EUR", Worth: "1.25", Day: "2026-11-20"}}
	p.Materials = []post.Material{{Name: "mailer", Kind: post.Mailer, Mass: 40_000, Inside: pages.Size{Width: 240, Height: 330}, Deepest: 20, Outside: pages.Size{Width: 250, Height: 345}}}
	p.Tariff = post.Tariff{Zones: []post.Zone{{Name: "abroad", Countries: []orders.Country{}, Rest: true}}, Prices: []post.Price{
		{Service: "Quiet letter", Class: post.Letter, Zone: "abroad", UpTo: 250_000, Price: eur(620)}, {Service: "Quiet letter", Class: post.Letter, Zone: "abroad", UpTo: 2_000_000, Price: eur(860)}}}
	if err := a.store.SetPost(a.t.Context(), a.title, state.Revision, p); err != nil {
		a.t.Fatal(err)
	}
}

func TestPostageIsReckonedFromTheMakersOwnLists(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	a.anEdition(10)
	o := orders.Order{Copies: 1, To: orders.Addressee{Name: "Nives", Lines: []string{"Obala 5"}, Postcode: "6330", Town: "Piran", Country: "SI"}}
	if _, err := a.store.EnterOrder(t.Context(), a.title, o, nil, false); err != nil {
		t.Fatal(err)
	}
	b := a.visit(desktop)
	b.bringAxe()

	b.click(act("postage"))
	b.says(panel("postage"), "To be entered first")
	b.click(act("postage-sender"))
	b.pick(inDialog("country"), "IT")
	b.click(act("postage-shelf"))
	b.click(act("add-mailer"))
	b.there(`[data-material="mailer 1"]`)
	b.typed("mass", "40")
	b.passes("the shelf", panel("postage"))
	b.click(act("postage-prices"))
	b.click(act("add-zone"))
	b.there(`[data-zone="zone 1"]`)
	b.click(`[data-field="rest"]`)
	b.click(act("add-price"))
	b.there(`[data-price="0"]`)
	b.click(`[data-price="0"] [data-field="price"]`)
	b.anew()
	b.key("6,20", kb.Tab)
	b.click(act("add-price"))
	b.there(`[data-price="1"]`)
	b.click(`[data-price="1"] [data-field="price"]`)
	b.anew()
	b.key("8,60", kb.Tab)
	b.passes("prices", panel("postage"))
	b.click(act("postage-limits"))
	b.passes("limits", panel("postage"))
	b.click(act("postage-outlay"))
	b.says("[data-outlay]", "1 parcel, EUR 6.20")
	b.click(inDialog("if-pages"))
	b.anew()
	b.do(chromedp.KeyEvent("20"))
	b.key(kb.Enter)
	b.says("[data-difference]", "over the 250 g step: +2.40 each to zone 1")
	b.passes("postage", panel("postage"))
	state, err := a.store.Post(t.Context(), a.title)
	if err != nil || len(state.Post.Tariff.Prices) != 2 || state.Post.Tariff.Prices[1].UpTo != 500_000 || !strings.HasPrefix(string(state.Post.Sender.Country), "IT") {
		t.Errorf("%+v %v", state.Post, err)
	}
}
