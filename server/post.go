package server

import (
	"context"
	"fmt"
	"io"
	"net/http"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/edition/post"
	"pairwall/sequence/pages"
	"pairwall/server/printing"
	"pairwall/server/route"
	"pairwall/store"
)

type postSaid struct {
	Revision int        `json:"revision"` // of the post the maker sees
	Post     store.Post `json:"post"`
}

func (s *Server) showPost(r *http.Request) (store.PostState, error) {
	title, err := s.title(r)
	if err != nil {
		return store.PostState{}, err
	}
	return s.store.Post(r.Context(), title.ID)
}

func (s *Server) savePost(r *http.Request, in postSaid) (store.PostState, error) {
	err := s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error {
		return s.store.SetPost(ctx, title, in.Revision, in.Post)
	})
	if err != nil {
		return store.PostState{}, err
	}
	return s.showPost(r)
}

// readPrices reads a price table for the zones there are.
func (s *Server) readPrices(r *http.Request) (post.Tariff, error) {
	now, err := s.showPost(r)
	if err != nil {
		return post.Tariff{}, err
	}
	_, data, err := s.oneFile(r, orders.MostBytes)
	if err != nil {
		return post.Tariff{}, err
	}
	return post.ReadPrices(data, now.Post.Tariff.Zones)
}

func (s *Server) sendPrices(w http.ResponseWriter, r *http.Request) error {
	title, err := s.title(r)
	if err != nil {
		return err
	}
	now, err := s.store.Post(r.Context(), title.ID)
	if err != nil {
		return err
	}
	return s.sendMade(w, r, "text/csv; charset=utf-8", fileName(title.Name, "prices", "csv"), func(out io.Writer) error { return post.WritePrices(out, now.Post.Tariff) })
}

// outlayShown is the postage of what is still to be sent.
type outlayShown struct {
	post.Outlay
	Lacks []string `json:"lacks"` // what must be entered before parcels can be made, as sentences
}

// counter is everything that parcels are made with.
type counter struct {
	printing.Counter
	title sequence.Title
}

func (s *Server) counter(r *http.Request) (c counter, err error) {
	m, err := s.matter(r)
	if err != nil {
		return c, err
	}
	got, err := printing.GatherCounter(r.Context(), s.store, m)
	return counter{got, m.Title}, err
}

// asks are the orders that the post still has to carry.
func (c counter) asks() []post.Ask {
	asks := []post.Ask{}
	for _, o := range c.List {
		if o.State == orders.Open && !o.To.Nowhere() {
			asks = append(asks, askOf(o))
		}
	}
	return asks
}

func askOf(o orders.Order) post.Ask { return post.Ask{Order: o.ID, Copies: o.Copies, To: o.To.Country} }

func (c counter) lacks() []string {
	lacks := []string{}
	if c.Post.Sender.Country == "" {
		lacks = append(lacks, "Say from which country you post: the sender's.")
	}
	if len(c.Post.Tariff.Prices) == 0 {
		lacks = append(lacks, "Enter what your post asks for: the price table is empty.")
	}
	for _, m := range c.Post.Materials {
		if m.Kind == post.Mailer {
			return lacks
		}
	}
	return append(lacks, "Enter a mailer, with its weight and what it holds.")
}

func (s *Server) showPostage(r *http.Request) (outlayShown, error) {
	c, err := s.counter(r)
	if err != nil {
		return outlayShown{}, err
	}
	out, err := c.Desk.All(c.asks())
	return outlayShown{out, c.lacks()}, err
}

// whatIfAsked is another copy; 0 leaves what there is.
type whatIfAsked struct {
	Pages int     `json:"pages"` // more, or fewer when below 0
	Text  float64 `json:"text"`  // g/m² of the text
	Cover float64 `json:"cover"` // g/m² of the cover
}

// showWhatIf works with what is computed on both sides, moved by what a weighed
// copy is off: a copy that does not exist cannot be weighed.
func (s *Server) showWhatIf(r *http.Request, in whatIfAsked) (post.Difference, error) {
	c, err := s.counter(r)
	if err != nil {
		return post.Difference{}, err
	}
	other := c.Build
	other.Weighed = 0
	other.Pages += in.Pages
	if in.Text > 0 {
		other.Format.Text.Grammage, other.Format.Text.Caliper = in.Text, scaledCaliper(c.Build.Format.Text.Caliper, in.Text, c.Build.Format.Text.Grammage)
	}
	if in.Cover > 0 {
		other.Format.Cover.Grammage, other.Format.Cover.Caliper = in.Cover, scaledCaliper(c.Build.Format.Cover.Caliper, in.Cover, c.Build.Format.Cover.Grammage)
	}
	if err := other.Check(); err != nil {
		return post.Difference{}, err
	}
	after := other.Copy()
	if c.Build.Weighed > 0 {
		off := c.Desk.Copy.Mass - c.Desk.Copy.Computed
		after.Mass, after.Least, after.Most = after.Mass+off, after.Least+off, after.Most+off
	}
	return c.Desk.WhatIf(c.asks(), after)
}

// declarationList is what the customs want to know of an order.
type declarationList struct {
	Declarations []post.Declaration `json:"declarations"` // one for each parcel
	Trouble      string             `json:"trouble"`      // why parcels cannot be made; the declaration is then of all copies together
}

func (s *Server) showDeclarations(r *http.Request) (list declarationList, err error) {
	id, err := route.Number(r, "order")
	if err != nil {
		return list, err
	}
	c, err := s.counter(r)
	if err != nil {
		return list, err
	}
	for _, o := range c.List {
		if o.ID == id {
			return c.declare(o, s)
		}
	}
	return list, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("There is no order %d.", id), Hint: "Reload the page to see what there is."}
}

func (c counter) declare(o orders.Order, s *Server) (list declarationList, err error) {
	shipment := c.Desk.Ship(askOf(o))
	list.Trouble = shipment.Trouble
	parcels := shipment.Parcels
	if len(parcels) == 0 {
		mass := edition.Mass(o.Copies) * c.Desk.Copy.Mass
		parcels = []post.Posted{{Parcel: post.Parcel{Copies: o.Copies, Mass: mass}}}
	}
	value := o.Price
	if value.Minor == 0 && c.State.Edition.Price.Currency != "" { // a gift, or nothing was said
		if value, err = c.State.Edition.Price.Times(int64(o.Copies)); err != nil {
			return list, err
		}
	}
	weights := make([]int64, len(parcels))
	for i, p := range parcels {
		weights[i] = int64(p.Parcel.Copies)
	}
	values, err := value.Allocate(weights...)
	if err != nil {
		return list, err
	}
	for i, p := range parcels {
		list.Declarations = append(list.Declarations, post.Declare(post.Consignment{From: spotOf(c.Post.Sender), To: spotOf(o.To), For: o.For, Copies: p.Parcel.Copies,
			Net: edition.Mass(p.Parcel.Copies) * c.Desk.Copy.Mass, Gross: p.Parcel.Mass, Value: values[i], Goods: c.State.Edition.Goods,
			Origin: orders.Country(c.State.Edition.Origin), Today: s.store.Now()}, c.Post.Rates))
	}
	return list, nil
}

func spotOf(a orders.Addressee) post.Spot { return post.Spot{Country: a.Country, Postcode: a.Postcode} }

// scaledCaliper is the caliper of the same paper in another grammage: its bulk
// stays. 0, not known, stays 0.
func scaledCaliper(caliper pages.Length, to, from float64) pages.Length {
	if from <= 0 {
		return caliper
	}
	return caliper * pages.Length(to/from)
}
