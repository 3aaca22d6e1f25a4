package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/mattn/go-sqlite3"
	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"pairwall/sequence"
)

// TitleSummary is a title with what a list of titles shows of it.
type TitleSummary struct {
	sequence.Title
	Photos  int       `json:"photos"`
	Spreads int       `json:"spreads"`
	LastAct time.Time `json:"lastAct"` // the wall's last change, or the title's creation
}

const longestName = 200 // runes; no source: a cover holds fewer

// CreateTitle makes a title with an empty wall. Runs of white space in the
// name become one space each.
//
// Errors: Invalid when the name is empty or longer than 200 runes; Conflict
// when another title has it, differences of case and space not counting.
func (s *Store) CreateTitle(ctx context.Context, name string) (sequence.Title, error) {
	name, err := tidy(name, "title")
	if err != nil {
		return sequence.Title{}, err
	}
	title := sequence.Title{Name: name, Created: s.now(), Weights: map[string]float64{}}
	empty := sequence.Sequence{}.Clone() // its lists are [] in JSON
	err = s.write(ctx, func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, `INSERT INTO titles (name, folded, created) VALUES (?, ?, ?) RETURNING id`,
			name, folded(name), written(title.Created)).Scan(&title.ID)
		if err != nil {
			return taken(err, name)
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO walls (title_id, revision, reached, state) VALUES (?, 0, ?, ?)`,
			title.ID, written(title.Created), asJSON{empty})
		return err
	})
	if err != nil {
		return sequence.Title{}, err
	}
	return title, nil
}

// tidy is the one form of a name the maker typed.
func tidy(name, of string) (string, error) {
	name = strings.Join(strings.Fields(name), " ")
	switch {
	case name == "":
		return "", &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("A %s needs a name.", of)}
	case !utf8.ValidString(name), strings.ContainsRune(name, 0):
		return "", &sequence.Error{Code: sequence.Invalid, Message: "This name cannot be read.", Hint: "Type it again."}
	case utf8.RuneCountInString(name) > longestName:
		return "", &sequence.Error{Code: sequence.Invalid,
			Message: fmt.Sprintf("The name of a %s can have %d letters at most.", of, longestName), Hint: "Choose a shorter one."}
	}
	return name, nil
}

// folded is what two names have in common that are the same to a reader: case,
// runs of space, and the several ways Unicode has of writing one letter do not
// count.
func folded(name string) string {
	return strings.Join(strings.Fields(cases.Fold().String(norm.NFKC.String(name))), " ")
}

func taken(err error, name string) error {
	if broke(err, sqlite3.ErrConstraintUnique) {
		return &sequence.Error{Code: sequence.Conflict, Message: fmt.Sprintf("There is a title named “%s” already.", name),
			Hint: "Choose another name.", Err: err}
	}
	return err
}

// Titles lists all titles, the one worked on last first.
func (s *Store) Titles(ctx context.Context) ([]TitleSummary, error) {
	return list(ctx, s, func(row scanner) (TitleSummary, error) {
		var t TitleSummary
		err := row.Scan(&t.ID, &t.Name, moment{&t.Created}, asJSON{&t.Weights}, &t.Binding, &t.Photos, &t.Spreads, moment{&t.LastAct})
		return t, err
	}, `SELECT t.id, t.name, t.created, t.weights, t.binding,
			(SELECT count(*) FROM photos WHERE title_id = t.id),
			json_array_length(w.state, '$.spreads'), w.reached
		FROM titles t JOIN walls w ON w.title_id = t.id
		ORDER BY w.reached DESC, t.id DESC`)
}

const titleColumns = `SELECT id, name, created, weights, binding FROM titles `

func readTitle(row scanner) (sequence.Title, error) {
	var t sequence.Title
	err := row.Scan(&t.ID, &t.Name, moment{&t.Created}, asJSON{&t.Weights}, &t.Binding)
	return t, err
}

// Title returns a title.
//
// Error: NotFound.
func (s *Store) Title(ctx context.Context, id sequence.TitleID) (sequence.Title, error) {
	title, err := readTitle(s.db.QueryRowContext(ctx, titleColumns+`WHERE id = ?`, id))
	if errors.Is(err, sql.ErrNoRows) {
		return sequence.Title{}, missing("title", id)
	}
	return title, s.coded(ctx, err)
}

// TitleNamed returns the title of that name, differences of case and space not
// counting.
//
// Error: NotFound.
func (s *Store) TitleNamed(ctx context.Context, name string) (sequence.Title, error) {
	title, err := readTitle(s.db.QueryRowContext(ctx, titleColumns+`WHERE folded = ?`, folded(name)))
	if errors.Is(err, sql.ErrNoRows) {
		return sequence.Title{}, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("There is no title named “%s”.", name)}
	}
	return title, s.coded(ctx, err)
}

// RenameTitle gives a title another name.
//
// Errors: as CreateTitle; NotFound.
func (s *Store) RenameTitle(ctx context.Context, id sequence.TitleID, name string) error {
	name, err := tidy(name, "title")
	if err != nil {
		return err
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `UPDATE titles SET name = ?, folded = ? WHERE id = ?`, name, folded(name), id)
		if err != nil {
			return taken(err, name)
		}
		return touched(done, "title", id)
	})
}

// SetWeights says how much each kind of evidence counts for this maker.
//
// Errors: Invalid when a weight is not within 0..1; NotFound.
func (s *Store) SetWeights(ctx context.Context, id sequence.TitleID, weights map[string]float64) error {
	for kind, weight := range weights {
		if !(weight >= 0 && weight <= 1) { // so that NaN is refused
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("A weight lies between 0 and 1; that of %s is %g.", kind, weight)}
		}
	}
	if weights == nil {
		weights = map[string]float64{}
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `UPDATE titles SET weights = ? WHERE id = ?`, asJSON{weights}, id)
		if err != nil {
			return err
		}
		return touched(done, "title", id)
	})
}

// touched is NotFound when a statement changed no row.
func touched(done sql.Result, kind string, id any) error {
	rows, err := done.RowsAffected()
	if err == nil && rows == 0 {
		return missing(kind, id)
	}
	return err
}
