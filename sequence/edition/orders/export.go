package orders

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// WriteCSV writes orders as a table that Read reads back: UTF-8 with a byte
// order mark, which spreadsheets want to see, commas, lines ended as RFC 4180
// says. Cells that a spreadsheet would take for a formula are guarded.
func WriteCSV(out io.Writer, list []Order) error {
	if _, err := io.WriteString(out, "\uFEFF"); err != nil {
		return err
	}
	table := csv.NewWriter(out)
	table.UseCRLF = true
	header := []string{"number", "channel", "date", "for", "progress", "name", "company", "address 1", "address 2", "address 3", "postcode", "town", "region", "country",
		"email", "phone", "copies", "price", "shipping", "currency", "wish", "note"}
	if err := table.Write(header); err != nil {
		return err
	}
	for _, o := range list {
		if err := table.Write(o.row()); err != nil {
			return err
		}
	}
	table.Flush()
	return table.Error()
}

func (o Order) row() []string {
	var lines [3]string
	for i, line := range o.To.Lines {
		switch {
		case i < len(lines):
			lines[i] = line
		default: // further lines share the last cell
			lines[len(lines)-1] += "\n" + line
		}
	}
	amount := func(m interface{ Number() string }, said bool) string {
		if !said {
			return ""
		}
		return m.Number()
	}
	in := o.Price.Currency
	if in == "" {
		in = o.Postage.Currency
	}
	row := []string{o.Number, o.Channel, o.Day, string(o.For), string(o.State), o.To.Name, o.To.Company, lines[0], lines[1], lines[2], o.To.Postcode, o.To.Town, o.To.Region,
		string(o.To.Country), o.To.Email, o.To.Phone, strconv.Itoa(o.Copies), amount(o.Price, o.Price.Currency != ""), amount(o.Postage, o.Postage.Currency != ""),
		string(in), o.Wish, o.Note}
	for i, cell := range row {
		row[i] = Guarded(cell)
	}
	return row
}

// formula are the signs with which spreadsheets begin a formula (OWASP, CSV
// injection, full-width forms included).
const formula = "=+-@\t\r\n＝＋－＠"

// Guarded returns a cell of a table such that no spreadsheet takes it for a
// formula: an apostrophe stands before it. What looks guarded already gets one
// more, so that nothing is lost on the way back.
func Guarded(cell string) string {
	if dangerous(strings.TrimLeft(cell, "'")) {
		return "'" + cell
	}
	return cell
}

func unguarded(cell string) string {
	if rest, ok := strings.CutPrefix(cell, "'"); ok && dangerous(strings.TrimLeft(rest, "'")) {
		return rest
	}
	return cell
}

func dangerous(cell string) bool {
	for _, first := range cell {
		return strings.ContainsRune(formula, first)
	}
	return false
}
