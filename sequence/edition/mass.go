package edition

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pairwall/sequence"
)

// Mass is a mass in whole milligrams: finer than any post or scale asks for, and
// exact when added. JSON shows it as that whole number.
type Mass int64

// Units of mass. The ounce and the pound are those of the international yard and
// pound agreement, 1959, rounded to a milligram: 28.349523125 g, 453.59237 g.
const (
	Milligram Mass = 1
	Gram           = 1000 * Milligram
	Kilogram       = 1000 * Gram
	ounce          = 28.349523125 // g
	pound          = 453.59237    // g
)

// Grams makes a mass of so many grams, rounded to a milligram.
func Grams(g float64) Mass { return Mass(math.Round(g * float64(Gram))) }

// Grams returns the mass in grams.
func (m Mass) Grams() float64 { return float64(m) / float64(Gram) }

// String writes the mass in grams with at most one decimal, "218.4 g", or with
// all it has when it is below a gram.
func (m Mass) String() string {
	g := m.Grams()
	if m >= Gram || m <= -Gram {
		g = math.Round(g*10) / 10
	}
	return strconv.FormatFloat(g, 'f', -1, 64) + " g"
}

// MostMass is more than anything that is packed by hand.
const MostMass = 1000 * Kilogram

// ParseMass reads a mass as one writes it: "218", "218,5 g", "1.2 kg", "4 oz".
// Without a unit it is grams; comma and point both divide decimals.
//
// Error: Invalid for what is no mass, is negative or beyond MostMass.
func ParseMass(text string) (Mass, error) {
	figure := strings.ToLower(strings.TrimSpace(text))
	scale := 1.0
	for _, unit := range []struct {
		name string
		in   float64 // grams
	}{{"mg", 0.001}, {"kg", 1000}, {"lb", pound}, {"oz", ounce}, {"g", 1}} {
		if rest, ok := strings.CutSuffix(figure, unit.name); ok {
			figure, scale = strings.TrimSpace(rest), unit.in
			break
		}
	}
	value, err := strconv.ParseFloat(strings.Replace(figure, ",", ".", 1), 64)
	if err != nil || !(value >= 0 && value*scale <= MostMass.Grams()) { // so written, NaN is refused too
		return 0, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q is not a weight.", text),
			Hint: `Write it as "218 g", "1.2 kg" or "4 oz".`, Err: err}
	}
	return Grams(value * scale), nil
}
