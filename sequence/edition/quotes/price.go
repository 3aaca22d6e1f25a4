package quotes

import (
	"fmt"
	"math/big"

	"pairwall/sequence/edition"
)

// PricePlan is what a copy is to sell for, and how. Every amount is in the maker's
// currency.
type PricePlan struct {
	Price *edition.Money  `json:"price,omitempty"` // what a reader pays, tax included
	Tax   edition.Decimal `json:"tax"`             // per cent in that price; "" for none
	Free  int             `json:"free"`            // copies that will not be sold: deposit, press, friends
	Quote int             `json:"quote"`           // the number of the quote that the run is reckoned by; 0 for none
	Cost  *edition.Money  `json:"cost,omitempty"`  // of the whole run, when not by a quote

	Once     []Fee     `json:"once"`    // whatever the number of copies: scans, a number for the book trade, a launch
	PerCopy  []Fee     `json:"perCopy"` // for each copy sold: mailer, card
	Channels []Channel `json:"channels"`
}

// Fee is a named cost.
type Fee struct {
	Name   string        `json:"name"`
	Amount edition.Money `json:"amount"`
}

// Channel is a way copies are sold.
type Channel struct {
	Name     string          `json:"name"`
	Discount edition.Decimal `json:"discount"` // per cent of the price without tax that the seller keeps
	Fee      edition.Decimal `json:"fee"`      // per cent of what is paid to the maker, as for a card payment
	FeeEach  *edition.Money  `json:"feeEach,omitempty"`
	Share    int             `json:"share"` // of the copies sold, as a weight
}

// FirstPlan is where reckoning begins. A shop takes 40 % and a wholesaler 50 to
// 55 % of the price (IBPA, 2002); the shares are no more than an example.
func FirstPlan() PricePlan {
	return PricePlan{Once: []Fee{}, PerCopy: []Fee{}, Channels: []Channel{
		{Name: "From hand to hand", Share: 40}, {Name: "By post", Share: 40},
		{Name: "Bookshop", Discount: "40", Share: 20}, {Name: "Wholesaler", Discount: "55"}}}
}

// Bounds that catch slips of the pen; no source.
const (
	mostFees     = 60
	mostChannels = 20
	mostShare    = 1_000_000
)

// Tidied returns the plan with lists where there were none, for JSON.
func (p PricePlan) Tidied() PricePlan {
	p.Once, p.PerCopy, p.Channels = listed(p.Once), listed(p.PerCopy), listed(p.Channels)
	return p
}

// Check refuses a plan that cannot be reckoned with.
//
// Errors: Invalid; TooLarge for an amount beyond its bound.
func (p PricePlan) Check(t Terms) error {
	if p.Free < 0 || p.Free > mostCopies {
		return invalid("That is no number of copies to give away.", "Say from 0.")
	}
	if len(p.Once)+len(p.PerCopy) > mostFees || len(p.Channels) > mostChannels {
		return invalid("These are more costs or ways of selling than we reckon with.", "Put small ones together.")
	}
	amounts := []*edition.Money{p.Price, p.Cost}
	for _, fees := range [][]Fee{p.Once, p.PerCopy} {
		for _, fee := range fees {
			amounts = append(amounts, &fee.Amount)
			if err := checkTexts(longestLine, fee.Name); err != nil {
				return err
			}
		}
	}
	for _, c := range p.Channels {
		amounts = append(amounts, c.FeeEach)
		if c.Share < 0 || c.Share > mostShare {
			return invalid("A share of the copies is a number from 0.", "They need not add up to a hundred.")
		}
		if err := firstError(percentage(c.Discount), percentage(c.Fee), checkTexts(longestLine, c.Name)); err != nil {
			return err
		}
	}
	for _, m := range amounts {
		if m == nil {
			continue
		}
		if m.Currency != t.Currency || m.Minor < 0 {
			return invalid(fmt.Sprintf("Every amount of the price is in %s and not below zero.", t.Currency), "Costs in another currency are converted first.")
		}
		if err := m.Check(); err != nil {
			return err
		}
	}
	return percentage(p.Tax)
}

// Reckoning is what a plan comes to.
type Reckoning struct {
	Run  int `json:"run"`  // copies made
	Sold int `json:"sold"` // of them to sell at most

	Cost  *edition.Money `json:"cost,omitempty"`  // of the run; none while no quote or amount is known
	Fixed *edition.Money `json:"fixed,omitempty"` // the run and what is paid once
	Unit  *edition.Money `json:"unit,omitempty"`  // Cost for each copy made, rounded
	Eight *edition.Money `json:"eight,omitempty"` // eight times Unit: the rule of thumb for a price (IBPA, 2002)

	Channels []ChannelLeft `json:"channels"`
	WhatIf   []WhatIf      `json:"whatIf"`
	Doubts   []string      `json:"doubts"`
}

// ChannelLeft is what a copy sold one way leaves. Amounts are none without a price.
type ChannelLeft struct {
	Name     string         `json:"name"`
	Net      *edition.Money `json:"net,omitempty"`      // the price without tax
	Discount *edition.Money `json:"discount,omitempty"` // what the seller keeps
	Received *edition.Money `json:"received,omitempty"` // Net less Discount
	Fees     *edition.Money `json:"fees,omitempty"`
	PerCopy  *edition.Money `json:"perCopy,omitempty"`
	Leaves   *edition.Money `json:"leaves,omitempty"` // Received less Fees and PerCopy: what pays for the run
	After    *edition.Money `json:"after,omitempty"`  // Leaves less Unit
	// Even is how many copies sold this way alone pay for everything; 0 when no number does.
	Even   int            `json:"even"`
	Within bool           `json:"within"`          // there are as many to sell
	Floor  *edition.Money `json:"floor,omitempty"` // the least price at which all copies sold this way pay for everything; none when no price does
}

// WhatIf is what is left in the end at one price, for parts of the copies sold
// through the channels by their shares.
type WhatIf struct {
	Price edition.Money   `json:"price"`
	Left  []edition.Money `json:"left"` // for each of WhatIfSold
}

// WhatIfSold are the parts of the copies for sale, in per cent, of a row of
// WhatIf, and WhatIfPrice its prices, in per cent of the plan's.
var (
	WhatIfSold  = []int64{25, 50, 75, 100}
	WhatIfPrice = []int64{80, 90, 100, 110, 120}
)

// Reckon works a plan out for a run that was landed, nil when no quote was chosen.
//
// Error: TooLarge when an amount is.
func (p PricePlan) Reckon(landed *Landed, t Terms) (Reckoning, error) {
	r := Reckoning{Run: t.Copies, Sold: max(0, t.Copies-p.Free), Channels: []ChannelLeft{}, WhatIf: []WhatIf{}, Doubts: []string{}}
	if err := r.costs(p, landed, t); err != nil {
		return r, err
	}
	for _, c := range p.Channels {
		left, err := r.channel(p, c, t)
		if err != nil {
			return r, err
		}
		r.Channels = append(r.Channels, left)
	}
	if p.Price == nil || r.Fixed == nil {
		return r, nil
	}
	return r, r.whatIf(p)
}

// costs finds out what the run costs, and what is paid once.
func (r *Reckoning) costs(p PricePlan, landed *Landed, t Terms) error {
	switch {
	case landed != nil:
		r.Cost = landed.Home
		if !landed.Complete {
			r.Doubts = append(r.Doubts, "The quote leaves something out: the run costs at least this.")
		}
	case p.Cost != nil:
		r.Cost = p.Cost
	}
	if r.Cost == nil {
		r.Doubts = append(r.Doubts, "What the run costs is not known: choose a quote, or give an amount.")
		return nil
	}
	unit, err := r.Cost.Share(1, int64(t.Copies))
	if err != nil {
		return err
	}
	eight, err := unit.Times(8)
	if err != nil {
		return err
	}
	r.Unit, r.Eight = &unit, &eight
	fixed := *r.Cost
	for _, fee := range p.Once {
		if fixed, err = fixed.Add(fee.Amount); err != nil {
			return err
		}
	}
	r.Fixed = &fixed
	return nil
}

func (r *Reckoning) channel(p PricePlan, c Channel, t Terms) (ChannelLeft, error) {
	l := ChannelLeft{Name: c.Name}
	var err error
	if p.Price != nil {
		if l, err = p.leaves(c, *p.Price); err != nil {
			return l, err
		}
		if r.Unit != nil {
			after, err := l.Leaves.Sub(*r.Unit)
			if err != nil {
				return l, err
			}
			l.After = &after
			if l.Leaves.Minor > 0 {
				l.Even = ceiling(big.NewRat(r.Fixed.Minor, l.Leaves.Minor))
			}
			l.Within = l.Even > 0 && l.Even <= r.Sold
		}
	}
	if r.Fixed != nil && r.Sold > 0 {
		l.Floor, err = p.floor(c, *r.Fixed, r.Sold, t)
	}
	return l, err
}

// leaves is what one copy sold at a price leaves.
func (p PricePlan) leaves(c Channel, price edition.Money) (ChannelLeft, error) {
	with := new(big.Rat).Add(hundred, p.Tax.Rat())
	net, err := edition.RoundedMoney(new(big.Rat).Quo(new(big.Rat).Mul(whole(price.Minor), hundred), with), price.Currency)
	if err != nil {
		return ChannelLeft{}, err
	}
	discount, err := net.Percent(c.Discount)
	if err != nil {
		return ChannelLeft{}, err
	}
	received, err := net.Sub(discount)
	if err != nil {
		return ChannelLeft{}, err
	}
	fees, err := edition.RoundedMoney(new(big.Rat).Mul(whole(price.Minor), c.feePart()), price.Currency)
	if err != nil {
		return ChannelLeft{}, err
	}
	if c.FeeEach != nil {
		if fees, err = fees.Add(*c.FeeEach); err != nil {
			return ChannelLeft{}, err
		}
	}
	each := make([]edition.Money, len(p.PerCopy))
	for i, fee := range p.PerCopy {
		each[i] = fee.Amount
	}
	perCopy, err := edition.Sum(price.Currency, each...)
	if err != nil {
		return ChannelLeft{}, err
	}
	leaves, err := edition.Sum(price.Currency, received, fees.Neg(), perCopy.Neg())
	return ChannelLeft{Name: c.Name, Net: &net, Discount: &discount, Received: &received, Fees: &fees, PerCopy: &perCopy, Leaves: &leaves}, err
}

// kept is the part of the price the maker is paid, and feePart the part of the
// price that goes in fees on that.
func (c Channel) kept() *big.Rat {
	return new(big.Rat).Sub(big.NewRat(1, 1), new(big.Rat).Quo(c.Discount.Rat(), hundred))
}

func (c Channel) feePart() *big.Rat {
	return new(big.Rat).Mul(c.kept(), new(big.Rat).Quo(c.Fee.Rat(), hundred))
}

// floor solves leaves × sold ≥ fixed for the price, exactly: (fixed ÷ sold + costs
// per copy) ÷ (kept ÷ (1 + tax) − fees), and then looks for the first price at
// which this holds for the rounded amounts as well.
func (p PricePlan) floor(c Channel, fixed edition.Money, sold int, t Terms) (*edition.Money, error) {
	zero := edition.Money{Currency: t.Currency}
	base, err := p.leaves(c, zero) // the costs of a copy as a negative amount
	if err != nil {
		return nil, err
	}
	part := new(big.Rat).Quo(new(big.Rat).Mul(c.kept(), hundred), new(big.Rat).Add(hundred, p.Tax.Rat()))
	if part.Sub(part, c.feePart()).Sign() <= 0 {
		return nil, nil
	}
	// Net, discount and fees are each rounded by half a minor unit at most.
	reach := int64(ceiling(new(big.Rat).Quo(big.NewRat(3, 2), part))) + 1
	need := new(big.Rat).Sub(big.NewRat(fixed.Minor, int64(sold)), whole(base.Leaves.Minor))
	exact := need.Quo(need, part)
	if exact.Cmp(whole(edition.Largest)) > 0 {
		return nil, nil
	}
	price := edition.Money{Minor: max(0, int64(ceiling(exact))-reach), Currency: t.Currency}
	for range 2 * reach {
		left, err := p.leaves(c, price)
		if err != nil {
			return nil, err
		}
		if left.Leaves.Minor*int64(sold) >= fixed.Minor {
			return &price, nil
		}
		price.Minor++
	}
	return nil, nil
}

// whatIf fills the table.
func (r *Reckoning) whatIf(p PricePlan) error {
	for _, percent := range WhatIfPrice {
		price, err := p.Price.Share(percent, 100)
		if err != nil {
			return err
		}
		row := WhatIf{Price: price, Left: []edition.Money{}}
		for _, part := range WhatIfSold {
			left, err := r.left(p, price, int64(r.Sold)*part/100)
			if err != nil {
				return err
			}
			if left == nil {
				r.Doubts = append(r.Doubts, "No channel has a share of the copies, so what is left in the end cannot be told.")
				return nil
			}
			row.Left = append(row.Left, *left)
		}
		r.WhatIf = append(r.WhatIf, row)
	}
	return nil
}

// left is what is left when so many copies were sold at a price by the shares of
// the channels; nil when none has a share.
func (r *Reckoning) left(p PricePlan, price edition.Money, sold int64) (*edition.Money, error) {
	shares := make([]int64, len(p.Channels))
	for i, c := range p.Channels {
		shares[i] = int64(c.Share)
	}
	copies, err := edition.Allocate(sold, shares...)
	if err != nil {
		return nil, nil //nolint:nilerr // nothing to share among is an answer here
	}
	sum := r.Fixed.Neg()
	for i, c := range p.Channels {
		one, err := p.leaves(c, price)
		if err != nil {
			return nil, err
		}
		all, err := one.Leaves.Times(copies[i])
		if err != nil {
			return nil, err
		}
		if sum, err = sum.Add(all); err != nil {
			return nil, err
		}
	}
	return &sum, nil
}
