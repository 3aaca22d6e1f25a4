package orders

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"pairwall/sequence"
	"pairwall/sequence/edition"
)

// Order is one sale or gift: who wants how many copies.
type Order struct {
	ID       int64             `json:"id"`
	Revision int               `json:"revision"` // counts up with every change
	Number   string            `json:"number"`   // the shop's order number, or one given here
	Channel  string            `json:"channel"`  // where it was sold, in the maker's words
	Day      string            `json:"day"`      // yyyy-mm-dd; "" when not known
	For      edition.Purpose   `json:"for"`
	Copies   int               `json:"copies"`
	Price    edition.Money     `json:"price"`   // paid for all copies, postage not counted; currency "" when not known
	Postage  edition.Money     `json:"postage"` // paid for postage; likewise
	To       Addressee         `json:"to"`
	Wish     string            `json:"wish"` // a dedication, a number, whatever the buyer wrote
	Note     string            `json:"note"` // the maker's own
	State    State             `json:"state"`
	Allotted []edition.CopyRef `json:"allotted"`       // the copies it has; fewer than Copies while some are waited for
	List     int64             `json:"list,omitempty"` // the table it was read from; 0 when typed
	Erased   bool              `json:"erased"`         // what was personal of it is gone
}

// State is how far an order is.
type State string

// The states.
const (
	Open      State = "open"
	Sent      State = "sent" // posted or handed over
	Cancelled State = "cancelled"
)

// States in the order of a life.
func States() []State { return []State{Open, Sent, Cancelled} }

// Waits is how many copies the order still lacks.
func (o Order) Waits() int {
	if o.State == Cancelled {
		return 0
	}
	return max(0, o.Copies-len(o.Allotted))
}

// Bounds on what one order holds, far above what people write; no source.
const (
	mostCopies   = 1000
	longestText  = 500  // runes of a line
	longestWords = 4000 // runes of a wish or a note
	mostLines    = 12
)

// Tidy returns the order with white space around its texts and empty address
// lines taken away; nothing within a text is touched.
func (o Order) Tidy() Order {
	for _, text := range o.texts() {
		*text.of = strings.TrimSpace(*text.of)
	}
	o.Wish, o.Note = strings.TrimSpace(o.Wish), strings.TrimSpace(o.Note)
	lines := []string{}
	for _, line := range o.To.Lines {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	o.To.Lines = lines
	if o.For == "" {
		o.For = edition.ForSale
	}
	if o.State == "" {
		o.State = Open
	}
	if o.Allotted == nil {
		o.Allotted = []edition.CopyRef{}
	}
	return o
}

type named struct {
	what string
	of   *string
}

func (o *Order) texts() []named {
	return []named{{"order number", &o.Number}, {"channel", &o.Channel}, {"name", &o.To.Name}, {"company", &o.To.Company},
		{"postcode", &o.To.Postcode}, {"town", &o.To.Town}, {"region", &o.To.Region}, {"e-mail address", &o.To.Email}, {"telephone number", &o.To.Phone}}
}

// Check refuses an order that cannot be kept. An address that lacks something is
// no reason: Doubts tells of it.
//
// Error: Invalid.
func (o Order) Check() error {
	refuse := func(message, hint string, args ...any) error {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf(message, args...), Hint: hint}
	}
	for _, text := range append(o.texts(), o.lines()...) {
		if err := readable(text.what, *text.of, longestText); err != nil {
			return err
		}
	}
	for what, text := range map[string]string{"wish": o.Wish, "note": o.Note} {
		if err := readable(what, text, longestWords); err != nil {
			return err
		}
	}
	switch {
	case o.Number == "":
		return refuse("The order has no number.", "Give it one: by it the same order is known again.")
	case o.Copies < 1 || o.Copies > mostCopies:
		return refuse("An order of %d copies cannot be kept.", fmt.Sprintf("Say from 1 to %d.", mostCopies), o.Copies)
	case len(o.To.Lines) > mostLines:
		return refuse("The address has %d lines.", fmt.Sprintf("It can have %d.", mostLines), len(o.To.Lines))
	case !slices.Contains(edition.OrderPurposes(), o.For):
		return refuse("An order cannot be for %q.", "", o.For)
	case !slices.Contains(States(), o.State):
		return refuse("There is no state called %q.", "", o.State)
	case o.To.Country != "" && !o.To.Country.Known():
		return refuse("%q is no country we know.", "Choose one from the list.", short(string(o.To.Country)))
	}
	if o.Day != "" {
		if _, err := time.Parse(time.DateOnly, o.Day); err != nil {
			return refuse("%q is no day.", "Write it as 2026-11-26.", short(o.Day))
		}
	}
	return o.checkMoney()
}

func (o *Order) lines() []named {
	var all []named
	for i := range o.To.Lines {
		all = append(all, named{"address", &o.To.Lines[i]})
	}
	return all
}

func (o Order) checkMoney() error {
	for what, m := range map[string]edition.Money{"price": o.Price, "postage": o.Postage} {
		if m.Currency == "" && m.Minor == 0 {
			continue
		}
		if err := m.Check(); err != nil {
			return err
		}
		if m.Minor < 0 {
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The %s is below nothing.", what), Hint: "A refund is no order: leave it out."}
		}
	}
	return nil
}

func readable(what, text string, most int) error {
	switch {
	case !utf8.ValidString(text), strings.ContainsRune(text, 0):
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The %s holds signs that cannot be read.", what), Hint: "Type it again."}
	case utf8.RuneCountInString(text) > most:
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The %s is longer than %d letters.", what, most), Hint: "Shorten it."}
	}
	return nil
}

// Person is what makes two orders those of one person: the e-mail address when
// there is one, otherwise name, postcode and country, differences of case, accents
// and space not counting. "" for an order without any of it.
func (a Addressee) Person() string {
	if email := strings.ToLower(strings.TrimSpace(a.Email)); email != "" {
		return "at:" + email
	}
	name := folded(a.Name)
	if name == "" {
		name = folded(a.Company)
	}
	if name == "" {
		return ""
	}
	return "of:" + name + "|" + folded(a.Postcode) + "|" + string(a.Country)
}
