package edition

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"testing"

	"pairwall/sequence"
)

func TestMoneyIsReadAsTyped(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/money.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct {
		Typed    string
		Currency Currency
		Minor    *int64
	}
	if err := json.Unmarshal(raw, &cases); err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		m, err := ParseMoney(c.Typed, c.Currency)
		switch {
		case c.Minor == nil && err == nil:
			t.Errorf("%q in %s was read as %v", c.Typed, c.Currency, m)
		case c.Minor == nil && sequence.CodeOf(err) == sequence.Internal:
			t.Errorf("%q in %s: %v", c.Typed, c.Currency, err)
		case c.Minor != nil && (err != nil || m != Money{*c.Minor, c.Currency}):
			t.Errorf("%q in %s: %v, %v; want %d", c.Typed, c.Currency, m, err, *c.Minor)
		}
	}
}

func FuzzParseMoney(f *testing.F) {
	for _, seed := range []string{"1.234,50", "€ 12", "12,–", "−3", "1 2 3", "..", "9999999999999"} {
		f.Add(seed, "EUR")
		f.Add(seed, "JPY")
	}
	f.Fuzz(func(t *testing.T, typed, code string) {
		m, err := ParseMoney(typed, Currency(code))
		if err != nil {
			if sequence.CodeOf(err) == sequence.Internal {
				t.Fatalf("%q: %v", typed, err)
			}
			return
		}
		for _, written := range []string{m.Number(), m.String()} {
			if again, err := ParseMoney(written, m.Currency); err != nil || again != m {
				t.Fatalf("%q -> %v -> %q -> %v, %v", typed, m, written, again, err)
			}
		}
	})
}

// ISO 4217, list one (from memory): minor units 2, 0 and 3.
func TestMoneyIsWrittenWithItsOwnDecimals(t *testing.T) {
	for want, m := range map[string]Money{
		"EUR 1,234.50": {123450, "EUR"}, "EUR −0.05": {-5, "EUR"}, "EUR 0.00": {0, "EUR"},
		"JPY 1,234,567": {1234567, "JPY"}, "TND 1.234": {1234, "TND"}, "USD 123.00": {12300, "USD"},
	} {
		if got := m.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Halves away from zero: DIN 1333 (from memory).
func TestHalvesAreRoundedAwayFromZero(t *testing.T) {
	for _, c := range []struct {
		minor       int64
		part, whole int64
		want        int64
	}{{25, 1, 10, 3}, {-25, 1, 10, -3}, {24, 1, 10, 2}, {-24, 1, 10, -2}, {1, 1, 2, 1}, {1, 1, 3, 0}, {2, 1, 3, 1}, {100, -1, 8, -13}} {
		got, err := Money{c.minor, "EUR"}.Share(c.part, c.whole)
		if err != nil || got.Minor != c.want {
			t.Errorf("%d × %d/%d = %d, %v; want %d", c.minor, c.part, c.whole, got.Minor, err, c.want)
		}
	}
}

// 14.95 × 0.6 = 8.97, less 4.85 = 4.12: IBPA, 2002 (SOURCES.md).
func TestShopDiscountOfTheSource(t *testing.T) {
	price := Money{1495, "USD"}
	discount, err := price.Percent("40")
	if err != nil {
		t.Fatal(err)
	}
	paid, err := price.Sub(discount)
	if err != nil || paid.Minor != 897 {
		t.Fatalf("%v, %v", paid, err)
	}
	if left, err := paid.Sub(Money{485, "USD"}); err != nil || left.Minor != 412 {
		t.Fatalf("%v, %v", left, err)
	}
}

func TestRatesConvertBetweenDifferentDecimals(t *testing.T) {
	for _, c := range []struct {
		rate Rate
		from Money
		want Money
	}{
		{Rate{"EUR", "USD", "1.0837", "2026-03-02"}, Money{10000, "EUR"}, Money{10837, "USD"}},
		{Rate{"EUR", "JPY", "163.255", "2026-03-02"}, Money{1000, "EUR"}, Money{1633, "JPY"}},
		{Rate{"JPY", "EUR", "0.006125", "2026-03-02"}, Money{1000, "JPY"}, Money{613, "EUR"}},
		{Rate{"TND", "EUR", "0.3", "2026-03-02"}, Money{10005, "TND"}, Money{300, "EUR"}},
	} {
		if got, err := c.rate.Convert(c.from); err != nil || got != c.want {
			t.Errorf("%v by %v = %v, %v; want %v", c.from, c.rate, got, err, c.want)
		}
	}
	if _, err := (Rate{"EUR", "USD", "", "2026-03-02"}).Convert(Money{100, "EUR"}); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("a rate nobody gave: %v", err)
	}
	if _, err := (Rate{"EUR", "USD", "1.1", "2026-03-02"}).Convert(Money{100, "GBP"}); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("a rate of another currency: %v", err)
	}
}

func TestAllocationAddsUpToTheLastCent(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 9))
	for range 2000 {
		m := Money{random.Int64N(2*Largest) - Largest, "EUR"}
		weights := make([]int64, 1+random.IntN(12))
		total := int64(0)
		for i := range weights {
			weights[i] = random.Int64N(1000)
			total += weights[i]
		}
		parts, err := m.Allocate(weights...)
		if total == 0 {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		sum, err := Sum("EUR", parts...)
		if err != nil || sum != m {
			t.Fatalf("%v among %v: %v, %v", m, weights, parts, err)
		}
		for i, part := range parts {
			if weights[i] == 0 && part.Minor != 0 {
				t.Fatalf("%v among %v gave something to nobody: %v", m, weights, parts)
			}
		}
	}
	parts, err := Money{100, "EUR"}.Allocate(1, 1, 1)
	if err != nil || parts[0].Minor != 34 || parts[1].Minor != 33 || parts[2].Minor != 33 {
		t.Errorf("1.00 among three: %v, %v", parts, err)
	}
}

func TestMoneyRefusesToMixOrOverflow(t *testing.T) {
	eur := Money{Largest, "EUR"}
	if _, err := eur.Add(Money{1, "USD"}); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("mixed: %v", err)
	}
	if _, err := eur.Add(Money{1, "EUR"}); sequence.CodeOf(err) != sequence.TooLarge {
		t.Errorf("too large: %v", err)
	}
	if _, err := eur.Times(1 << 62); sequence.CodeOf(err) != sequence.TooLarge {
		t.Errorf("too large: %v", err)
	}
	for _, weights := range [][]int64{nil, {0, 0}, {1, -1}} {
		if _, err := eur.Allocate(weights...); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%v: %v", weights, err)
		}
	}
}
