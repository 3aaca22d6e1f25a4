package edition

import (
	"math/big"
	"strconv"
	"strings"

	"pairwall/sequence"
)

// Decimal is an exact decimal number in plain digits with a point: "1.0837",
// "22", "-0.5". "" is a number nobody gave. ParseDecimal makes them; one from
// outside is checked by Check.
type Decimal string

// ParseDecimal reads a number as typed, with a point or a comma and at most
// twelve digits on either side; grouping is not read, because a rate or a per
// cent needs none. It returns an Invalid error for anything else.
func ParseDecimal(typed string) (Decimal, error) {
	text := strings.Replace(strings.TrimSpace(typed), ",", ".", 1)
	text = strings.Replace(text, "−", "-", 1)
	d := Decimal(strings.TrimPrefix(text, "+"))
	if err := d.Check(); err != nil || d == "" {
		return "", &sequence.Error{Code: sequence.Invalid, Message: strconv.Quote(typed) + " is not a number.",
			Hint: "Write it in digits, such as 1.0837 or 1,0837."}
	}
	return d, nil
}

// Check tells whether the number is written as Decimal says; "" is.
func (d Decimal) Check() error {
	whole, part, found := strings.Cut(strings.TrimPrefix(string(d), "-"), ".")
	if d == "" || (digits(whole) && (!found || digits(part))) {
		return nil
	}
	return &sequence.Error{Code: sequence.Invalid, Message: strconv.Quote(string(d)) + " is not a number.",
		Hint: "Write it in digits with a point, such as 1.0837."}
}

func digits(text string) bool {
	if len(text) == 0 || len(text) > 12 {
		return false
	}
	for _, c := range []byte(text) {
		if c < '0' || c > '9' {
			return false
		}
	}
	return true
}

// Rat returns the number exactly; one nobody gave is zero.
func (d Decimal) Rat() *big.Rat {
	exact, ok := new(big.Rat).SetString(string(d))
	if !ok {
		return new(big.Rat)
	}
	return exact
}

// Rate is what one unit of a currency was worth in another, on the day the
// maker looked it up. Nobody else's rate is ever fetched.
type Rate struct {
	From  Currency `json:"from"`
	To    Currency `json:"to"`
	Value Decimal  `json:"value"` // units of To for one of From
	Day   string   `json:"day"`   // yyyy-mm-dd
}

// Convert returns the amount in the rate's other currency, rounded to its minor
// units, a half away from zero. The rate is never turned round: 1 ÷ rate is not
// the rate of the way back. It returns an Invalid error for an amount of
// another currency or a rate that is not above zero, and a TooLarge error
// beyond Largest.
func (r Rate) Convert(m Money) (Money, error) {
	if m.Currency != r.From || r.Value.Rat().Sign() <= 0 {
		return Money{}, &sequence.Error{Code: sequence.Invalid,
			Message: "There is no rate from " + string(m.Currency) + " to " + string(r.To) + ".",
			Hint:    "Give what one " + string(m.Currency) + " is worth in " + string(r.To) + ", and the day."}
	}
	exact := new(big.Rat).Mul(big.NewRat(m.Minor, 1), r.Value.Rat())
	return RoundedMoney(exact.Mul(exact, TenTo(r.To.Decimals()-r.From.Decimals())), r.To)
}

// TenTo returns ten to the power n, which may be negative.
func TenTo(n int) *big.Rat {
	power := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(n, -n))), nil))
	if n < 0 {
		power.Inv(power)
	}
	return power
}
