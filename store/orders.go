package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/mattn/go-sqlite3"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
)

// personal is what the column of that name holds.
type personal struct {
	To   orders.Addressee `json:"to"`
	Wish string           `json:"wish"`
	Note string           `json:"note"`
}

// erasedPersonal is what is left of it.
const erasedPersonal = `{}`

const orderColumns = `SELECT id, revision, number, channel, day, purpose, copies, price, price_currency, postage, postage_currency,
	country, state, coalesce(list_id, 0), erased, personal FROM orders `

func readOrder(row scanner) (orders.Order, error) {
	var o orders.Order
	var p personal
	var country orders.Country
	err := row.Scan(&o.ID, &o.Revision, &o.Number, &o.Channel, &o.Day, &o.For, &o.Copies, &o.Price.Minor, &o.Price.Currency, &o.Postage.Minor, &o.Postage.Currency,
		&country, &o.State, &o.List, &o.Erased, asJSON{&p})
	o.To, o.Wish, o.Note, o.Allotted = p.To, p.Wish, p.Note, []edition.CopyRef{}
	o.To.Country = country
	if o.To.Lines == nil {
		o.To.Lines = []string{}
	}
	return o, err
}

// Orders lists a title's orders in the order in which they were entered.
//
// Error: NotFound when there is no such title.
func (s *Store) Orders(ctx context.Context, title sequence.TitleID) ([]orders.Order, error) {
	all, err := listOf(ctx, s, title, readOrder, orderColumns+`WHERE title_id = ? ORDER BY id`)
	if err != nil {
		return nil, err
	}
	type pair struct {
		order int64
		ref   edition.CopyRef
	}
	allotted, err := list(ctx, s, func(row scanner) (p pair, err error) {
		return p, row.Scan(&p.order, &p.ref.Series, &p.ref.Number)
	}, allottedQuery+`WHERE title_id = ? AND order_id IS NOT NULL ORDER BY series, number`, title)
	at := make(map[int64]int, len(all))
	for i, o := range all {
		at[o.ID] = i
	}
	for _, p := range allotted {
		if i, ok := at[p.order]; ok {
			all[i].Allotted = append(all[i].Allotted, p.ref)
		}
	}
	return all, err
}

const allottedQuery = `SELECT order_id, series, number FROM copies `

// Order gives one order.
//
// Error: NotFound.
func (s *Store) Order(ctx context.Context, title sequence.TitleID, id int64) (orders.Order, error) {
	o, err := oneOrder(ctx, s.db, title, id)
	return o, s.coded(ctx, err)
}

func oneOrder(ctx context.Context, q querier, title sequence.TitleID, id int64) (orders.Order, error) {
	o, err := readOrder(q.QueryRowContext(ctx, orderColumns+`WHERE title_id = ? AND id = ?`, title, id))
	if errors.Is(err, sql.ErrNoRows) {
		return o, missing("order", id)
	}
	if err != nil {
		return o, err
	}
	rows, err := q.QueryContext(ctx, allottedQuery+`WHERE order_id = ? ORDER BY series, number`, id)
	if err != nil {
		return o, err
	}
	defer rows.Close()
	for rows.Next() {
		var ref edition.CopyRef
		var order int64
		if err := rows.Scan(&order, &ref.Series, &ref.Number); err != nil {
			return o, err
		}
		o.Allotted = append(o.Allotted, ref)
	}
	return o, rows.Err()
}

// EnterOrder keeps an order that was typed and gives it copies: those wanted, or
// the first free ones for nil. An order without a number gets the next of its
// channel. While there is no edition yet the order waits for it.
//
// Errors: Invalid; Conflict when its channel has that number already, a copy
// wanted is gone, or fewer are left than it asks for, unless it may wait;
// NotFound when there is no such title.
func (s *Store) EnterOrder(ctx context.Context, title sequence.TitleID, o orders.Order, wanted []edition.CopyRef, mayWait bool) (orders.Order, error) {
	o = o.Tidy()
	err := s.write(ctx, func(tx *sql.Tx) (err error) {
		if o.Number == "" {
			if o.Number, err = freeNumber(ctx, tx, title, o.Channel); err != nil {
				return err
			}
		}
		if err := o.Check(); err != nil {
			return err
		}
		if o.ID, err = s.insertOrder(ctx, tx, title, o); err != nil {
			return err
		}
		if o.ID == 0 {
			return numberTaken(o)
		}
		if o.State != orders.Cancelled {
			if err := s.allotNew(ctx, tx, title, o, wanted, mayWait); err != nil {
				return err
			}
		}
		o, err = oneOrder(ctx, tx, title, o.ID)
		return err
	})
	return o, err
}

func (s *Store) allotNew(ctx context.Context, tx *sql.Tx, title sequence.TitleID, o orders.Order, wanted []edition.CopyRef, mayWait bool) error {
	lacking, err := allot(ctx, tx, title, need{o.ID, o.For, o.Channel, o.Copies - len(o.Allotted)}, wanted)
	if err != nil || lacking == 0 || mayWait {
		return err
	}
	if wanted != nil {
		if lacking, err = allot(ctx, tx, title, need{o.ID, o.For, o.Channel, lacking}, nil); err != nil || lacking == 0 {
			return err
		}
	}
	var printed int
	if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM copies WHERE title_id = ?`, title).Scan(&printed); err != nil || printed == 0 {
		return err
	}
	return tooFew(o.Copies-len(o.Allotted)-lacking, o.Copies)
}

func tooFew(left, asked int) error {
	words := fmt.Sprintf("Only %d copies are left, and this order asks for %d.", left, asked)
	switch left {
	case 0:
		words = "No copy is left."
	case 1:
		words = fmt.Sprintf("Only 1 copy is left, and this order asks for %d.", asked)
	}
	return &sequence.Error{Code: sequence.Conflict, Message: words, Hint: "It may just have been sold in another window. Enter the order as one that waits, or for fewer copies."}
}

func numberTaken(o orders.Order) error {
	where := ""
	if o.Channel != "" {
		where = " from " + o.Channel
	}
	return &sequence.Error{Code: sequence.Conflict, Message: fmt.Sprintf("There is an order %s%s already.", o.Number, where), Hint: "Look for it in the list, or give this one another number."}
}

// freeNumber is the first number of a channel that no order has, above all that
// are numbers.
func freeNumber(ctx context.Context, tx *sql.Tx, title sequence.TitleID, channel string) (string, error) {
	var most int64
	err := tx.QueryRowContext(ctx, `SELECT coalesce(max(CAST(number AS INTEGER)), 0) FROM orders
		WHERE title_id = ? AND channel = ? AND number NOT GLOB '*[^0-9]*' AND length(number) < 16`, title, channel).Scan(&most)
	return strconv.FormatInt(most+1, 10), err
}

// insertOrder returns 0 when the channel has that number already.
func (s *Store) insertOrder(ctx context.Context, tx *sql.Tx, title sequence.TitleID, o orders.Order) (int64, error) {
	var list any
	if o.List != 0 {
		list = o.List
	}
	var id int64
	err := tx.QueryRowContext(ctx, `INSERT INTO orders (title_id, revision, number, channel, day, purpose, copies, price, price_currency, postage, postage_currency,
			country, state, list_id, entered, personal) VALUES (?, 1, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (title_id, channel, number) DO NOTHING RETURNING id`,
		title, o.Number, o.Channel, o.Day, o.For, o.Copies, o.Price.Minor, o.Price.Currency, o.Postage.Minor, o.Postage.Currency,
		o.To.Country, o.State, list, written(s.now()), asJSON{personal{o.To, o.Wish, o.Note}}).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return id, orphan(err, title)
}

// ChangeOrder keeps what the maker changed of an order. Copies follow: more are
// given when it asks for more, those behind are taken back when for fewer, all
// when it is cancelled. wanted, unless nil, are exactly those it shall have.
//
// Errors: Stale when it was changed on another revision; otherwise as
// EnterOrder; Conflict also for an order whose person was erased.
func (s *Store) ChangeOrder(ctx context.Context, title sequence.TitleID, o orders.Order, wanted []edition.CopyRef, mayWait bool) (orders.Order, error) {
	o = o.Tidy()
	if err := o.Check(); err != nil {
		return o, err
	}
	err := s.write(ctx, func(tx *sql.Tx) error {
		was, err := oneOrder(ctx, tx, title, o.ID)
		if err != nil {
			return err
		}
		switch {
		case was.Revision != o.Revision:
			return &sequence.Error{Code: sequence.Stale, Message: fmt.Sprintf("Order %s was changed in another window in the meantime.", was.Number), Hint: "Look at it as it is now, then change it again."}
		case was.Erased && (o.To.Person() != "" || !o.To.Nowhere() || o.Wish != "" || o.Note != ""):
			return &sequence.Error{Code: sequence.Conflict, Message: "The person of this order was erased.", Hint: "Enter another order."}
		}
		if err := updateOrder(ctx, tx, o, was); err != nil {
			return err
		}
		if err := s.reallot(ctx, tx, title, was, o, wanted, mayWait); err != nil {
			return err
		}
		o, err = oneOrder(ctx, tx, title, o.ID)
		return err
	})
	return o, err
}

func updateOrder(ctx context.Context, tx *sql.Tx, o, was orders.Order) error {
	kept := any(asJSON{personal{o.To, o.Wish, o.Note}})
	if was.Erased {
		kept = erasedPersonal
	}
	_, err := tx.ExecContext(ctx, `UPDATE orders SET revision = revision + 1, number = ?, channel = ?, day = ?, purpose = ?, copies = ?, price = ?, price_currency = ?,
			postage = ?, postage_currency = ?, country = ?, state = ?, personal = ? WHERE id = ?`,
		o.Number, o.Channel, o.Day, o.For, o.Copies, o.Price.Minor, o.Price.Currency, o.Postage.Minor, o.Postage.Currency, o.To.Country, o.State, kept, o.ID)
	if broke(err, sqlite3.ErrConstraintUnique) {
		return numberTaken(o)
	}
	return err
}

// reallot lets copies follow what was changed.
func (s *Store) reallot(ctx context.Context, tx *sql.Tx, title sequence.TitleID, was, o orders.Order, wanted []edition.CopyRef, mayWait bool) error {
	keep := slices.Clone(was.Allotted)
	switch {
	case o.State == orders.Cancelled:
		keep = nil
	case wanted != nil:
		keep = slices.DeleteFunc(keep, func(ref edition.CopyRef) bool { return !slices.Contains(wanted, ref) })
	}
	keep = keep[:min(len(keep), o.Copies)]
	back := slices.DeleteFunc(slices.Clone(was.Allotted), func(ref edition.CopyRef) bool { return slices.Contains(keep, ref) })
	if was.For != o.For || (o.For == edition.ForShop && was.Channel != o.Channel) { // they go somewhere else
		back, wanted = was.Allotted, append(slices.Clone(keep), wanted...)
		keep = nil
	}
	if err := release(ctx, tx, title, back); err != nil {
		return err
	}
	if o.State != orders.Cancelled && len(keep) < o.Copies {
		o.Allotted = keep
		more := slices.DeleteFunc(slices.Clone(wanted), func(ref edition.CopyRef) bool { return slices.Contains(keep, ref) })
		if wanted != nil && more == nil {
			more = []edition.CopyRef{}
		}
		// An order that waited already, and asks for no more, goes on waiting.
		mayWait = mayWait || (was.State != orders.Cancelled && o.Copies <= was.Copies)
		if err := s.allotNew(ctx, tx, title, o, more, mayWait); err != nil {
			return err
		}
	}
	if len(back) == 0 {
		return nil
	}
	return allotWaiting(ctx, tx, title) // what came back may be waited for
}

// OrderList is one table of orders that was read.
type OrderList struct {
	ID     int64     `json:"id"`
	Name   string    `json:"name"` // the file's own
	At     time.Time `json:"at"`
	Orders int       `json:"orders"` // that are still there
}

// TakenIn is what became of a table of orders.
type TakenIn struct {
	List    OrderList `json:"list"`    // without id when nothing was new
	Known   []string  `json:"known"`   // numbers of orders that were there already
	Waiting int       `json:"waiting"` // copies ordered beyond those there are
}

// TakeOrders keeps all orders of a table that are not known by their number, in
// one transaction, and remembers how the table was read. Orders beyond the last
// copy are kept and wait: they were sold.
//
// Errors: Invalid when there is none; NotFound when there is no such title.
func (s *Store) TakeOrders(ctx context.Context, title sequence.TitleID, name string, table orders.Table) (TakenIn, error) {
	took := TakenIn{Known: []string{}, List: OrderList{Name: name, At: s.now()}}
	if len(table.Orders) == 0 {
		return took, &sequence.Error{Code: sequence.Invalid, Message: "There is no order in this table that can be read.", Hint: "Look at the rows told, and at which column means what."}
	}
	err := s.write(ctx, func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, `INSERT INTO order_lists (title_id, name, at) VALUES (?, ?, ?) RETURNING id`, title, name, written(took.List.At)).Scan(&took.List.ID)
		if err != nil {
			return orphan(err, title)
		}
		var waiting []need
		for _, o := range table.Orders {
			o = o.Tidy()
			if err := o.Check(); err != nil {
				return err
			}
			o.List = took.List.ID
			id, err := s.insertOrder(ctx, tx, title, o)
			if err != nil {
				return err
			}
			if id == 0 {
				took.Known = append(took.Known, o.Number)
				continue
			}
			waiting = append(waiting, need{id, o.For, o.Channel, o.Copies})
		}
		took.List.Orders = len(waiting)
		if len(waiting) == 0 {
			_, err := tx.ExecContext(ctx, `DELETE FROM order_lists WHERE id = ?`, took.List.ID)
			took.List.ID = 0
			return errors.Join(err, s.remember(ctx, tx, title, orders.Signature(table.Header), table.Reading))
		}
		if err := allotAll(ctx, tx, title, waiting); err != nil {
			return err
		}
		state, err := readEdition(ctx, tx, title)
		took.Waiting = state.Tally.Waiting
		return errors.Join(err, s.remember(ctx, tx, title, orders.Signature(table.Header), table.Reading))
	})
	return took, err
}

// OrderLists lists the tables of orders that were read, newest first.
//
// Error: NotFound when there is no such title.
func (s *Store) OrderLists(ctx context.Context, title sequence.TitleID) ([]OrderList, error) {
	return listOf(ctx, s, title, func(row scanner) (OrderList, error) {
		var l OrderList
		return l, row.Scan(&l.ID, &l.Name, moment{&l.At}, &l.Orders)
	}, `SELECT id, name, at, (SELECT count(*) FROM orders o WHERE o.list_id = l.id) FROM order_lists l WHERE title_id = ? ORDER BY id DESC`)
}

// TakeBack takes a whole table of orders back, as if it had never been read.
//
// Errors: Conflict once an order of it was changed, packed, sent or erased;
// NotFound.
func (s *Store) TakeBack(ctx context.Context, title sequence.TitleID, list int64) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		touchedOnes, err := texts(ctx, tx, `SELECT number FROM orders WHERE title_id = ? AND list_id = ? AND (revision > 1 OR state <> 'open' OR erased = 1
			OR EXISTS (SELECT 1 FROM parcels p WHERE p.order_id = orders.id) OR EXISTS (SELECT 1 FROM parcel_acts a WHERE a.order_id = orders.id)) LIMIT 5`, title, list)
		if err != nil {
			return err
		}
		if len(touchedOnes) > 0 {
			return &sequence.Error{Code: sequence.Conflict, Message: fmt.Sprintf("Something was done with orders of this table since: %s.", strings.Join(touchedOnes, ", ")), Hint: "Cancel single orders instead."}
		}
		for _, statement := range []string{
			`UPDATE copies SET order_id = NULL, place = 'here', shop = '' WHERE title_id = ?1 AND order_id IN (SELECT id FROM orders WHERE title_id = ?1 AND list_id = ?2)`,
			`DELETE FROM orders WHERE title_id = ?1 AND list_id = ?2`,
		} {
			if _, err := tx.ExecContext(ctx, statement, title, list); err != nil {
				return err
			}
		}
		done, err := tx.ExecContext(ctx, `DELETE FROM order_lists WHERE title_id = ? AND id = ?`, title, list)
		if err != nil {
			return err
		}
		if err := touched(done, "table of orders", list); err != nil {
			return err
		}
		return allotWaiting(ctx, tx, title)
	})
}
