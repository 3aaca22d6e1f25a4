package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/mattn/go-sqlite3"

	"pairwall/migrations"
	"pairwall/sequence"
)

// KeptBackups is how many copies of the data file are kept; older ones go when
// a newer one is complete.
const KeptBackups = 10

// Backup is one copy of the data file.
type Backup struct {
	Name  string    `json:"name"` // of its file
	At    time.Time `json:"at"`   // when it was taken
	Bytes int64     `json:"bytes"`
}

// backupName is the name takeCopy gives; nothing else in the folder is ours.
var backupName = regexp.MustCompile(`^pairwall-(\d{4}-\d\d-\d\d-\d{6})-form-\d{4}(-\d+)?\.db$`)

// Backups lists the copies of the data file in the directory dir, newest first.
//
// Error: Unreadable.
func Backups(dir string) ([]Backup, error) {
	entries, err := os.ReadDir(backupsOf(dir))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, &sequence.Error{Code: sequence.Unreadable, Message: "The folder of backups cannot be read.", Hint: "Look at its rights: " + backupsOf(dir), Err: err}
	}
	var list []Backup
	for _, entry := range entries {
		parts := backupName.FindStringSubmatch(entry.Name())
		if parts == nil {
			continue
		}
		at, err := time.Parse("2006-01-02-150405", parts[1])
		info, gone := entry.Info()
		if err != nil || gone != nil {
			continue
		}
		list = append(list, Backup{entry.Name(), at, info.Size()})
	}
	slices.SortFunc(list, func(a, b Backup) int {
		if c := b.At.Compare(a.At); c != 0 {
			return c
		}
		return strings.Compare(b.Name, a.Name)
	})
	return list, nil
}

// BackUpToday takes a copy of the data file unless one was taken today, by the
// clock of this machine, and lets go of all but the newest KeptBackups. It
// returns the new copy's path, "" when there was one or there is nothing to copy.
//
// Errors: Unreadable when the disk is full or cannot be written to; Damaged when
// no sound copy can be taken. The older copies then stay.
func (s *Store) BackUpToday(ctx context.Context) (string, error) {
	dir := filepath.Dir(s.file)
	unlock, err := lock(ctx, dir)
	if err != nil {
		return "", s.coded(ctx, err)
	}
	defer unlock()
	list, err := Backups(dir)
	if err != nil {
		return "", err
	}
	var titles int
	if err := s.db.QueryRowContext(ctx, `SELECT count(*) FROM titles`).Scan(&titles); err != nil || titles == 0 {
		return "", s.coded(ctx, err)
	}
	now := s.now()
	if len(list) > 0 && sameDay(list[0].At, now) {
		return "", nil
	}
	found, err := inspect(ctx, s.file, 10*time.Second)
	if err != nil {
		return "", s.coded(ctx, err)
	}
	path, err := takeCopy(ctx, s.db, dir, found.version, now)
	if err != nil {
		return "", s.coded(ctx, err)
	}
	return path, thinBackups(dir)
}

func sameDay(a, b time.Time) bool {
	y1, m1, d1 := a.Local().Date()
	y2, m2, d2 := b.Local().Date()
	return y1 == y2 && m1 == m2 && d1 == d2
}

func thinBackups(dir string) error {
	list, err := Backups(dir)
	if err != nil || len(list) <= KeptBackups {
		return err
	}
	for _, old := range list[KeptBackups:] {
		err = errors.Join(err, os.Remove(filepath.Join(backupsOf(dir), old.Name)))
	}
	return err
}

// Restore puts a backup in the place of the data file in the directory dir, in
// one transaction: a kill in the middle leaves the data as it was. What is
// replaced is copied into the backups first, and the path of that copy returned.
//
// Errors: NotFound for a backup that is not there; Damaged when it is not
// whole; Unsupported when a newer version made it; Conflict while another
// process has the data open; Unreadable.
func Restore(ctx context.Context, dir, name string) (replaced string, err error) {
	source := filepath.Join(backupsOf(dir), name)
	if !backupName.MatchString(name) {
		return "", missing("backup", name)
	}
	if _, err := os.Stat(source); err != nil {
		return "", missing("backup", name)
	}
	if err := sound(ctx, source); err != nil {
		return "", err
	}
	unlock, err := lock(ctx, dir)
	if err != nil {
		return "", coded(ctx, source, err)
	}
	defer unlock()
	file := filepath.Join(dir, fileName)
	found, err := inspect(ctx, file, 10*time.Second)
	if err != nil && sequence.CodeOf(coded(ctx, file, err)) != sequence.Damaged {
		return "", coded(ctx, file, err)
	}
	if err != nil { // a data file that cannot be read is set aside as it is
		return setAside(file, source)
	}
	alone, err := openAlone(ctx, file)
	if err != nil {
		return "", err
	}
	defer alone.Close()
	if !found.fresh {
		if replaced, err = takeCopy(ctx, alone, dir, found.version, time.Now()); err != nil {
			return "", coded(ctx, file, err)
		}
	}
	return replaced, coded(ctx, file, pour(ctx, source, alone))
}

// sound looks whether a backup is whole and of a form we know.
func sound(ctx context.Context, path string) error {
	found, err := inspect(ctx, path, time.Second)
	if err == nil {
		err = check(ctx, path)
	}
	if err != nil {
		return &sequence.Error{Code: sequence.Damaged, Message: fmt.Sprintf("The backup %s is not whole.", filepath.Base(path)),
			Hint: "Choose another one. Nothing was changed.", Err: err}
	}
	if latest := migrations.Latest(); found.version > latest {
		return &sequence.Error{Code: sequence.Unsupported, Message: fmt.Sprintf("The backup %s was made by a newer version of Pairwall.", filepath.Base(path)),
			Hint: "Use that version, or another backup. Nothing was changed."}
	}
	return nil
}

// setAside gives a data file that cannot be read another name and puts a copy
// of the backup in its place.
func setAside(file, source string) (string, error) {
	aside := file + ".unreadable-" + time.Now().UTC().Format("2006-01-02-150405")
	content, err := os.ReadFile(source)
	if err == nil {
		err = errors.Join(os.Rename(file, aside), os.Remove(file+"-wal"), os.Remove(file+"-shm"))
	}
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	if err == nil {
		err = os.WriteFile(file, content, 0o600)
	}
	if err != nil {
		return "", &sequence.Error{Code: sequence.Unreadable, Message: "The data file could not be replaced.", Hint: "Look at the rights of its folder and the room on the disk.", Err: err}
	}
	return aside, nil
}

// openAlone opens the data file such that nobody else can.
func openAlone(ctx context.Context, file string) (*sql.DB, error) {
	db, err := sql.Open("sqlite3", uri(file, map[string][]string{"_locking_mode": {"EXCLUSIVE"}, "_journal_mode": {"WAL"}, "_synchronous": {"FULL"}, "_busy_timeout": {"500"}}))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1) // a second connection of our own would be locked out as well
	var tables int
	_, err = db.ExecContext(ctx, `BEGIN EXCLUSIVE; COMMIT`)
	if err == nil {
		err = db.QueryRowContext(ctx, `SELECT count(*) FROM sqlite_schema`).Scan(&tables)
	}
	if err != nil {
		_ = db.Close()
		var failure sqlite3.Error
		if errors.As(err, &failure) && failure.Code == sqlite3.ErrBusy {
			return nil, &sequence.Error{Code: sequence.Conflict, Message: "Pairwall is running on this data.", Hint: "Close it, then restore again. Nothing was changed.", Err: err}
		}
		return nil, coded(ctx, file, err)
	}
	return db, nil
}

// pour copies every page of the file at source into the database behind into,
// as one transaction (SQLite's online backup).
func pour(ctx context.Context, source string, into *sql.DB) error {
	from, err := sql.Open("sqlite3", uri(source, map[string][]string{"mode": {"ro"}}))
	if err != nil {
		return err
	}
	defer from.Close()
	read, err := from.Conn(ctx)
	if err != nil {
		return err
	}
	defer read.Close()
	write, err := into.Conn(ctx)
	if err != nil {
		return err
	}
	defer write.Close()
	return read.Raw(func(r any) error {
		return write.Raw(func(w any) error {
			copying, err := w.(*sqlite3.SQLiteConn).Backup("main", r.(*sqlite3.SQLiteConn), "main")
			if err != nil {
				return err
			}
			_, err = copying.Step(-1)
			return errors.Join(err, copying.Finish())
		})
	})
}
