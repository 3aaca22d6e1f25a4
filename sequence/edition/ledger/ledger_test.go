package ledger

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"pairwall/sequence/edition"
	"pairwall/sequence/edition/dispatch"
	"pairwall/sequence/edition/orders"
)

func eur(minor int64) edition.Money { return edition.Money{Minor: minor, Currency: "EUR"} }

// A worked example, reckoned by hand:
// order 1: 2 × 22.00 + 6.20 paid; the shop keeps 5 % of 50.20 = 2.51 and 0.30;
// order 2: 30.00 USD at 0.91 = 27.30, nobody keeps anything;
// order 3: 3000 JPY, no rate: in no sum;
// postage 8.60, the printer 30.00, a grant of 10.00.
func TestAnAccountIsWhatItsRowsAre(t *testing.T) {
	book := FirstCashbook()
	book.Rates = []edition.Rate{{From: "USD", To: "EUR", Value: "0.91", Day: "2026-11-20"}}
	book.Fees = []ChannelFee{{Channel: "the harbour shop", Percent: "5", Each: eur(30)}}
	book.Entered = []Entered{{Day: "2026-10-01", Kind: Printing, Words: "100 copies, invoice 7", Amount: eur(-3000)}, {Kind: Other, Words: "grant", Amount: eur(1000)}}
	list := []orders.Order{
		{ID: 1, Number: "A-1", Channel: "the harbour shop", Day: "2026-11-02", Copies: 2, Price: eur(4400), Postage: eur(620), To: orders.Addressee{Country: "SI"}},
		{ID: 2, Number: "2", Channel: "fair", Day: "2026-11-03", Copies: 1, Price: edition.Money{Minor: 3000, Currency: "USD"}, To: orders.Addressee{Country: "US"}},
		{ID: 3, Number: "3", Copies: 1, Price: edition.Money{Minor: 3000, Currency: "JPY"}},
		{ID: 4, Number: "4", Channel: "the harbour shop", Copies: 9, Price: eur(99999), State: orders.Cancelled},
	}
	a, err := book.Draw(list, []dispatch.Packed{{ID: 5, Order: 1, Service: "Quiet letter", Postage: eur(860), At: time.Date(2026, 11, 5, 0, 0, 0, 0, time.UTC)}})
	if err != nil {
		t.Fatal(err)
	}
	want := Sum{In: eur(4400 + 620 + 2730 + 1000), Out: eur(-3000 - 860 - 251 - 30), Left: eur(8750 - 4141)}
	if a.Total.In != want.In || a.Total.Out != want.Out || a.Total.Left != want.Left {
		t.Errorf("%+v, want %+v", a.Total, want)
	}
	if !slices.Equal(a.Lacking, []edition.Currency{"JPY"}) || a.Sold != 4 || len(a.Rows) != 9 {
		t.Errorf("lacking %v, sold %d, %d rows", a.Lacking, a.Sold, len(a.Rows))
	}
	for _, s := range a.Channels {
		if s.Name == "the harbour shop" && s.Left != eur(4400+620-251-30-860) {
			t.Errorf("%+v", s)
		}
	}
}

// Whatever comes, every sum is that of its rows, and the parts of each division
// are the whole, to the last cent.
func TestSumsAreThoseOfTheirRowsToTheCent(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 1))
	currencies := []edition.Currency{"EUR", "USD", "JPY", "CHF"}
	for range 200 {
		book := FirstCashbook()
		book.Rates = []edition.Rate{{From: "USD", To: "EUR", Value: "0.9137"}, {From: "JPY", To: "EUR", Value: "0.0061"}}
		book.Fees = []ChannelFee{{Channel: "shop", Percent: edition.Decimal(fmt.Sprintf("%d.%d", random.IntN(20), random.IntN(10))), Each: eur(random.Int64N(50))}}
		money := func() edition.Money {
			return edition.Money{Minor: random.Int64N(100_000), Currency: currencies[random.IntN(len(currencies))]}
		}
		var list []orders.Order
		var packed []dispatch.Packed
		for i := range random.IntN(60) {
			list = append(list, orders.Order{ID: int64(i + 1), Number: fmt.Sprint(i), Channel: []string{"shop", "fair", ""}[random.IntN(3)], Copies: 1 + random.IntN(5),
				Price: money(), Postage: money(), State: orders.States()[random.IntN(3)], To: orders.Addressee{Country: []orders.Country{"IT", "JP", "US", ""}[random.IntN(4)]}})
			packed = append(packed, dispatch.Packed{ID: int64(i), Order: int64(i + 1), Postage: money()})
			book.Entered = append(book.Entered, Entered{Kind: Other, Amount: eur(random.Int64N(5000) - 2500 | 1)})
		}
		a, err := book.Draw(list, packed)
		if err != nil {
			t.Fatal(err)
		}
		check := func(s Sum) {
			var in, out int64
			for _, at := range s.Rows {
				if c := a.Rows[at].Counted.Minor; c > 0 {
					in += c
				} else {
					out += c
				}
			}
			if s.In.Minor != in || s.Out.Minor != out || s.Left.Minor != in+out {
				t.Fatalf("%q is %v, %v, %v; its rows are %d and %d", s.Name, s.In, s.Out, s.Left, in, out)
			}
		}
		check(a.Total)
		for what, sums := range map[string][]Sum{"kinds": a.Kinds, "channels": a.Channels, "countries": a.Countries} {
			var left int64
			rows := 0
			for _, s := range sums {
				check(s)
				left += s.Left.Minor
				rows += len(s.Rows)
			}
			if left != a.Total.Left.Minor || rows != len(a.Total.Rows) {
				t.Fatalf("the %s sum to %d in %d rows, the whole is %v in %d", what, left, rows, a.Total.Left, len(a.Total.Rows))
			}
		}
	}
}

func TestATableForTheTaxAdviserHoldsNoFormula(t *testing.T) {
	book := FirstCashbook()
	book.Entered = []Entered{{Kind: Other, Words: "=HYPERLINK(\"http://x\")", Channel: "@shop", Amount: eur(-150)}}
	a, err := book.Draw([]orders.Order{{Number: "+1", Channel: "-2", Copies: 1, Price: eur(100)}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := a.WriteCSV(&out); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(out.String(), "\uFEFF"))).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatal(rows, err)
	}
	for _, row := range rows {
		for i, cell := range row {
			if i != 6 && i != 8 && strings.IndexAny(cell, "=+-@") == 0 {
				t.Errorf("%q begins a formula", cell)
			}
		}
	}
	if rows[1][6] != "1.00" || rows[2][6] != "-1.50" || rows[2][2] != "'=HYPERLINK(\"http://x\")" {
		t.Errorf("%q", rows)
	}
}

func TestABookThatCannotBeSummedIsRefused(t *testing.T) {
	for name, change := range map[string]func(*Cashbook){
		"no currency":     func(b *Cashbook) { b.In = "XXQ" },
		"rate of nothing": func(b *Cashbook) { b.Rates = []edition.Rate{{From: "USD", To: "EUR", Value: "0"}} },
		"rate to others":  func(b *Cashbook) { b.Rates = []edition.Rate{{From: "USD", To: "CHF", Value: "1"}} },
		"fee of all":      func(b *Cashbook) { b.Fees = []ChannelFee{{Channel: "x", Percent: "101"}} },
		"no kind":         func(b *Cashbook) { b.Entered = []Entered{{Kind: "bribes", Amount: eur(1)}} },
		"no amount":       func(b *Cashbook) { b.Entered = []Entered{{Kind: Other, Amount: eur(0)}} },
		"no day":          func(b *Cashbook) { b.Entered = []Entered{{Kind: Other, Amount: eur(1), Day: "today"}} },
	} {
		b := FirstCashbook()
		change(&b)
		if b.Check() == nil {
			t.Errorf("%s: taken", name)
		}
	}
}
