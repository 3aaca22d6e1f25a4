package store

import (
	"context"
	"database/sql"

	"pairwall/sequence"
)

// hold keeps what a change says of photos, with the photos. sensible has seen
// to it that the title has them.
func hold(ctx context.Context, tx *sql.Tx, title sequence.TitleID, says []sequence.Statement) error {
	for _, said := range says {
		photo, err := readPhoto(tx.QueryRowContext(ctx, photoColumns+`WHERE title_id = ? AND number = ?`, title, said.Photo))
		if err != nil {
			return err
		}
		if photo, err = photo.State(said); err != nil {
			return err
		}
		if err := updateFacts(ctx, tx, title, photo); err != nil {
			return err
		}
	}
	return nil
}

func updateFacts(ctx context.Context, tx *sql.Tx, title sequence.TitleID, p sequence.Photo) error {
	lat, lng, radius, source := spotColumns(p.Where)
	_, err := tx.ExecContext(ctx, `UPDATE photos SET roll = ?, frame = ?, caption = ?, note = ?, feeling = ?, gaze = ?,
			taken_precision = ?, taken_from = ?, taken_to = ?, taken_offset = ?, taken_source = ?,
			where_lat = ?, where_lng = ?, where_radius = ?, where_source = ?
		WHERE title_id = ? AND number = ?`,
		p.Roll, p.Frame, p.Caption, p.Note, asJSON{p.Feeling}, asJSON{p.Gaze},
		p.Taken.Precision.String(), writtenOrNull(p.Taken.From), writtenOrNull(p.Taken.To), p.Taken.Offset, string(p.Taken.Source),
		lat, lng, radius, source, title, p.Number)
	return err
}
