package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"fmt"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place/track"
)

// Track is what one file of tracks holds, without its points.
type Track struct {
	ID       int64              `json:"id"`
	Name     string             `json:"name"` // of its first track that has one; otherwise the file's
	From     string             `json:"from"` // the file's own name
	Points   int                `json:"points"`
	Start    *time.Time         `json:"start,omitempty"` // of the first point, in UTC; nil when none knows its time
	End      *time.Time         `json:"end,omitempty"`
	Findings []sequence.Finding `json:"findings"`
}

// TrackFile is the tracks of one file on their way in.
type TrackFile struct {
	From     string
	Tracks   []track.Track
	Findings []sequence.Finding
}

// Points counts the points of all tracks of a file.
func (f TrackFile) Points() int {
	points := 0
	for _, t := range f.Tracks {
		for _, segment := range t.Segments {
			points += len(segment)
		}
	}
	return points
}

// AddTracks keeps the tracks of files, all or none. A file whose points the
// title has already is passed over.
//
// Error: NotFound when there is no such title.
func (s *Store) AddTracks(ctx context.Context, title sequence.TitleID, files []TrackFile) error {
	type row struct {
		Track
		hash string
		ways []byte
	}
	rows := make([]row, len(files))
	for i, f := range files {
		data := packWays(f.Tracks)
		packed, err := deflated(data)
		if err != nil {
			return err
		}
		rows[i] = row{summed(f), fmt.Sprintf("%x", sha256.Sum256(data)), packed}
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		for _, r := range rows {
			_, err := tx.ExecContext(ctx, `INSERT INTO tracks (title_id, name, origin, points, began, ended, findings, hash, ways)
				VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (title_id, hash) DO NOTHING`,
				title, r.Name, r.From, r.Points, writtenOrAbsent(r.Start), writtenOrAbsent(r.End), asJSON{r.Findings}, r.hash, r.ways)
			if err != nil {
				return orphan(err, title)
			}
		}
		return nil
	})
}

// summed says what a file's tracks hold together.
func summed(f TrackFile) Track {
	sum := Track{From: f.From, Findings: f.Findings}
	if sum.Findings == nil {
		sum.Findings = []sequence.Finding{}
	}
	for _, t := range f.Tracks {
		if sum.Name == "" {
			sum.Name = t.Name
		}
		for _, segment := range t.Segments {
			for _, p := range segment {
				if !p.Valid() {
					continue
				}
				sum.Points++
				sum.reach(p.At)
			}
		}
	}
	if sum.Name == "" {
		sum.Name = f.From
	}
	return sum
}

func (t *Track) reach(at time.Time) {
	if at.IsZero() {
		return
	}
	at = at.UTC()
	if t.Start == nil || at.Before(*t.Start) {
		t.Start = &at
	}
	if t.End == nil || at.After(*t.End) {
		t.End = &at
	}
}

// Tracks lists a title's tracks, the earliest first and those that know no time
// behind them.
//
// Error: NotFound when there is no such title.
func (s *Store) Tracks(ctx context.Context, title sequence.TitleID) ([]Track, error) {
	return listOf(ctx, s, title, func(row scanner) (Track, error) {
		var t Track
		var began, ended time.Time
		err := row.Scan(&t.ID, &t.Name, &t.From, &t.Points, moment{&began}, moment{&ended}, asJSON{&t.Findings})
		if !began.IsZero() {
			t.Start, t.End = &began, &ended
		}
		return t, err
	}, `SELECT id, name, origin, points, began, ended, findings FROM tracks WHERE title_id = ? ORDER BY began IS NULL, began, id`)
}

// Ways gives a title's tracks with their points, positions to a centimetre and
// times to a microsecond, in the order of Tracks.
//
// Error: NotFound when there is no such title.
func (s *Store) Ways(ctx context.Context, title sequence.TitleID) ([]track.Track, error) {
	files, err := listOf(ctx, s, title, func(row scanner) ([]track.Track, error) {
		var packed []byte
		if err := row.Scan(&packed); err != nil {
			return nil, err
		}
		return unpackWays(packed)
	}, `SELECT ways FROM tracks WHERE title_id = ? ORDER BY began IS NULL, began, id`)
	var all []track.Track
	for _, tracks := range files {
		all = append(all, tracks...)
	}
	return all, err
}

// RemoveTrack takes a file's tracks away. What photos have borrowed from it
// stays.
//
// Error: NotFound.
func (s *Store) RemoveTrack(ctx context.Context, title sequence.TitleID, id int64) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `DELETE FROM tracks WHERE title_id = ? AND id = ?`, title, id)
		if err != nil {
			return err
		}
		return touched(done, "track", id)
	})
}
