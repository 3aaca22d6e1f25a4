package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"

	"pairwall/sequence"
	"pairwall/sequence/edition/quotes"
)

// KeepWishes keeps what a specification says beyond the title. seen is the act
// the maker has seen it after.
//
// Errors: those of Wishes.Check; Stale when it has changed since; NotFound.
func (s *Store) KeepWishes(ctx context.Context, title sequence.TitleID, seen int64, is quotes.Wishes) error {
	if err := is.Check(); err != nil {
		return err
	}
	return s.keepEntry(ctx, title, SpecificationEntry, 0, seen, is.Tidied())
}

// KeepTerms keeps how quotes are compared. A price in another currency than the
// terms' is not changed: what its amounts are worth is the maker's to say.
//
// Errors: those of Terms.Check; Stale; NotFound.
func (s *Store) KeepTerms(ctx context.Context, title sequence.TitleID, seen int64, is quotes.Terms) error {
	if err := is.Check(); err != nil {
		return err
	}
	return s.keepEntry(ctx, title, TermsEntry, 0, seen, is)
}

// KeepPrice keeps what a copy is to sell for.
//
// Errors: those of PricePlan.Check; Stale; NotFound.
func (s *Store) KeepPrice(ctx context.Context, title sequence.TitleID, seen int64, is quotes.PricePlan) error {
	in, err := s.Inquiry(ctx, title)
	if err != nil {
		return err
	}
	if err := is.Check(in.Terms.Is); err != nil {
		return err
	}
	return s.keepEntry(ctx, title, PriceEntry, 0, seen, is.Tidied())
}

// KeepPrinter keeps a printer; number 0 adds one.
//
// Errors: those of Printer.Check; Stale; NotFound.
func (s *Store) KeepPrinter(ctx context.Context, title sequence.TitleID, number int, seen int64, is quotes.Printer) error {
	if err := is.Check(); err != nil {
		return err
	}
	return s.keepEntry(ctx, title, PrinterEntry, number, seen, is.Tidied())
}

// KeepQuote keeps a quote; number 0 adds one.
//
// Errors: those of Quote.Check; Stale; NotFound, also for a printer who is not
// there.
func (s *Store) KeepQuote(ctx context.Context, title sequence.TitleID, number int, seen int64, is quotes.Quote) error {
	if err := is.Check(); err != nil {
		return err
	}
	return s.keepEntry(ctx, title, QuoteEntry, number, seen, is.Tidied())
}

// keepEntry changes an entry, or adds one with the next number.
func (s *Store) keepEntry(ctx context.Context, title sequence.TitleID, kind InquiryKind, number int, seen int64, is any) error {
	text, err := json.Marshal(is)
	if err != nil {
		return err
	}
	after := string(text)
	return s.write(ctx, func(tx *sql.Tx) error {
		if quote, ok := is.(quotes.Quote); ok {
			if _, _, err := entryNow(ctx, tx, title, PrinterEntry, quote.Printer); err != nil {
				return err
			}
		}
		if many(kind) && number == 0 {
			if err := tx.QueryRowContext(ctx, `SELECT 1 + coalesce(max(entry), 0) FROM inquiry_acts WHERE title_id = ? AND kind = ?`, title, kind).Scan(&number); err != nil {
				return err
			}
			return s.do(ctx, tx, title, act{kind: kind, entry: number, after: &after})
		}
		at, before, err := entryNow(ctx, tx, title, kind, number)
		if err != nil {
			return err
		}
		if at != seen {
			return changedSince()
		}
		if before != nil && *before == after {
			return nil // nothing was changed, and undo should not stop at it
		}
		return s.do(ctx, tx, title, act{kind: kind, entry: number, before: before, after: &after})
	})
}

func many(kind InquiryKind) bool { return kind == PrinterEntry || kind == QuoteEntry }

func changedSince() error {
	return &sequence.Error{Code: sequence.Stale, Message: "This was changed in another window meanwhile.",
		Hint: "Look at what stands there now, then make your change again."}
}

// entryNow gives an entry as it is, and the act that made it so; a single one
// that nobody has touched is at act 0 and nil.
//
// Error: NotFound.
func entryNow(ctx context.Context, q querier, title sequence.TitleID, kind InquiryKind, number int) (at int64, body *string, err error) {
	err = q.QueryRowContext(ctx, `SELECT act, body FROM inquiry WHERE title_id = ? AND kind = ? AND number = ?`, title, kind, number).Scan(&at, &body)
	if errors.Is(err, sql.ErrNoRows) {
		if many(kind) {
			return 0, nil, missing(string(kind), number)
		}
		return 0, nil, nil
	}
	return at, body, err
}

// do writes an act that is neither an undo nor a redo: it goes on top of what can
// be undone, and nothing can be redone any more.
func (s *Store) do(ctx context.Context, tx *sql.Tx, title sequence.TitleID, a act) error {
	last, err := lastAct(ctx, tx, title)
	if err != nil {
		return err
	}
	a.number = last.number + 1
	a.undoNext, a.undoBelow = a.number, last.undoNext
	return s.carry(ctx, tx, title, a)
}

// TakeOutEntry takes a printer or a quote out; it can be put back. The quotes of a
// printer stay.
//
// Errors: Stale; NotFound; Conflict for a printer whose quotes are still there.
func (s *Store) TakeOutEntry(ctx context.Context, title sequence.TitleID, kind InquiryKind, number int, seen int64) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		at, before, err := entryNow(ctx, tx, title, kind, number)
		if err != nil {
			return err
		}
		if at != seen {
			return changedSince()
		}
		if kind == PrinterEntry {
			if err := unquoted(ctx, tx, title, number); err != nil {
				return err
			}
		}
		return s.do(ctx, tx, title, act{kind: kind, entry: number, before: before})
	})
}

// unquoted is Conflict while a quote of the printer is there.
func unquoted(ctx context.Context, q querier, title sequence.TitleID, printer int) error {
	var quoted int
	err := q.QueryRowContext(ctx, `SELECT count(*) FROM inquiry WHERE title_id = ? AND kind = 'quote' AND body ->> '$.printer' = ?`, title, printer).Scan(&quoted)
	if err == nil && quoted > 0 {
		return &sequence.Error{Code: sequence.Conflict, Message: "There are quotes of this printer.", Hint: "Take them out first; all can be put back."}
	}
	return err
}

// PutBackEntry puts a printer or a quote back that was taken out.
//
// Errors: NotFound for what was never there, also for a quote whose printer was
// taken out; Conflict for what is there already.
func (s *Store) PutBackEntry(ctx context.Context, title sequence.TitleID, kind InquiryKind, number int) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		a, err := readAct(tx.QueryRowContext(ctx, actColumns+`AND kind = ? AND entry = ? ORDER BY number DESC LIMIT 1`, title, kind, number))
		switch {
		case err != nil:
			return err
		case a.number == 0:
			return missing(string(kind), number)
		case a.after != nil:
			return &sequence.Error{Code: sequence.Conflict, Message: "It is there already."}
		}
		if err := standing(ctx, tx, title, kind, a.before); err != nil {
			return err
		}
		return s.do(ctx, tx, title, act{kind: kind, entry: number, after: a.before})
	})
}

// standing is NotFound for a quote whose printer is not there.
func standing(ctx context.Context, q querier, title sequence.TitleID, kind InquiryKind, body *string) error {
	if kind != QuoteEntry || body == nil {
		return nil
	}
	var quote quotes.Quote
	if err := json.Unmarshal([]byte(*body), &quote); err != nil {
		return err
	}
	if _, _, err := entryNow(ctx, q, title, PrinterEntry, quote.Printer); err != nil {
		return &sequence.Error{Code: sequence.NotFound, Message: "The printer this quote came from was taken out.", Hint: "Put the printer back first.", Err: err}
	}
	return nil
}

// UndoInquiry takes the last act back, RedoInquiry does again what was taken back
// last. Both are acts themselves, so that nothing is ever lost.
//
// Errors: Conflict when there is none; NotFound.
func (s *Store) UndoInquiry(ctx context.Context, title sequence.TitleID) error {
	return s.turned(ctx, title, func(last act) int64 { return last.undoNext }, func(last, of act, next *act) {
		next.undoNext, next.undoBelow = of.undoBelow, 0
		next.redoNext, next.redoBelow = next.number, last.redoNext
	})
}

// RedoInquiry is told at UndoInquiry.
func (s *Store) RedoInquiry(ctx context.Context, title sequence.TitleID) error {
	return s.turned(ctx, title, func(last act) int64 { return last.redoNext }, func(last, of act, next *act) {
		next.redoNext, next.redoBelow = of.redoBelow, 0
		next.undoNext, next.undoBelow = next.number, last.undoNext
	})
}

// turned turns an act round.
func (s *Store) turned(ctx context.Context, title sequence.TitleID, which func(act) int64, thread func(last, of act, next *act)) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		last, err := lastAct(ctx, tx, title)
		if err != nil {
			return err
		}
		number := which(last)
		if number == 0 {
			return &sequence.Error{Code: sequence.Conflict, Message: "There is nothing to turn back."}
		}
		of, err := actNumbered(ctx, tx, title, number)
		if err != nil {
			return err
		}
		next := act{number: last.number + 1, kind: of.kind, entry: of.entry, before: of.after, after: of.before}
		thread(last, of, &next)
		return s.carry(ctx, tx, title, next)
	})
}
