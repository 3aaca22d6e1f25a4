package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/pressly/goose/v3"

	"pairwall/migrations"
	"pairwall/sequence"
)

// Pack writes all that is known of one title, its journal and its versions
// included, into a data file of its own at path, which must not be there yet.
// Without places no position, no track, no path of this machine and nothing that
// was between the maker and printers or buyers goes along: what was stated of places is left
// out of the journal too.
//
// Errors: NotFound when there is no such title; Unreadable when the file cannot
// be written.
func (s *Store) Pack(ctx context.Context, title sequence.TitleID, path string, places bool) error {
	if _, err := s.Title(ctx, title); err != nil {
		return err
	}
	if err := emptyData(ctx, path, migrations.Latest()); err != nil {
		return coded(ctx, path, err)
	}
	return s.beside(ctx, path, "rw", func(tx *sql.Tx) error {
		tables, err := tablesOf(ctx, tx, "main")
		if err != nil {
			return err
		}
		for _, t := range tables {
			if err := packTable(ctx, tx, t, title, places); err != nil {
				return fmt.Errorf("packing %s: %w", t.name, err)
			}
		}
		return nil
	})
}

// beside runs do in a transaction with another data file attached as pack.
// Foreign keys are checked at its end: tables come in no particular order.
func (s *Store) beside(ctx context.Context, path, mode string, do func(*sql.Tx) error) error {
	conn, err := s.db.Conn(ctx)
	if err != nil {
		return s.coded(ctx, err)
	}
	defer conn.Close()
	if _, err := conn.ExecContext(ctx, `ATTACH ? AS pack`, uri(path, map[string][]string{"mode": {mode}})); err != nil {
		return coded(ctx, path, err)
	}
	defer func() { _, _ = conn.ExecContext(context.WithoutCancel(ctx), `DETACH pack`) }()
	return s.within(ctx, conn, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `PRAGMA defer_foreign_keys = ON`); err != nil {
			return err
		}
		return do(tx)
	})
}

// emptyData makes a data file of a form with nothing in it.
func emptyData(ctx context.Context, path string, form int64) error {
	db, err := sql.Open("sqlite3", uri(path, nil))
	if err != nil {
		return err
	}
	db.SetMaxOpenConns(1)
	defer db.Close()
	steps, err := goose.NewProvider(goose.DialectSQLite3, db, migrations.Files, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	_, err = steps.UpTo(ctx, form)
	return err
}

func packTable(ctx context.Context, tx *sql.Tx, t table, title sequence.TitleID, places bool) error {
	values := t.names()
	if t.name == "parcel_acts" { // they name parcels within JSON, and what was packed elsewhere is not taken back here
		return nil
	}
	if !places {
		switch t.name {
		case "tracks", "refusals", // where somebody went; which folders this machine has
			"inquiry", "inquiry_acts", // what printers ask for
			"proof_rounds", "proof_findings", // and how they print
			"orders", "order_lists", "copies", "decisions", "erasures", "parcels", "parcel_copies", "books": // who bought, and the maker's own prices
			return nil
		case "journal":
			return packJournal(ctx, tx, t, title)
		case "photos", "brings":
			values = strings.Join(withoutPlaces(t), ", ")
		}
	}
	_, err := tx.ExecContext(ctx, fmt.Sprintf(`INSERT INTO pack.%s (%s) SELECT %s FROM main.%s WHERE %s = ? ORDER BY %s`,
		t.name, t.names(), values, t.name, t.belongs(), t.order()), title)
	return err
}

// withoutPlaces is what stands for each column when places stay at home.
func withoutPlaces(t table) []string {
	values := quoted(t.columns)
	for i, column := range t.columns {
		switch {
		case strings.HasPrefix(column, "where_"):
			values[i] = "NULL"
		case column == "path":
			values[i] = `"name"`
		case column == "sources":
			values[i] = `'[]'`
		case column == "words" && t.name == "brings":
			values[i] = `''`
		}
	}
	return values
}

// packJournal copies the journal without what it says of places.
func packJournal(ctx context.Context, tx *sql.Tx, t table, title sequence.TitleID) error {
	rows, err := tx.QueryContext(ctx, fmt.Sprintf(`SELECT %s FROM main.journal WHERE title_id = ? ORDER BY %s`, t.names(), t.order()), title)
	if err != nil {
		return err
	}
	defer rows.Close()
	into := fmt.Sprintf(`INSERT INTO pack.journal (%s) VALUES (?%s)`, t.names(), strings.Repeat(", ?", len(t.columns)-1))
	for rows.Next() {
		row := make([]any, len(t.columns))
		at := make([]any, len(row))
		for i := range row {
			at[i] = &row[i]
		}
		if err := rows.Scan(at...); err != nil {
			return err
		}
		for i, column := range t.columns {
			if column == "change" {
				if row[i], err = placeless(row[i]); err != nil {
					return err
				}
			}
		}
		if _, err := tx.ExecContext(ctx, into, row...); err != nil {
			return err
		}
	}
	return rows.Err()
}

// placeless leaves places out of a change as the journal has it. Its words may
// name one, so they go with it.
func placeless(written any) (string, error) {
	text, ok := written.(string)
	if !ok {
		return "", fmt.Errorf("a change is %T", written)
	}
	var change sequence.Change
	if err := json.Unmarshal([]byte(text), &change); err != nil {
		return "", err
	}
	var says []sequence.Statement
	for _, said := range change.Says {
		if said.Fact != sequence.WhereFact {
			says = append(says, said)
		}
	}
	if len(says) == len(change.Says) {
		return text, nil
	}
	change.Says, change.Act = says, "say where it was taken"
	kept, err := json.Marshal(change)
	return string(kept), err
}

// Unpack takes a title out of a data file that Pack made, here or elsewhere, by
// this version or an older one. Its name is kept when it is free. The file at
// path is brought to the present form on the way: give a copy. found says where
// the original of a hash lies now; a photo whose original it does not know
// becomes one whose original is missing.
//
// Errors: Damaged for a file that is not what Pack makes; Unsupported for one
// of a newer version.
func (s *Store) Unpack(ctx context.Context, path string, found func(hash string) (string, bool)) (sequence.Title, error) {
	if err := isPack(ctx, path); err != nil {
		return sequence.Title{}, err
	}
	var id sequence.TitleID
	err := s.beside(ctx, path, "ro", func(tx *sql.Tx) (err error) {
		id, err = s.unpack(ctx, tx, found)
		return err
	})
	if err != nil {
		return sequence.Title{}, err
	}
	return s.Title(ctx, id)
}

func (s *Store) unpack(ctx context.Context, tx *sql.Tx, found func(string) (string, bool)) (sequence.TitleID, error) {
	var name string
	var one int
	if err := tx.QueryRowContext(ctx, `SELECT count(*), coalesce(max(name), '') FROM pack.titles`).Scan(&one, &name); err != nil {
		return 0, err
	}
	if one != 1 {
		return 0, notAPack(fmt.Errorf("%d titles", one))
	}
	name, err := freeName(ctx, tx, name)
	if err != nil {
		return 0, err
	}
	tables, err := tablesOf(ctx, tx, "main")
	if err != nil {
		return 0, err
	}
	shift, err := shifts(ctx, tx, tables)
	if err != nil {
		return 0, err
	}
	for _, t := range tables {
		if err := unpackTable(ctx, tx, t, shift, name); err != nil {
			return 0, fmt.Errorf("unpacking %s: %w", t.name, err)
		}
	}
	var id sequence.TitleID
	if err := tx.QueryRowContext(ctx, `SELECT id + ? FROM pack.titles`, shift[titlesTable]).Scan(&id); err != nil {
		return 0, err
	}
	return id, settleOriginals(ctx, tx, id, found)
}

// freeName is the title's name, with a number when another has it already.
func freeName(ctx context.Context, tx *sql.Tx, name string) (string, error) {
	for n := 1; ; n++ {
		free := name
		if n > 1 {
			free = fmt.Sprintf("%s (%d)", name, n)
		}
		tidied, err := tidy(free, "title")
		if err != nil {
			return "", notAPack(err)
		}
		var taken int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM main.titles WHERE folded = ?`, folded(tidied)).Scan(&taken); err != nil || taken == 0 {
			return tidied, err
		}
	}
}

// shifts says by how much the ids of each table must move so that none meets
// one that is here, or was here once.
func shifts(ctx context.Context, tx *sql.Tx, tables []table) (map[string]int64, error) {
	shift := make(map[string]int64)
	for _, t := range tables {
		if !t.counted {
			continue
		}
		var here int64
		err := tx.QueryRowContext(ctx, `SELECT max(coalesce((SELECT seq FROM main.sqlite_sequence WHERE name = ?), 0), coalesce((SELECT max(id) FROM main.`+t.name+`), 0))`, t.name).Scan(&here)
		if err != nil {
			return nil, err
		}
		shift[t.name] = here
	}
	return shift, nil
}

func unpackTable(ctx context.Context, tx *sql.Tx, t table, shift map[string]int64, name string) error {
	values := quoted(t.columns)
	var args []any
	for i, column := range t.columns {
		of, refers := t.refers[column]
		switch {
		case column == titleColumn:
			of, refers = titlesTable, true
		case t.counted && column == "id":
			of, refers = t.name, true
		}
		if refers {
			values[i] += fmt.Sprintf(" + %d", shift[of])
		}
		if t.name == titlesTable && (column == "name" || column == "folded") {
			values[i] = "?"
			if column == "folded" {
				args = append(args, folded(name))
			} else {
				args = append(args, name)
			}
		}
	}
	_, err := tx.ExecContext(ctx, fmt.Sprintf(`INSERT INTO main.%s (%s) SELECT %s FROM pack.%s ORDER BY %s`,
		t.name, t.names(), strings.Join(values, ", "), t.name, t.order()), args...)
	return err
}

// settleOriginals says of each photo where its original lies on this machine.
func settleOriginals(ctx context.Context, tx *sql.Tx, title sequence.TitleID, found func(string) (string, bool)) error {
	hashes, err := texts(ctx, tx, `SELECT hash FROM main.photos WHERE title_id = ?`, title)
	if err != nil {
		return err
	}
	for _, hash := range hashes {
		if path, ok := found(hash); ok {
			if _, err := tx.ExecContext(ctx, `UPDATE main.photos SET path = ? WHERE title_id = ? AND hash = ?`, path, title, hash); err != nil {
				return err
			}
		}
	}
	return nil
}

// isPack looks whether a file can be trusted to be what Pack makes, and brings
// it to the present form. What it describes as its tables must be, to the
// letter, what its form has: a file from elsewhere may hold anything.
func isPack(ctx context.Context, path string) error {
	found, err := inspect(ctx, path, time.Second)
	if err != nil {
		return notAPack(err)
	}
	if found.fresh {
		return notAPack(errors.New("it is empty"))
	}
	if found.version > migrations.Latest() {
		return &sequence.Error{Code: sequence.Unsupported, Message: "This title was packed by a newer version of Pairwall.", Hint: "Open it with that version or a newer one. Nothing was changed."}
	}
	if err := check(ctx, path); err != nil {
		return notAPack(err)
	}
	model := filepath.Join(filepath.Dir(path), "model-of-"+filepath.Base(path))
	if err := emptyData(ctx, model, found.version); err != nil {
		return coded(ctx, model, err)
	}
	has, err := schemaOf(ctx, path)
	if err != nil {
		return notAPack(err)
	}
	wants, err := schemaOf(ctx, model)
	if err != nil {
		return coded(ctx, model, err)
	}
	if has != wants {
		return notAPack(errors.New("its tables are not ours"))
	}
	return coded(ctx, path, emptyData(ctx, path, migrations.Latest()))
}

// schemaOf is all a data file says of its tables, indexes and triggers.
func schemaOf(ctx context.Context, path string) (string, error) {
	db, err := sql.Open("sqlite3", uri(path, map[string][]string{"mode": {"ro"}}))
	if err != nil {
		return "", err
	}
	defer db.Close()
	lines, err := texts(ctx, db, `SELECT type || ' ' || name || ' ' || coalesce(sql, '') FROM sqlite_schema ORDER BY 1`)
	return strings.Join(lines, "\n"), err
}

func notAPack(err error) error {
	return &sequence.Error{Code: sequence.Damaged, Message: "This file is no packed title, or it is damaged.",
		Hint: "Pack the title again where it came from. Nothing was changed.", Err: err}
}
