package post

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/pages"
)

// Zone is a group of countries with one price.
type Zone struct {
	Name      string           `json:"name"`
	Countries []orders.Country `json:"countries"`
	Rest      bool             `json:"rest"` // all that no other zone has
}

// Price is one step of one service: what an item up to a weight costs to a zone.
type Price struct {
	Service  string        `json:"service"` // as the maker calls it
	Class    Class         `json:"class"`
	Tracked  bool          `json:"tracked"`
	Zone     string        `json:"zone"`
	UpTo     edition.Mass  `json:"upTo"`
	Price    edition.Money `json:"price"`
	Longest  pages.Length  `json:"longest"` // the service's own limits; 0 for none
	Thickest pages.Length  `json:"thickest"`
}

// Tariff is the maker's own price table.
type Tariff struct {
	Zones  []Zone  `json:"zones"`
	Prices []Price `json:"prices"`
	Source string  `json:"source"` // where they were read
	Day    string  `json:"day"`    // when, yyyy-mm-dd
}

const (
	mostPrices = 2000 // no source
	mostZones  = 100
)

// Check refuses a tariff that nothing can be chosen from.
//
// Error: Invalid.
func (t Tariff) Check() error {
	refuse := func(message string, args ...any) error {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf(message, args...), Hint: "Look at the price table again."}
	}
	zones, of := map[string]bool{}, map[orders.Country]string{}
	rest := 0
	for _, z := range t.Zones {
		if strings.TrimSpace(z.Name) == "" || zones[z.Name] || len([]rune(z.Name)) > 100 {
			return refuse("Each zone needs a name of its own.")
		}
		zones[z.Name] = true
		if z.Rest {
			rest++
		}
		for _, c := range z.Countries {
			if !c.Known() {
				return refuse("“%s” is no country.", c)
			}
			if other := of[c]; other != "" {
				return refuse("%s is in two zones, %s and %s.", c.Name(), other, z.Name)
			}
			of[c] = z.Name
		}
	}
	if rest > 1 || len(t.Prices) > mostPrices || len(t.Zones) > mostZones {
		return refuse("There are too many prices or zones, or two zones for all the rest.")
	}
	in := edition.Currency("")
	seen := map[string]bool{}
	for _, p := range t.Prices {
		if err := p.check(zones); err != nil {
			return err
		}
		if in == "" {
			in = p.Price.Currency
		}
		key := fmt.Sprint(p.Service, "|", p.Zone, "|", p.UpTo, "|", p.Tracked)
		if p.Price.Currency != in || seen[key] {
			return refuse("“%s” to %s up to %s is there twice, or in another currency.", p.Service, p.Zone, p.UpTo)
		}
		seen[key] = true
	}
	return nil
}

func (p Price) check(zones map[string]bool) error {
	ok := strings.TrimSpace(p.Service) != "" && len([]rune(p.Service)) <= 100 && slices.Contains(Classes(), p.Class) && zones[p.Zone] &&
		p.UpTo > 0 && p.UpTo <= 100*edition.Kilogram && p.Price.Minor >= 0 && p.Longest >= 0 && p.Longest <= 5000 && p.Thickest >= 0 && p.Thickest <= 5000
	if !ok {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The price of “%s” to “%s” up to %s makes no sense.", p.Service, p.Zone, p.UpTo),
			Hint: "It needs a service, a class, a zone of the list, a weight and a price."}
	}
	return p.Price.Check()
}

// ZoneOf finds the zone of a country: one that names it, otherwise that of the
// rest.
func (t Tariff) ZoneOf(c orders.Country) (Zone, bool) {
	for _, z := range t.Zones {
		if slices.Contains(z.Countries, c) {
			return z, true
		}
	}
	for _, z := range t.Zones {
		if z.Rest {
			return z, true
		}
	}
	return Zone{}, false
}

// Choice is how a parcel goes.
type Choice struct {
	Service string        `json:"service"`
	Class   Class         `json:"class"`
	Tracked bool          `json:"tracked"`
	Zone    string        `json:"zone"`
	UpTo    edition.Mass  `json:"upTo"` // the step
	Price   edition.Money `json:"price"`
	Why     string        `json:"why"`     // one sentence
	Doubt   string        `json:"doubt"`   // "" for none
	Refused []Refused     `json:"refused"` // what would cost less or the same and may not carry it
}

// Refused is a service that may not carry a parcel.
type Refused struct {
	Service string `json:"service"`
	Why     string `json:"why"`
}

// Rules are what a choice is made by.
type Rules struct {
	From    orders.Country // of posting
	Tariff  Tariff
	Limits  []Limit
	Tracked bool // only services that are tracked
}

// Choose finds the cheapest service that may carry the parcel. Of those that cost
// the same a tracked one is taken, then the one listed first.
//
// Error: NotFound when nothing carries it, with what stands in the way.
// Complexity: O(prices).
func (r Rules) Choose(p Parcel, to orders.Country) (Choice, error) {
	zone, ok := r.Tariff.ZoneOf(to)
	if !ok {
		return Choice{}, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("No zone of the price table has %s.", nameOf(to)),
			Hint: "Add the country to a zone, or make one zone that of all the rest."}
	}
	steps := r.steps(zone.Name, p.Mass)
	var refused []Refused
	for _, s := range steps {
		if why := r.forbids(s, p, to); why != "" {
			refused = append(refused, Refused{s.Service, why})
			continue
		}
		return r.chosen(s, p, zone, refused), nil
	}
	why := "None takes " + p.Mass.String() + "."
	if len(refused) > 0 {
		why = sentences(refused)
	}
	return Choice{Refused: refused}, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("No service of the price table may carry this parcel to %s.", nameOf(to)), Hint: why}
}

func nameOf(c orders.Country) string {
	if c == "" {
		return "an unknown country"
	}
	return c.Name()
}

func sentences(refused []Refused) string {
	words := make([]string, len(refused))
	for i, one := range refused {
		words[i] = one.Service + ": " + one.Why
	}
	return strings.Join(words, "; ") + "."
}

// steps are the first step of each service that takes the weight, the cheapest
// first.
func (r Rules) steps(zone string, mass edition.Mass) []Price {
	first := map[string]int{}
	var list []Price
	for _, p := range r.Tariff.Prices {
		if p.Zone != zone || p.UpTo < mass {
			continue
		}
		key := fmt.Sprint(p.Service, "|", p.Tracked)
		at, seen := first[key]
		switch {
		case !seen:
			first[key] = len(list)
			list = append(list, p)
		case p.UpTo < list[at].UpTo:
			list[at] = p
		}
	}
	slices.SortStableFunc(list, func(a, b Price) int {
		if c := cmp.Compare(a.Price.Minor, b.Price.Minor); c != 0 {
			return c
		}
		if a.Tracked != b.Tracked {
			if a.Tracked {
				return -1
			}
			return 1
		}
		return 0
	})
	return list
}

func (r Rules) forbids(s Price, p Parcel, to orders.Country) string {
	own := Limit{Longest: s.Longest, Thickest: s.Thickest}
	switch {
	case r.Tracked && !s.Tracked:
		return "is not tracked"
	case own.breaks(p) != "":
		return own.breaks(p)
	}
	return refuses(p, s.Class, r.Limits, r.From, to == r.From)
}

func (r Rules) chosen(s Price, p Parcel, zone Zone, refused []Refused) Choice {
	c := Choice{Service: s.Service, Class: s.Class, Tracked: s.Tracked, Zone: zone.Name, UpTo: s.UpTo, Price: s.Price, Refused: refused}
	if refused == nil {
		c.Refused = []Refused{}
	}
	c.Why = fmt.Sprintf("%s goes up to %s as %s to %s for %s, the least of what may carry it.", p.Mass, s.UpTo, s.Service, zone.Name, s.Price)
	switch {
	case p.Most > s.UpTo:
		c.Doubt = fmt.Sprintf("If the paper is as heavy as mills may deliver it, the parcel has %s and is over the step of %s: weigh one.", p.Most, s.UpTo)
	case s.UpTo-p.Mass < s.UpTo/50: // two hundredths of the step: tape and ink weigh too
		c.Doubt = fmt.Sprintf("Only %s are left to the step of %s: weigh one, tape included.", s.UpTo-p.Mass, s.UpTo)
	}
	return c
}
