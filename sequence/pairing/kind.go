package pairing

import (
	"fmt"
	"math"
	"slices"

	"pairwall/sequence"
)

// Kind names one kind of evidence.
type Kind string

// The kinds of evidence there are.
const (
	Place  Kind = "place"
	Time   Kind = "time"
	Colour Kind = "colour"
)

// A gauge measures one kind of evidence between photos of one title, which it
// is given as indices.
type gauge interface {
	// knows reports whether anything of this kind is known of a photo.
	knows(photo int) bool
	// measure says how far apart two photos are of which it knows: zero or
	// more, the same in either order, less where more speaks for the pair.
	measure(a, b int) float64
	// words puts that measure into words.
	words(a, b int, measure float64) string
}

// kinds is the table of kinds: in the order in which they are measured, hence
// the dearest last, and named in reasons. To add one, add its row here and its
// gauge in a file of its own.
var kinds = [...]struct {
	kind    Kind
	noun    string // what is missing when nothing is known
	unit    string
	least   float64 // below this, measures are as good as none: the finest scale
	setting bool    // tells of the circumstances, which go together in a sentence
	prepare func([]sequence.Photo) gauge
}{
	{Place, "place", "m", 15, true, newPlaceGauge},
	{Time, "date of taking", "s", 60, true, newTimeGauge},
	{Colour, "colours", "ΔE00", 1, false, newColourGauge},
}

// Kinds lists the kinds of evidence in the order in which reasons name them.
func Kinds() []Kind {
	list := make([]Kind, len(kinds))
	for i, row := range kinds {
		list[i] = row.kind
	}
	return list
}

// Balance says how much each kind of evidence counts, 0..1 by kind. A kind that
// is not named does not count; an empty balance counts all kinds fully.
type Balance map[string]float64

// shares returns the weights by row of kinds, scaled to sum to 1.
//
// Error: Invalid for a kind there is not, a weight outside 0..1, or none above
// zero.
func (b Balance) shares() ([]float64, error) {
	list := Kinds()
	shares := make([]float64, len(list))
	if len(b) == 0 {
		for i := range shares {
			shares[i] = 1 / float64(len(shares))
		}
		return shares, nil
	}
	sum := 0.0
	for name, weight := range b {
		i := slices.Index(list, Kind(name))
		if i < 0 {
			return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no kind of evidence called %q.", name),
				Hint: fmt.Sprintf("The kinds are %s.", listed(names(list)))}
		}
		if !(weight >= 0 && weight <= 1) {
			return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The weight of %s must lie between 0 and 1.", name)}
		}
		shares[i] = weight
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
