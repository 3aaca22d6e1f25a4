package post

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/pages"
)

// columns of a price table, in the order in which they are written. They are
// found by their names, whatever their order.
var columns = []string{"service", "class", "tracked", "zone", "up to g", "price", "currency", "longest mm", "thickest mm"}

// WritePrices writes the price table as CSV that ReadPrices reads back.
func WritePrices(out io.Writer, t Tariff) error {
	table := csv.NewWriter(out)
	if err := table.Write(columns); err != nil {
		return err
	}
	for _, p := range t.Prices {
		tracked := "no"
		if p.Tracked {
			tracked = "yes"
		}
		row := []string{p.Service, string(p.Class), tracked, p.Zone, plainNumber(p.UpTo.Grams()), p.Price.Number(), string(p.Price.Currency), plainNumber(p.Longest.Mm()), plainNumber(p.Thickest.Mm())}
		for i, cell := range row {
			row[i] = orders.Guarded(cell)
		}
		if err := table.Write(row); err != nil {
			return err
		}
	}
	table.Flush()
	return table.Error()
}

func plainNumber(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

// ReadPrices reads a price table from CSV. Zones it names that zones does not
// have are added without countries.
//
// Errors: Invalid with the row that cannot be read; Damaged.
func ReadPrices(data []byte, zones []Zone) (Tariff, error) {
	rows, err := orders.Grid(data)
	if err != nil {
		return Tariff{}, err
	}
	t := Tariff{Zones: slices.Clone(zones), Prices: []Price{}}
	if len(rows) == 0 {
		return t, missingColumn(columns[0])
	}
	at := map[string]int{}
	for i, name := range rows[0] {
		at[strings.ToLower(strings.Join(strings.Fields(name), " "))] = i
	}
	for _, needed := range []string{"service", "class", "zone", "up to g", "price", "currency"} {
		if _, ok := at[needed]; !ok {
			return t, missingColumn(needed)
		}
	}
	for n, row := range rows[1:] {
		cell := func(name string) string {
			if i, ok := at[name]; ok && i < len(row) {
				return strings.TrimSpace(row[i])
			}
			return ""
		}
		p, err := readPrice(cell)
		if err != nil {
			return t, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("Row %d of the price table cannot be read. %s", n+2, told(err)), Hint: "Nothing was taken over.", Err: err}
		}
		if !slices.ContainsFunc(t.Zones, func(z Zone) bool { return z.Name == p.Zone }) {
			t.Zones = append(t.Zones, Zone{Name: p.Zone, Countries: []orders.Country{}})
		}
		t.Prices = append(t.Prices, p)
	}
	return t, t.Check()
}

func missingColumn(name string) error {
	return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The price table has no column called “%s”.", name),
		Hint: "Its first row names them: " + strings.Join(columns, ", ") + "."}
}

func readPrice(cell func(string) string) (Price, error) {
	p := Price{Service: cell("service"), Class: Class(strings.ToLower(cell("class"))), Zone: cell("zone")}
	switch strings.ToLower(cell("tracked")) {
	case "yes", "1", "true", "x":
		p.Tracked = true
	}
	var err error
	if p.UpTo, err = edition.ParseMass(cell("up to g")); err != nil {
		return p, err
	}
	in, err := edition.ParseCurrency(cell("currency"))
	if err != nil {
		return p, err
	}
	if p.Price, err = edition.ParseMoney(cell("price"), in); err != nil {
		return p, err
	}
	for name, into := range map[string]*pages.Length{"longest mm": &p.Longest, "thickest mm": &p.Thickest} {
		if text := cell(name); text != "" {
			f, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
			if err != nil || !(f >= 0 && f <= 5000) {
				return p, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("“%s” is no length.", text), Err: err}
			}
			*into = pages.Length(f)
		}
	}
	return p, nil
}
