package post

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
)

// SDRRate is what one special drawing right was worth, as the maker read it.
type SDRRate struct {
	Currency edition.Currency `json:"currency"`
	Worth    edition.Decimal  `json:"worth"` // of one SDR, in Currency
	Day      string           `json:"day"`   // yyyy-mm-dd
	Source   string           `json:"source"`
}

// CheckRates refuses rates that cannot be reckoned with.
//
// Error: Invalid.
func CheckRates(list []SDRRate) error {
	seen := map[edition.Currency]bool{}
	for _, r := range list {
		bad := func(message string) error {
			return &sequence.Error{Code: sequence.Invalid, Message: message, Hint: "Say what one SDR is worth, in which currency, and the day."}
		}
		if _, err := edition.ParseCurrency(string(r.Currency)); err != nil {
			return err
		}
		if err := r.Worth.Check(); err != nil || r.Worth.Rat().Sign() <= 0 {
			return bad("One SDR must be worth more than nothing.")
		}
		if _, err := time.Parse(time.DateOnly, r.Day); err != nil {
			return bad("The rate has no day.")
		}
		if seen[r.Currency] || len([]rune(r.Source)) > 500 {
			return bad("There are two rates for one currency.")
		}
		seen[r.Currency] = true
	}
	return nil
}

// Form is a customs form of the Universal Postal Union.
type Form string

// The forms.
const (
	NoForm Form = ""
	CN22   Form = "CN 22"
	CN23   Form = "CN 23"
)

// Category is why goods are sent, as the forms have it.
type Category string

// The categories.
const (
	SaleOfGoods Category = "sale of goods"
	Gift        Category = "gift"
	Documents   Category = "documents"
	OtherGoods  Category = "other"
)

// CategoryOf is that of an order.
func CategoryOf(p edition.Purpose) Category {
	switch p {
	case edition.ForSale, edition.ForShop:
		return SaleOfGoods
	case edition.ForFriend:
		return Gift
	}
	return OtherGoods
}

// Item is one line of a declaration.
type Item struct {
	Words    string         `json:"words"` // "Printed photobook"
	Quantity int            `json:"quantity"`
	Mass     edition.Mass   `json:"mass"`  // net, of all of them
	Value    edition.Money  `json:"value"` // of all of them
	HS       string         `json:"hs"`    // "4901.99"
	Origin   orders.Country `json:"origin"`
}

// Declaration is what a customs form says of a parcel.
type Declaration struct {
	Need     Need          `json:"need"`
	Form     Form          `json:"form"` // "" when none is needed or the value cannot be reckoned
	Category Category      `json:"category"`
	Items    []Item        `json:"items"`
	Mass     edition.Mass  `json:"mass"` // gross, of the parcel
	Value    edition.Money `json:"value"`
	SDR      string        `json:"sdr"`            // the value in SDR, in decimals; "" when it cannot be reckoned
	Rate     *SDRRate      `json:"rate,omitempty"` // that was taken
	Doubts   []string      `json:"doubts"`
	Caution  string        `json:"caution"`
}

// Caution goes along with every declaration.
const Caution = "Your post office decides. Rates, limits and forms are dated and differ by country; many posts want the same data sent ahead on their own site."

// Threshold is the value, in SDR, below which a CN 22 is enough and above which a
// CN 23 is wanted (Universal Postal Union). Sources differ at exactly 300.
const Threshold = 300

// staleRate is after how many days a rate is doubted; no source.
const staleRate = 30

// Consignment is what is declared of one parcel.
type Consignment struct {
	From, To Spot
	For      edition.Purpose
	Copies   int
	Net      edition.Mass  // of the copies
	Gross    edition.Mass  // of the parcel
	Value    edition.Money // of the copies; for a gift what they would cost
	Goods    edition.Goods
	Origin   orders.Country
	Today    time.Time
}

// Declare fills a declaration. Amounts are compared exactly: value over rate, with
// no rounding.
func Declare(c Consignment, rates []SDRRate) Declaration {
	d := Declaration{Need: Declared(c.From, c.To), Category: CategoryOf(c.For), Mass: c.Gross, Value: c.Value, Doubts: []string{}, Caution: Caution}
	words, hs := describe(c.Goods)
	d.Items = []Item{{words, c.Copies, c.Net, c.Value, hs, c.Origin}}
	if d.Need.Doubt != "" {
		d.doubt("%s", d.Need.Doubt)
	}
	if !d.Need.Needed {
		return d
	}
	if c.Origin == "" {
		d.doubt("Say in which country the copies were printed.")
	}
	if c.Value.Minor <= 0 || c.Value.Currency == "" {
		d.doubt("The customs want a value, of a gift as well: enter what was paid, or the price of a copy.")
		return d
	}
	d.reckon(c, rates)
	return d
}

func describe(g edition.Goods) (words, hs string) {
	if g == edition.LoosePictures {
		return "Printed pictures, loose", "4911.91"
	}
	return "Printed photobook", "4901.99"
}

func (d *Declaration) reckon(c Consignment, rates []SDRRate) {
	at := slices.IndexFunc(rates, func(r SDRRate) bool { return r.Currency == c.Value.Currency })
	if at < 0 {
		d.doubt("Enter what one SDR is worth in %s: the form depends on it.", c.Value.Currency)
		return
	}
	rate := rates[at]
	d.Rate = &rate
	value := new(big.Rat).SetFrac(big.NewInt(c.Value.Minor), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(c.Value.Currency.Decimals())), nil))
	value.Quo(value, rate.Worth.Rat())
	d.SDR = decimalsOf(value)
	switch value.Cmp(big.NewRat(Threshold, 1)) {
	case -1:
		d.Form = CN22
	case 0:
		d.Form = CN23
		d.doubt("At exactly %d SDR sources differ: a CN 23 is never too little.", Threshold)
	case 1:
		d.Form = CN23
	}
	if day, err := time.Parse(time.DateOnly, rate.Day); err == nil && c.Today.Sub(day) > staleRate*24*time.Hour {
		d.doubt("The rate is of %s: look it up anew.", rate.Day)
	}
}

// decimalsOf writes two decimals, more only where they would hide on which side of
// the threshold a value lies.
func decimalsOf(value *big.Rat) string {
	for n := 2; n < 8; n++ {
		text := value.FloatString(n)
		if whole, _ := new(big.Rat).SetString(text); value.IsInt() || whole.Cmp(big.NewRat(Threshold, 1)) != 0 {
			return text
		}
	}
	return value.FloatString(8)
}

func (d *Declaration) doubt(words string, args ...any) {
	d.Doubts = append(d.Doubts, strings.TrimSpace(fmt.Sprintf(words, args...)))
}
