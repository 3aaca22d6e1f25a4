package dispatch

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"pairwall/sequence"
	"pairwall/sequence/edition"
)

// Packed is one parcel that was packed.
type Packed struct {
	ID       int64             `json:"id"`
	Order    int64             `json:"order"`
	Copies   []edition.CopyRef `json:"copies"`
	Mass     edition.Mass      `json:"mass"`     // on the scale; 0 when it was not weighed
	Service  string            `json:"service"`  // it goes by; "" when handed over or not known
	Postage  edition.Money     `json:"postage"`  // by the maker's table when it was packed; currency "" when not known
	Tracking string            `json:"tracking"` // as typed or scanned
	At       time.Time         `json:"at"`
}

// longestTracking is more than any post's number has (UPU S10 has 13 characters).
const longestTracking = 64

// Tidied returns the parcel with its copies in shelf order and without what a
// scanner sends around a number.
func (p Packed) Tidied() Packed {
	p.Tracking = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsControl(r) {
			return -1
		}
		return r
	}, p.Tracking)
	p.Copies = slices.SortedFunc(slices.Values(p.Copies), Shelf)
	return p
}

// Check refuses a parcel that cannot be.
//
// Error: Invalid.
func (p Packed) Check() error {
	refuse := func(message, hint string) error {
		return &sequence.Error{Code: sequence.Invalid, Message: message, Hint: hint}
	}
	switch {
	case len(p.Copies) == 0:
		return refuse("Nothing is in the parcel.", "Say which copies go in.")
	case len(slices.Compact(slices.Clone(p.Copies))) < len(p.Copies):
		return refuse("The same copy is in the parcel twice.", "")
	case p.Mass < 0 || p.Mass > edition.MostMass:
		return refuse(fmt.Sprintf("No parcel weighs %s.", p.Mass), "Type it in grams, as the scale shows it.")
	case utf8.RuneCountInString(p.Tracking) > longestTracking || !utf8.ValidString(p.Tracking):
		return refuse(fmt.Sprintf("A tracking number has at most %d characters.", longestTracking), "Scan or type it again.")
	case p.Postage.Currency == "" && p.Postage.Minor == 0:
		return nil
	}
	return p.Postage.Check()
}

// Shelf compares copies by where they stand on the shelf: the numbered ones first,
// each series by its numbers.
func Shelf(a, b edition.CopyRef) int {
	rank := func(c edition.CopyRef) int { return slices.Index(edition.AllSeries(), c.Series)*1_000_000 + c.Number }
	return rank(a) - rank(b)
}
