package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"github.com/mattn/go-sqlite3"

	"pairwall/sequence"
)

// Store is an open data directory. Its methods may be called from several
// goroutines at once.
type Store struct {
	Now func() time.Time // the clock; tests replace it before the first call

	db   *sql.DB
	file string
	turn chan struct{} // held by the one goroutine that writes
}

// Close releases the data file.
func (s *Store) Close() error { return s.db.Close() }

// now is the present moment as it will be read back: in UTC, without the
// monotonic part.
func (s *Store) now() time.Time { return s.Now().UTC().Round(0) }

// querier is what reads: the pool outside transactions, or a transaction.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// beginner is what transactions begin on: the pool, or one of its connections.
type beginner interface {
	BeginTx(ctx context.Context, options *sql.TxOptions) (*sql.Tx, error)
}

// write runs do in an immediate transaction. Writers of this process queue up
// before SQLite's lock rather than at it: its waiting is by sleeping, and not
// in order.
func (s *Store) write(ctx context.Context, do func(*sql.Tx) error) error {
	return s.within(ctx, s.db, do)
}

// within is write on a connection of the caller's choice.
func (s *Store) within(ctx context.Context, on beginner, do func(*sql.Tx) error) error {
	select {
	case s.turn <- struct{}{}:
		defer func() { <-s.turn }()
	case <-ctx.Done():
		return s.coded(ctx, ctx.Err())
	}
	tx, err := on.BeginTx(ctx, nil)
	if err != nil {
		return s.coded(ctx, err)
	}
	defer tx.Rollback() // does nothing after Commit
	if err := do(tx); err != nil {
		return s.coded(ctx, err)
	}
	return s.coded(ctx, tx.Commit())
}

// list runs a query outside any transaction and reads its rows one by one.
func list[T any](ctx context.Context, s *Store, read func(scanner) (T, error), query string, args ...any) ([]T, error) {
	rows, err := s.db.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, s.coded(ctx, err)
	}
	defer rows.Close()
	all := []T{} // never nil: it becomes [] in JSON
	for rows.Next() {
		one, err := read(rows)
		if err != nil {
			return nil, s.coded(ctx, err)
		}
		all = append(all, one)
	}
	return all, s.coded(ctx, rows.Err())
}

// listOf is list for what belongs to a title, which may have none of it, but
// must be there.
func listOf[T any](ctx context.Context, s *Store, title sequence.TitleID, read func(scanner) (T, error), query string, args ...any) ([]T, error) {
	all, err := list(ctx, s, read, query, append([]any{title}, args...)...)
	if err == nil && len(all) == 0 {
		_, err = s.Title(ctx, title)
	}
	if err != nil {
		return nil, err
	}
	return all, nil
}

// broke reports whether err says that a constraint of this kind was broken.
func broke(err error, constraint sqlite3.ErrNoExtended) bool {
	var failure sqlite3.Error
	return errors.As(err, &failure) && failure.ExtendedCode == constraint
}
