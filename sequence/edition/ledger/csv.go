package ledger

import (
	"encoding/csv"
	"io"

	"pairwall/sequence/edition/orders"
)

// WriteCSV writes every row for the tax adviser: UTF-8 with a byte order mark,
// lines ended as RFC 4180 says, amounts with a point, no cell that a spreadsheet
// would take for a formula (an amount below nothing is a number and stays one).
func (a Account) WriteCSV(out io.Writer) error {
	if _, err := io.WriteString(out, "\uFEFF"); err != nil {
		return err
	}
	table := csv.NewWriter(out)
	table.UseCRLF = true
	rows := [][]string{{"day", "kind", "what", "from", "channel", "country", "amount", "currency", "counted", "in"}}
	for _, r := range a.Rows {
		counted, in := "", ""
		if r.Counted != nil {
			counted, in = r.Counted.Number(), string(r.Counted.Currency)
		}
		rows = append(rows, []string{r.Day, string(r.Kind), orders.Guarded(r.Words), orders.Guarded(r.From), orders.Guarded(r.Channel), string(r.Country),
			r.Amount.Number(), string(r.Amount.Currency), counted, in})
	}
	return table.WriteAll(rows)
}
