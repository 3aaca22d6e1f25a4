package store

import (
	"context"
	"database/sql"

	"pairwall/sequence"
)

// ThinOut takes versions away that the program kept by itself. All go or none.
// Their states stay in the journal and can be kept again with PutBack.
//
// Errors: NotFound when there is no such version; Conflict when the maker spoke
// of one, or it is the last of its line of work.
func (s *Store) ThinOut(ctx context.Context, title sequence.TitleID, ids []sequence.VersionID) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		for _, id := range ids {
			if _, err := oneVersion(ctx, tx, title, id); err != nil {
				return err
			}
			done, err := tx.ExecContext(ctx, `DELETE FROM versions AS v WHERE v.title_id = ? AND v.id = ? AND v.named = 0 AND v.slip = 0 AND v.why = ''
				AND EXISTS (SELECT 1 FROM versions w WHERE w.title_id = v.title_id AND w.revision > v.revision
					AND coalesce(w.state ->> '$.line', 0) = coalesce(v.state ->> '$.line', 0))`, title, id)
			if err != nil {
				return err
			}
			if rows, err := done.RowsAffected(); err != nil || rows == 0 {
				return conflictOr(err)
			}
		}
		return nil
	})
}

func conflictOr(err error) error {
	if err != nil {
		return err
	}
	return &sequence.Error{Code: sequence.Conflict, Message: "One of these versions must stay: it was spoken of, or its line of work was left with it.",
		Hint: "Look at the preview again. Nothing was taken away."}
}

// PutBack keeps states as versions that a replay of the journal has led to,
// unless they are versions. It returns how many it kept.
//
// Error: Invalid when a state is newer than the wall.
func (s *Store) PutBack(ctx context.Context, title sequence.TitleID, states []sequence.Version) (kept int, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		p, err := readPresent(ctx, tx, title)
		if err != nil {
			return err
		}
		kept = 0
		for _, v := range states {
			if v.Sequence.Revision > p.Sequence.Revision {
				return &sequence.Error{Code: sequence.Invalid, Message: "This state has not been reached yet."}
			}
			done, err := tx.ExecContext(ctx, `INSERT INTO versions (title_id, revision, at, named, name, state) VALUES (?, ?, ?, 0, '', ?)
				ON CONFLICT (title_id, revision) DO NOTHING`, title, v.Sequence.Revision, written(v.At), asJSON{v.Sequence})
			if err != nil {
				return err
			}
			rows, err := done.RowsAffected()
			if err != nil {
				return err
			}
			kept += int(rows)
		}
		return nil
	})
	return kept, err
}
