package quotes

import (
	"fmt"
	"math/big"
	"slices"

	"pairwall/sequence/edition"
)

// Numbered is a quote with its number in the title.
type Numbered struct {
	Number int
	Quote
}

// Holding is whether a quote still holds.
type Holding string

// Whether a quote holds on a day.
const (
	Holds    Holding = "holds"
	Expired  Holding = "expired"
	Unstated Holding = "not said"
)

// QuoteRow is one quote among others.
type QuoteRow struct {
	Quote   int      `json:"quote"`
	Printer int      `json:"printer"`
	Landed  []Landed `json:"landed"` // for each number of good copies that is compared
	Fit     *CostFit `json:"fit,omitempty"`
	LeftOut []string `json:"leftOut"`
	Expires Day      `json:"expires"`
	Holding Holding  `json:"holding"`
}

// CostFit is a quote as set-up and run-on in the maker's currency, all charges and the
// tax the maker bears worked in.
type CostFit struct {
	Method string        `json:"method"`
	SetUp  edition.Money `json:"setUp"`
	RunOn  UnitPrice     `json:"runOn"` // for a hundred copies
	Off    edition.Money `json:"off"`   // how far the line lies from the printer's own prices at most
	Points []CostAt      `json:"points"`
	landed line
}

// CostAt is what ordering so many copies costs.
type CostAt struct {
	Copies int           `json:"copies"`
	Cost   edition.Money `json:"cost"`
}

// BreakEven is where the cheaper of two quotes changes. Both are numbers of quotes.
type BreakEven struct {
	Below  int `json:"below"`  // cheaper below Copies
	From   int `json:"from"`   // cheaper from Copies on
	Copies int `json:"copies"` // ordered; 1 when From is cheaper at every number
}

// SideBySide is all quotes side by side.
type SideBySide struct {
	Copies   []int       `json:"copies"`   // good copies: what was asked for, and what is wanted
	Rows     []QuoteRow  `json:"rows"`     // in the order of the quotes
	Cheapest []int       `json:"cheapest"` // for each of Copies the quote that costs least of those that are complete and hold; 0 for none
	Breaks   []BreakEven `json:"breaks"`
}

// Compare holds quotes against each other on a day.
//
// Complexity: O(n²) in quotes.
func Compare(all []Numbered, w Wishes, t Terms, today Day) SideBySide {
	copies := slices.Clone(w.Quantities)
	if !slices.Contains(copies, t.Copies) {
		copies = append(copies, t.Copies)
	}
	slices.Sort(copies)
	c := SideBySide{Copies: copies, Rows: []QuoteRow{}, Cheapest: make([]int, len(copies)), Breaks: []BreakEven{}}
	for _, q := range all {
		c.Rows = append(c.Rows, q.row(copies, w, t, today))
	}
	for i := range copies {
		c.Cheapest[i] = cheapest(c.Rows, i)
	}
	for i, one := range c.Rows {
		for _, other := range c.Rows[i+1:] {
			if b := breakEven(one, other); b != nil {
				c.Breaks = append(c.Breaks, *b)
			}
		}
	}
	return c
}

func (q Numbered) row(copies []int, w Wishes, t Terms, today Day) QuoteRow {
	row := QuoteRow{Quote: q.Number, Printer: q.Printer, Landed: []Landed{}, LeftOut: q.LeavesOut(w), Expires: q.Expires(), Holding: Unstated}
	switch {
	case row.Expires != "" && row.Expires < today: // days sort as text
		row.Holding = Expired
	case row.Expires != "":
		row.Holding = Holds
	}
	for _, good := range copies {
		l, err := q.Land(good, w, t)
		if err != nil { // one slip of the pen must not take the others from sight
			l = Landed{Good: good, Ordered: l.Ordered, Items: []CostItem{}, Doubts: []string{"The amounts are too large to be reckoned with."}}
		}
		row.Landed = append(row.Landed, l)
	}
	if fit, err := q.fit(t, copies); err == nil {
		row.Fit = fit
	}
	return row
}

func cheapest(rows []QuoteRow, at int) int {
	best := 0
	var least int64
	for _, row := range rows {
		l := row.Landed[at]
		if l.Complete && l.Home != nil && row.Holding != Expired && (best == 0 || l.Home.Minor < least) {
			best, least = row.Quote, l.Home.Minor
		}
	}
	return best
}

// priceLine is printing alone as a line, and how it was found. Set-up and unit
// price are taken as they were given; two prices give the line through them, and
// more the least squares of them.
func (q Quote) priceLine() (l line, method string, ok bool) {
	switch {
	case q.RunOn != nil:
		l = line{new(big.Rat), q.RunOn.each()}
		if q.SetUp != nil {
			l.from = whole(q.SetUp.Minor)
		}
		return l, "as quoted", true
	case len(q.Steps) < 2:
		return l, "", false
	case len(q.Steps) == 2:
		return through(q.Steps[0].point(), q.Steps[1].point()), "through two prices", true
	}
	points := make([]point, len(q.Steps))
	for i, s := range q.Steps {
		points[i] = s.point()
	}
	return leastSquares(points), fmt.Sprintf("least squares of %d prices", len(points)), true
}

// fit is nil when there is no line or no rate.
func (q Quote) fit(t Terms, copies []int) (*CostFit, error) {
	price, method, ok := q.priceLine()
	by, rated := q.factor(t)
	if !ok || !rated {
		return nil, nil
	}
	charges := q.Proof.line().plus(q.Finishing.line()).plus(q.Delivery.line())
	f := &CostFit{Method: method, landed: price.plus(charges).times(by)}
	var errs [3]error
	f.SetUp, errs[0] = edition.RoundedMoney(f.landed.from, t.Currency)
	f.RunOn.Per = 100
	f.RunOn.Amount, errs[1] = edition.RoundedMoney(new(big.Rat).Mul(f.landed.each, hundred), t.Currency)
	f.Points, f.Off, errs[2] = q.points(f.landed, charges, by, t, copies)
	return f, firstError(errs[:]...)
}

// factor turns an amount as quoted into what the maker bears at home.
func (q Quote) factor(t Terms) (by *big.Rat, rated bool) {
	by = q.Tax.factor(t.Reclaims)
	if q.Currency == t.Currency {
		return by, true
	}
	if q.Rate == nil || q.Rate.To != t.Currency {
		return by, false
	}
	by.Mul(by, q.Rate.Value.Rat())
	return by.Mul(by, edition.TenTo(t.Currency.Decimals()-q.Currency.Decimals())), true
}

// points are the printer's own prices with everything worked in; for set-up and
// unit price those at the numbers compared.
func (q Quote) points(fitted, charges line, by *big.Rat, t Terms, copies []int) ([]CostAt, edition.Money, error) {
	at := copies
	if len(q.Steps) > 0 {
		at = nil
		for _, s := range q.Steps {
			at = append(at, s.Copies)
		}
	}
	points := []CostAt{}
	off := new(big.Rat)
	for _, n := range at {
		cost, _ := q.printing(n)
		cost = new(big.Rat).Mul(new(big.Rat).Add(cost, charges.at(n)), by)
		amount, err := edition.RoundedMoney(cost, t.Currency)
		if err != nil {
			return nil, amount, err
		}
		points = append(points, CostAt{n, amount})
		if gap := cost.Sub(cost, fitted.at(n)); gap.Abs(gap).Cmp(off) > 0 {
			off = gap
		}
	}
	most, err := edition.RoundedMoney(off, t.Currency)
	return points, most, err
}

// breakEven is where two fitted lines cross: the least whole number of copies at
// which the one with the lower run-on costs less. It is nil when either has no
// line, or both have the same run-on and set-up.
func breakEven(one, other QuoteRow) *BreakEven {
	if one.Fit == nil || other.Fit == nil {
		return nil
	}
	low, high := one, other
	switch one.Fit.landed.each.Cmp(other.Fit.landed.each) {
	case 1:
		low, high = other, one
	case 0:
		switch one.Fit.landed.from.Cmp(other.Fit.landed.from) {
		case 0:
			return nil
		case 1:
			low, high = other, one
		}
		return &BreakEven{Below: high.Quote, From: low.Quote, Copies: 1}
	}
	more := new(big.Rat).Sub(low.Fit.landed.from, high.Fit.landed.from)
	less := new(big.Rat).Sub(high.Fit.landed.each, low.Fit.landed.each)
	return &BreakEven{Below: high.Quote, From: low.Quote, Copies: max(1, floor(more.Quo(more, less))+1)}
}
