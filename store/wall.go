package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"pairwall/sequence"
)

// Wall is the sequence of a title as it stands, with what undo and redo would
// do to it.
type Wall struct {
	Sequence sequence.Sequence `json:"sequence"`
	Undo     string            `json:"undo"` // the act that would be undone, in words; "" for none
	Redo     string            `json:"redo"` // the act that would be done again, in words; "" for none
}

// Reached returns when the wall became what it is: the time of its last change,
// or of the title's creation.
//
// Error: NotFound when there is no such title.
func (s *Store) Reached(ctx context.Context, title sequence.TitleID) (reached time.Time, err error) {
	err = s.db.QueryRowContext(ctx, `SELECT reached FROM walls WHERE title_id = ?`, title).Scan(moment{&reached})
	if errors.Is(err, sql.ErrNoRows) {
		err = missing("title", title)
	}
	return reached, s.coded(ctx, err)
}

// Wall returns the wall as it stands.
//
// Error: NotFound when there is no such title.
func (s *Store) Wall(ctx context.Context, title sequence.TitleID) (Wall, error) {
	p, err := readPresent(ctx, s.db, title)
	return p.Wall, s.coded(ctx, err)
}

// Apply carries out a change made on the wall and writes it to the journal.
// When the sitting before it is over, the state that sitting ended with is
// kept as a version first. from names the window the change came from.
//
// Whatever the error, the Wall returned is the present one, if it could be
// read. Errors: Stale when the change was made on another revision; Invalid
// when it does not fit the wall, names a photo that the title does not have,
// changes nothing, or does not say what it is; NotFound when there is no such
// title.
func (s *Store) Apply(ctx context.Context, title sequence.TitleID, change sequence.Change, from string) (sequence.Entry, Wall, error) {
	return s.change(ctx, title, change.Revision, from, func(_ *sql.Tx, p present) (sequence.Entry, error) {
		return sequence.NextAct(p.last, change), nil
	})
}

// Undo takes back the act that Wall.Undo tells of. revision is that of the wall
// the maker sees.
//
// Errors and Wall as for Apply; NotFound also when there is nothing to undo.
func (s *Store) Undo(ctx context.Context, title sequence.TitleID, revision int64, from string) (sequence.Entry, Wall, error) {
	return s.change(ctx, title, revision, from, func(tx *sql.Tx, p present) (sequence.Entry, error) {
		target, before, err := readTarget(ctx, tx, title, p.last.UndoNext)
		if err != nil {
			return sequence.Entry{}, err
		}
		return sequence.NextUndo(p.last, target, before)
	})
}

// Redo does again the act that Wall.Redo tells of. revision is that of the wall
// the maker sees.
//
// Errors and Wall as for Apply; NotFound also when there is nothing to redo.
func (s *Store) Redo(ctx context.Context, title sequence.TitleID, revision int64, from string) (sequence.Entry, Wall, error) {
	return s.change(ctx, title, revision, from, func(tx *sql.Tx, p present) (sequence.Entry, error) {
		target, before, err := readTarget(ctx, tx, title, p.last.RedoNext)
		if err != nil {
			return sequence.Entry{}, err
		}
		return sequence.NextRedo(p.last, target, before)
	})
}

// change is what every change goes through: the wall is read, the entry made
// for it and both carried out, with nothing else in between.
func (s *Store) change(ctx context.Context, title sequence.TitleID, revision int64, from string,
	next func(*sql.Tx, present) (sequence.Entry, error)) (sequence.Entry, Wall, error) {
	var was present
	var entry sequence.Entry
	var wall Wall
	err := s.write(ctx, func(tx *sql.Tx) (err error) {
		if was, err = readPresent(ctx, tx, title); err != nil {
			return err
		}
		if revision != was.Sequence.Revision {
			return stale(revision, was.Sequence.Revision)
		}
		if entry, err = next(tx, was); err != nil {
			return err
		}
		entry.At, entry.From = s.now(), from
		wall, err = enter(ctx, tx, title, was, entry)
		return err
	})
	if err != nil {
		return sequence.Entry{}, was.Wall, err
	}
	return entry, wall, nil
}

func stale(made, is int64) error {
	return &sequence.Error{Code: sequence.Stale,
		Message: fmt.Sprintf("The wall has changed since: this was done on state %d, the wall is at %d.", made, is),
		Hint:    "Look at the wall as it is now and do it again if you still want it."}
}

// enter carries out an entry on the wall it was made for.
func enter(ctx context.Context, tx *sql.Tx, title sequence.TitleID, was present, entry sequence.Entry) (Wall, error) {
	next, err := was.Sequence.Apply(entry.Change)
	if err != nil {
		return Wall{}, err
	}
	if err := sensible(ctx, tx, title, entry.Change); err != nil {
		return Wall{}, err
	}
	if err := hold(ctx, tx, title, entry.Change.Says); err != nil {
		return Wall{}, err
	}
	if sequence.SittingOver(was.last.At, entry.At) || entry.Change.GoesOver() { // a line that is left keeps its last state
		if err := keepIfOther(ctx, tx, title); err != nil {
			return Wall{}, err
		}
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO journal (title_id, revision, way, of, undo_next, redo_next, at, origin, change) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		title, entry.Revision, string(entry.Way), entry.Of, entry.UndoNext, entry.RedoNext, written(entry.At), entry.From, asJSON{entry.Change})
	if err != nil {
		return Wall{}, err
	}
	_, err = tx.ExecContext(ctx, `UPDATE walls SET revision = ?, reached = ?, state = ? WHERE title_id = ?`,
		next.Revision, written(entry.At), asJSON{next}, title)
	if err != nil {
		return Wall{}, err
	}
	wall := Wall{Sequence: next}
	err = tx.QueryRowContext(ctx, `SELECT
			coalesce((SELECT change ->> '$.act' FROM journal WHERE title_id = ?1 AND revision = ?2), ''),
			coalesce((SELECT change ->> '$.act' FROM journal WHERE title_id = ?1 AND revision = ?3), '')`,
		title, entry.UndoNext, entry.RedoNext).Scan(&wall.Undo, &wall.Redo)
	return wall, err
}

// sensible checks what a sequence cannot know about a change.
func sensible(ctx context.Context, tx *sql.Tx, title sequence.TitleID, c sequence.Change) error {
	if len(c.Steps) == 0 && len(c.Says) == 0 {
		return &sequence.Error{Code: sequence.Invalid, Message: "This act changes nothing."}
	}
	if strings.TrimSpace(c.Act) == "" { // the undo button would say nothing
		return &sequence.Error{Code: sequence.Invalid, Message: "This act does not say what it does."}
	}
	named := c.Photos()
	rows, err := tx.QueryContext(ctx, `SELECT value FROM json_each(?)
		WHERE value NOT IN (SELECT number FROM photos WHERE title_id = ?) ORDER BY value`, asJSON{named}, title)
	if err != nil {
		return err
	}
	defer rows.Close()
	var strangers []string
	for rows.Next() {
		var number string
		if err := rows.Scan(&number); err != nil {
			return err
		}
		strangers = append(strangers, number)
	}
	if len(strangers) > 0 {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("This title has no photo %s.", strings.Join(strangers, ", ")),
			Hint: "Reload the page to see the photos it has."}
	}
	return rows.Err()
}

// present is the wall with the journal's end.
type present struct {
	Wall
	last sequence.Entry // the zero Entry on a wall that was never changed
}

func readPresent(ctx context.Context, q querier, title sequence.TitleID) (present, error) {
	var p present
	err := q.QueryRowContext(ctx, `SELECT w.state, w.revision, coalesce(l.undo_next, 0), coalesce(l.redo_next, 0), l.at,
			coalesce(u.change ->> '$.act', ''), coalesce(r.change ->> '$.act', '')
		FROM walls w
		LEFT JOIN journal l ON l.title_id = w.title_id AND l.revision = w.revision
		LEFT JOIN journal u ON u.title_id = w.title_id AND u.revision = l.undo_next
		LEFT JOIN journal r ON r.title_id = w.title_id AND r.revision = l.redo_next
		WHERE w.title_id = ?`, title).
		Scan(asJSON{&p.Sequence}, &p.last.Revision, &p.last.UndoNext, &p.last.RedoNext, moment{&p.last.At}, &p.Undo, &p.Redo)
	if errors.Is(err, sql.ErrNoRows) {
		return present{}, missing("title", title)
	}
	return p, err
}

const entryColumns = `SELECT revision, way, of, undo_next, redo_next, at, origin, change FROM journal WHERE title_id = ? `

func readEntry(row scanner) (sequence.Entry, error) {
	var e sequence.Entry
	err := row.Scan(&e.Revision, &e.Way, &e.Of, &e.UndoNext, &e.RedoNext, moment{&e.At}, &e.From, asJSON{&e.Change})
	return e, err
}

// readTarget returns the entry of a revision and the one just before it; the
// zero Entry stands for one that does not exist.
func readTarget(ctx context.Context, q querier, title sequence.TitleID, revision int64) (target, before sequence.Entry, err error) {
	target, err = readEntry(q.QueryRowContext(ctx, entryColumns+`AND revision = ?`, title, revision))
	if err == nil {
		before, err = readEntry(q.QueryRowContext(ctx, entryColumns+`AND revision = ?`, title, revision-1))
	}
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return target, before, err
}

// Journal lists the entries after a revision, 0 for all, in the order they
// were made.
//
// Error: NotFound when there is no such title.
func (s *Store) Journal(ctx context.Context, title sequence.TitleID, after int64) ([]sequence.Entry, error) {
	return listOf(ctx, s, title, readEntry, entryColumns+`AND revision > ? ORDER BY revision`, after)
}
