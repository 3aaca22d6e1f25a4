package server

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/dispatch"
	"pairwall/sequence/edition/ledger"
	"pairwall/sequence/edition/orders"
)

// parcelsAnswer drives what is about parcels and money.
func (h *house) parcelsAnswer(title sequence.Title, at string) {
	h.t.Helper()
	h.want(201, "POST", at+"/orders", orderSaid{Order: orders.Order{Number: "abroad", Copies: 1, Price: edition.Money{Minor: 2200, Currency: "EUR"},
		To: orders.Addressee{Name: "M. Kern", Lines: []string{"Seeweg 2"}, Postcode: "8001", Town: "Zürich", Country: "CH"}}.Tidy()}, nil)
	var table tableShown
	h.want(200, "GET", at+"/parcels", nil, &table)
	if len(table.Waiting) == 0 {
		h.t.Fatalf("%+v", table)
	}
	said := parcelSaid{Order: table.Waiting[0].Order, Copies: table.Waiting[0].Copies, Mass: "230", Tracking: "\x02RR 123 456 785 IT\r\n"}
	h.want(200, "POST", at+"/parcels/weigh", said, nil)
	h.want(200, "GET", at+"/labels", nil, nil)
	for _, name := range []string{"labels", "label-test", "packing-list", "thanks", "customs"} {
		if got := h.fetch(fmt.Sprintf("/print/%d/parcels/%s.pdf", title.ID, name), ""); got.status != http.StatusOK {
			h.t.Errorf("%s: %d", name, got.status)
		}
	}
	h.want(200, "POST", at+"/parcels", said, &table)
	one := fmt.Sprintf("%s/parcels/%d", at, table.Done[0].ID)
	h.want(200, "PUT", one, parcelChanged{Mass: "232 g", Tracking: "RR123456785IT"}, nil)
	h.want(200, "POST", at+"/parcels/undo", nil, nil)
	h.want(200, "DELETE", one, nil, nil)
	book := ledger.FirstCashbook()
	book.Entered = []ledger.Entered{{Kind: ledger.Printing, Amount: edition.Money{Minor: -90000, Currency: "EUR"}}}
	h.want(200, "PUT", at+"/money", cashbookSaid{Book: book}, nil)
	h.refused(http.StatusConflict, sequence.Stale, "PUT", at+"/money", cashbookSaid{Book: book})
	h.want(200, "GET", at+"/money", nil, nil)
	for _, form := range []string{"csv", "json"} {
		if got := h.fetch(fmt.Sprintf("/out/%d/money.%s", title.ID, form), ""); got.status != http.StatusOK {
			h.t.Errorf("%s: %d", form, got.status)
		}
	}
}

func TestAnAfternoonAtThePackingTable(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	e := edition.FirstEdition
	e.Size, e.Origin = 10, "IT"
	h.want(200, "PUT", at+"/edition", editionSaid{Edition: e}, nil)
	h.keepPost(at)
	h.upload(at+"/order-lists?take=1", map[string][]byte{"november.csv": []byte(shopTable)}, nil)
	h.want(201, "POST", at+"/orders", orderSaid{Order: orders.Order{Copies: 1, To: orders.Addressee{Name: "No street", Lines: []string{}, Town: "Bari", Country: "IT"}}.Tidy()}, nil)
	var table tableShown
	h.want(200, "GET", at+"/parcels", nil, &table)
	if len(table.Waiting) != 2 || table.Waiting[0].Number != "A-1" || table.Waiting[1].Marks[1] != "3/10" || len(table.Held) != 1 || !strings.Contains(table.Held[0].Why, "no street") {
		t.Fatalf("%+v", table)
	}
	two := table.Waiting[1]
	said := parcelSaid{Order: two.Order, Copies: two.Copies, Mass: "9 kg"}
	var is dispatch.Weighed
	if h.want(200, "POST", at+"/parcels/weigh", said, &is); is.Choice != nil || is.Words == "" {
		t.Errorf("nine kilograms go: %+v", is)
	}
	said.Mass = fmt.Sprintf("%.0f", two.Posted.Parcel.Mass.Grams())
	if h.want(200, "POST", at+"/parcels/weigh", said, &is); is.Choice == nil || is.Words != "" {
		t.Errorf("as reckoned: %+v", is)
	}
	said.Tracking = "RR1"
	h.want(200, "POST", at+"/parcels", said, &table)
	if len(table.Waiting) != 1 || len(table.Done) != 1 || table.Done[0].Tracking != "RR1" || table.Done[0].Postage.Minor == 0 || table.Undo != "A-2" {
		t.Fatalf("%+v", table)
	}
	h.refused(http.StatusConflict, sequence.Conflict, "POST", at+"/parcels", said)
	h.want(200, "POST", at+"/parcels/undo", nil, &table)
	if len(table.Waiting) != 2 || len(table.Done) != 0 || table.Undo != "" {
		t.Fatalf("%+v", table)
	}
	h.refused(http.StatusConflict, sequence.Conflict, "POST", at+"/parcels/undo", nil)
	again := h.fetch(fmt.Sprintf("/print/%d/parcels/labels.pdf?orders=%d", title.ID, two.Order), "")
	if again.status != http.StatusOK {
		t.Error(again.status)
	}
	if got := h.fetch(fmt.Sprintf("/print/%d/parcels/labels.pdf?orders=x", title.ID), ""); got.status != http.StatusBadRequest {
		t.Error(got.status)
	}
}

// hostileOrders is a table of orders with what people and attackers write.
func hostileOrders(n int) []byte {
	names := []string{"Ulla Ångström", "Ελένη Παπαδοπούλου", "Ђорђе Живковић", "Անի Սարգսյան", "ნინო ბერიძე", "山田 花子", "محمد علي", "נועה לוי", "\u202egpj.exe", "=cmd|'/c calc'!A1",
		"+39 040", "@SUM(A1)", "-1+1", strings.Repeat("lang ", 60), "🚂", "Jose\u0301", "O'Brien \"Bob\"", "a\nb", "<b>&amp;", "'; DROP TABLE orders; --"}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	_ = w.Write([]string{"Order", "Name", "Address 1", "Postcode", "City", "Country", "Email", "Qty", "Price", "Currency"})
	for i := range n {
		name := names[i%len(names)]
		_ = w.Write([]string{fmt.Sprint("H-", i+1), name, name + " 5", "6330", "Piran", "Slovenia", fmt.Sprintf("p%d@example.org", i), "1", "22.00", "EUR"})
	}
	w.Flush()
	return out.Bytes()
}

func TestTenThousandHostileOrdersComeThroughLabelsAndTables(t *testing.T) {
	const n = 10_000
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	e := edition.FirstEdition
	e.Size = n
	h.want(200, "PUT", at+"/edition", editionSaid{Edition: e}, nil)
	h.keepPost(at)
	var read orderTable
	if h.upload(at+"/order-lists?take=1", map[string][]byte{"all.csv": hostileOrders(n)}, &read); read.Took == nil || read.Took.List.Orders != n {
		t.Fatalf("%d rows are bad: %+v", len(read.Table.Bad), read.Table.Bad[:min(3, len(read.Table.Bad))])
	}
	var plan labelPlan
	h.want(200, "GET", at+"/labels", nil, &plan)
	if plan.Labels != n || plan.Sheets != (n+20)/21 {
		t.Errorf("%d labels on %d sheets", plan.Labels, plan.Sheets)
	}
	// Of twenty names three have no typeface or run from right to left.
	if len(plan.ByHand) < 3*n/20 || len(plan.ByHand) > 4*n/20 {
		t.Errorf("%d labels are for a hand: %+v", len(plan.ByHand), plan.ByHand[:min(4, len(plan.ByHand))])
	}
	pdf := h.fetch(fmt.Sprintf("/print/%d/parcels/labels.pdf", title.ID), "")
	if pdf.status != http.StatusOK {
		t.Fatal(pdf.status, pdf.body)
	}
	file := filepath.Join(t.TempDir(), "labels.pdf")
	if err := os.WriteFile(file, pdf.body, 0o600); err != nil {
		t.Fatal(err)
	}
	text, err := exec.CommandContext(t.Context(), "pdftotext", "-raw", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(string(text), "6330 Piran"); got != n-n/20 {
		t.Errorf("%d of %d addresses are on the labels", got, n)
	}
	// Two lines of 300 letters fit no label of that size: it is left to a hand, and told.
	if last := plan.ByHand[len(plan.ByHand)-1]; !strings.Contains(fmt.Sprint(plan.ByHand), "does not fit a label") || last.Number == "" {
		t.Errorf("%+v", last)
	}
	for _, form := range []string{"orders", "money"} {
		table := h.fetch(fmt.Sprintf("/out/%d/%s.csv", title.ID, form), "")
		rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(table.body), "\uFEFF"))).ReadAll()
		if err != nil || len(rows) != n+1 {
			t.Fatalf("%s: %d rows, %v", form, len(rows), err)
		}
		for _, row := range rows {
			for _, cell := range row {
				if strings.IndexAny(cell, "=+-@\t\r") == 0 {
					t.Fatalf("%s: %q begins a formula", form, cell)
				}
			}
		}
	}
}
