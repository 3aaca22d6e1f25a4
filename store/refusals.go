package store

import (
	"context"
	"database/sql"
	"time"

	"github.com/mattn/go-sqlite3"

	"pairwall/sequence"
)

// Refusal is a file that could not be brought in, and why.
type Refusal struct {
	Path  string        `json:"path"`
	Code  sequence.Code `json:"code"`
	Words string        `json:"words"` // a plain sentence
	Hint  string        `json:"hint"`
	At    time.Time     `json:"at"`
}

// Refuse keeps a refusal, in place of an earlier one of the same path. A zero
// At becomes now.
//
// Error: NotFound when there is no such title.
func (s *Store) Refuse(ctx context.Context, title sequence.TitleID, r Refusal) error {
	if r.At.IsZero() {
		r.At = s.now()
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO refusals (title_id, path, code, words, hint, at) VALUES (?, ?, ?, ?, ?, ?)
			ON CONFLICT (title_id, path) DO UPDATE SET code = excluded.code, words = excluded.words, hint = excluded.hint, at = excluded.at`,
			title, r.Path, string(r.Code), r.Words, r.Hint, written(r.At))
		return orphan(err, title)
	})
}

// orphan turns a broken reference into NotFound for the title it was to.
func orphan(err error, title sequence.TitleID) error {
	if broke(err, sqlite3.ErrConstraintForeignKey) {
		return missing("title", title)
	}
	return err
}

// Refusals lists a title's refusals by path.
//
// Error: NotFound when there is no such title.
func (s *Store) Refusals(ctx context.Context, title sequence.TitleID) ([]Refusal, error) {
	return listOf(ctx, s, title, func(row scanner) (Refusal, error) {
		var r Refusal
		err := row.Scan(&r.Path, &r.Code, &r.Words, &r.Hint, moment{&r.At})
		return r, err
	}, `SELECT path, code, words, hint, at FROM refusals WHERE title_id = ? ORDER BY path`)
}

// ForgetRefusal takes a refusal away; it may be gone already.
func (s *Store) ForgetRefusal(ctx context.Context, title sequence.TitleID, path string) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM refusals WHERE title_id = ? AND path = ?`, title, path)
		return err
	})
}
