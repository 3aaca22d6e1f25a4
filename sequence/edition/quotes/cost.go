package quotes

import (
	"math/big"

	"pairwall/sequence/edition"
)

var hundred = big.NewRat(100, 1)

// Basis is where a price for a number of copies comes from.
type Basis string

// The bases. Between and Beyond are estimates, and told as such.
const (
	Quoted    Basis = "quoted"  // the printer's own price for that number
	RunningOn Basis = "run-on"  // set-up and unit price
	Between   Basis = "between" // on the straight line between the two prices around it
	Beyond    Basis = "beyond"  // on the straight line through the two nearest prices
	Unpriced  Basis = ""        // cannot be told
)

// printing is what printing n copies costs, exactly, in minor units and as
// quoted: with or without tax, the other items apart. It is nil when Unpriced.
func (q Quote) printing(n int) (*big.Rat, Basis) {
	for _, s := range q.Steps {
		if s.Copies == n {
			return s.total(), Quoted
		}
	}
	if q.RunOn != nil {
		cost := new(big.Rat).Mul(q.RunOn.each(), whole(n))
		if q.SetUp != nil {
			cost.Add(cost, whole(q.SetUp.Minor))
		}
		return cost, RunningOn
	}
	if len(q.Steps) < 2 {
		return nil, Unpriced
	}
	at := 1
	for at < len(q.Steps)-1 && q.Steps[at].Copies < n {
		at++
	}
	low, high := q.Steps[at-1], q.Steps[at]
	basis := Between
	if n < low.Copies || n > high.Copies {
		basis = Beyond
	}
	cost := through(low.point(), high.point()).at(n)
	if cost.Sign() <= 0 {
		return nil, Unpriced // a line that falls so steeply says nothing out here
	}
	return cost, basis
}

func (s PriceStep) total() *big.Rat {
	if s.Each {
		return new(big.Rat).Mul(whole(s.Amount.Minor), whole(s.Copies))
	}
	return whole(s.Amount.Minor)
}

func (s PriceStep) point() point { return point{whole(s.Copies), s.total()} }

func (p UnitPrice) each() *big.Rat { return big.NewRat(p.Amount.Minor, int64(p.Per)) }

// for n copies, exactly; nil when nothing is to be paid apart.
func (c *Charge) cost(n int) *big.Rat {
	if c == nil || c.Included || c.Amount == nil {
		return nil
	}
	line := c.line()
	return line.at(n)
}

// line is the charge as it grows with the number of copies.
func (c *Charge) line() line {
	switch {
	case c == nil || c.Included || c.Amount == nil:
		return line{new(big.Rat), new(big.Rat)}
	case c.Per == 0:
		return line{whole(c.Amount.Minor), new(big.Rat)}
	}
	return line{new(big.Rat), big.NewRat(c.Amount.Minor, int64(c.Per))}
}

// ToOrder is how many copies to order to be sure of so many when up to unders
// per cent fewer may be delivered: the least n with n × (1 − unders) ≥ good. "" is
// none fewer.
func ToOrder(good int, unders edition.Decimal) int {
	sure := new(big.Rat).Sub(big.NewRat(1, 1), new(big.Rat).Quo(unders.Rat(), hundred))
	return ceiling(new(big.Rat).Quo(whole(good), sure))
}

// whole makes an exact number.
func whole[N int | int64](n N) *big.Rat { return new(big.Rat).SetInt64(int64(n)) }

// ceiling is the least whole number not below r, floor the greatest not above.
func ceiling(r *big.Rat) int { return -floor(new(big.Rat).Neg(r)) }

func floor(r *big.Rat) int {
	return int(new(big.Int).Div(r.Num(), r.Denom()).Int64()) // Euclidean, so downwards below zero too
}

// line is a cost that grows straight with the number of copies: from + each × n.
type line struct{ from, each *big.Rat }

func (l line) at(n int) *big.Rat {
	return new(big.Rat).Add(l.from, new(big.Rat).Mul(l.each, whole(n)))
}

func (l line) plus(m line) line {
	return line{new(big.Rat).Add(l.from, m.from), new(big.Rat).Add(l.each, m.each)}
}

func (l line) times(by *big.Rat) line {
	return line{new(big.Rat).Mul(l.from, by), new(big.Rat).Mul(l.each, by)}
}

type point struct{ x, y *big.Rat }

// through is the line through two points of different x.
func through(a, b point) line {
	each := new(big.Rat).Quo(new(big.Rat).Sub(b.y, a.y), new(big.Rat).Sub(b.x, a.x))
	return line{new(big.Rat).Sub(a.y, new(big.Rat).Mul(each, a.x)), each}
}

// leastSquares is the line with the least sum of squared differences in y, by the
// normal equations, exactly: each = (nΣxy − ΣxΣy) / (nΣx² − (Σx)²), from = (Σy −
// each Σx) / n. There must be two points of different x.
func leastSquares(points []point) line {
	n := whole(len(points))
	sx, sy, sxx, sxy := new(big.Rat), new(big.Rat), new(big.Rat), new(big.Rat)
	for _, p := range points {
		sx.Add(sx, p.x)
		sy.Add(sy, p.y)
		sxx.Add(sxx, new(big.Rat).Mul(p.x, p.x))
		sxy.Add(sxy, new(big.Rat).Mul(p.x, p.y))
	}
	above := new(big.Rat).Sub(new(big.Rat).Mul(n, sxy), new(big.Rat).Mul(sx, sy))
	below := new(big.Rat).Sub(new(big.Rat).Mul(n, sxx), new(big.Rat).Mul(sx, sx))
	each := above.Quo(above, below)
	return line{new(big.Rat).Quo(new(big.Rat).Sub(sy, new(big.Rat).Mul(each, sx)), n), each}
}
