package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

// AddPhoto takes a photo into a title and gives it the next number; its own
// Number does not count, and a zero Came becomes now. When the title has a
// photo of the same content already, that one is returned, and false; if it
// lies at the same path, its Stamp is brought up to date, so that HasFile will
// know the file.
//
// Error: NotFound when there is no such title.
func (s *Store) AddPhoto(ctx context.Context, title sequence.TitleID, photo sequence.Photo) (kept sequence.Photo, added bool, err error) {
	if photo.Came.IsZero() {
		photo.Came = s.now()
	}
	err = s.write(ctx, func(tx *sql.Tx) error {
		kept, err = readPhoto(tx.QueryRowContext(ctx, photoColumns+`WHERE title_id = ? AND hash = ?`, title, photo.Hash))
		if err == nil {
			return s.restamp(ctx, tx, title, &kept, photo)
		}
		if !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		err = tx.QueryRowContext(ctx, `UPDATE titles SET last_photo = last_photo + 1 WHERE id = ? RETURNING last_photo`, title).Scan(&photo.Number)
		if errors.Is(err, sql.ErrNoRows) {
			return missing("title", title)
		}
		if err != nil {
			return err
		}
		if err = insertPhoto(ctx, tx, title, photo); err != nil {
			return err
		}
		added = true
		kept, err = readPhoto(tx.QueryRowContext(ctx, photoColumns+`WHERE title_id = ? AND number = ?`, title, photo.Number))
		return err
	})
	if err != nil {
		return sequence.Photo{}, false, err
	}
	return kept, added, nil
}

func (s *Store) restamp(ctx context.Context, tx *sql.Tx, title sequence.TitleID, kept *sequence.Photo, seen sequence.Photo) error {
	if kept.Path != seen.Path || kept.Stamp.Equal(seen.Stamp) {
		return nil
	}
	kept.Stamp = seen.Stamp.UTC().Round(0)
	_, err := tx.ExecContext(ctx, `UPDATE photos SET stamp = ? WHERE title_id = ? AND number = ?`, written(seen.Stamp), title, kept.Number)
	return err
}

const photoColumns = `SELECT number, name, path, hash, bytes, stamp, came, format, width, height, profile,
	camera, scan, roll, frame, taken_precision, taken_from, taken_to, taken_offset, taken_source,
	where_lat, where_lng, where_radius, where_source, caption, note, feeling, gaze, palette, tone, form, findings FROM photos `

func insertPhoto(ctx context.Context, tx *sql.Tx, title sequence.TitleID, p sequence.Photo) error {
	lat, lng, radius, source := spotColumns(p.Where)
	_, err := tx.ExecContext(ctx, `INSERT INTO photos (title_id, number, name, path, hash, bytes, stamp, came,
			format, width, height, profile, camera, scan, roll, frame,
			taken_precision, taken_from, taken_to, taken_offset, taken_source,
			where_lat, where_lng, where_radius, where_source, caption, note, feeling, gaze, palette, tone, form, findings)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		title, p.Number, p.Name, p.Path, p.Hash, p.Bytes, written(p.Stamp), written(p.Came),
		p.Format, p.Width, p.Height, p.Profile, p.Camera, p.Scan, p.Roll, p.Frame,
		p.Taken.Precision.String(), writtenOrNull(p.Taken.From), writtenOrNull(p.Taken.To), p.Taken.Offset, string(p.Taken.Source),
		lat, lng, radius, source, p.Caption, p.Note, asJSON{p.Feeling}, asJSON{p.Gaze}, asJSON{p.Palette}, asJSON{p.Tone}, asJSON{p.Form}, asJSON{p.Findings})
	return err
}

func spotColumns(w *place.Where) (lat, lng, radius, source any) {
	if w == nil {
		return nil, nil, nil, nil
	}
	return w.Lat, w.Lng, w.Radius, string(w.Source)
}

func readPhoto(row scanner) (sequence.Photo, error) {
	var p sequence.Photo
	var precision string
	var lat, lng, radius sql.NullFloat64
	var source sql.NullString
	err := row.Scan(&p.Number, &p.Name, &p.Path, &p.Hash, &p.Bytes, moment{&p.Stamp}, moment{&p.Came},
		&p.Format, &p.Width, &p.Height, &p.Profile, &p.Camera, &p.Scan, &p.Roll, &p.Frame,
		&precision, moment{&p.Taken.From}, moment{&p.Taken.To}, &p.Taken.Offset, &p.Taken.Source,
		&lat, &lng, &radius, &source, &p.Caption, &p.Note, asJSON{&p.Feeling}, asJSON{&p.Gaze}, asJSON{&p.Palette}, asJSON{&p.Tone}, asJSON{&p.Form}, asJSON{&p.Findings})
	if precision != place.PrecisionUnknown.String() {
		p.Taken.Precision = place.Precision(precision)
	}
	if lat.Valid {
		p.Where = &place.Where{LatLng: place.LatLng{Lat: lat.Float64, Lng: lng.Float64},
			Radius: radius.Float64, Source: place.Source(source.String)}
	}
	return p, err
}

// Photos lists a title's photos by number.
//
// Error: NotFound when there is no such title.
func (s *Store) Photos(ctx context.Context, title sequence.TitleID) ([]sequence.Photo, error) {
	return listOf(ctx, s, title, readPhoto, photoColumns+`WHERE title_id = ? ORDER BY number`)
}

// Photo returns one photo.
//
// Error: NotFound.
func (s *Store) Photo(ctx context.Context, title sequence.TitleID, number sequence.PhotoID) (sequence.Photo, error) {
	photo, err := readPhoto(s.db.QueryRowContext(ctx, photoColumns+`WHERE title_id = ? AND number = ?`, title, number))
	if errors.Is(err, sql.ErrNoRows) {
		return sequence.Photo{}, missing("photo", number)
	}
	return photo, s.coded(ctx, err)
}

// HasFile reports whether the file at path was brought in as it is: with this
// many bytes and this modification time.
func (s *Store) HasFile(ctx context.Context, title sequence.TitleID, path string, bytes int64, stamp time.Time) (has bool, err error) {
	err = s.db.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM photos WHERE title_id = ? AND path = ? AND bytes = ? AND stamp = ?)`,
		title, path, bytes, written(stamp)).Scan(&has)
	return has, s.coded(ctx, err)
}

// HasContent returns the photo that has this content, by its SHA-256 in
// lower-case hex, and whether there is one.
func (s *Store) HasContent(ctx context.Context, title sequence.TitleID, hash string) (sequence.PhotoID, bool, error) {
	var number sequence.PhotoID
	err := s.db.QueryRowContext(ctx, `SELECT number FROM photos WHERE title_id = ? AND hash = ?`, title, hash).Scan(&number)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, false, nil
	}
	return number, err == nil, s.coded(ctx, err)
}
