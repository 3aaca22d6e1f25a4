package orders

import (
	"errors"
	"io"

	"pairwall/sequence"
)

// Grid reads any table of cells, in whatever encoding and with whatever separator
// it came. Empty rows are left out; guards against formulas are taken away.
//
// Errors: Damaged for what is no table; TooLarge.
func Grid(data []byte) ([][]string, error) {
	if len(data) > MostBytes {
		return nil, &sequence.Error{Code: sequence.TooLarge, Message: "The table is larger than we take."}
	}
	text, _, err := Decode(data, AnyEncoding)
	if err != nil {
		return nil, err
	}
	text, said := announced(text)
	sign := separator(text)
	if said != "" {
		sign = []rune(said)[0]
	}
	rows := reader(text, sign, true)
	var all [][]string
	for {
		row, err := rows.Read()
		if errors.Is(err, io.EOF) {
			return all, nil
		}
		if err != nil || len(all) > mostRows {
			return nil, &sequence.Error{Code: sequence.Damaged, Message: "This is no table we can read.", Hint: "Save it as CSV.", Err: err}
		}
		if blank(row) {
			continue
		}
		for i, cell := range row {
			row[i] = unguarded(cell)
		}
		all = append(all, row)
	}
}
