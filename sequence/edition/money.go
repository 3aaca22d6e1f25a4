package edition

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"pairwall/sequence"

	"github.com/bojanz/currency"
)

// Currency is an ISO 4217 code in capitals: "EUR".
type Currency string

// ParseCurrency reads a code in either case. It returns an Invalid error for
// one that ISO 4217 does not list.
func ParseCurrency(typed string) (Currency, error) {
	code := strings.ToUpper(strings.TrimSpace(typed))
	if code == "" || !currency.IsValid(code) {
		return "", &sequence.Error{Code: sequence.Invalid,
			Message: "There is no currency " + strconv.Quote(typed) + ".",
			Hint:    "Use the three letters of ISO 4217, such as EUR, GBP or USD."}
	}
	return Currency(code), nil
}

// Decimals returns how many decimals the currency is written with, as the
// Unicode CLDR lists them: 2 for EUR, 0 for JPY, 3 for TND. For a few
// currencies whose smallest coins have gone it is 0 where ISO 4217 still says 2
// (ALL, RSD).
func (c Currency) Decimals() int {
	digits, ok := currency.GetDigits(string(c))
	if !ok {
		return 2
	}
	return int(digits)
}

// Largest is the greatest amount either way, in minor units. It leaves room to
// add a thousand of them, and a browser holds it exactly.
const Largest int64 = 1_000_000_000_000

// Money is an amount in whole minor units (cents for EUR, yen for JPY). Nothing
// here ever passes through a float. Wherever a result has to be rounded, a half
// goes away from zero: 0.125 becomes 0.13 and −0.125 becomes −0.13 (DIN 1333,
// the rule of invoices).
type Money struct {
	Minor    int64    `json:"minor"`
	Currency Currency `json:"currency"`
}

// NewMoney returns an amount of minor units. It returns an Invalid error for an
// unknown currency and a TooLarge error beyond Largest.
func NewMoney(minor int64, code Currency) (Money, error) {
	known, err := ParseCurrency(string(code))
	if err != nil {
		return Money{}, err
	}
	m := Money{minor, known}
	return m, m.Check()
}

// Check tells what is wrong with an amount that came from outside: a currency
// that is not listed in capitals (Invalid), or an amount beyond Largest
// (TooLarge).
func (m Money) Check() error {
	if known, err := ParseCurrency(string(m.Currency)); err != nil || known != m.Currency {
		return &sequence.Error{Code: sequence.Invalid,
			Message: "An amount needs a currency in three capital letters.", Hint: "Such as EUR, GBP or USD."}
	}
	if m.Minor > Largest || m.Minor < -Largest {
		return tooMuch()
	}
	return nil
}

func tooMuch() error {
	return &sequence.Error{Code: sequence.TooLarge, Message: "The amount is too large to be kept exactly.",
		Hint: "Look for a digit too many."}
}

// Zero returns nothing of the same currency.
func (m Money) Zero() Money { return Money{0, m.Currency} }

// Neg returns the amount owed the other way.
func (m Money) Neg() Money { return Money{-m.Minor, m.Currency} }

// Cmp compares two amounts: −1, 0 or +1. It returns an Invalid error when the
// currencies differ.
func (m Money) Cmp(other Money) (int, error) {
	if err := m.same(other); err != nil {
		return 0, err
	}
	switch {
	case m.Minor < other.Minor:
		return -1, nil
	case m.Minor > other.Minor:
		return 1, nil
	}
	return 0, nil
}

// Add returns the sum. It returns an Invalid error when the currencies differ
// and a TooLarge error beyond Largest.
func (m Money) Add(other Money) (Money, error) {
	if err := m.same(other); err != nil {
		return Money{}, err
	}
	sum := Money{m.Minor + other.Minor, m.Currency}
	return sum, sum.Check()
}

// Sub returns the difference, with the errors of Add.
func (m Money) Sub(other Money) (Money, error) { return m.Add(other.Neg()) }

// Sum adds amounts of one currency; no amounts are zero. The errors are Add's.
func Sum(in Currency, amounts ...Money) (Money, error) {
	total := Money{0, in}
	var err error
	for _, m := range amounts {
		if total, err = total.Add(m); err != nil {
			return Money{}, err
		}
	}
	return total, nil
}

func (m Money) same(other Money) error {
	if m.Currency == other.Currency {
		return nil
	}
	return &sequence.Error{Code: sequence.Invalid,
		Message: "Amounts in " + string(m.Currency) + " and " + string(other.Currency) + " cannot be added or compared.",
		Hint:    "Give a rate, so that one is converted first."}
}

// Times returns n of the amount. It returns a TooLarge error beyond Largest.
func (m Money) Times(n int64) (Money, error) { return m.rounded(big.NewRat(n, 1)) }

// Share returns the amount × part ÷ whole, rounded. Whole must not be zero. It
// returns a TooLarge error beyond Largest.
func (m Money) Share(part, whole int64) (Money, error) { return m.rounded(big.NewRat(part, whole)) }

// Scaled returns the amount times an exact decimal, rounded. It returns a
// TooLarge error beyond Largest.
func (m Money) Scaled(by Decimal) (Money, error) { return m.rounded(by.Rat()) }

// Percent returns so many per cent of the amount, rounded, with the errors of
// Scaled.
func (m Money) Percent(percent Decimal) (Money, error) {
	return m.rounded(new(big.Rat).Quo(percent.Rat(), big.NewRat(100, 1)))
}

func (m Money) rounded(by *big.Rat) (Money, error) {
	return RoundedMoney(new(big.Rat).Mul(big.NewRat(m.Minor, 1), by), m.Currency)
}

// RoundedMoney rounds an exact number of minor units, a half away from zero. It
// returns a TooLarge error beyond Largest.
func RoundedMoney(exact *big.Rat, in Currency) (Money, error) {
	doubled := new(big.Int).Lsh(new(big.Int).Abs(exact.Num()), 1)
	doubled.Add(doubled, exact.Denom())
	whole := doubled.Quo(doubled, new(big.Int).Lsh(exact.Denom(), 1))
	if exact.Sign() < 0 {
		whole.Neg(whole)
	}
	if !whole.IsInt64() {
		return Money{}, tooMuch()
	}
	m := Money{whole.Int64(), in}
	return m, m.Check()
}

// Allocate splits the amount in proportion to weights, so that the parts add up
// to it to the last minor unit; see Allocate. It returns an Invalid error for
// weights that say nothing.
func (m Money) Allocate(weights ...int64) ([]Money, error) {
	shares, err := Allocate(m.Minor, weights...)
	if err != nil {
		return nil, err
	}
	parts := make([]Money, len(shares))
	for i, share := range shares {
		parts[i] = Money{share, m.Currency}
	}
	return parts, nil
}

// Allocate splits a whole number in proportion to weights, none of them negative
// and not all zero. Each part is first cut towards zero; the units left over go
// one each to the parts that lost most, the earlier first (largest remainder,
// Hamilton's method). It returns an Invalid error for weights that say nothing.
//
// Complexity: O(n²) in weights.
func Allocate(total int64, weights ...int64) ([]int64, error) {
	sum := new(big.Int)
	for _, w := range weights {
		if w < 0 {
			sum.SetInt64(0)
			break
		}
		sum.Add(sum, big.NewInt(w))
	}
	if sum.Sign() == 0 {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: "There is nothing to share it among.", Hint: "Give at least one share above zero."}
	}
	parts := make([]int64, len(weights))
	lost := make([]*big.Int, len(weights))
	left := total
	for i, w := range weights {
		cut, rest := new(big.Int).QuoRem(new(big.Int).Mul(big.NewInt(total), big.NewInt(w)), sum, new(big.Int))
		parts[i], lost[i] = cut.Int64(), rest.Abs(rest)
		left -= parts[i]
	}
	unit := int64(1)
	if left < 0 {
		unit = -1
	}
	for ; left != 0; left -= unit {
		most := 0
		for i := range lost {
			if lost[i].Cmp(lost[most]) > 0 {
				most = i
			}
		}
		parts[most] += unit
		lost[most].SetInt64(-1)
	}
	return parts, nil
}

// Number writes the amount without its currency, with a point and no grouping,
// as a table for another program wants it: "-1234.50".
func (m Money) Number() string {
	decimals := m.Currency.Decimals()
	sign, minor := "", m.Minor
	if minor < 0 {
		sign, minor = "-", -minor
	}
	digits := strconv.FormatInt(minor, 10)
	if decimals == 0 {
		return sign + digits
	}
	if short := decimals + 1 - len(digits); short > 0 {
		digits = strings.Repeat("0", short) + digits
	}
	at := len(digits) - decimals
	return sign + digits[:at] + "." + digits[at:]
}

// String writes the amount for people, the code first as invoices in several
// currencies do: "EUR 1,234.50".
func (m Money) String() string {
	number := m.Number()
	sign := ""
	if strings.HasPrefix(number, "-") {
		sign, number = "−", number[1:]
	}
	whole, cents, found := strings.Cut(number, ".")
	for at := len(whole) - 3; at > 0; at -= 3 {
		whole = whole[:at] + "," + whole[at:]
	}
	if found {
		whole += "." + cents
	}
	return string(m.Currency) + " " + sign + whole
}

// Currencies lists every currency of ISO 4217 in use, by code.
func Currencies() []Currency {
	var list []Currency
	for _, code := range currency.GetCurrencyCodes() {
		list = append(list, Currency(code))
	}
	slices.Sort(list)
	return list
}
