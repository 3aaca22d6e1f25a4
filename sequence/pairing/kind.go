package pairing

import (
	"fmt"
	"math"

	"pairwall/sequence"
	"pairwall/sequence/pairing/evidence"
)

// Kind names a kind of evidence, or one of the relations that a kind is made of.
type Kind = evidence.Kind

// Evidence is what one kind, or one relation asked for by name, says of a pair.
type Evidence = evidence.Evidence

// The kinds of evidence there are. What each is made of stands in package evidence.
const (
	Place   = evidence.Place
	Time    = evidence.Time
	Colour  = evidence.Colour
	Feeling = evidence.Feeling
	Form    = evidence.Form
)

// Kinds lists the kinds of evidence in the order in which reasons name them.
func Kinds() []Kind { return evidence.Kinds() }

// Relations lists the relations that a kind is made of: each can be asked for by
// name in a Balance. nil for what is no kind.
func Relations(of Kind) []Kind { return evidence.Relations(of) }

// Balance says how much each kind of evidence, or single relation, counts, 0..1 by
// name. What is not named does not count; an empty balance counts all five kinds
// fully, and no relation beside them.
type Balance map[string]float64

// inOrder lists the rows as pairs are measured: the dearest last, so that a pair
// that cheap measures rule out is not measured further.
var inOrder = func() []evidence.Row {
	var cheap, dear []evidence.Row
	for row := range evidence.Rows {
		if row == colourRow || row == worldRow {
			dear = append(dear, row)
		} else {
			cheap = append(cheap, row)
		}
	}
	return append(cheap, dear...)
}()

var (
	placeRow  = row(evidence.Place)
	colourRow = row(evidence.Colour)
	distRow   = row(evidence.Distance)
	worldRow  = row(evidence.World)
	toneRow   = row(evidence.Tone)
)

func row(k Kind) evidence.Row {
	r, ok := evidence.RowOf(k)
	if !ok {
		panic("pairing: no evidence of " + string(k))
	}
	return r
}

// shares returns the weights by row, scaled to sum to 1.
//
// Error: Invalid for a kind there is not, a weight outside 0..1, or none above
// zero.
func (b Balance) shares() ([]float64, error) {
	shares := make([]float64, evidence.Rows)
	if len(b) == 0 {
		kinds := Kinds()
		for i := range kinds {
			shares[i] = 1 / float64(len(kinds))
		}
		return shares, nil
	}
	sum := 0.0
	for name, weight := range b {
		r, ok := evidence.RowOf(Kind(name))
		if !ok {
			return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no kind of evidence called %q.", name),
				Hint: fmt.Sprintf("The kinds are %s.", evidence.Listed(names(Kinds())))}
		}
		if !(weight >= 0 && weight <= 1) {
			return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The weight of %s must lie between 0 and 1.", name)}
		}
		shares[r] = weight
	}
	for _, weight := range shares { // not in the map's order, which changes the sum's last bit
		sum += weight
	}
	if sum < math.SmallestNonzeroFloat64 {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: "No kind of evidence counts.",
			Hint: "Give at least one of them a weight above zero."}
	}
	for i := range shares {
		shares[i] /= sum
	}
	return shares, nil
}

func names(list []Kind) []string {
	words := make([]string, len(list))
	for i, k := range list {
		words[i] = string(k)
	}
	return words
}

// Vocabulary lists every name that a Balance may use: the kinds, then all
// relations.
func Vocabulary() []Kind { return evidence.All() }
