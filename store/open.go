package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/mattn/go-sqlite3"

	"pairwall/migrations"
	"pairwall/sequence"
)

const (
	fileName      = "pairwall.db"
	lockName      = "migration.lock"
	applicationID = 1347903852 // "PWal", as set by the first migration
)

// settings are what Open takes for granted and tests vary.
type settings struct {
	patience   time.Duration // how long to wait for another process's lock
	migrations fs.FS
	now        func() time.Time
}

// Open opens the data file in the directory dir, making both if they are not
// there, and brings the file to the present shape, after taking a dated copy
// of it into dir/backups.
//
// Errors: Unsupported when the file was made by a newer version; Damaged when
// it is no data file of ours; Unreadable when the directory cannot be used.
func Open(ctx context.Context, dir string) (*Store, error) {
	// No source for ten seconds: longer than any transaction of ours takes on
	// a slow disk, short enough for a person to wait for an answer.
	return open(ctx, dir, settings{patience: 10 * time.Second, migrations: migrations.Files, now: time.Now})
}

func open(ctx context.Context, dir string, set settings) (*Store, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("store: %w", err)
	}
	file := filepath.Join(dir, fileName)
	if err := os.MkdirAll(dir, 0o700); err != nil { // the maker's own affair
		return nil, coded(ctx, file, err)
	}
	if err := bringUpToDate(ctx, dir, set); err != nil {
		return nil, coded(ctx, file, err)
	}
	db, err := sql.Open("sqlite3", dsn(file, set.patience, true))
	if err != nil {
		return nil, coded(ctx, file, err)
	}
	s := &Store{Now: set.now, db: db, file: file, turn: make(chan struct{}, 1)}
	if err := errors.Join(s.writable(ctx), s.settleErasures(ctx)); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return s, nil
}

// writable finds out now, and not at the maker's first act, whether the file
// can be written to. The statement changes nothing, but asks for the right to:
// on a read-only file even an immediate transaction begins without complaint.
func (s *Store) writable(ctx context.Context) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM refusals WHERE 0`)
		return err
	})
}

// dsn says all that a connection needs to know, because a pragma executed on
// the pool reaches only one of its connections. Synchronous is FULL so that an
// act once confirmed outlives a power cut.
func dsn(file string, patience time.Duration, foreignKeys bool) string {
	return uri(file, url.Values{
		"_journal_mode": {"WAL"},
		"_synchronous":  {"FULL"},
		"_foreign_keys": {strconv.FormatBool(foreignKeys)},
		"_busy_timeout": {strconv.FormatInt(patience.Milliseconds(), 10)},
		"_txlock":       {"immediate"},
		// What is deleted or written over leaves nothing readable in the file.
		"_secure_delete": {"true"},
	})
}

// uri names a file for SQLite such that ?, # and % in it do no harm.
func uri(file string, parameters url.Values) string {
	path := filepath.ToSlash(file)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path // C:/… becomes /C:/…
	}
	return (&url.URL{Scheme: "file", Path: path, RawQuery: parameters.Encode()}).String()
}

// condition is what lies in the data directory before it is opened.
type condition struct {
	fresh   bool  // nothing yet
	version int64 // of the last migration that ran
}

// inspect looks at the data file without writing to it: one of another
// program, or of a newer version of ours, must stay as it is.
func inspect(ctx context.Context, file string, patience time.Duration) (condition, error) {
	if info, err := os.Stat(file); errors.Is(err, fs.ErrNotExist) || err == nil && info.Size() == 0 {
		return condition{fresh: true}, nil
	} else if err != nil {
		return condition{}, err
	}
	found, err := look(ctx, file, "ro", patience)
	var failure sqlite3.Error
	if errors.As(err, &failure) && (failure.ExtendedCode == sqlite3.ErrReadonlyRollback || failure.ExtendedCode == sqlite3.ErrReadonlyRecovery) {
		// Whoever wrote to it last was killed. Nothing can be read before that
		// is rolled back, and every reader would do so.
		found, err = look(ctx, file, "rw", patience)
	}
	return found, err
}

func look(ctx context.Context, file, mode string, patience time.Duration) (condition, error) {
	db, err := sql.Open("sqlite3", uri(file, url.Values{"mode": {mode}, "_busy_timeout": {strconv.FormatInt(patience.Milliseconds(), 10)}}))
	if err != nil {
		return condition{}, err
	}
	defer db.Close()
	var application, tables int64
	err = db.QueryRowContext(ctx, `SELECT (SELECT application_id FROM pragma_application_id),
		(SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\_%' ESCAPE '\' AND name <> 'goose_db_version')`).
		Scan(&application, &tables)
	switch {
	case err != nil:
		return condition{}, err
	case application != applicationID && tables == 0: // begun, but the first migration was cut short
		return condition{fresh: true}, nil
	case application != applicationID:
		return condition{}, &sequence.Error{Code: sequence.Damaged,
			Message: fmt.Sprintf("The file %s belongs to another program.", file),
			Hint:    "Choose another data folder, or move the file away."}
	}
	var found condition
	err = db.QueryRowContext(ctx, `SELECT max(version_id) FROM goose_db_version`).Scan(&found.version)
	return found, err
}
