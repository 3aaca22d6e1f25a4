package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"pairwall/sequence"
)

const (
	versionFields  = `id, at, named, name, why, slip, looked, state`
	versionColumns = `SELECT ` + versionFields + ` FROM versions `
)

func readVersion(row scanner) (sequence.Version, error) {
	var v sequence.Version
	var looked time.Time
	err := row.Scan(&v.ID, moment{&v.At}, &v.Named, &v.Name, &v.Why, &v.Slip, moment{&looked}, asJSON{&v.Sequence})
	if !looked.IsZero() {
		v.Looked = &looked
	}
	return v, err
}

// Versions lists a title's versions, the newest state first. When the last
// sitting is over, its end is among them.
//
// Error: NotFound when there is no such title.
func (s *Store) Versions(ctx context.Context, title sequence.TitleID) ([]sequence.Version, error) {
	if err := s.closeSittings(ctx, `AND w.title_id = ?`, title); err != nil {
		return nil, err
	}
	return listOf(ctx, s, title, readVersion, versionColumns+`WHERE title_id = ? ORDER BY revision DESC`)
}

// Version returns one version.
//
// Error: NotFound.
func (s *Store) Version(ctx context.Context, title sequence.TitleID, id sequence.VersionID) (sequence.Version, error) {
	v, err := oneVersion(ctx, s.db, title, id)
	return v, s.coded(ctx, err)
}

func oneVersion(ctx context.Context, q querier, title sequence.TitleID, id sequence.VersionID) (sequence.Version, error) {
	v, err := readVersion(q.QueryRowContext(ctx, versionColumns+`WHERE title_id = ? AND id = ?`, title, id))
	if errors.Is(err, sql.ErrNoRows) {
		return sequence.Version{}, missing("version", id)
	}
	return v, err
}

// KeepVersion keeps the present state under a name, dated when the state was
// reached. If the state is a version already, that one gets the name.
//
// Errors: Invalid when the name is empty or longer than 200 runes; NotFound
// when there is no such title.
func (s *Store) KeepVersion(ctx context.Context, title sequence.TitleID, name string) (kept sequence.Version, err error) {
	if name, err = tidy(name, "version"); err != nil {
		return sequence.Version{}, err
	}
	err = s.write(ctx, func(tx *sql.Tx) error {
		if err := keepPresent(ctx, tx, title); err != nil {
			return err
		}
		kept, err = readVersion(tx.QueryRowContext(ctx, `UPDATE versions SET named = 1, name = ?
			WHERE title_id = ? AND revision = (SELECT revision FROM walls WHERE title_id = ?)
			RETURNING `+versionFields, name, title, title))
		if errors.Is(err, sql.ErrNoRows) {
			return missing("title", title)
		}
		return err
	})
	if err != nil {
		return sequence.Version{}, err
	}
	return kept, nil
}

// keepPresent makes the present state a version, unless it is one.
func keepPresent(ctx context.Context, tx *sql.Tx, title sequence.TitleID) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO versions (title_id, revision, at, named, name, state)
		SELECT title_id, revision, reached, 0, '', state FROM walls WHERE title_id = ?
		ON CONFLICT (title_id, revision) DO NOTHING`, title)
	return err
}

// keepIfOther keeps the present state by itself, unless the last version of its
// line of work shows the same wall: then there is nothing new to keep.
func keepIfOther(ctx context.Context, tx *sql.Tx, title sequence.TitleID) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO versions (title_id, revision, at, named, name, state)
		SELECT title_id, revision, reached, 0, '', state FROM walls WHERE title_id = ?1 AND json_remove(state, '$.revision', '$.last') IS NOT
			(SELECT json_remove(v.state, '$.revision', '$.last') FROM versions v
			WHERE v.title_id = ?1 AND coalesce(v.state ->> '$.line', 0) = coalesce(walls.state ->> '$.line', 0) ORDER BY v.revision DESC LIMIT 1)
		ON CONFLICT (title_id, revision) DO NOTHING`, title)
	return err
}

// VersionAmendment is what the maker says of a version; what is nil stays as it
// is.
type VersionAmendment struct {
	Name   *string // makes it one named by the maker
	Why    *string // any words, "" for none
	Slip   *bool   // a paper slip: worth coming back to
	Looked bool    // it was looked at just now
}

const longestWhy = 2000 // runes, as of a caption

// AmendVersion writes down what the maker says of a version.
//
// Errors: Invalid when the name is empty or longer than 200 runes, or the words
// are longer than 2000; NotFound.
func (s *Store) AmendVersion(ctx context.Context, title sequence.TitleID, id sequence.VersionID, say VersionAmendment) (amended sequence.Version, err error) {
	if say.Name != nil {
		if *say.Name, err = tidy(*say.Name, "version"); err != nil {
			return sequence.Version{}, err
		}
	}
	if say.Why != nil {
		if *say.Why, err = tidyWhy(*say.Why); err != nil {
			return sequence.Version{}, err
		}
	}
	err = s.write(ctx, func(tx *sql.Tx) error {
		amended, err = readVersion(tx.QueryRowContext(ctx, `UPDATE versions SET
				named = CASE WHEN ?3 IS NULL THEN named ELSE 1 END, name = coalesce(?3, name),
				why = coalesce(?4, why), slip = coalesce(?5, slip), looked = coalesce(?6, looked)
			WHERE title_id = ?1 AND id = ?2 RETURNING `+versionFields, title, id, say.Name, say.Why, say.Slip, looked(say.Looked, s.now())))
		if errors.Is(err, sql.ErrNoRows) {
			return missing("version", id)
		}
		return err
	})
	if err != nil {
		return sequence.Version{}, err
	}
	return amended, nil
}

func looked(now bool, at time.Time) any {
	if !now {
		return nil
	}
	return written(at)
}

// tidyWhy is the one form of words that may run over several lines.
func tidyWhy(words string) (string, error) {
	words = strings.TrimSpace(strings.ToValidUTF8(strings.ReplaceAll(words, "\x00", ""), ""))
	if utf8.RuneCountInString(words) > longestWhy {
		return "", &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("That is longer than %d characters.", longestWhy), Hint: "Shorten it."}
	}
	return words, nil
}

// CloseSittings keeps the state of every title whose last sitting is over as a
// version, unless it is one.
func (s *Store) CloseSittings(ctx context.Context) error { return s.closeSittings(ctx, ``) }

// sitting is a run of changes by where it ended.
type sitting struct {
	title    sequence.TitleID
	revision int64
	reached  time.Time
}

// closeSittings does so for the titles that a condition on the wall w picks.
func (s *Store) closeSittings(ctx context.Context, condition string, args ...any) error {
	last, err := list(ctx, s, func(row scanner) (end sitting, err error) {
		err = row.Scan(&end.title, &end.revision, moment{&end.reached})
		return end, err
	}, `SELECT w.title_id, w.revision, w.reached FROM walls w WHERE w.revision > 0
		AND NOT EXISTS (SELECT 1 FROM versions v WHERE v.title_id = w.title_id AND v.revision = w.revision) `+condition, args...)
	if err != nil {
		return err
	}
	for _, end := range last {
		if !sequence.SittingOver(end.reached, s.now()) {
			continue
		}
		if err := s.closeSitting(ctx, end); err != nil {
			return err
		}
	}
	return nil
}

// closeSitting keeps the state a sitting ended with. If the wall has moved on
// meanwhile, the change that moved it has done so itself.
func (s *Store) closeSitting(ctx context.Context, end sitting) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		var revision int64
		err := tx.QueryRowContext(ctx, `SELECT revision FROM walls WHERE title_id = ?`, end.title).Scan(&revision)
		if err != nil || revision != end.revision {
			return err
		}
		return keepIfOther(ctx, tx, end.title)
	})
}

// BringBack makes the wall what it was in a version, as one change that can be
// undone like any other. The present state is kept as a version first, unless
// it is one. revision is that of the wall the maker sees.
//
// Errors and Wall as for Apply; NotFound also when there is no such version;
// Invalid also when the wall is already as the version has it.
func (s *Store) BringBack(ctx context.Context, title sequence.TitleID, id sequence.VersionID, revision int64, from string) (sequence.Entry, Wall, error) {
	return s.change(ctx, title, revision, from, func(tx *sql.Tx, p present) (sequence.Entry, error) {
		version, err := oneVersion(ctx, tx, title, id)
		if err != nil {
			return sequence.Entry{}, err
		}
		change, err := sequence.Between(p.Sequence, version.Sequence, "bring back "+s.called(version))
		if err != nil {
			return sequence.Entry{}, err
		}
		if len(change.Steps) == 0 {
			return sequence.Entry{}, &sequence.Error{Code: sequence.Invalid, Message: "The wall is already as this version has it."}
		}
		return sequence.NextAct(p.last, change), keepIfOther(ctx, tx, title)
	})
}

// called is how a version is spoken of: by its name, or by its date where the
// maker's clock is.
func (s *Store) called(v sequence.Version) string {
	if v.Named {
		return fmt.Sprintf("“%s”", v.Name)
	}
	return "the version of " + v.At.In(s.Now().Location()).Format("2 January 2006, 15:04")
}
