package post

import (
	"cmp"
	"fmt"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
)

// Ask is what an order asks of the post: nothing of who it is for.
type Ask struct {
	Order  int64          `json:"order"`
	Copies int            `json:"copies"`
	To     orders.Country `json:"to"`
}

// Posted is one parcel and how it goes.
type Posted struct {
	Parcel Parcel `json:"parcel"`
	Choice Choice `json:"choice"`
}

// Shipment is all parcels of one order.
type Shipment struct {
	Ask     Ask           `json:"ask"`
	Parcels []Posted      `json:"parcels"` // empty when it cannot go
	Total   edition.Money `json:"total"`
	Trouble string        `json:"trouble"` // why it cannot go, one or two sentences; "" when it can
}

// Desk is what parcels are made with.
type Desk struct {
	Rules
	Copy  edition.Copied
	Shelf []Material
}

// mostParcels is how many parcels an order is split into at most; no source.
const mostParcels = 12

// Ship packs an order and finds how it goes for the least: in one parcel, or in
// several of as equal a number of copies as can be where that is cheaper or the
// only way. Of ways that cost the same, the one with fewer parcels.
//
// Complexity: O(parcels × mailers × prices).
func (d Desk) Ship(a Ask) Shipment {
	best := Shipment{Ask: a, Parcels: []Posted{}}
	for n := 1; n <= min(a.Copies, mostParcels); n++ {
		parcels, total, err := d.split(a, n)
		switch {
		case err != nil:
			if len(best.Parcels) == 0 && (best.Trouble == "" || sequence.CodeOf(err) != sequence.TooLarge) {
				best.Trouble = told(err)
			}
		case len(best.Parcels) == 0 || total.Minor < best.Total.Minor:
			best.Parcels, best.Total, best.Trouble = parcels, total, ""
		}
	}
	return best
}

func told(err error) string {
	if coded, ok := err.(*sequence.Error); ok { //nolint:errorlint // ours are never wrapped here
		return coded.Message + " " + coded.Hint
	}
	return err.Error()
}

func (d Desk) split(a Ask, n int) ([]Posted, edition.Money, error) {
	var total edition.Money
	parcels := make([]Posted, 0, n)
	for i := range n {
		copies := a.Copies / n
		if i < a.Copies%n {
			copies++
		}
		p, err := Pack(copies, d.Copy, d.Shelf)
		if err != nil {
			return nil, total, err
		}
		c, err := d.Choose(p, a.To)
		if err != nil {
			return nil, total, err
		}
		if i == 0 {
			total = c.Price.Zero()
		}
		if total, err = total.Add(c.Price); err != nil {
			return nil, total, err
		}
		parcels = append(parcels, Posted{p, c})
	}
	return parcels, total, nil
}

// Outlay is the postage of a whole edition.
type Outlay struct {
	Shipments []Shipment    `json:"shipments"`
	Parcels   int           `json:"parcels"`
	Total     edition.Money `json:"total"`   // of those that can go
	Trouble   int           `json:"trouble"` // how many cannot
	Zones     []ZoneOutlay  `json:"zones"`
}

// ZoneOutlay is what goes to one zone.
type ZoneOutlay struct {
	Zone    string        `json:"zone"`
	Parcels int           `json:"parcels"`
	Total   edition.Money `json:"total"`
}

// All ships every order.
//
// Error: TooLarge for a sum that cannot be kept exactly.
func (d Desk) All(asks []Ask) (Outlay, error) {
	out := Outlay{Shipments: make([]Shipment, 0, len(asks)), Zones: []ZoneOutlay{}}
	if len(d.Tariff.Prices) > 0 {
		out.Total.Currency = d.Tariff.Prices[0].Price.Currency
	}
	known := map[Ask]Shipment{} // orders of as many copies to one country go alike
	for _, a := range asks {
		like := Ask{Copies: a.Copies, To: a.To}
		s, ok := known[like]
		if !ok {
			s = d.Ship(a)
			known[like] = s
		}
		s.Ask = a
		if err := out.add(s); err != nil {
			return out, err
		}
	}
	slices.SortFunc(out.Zones, func(a, b ZoneOutlay) int { return cmp.Compare(a.Zone, b.Zone) })
	return out, nil
}

func (o *Outlay) add(s Shipment) (err error) {
	o.Shipments = append(o.Shipments, s)
	if len(s.Parcels) == 0 {
		o.Trouble++
		return nil
	}
	o.Parcels += len(s.Parcels)
	if o.Total, err = o.Total.Add(s.Total); err != nil {
		return err
	}
	zone := s.Parcels[0].Choice.Zone
	at := slices.IndexFunc(o.Zones, func(z ZoneOutlay) bool { return z.Zone == zone })
	if at < 0 {
		o.Zones, at = append(o.Zones, ZoneOutlay{Zone: zone, Total: s.Total.Zero()}), len(o.Zones)
	}
	z := &o.Zones[at]
	z.Parcels += len(s.Parcels)
	z.Total, err = z.Total.Add(s.Total)
	return err
}

// Effect is what another copy does to the postage of orders alike.
type Effect struct {
	Zone   string        `json:"zone"`
	Copies int           `json:"copies"` // of each order
	Orders int           `json:"orders"`
	Before edition.Money `json:"before"` // of each
	After  edition.Money `json:"after"`
	Words  string        `json:"words"` // "over the 250 g step: +2.40 each to Europe"
}

// Difference is what a copy of another weight or thickness would cost to send.
type Difference struct {
	Before  edition.Copied `json:"before"`
	After   edition.Copied `json:"after"`
	Effects []Effect       `json:"effects"` // the dearest first; those that change nothing are left out
	Total   edition.Money  `json:"total"`   // more, or less when below nothing
	Stuck   int            `json:"stuck"`   // orders that could not go any more
	Words   string         `json:"words"`   // one sentence
}

// WhatIf tells what it would do to the postage if a copy were another.
//
// Error: TooLarge for a sum that cannot be kept exactly.
func (d Desk) WhatIf(asks []Ask, after edition.Copied) (Difference, error) {
	other := d
	other.Copy = after
	now, err := d.All(asks)
	if err != nil {
		return Difference{}, err
	}
	then, err := other.All(asks)
	if err != nil {
		return Difference{}, err
	}
	diff := Difference{Before: d.Copy, After: after, Effects: []Effect{}, Total: now.Total.Zero()}
	for i, before := range now.Shipments {
		if err := diff.add(before, then.Shipments[i]); err != nil {
			return Difference{}, err
		}
	}
	slices.SortStableFunc(diff.Effects, func(a, b Effect) int {
		return cmp.Compare(int64(b.Orders)*(b.After.Minor-b.Before.Minor), int64(a.Orders)*(a.After.Minor-a.Before.Minor))
	})
	diff.Words = diff.sentence()
	return diff, nil
}

func (d *Difference) add(before, after Shipment) (err error) {
	switch {
	case len(before.Parcels) == 0:
		return nil
	case len(after.Parcels) == 0:
		d.Stuck++
		return nil
	}
	more, err := after.Total.Sub(before.Total)
	if err != nil {
		return err
	}
	if d.Total, err = d.Total.Add(more); err != nil || more.Minor == 0 {
		return err
	}
	zone := before.Parcels[0].Choice.Zone
	for i := range d.Effects {
		e := &d.Effects[i]
		if e.Zone == zone && e.Copies == before.Ask.Copies && e.Before == before.Total && e.After == after.Total {
			e.Orders++
			return nil
		}
	}
	d.Effects = append(d.Effects, Effect{zone, before.Ask.Copies, 1, before.Total, after.Total, crossing(before, after, more, zone)})
	return nil
}

// crossing says which step is crossed, or what else changes.
func crossing(before, after Shipment, more edition.Money, zone string) string {
	each := fmt.Sprintf("%s each to %s", signed(more), zone)
	b, a := before.Parcels[0].Choice, after.Parcels[0].Choice
	switch {
	case len(before.Parcels) != len(after.Parcels):
		return fmt.Sprintf("in %d parcels instead of %d: %s", len(after.Parcels), len(before.Parcels), each)
	case b.Service != a.Service:
		return fmt.Sprintf("as %s instead of %s: %s", a.Service, b.Service, each)
	case a.UpTo > b.UpTo:
		return fmt.Sprintf("over the %s step: %s", b.UpTo, each)
	case a.UpTo < b.UpTo:
		return fmt.Sprintf("under the %s step: %s", a.UpTo, each)
	}
	return each
}

func signed(m edition.Money) string {
	if m.Minor > 0 {
		return "+" + m.Number()
	}
	return "−" + m.Neg().Number()
}

func (d Difference) sentence() string {
	weight := fmt.Sprintf("A copy would weigh %s instead of %s. ", d.After.Mass, d.Before.Mass)
	stuck := ""
	if d.Stuck > 0 {
		stuck = fmt.Sprintf(" %d orders could not go any more.", d.Stuck)
	}
	switch {
	case d.Total.Minor == 0 && len(d.Effects) == 0:
		return weight + "The postage stays what it is." + stuck
	case d.Total.Minor < 0:
		return weight + fmt.Sprintf("The postage of all orders falls by %s.", d.Total.Neg()) + stuck
	}
	return weight + fmt.Sprintf("The postage of all orders rises by %s.", d.Total) + stuck
}
