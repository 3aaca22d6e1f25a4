package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/proof"
)

// ProofRound is a round of proofs as it is kept.
type ProofRound struct {
	Number   int            `json:"number"`   // from 1 within the title, never given twice
	Revision int64          `json:"revision"` // how often it was written
	TakenOut bool           `json:"takenOut"` // it can be put back
	Round    proof.Round    `json:"round"`
	Findings []ProofFinding `json:"findings"` // in the order they were made
}

// ProofFinding is what a photograph of one page of a proof told.
type ProofFinding struct {
	Number   int               `json:"number"` // from 1 within the title
	Round    int               `json:"round"`
	Page     int               `json:"page"` // of the book, from 1; 0: the test strip
	At       time.Time         `json:"at"`
	Name     string            `json:"name"` // of the photograph's file
	TakenOut bool              `json:"takenOut"`
	Finding  proof.Measurement `json:"finding"`
}

// Proofs lists a title's rounds, the first first, with those taken out.
//
// Error: NotFound when there is no such title.
func (s *Store) Proofs(ctx context.Context, title sequence.TitleID) ([]ProofRound, error) {
	if _, err := s.Title(ctx, title); err != nil {
		return nil, err
	}
	rounds := []ProofRound{}
	err := s.write(ctx, func(tx *sql.Tx) (err error) { // nothing is written, but nothing comes between
		rounds, err = readRounds(ctx, tx, title)
		return err
	})
	return rounds, err
}

func readRounds(ctx context.Context, q querier, title sequence.TitleID) ([]ProofRound, error) {
	rounds := []ProofRound{}
	rows, err := q.QueryContext(ctx, `SELECT number, revision, taken_out, body FROM proof_rounds WHERE title_id = ? ORDER BY number`, title)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		r := ProofRound{Findings: []ProofFinding{}}
		var body string
		if err := rows.Scan(&r.Number, &r.Revision, &r.TakenOut, &body); err != nil {
			return nil, err
		}
		if err := json.Unmarshal([]byte(body), &r.Round); err != nil {
			return nil, err
		}
		rounds = append(rounds, r)
	}
	if err := rows.Err(); err != nil {
		return nil, err
	}
	return rounds, readFindings(ctx, q, title, rounds)
}

func readFindings(ctx context.Context, q querier, title sequence.TitleID, rounds []ProofRound) error {
	rows, err := q.QueryContext(ctx, `SELECT round, number, page, at, name, taken_out, body FROM proof_findings WHERE title_id = ? ORDER BY number`, title)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var f ProofFinding
		var body string
		if err := rows.Scan(&f.Round, &f.Number, &f.Page, moment{&f.At}, &f.Name, &f.TakenOut, &body); err != nil {
			return err
		}
		if err := json.Unmarshal([]byte(body), &f.Finding); err != nil {
			return err
		}
		for i := range rounds {
			if rounds[i].Number == f.Round {
				rounds[i].Findings = append(rounds[i].Findings, f)
			}
		}
	}
	return rows.Err()
}

// AddProofRound begins a round and returns its number.
//
// Errors: Invalid; NotFound when there is no such title.
func (s *Store) AddProofRound(ctx context.Context, title sequence.TitleID, r proof.Round) (number int, err error) {
	if err := r.Check(); err != nil {
		return 0, err
	}
	err = s.write(ctx, func(tx *sql.Tx) error {
		if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(number), 0) + 1 FROM proof_rounds WHERE title_id = ?`, title).Scan(&number); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO proof_rounds (title_id, number, revision, body) VALUES (?, ?, 1, ?)`, title, number, asJSON{r})
		return orphan(err, title)
	})
	return number, err
}

// ChangeProofRound writes a round anew, as the maker saw it at a revision.
//
// Errors: Invalid; NotFound when there is no such round; Stale when it was
// written since.
func (s *Store) ChangeProofRound(ctx context.Context, title sequence.TitleID, number int, revision int64, r proof.Round) error {
	if err := r.Check(); err != nil {
		return err
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `UPDATE proof_rounds SET body = ?, revision = revision + 1
			WHERE title_id = ? AND number = ? AND revision = ? AND taken_out = 0`, asJSON{r}, title, number, revision)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil || n == 1 {
			return err
		}
		var there bool
		if err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM proof_rounds WHERE title_id = ? AND number = ? AND taken_out = 0)`, title, number).Scan(&there); err != nil {
			return err
		}
		if !there {
			return noRound(number)
		}
		return &sequence.Error{Code: sequence.Stale, Message: "This round was changed in another window since.",
			Hint: "Look at it as it is now, and make the change again."}
	})
}

func noRound(number int) error {
	return &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("There is no round %d of proofs.", number)}
}

// TakeOutProofRound takes a round out, or puts it back.
//
// Error: NotFound.
func (s *Store) TakeOutProofRound(ctx context.Context, title sequence.TitleID, number int, out bool) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `UPDATE proof_rounds SET taken_out = ?, revision = revision + 1 WHERE title_id = ? AND number = ?`, out, title, number)
		return orNone(done, err, noRound(number))
	})
}

// AddProofFinding keeps what a photograph told, with the photograph as JPEG.
//
// Error: NotFound when there is no such round.
func (s *Store) AddProofFinding(ctx context.Context, title sequence.TitleID, f ProofFinding, picture []byte) (number int, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(number), 0) + 1 FROM proof_findings WHERE title_id = ?`, title).Scan(&number); err != nil {
			return err
		}
		done, err := tx.ExecContext(ctx, `INSERT INTO proof_findings (title_id, round, number, page, at, name, body, picture)
			SELECT title_id, number, ?, ?, ?, ?, ?, ? FROM proof_rounds WHERE title_id = ? AND number = ? AND taken_out = 0`,
			number, f.Page, written(s.now()), f.Name, asJSON{f.Finding}, picture, title, f.Round)
		return orNone(done, err, noRound(f.Round))
	})
	return number, err
}

// MeasureProofAgain replaces what a photograph told.
//
// Error: NotFound.
func (s *Store) MeasureProofAgain(ctx context.Context, title sequence.TitleID, number int, f proof.Measurement) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `UPDATE proof_findings SET body = ? WHERE title_id = ? AND number = ?`, asJSON{f}, title, number)
		return orNone(done, err, noFinding())
	})
}

// TakeOutProofFinding takes a finding out, or puts it back.
//
// Error: NotFound.
func (s *Store) TakeOutProofFinding(ctx context.Context, title sequence.TitleID, number int, out bool) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `UPDATE proof_findings SET taken_out = ? WHERE title_id = ? AND number = ?`, out, title, number)
		return orNone(done, err, noFinding())
	})
}

// ProofPicture gives the photograph of a finding, JPEG, and the page it shows.
//
// Error: NotFound.
func (s *Store) ProofPicture(ctx context.Context, title sequence.TitleID, number int) (picture []byte, page int, err error) {
	err = s.db.QueryRowContext(ctx, `SELECT picture, page FROM proof_findings WHERE title_id = ? AND number = ?`, title, number).Scan(&picture, &page)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, 0, noFinding()
	}
	return picture, page, s.coded(ctx, err)
}

func noFinding() error {
	return &sequence.Error{Code: sequence.NotFound, Message: "This photograph of a proof is not here."}
}

// orNone is none when a statement touched nothing.
func orNone(done sql.Result, err error, none error) error {
	if err != nil {
		return err
	}
	n, err := done.RowsAffected()
	if err == nil && n == 0 {
		return none
	}
	return err
}
