package quotes

import (
	"fmt"

	"pairwall/sequence/edition"
	"pairwall/sequence/pages"
)

// Quote is what a printer answered, as it came. Every pointer that is nil, every
// "" and every empty list is something that was not said.
type Quote struct {
	Printer   int    `json:"printer"`   // the number of the printer it came from
	Reference string `json:"reference"` // the printer's own
	Day       Day    `json:"day"`       // on the quote
	Valid     *int   `json:"valid,omitempty"`

	Currency edition.Currency `json:"currency"`
	Rate     *edition.Rate    `json:"rate,omitempty"` // to the maker's currency; not needed when it is the same
	Tax      *Tax             `json:"tax,omitempty"`

	SetUp *edition.Money `json:"setUp,omitempty"` // 0 when the printer said there is none
	RunOn *UnitPrice     `json:"runOn,omitempty"`
	Steps []PriceStep    `json:"steps"` // prices for numbers of copies, rising

	Proof     *Charge `json:"proof,omitempty"`
	Finishing *Charge `json:"finishing,omitempty"`
	Delivery  *Charge `json:"delivery,omitempty"`

	Tolerance *Tolerance  `json:"tolerance,omitempty"`
	Differs   string      `json:"differs"` // what is left out or otherwise than asked, in the maker's words
	Notes     string      `json:"notes"`   // of the visit
	Papers    []PaperSeen `json:"papers"`
}

// Tax is what was said of value added or sales tax.
type Tax struct {
	Included bool            `json:"included"`
	Percent  edition.Decimal `json:"percent"` // "" when the rate was not said
}

// UnitPrice is an amount for so many copies. Prices below the smallest coin are told
// for a hundred or a thousand.
type UnitPrice struct {
	Amount edition.Money `json:"amount"`
	Per    int           `json:"per"` // copies, from 1
}

// PriceStep is the price for one number of copies.
type PriceStep struct {
	Copies int           `json:"copies"`
	Amount edition.Money `json:"amount"`
	Each   bool          `json:"each"` // the amount is for one copy; otherwise for all
}

// Charge is what was said of one item beside the printing.
type Charge struct {
	Included bool           `json:"included"`         // in the price of printing
	Amount   *edition.Money `json:"amount,omitempty"` // when it is not included
	Per      int            `json:"per"`              // 0: once for the order; otherwise for every so many copies
}

// Tolerance is how far the number delivered may lie from the number ordered.
type Tolerance struct {
	Overs   edition.Decimal `json:"overs"`             // per cent; "" when not said
	Unders  edition.Decimal `json:"unders"`            // per cent
	Charged *bool           `json:"charged,omitempty"` // overs are paid for
}

// PaperSeen is a paper that was touched, or offered instead of the one asked for.
type PaperSeen struct {
	Paper   pages.Paper `json:"paper"`
	Felt    string      `json:"felt"`    // a word for how it felt
	Instead bool        `json:"instead"` // offered instead
}

// Bounds that catch slips of the pen; no source.
const (
	mostValid = 3650 // days
	mostSteps = 40
	mostSeen  = 40
)

// Tidied returns the quote with lists where there were none, for JSON.
func (q Quote) Tidied() Quote {
	q.Steps, q.Papers = listed(q.Steps), listed(q.Papers)
	return q
}

// Check refuses a quote that contradicts itself.
//
// Errors: Invalid; TooLarge for an amount or a text beyond its bound.
func (q Quote) Check() error {
	if _, err := edition.ParseCurrency(string(q.Currency)); err != nil {
		return err
	}
	if q.Valid != nil && (*q.Valid < 0 || *q.Valid > mostValid) {
		return invalid("A quote does not hold for so many days.", "Say from 0; leave it open when it was not said.")
	}
	if err := firstError(q.Day.check(), q.checkRate(), q.checkTax(), q.checkPrices(), q.checkTolerance(),
		checkTexts(longestLine, q.Reference), checkTexts(longestLetter, q.Differs, q.Notes)); err != nil {
		return err
	}
	for _, c := range []*Charge{q.Proof, q.Finishing, q.Delivery} {
		if err := q.checkCharge(c); err != nil {
			return err
		}
	}
	return q.checkPapers()
}

func (q Quote) checkRate() error {
	if q.Rate == nil {
		return nil
	}
	if _, err := edition.ParseCurrency(string(q.Rate.To)); err != nil {
		return err
	}
	if q.Rate.From != q.Currency || q.Rate.Value.Check() != nil || q.Rate.Value.Rat().Sign() <= 0 || q.Rate.Day == "" {
		return invalid(fmt.Sprintf("The rate does not say what one %s was worth, and when.", q.Currency), "Give a number above zero and the day you looked it up.")
	}
	return Day(q.Rate.Day).check()
}

func (q Quote) checkTax() error {
	if q.Tax == nil {
		return nil
	}
	return percentage(q.Tax.Percent)
}

func (q Quote) checkPrices() error {
	if q.SetUp != nil {
		if err := q.amount(*q.SetUp); err != nil {
			return err
		}
	}
	if q.RunOn != nil {
		if q.RunOn.Per < 1 || q.RunOn.Per > mostCopies {
			return invalid("A unit price is for one copy at least.", "Say for how many copies it is: 1, 100 or 1000.")
		}
		if err := q.amount(q.RunOn.Amount); err != nil {
			return err
		}
	}
	if len(q.Steps) > mostSteps {
		return invalid("These are more prices than a quote has.", fmt.Sprintf("There can be %d.", mostSteps))
	}
	before := 0
	for _, s := range q.Steps {
		if s.Copies <= before || s.Copies > mostCopies {
			return invalid("The numbers of copies do not rise.", "Give one price for each number, from the smallest.")
		}
		before = s.Copies
		if err := q.amount(s.Amount); err != nil {
			return err
		}
	}
	return nil
}

func (q Quote) checkCharge(c *Charge) error {
	switch {
	case c == nil:
		return nil
	case c.Included == (c.Amount != nil):
		return invalid("An item is either in the price or has an amount of its own.", "Leave it open when it was not said.")
	case c.Per < 0 || c.Per > mostCopies:
		return invalid("A charge is for the order or for some copies.", "Say 0 for once, or for how many copies it is.")
	case c.Amount != nil:
		return q.amount(*c.Amount)
	}
	return nil
}

func (q Quote) checkTolerance() error {
	if q.Tolerance == nil {
		return nil
	}
	return firstError(percentage(q.Tolerance.Overs), percentage(q.Tolerance.Unders))
}

func (q Quote) checkPapers() error {
	if len(q.Papers) > mostSeen {
		return invalid("These are more papers than a visit shows.", fmt.Sprintf("There can be %d.", mostSeen))
	}
	for _, seen := range q.Papers {
		p := seen.Paper
		if !(p.Grammage >= 0 && p.Grammage <= 3000 && p.Caliper >= 0 && p.Caliper <= 10 && p.Bulk >= 0 && p.Bulk <= 10) {
			return invalid("There is no such paper.", "Grammage is in g/m²; 0 means that it is not known.")
		}
		if err := checkTexts(longestLine, p.Name, p.Finish, seen.Felt); err != nil {
			return err
		}
	}
	return nil
}

// amount refuses what is in another currency or below zero.
func (q Quote) amount(m edition.Money) error {
	if m.Currency != q.Currency || m.Minor < 0 {
		return invalid(fmt.Sprintf("Every amount of this quote is in %s and not below zero.", q.Currency), "A discount belongs into the price itself.")
	}
	return m.Check()
}

// Expires is the last day the quote holds; "" when that cannot be told.
func (q Quote) Expires() Day {
	if q.Valid == nil {
		return ""
	}
	return q.Day.After(*q.Valid)
}

// LeavesOut names what was not said although it was asked for.
func (q Quote) LeavesOut(w Wishes) []string {
	left := []string{}
	say := func(missing bool, words string) {
		if missing {
			left = append(left, words)
		}
	}
	say(q.RunOn == nil && len(q.Steps) == 0, "any price")
	say(q.RunOn != nil && q.SetUp == nil && len(q.Steps) == 0, "set-up")
	for _, n := range w.Quantities {
		_, basis := q.printing(n)
		say(len(q.Steps) > 0 && basis != Quoted && basis != RunningOn, fmt.Sprintf("a price for %d copies", n))
	}
	say(q.Proof == nil && w.Proof.words() != "", "proof")
	say(q.Finishing == nil && w.Finishing != "", "finishing")
	say(q.Delivery == nil, "delivery")
	say(q.Tax == nil, "whether tax is in it")
	say(q.Tax != nil && q.Tax.Percent == "", "the rate of tax")
	say(q.Day == "", "its date")
	say(q.Valid == nil, "how long it holds")
	say(q.Tolerance == nil || q.Tolerance.Overs == "" || q.Tolerance.Unders == "", "overs and unders")
	return left
}
