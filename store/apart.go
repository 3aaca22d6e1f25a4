package store

import (
	"context"
	"database/sql"

	"github.com/mattn/go-sqlite3"

	"pairwall/sequence"
)

// KeepApart notes that two photos are never to face each other, or with apart
// false that they may again. Which of the two is named first does not matter, nor
// whether it was so already.
//
// Errors: Invalid for a photo with itself; NotFound for a photo or title that is
// not there.
func (s *Store) KeepApart(ctx context.Context, title sequence.TitleID, pair sequence.Pair, apart bool) error {
	one, other := min(pair[0], pair[1]), max(pair[0], pair[1])
	if one == other {
		return &sequence.Error{Code: sequence.Invalid, Message: "A photo cannot be kept apart from itself.", Hint: "Name two photos."}
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		if !apart {
			_, err := tx.ExecContext(ctx, `DELETE FROM kept_apart WHERE title_id = ? AND one = ? AND other = ?`, title, one, other)
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO kept_apart (title_id, one, other) VALUES (?, ?, ?)
			ON CONFLICT (title_id, one, other) DO NOTHING`, title, one, other)
		if broke(err, sqlite3.ErrConstraintForeignKey) {
			return &sequence.Error{Code: sequence.NotFound, Message: "One of these two photos is not in this title."}
		}
		return err
	})
}

// Apart lists the pairs that are never to face each other, lower numbers first.
//
// Error: NotFound when there is no such title.
func (s *Store) Apart(ctx context.Context, title sequence.TitleID) ([]sequence.Pair, error) {
	return listOf(ctx, s, title, func(row scanner) (sequence.Pair, error) {
		var p sequence.Pair
		err := row.Scan(&p[0], &p[1])
		return p, err
	}, `SELECT one, other FROM kept_apart WHERE title_id = ? ORDER BY one, other`)
}
