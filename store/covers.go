package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// Cover is what is kept of a title's cover.
type Cover struct {
	Revision int64           `json:"revision"` // counts whatever changes; 0 while nothing was decided
	Plan     pages.CoverPlan `json:"plan"`
	Brought  *BroughtCover   `json:"brought,omitempty"`
	View     int64           `json:"view"` // bytes of the picture of the flat cover; 0: there is none
	Changed  time.Time       `json:"-"`
}

// BroughtCover is a designer's PDF as it was when it was looked at.
type BroughtCover struct {
	Name  string          `json:"name"` // of the file
	Bytes int64           `json:"bytes"`
	Sum   string          `json:"sum"` // SHA-256, lower-case hex
	At    time.Time       `json:"at"`
	Shown bool            `json:"shown"` // the view was taken out of the file itself
	Facts json.RawMessage `json:"facts"` // what package press/preflight read
}

// Cover returns what is kept of a title's cover; a title of which nothing was
// decided has pages.FirstCoverPlan.
//
// Error: NotFound when there is no such title.
func (s *Store) Cover(ctx context.Context, title sequence.TitleID) (Cover, error) {
	if _, err := s.Title(ctx, title); err != nil {
		return Cover{}, err
	}
	c, err := readCover(ctx, s.db, title)
	return c, s.coded(ctx, err)
}

func readCover(ctx context.Context, q querier, title sequence.TitleID) (Cover, error) {
	c := Cover{Plan: pages.FirstCoverPlan}
	var brought sql.NullString
	err := q.QueryRowContext(ctx, `SELECT revision, changed, said, brought, coalesce(length(view), 0) FROM covers WHERE title_id = ?`, title).
		Scan(&c.Revision, moment{&c.Changed}, asJSON{&c.Plan}, &brought, &c.View)
	if errors.Is(err, sql.ErrNoRows) {
		return c, nil
	}
	if err == nil && brought.Valid {
		err = json.Unmarshal([]byte(brought.String), &c.Brought)
	}
	return c, err
}

// CoverView returns the picture of the flat cover as a JPEG file.
//
// Error: NotFound when there is none.
func (s *Store) CoverView(ctx context.Context, title sequence.TitleID) ([]byte, error) {
	var view []byte
	err := s.db.QueryRowContext(ctx, `SELECT view FROM covers WHERE title_id = ? AND view IS NOT NULL`, title).Scan(&view)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, &sequence.Error{Code: sequence.NotFound, Message: "There is no picture of this cover."}
	}
	return view, s.coded(ctx, err)
}

// PlanCover keeps what the maker decided of a cover.
//
// Whatever the error, the Cover returned is the present one, if it could be read.
// Errors: Stale when it was made on another revision; Invalid when it cannot be
// made or shows a photo the title does not have; NotFound.
func (s *Store) PlanCover(ctx context.Context, title sequence.TitleID, revision int64, plan pages.CoverPlan) (Cover, error) {
	if err := plan.Check(); err != nil {
		now, _ := s.Cover(ctx, title)
		return now, err
	}
	return s.changeCover(ctx, title, func(tx *sql.Tx, was Cover) error {
		if revision != was.Revision {
			return &sequence.Error{Code: sequence.Stale, Message: "The cover has changed since in another window.",
				Hint: "Look at it as it is now, and do it again if you still want it."}
		}
		var there int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM photos WHERE title_id = ? AND number = ?`, title, plan.Own.Photo).Scan(&there); err != nil {
			return err
		}
		if there == 0 && plan.Own.Photo != 0 {
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("This title has no photo %d.", plan.Own.Photo), Hint: "Choose one of those it has."}
		}
		_, err := tx.ExecContext(ctx, `UPDATE covers SET said = ? WHERE title_id = ?`, asJSON{plan}, title)
		return err
	})
}

// BringCover keeps what is known of a designer's PDF in place of the one before,
// whose picture goes with it; nil takes it away. view is nil when the file could
// not be shown.
//
// Error: NotFound when there is no such title.
func (s *Store) BringCover(ctx context.Context, title sequence.TitleID, brought *BroughtCover, view []byte) (Cover, error) {
	return s.changeCover(ctx, title, func(tx *sql.Tx, _ Cover) error {
		var said any
		if brought != nil {
			said = asJSON{brought}
		}
		_, err := tx.ExecContext(ctx, `UPDATE covers SET brought = ?, view = ? WHERE title_id = ?`, said, view, title)
		return err
	})
}

// ShowCover keeps a picture of the flat cover that came beside the PDF.
//
// Error: NotFound when there is no such title.
func (s *Store) ShowCover(ctx context.Context, title sequence.TitleID, view []byte) (Cover, error) {
	return s.changeCover(ctx, title, func(tx *sql.Tx, was Cover) error {
		var said any
		if was.Brought != nil {
			was.Brought.Shown = false
			said = asJSON{was.Brought}
		}
		_, err := tx.ExecContext(ctx, `UPDATE covers SET brought = ?, view = ? WHERE title_id = ?`, said, view, title)
		return err
	})
}

// changeCover is what every change of a cover goes through.
func (s *Store) changeCover(ctx context.Context, title sequence.TitleID, do func(*sql.Tx, Cover) error) (now Cover, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		if now, err = readCover(ctx, tx, title); err != nil {
			return err
		}
		was := now
		_, err := tx.ExecContext(ctx, `INSERT INTO covers (title_id, revision, changed, said) VALUES (?, 1, ?, ?)
			ON CONFLICT (title_id) DO UPDATE SET revision = revision + 1, changed = excluded.changed`, title, written(s.now()), asJSON{was.Plan})
		if err != nil {
			return orphan(err, title)
		}
		if err := do(tx, was); err != nil {
			return err
		}
		now, err = readCover(ctx, tx, title)
		return err
	})
	return now, err
}
