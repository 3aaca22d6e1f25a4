package pages

import (
	"fmt"
	"strings"

	"pairwall/sequence"
)

// Sheet is a sheet of paper a home printer takes, standing.
type Sheet struct {
	Name string `json:"name"`
	Size
}

// Sheets are the sheets that can be chosen. The A sizes are those of ISO 216,
// Letter is that of ANSI/ASME Y14.1, 8.5 × 11 in.
var Sheets = []Sheet{
	{"A4", Size{210, 297}},
	{"A3", Size{297, 420}},
	{"Letter", Size{8.5 * Inch, 11 * Inch}},
}

// SheetNamed finds a sheet by its name, however it is written.
//
// Error: Invalid, with the names there are.
func SheetNamed(name string) (Sheet, error) {
	names := make([]string, 0, len(Sheets))
	for _, s := range Sheets {
		if strings.EqualFold(s.Name, strings.TrimSpace(name)) {
			return s, nil
		}
		names = append(names, s.Name)
	}
	return Sheet{}, &sequence.Error{Code: sequence.Invalid,
		Message: fmt.Sprintf("%q is no sheet that small prints can be laid out on.", name),
		Hint:    "Choose one of " + strings.Join(names, ", ") + "."}
}
