package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"pairwall/sequence"
)

// The states a bring can be in.
const (
	Running   = "running"
	Done      = "done"
	Cancelled = "cancelled"
	Failed    = "failed"
	BrokenOff = "broken off" // Pairwall ended while it ran
)

// Bring is one job of bringing photos in, kept so that a stopped one can go on
// later.
type Bring struct {
	ID      int64            `json:"id"`
	Title   sequence.TitleID `json:"title"`
	Sources []string         `json:"sources"` // folders and files
	State   string           `json:"state"`
	Found   int              `json:"found"`   // files that look like pictures
	Read    int              `json:"read"`    // of these, new photos
	Known   int              `json:"known"`   // brought in before
	Refused int              `json:"refused"` // could not be brought in
	Started time.Time        `json:"started"`
	Ended   *time.Time       `json:"ended,omitempty"` // nil while it runs; for one broken off, when that was noticed
	Words   string           `json:"words"`
}

// StartBring notes that a job begins.
//
// Errors: Invalid when there is nothing to bring in; NotFound when there is no
// such title.
func (s *Store) StartBring(ctx context.Context, title sequence.TitleID, sources []string) (Bring, error) {
	if len(sources) == 0 {
		return Bring{}, &sequence.Error{Code: sequence.Invalid, Message: "Nothing was chosen to bring in.", Hint: "Choose a folder or some files."}
	}
	b := Bring{Title: title, Sources: sources, State: Running, Started: s.now()}
	err := s.write(ctx, func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, `INSERT INTO brings (title_id, sources, state, started) VALUES (?, ?, ?, ?) RETURNING id`,
			title, asJSON{sources}, b.State, written(b.Started)).Scan(&b.ID)
		return orphan(err, title)
	})
	if err != nil {
		return Bring{}, err
	}
	return b, nil
}

// SaveBring keeps how far a job has come: state, figures, end and words. A job
// that goes on is saved as running, and has no end. Title, Sources and Started
// stay as they were.
//
// Errors: Invalid when there is no such state; NotFound when there is no such
// job.
func (s *Store) SaveBring(ctx context.Context, b Bring) error {
	switch b.State {
	case Running, Done, Cancelled, Failed, BrokenOff:
	default:
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("Bringing in cannot be “%s”.", b.State)}
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `UPDATE brings SET state = ?, found = ?, read = ?, known = ?, refused = ?, ended = ?, words = ? WHERE id = ?`,
			b.State, b.Found, b.Read, b.Known, b.Refused, writtenOrAbsent(b.Ended), b.Words, b.ID)
		if err != nil {
			return err
		}
		return touched(done, "bringing in", b.ID)
	})
}

const bringColumns = `SELECT id, title_id, sources, state, found, read, known, refused, started, ended, words FROM brings `

func readBring(row scanner) (Bring, error) {
	var b Bring
	var ended time.Time
	err := row.Scan(&b.ID, &b.Title, asJSON{&b.Sources}, &b.State, &b.Found, &b.Read, &b.Known, &b.Refused, moment{&b.Started}, moment{&ended}, &b.Words)
	if !ended.IsZero() {
		b.Ended = &ended
	}
	return b, err
}

// Bring returns one job.
//
// Error: NotFound.
func (s *Store) Bring(ctx context.Context, id int64) (Bring, error) {
	b, err := readBring(s.db.QueryRowContext(ctx, bringColumns+`WHERE id = ?`, id))
	if errors.Is(err, sql.ErrNoRows) {
		return Bring{}, missing("bringing in", id)
	}
	return b, s.coded(ctx, err)
}

// Brings lists a title's jobs, the newest first.
//
// Error: NotFound when there is no such title.
func (s *Store) Brings(ctx context.Context, title sequence.TitleID) ([]Bring, error) {
	return listOf(ctx, s, title, readBring, bringColumns+`WHERE title_id = ? ORDER BY id DESC`)
}

// BreakOffBrings is for the start of the program: jobs that are still running
// by their state were cut short when it last ended. One that another process
// really is running puts itself right when it is next saved.
func (s *Store) BreakOffBrings(ctx context.Context) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE brings SET state = ?, ended = ?, words = ? WHERE state = ?`,
			BrokenOff, written(s.now()), "Pairwall ended before everything was brought in.", Running)
		return err
	})
}
