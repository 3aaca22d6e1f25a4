package quotes

import (
	"fmt"
	"math/big"

	"pairwall/sequence/edition"
)

// Terms are how the maker compares.
type Terms struct {
	Currency edition.Currency `json:"currency"` // the maker's own
	Copies   int              `json:"copies"`   // good copies that are wanted
	Reclaims bool             `json:"reclaims"` // tax paid to a printer comes back
}

// FirstTerms are those before the maker has said anything.
func FirstTerms() Terms { return Terms{Currency: "EUR", Copies: 100} }

// Check refuses terms nobody can compare by.
//
// Error: Invalid.
func (t Terms) Check() error {
	if t.Copies < 1 || t.Copies > mostCopies {
		return invalid("That is no number of copies.", fmt.Sprintf("Say from 1 to %d.", mostCopies))
	}
	_, err := edition.ParseCurrency(string(t.Currency))
	return err
}

// State is what was said of an item.
type State string

// The states of an item.
const (
	Amounted State = "amount"
	Included State = "included"
	Missing  State = "missing"
	Unasked  State = "not asked" // and not said either
)

// CostItem is one line of what an order comes to.
type CostItem struct {
	Name   string         `json:"name"`
	State  State          `json:"state"`
	Amount *edition.Money `json:"amount,omitempty"` // with Amounted; in the quote's currency
}

// Landed is what it takes to have so many good copies at home.
type Landed struct {
	Good    int        `json:"good"`    // copies wanted
	Ordered int        `json:"ordered"` // to be sure of them
	Basis   Basis      `json:"basis"`
	Items   []CostItem `json:"items"`

	Tax   *edition.Money `json:"tax,omitempty"`   // added to the items, or contained in them; none when it was not said
	Total *edition.Money `json:"total,omitempty"` // what the maker bears, in the quote's currency; none when Unpriced
	Home  *edition.Money `json:"home,omitempty"`  // the same in the maker's; none without a rate
	Unit  *edition.Money `json:"unit,omitempty"`  // Home for each good copy, rounded
	Most  *edition.Money `json:"most,omitempty"`  // Home when as many overs come as may, and are charged

	Complete bool     `json:"complete"` // nothing asked for is missing; otherwise it costs at least this
	Doubts   []string `json:"doubts"`   // what was taken as given, as sentences
}

// Land works out what good copies cost. Items are rounded one by one and then
// added, as invoices are, so that what is shown adds up to the last cent.
//
// Error: TooLarge when an amount is.
func (q Quote) Land(good int, w Wishes, t Terms) (Landed, error) {
	l := Landed{Good: good, Complete: true, Items: []CostItem{}, Doubts: []string{}}
	l.order(q, w)
	if err := l.itemise(q, w); err != nil {
		return l, err
	}
	if l.Basis == Unpriced {
		l.doubt("There is no price from which %d copies can be told.", l.Ordered)
		return l, nil
	}
	if err := l.add(q, t); err != nil {
		return l, err
	}
	return l, l.bringHome(q, t)
}

func (l *Landed) doubt(words string, args ...any) {
	l.Doubts = append(l.Doubts, fmt.Sprintf(words, args...))
}

// order says how many to order.
func (l *Landed) order(q Quote, w Wishes) {
	unders := w.Unders
	switch {
	case q.Tolerance != nil && q.Tolerance.Unders != "":
		unders = q.Tolerance.Unders
	case unders != "":
		l.Complete = false
		l.doubt("Unders were not said; the %s %% you accept are taken.", unders)
	default:
		l.Complete = false
		l.doubt("Unders were not said; none are taken.")
	}
	l.Ordered = ToOrder(l.Good, unders)
}

// itemise lists what is asked for, each with what was said of it.
func (l *Landed) itemise(q Quote, w Wishes) error {
	cost, basis := q.printing(l.Ordered)
	l.Basis = basis
	switch basis {
	case Between:
		l.doubt("%d copies lie between two prices; the straight line between them is taken.", l.Ordered)
	case Beyond:
		l.doubt("%d copies lie beyond the prices given; the line through the nearest two is taken.", l.Ordered)
	case RunningOn:
		if q.SetUp == nil {
			l.Complete = false
			l.doubt("Set-up was not said.")
		}
	case Unpriced, Quoted:
	}
	if err := l.item("printing", cost, Missing, q.Currency); err != nil {
		return err
	}
	for _, one := range []struct {
		name  string
		said  *Charge
		asked bool
	}{{"proof", q.Proof, w.Proof.words() != ""}, {"finishing", q.Finishing, w.Finishing != ""}, {"delivery", q.Delivery, true}} {
		state := Missing
		switch {
		case one.said != nil:
			state = Included
		case !one.asked:
			state = Unasked
		}
		if err := l.item(one.name, one.said.cost(l.Ordered), state, q.Currency); err != nil {
			return err
		}
	}
	return nil
}

func (l *Landed) item(name string, cost *big.Rat, otherwise State, in edition.Currency) error {
	if cost == nil {
		l.Items = append(l.Items, CostItem{Name: name, State: otherwise})
		l.Complete = l.Complete && otherwise != Missing
		return nil
	}
	amount, err := edition.RoundedMoney(cost, in)
	l.Items = append(l.Items, CostItem{name, Amounted, &amount})
	return err
}

// add sums the items up, with the tax that the maker bears.
func (l *Landed) add(q Quote, t Terms) error {
	sum := edition.Money{Currency: q.Currency}
	var err error
	for _, item := range l.Items {
		if item.Amount == nil {
			continue
		}
		if sum, err = sum.Add(*item.Amount); err != nil {
			return err
		}
	}
	tax, total, err := q.Tax.on(sum, t.Reclaims)
	if err != nil {
		return err
	}
	l.Tax, l.Total = tax, &total
	if tax == nil {
		l.Complete = false
		l.doubt("%s", q.Tax.unknown())
	}
	return nil
}

// factor is what an amount as quoted is multiplied by to be what the maker bears;
// one where that was not said.
func (x *Tax) factor(reclaims bool) *big.Rat {
	with := big.NewRat(1, 1)
	if x == nil || x.Percent == "" || x.Included != reclaims {
		return with
	}
	with.Add(with, new(big.Rat).Quo(x.Percent.Rat(), hundred))
	if reclaims { // it is in the price and comes back
		with.Inv(with)
	}
	return with
}

// on is the tax on or in a sum, nil when that cannot be told, and what the maker
// bears.
func (x *Tax) on(sum edition.Money, reclaims bool) (tax *edition.Money, bears edition.Money, err error) {
	if x == nil || x.Percent == "" {
		return nil, sum, nil
	}
	share := x.Percent.Rat()
	if x.Included { // of what is paid, percent ÷ (100 + percent) is tax
		share = new(big.Rat).Quo(share, new(big.Rat).Add(hundred, share))
	} else {
		share = new(big.Rat).Quo(share, hundred)
	}
	amount, err := edition.RoundedMoney(new(big.Rat).Mul(whole(sum.Minor), share), sum.Currency)
	if err != nil {
		return nil, sum, err
	}
	switch {
	case x.Included && reclaims:
		bears, err = sum.Sub(amount)
	case !x.Included && !reclaims:
		bears, err = sum.Add(amount)
	default:
		bears = sum
	}
	return &amount, bears, err
}

func (x *Tax) unknown() string {
	switch {
	case x == nil:
		return "Whether tax is in the price was not said; none is added."
	case x.Included:
		return "Tax is in the price, but its rate was not said."
	}
	return "Tax comes on top, but its rate was not said; none is added."
}

// bringHome converts, and shares the total among the good copies.
func (l *Landed) bringHome(q Quote, t Terms) error {
	home, err := q.home(*l.Total, t)
	if err != nil {
		return err
	}
	if home == nil {
		l.Complete = false
		l.doubt("There is no rate from %s to %s yet.", q.Currency, t.Currency)
		return nil
	}
	unit, err := home.Share(1, int64(l.Good))
	if err != nil {
		return err
	}
	l.Home, l.Unit = home, &unit
	return l.overs(q, t)
}

// home converts an amount; nil without a rate.
func (q Quote) home(m edition.Money, t Terms) (*edition.Money, error) {
	if q.Currency == t.Currency {
		return &m, nil
	}
	if q.Rate == nil || q.Rate.To != t.Currency {
		return nil, nil
	}
	there, err := q.Rate.Convert(m)
	return &there, err
}

// overs is what it comes to when the printer delivers and charges all the overs
// there may be: each at the price by which the cost grows there.
func (l *Landed) overs(q Quote, t Terms) error {
	if q.Tolerance == nil || q.Tolerance.Charged == nil || !*q.Tolerance.Charged || q.Tolerance.Overs == "" {
		return nil
	}
	more := floor(new(big.Rat).Mul(whole(l.Ordered), new(big.Rat).Quo(q.Tolerance.Overs.Rat(), hundred)))
	now, _ := q.printing(l.Ordered)
	then, basis := q.printing(l.Ordered + more)
	if basis == Unpriced || then.Cmp(now) < 0 {
		return nil
	}
	extra, err := edition.RoundedMoney(then.Mul(then.Sub(then, now), q.Tax.factor(t.Reclaims)), q.Currency)
	if err != nil {
		return err
	}
	most, err := l.Total.Add(extra)
	if err != nil {
		return err
	}
	l.Most, err = q.home(most, t)
	return err
}
