package server

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/edition/post"
	"pairwall/sequence/pages"
	"pairwall/store"
)

// Prices, services and persons in these tests are invented.

const shopTable = "Order,Date,Name,Address 1,Postcode,City,State,Country,Email,Qty,Price,Currency\n" +
	"A-1,2026-11-02,Nives Prelog,Obala 5,6330,Piran,,Slovenia,nives@example.org,1,22.00,EUR\n" +
	"A-2,2026-11-03,R. Ode,9 Elm St,97205,Portland,OR,USA,ode@example.org,2,44.00,EUR\n" +
	"A-3,2026-11-03,Nobody,Nowhere 1,0,Mu,,Atlantis,,1,22.00,EUR\n"

const priceTable = "service,class,tracked,zone,up to g,price,currency\n" +
	"Quiet letter,letter,no,home,1000,4.20,EUR\nQuiet letter,letter,no,abroad,250,6.20,EUR\nQuiet letter,letter,no,abroad,1000,8.60,EUR\nQuiet letter,letter,no,abroad,2000,14.00,EUR\n"

// copiesAnswer drives what is about copies, orders and the post.
func (h *house) copiesAnswer(title sequence.Title, at string) {
	h.t.Helper()
	h.want(200, "GET", "/api/countries", nil, nil)
	e := edition.FirstEdition
	e.Size, e.Outside, e.Origin, e.Price = 100, 5, "IT", edition.Money{Minor: 2200, Currency: "EUR"}
	h.want(200, "PUT", at+"/edition", editionSaid{Edition: e}, nil)
	h.want(200, "GET", at+"/edition", nil, nil)
	h.want(200, "POST", at+"/copies", edition.Move{Copies: []edition.CopyRef{{Series: edition.Outside, Number: 1}}, Place: edition.Given}, nil)
	var read orderTable
	if status := h.upload(at+"/order-lists?take=1", map[string][]byte{"november.csv": []byte(shopTable)}, &read); status != http.StatusOK || read.Took == nil || read.Took.List.Orders != 2 {
		h.t.Fatalf("%d %+v", status, read)
	}
	var one orderShown
	h.want(201, "POST", at+"/orders", orderSaid{Order: orders.Order{Copies: 1, To: orders.Addressee{Name: "at the fair", Lines: []string{}}, Allotted: []edition.CopyRef{}}.Tidy()}, &one)
	one.Order.State = orders.Sent
	h.want(200, "PUT", fmt.Sprintf("%s/orders/%d", at, one.Order.ID), orderSaid{Order: one.Order}, nil)
	var all ordersShown
	h.want(200, "GET", at+"/orders", nil, &all)
	buyer := fmt.Sprintf("%s/orders/%d", at, all.Orders[0].Order.ID)
	h.want(200, "GET", buyer+"/person", nil, nil)
	h.keepPost(at)
	h.want(200, "GET", at+"/postage", nil, nil)
	h.want(200, "POST", at+"/postage/what-if", whatIfAsked{Pages: 10, Text: 170}, nil)
	h.want(200, "GET", buyer+"/declarations", nil, nil)
	for _, name := range []string{"orders.csv", "orders.json", "prices.csv"} {
		if got := h.fetch(fmt.Sprintf("/out/%d/%s", title.ID, name), ""); got.status != http.StatusOK {
			h.t.Errorf("%s: %d", name, got.status)
		}
	}
	second := orderTable{}
	h.upload(at+"/order-lists?take=1&reading="+url.QueryEscape(`{"channel":"other"}`), map[string][]byte{"again.csv": []byte(shopTable)}, &second)
	h.want(200, "DELETE", fmt.Sprintf("%s/order-lists/%d", at, second.Took.List.ID), nil, nil)
	h.want(200, "POST", buyer+"/erase", erasing{}, nil)
}

// keepPost enters what parcels are made with.
func (h *house) keepPost(at string) {
	h.t.Helper()
	var now store.PostState
	h.want(200, "GET", at+"/post", nil, &now)
	var tariff post.Tariff
	if status := h.upload(at+"/post/prices", map[string][]byte{"prices.csv": []byte(priceTable)}, &tariff); status != http.StatusOK || len(tariff.Prices) != 4 {
		h.t.Fatalf("%d %+v", status, tariff)
	}
	tariff.Zones[0].Countries, tariff.Zones[1].Rest = []orders.Country{"IT"}, true
	now.Post.Tariff = tariff
	now.Post.Sender = orders.Addressee{Name: "The maker", Lines: []string{"Via del Molo 3"}, Postcode: "34121", Town: "Trieste", Country: "IT"}
	now.Post.Materials = []post.Material{{Name: "mailer", Kind: post.Mailer, Mass: 40_000, Inside: pages.Size{Width: 240, Height: 330}, Deepest: 20, Outside: pages.Size{Width: 250, Height: 345}, Wall: 2}}
	now.Post.Rates = []post.SDRRate{{Currency: "EUR", Worth: "1.25", Day: "2026-11-20", Source: "invented"}}
	h.want(200, "PUT", at+"/post", postSaid{now.Revision, now.Post}, nil)
	h.refused(http.StatusConflict, sequence.Stale, "PUT", at+"/post", postSaid{now.Revision, now.Post})
}

func TestATableOfOrdersIsLookedAtBeforeItIsTaken(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	file := map[string][]byte{"november.csv": []byte(shopTable)}
	var read orderTable
	h.upload(at+"/order-lists?take=0", file, &read)
	if read.Took != nil || read.Matched || len(read.Table.Orders) != 2 || len(read.Table.Bad) != 1 || read.Table.Bad[0].Line != 4 {
		t.Fatalf("%+v", read)
	}
	var all ordersShown
	if h.want(200, "GET", at+"/orders", nil, &all); len(all.Orders) != 0 {
		t.Fatal("looking keeps orders")
	}
	how := read.Table.Reading
	how.Channel = "the harbour shop"
	delete(how.Columns, orders.DayField)
	text, err := json.Marshal(how)
	if err != nil {
		t.Fatal(err)
	}
	h.upload(at+"/order-lists?take=1&reading="+url.QueryEscape(string(text)), file, &read)
	h.upload(at+"/order-lists", file, &read)
	if _, dated := read.Table.Columns[orders.DayField]; !read.Matched || read.Table.Channel != "the harbour shop" || dated || !slices.Equal(read.Known, []string{"A-1", "A-2"}) {
		t.Errorf("how it was read is forgotten: %+v", read)
	}
	for _, bad := range []map[string][]byte{{}, {"a.csv": {}}, {"a.csv": []byte(shopTable), "b.csv": []byte(shopTable)}} {
		if status := h.upload(at+"/order-lists", bad, nil); status < 400 {
			t.Errorf("%d files: %d", len(bad), status)
		}
	}
	if status := h.upload(at+"/order-lists?reading=%7Bno", file, nil); status != http.StatusBadRequest {
		t.Error(status)
	}
}

func TestTwoWindowsEnterAnOrderForTheLastCopy(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	e := edition.FirstEdition
	e.Size = 1
	h.want(200, "PUT", at+"/edition", editionSaid{Edition: e}, nil)
	order := func(name string) orderSaid {
		return orderSaid{Order: orders.Order{Copies: 1, To: orders.Addressee{Name: name, Lines: []string{}}}.Tidy()}
	}
	done := make(chan int)
	for _, window := range []string{"window-1", "window-2"} {
		go func() { done <- h.from(window, "POST", at+"/orders", order(window), nil) }()
	}
	one, two := <-done, <-done
	if min(one, two) != http.StatusCreated || max(one, two) != http.StatusConflict {
		t.Errorf("%d and %d", one, two)
	}
	is := h.refused(http.StatusConflict, sequence.Conflict, "POST", at+"/orders", order("late"))
	if !strings.Contains(is.Error.Message, "No copy is left") {
		t.Errorf("%+v", is)
	}
	waits := order("late")
	waits.Wait = true
	h.want(201, "POST", at+"/orders", waits, nil)
}

func TestPostageAndCustomsOfAnOrder(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	var lacks outlayShown
	h.want(200, "GET", at+"/postage", nil, &lacks)
	if len(lacks.Lacks) != 3 {
		t.Errorf("what is to be entered first: %q", lacks.Lacks)
	}
	e := edition.FirstEdition
	// 60 pages of A5 at 150 g/m² and its cover of 250: 30 × 4.662 + 15.54 + ... g; weighed as 180 g here.
	e.Size, e.Weighed, e.Origin, e.Pages = 100, 180_000, "IT", 60
	h.want(200, "PUT", at+"/edition", editionSaid{Edition: e}, nil)
	h.upload(at+"/order-lists?take=1", map[string][]byte{"november.csv": []byte(shopTable)}, nil)
	h.keepPost(at)
	var out outlayShown
	h.want(200, "GET", at+"/postage", nil, &out)
	// 180 + 40 g abroad: 6.20; 2 × 180 + 40 g: 8.60.
	if out.Total.Minor != 620+860 || out.Parcels != 2 || len(out.Lacks) != 0 {
		t.Errorf("%+v", out)
	}
	var other post.Difference
	h.want(200, "POST", at+"/postage/what-if", whatIfAsked{Pages: 20}, &other)
	// 10 leaves of A5 at 150 g/m²: 46.62 g more, over the 250 g step.
	if other.Total.Minor != 240 || len(other.Effects) != 1 || !strings.Contains(other.Effects[0].Words, "over the 250 g step: +2.40 each to abroad") {
		t.Errorf("%+v", other)
	}
	h.refused(http.StatusBadRequest, sequence.Invalid, "POST", at+"/postage/what-if", whatIfAsked{Pages: -100})
	var all ordersShown
	h.want(200, "GET", at+"/orders", nil, &all)
	if got := strings.Join(all.Orders[1].Label, "|"); got != "R. Ode|9 Elm St|Portland OR 97205|UNITED STATES" || !slices.Equal(all.Orders[1].Marks, []string{"2/100", "3/100"}) {
		t.Errorf("%s %v", got, all.Orders[1].Marks)
	}
	for i, form := range []post.Form{post.NoForm, post.CN22} {
		var list declarationList
		h.want(200, "GET", fmt.Sprintf("%s/orders/%d/declarations", at, all.Orders[i].Order.ID), nil, &list)
		if len(list.Declarations) != 1 || list.Declarations[0].Form != form {
			t.Errorf("%+v", list)
		}
		if form == post.CN22 && (list.Declarations[0].SDR != "35.20" || list.Declarations[0].Items[0].Mass != 360_000 || list.Declarations[0].Mass != 400_000) {
			t.Errorf("%+v", list.Declarations[0])
		}
	}
}

func TestOrdersGoOutAsATableNoSpreadsheetExecutes(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	h.want(201, "POST", at+"/orders", orderSaid{Order: orders.Order{Copies: 1, Wish: `=HYPERLINK("http://x.example")`, To: orders.Addressee{Name: "@ada", Lines: []string{}, Phone: "+39 040"}}.Tidy()}, nil)
	got := h.fetch(fmt.Sprintf("/out/%d/orders.csv", title.ID), "")
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(got.body), "\uFEFF"))).ReadAll()
	if err != nil || len(rows) != 2 || !slices.Contains(rows[1], `'=HYPERLINK("http://x.example")`) || !slices.Contains(rows[1], "'@ada") || !slices.Contains(rows[1], "'+39 040") {
		t.Errorf("%q %v", rows, err)
	}
	if got := h.fetch(fmt.Sprintf("/out/%d/orders.xml", title.ID), ""); got.status != http.StatusNotFound {
		t.Error(got.status)
	}
}
