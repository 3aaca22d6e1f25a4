package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"

	"github.com/mattn/go-sqlite3"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/dispatch"
	"pairwall/sequence/edition/orders"
)

const parcelColumns = `SELECT id, order_id, at, mass, service, postage, postage_currency, tracking,
	(SELECT json_group_array(json_object('series', series, 'number', number)) FROM parcel_copies WHERE parcel_id = parcels.id) FROM parcels `

func readParcel(row scanner) (dispatch.Packed, error) {
	var p dispatch.Packed
	err := row.Scan(&p.ID, &p.Order, moment{&p.At}, &p.Mass, &p.Service, &p.Postage.Minor, &p.Postage.Currency, &p.Tracking, asJSON{&p.Copies})
	return p.Tidied(), err
}

// Parcels lists the parcels that were packed, as they were packed.
//
// Error: NotFound when there is no such title.
func (s *Store) Parcels(ctx context.Context, title sequence.TitleID) ([]dispatch.Packed, error) {
	return listOf(ctx, s, title, readParcel, parcelColumns+`WHERE title_id = ? ORDER BY at, id`)
}

func oneParcel(ctx context.Context, q querier, title sequence.TitleID, id int64) (dispatch.Packed, error) {
	p, err := readParcel(q.QueryRowContext(ctx, parcelColumns+`WHERE title_id = ? AND id = ?`, title, id))
	if errors.Is(err, sql.ErrNoRows) {
		return p, missing("parcel", id)
	}
	return p, err
}

// PackParcel keeps a parcel that was packed. Once all copies of an order are in
// parcels it is sent.
//
// Errors: Invalid; Conflict when a copy is not the order's, lies in a parcel
// already, or the order is no longer open; NotFound.
func (s *Store) PackParcel(ctx context.Context, title sequence.TitleID, p dispatch.Packed) (dispatch.Packed, error) {
	p = p.Tidied()
	p.At, p.ID = s.now(), 0
	if err := p.Check(); err != nil {
		return p, err
	}
	err := s.write(ctx, func(tx *sql.Tx) error {
		o, err := oneOrder(ctx, tx, title, p.Order)
		if err != nil {
			return err
		}
		if o.State != orders.Open {
			return &sequence.Error{Code: sequence.Conflict, Message: fmt.Sprintf("Order %s is no longer open.", o.Number), Hint: "It was sent or cancelled in another window. Look at the table as it is now."}
		}
		if p, err = putParcel(ctx, tx, title, p); err != nil {
			return err
		}
		return actOnParcel(ctx, tx, title, nil, &p)
	})
	return p, err
}

// ChangeParcel changes what a parcel weighs, how it goes and its number; its
// copies and its time stay.
//
// Errors: Invalid; NotFound.
func (s *Store) ChangeParcel(ctx context.Context, title sequence.TitleID, p dispatch.Packed) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		was, err := oneParcel(ctx, tx, title, p.ID)
		if err != nil {
			return err
		}
		p.Order, p.Copies, p.At = was.Order, was.Copies, was.At
		p = p.Tidied()
		if err := p.Check(); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `UPDATE parcels SET mass = ?, service = ?, postage = ?, postage_currency = ?, tracking = ? WHERE id = ?`,
			p.Mass, p.Service, p.Postage.Minor, p.Postage.Currency, p.Tracking, p.ID)
		if err != nil {
			return err
		}
		return actOnParcel(ctx, tx, title, &was, &p)
	})
}

// UnpackParcel takes a parcel apart; its order is open again.
//
// Error: NotFound.
func (s *Store) UnpackParcel(ctx context.Context, title sequence.TitleID, id int64) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		was, err := oneParcel(ctx, tx, title, id)
		if err != nil {
			return err
		}
		if err := dropParcel(ctx, tx, was); err != nil {
			return err
		}
		return actOnParcel(ctx, tx, title, &was, nil)
	})
}

// UndoParcel takes back what was done last at the packing table, and returns of
// which order it was.
//
// Errors: Conflict when there is nothing to take back, or a copy went elsewhere
// since; NotFound.
func (s *Store) UndoParcel(ctx context.Context, title sequence.TitleID) (order int64, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		var act int64
		var before, after *dispatch.Packed
		err := tx.QueryRowContext(ctx, lastParcelAct, title).Scan(&act, &order, asJSON{&before}, asJSON{&after})
		if errors.Is(err, sql.ErrNoRows) {
			return &sequence.Error{Code: sequence.Conflict, Message: "Nothing was done at the packing table that could be taken back."}
		}
		if err != nil {
			return err
		}
		if after != nil {
			if err := dropParcel(ctx, tx, *after); err != nil {
				return err
			}
		}
		if before != nil {
			if _, err := putParcel(ctx, tx, title, *before); err != nil {
				return err
			}
		}
		if _, err := tx.ExecContext(ctx, `UPDATE parcel_acts SET undone = 1 WHERE id = ?`, act); err != nil {
			return err
		}
		return settleOrder(ctx, tx, title, order)
	})
	return order, err
}

const lastParcelAct = `SELECT id, order_id, coalesce(before, 'null'), coalesce(after, 'null') FROM parcel_acts WHERE title_id = ? AND undone = 0 ORDER BY id DESC LIMIT 1`

// LastParcelOrder is the order that UndoParcel would be about; 0 when there is
// nothing to take back.
func (s *Store) LastParcelOrder(ctx context.Context, title sequence.TitleID) (order int64, err error) {
	err = s.db.QueryRowContext(ctx, `SELECT order_id FROM parcel_acts WHERE title_id = ? AND undone = 0 ORDER BY id DESC LIMIT 1`, title).Scan(&order)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return order, s.coded(ctx, err)
}

// putParcel writes a parcel; one that has an id gets it again.
func putParcel(ctx context.Context, tx *sql.Tx, title sequence.TitleID, p dispatch.Packed) (dispatch.Packed, error) {
	var id any
	if p.ID != 0 {
		id = p.ID
	}
	err := tx.QueryRowContext(ctx, `INSERT INTO parcels (id, title_id, order_id, at, mass, service, postage, postage_currency, tracking) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING id`,
		id, title, p.Order, written(p.At), p.Mass, p.Service, p.Postage.Minor, p.Postage.Currency, p.Tracking).Scan(&p.ID)
	if err != nil {
		return p, err
	}
	state, err := readEdition(ctx, tx, title)
	if err != nil {
		return p, err
	}
	for _, ref := range p.Copies {
		c, err := copyOf(state, ref)
		if err != nil {
			return p, err
		}
		if c.Order != p.Order {
			return p, &sequence.Error{Code: sequence.Conflict, Message: fmt.Sprintf("Copy %s does not belong to this order.", c.Mark), Hint: "Look at the table as it is now, and take the copy it names."}
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO parcel_copies (title_id, series, number, parcel_id) VALUES (?, ?, ?, ?)`, title, ref.Series, ref.Number, p.ID)
		if broke(err, sqlite3.ErrConstraintPrimaryKey) {
			return p, &sequence.Error{Code: sequence.Conflict, Message: fmt.Sprintf("Copy %s lies in another parcel already.", c.Mark), Hint: "Take that parcel apart first."}
		}
		if err != nil {
			return p, err
		}
	}
	return p, nil
}

func dropParcel(ctx context.Context, tx *sql.Tx, p dispatch.Packed) error {
	_, err := tx.ExecContext(ctx, `DELETE FROM parcels WHERE id = ?`, p.ID)
	return err
}

// actOnParcel notes an act and lets the order follow.
func actOnParcel(ctx context.Context, tx *sql.Tx, title sequence.TitleID, before, after *dispatch.Packed) error {
	of, values := int64(0), [2]any{}
	for i, p := range []*dispatch.Packed{before, after} {
		if p != nil {
			of, values[i] = p.Order, asJSON{p}
		}
	}
	if _, err := tx.ExecContext(ctx, `INSERT INTO parcel_acts (title_id, order_id, before, after) VALUES (?, ?, ?, ?)`, title, of, values[0], values[1]); err != nil {
		return err
	}
	return settleOrder(ctx, tx, title, of)
}

// settleOrder makes an order sent once all its copies are in parcels, and open
// again when they no longer are. One that was cancelled stays so.
func settleOrder(ctx context.Context, tx *sql.Tx, title sequence.TitleID, id int64) error {
	o, err := oneOrder(ctx, tx, title, id)
	if err != nil || o.State == orders.Cancelled {
		return err
	}
	var packed []edition.CopyRef
	rows, err := tx.QueryContext(ctx, `SELECT c.series, c.number FROM parcel_copies c JOIN parcels p ON p.id = c.parcel_id WHERE p.order_id = ?`, id)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var ref edition.CopyRef
		if err := rows.Scan(&ref.Series, &ref.Number); err != nil {
			return err
		}
		packed = append(packed, ref)
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return err
	}
	state := orders.Sent
	if o.Waits() > 0 || slices.ContainsFunc(o.Allotted, func(ref edition.CopyRef) bool { return !slices.Contains(packed, ref) }) {
		state = orders.Open
	}
	_, err = tx.ExecContext(ctx, `UPDATE orders SET state = ?, revision = revision + 1 WHERE id = ?`, state, id)
	return err
}
