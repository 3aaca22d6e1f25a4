package store

import (
	"context"
	"database/sql"
	"errors"

	"pairwall/sequence"
	"pairwall/sequence/edition/ledger"
)

// CashbookState is a title's book of money as it is kept.
type CashbookState struct {
	Revision int             `json:"revision"` // 0 while nothing was entered
	Book     ledger.Cashbook `json:"book"`
}

// Cashbook gives a title's book of money.
//
// Error: NotFound when there is no such title.
func (s *Store) Cashbook(ctx context.Context, title sequence.TitleID) (CashbookState, error) {
	state := CashbookState{Book: ledger.FirstCashbook()}
	if _, err := s.Title(ctx, title); err != nil {
		return state, err
	}
	err := s.db.QueryRowContext(ctx, `SELECT revision, value FROM books WHERE title_id = ?`, title).Scan(&state.Revision, asJSON{&state.Book})
	if errors.Is(err, sql.ErrNoRows) {
		return state, nil
	}
	return state, s.coded(ctx, err)
}

// SetCashbook keeps a title's book of money.
//
// Errors: Invalid; Stale when it was changed on another revision; NotFound when
// there is no such title.
func (s *Store) SetCashbook(ctx context.Context, title sequence.TitleID, revision int, b ledger.Cashbook) error {
	if err := b.Check(); err != nil {
		return err
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `INSERT INTO books (title_id, revision, value) SELECT ?1, 1, ?3 WHERE ?2 = 0
			ON CONFLICT (title_id) DO NOTHING`, title, revision, asJSON{b})
		if revision > 0 {
			done, err = tx.ExecContext(ctx, `UPDATE books SET revision = revision + 1, value = ?3 WHERE title_id = ?1 AND revision = ?2`, title, revision, asJSON{b})
		}
		if err != nil {
			return orphan(err, title)
		}
		if n, err := done.RowsAffected(); err != nil || n > 0 {
			return err
		}
		return &sequence.Error{Code: sequence.Stale, Message: "The book was changed in another window in the meantime.", Hint: "Look at it as it is now, then change it again."}
	})
}
