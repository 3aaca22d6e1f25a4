package dispatch

import (
	"cmp"
	"fmt"
	"slices"

	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/edition/post"
)

// ToPack is one that is still to be packed.
type ToPack struct {
	Order   int64             `json:"order"`
	Number  string            `json:"number"` // the order's
	Channel string            `json:"channel"`
	For     edition.Purpose   `json:"for"`
	Part    int               `json:"part"` // of Parts, from 1
	Parts   int               `json:"parts"`
	Copies  []edition.CopyRef `json:"copies"`
	Marks   []string          `json:"marks"` // what is written in them
	Name    string            `json:"name"`
	To      orders.Country    `json:"to"`
	Label   []string          `json:"label"` // the address; empty when it changes hands in person
	Wish    string            `json:"wish"`
	Note    string            `json:"note"`
	Posted  *post.Posted      `json:"posted,omitempty"` // how it is packed and goes; absent when that cannot be told
	Trouble string            `json:"trouble"`          // why it cannot be told
}

// InPerson reports whether the parcel is handed over and not posted.
func (p ToPack) InPerson() bool { return len(p.Label) == 0 }

// HeldUp is an order that cannot be packed now.
type HeldUp struct {
	Order  int64  `json:"order"`
	Number string `json:"number"`
	Name   string `json:"name"`
	Why    string `json:"why"` // one or more sentences
}

// Done is a parcel that was packed, with what it is known by.
type Done struct {
	Packed
	Number string   `json:"number"` // the order's
	Name   string   `json:"name"`
	Marks  []string `json:"marks"`
}

// Table is the packing table as it lies now.
type Table struct {
	Waiting []ToPack `json:"waiting"` // in shelf order
	Held    []HeldUp `json:"held"`
	Done    []Done   `json:"done"` // the last first
}

// Room is what the table is laid with.
type Room struct {
	Edition edition.Edition
	Desk    post.Desk
	From    orders.Country // of posting
}

// Lay lays the table: of each order that is open the copies that no parcel has
// yet, in as many parcels as they take.
//
// Complexity: that of post.Desk.Ship for each order.
func (r Room) Lay(list []orders.Order, packed []Packed) Table {
	t := Table{Waiting: []ToPack{}, Held: []HeldUp{}, Done: []Done{}}
	in := map[int64]map[edition.CopyRef]bool{}
	for _, p := range packed {
		if in[p.Order] == nil {
			in[p.Order] = map[edition.CopyRef]bool{}
		}
		for _, c := range p.Copies {
			in[p.Order][c] = true
		}
	}
	known := map[int64]orders.Order{}
	for _, o := range list {
		known[o.ID] = o
		if o.State != orders.Open {
			continue
		}
		if why := held(o, r.From); why != "" {
			t.Held = append(t.Held, HeldUp{o.ID, o.Number, nameOf(o.To), why})
			continue
		}
		left := slices.DeleteFunc(slices.Clone(o.Allotted), func(c edition.CopyRef) bool { return in[o.ID][c] })
		t.Waiting = append(t.Waiting, r.parcels(o, left)...)
	}
	slices.SortStableFunc(t.Waiting, func(a, b ToPack) int {
		return cmp.Or(Shelf(a.Copies[0], b.Copies[0]), cmp.Compare(a.Order, b.Order), a.Part-b.Part)
	})
	for _, p := range slices.Backward(packed) {
		o := known[p.Order]
		t.Done = append(t.Done, Done{p, o.Number, nameOf(o.To), r.marks(p.Copies)})
	}
	return t
}

func nameOf(a orders.Addressee) string { return cmp.Or(a.Name, a.Company) }

// held says why an order cannot be packed; "" when it can.
func held(o orders.Order, from orders.Country) string {
	if n := o.Waits(); n > 0 {
		words := fmt.Sprintf("It waits for %d copies. ", n)
		if n == 1 {
			words = "It waits for a copy. "
		}
		return words + "Print more, take one from a shop, or change the order."
	}
	if o.Erased {
		return "Its person was erased: nobody knows where it goes. Cancel the order, and its copies are free again."
	}
	why := ""
	for _, doubt := range o.To.Doubts(from) {
		if doubt.Stops {
			why += doubt.Words + " "
		}
	}
	if why != "" {
		why += "Put the address right among the orders."
	}
	return why
}

// parcels divides the copies of an order that are left.
func (r Room) parcels(o orders.Order, left []edition.CopyRef) []ToPack {
	if len(left) == 0 {
		return nil
	}
	left = slices.SortedFunc(slices.Values(left), Shelf)
	whole := ToPack{Order: o.ID, Number: o.Number, Channel: o.Channel, For: o.For, Part: 1, Parts: 1, Copies: left, Marks: r.marks(left),
		Name: nameOf(o.To), To: o.To.Country, Label: []string{}, Wish: o.Wish, Note: o.Note}
	if o.To.Nowhere() {
		return []ToPack{whole}
	}
	whole.Label = o.To.Label(r.From)
	shipment := r.Desk.Ship(post.Ask{Order: o.ID, Copies: len(left), To: o.To.Country})
	if len(shipment.Parcels) == 0 {
		whole.Trouble = shipment.Trouble
		return []ToPack{whole}
	}
	var all []ToPack
	for i, posted := range shipment.Parcels {
		one := whole
		one.Part, one.Parts, one.Posted = i+1, len(shipment.Parcels), &posted
		one.Copies = left[:posted.Parcel.Copies]
		one.Marks = r.marks(one.Copies)
		left = left[posted.Parcel.Copies:]
		all = append(all, one)
	}
	return all
}

func (r Room) marks(copies []edition.CopyRef) []string {
	marks := make([]string, len(copies))
	for i, c := range copies {
		marks[i] = r.Edition.Mark(c)
	}
	return marks
}

// Weighed is what a scale's figure means for a parcel.
type Weighed struct {
	Mass   edition.Mass `json:"mass"`
	Choice *post.Choice `json:"choice,omitempty"` // by what it weighs; absent when nothing carries it, or it is handed over
	Words  string       `json:"words"`            // what to do, one sentence; "" when all is as it should be
}

// Allowance is how far a parcel may weigh from what was reckoned before it looks
// as if something else were in it: tape and a label, or three in a hundred of it
// (no source).
const (
	allowance      = 8 * edition.Gram
	allowancePart  = 3 // per cent
	nearlyOneWhole = 6 // tenths of a copy
)

// Weigh compares a parcel's weight with what was reckoned and finds how it goes by
// what it really weighs.
func (r Room) Weigh(p ToPack, mass edition.Mass) Weighed {
	w := Weighed{Mass: mass}
	if p.Posted == nil {
		return w
	}
	parcel := p.Posted.Parcel
	free := max(allowance, parcel.Mass*allowancePart/100)
	one := r.Desk.Copy.Mass
	switch {
	case mass > parcel.Most+free && (mass-parcel.Mass)*10 > one*nearlyOneWhole:
		w.Words = fmt.Sprintf("It should weigh about %s: is there a copy too many in it?", parcel.Mass)
	case mass < parcel.Least-free && (parcel.Mass-mass)*10 > one*nearlyOneWhole:
		w.Words = fmt.Sprintf("It should weigh about %s: is a copy missing?", parcel.Mass)
	case mass > parcel.Most+free || mass < parcel.Least-free:
		w.Words = fmt.Sprintf("It should weigh about %s. Look what is in it; the scale counts.", parcel.Mass)
	}
	parcel.Mass, parcel.Least, parcel.Most = mass, mass, mass
	choice, err := r.Desk.Choose(parcel, p.To)
	if err != nil {
		w.Words = err.Error()
		return w
	}
	w.Choice = &choice
	if was := p.Posted.Choice; was.Service != choice.Service || was.Price != choice.Price {
		w.Words = sentences(w.Words, fmt.Sprintf("With %s it goes by %s for %s, not by %s for %s.", mass, choice.Service, choice.Price, was.Service, was.Price))
	}
	return w
}

func sentences(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}
