package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/edition/quotes"
)

// InquiryKind is a kind of entry in a title's dealings with printers.
type InquiryKind string

// The kinds. Of printers and quotes there are many, of the others one.
const (
	SpecificationEntry InquiryKind = "specification"
	PrinterEntry       InquiryKind = "printer"
	QuoteEntry         InquiryKind = "quote"
	TermsEntry         InquiryKind = "terms"
	PriceEntry         InquiryKind = "price"
)

// Entry is one entry and the act that made it what it is, 0 while it is what
// every title begins with.
type Entry[T any] struct {
	Number int
	Act    int64
	At     time.Time
	Is     T
}

// Inquiry is everything a title has with printers.
type Inquiry struct {
	Specification Entry[quotes.Wishes]
	Terms         Entry[quotes.Terms]
	Price         Entry[quotes.PricePlan]
	Printers      []Entry[quotes.Printer] // by number
	Quotes        []Entry[quotes.Quote]   // by number
	TakenOut      []TakenOut              // the one taken out last first
	Undo, Redo    *InquiryAct             // what would be turned next; nil for nothing
}

// TakenOut is a printer or quote that was taken out and can be put back.
type TakenOut struct {
	Kind    InquiryKind `json:"kind"`
	Number  int         `json:"number"`
	At      time.Time   `json:"at"`
	Printer string      `json:"printer"` // the printer's name; of a quote that of whom it came from
}

// InquiryAct is an act as undo and redo tell it.
type InquiryAct struct {
	Kind   InquiryKind `json:"kind"`
	Number int         `json:"number"`
	Did    string      `json:"did"` // "add", "change" or "take out"
}

// Inquiry gives what a title has with printers.
//
// Error: NotFound when there is no such title.
func (s *Store) Inquiry(ctx context.Context, title sequence.TitleID) (Inquiry, error) {
	in := Inquiry{Specification: Entry[quotes.Wishes]{Is: quotes.FirstWishes()}, Terms: Entry[quotes.Terms]{Is: quotes.FirstTerms()},
		Price: Entry[quotes.PricePlan]{Is: quotes.FirstPlan()}, Printers: []Entry[quotes.Printer]{}, Quotes: []Entry[quotes.Quote]{}, TakenOut: []TakenOut{}}
	if _, err := s.Title(ctx, title); err != nil {
		return in, err
	}
	return in, s.write(ctx, func(tx *sql.Tx) error { // nothing is written, but no act comes between
		if err := in.read(ctx, tx, title); err != nil {
			return err
		}
		if err := in.readTakenOut(ctx, tx, title); err != nil {
			return err
		}
		last, err := lastAct(ctx, tx, title)
		if err != nil {
			return err
		}
		if in.Undo, err = toldAct(ctx, tx, title, last.undoNext); err != nil || last.redoNext == 0 {
			return err
		}
		in.Redo, err = toldAct(ctx, tx, title, last.redoNext)
		if in.Redo != nil { // it turns round what took the act back
			in.Redo.Did = map[string]string{"add": "take out", "take out": "add", "change": "change"}[in.Redo.Did]
		}
		return err
	})
}

func (in *Inquiry) read(ctx context.Context, q querier, title sequence.TitleID) error {
	rows, err := q.QueryContext(ctx, `SELECT i.kind, i.number, i.act, a.at, i.body FROM inquiry i
		JOIN inquiry_acts a ON a.title_id = i.title_id AND a.number = i.act WHERE i.title_id = ? ORDER BY i.number`, title)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var kind InquiryKind
		var number int
		var act int64
		var at time.Time
		var body string
		if err := rows.Scan(&kind, &number, &act, moment{&at}, &body); err != nil {
			return err
		}
		switch kind {
		case SpecificationEntry:
			err = fill(&in.Specification, number, act, at, body)
		case TermsEntry:
			err = fill(&in.Terms, number, act, at, body)
		case PriceEntry:
			err = fill(&in.Price, number, act, at, body)
		case PrinterEntry:
			err = appendEntry(&in.Printers, number, act, at, body)
		case QuoteEntry:
			err = appendEntry(&in.Quotes, number, act, at, body)
		}
		if err != nil {
			return err
		}
	}
	return rows.Err()
}

func fill[T any](into *Entry[T], number int, act int64, at time.Time, body string) error {
	var is T // afresh: lists of what a title begins with must not shine through
	err := json.Unmarshal([]byte(body), &is)
	*into = Entry[T]{number, act, at, is}
	return err
}

func appendEntry[T any](list *[]Entry[T], number int, act int64, at time.Time, body string) error {
	var e Entry[T]
	err := fill(&e, number, act, at, body)
	*list = append(*list, e)
	return err
}

// readTakenOut finds what is there no longer: its last act has what it was.
func (in *Inquiry) readTakenOut(ctx context.Context, q querier, title sequence.TitleID) error {
	rows, err := q.QueryContext(ctx, `SELECT a.kind, a.entry, a.at, coalesce(
			a.before ->> '$.name',
			(SELECT i.body ->> '$.name' FROM inquiry i WHERE i.title_id = a.title_id AND i.kind = 'printer' AND i.number = a.before ->> '$.printer'), '')
		FROM inquiry_acts a WHERE a.title_id = ?1 AND a.kind IN ('printer', 'quote') AND a.after IS NULL
			AND a.number = (SELECT max(number) FROM inquiry_acts b WHERE b.title_id = ?1 AND b.kind = a.kind AND b.entry = a.entry)
		ORDER BY a.number DESC`, title)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var t TakenOut
		if err := rows.Scan(&t.Kind, &t.Number, moment{&t.At}, &t.Printer); err != nil {
			return err
		}
		in.TakenOut = append(in.TakenOut, t)
	}
	return rows.Err()
}

// act is a row of the journal of acts.
type act struct {
	number              int64
	kind                InquiryKind
	entry               int
	before, after       *string // nil: not there
	undoNext, undoBelow int64
	redoNext, redoBelow int64
}

const actColumns = `SELECT number, kind, entry, before, after, undo_next, undo_below, redo_next, redo_below FROM inquiry_acts WHERE title_id = ? `

func readAct(row scanner) (a act, err error) {
	err = row.Scan(&a.number, &a.kind, &a.entry, &a.before, &a.after, &a.undoNext, &a.undoBelow, &a.redoNext, &a.redoBelow)
	if errors.Is(err, sql.ErrNoRows) {
		return act{}, nil
	}
	return a, err
}

func lastAct(ctx context.Context, q querier, title sequence.TitleID) (act, error) {
	return readAct(q.QueryRowContext(ctx, actColumns+`ORDER BY number DESC LIMIT 1`, title))
}

func actNumbered(ctx context.Context, q querier, title sequence.TitleID, number int64) (act, error) {
	return readAct(q.QueryRowContext(ctx, actColumns+`AND number = ?`, title, number))
}

func toldAct(ctx context.Context, q querier, title sequence.TitleID, number int64) (*InquiryAct, error) {
	if number == 0 {
		return nil, nil
	}
	a, err := actNumbered(ctx, q, title, number)
	did := "change"
	switch {
	case a.before == nil:
		did = "add"
	case a.after == nil:
		did = "take out"
	}
	return &InquiryAct{a.kind, a.entry, did}, err
}

// carry writes an act and does it.
func (s *Store) carry(ctx context.Context, tx *sql.Tx, title sequence.TitleID, a act) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO inquiry_acts (title_id, number, at, kind, entry, before, after, undo_next, undo_below, redo_next, redo_below)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, title, a.number, written(s.now()), a.kind, a.entry, a.before, a.after, a.undoNext, a.undoBelow, a.redoNext, a.redoBelow)
	if err != nil {
		return orphan(err, title)
	}
	if a.after == nil {
		_, err = tx.ExecContext(ctx, `DELETE FROM inquiry WHERE title_id = ? AND kind = ? AND number = ?`, title, a.kind, a.entry)
		return err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO inquiry (title_id, kind, number, act, body) VALUES (?, ?, ?, ?, ?)
		ON CONFLICT (title_id, kind, number) DO UPDATE SET act = excluded.act, body = excluded.body`, title, a.kind, a.entry, a.number, *a.after)
	return err
}
