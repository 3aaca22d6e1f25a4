package orders

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"pairwall/sequence"
	"pairwall/sequence/edition"
)

// Reading is how a table is to be read. What is left empty is found.
type Reading struct {
	Encoding  Encoding         `json:"encoding"`
	Separator string           `json:"separator"` // one of ",", ";", "|" and a tab
	Columns   Columns          `json:"columns"`
	Channel   string           `json:"channel"`  // where these were sold
	Currency  edition.Currency `json:"currency"` // of prices that do not say
	Item      string           `json:"item"`     // only rows whose item holds these words; "" takes all
	Days      DayOrder         `json:"days"`     // what comes first in 3/4/2026
}

// Table is what a table of orders was found to hold. Nothing is kept yet.
type Table struct {
	Reading
	Header []string   `json:"header"`
	Sample [][]string `json:"sample"` // the first rows
	Rows   int        `json:"rows"`   // below the first
	Orders []Order    `json:"orders"`
	Bad    []Bad      `json:"bad"`
	Other  int        `json:"other"` // rows of other goods
}

// Bad is a row that cannot be read as an order.
type Bad struct {
	Line   int    `json:"line"`   // of the file, from 1
	Number string `json:"number"` // its order number, if it has one
	Why    string `json:"why"`    // one sentence
}

// Bounds on one table, held in memory while it is read; no source.
const (
	MostBytes   = 32 << 20
	mostRows    = 100_000
	mostColumns = 500
	sampleRows  = 5
)

// separators are those looked for.
var separators = []rune{',', ';', '\t', '|'}

// Read reads a table of orders. Rows with one order number are one order: their
// copies and prices add up. A row that cannot be read is told and left out, the
// whole order with it.
//
// Errors: Invalid for a reading that does not fit the table; Damaged for bytes
// that are no table; TooLarge. Complexity: O(bytes).
func Read(data []byte, how Reading) (Table, error) {
	if len(data) > MostBytes {
		return Table{}, &sequence.Error{Code: sequence.TooLarge, Message: "The table is larger than we take.", Hint: fmt.Sprintf("Split it: %d MB at a time.", MostBytes>>20)}
	}
	text, found, err := Decode(data, how.Encoding)
	if err != nil {
		return Table{}, err
	}
	if !strings.Contains(text, "\n") {
		text = strings.ReplaceAll(text, "\r", "\n") // lines ended as on very old machines
	}
	t := Table{Reading: how, Sample: [][]string{}, Orders: []Order{}, Bad: []Bad{}}
	t.Encoding = found
	rest, said := announced(text)
	lead := strings.Count(text[:len(text)-len(rest)], "\n")
	if t.Separator == "" {
		t.Separator = said
	}
	if t.Separator == "" {
		t.Separator = string(separator(rest))
	}
	if !slices.Contains(separators, []rune(t.Separator)[0]) || len(t.Separator) != 1 {
		return Table{}, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q does not separate columns.", how.Separator), Hint: "Comma, semicolon, tab or | do."}
	}
	return t, t.read(rest, lead)
}

// announced reads the line "sep=;" that some programs write first.
func announced(text string) (rest, separator string) {
	first, rest, _ := strings.Cut(text, "\n")
	first = strings.Trim(strings.TrimRight(first, "\r"), `"`)
	if said, ok := strings.CutPrefix(first, "sep="); ok && len(said) == 1 {
		return rest, said
	}
	return text, ""
}

// separator finds what separates columns: whatever makes the first rows of one
// and the greatest width.
func separator(text string) rune {
	best, width := separators[0], 0
	for _, sign := range separators {
		rows := reader(text, sign, true)
		first, same := 0, 0
		for range 20 {
			row, err := rows.Read()
			if err != nil {
				break
			}
			if first == 0 {
				first = len(row)
			}
			if len(row) == first {
				same++
			}
		}
		if first > 1 && first*same > width {
			best, width = sign, first*same
		}
	}
	return best
}

func reader(text string, separator rune, lazy bool) *csv.Reader {
	rows := csv.NewReader(strings.NewReader(text))
	rows.Comma, rows.LazyQuotes, rows.FieldsPerRecord = separator, lazy, -1
	return rows
}

func (t *Table) read(text string, lead int) error {
	rows := reader(text, rune(t.Separator[0]), true)
	header, err := rows.Read()
	if err != nil || len(header) > mostColumns {
		return &sequence.Error{Code: sequence.Damaged, Message: "This is no table of orders.", Hint: "Export the orders as CSV, with a first row that names the columns.", Err: err}
	}
	t.Header = header
	if t.Columns == nil {
		t.Columns = Guess(header)
	} else if err := t.Columns.Check(len(header)); err != nil {
		return err
	}
	passed := rows.InputOffset()
	below, err := t.below(text[passed:], 1+lead+strings.Count(text[:passed], "\n"))
	if err != nil {
		return err
	}
	if t.Days == "" {
		t.Days = t.dayOrder(below)
	}
	if _, matched := t.Columns[NumberField]; !matched {
		t.Bad = []Bad{{Line: 1 + lead, Why: "No column is known to be the order number: say which."}}
		return nil
	}
	gathered := newGathering(t)
	for _, one := range below {
		gathered.take(one.line, one.cells)
	}
	gathered.finish()
	return nil
}

// row is one row of a table and the line it began in.
type row struct {
	line  int
	cells []string
}

// below reads what stands under the first row. A row whose quotation marks do not
// fit costs no other: reading goes on with the next line. Marks that stand within
// a cell, as in 5" × 7", are taken as they are when the row has as many cells as
// the first.
func (t *Table) below(text string, line int) ([]row, error) {
	var all []row
	for text != "" {
		rows := reader(text, rune(t.Separator[0]), false)
		cells, err := rows.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		began, passed := line, rows.InputOffset()
		if err == nil {
			at, _ := rows.FieldPos(0)
			began += at - 1
		} else {
			cells, began, passed = t.alone(text, line, err)
		}
		line += strings.Count(text[:passed], "\n")
		text = text[passed:]
		switch {
		case cells == nil:
			t.Bad = append(t.Bad, Bad{Line: began, Why: "The row's quotation marks do not fit."})
			continue
		case blank(cells):
			continue
		case len(all) == mostRows:
			return nil, &sequence.Error{Code: sequence.TooLarge, Message: fmt.Sprintf("The table has more than %d rows.", mostRows), Hint: "Split it."}
		case len(t.Sample) < sampleRows:
			t.Sample = append(t.Sample, cells)
		}
		all = append(all, row{began, cells})
	}
	t.Rows = len(all)
	return all, nil
}

// alone reads the line in which a row that cannot be read began, by itself. It
// returns nil cells when that makes no sense either.
func (t *Table) alone(text string, line int, err error) (cells []string, began int, passed int64) {
	var parse *csv.ParseError
	first := 0 // lines before it: empty ones
	if errors.As(err, &parse) {
		first = parse.StartLine - 1
	}
	at := 0
	for range first {
		at += strings.IndexByte(text[at:], '\n') + 1
	}
	end := len(text)
	if next := strings.IndexByte(text[at:], '\n'); next >= 0 {
		end = at + next + 1
	}
	cells, lazyErr := reader(text[at:end], rune(t.Separator[0]), true).Read()
	if lazyErr != nil || len(cells) != len(t.Header) {
		cells = nil
	}
	return cells, line + first, int64(end)
}

func blank(row []string) bool {
	return !slices.ContainsFunc(row, func(cell string) bool { return strings.TrimSpace(cell) != "" })
}

// gathering joins rows of one order.
type gathering struct {
	table *Table
	order map[string]*gathered
	list  []*gathered
	seen  map[string]int // whole rows, and the line they stood in
}

type gathered struct {
	Order
	line int
	bad  bool
}

func newGathering(t *Table) *gathering {
	return &gathering{table: t, order: make(map[string]*gathered), seen: make(map[string]int)}
}

func (g *gathering) bad(line int, number string, err error) {
	why := err.Error()
	var coded *sequence.Error
	if errors.As(err, &coded) {
		why = coded.Message
	}
	g.table.Bad = append(g.table.Bad, Bad{line, short(number), why})
}

// says is a reason the maker reads.
func says(words string, args ...any) error {
	return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf(words, args...)}
}

func (g *gathering) take(line int, row []string) {
	t := g.table
	if t.Item != "" && !strings.Contains(folded(t.cell(row, ItemField)), folded(t.Item)) {
		t.Other++
		return
	}
	number := t.cell(row, NumberField)
	whole := strings.Join(row, "\x00")
	first, twice := g.seen[whole]
	g.seen[whole] = line
	before := g.order[number]
	if twice && number != "" {
		g.bad(line, number, says("This row is the same as line %d.", first))
		return
	}
	o, err := t.orderOf(row, before != nil)
	if err == nil && before != nil {
		err = before.join(o)
	}
	switch {
	case err != nil:
		g.bad(line, number, err)
		if before != nil {
			before.bad = true
		} else if number != "" {
			g.order[number] = &gathered{line: line, bad: true}
		}
	case before == nil:
		next := &gathered{Order: o, line: line}
		g.order[number] = next
		g.list = append(g.list, next)
	}
}

// finish hands over the orders that are whole.
func (g *gathering) finish() {
	for _, one := range g.list {
		if one.bad {
			g.bad(one.line, one.Number, says("Another row of this order cannot be read."))
			continue
		}
		if err := one.Check(); err != nil {
			g.bad(one.line, one.Number, err)
			continue
		}
		g.table.Orders = append(g.table.Orders, one.Order)
	}
	slices.SortStableFunc(g.table.Bad, func(a, b Bad) int { return a.Line - b.Line })
}

// join adds a further row to an order. What it says of the person may be left
// out there, but not be another.
func (g *gathered) join(o Order) error {
	if g.bad {
		return says("Another row of this order cannot be read.")
	}
	if (o.To.Name != "" && o.To.Name != g.To.Name) || (o.To.Postcode != "" && o.To.Postcode != g.To.Postcode) {
		return says("Line %d has the same order number for another person.", g.line)
	}
	g.Copies += o.Copies
	var err error
	if g.Price, err = plus(g.Price, o.Price); err != nil {
		return err
	}
	if g.Postage.Currency == "" { // postage is told once for the whole order
		g.Postage = o.Postage
	}
	return nil
}

func plus(a, b edition.Money) (edition.Money, error) {
	switch {
	case b.Currency == "":
		return a, nil
	case a.Currency == "":
		return b, nil
	}
	return a.Add(b)
}

// cell is what a row says of a field, without what guards it against being read
// as a formula.
func (t *Table) cell(row []string, field Field) string {
	at, matched := t.Columns[field]
	if !matched || at >= len(row) {
		return ""
	}
	return strings.TrimSpace(unguarded(row[at]))
}

// orderOf reads one row; a further one of an order need not name a person again.
func (t *Table) orderOf(cells []string, further bool) (Order, error) {
	get := func(f Field) string { return t.cell(cells, f) }
	o := Order{Number: get(NumberField), Channel: t.Channel, For: edition.ForSale, State: Open, Wish: get(WishField), Note: get(NoteField),
		To: Addressee{Name: get(NameField), Company: get(CompanyField), Postcode: get(PostcodeField), Town: get(TownField), Region: get(RegionField),
			Email: get(EmailField), Phone: get(PhoneField)}}
	if o.Number == "" {
		return o, says("The row has no order number.")
	}
	if o.To.Name == "" {
		o.To.Name = strings.TrimSpace(get(FirstField) + " " + get(LastField))
	}
	for _, f := range []Field{Line1Field, Line2Field, Line3Field} {
		o.To.Lines = append(o.To.Lines, strings.FieldsFunc(get(f), func(r rune) bool { return r == '\n' || r == '\r' })...)
	}
	var err error
	if o.Copies, err = copiesOf(get(CopiesField)); err != nil {
		return o, err
	}
	if country := get(CountryField); country != "" {
		if o.To.Country, err = ParseCountry(country); err != nil {
			return o, err
		}
	}
	if o.Day, err = dayOf(get(DayField), t.Days); err != nil {
		return o, err
	}
	if err = t.moneyOf(&o, get); err != nil {
		return o, err
	}
	o = o.Tidy()
	if !further && o.To.Name == "" && o.To.Company == "" && o.To.Email == "" {
		return o, says("The row names nobody.")
	}
	return o, o.Check()
}

func (t *Table) moneyOf(o *Order, get func(Field) string) (err error) {
	in := t.Currency
	if said := get(CurrencyField); said != "" {
		if in, err = edition.ParseCurrency(said); err != nil {
			return err
		}
	}
	for _, one := range []struct {
		of   *edition.Money
		said string
		what string
	}{{&o.Price, get(PriceField), "price"}, {&o.Postage, get(PostageField), "postage"}} {
		if one.said == "" {
			continue
		}
		if in == "" {
			return says("The %s %s does not say its currency.", one.what, short(one.said))
		}
		if *one.of, err = edition.ParseMoney(one.said, in); err != nil {
			return err
		}
	}
	return nil
}

// copiesOf reads how many; a table without that column has a row for each copy.
func copiesOf(text string) (int, error) {
	if text == "" {
		return 1, nil
	}
	whole, rest, _ := strings.Cut(strings.ReplaceAll(text, ",", "."), ".")
	n, err := strconv.Atoi(whole)
	if err != nil || strings.Trim(rest, "0") != "" {
		return 0, says("“%s” is no number of copies.", short(text))
	}
	return n, nil
}
