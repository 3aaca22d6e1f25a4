package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/pressly/goose/v3"

	"pairwall/sequence"
)

func backupsOf(dir string) string { return filepath.Join(dir, "backups") }

// bringUpToDate runs the migrations that the data file in dir has not seen,
// after taking a copy of it.
func bringUpToDate(ctx context.Context, dir string, set settings) (err error) {
	file := filepath.Join(dir, fileName)
	// A pool of one connection without foreign keys: see package migrations.
	db, err := sql.Open("sqlite3", dsn(file, set.patience, false))
	if err != nil {
		return err
	}
	db.SetMaxOpenConns(1)
	defer func() { err = errors.Join(err, db.Close()) }()
	steps, err := goose.NewProvider(goose.DialectSQLite3, db, set.migrations, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	sources := steps.ListSources()
	latest := sources[len(sources)-1].Version
	if pending, _, err := behind(ctx, file, latest, set.patience); !pending || err != nil {
		return err
	}

	unlock, err := lock(ctx, dir)
	if err != nil {
		return err
	}
	defer unlock()
	pending, found, err := behind(ctx, file, latest, set.patience) // another process may have been quicker
	if !pending || err != nil {
		return err
	}
	if found.fresh {
		_, err = steps.Up(ctx)
		return err
	}
	backup, err := takeCopy(ctx, db, dir, found.version, set.now())
	if err != nil {
		return err
	}
	if _, err := steps.Up(ctx); err != nil {
		return unfinished(coded(ctx, file, err), backup)
	}
	return nil
}

// behind reports whether migrations are pending.
//
// Error: Unsupported when the file has seen migrations that we do not know.
func behind(ctx context.Context, file string, latest int64, patience time.Duration) (bool, condition, error) {
	found, err := inspect(ctx, file, patience)
	if err == nil && found.version > latest {
		err = &sequence.Error{Code: sequence.Unsupported,
			Message: fmt.Sprintf("The data in %s was made by a newer version of Pairwall (its data has form %d, this version knows up to %d).", filepath.Dir(file), found.version, latest),
			Hint:    "Use the newer version, or another data folder. Nothing was changed."}
	}
	return found.version < latest, found, err
}

// unfinished says what became of the data when a migration failed. Each one is
// all or nothing, so the file is whole whatever happened.
func unfinished(err error, backup string) error {
	told := sequence.Error{Code: sequence.Internal, Message: "The data could not be brought into the form this version of Pairwall needs."}
	var known *sequence.Error
	if errors.As(err, &known) {
		told = *known
	}
	told.Hint = strings.TrimSpace(told.Hint + " Nothing was lost; a copy of the data as it was is " + backup + ".")
	told.Err = err
	return &told
}

// lock lets one process at a time prepare the data file of dir. It is a lock
// of SQLite's on a file of its own, which the system releases when the process
// dies, on every system SQLite runs on.
func lock(ctx context.Context, dir string) (unlock func(), err error) {
	// A minute: the other process may be copying a large file.
	db, err := sql.Open("sqlite3", uri(filepath.Join(dir, lockName), url.Values{"_txlock": {"exclusive"}, "_busy_timeout": {"60000"}}))
	if err != nil {
		return nil, err
	}
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return func() { tx.Rollback(); db.Close() }, nil
}

// takeCopy writes a whole, checked copy of the data file into the backups of
// dir and returns its path. The name tells the time in UTC and the form of the
// data, and is given only when the copy is complete and on disk.
func takeCopy(ctx context.Context, db *sql.DB, dir string, version int64, at time.Time) (string, error) {
	if err := os.MkdirAll(backupsOf(dir), 0o700); err != nil {
		return "", err
	}
	unfinished := filepath.Join(backupsOf(dir), "unfinished.db")
	if err := os.Remove(unfinished); err != nil && !errors.Is(err, os.ErrNotExist) {
		return "", err
	}
	if _, err := db.ExecContext(ctx, `VACUUM INTO ?`, unfinished); err != nil {
		return "", err
	}
	if err := flush(unfinished); err != nil { // VACUUM INTO does not
		return "", err
	}
	if err := check(ctx, unfinished); err != nil {
		return "", err
	}
	stem := filepath.Join(backupsOf(dir), fmt.Sprintf("pairwall-%s-form-%04d", at.UTC().Format("2006-01-02-150405"), version))
	name := stem + ".db"
	for i := 2; ; i++ {
		if _, err := os.Lstat(name); errors.Is(err, os.ErrNotExist) {
			return name, os.Rename(unfinished, name)
		} else if err != nil {
			return "", err
		}
		name = fmt.Sprintf("%s-%d.db", stem, i)
	}
}

func flush(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(file.Sync(), file.Close())
}

// check reads a copy from end to end.
func check(ctx context.Context, path string) error {
	db, err := sql.Open("sqlite3", uri(path, url.Values{"mode": {"ro"}}))
	if err != nil {
		return err
	}
	defer db.Close()
	var verdict string
	if err := db.QueryRowContext(ctx, `PRAGMA integrity_check`).Scan(&verdict); err != nil {
		return err
	}
	if verdict != "ok" {
		return &sequence.Error{Code: sequence.Damaged,
			Message: "The data file is damaged, so no sound copy of it could be taken and nothing was changed.",
			Hint:    "Keep the file as it is and put your last good backup in its place.",
			Err:     errors.New(verdict)}
	}
	return nil
}
