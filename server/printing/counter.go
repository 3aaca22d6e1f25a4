package printing

import (
	"context"
	"fmt"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/dispatch"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/edition/post"
	"pairwall/store"
)

// Counter is everything that parcels are made with.
type Counter struct {
	Desk   post.Desk
	Build  edition.Build
	State  store.EditionState
	Post   store.Post
	List   []orders.Order
	Packed []dispatch.Packed
}

// GatherCounter reads what parcels of a title are made with.
//
// Error: NotFound.
func GatherCounter(ctx context.Context, from *store.Store, m Matter) (c Counter, err error) {
	if c.State, err = from.Edition(ctx, m.Title.ID); err != nil {
		return c, err
	}
	now, err := from.Post(ctx, m.Title.ID)
	if err != nil {
		return c, err
	}
	if c.List, err = from.Orders(ctx, m.Title.ID); err != nil {
		return c, err
	}
	c.Post, c.Build = now.Post, c.State.Edition.Build(m.Format, m.Facts().Pages)
	c.Desk = post.Desk{Rules: post.Rules{From: c.Post.Sender.Country, Tariff: c.Post.Tariff, Limits: c.Post.Limits, Tracked: c.Post.Tracked}, Copy: c.Build.Copy(), Shelf: c.Post.Materials}
	c.Packed, err = from.Parcels(ctx, m.Title.ID)
	return c, err
}

// Room is what the packing table is laid with.
func (c Counter) Room() dispatch.Room {
	return dispatch.Room{Edition: c.State.Edition, Desk: c.Desk, From: c.Post.Sender.Country}
}

// Table lays the packing table.
func (c Counter) Table() dispatch.Table { return c.Room().Lay(c.List, c.Packed) }

// Only are the parcels of the orders named, as if none of them was packed yet;
// cancelled ones are left out.
//
// Error: NotFound for an order there is not.
func (c Counter) Only(ids []int64) ([]dispatch.ToPack, error) {
	known := map[int64]orders.Order{}
	for _, o := range c.List {
		known[o.ID] = o
	}
	var some []orders.Order
	for _, id := range ids {
		o, ok := known[id]
		if !ok {
			return nil, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("There is no order %d.", id), Hint: "Reload the page to see what there is."}
		}
		if o.State != orders.Cancelled {
			o.State = orders.Open
			some = append(some, o)
		}
	}
	return c.Room().Lay(some, nil).Waiting, nil
}
