package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"

	"pairwall/sequence"
	"pairwall/sequence/edition"
)

// MoveCopies does with copies what no order asks for, with all or with none. A
// damaged copy leaves the order it was of, which then waits for another.
//
// Errors: Invalid; Conflict for a copy that an order has; NotFound for a copy or
// title that is not there.
func (s *Store) MoveCopies(ctx context.Context, title sequence.TitleID, move edition.Move) error {
	if err := move.Check(); err != nil {
		return err
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		state, err := readEdition(ctx, tx, title)
		if err != nil {
			return err
		}
		for _, ref := range move.Copies {
			c, err := copyOf(state, ref)
			if err != nil {
				return err
			}
			if err := moveCopy(ctx, tx, title, c, move); err != nil {
				return err
			}
		}
		return allotWaiting(ctx, tx, title)
	})
}

func copyOf(state EditionState, ref edition.CopyRef) (edition.Copy, error) {
	at := slices.IndexFunc(state.Copies, func(c edition.Copy) bool { return c.CopyRef == ref })
	if at < 0 {
		return edition.Copy{}, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("There is no copy %s.", state.Edition.Mark(ref)), Hint: "Reload the page to see what there is."}
	}
	return state.Copies[at], nil
}

func moveCopy(ctx context.Context, tx *sql.Tx, title sequence.TitleID, c edition.Copy, move edition.Move) error {
	if c.Order != 0 && move.Place != "" && move.Place != edition.Damaged && move.Place != c.Place {
		return &sequence.Error{Code: sequence.Conflict, Message: fmt.Sprintf("Copy %s belongs to an order.", c.Mark), Hint: "Change or cancel the order instead."}
	}
	if move.Place != "" && move.Place != c.Place {
		c.Place, c.Shop = move.Place, ""
		if move.Place == edition.Damaged {
			c.Order = 0
		}
	}
	if c.Place == edition.InShop && move.Shop != "" {
		c.Shop = strings.TrimSpace(move.Shop)
	}
	if move.For != "" {
		c.For = move.For
	}
	if move.Note != nil {
		c.Note = strings.TrimSpace(*move.Note)
	}
	return putCopy(ctx, tx, title, c)
}

func putCopy(ctx context.Context, tx *sql.Tx, title sequence.TitleID, c edition.Copy) error {
	var of any
	if c.Order != 0 {
		of = c.Order
	}
	_, err := tx.ExecContext(ctx, `UPDATE copies SET purpose = ?, place = ?, shop = ?, order_id = ?, note = ? WHERE title_id = ? AND series = ? AND number = ?`,
		c.For, c.Place, c.Shop, of, c.Note, title, c.Series, c.Number)
	return err
}

// need is what an order lacks.
type need struct {
	order   int64
	purpose edition.Purpose
	channel string // the shop's name, for copies that go on consignment
	copies  int
}

// allot gives an order copies: those named, or the first that may go. It returns
// how many are still lacking.
//
// Error: Conflict for a copy named that is not to be had.
func allot(ctx context.Context, tx *sql.Tx, title sequence.TitleID, n need, wanted []edition.CopyRef) (lacking int, err error) {
	state, err := readEdition(ctx, tx, title)
	if err != nil {
		return 0, err
	}
	var chosen []edition.Copy
	for _, ref := range wanted {
		c, err := copyOf(state, ref)
		if err != nil {
			return 0, err
		}
		if c.Order == n.order {
			continue
		}
		if err := toBeHad(ctx, tx, c, n.purpose); err != nil {
			return 0, err
		}
		chosen = append(chosen, c)
	}
	if wanted == nil {
		chosen = firstFree(state.Copies, n)
	}
	if len(chosen) > n.copies {
		return 0, &sequence.Error{Code: sequence.Invalid, Message: "More copies were chosen than the order asks for.", Hint: "Choose fewer, or raise the number."}
	}
	for _, c := range chosen {
		c.Order, c.Place, c.Shop = n.order, n.purpose.After(), ""
		if c.Place == edition.InShop {
			c.Shop = shopName(n.channel)
		}
		if err := putCopy(ctx, tx, title, c); err != nil {
			return 0, err
		}
	}
	return n.copies - len(chosen), nil
}

func shopName(channel string) string {
	if channel == "" {
		return "a shop"
	}
	return channel
}

// toBeHad refuses a copy that is gone, and says where it went.
func toBeHad(ctx context.Context, tx *sql.Tx, c edition.Copy, purpose edition.Purpose) error {
	if c.Place == edition.Here || (c.Place == edition.InShop && purpose != edition.ForShop) {
		return nil
	}
	where := "is damaged"
	switch {
	case c.Order != 0:
		var number, channel string
		if err := tx.QueryRowContext(ctx, `SELECT number, channel FROM orders WHERE id = ?`, c.Order).Scan(&number, &channel); err != nil {
			return err
		}
		where = strings.TrimSpace(fmt.Sprintf("is gone to order %s %s", number, channel))
	case c.Place == edition.Given:
		where = "was given away"
	case c.Place == edition.InShop:
		where = "is with " + c.Shop
	}
	return &sequence.Error{Code: sequence.Conflict, Message: fmt.Sprintf("Copy %s %s.", c.Mark, where), Hint: "Choose another one."}
}

// firstFree are the copies an order gets when none was named: those kept for its
// purpose, then those for sale, each in the order of their numbers.
func firstFree(copies []edition.Copy, n need) []edition.Copy {
	var chosen []edition.Copy
	for _, purpose := range []edition.Purpose{n.purpose, edition.ForSale} {
		for _, c := range copies {
			taken := slices.ContainsFunc(chosen, func(one edition.Copy) bool { return one.CopyRef == c.CopyRef })
			if len(chosen) < n.copies && c.Place == edition.Here && c.Order == 0 && c.For == purpose && !taken {
				chosen = append(chosen, c)
			}
		}
	}
	return chosen
}

// allotWaiting gives copies to the orders that wait for some, the earliest entered
// first.
func allotWaiting(ctx context.Context, tx *sql.Tx, title sequence.TitleID) error {
	rows, err := tx.QueryContext(ctx, `SELECT o.id, o.purpose, o.channel, o.copies - (SELECT count(*) FROM copies c WHERE c.order_id = o.id) AS lacking
		FROM orders o WHERE o.title_id = ? AND o.state <> 'cancelled' AND lacking > 0 ORDER BY o.id`, title)
	if err != nil {
		return err
	}
	defer rows.Close()
	var waiting []need
	for rows.Next() {
		var n need
		if err := rows.Scan(&n.order, &n.purpose, &n.channel, &n.copies); err != nil {
			return err
		}
		waiting = append(waiting, n)
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return err
	}
	return allotAll(ctx, tx, title, waiting)
}

// allotAll is allot for many orders, with one look at the copies.
func allotAll(ctx context.Context, tx *sql.Tx, title sequence.TitleID, waiting []need) error {
	if len(waiting) == 0 {
		return nil
	}
	state, err := readEdition(ctx, tx, title)
	if err != nil {
		return err
	}
	free := slices.DeleteFunc(state.Copies, func(c edition.Copy) bool { return c.Place != edition.Here || c.Order != 0 })
	for _, n := range waiting {
		if len(free) == 0 {
			return nil
		}
		for _, c := range firstFree(free, n) {
			free = slices.DeleteFunc(free, func(one edition.Copy) bool { return one.CopyRef == c.CopyRef })
			c.Order, c.Place, c.Shop = n.order, n.purpose.After(), ""
			if c.Place == edition.InShop {
				c.Shop = shopName(n.channel)
			}
			if err := putCopy(ctx, tx, title, c); err != nil {
				return err
			}
		}
	}
	return nil
}

// release takes copies back from an order.
func release(ctx context.Context, tx *sql.Tx, title sequence.TitleID, refs []edition.CopyRef) error {
	for _, ref := range refs {
		if _, err := tx.ExecContext(ctx, `UPDATE copies SET order_id = NULL, place = 'here', shop = '' WHERE title_id = ? AND series = ? AND number = ?`, title, ref.Series, ref.Number); err != nil {
			return err
		}
	}
	return nil
}
