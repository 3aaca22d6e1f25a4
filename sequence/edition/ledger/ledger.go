package ledger

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/dispatch"
	"pairwall/sequence/edition/orders"
)

// Kind is what money was for.
type Kind string

// The kinds. The first three come in or go out with orders and parcels, the others
// as the maker enters them.
const (
	Copies   Kind = "copies"   // what buyers paid for copies
	Carriage Kind = "carriage" // what buyers paid for postage
	Postage  Kind = "postage"  // what the post was paid
	Fees     Kind = "fees"     // what channels kept
	Printing Kind = "printing"
	Packing  Kind = "packing"
	Other    Kind = "other"
)

// Kinds lists them in the order in which they are shown.
func Kinds() []Kind { return []Kind{Copies, Carriage, Printing, Packing, Postage, Fees, Other} }

// Entered is money the maker enters.
type Entered struct {
	Day     string        `json:"day"` // yyyy-mm-dd; "" when not known
	Kind    Kind          `json:"kind"`
	Words   string        `json:"words"`
	Channel string        `json:"channel"` // "" for none
	Amount  edition.Money `json:"amount"`  // above nothing came in, below went out
}

// ChannelFee is what a channel keeps of each order.
type ChannelFee struct {
	Channel string          `json:"channel"`
	Percent edition.Decimal `json:"percent"` // of price and postage together; "" for none
	Each    edition.Money   `json:"each"`    // of each order besides; currency "" for none
}

// Cashbook is what the maker decides about money.
type Cashbook struct {
	In      edition.Currency `json:"in"` // that sums are told in
	Rates   []edition.Rate   `json:"rates"`
	Fees    []ChannelFee     `json:"fees"`
	Entered []Entered        `json:"entered"`
}

// FirstCashbook is what a title begins with.
func FirstCashbook() Cashbook {
	return Cashbook{In: "EUR", Rates: []edition.Rate{}, Fees: []ChannelFee{}, Entered: []Entered{}}
}

// Bounds of a book; no source.
const (
	mostEntries = 5000
	mostWords   = 300
)

// Check refuses a book that cannot be summed.
//
// Error: Invalid.
func (b Cashbook) Check() error {
	refuse := func(hint, words string, args ...any) error {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf(words, args...), Hint: hint}
	}
	if _, err := edition.NewMoney(0, b.In); err != nil {
		return err
	}
	if len(b.Entered) > mostEntries || len(b.Fees) > mostEntries || len(b.Rates) > mostEntries {
		return refuse("", "More than %d rows cannot be kept.", mostEntries)
	}
	for _, r := range b.Rates {
		zero, err := edition.NewMoney(0, r.From)
		if err != nil {
			return err
		}
		if _, err := r.Convert(zero); err != nil {
			return err
		}
		if r.To != b.In {
			return refuse("Say what one unit of the other currency is worth in "+string(b.In)+".", "The rate from %s is not to %s.", r.From, b.In)
		}
	}
	for _, f := range b.Fees {
		if err := f.Percent.Check(); err != nil {
			return err
		}
		if hundred := big.NewRat(100, 1); f.Percent.Rat().Sign() < 0 || f.Percent.Rat().Cmp(hundred) > 0 || f.Each.Minor < 0 {
			return refuse("A fee is from 0 to 100 per cent, and no less than nothing.", "%s keeps an amount that cannot be.", f.Channel)
		}
		if f.Each.Currency != "" {
			if err := f.Each.Check(); err != nil {
				return err
			}
		}
	}
	for i, e := range b.Entered {
		if err := e.check(); err != nil {
			return refuse("", "Row %d: %v", i+1, err)
		}
	}
	return nil
}

func (e Entered) check() error {
	switch {
	case !slices.Contains(Kinds(), e.Kind):
		return fmt.Errorf("money cannot be for %q", e.Kind)
	case utf8.RuneCountInString(e.Words) > mostWords || utf8.RuneCountInString(e.Channel) > mostWords:
		return fmt.Errorf("the words are longer than %d letters", mostWords)
	case e.Amount.Minor == 0:
		return fmt.Errorf("there is no amount")
	}
	if _, err := time.Parse(time.DateOnly, e.Day); e.Day != "" && err != nil {
		return fmt.Errorf("%q is no day; write it as 2026-11-26", e.Day)
	}
	return e.Amount.Check()
}

// Row is one amount with where it is from.
type Row struct {
	Day     string         `json:"day"`
	Kind    Kind           `json:"kind"`
	Words   string         `json:"words"`
	From    string         `json:"from"`            // "order A-17", "parcel 3", "entered 2"
	Order   int64          `json:"order,omitempty"` // it came about with
	Channel string         `json:"channel"`
	Country orders.Country `json:"country"`
	Amount  edition.Money  `json:"amount"`            // above nothing came in, below went out
	Counted *edition.Money `json:"counted,omitempty"` // in the book's currency, by the rate entered; absent when there is none
}

// Sum is what some rows add up to.
type Sum struct {
	Name string        `json:"name"`
	In   edition.Money `json:"in"`
	Out  edition.Money `json:"out"` // below nothing
	Left edition.Money `json:"left"`
	Rows []int         `json:"rows"` // by their place in Account.Rows
}

// Account is all of it.
type Account struct {
	Rows      []Row              `json:"rows"`
	Total     Sum                `json:"total"`
	Kinds     []Sum              `json:"kinds"`
	Channels  []Sum              `json:"channels"`
	Countries []Sum              `json:"countries"`
	Lacking   []edition.Currency `json:"lacking"` // currencies without a rate: their rows are in no sum
	Sold      int                `json:"sold"`    // copies paid for
}

// Draw draws the account up.
//
// Errors: Invalid for a book that cannot be summed; TooLarge.
func (b Cashbook) Draw(list []orders.Order, packed []dispatch.Packed) (Account, error) {
	if err := b.Check(); err != nil {
		return Account{}, err
	}
	a := Account{Rows: []Row{}, Lacking: []edition.Currency{}}
	known := map[int64]orders.Order{}
	for _, o := range list {
		known[o.ID] = o
		if o.State == orders.Cancelled {
			continue
		}
		if o.Price.Minor > 0 {
			a.Sold += o.Copies
		}
		rows, err := b.ofOrder(o)
		if err != nil {
			return a, err
		}
		a.Rows = append(a.Rows, rows...)
	}
	for _, p := range packed {
		if p.Postage.Minor == 0 {
			continue
		}
		o := known[p.Order]
		a.Rows = append(a.Rows, Row{Day: p.At.Format(time.DateOnly), Kind: Postage, Words: p.Service, From: fmt.Sprintf("parcel %d", p.ID), Order: p.Order,
			Channel: o.Channel, Country: o.To.Country, Amount: p.Postage.Neg()})
	}
	for i, e := range b.Entered {
		a.Rows = append(a.Rows, Row{Day: e.Day, Kind: e.Kind, Words: e.Words, From: fmt.Sprintf("entered %d", i+1), Channel: e.Channel, Amount: e.Amount})
	}
	slices.SortStableFunc(a.Rows, func(x, y Row) int { return cmp.Compare(x.Day, y.Day) })
	return a, b.sum(&a)
}

func (b Cashbook) ofOrder(o orders.Order) ([]Row, error) {
	var rows []Row
	row := Row{Day: o.Day, From: "order " + o.Number, Order: o.ID, Channel: o.Channel, Country: o.To.Country}
	with := func(kind Kind, words string, m edition.Money) {
		if m.Minor != 0 {
			row.Kind, row.Words, row.Amount = kind, words, m
			rows = append(rows, row)
		}
	}
	words := fmt.Sprintf("%d copies", o.Copies)
	if o.Copies == 1 {
		words = "1 copy"
	}
	with(Copies, words, o.Price)
	with(Carriage, "postage the buyer paid", o.Postage)
	for _, f := range b.Fees {
		if !strings.EqualFold(strings.TrimSpace(f.Channel), o.Channel) || len(rows) == 0 {
			continue
		}
		part, err := f.part(o)
		if err != nil {
			return nil, err
		}
		for _, m := range part {
			with(Fees, "kept by "+f.Channel, m.Neg())
		}
	}
	return rows, nil
}

// part is what a fee takes of an order: of each currency it was paid in, rounded
// as invoices are.
func (f ChannelFee) part(o orders.Order) ([]edition.Money, error) {
	paid := []edition.Money{}
	for _, m := range []edition.Money{o.Price, o.Postage} {
		switch {
		case m.Minor == 0:
		case len(paid) > 0 && paid[0].Currency == m.Currency:
			sum, err := paid[0].Add(m)
			if err != nil {
				return nil, err
			}
			paid[0] = sum
		default:
			paid = append(paid, m)
		}
	}
	for i, m := range paid {
		part, err := m.Percent(f.Percent)
		if err != nil {
			return nil, err
		}
		paid[i] = part
	}
	if f.Each.Minor != 0 {
		paid = append(paid, f.Each)
	}
	return paid, nil
}

// sum counts every row in the book's currency and adds up nothing but what was
// counted, so that every sum is that of its rows to the last minor unit.
func (b Cashbook) sum(a *Account) error {
	for i := range a.Rows {
		counted, known, err := b.count(a.Rows[i].Amount)
		if err != nil {
			return err
		}
		if !known {
			if c := a.Rows[i].Amount.Currency; !slices.Contains(a.Lacking, c) {
				a.Lacking = append(a.Lacking, c)
			}
			continue
		}
		a.Rows[i].Counted = &counted
	}
	total, err := b.by(a.Rows, func(Row) string { return "" })
	if err != nil {
		return err
	}
	a.Total = Sum{In: edition.Money{Currency: b.In}, Out: edition.Money{Currency: b.In}, Left: edition.Money{Currency: b.In}, Rows: []int{}}
	if len(total) > 0 {
		a.Total = total[0]
	}
	for into, name := range map[*[]Sum]func(Row) string{
		&a.Kinds:     func(r Row) string { return string(r.Kind) },
		&a.Channels:  func(r Row) string { return r.Channel },
		&a.Countries: func(r Row) string { return r.Country.Name() },
	} {
		if *into, err = b.by(a.Rows, name); err != nil {
			return err
		}
	}
	slices.SortFunc(a.Kinds, func(x, y Sum) int { return slices.Index(Kinds(), Kind(x.Name)) - slices.Index(Kinds(), Kind(y.Name)) })
	return nil
}

func (b Cashbook) count(m edition.Money) (counted edition.Money, known bool, err error) {
	if m.Currency == b.In {
		return m, true, nil
	}
	for _, r := range b.Rates {
		if r.From == m.Currency {
			counted, err = r.Convert(m)
			return counted, true, err
		}
	}
	return counted, false, nil
}

// by sums rows by a name, in the order of the names.
func (b Cashbook) by(rows []Row, name func(Row) string) ([]Sum, error) {
	all, at := []Sum{}, map[string]int{}
	for i, r := range rows {
		if r.Counted == nil {
			continue
		}
		n, seen := at[name(r)]
		if !seen {
			n = len(all)
			at[name(r)] = n
			zero := edition.Money{Currency: b.In}
			all = append(all, Sum{Name: name(r), In: zero, Out: zero, Left: zero, Rows: []int{}})
		}
		s := &all[n]
		s.Rows = append(s.Rows, i)
		into := &s.In
		if r.Counted.Minor < 0 {
			into = &s.Out
		}
		var err error
		if *into, err = into.Add(*r.Counted); err != nil {
			return nil, err
		}
		if s.Left, err = s.Left.Add(*r.Counted); err != nil {
			return nil, err
		}
	}
	slices.SortFunc(all, func(x, y Sum) int { return cmp.Compare(x.Name, y.Name) })
	return all, nil
}
