package store

import (
	"context"
	"database/sql"
	"time"

	"pairwall/sequence"
)

// Unmeasured lists a title's photos whose measures are of an edition before
// this one, by number.
//
// Error: NotFound when there is no such title.
func (s *Store) Unmeasured(ctx context.Context, title sequence.TitleID, edition int) ([]sequence.Photo, error) {
	return listOf(ctx, s, title, readPhoto, photoColumns+`WHERE title_id = ? AND coalesce(form ->> '$.measured', 0) < ? ORDER BY number`, edition)
}

// UpdateMeasures keeps the palette, tone and form of a photo that was measured
// again, and nothing else of it; facts, whoever stated them, stay.
//
// Error: NotFound when the title has no photo of that number and content.
func (s *Store) UpdateMeasures(ctx context.Context, title sequence.TitleID, p sequence.Photo) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `UPDATE photos SET palette = ?, tone = ?, form = ? WHERE title_id = ? AND number = ? AND hash = ?`,
			asJSON{p.Palette}, asJSON{p.Tone}, asJSON{p.Form}, title, p.Number, p.Hash)
		if err != nil {
			return err
		}
		return touched(done, "photo", p.Number)
	})
}

// Relink keeps where a photo's original lies now: its path, the name it has
// there and its time. The content must be the photo's own; who calls has seen
// to that.
//
// Errors: Invalid for an empty path; NotFound.
func (s *Store) Relink(ctx context.Context, title sequence.TitleID, number sequence.PhotoID, path, name string, stamp time.Time) error {
	if path == "" || name == "" {
		return &sequence.Error{Code: sequence.Invalid, Message: "An original lies somewhere."}
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `UPDATE photos SET path = ?, name = ?, stamp = ? WHERE title_id = ? AND number = ?`,
			path, name, written(stamp), title, number)
		if err != nil {
			return err
		}
		return touched(done, "photo", number)
	})
}
