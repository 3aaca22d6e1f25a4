package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/mattn/go-sqlite3"

	"pairwall/sequence"
)

// Lines lists a title's lines of work in the order they were begun; there is
// always a first one.
//
// Error: NotFound when there is no such title.
func (s *Store) Lines(ctx context.Context, title sequence.TitleID) ([]sequence.Line, error) {
	lines, err := linesOf(ctx, s.db, title)
	return lines, s.coded(ctx, err)
}

func linesOf(ctx context.Context, q querier, title sequence.TitleID) ([]sequence.Line, error) {
	rows, err := q.QueryContext(ctx, `SELECT number, name, began, origin, root FROM lines WHERE title_id = ?1
		UNION ALL SELECT 0, ?2, created, 0, 0 FROM titles WHERE id = ?1 AND NOT EXISTS (SELECT 1 FROM lines WHERE title_id = ?1 AND number = 0)
		ORDER BY 1`, title, sequence.FirstLine)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var lines []sequence.Line
	for rows.Next() {
		var l sequence.Line
		if err := rows.Scan(&l.ID, &l.Name, moment{&l.Began}, &l.From, &l.Root); err != nil {
			return nil, err
		}
		lines = append(lines, l)
	}
	if len(lines) == 0 && rows.Err() == nil {
		return nil, missing("title", title)
	}
	return lines, rows.Err()
}

// NameLine gives a line of work another name.
//
// Errors: Invalid when the name is empty or longer than 200 runes; Conflict
// when another line of the title has it; NotFound.
func (s *Store) NameLine(ctx context.Context, title sequence.TitleID, line sequence.LineID, name string) error {
	name, err := tidy(name, "line of work")
	if err != nil {
		return err
	}
	return s.write(ctx, func(tx *sql.Tx) error { return nameLine(ctx, tx, title, line, name) })
}

func nameLine(ctx context.Context, tx *sql.Tx, title sequence.TitleID, line sequence.LineID, name string) error {
	if err := writeFirstLine(ctx, tx, title); err != nil {
		return err
	}
	done, err := tx.ExecContext(ctx, `UPDATE lines SET name = ?, folded = ? WHERE title_id = ? AND number = ?`, name, folded(name), title, line)
	if err != nil {
		return lineTaken(err, name)
	}
	return touched(done, "line of work", line)
}

// writeFirstLine makes sure that the first line has a row, so that no other can
// take its name.
func writeFirstLine(ctx context.Context, tx *sql.Tx, title sequence.TitleID) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO lines (title_id, number, name, folded, began, origin, root)
		SELECT id, 0, ?, ?, created, 0, 0 FROM titles WHERE id = ? ON CONFLICT (title_id, number) DO NOTHING`,
		sequence.FirstLine, folded(sequence.FirstLine), title)
	return err
}

func lineTaken(err error, name string) error {
	if broke(err, sqlite3.ErrConstraintUnique) {
		return &sequence.Error{Code: sequence.Conflict, Message: fmt.Sprintf("There is a line of work named “%s” already.", name),
			Hint: "Choose another name.", Err: err}
	}
	return err
}

func newLine(ctx context.Context, tx *sql.Tx, title sequence.TitleID, l sequence.Line) (sequence.LineID, error) {
	if err := writeFirstLine(ctx, tx, title); err != nil {
		return 0, err
	}
	err := tx.QueryRowContext(ctx, `INSERT INTO lines (title_id, number, name, folded, began, origin, root)
		SELECT ?1, max(number) + 1, ?2, ?3, ?4, ?5, ?6 FROM lines WHERE title_id = ?1 RETURNING number`,
		title, l.Name, folded(l.Name), written(l.Began), l.From, l.Root).Scan(&l.ID)
	return l.ID, lineTaken(err, l.Name)
}

// NewLine is a line of work to be begun beside the present one.
type NewLine struct {
	From    sequence.VersionID // the version to go on from; 0 for the wall as it is
	Name    string
	Present string // another name for the line that the wall is on now; "" to leave it
}

// BeginLine begins a line of work from a version and goes over to it, as one
// change that can be undone like any other. The present state is kept as a
// version of its own line.
//
// Errors and Wall as for Apply; NotFound also when there is no such version;
// Invalid also when a name is empty or longer than 200 runes; Conflict when
// another line of the title has it.
func (s *Store) BeginLine(ctx context.Context, title sequence.TitleID, begin NewLine, revision int64, from string) (sequence.Entry, Wall, error) {
	name, err := tidy(begin.Name, "line of work")
	if err != nil {
		return sequence.Entry{}, Wall{}, err
	}
	return s.change(ctx, title, revision, from, func(tx *sql.Tx, p present) (sequence.Entry, error) {
		state, act := p.Sequence, fmt.Sprintf("go on as “%s”", name)
		if begin.From != 0 {
			version, err := oneVersion(ctx, tx, title, begin.From)
			if err != nil {
				return sequence.Entry{}, err
			}
			state, act = version.Sequence, fmt.Sprintf("go on from %s as “%s”", s.called(version), name)
		}
		if begin.Present != "" {
			present, err := tidy(begin.Present, "line of work")
			if err != nil {
				return sequence.Entry{}, err
			}
			if err := nameLine(ctx, tx, title, p.Sequence.Line, present); err != nil {
				return sequence.Entry{}, err
			}
		}
		line, err := newLine(ctx, tx, title, sequence.Line{Name: name, Began: s.now(), From: state.Line, Root: state.Revision})
		if err != nil {
			return sequence.Entry{}, err
		}
		change, err := sequence.GoOver(p.Sequence, state, line, act)
		return sequence.NextAct(p.last, change), err
	})
}

// GoOver goes over to another line of work as it was left, as one change that
// can be undone like any other. The present state is kept as a version of its
// own line.
//
// Errors and Wall as for Apply; NotFound also when there is no such line;
// Invalid also when the wall is on it already.
func (s *Store) GoOver(ctx context.Context, title sequence.TitleID, line sequence.LineID, revision int64, from string) (sequence.Entry, Wall, error) {
	return s.change(ctx, title, revision, from, func(tx *sql.Tx, p present) (sequence.Entry, error) {
		var name string
		err := tx.QueryRowContext(ctx, `SELECT name FROM lines WHERE title_id = ? AND number = ?`, title, line).Scan(&name)
		if errors.Is(err, sql.ErrNoRows) {
			return sequence.Entry{}, missing("line of work", line)
		}
		if err != nil {
			return sequence.Entry{}, err
		}
		state := p.Sequence
		if line != state.Line {
			// Whoever left it, by a change or by undoing one, has kept its state.
			last, err := readVersion(tx.QueryRowContext(ctx, versionColumns+
				`WHERE title_id = ? AND coalesce(state ->> '$.line', 0) = ? ORDER BY revision DESC LIMIT 1`, title, line))
			if err != nil {
				return sequence.Entry{}, err
			}
			state = last.Sequence
		}
		change, err := sequence.GoOver(p.Sequence, state, line, fmt.Sprintf("go over to “%s”", name))
		return sequence.NextAct(p.last, change), err
	})
}

// Aside is a state that was made beside the wall: remade from memory, or read
// off a wall of paper.
type Aside struct {
	State sequence.Sequence // its revision, line and highest spread number do not count
	Line  string            // the name of the line of work it is kept in; begun if there is none of that name
	Name  string            // of the version
	Why   string
}

// KeepAside keeps a state as a version without touching the wall: the journal
// goes over to the state's line of work and back at once, so that the version
// can be replayed like any other, and undo and redo are as they were.
//
// Errors and Wall as for Apply and BeginLine.
func (s *Store) KeepAside(ctx context.Context, title sequence.TitleID, aside Aside, revision int64, from string) (kept sequence.Version, back sequence.Entry, wall Wall, err error) {
	if aside.Name, err = tidy(aside.Name, "version"); err != nil {
		return kept, back, wall, err
	}
	if aside.Line, err = tidy(aside.Line, "line of work"); err != nil {
		return kept, back, wall, err
	}
	if aside.Why, err = tidyWhy(aside.Why); err != nil {
		return kept, back, wall, err
	}
	var was present
	err = s.write(ctx, func(tx *sql.Tx) (err error) {
		if was, err = readPresent(ctx, tx, title); err != nil {
			return err
		}
		if revision != was.Sequence.Revision {
			return stale(revision, was.Sequence.Revision)
		}
		change, err := s.asideChange(ctx, tx, title, was, aside)
		if err != nil {
			return err
		}
		var there sequence.Entry
		there, back = sequence.NextAside(was.last, change)
		there.At, there.From = s.now(), from
		back.At, back.From = there.At, from
		if kept, err = enterAside(ctx, tx, title, was, there, aside); err != nil {
			return err
		}
		beside, err := readPresent(ctx, tx, title)
		if err != nil {
			return err
		}
		wall, err = enter(ctx, tx, title, beside, back)
		return err
	})
	if err != nil {
		return sequence.Version{}, sequence.Entry{}, was.Wall, err
	}
	return kept, back, wall, nil
}

func (s *Store) asideChange(ctx context.Context, tx *sql.Tx, title sequence.TitleID, was present, aside Aside) (sequence.Change, error) {
	line, err := s.lineNamed(ctx, tx, title, aside.Line, was)
	if err != nil {
		return sequence.Change{}, err
	}
	act := fmt.Sprintf("keep “%s” aside", aside.Name)
	if line == was.Sequence.Line {
		return sequence.Between(was.Sequence, aside.State, act)
	}
	return sequence.GoOver(was.Sequence, aside.State, line, act)
}

func enterAside(ctx context.Context, tx *sql.Tx, title sequence.TitleID, was present, there sequence.Entry, aside Aside) (sequence.Version, error) {
	if _, err := enter(ctx, tx, title, was, there); err != nil {
		return sequence.Version{}, err
	}
	if err := keepPresent(ctx, tx, title); err != nil {
		return sequence.Version{}, err
	}
	return readVersion(tx.QueryRowContext(ctx, `UPDATE versions SET named = 1, name = ?, why = ? WHERE title_id = ? AND revision = ? RETURNING `+versionFields,
		aside.Name, aside.Why, title, there.Revision))
}

func (s *Store) lineNamed(ctx context.Context, tx *sql.Tx, title sequence.TitleID, name string, p present) (line sequence.LineID, err error) {
	err = tx.QueryRowContext(ctx, `SELECT number FROM lines WHERE title_id = ? AND folded = ?`, title, folded(name)).Scan(&line)
	if errors.Is(err, sql.ErrNoRows) {
		return newLine(ctx, tx, title, sequence.Line{Name: name, Began: s.now(), From: p.Sequence.Line, Root: p.Sequence.Revision})
	}
	return line, err
}
