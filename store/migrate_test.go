package store

import (
	"database/sql"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/migrations"
	"pairwall/sequence"
)

// further is a later version of the program: ours with one more migration.
func further(statements string) settings {
	files := fstest.MapFS{"9001_later.sql": {Data: []byte("-- +goose Up\n" + statements)}}
	ours, err := migrations.Files.ReadDir(".")
	if err != nil {
		panic(err) // it is embedded
	}
	for _, f := range ours {
		content, err := migrations.Files.ReadFile(f.Name())
		if err != nil {
			panic(err)
		}
		files[f.Name()] = &fstest.MapFile{Data: content}
	}
	set := hasty()
	set.migrations = files
	return set
}

// filled makes a data folder with a title that has photos, changes and a
// version.
func filled(t *testing.T) (dir string, title sequence.TitleID) {
	t.Helper()
	dir = t.TempDir()
	s := openStore(t, dir)
	title = newTitle(t, s, "Adria", 9)
	apply(t, s, title, 1, 2)
	apply(t, s, title, 3, 4)
	if _, err := s.KeepVersion(ctx, title, "two pairs"); err != nil {
		t.Fatal(err)
	}
	s.Close()
	return dir, title
}

func copies(t *testing.T, dir string) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(backupsOf(dir), "*"))
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// isFilled checks that everything of filled is there.
func isFilled(t *testing.T, s *Store, title sequence.TitleID) {
	t.Helper()
	photos, err := s.Photos(ctx, title)
	if err != nil || len(photos) != 9 {
		t.Errorf("%d photos, %v", len(photos), err)
	}
	if n := len(replays(t, s, title)); n != 2 {
		t.Errorf("%d entries", n)
	}
	if versions, err := s.Versions(ctx, title); err != nil || len(versions) != 1 {
		t.Errorf("%d versions, %v", len(versions), err)
	}
}

// newest is the number of the last migration this program has.
func newest(t *testing.T) int {
	t.Helper()
	names, err := fs.Glob(migrations.Files, "*.sql")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	return len(names)
}

func TestACopyIsTakenBeforeMigrations(t *testing.T) {
	const harmless = `CREATE TABLE chapters (name TEXT) STRICT;`
	t.Run("none for a new data file, none when nothing is pending", func(t *testing.T) {
		dir, _ := filled(t)
		openStore(t, dir)
		if names := copies(t, dir); len(names) != 0 {
			t.Fatal(names)
		}
	})
	t.Run("dated, whole and in the old form", func(t *testing.T) {
		dir, title := filled(t)
		s, err := open(ctx, dir, further(harmless))
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		isFilled(t, s, title)
		want := []string{filepath.Join(backupsOf(dir), fmt.Sprintf("pairwall-2026-11-25-170405-form-%04d.db", newest(t)))}
		if diff := cmp.Diff(want, copies(t, dir)); diff != "" {
			t.Fatal(diff)
		}
		old := t.TempDir() // the way back: the copy takes the data file's place
		if err := os.Rename(want[0], dataFile(old)); err != nil {
			t.Fatal(err)
		}
		isFilled(t, openStore(t, old), title)
	})
	t.Run("with what only the write-ahead log holds", func(t *testing.T) {
		dir, title := filled(t)
		running := openStore(t, dir) // keeps the log from being folded into the file
		apply(t, running, title, 5, 6)
		s, err := open(ctx, dir, further(harmless))
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		old := t.TempDir()
		if err := os.Rename(copies(t, dir)[0], dataFile(old)); err != nil {
			t.Fatal(err)
		}
		if n := len(replays(t, openStore(t, old), title)); n != 3 {
			t.Fatalf("the copy has %d of 3 changes", n)
		}
	})
	t.Run("beside those taken before, be it in the same second", func(t *testing.T) {
		dir, _ := filled(t)
		db, err := sql.Open("sqlite3", dsn(dataFile(dir), time.Second, true))
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		for n := 1; n <= 3; n++ {
			path, err := takeCopy(ctx, db, dir, 1, newClock().at)
			if err != nil {
				t.Fatal(err)
			}
			if names := copies(t, dir); len(names) != n {
				t.Fatalf("after %s there are %v", path, names)
			}
		}
	})
	t.Run("in place of one that was cut short", func(t *testing.T) {
		dir, title := filled(t)
		if err := os.Mkdir(backupsOf(dir), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(backupsOf(dir), "unfinished.db"), []byte("half a copy"), 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := open(ctx, dir, further(harmless))
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		isFilled(t, s, title)
		if names := copies(t, dir); len(names) != 1 {
			t.Fatal(names)
		}
	})
	t.Run("or no migration runs", func(t *testing.T) {
		dir, title := filled(t)
		if err := os.WriteFile(backupsOf(dir), []byte("in the way"), 0o600); err != nil {
			t.Fatal(err)
		}
		_, err := open(ctx, dir, further(harmless))
		isCoded(t, err, sequence.Unreadable)
		isFilled(t, openStore(t, dir), title) // which a newer form would refuse
	})
	t.Run("once, when two processes find the same migration pending", func(t *testing.T) {
		dir, title := filled(t)
		set := further(harmless)
		opened := make(chan error)
		for range 4 {
			go func() {
				s, err := open(ctx, dir, set)
				if err == nil {
					err = s.Close()
				}
				opened <- err
			}()
		}
		for range 4 {
			if err := <-opened; err != nil {
				t.Error(err)
			}
		}
		if names := copies(t, dir); len(names) != 1 {
			t.Error(names)
		}
		s, err := open(ctx, dir, set)
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		isFilled(t, s, title)
	})
}

// rebuild is the way that package migrations describes, with one column more.
const rebuild = `
CREATE TABLE titles_new (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    name       TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    folded     TEXT NOT NULL UNIQUE,
    created    TEXT NOT NULL,
    weights    TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(weights)),
    last_photo INTEGER NOT NULL DEFAULT 0 CHECK (last_photo >= 0),
    trim       TEXT NOT NULL DEFAULT 'a5'
) STRICT;
INSERT INTO titles_new (id, name, folded, created, weights, last_photo) SELECT id, name, folded, created, weights, last_photo FROM titles;
DROP TABLE titles;
ALTER TABLE titles_new RENAME TO titles;
`

const referencesHold = `
CREATE TEMP TABLE loose (reference TEXT CHECK (reference IS NULL));
INSERT INTO loose SELECT "table" || ' ' || rowid FROM pragma_foreign_key_check;
DROP TABLE loose;
`

func TestAMigrationThatRebuildsAParentTable(t *testing.T) {
	t.Run("keeps all that refers to it, and the references hold", func(t *testing.T) {
		dir, title := filled(t)
		s, err := open(ctx, dir, further(rebuild+referencesHold))
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		isFilled(t, s, title)
		var trim string
		if err := s.db.QueryRow(`SELECT trim FROM titles WHERE id = ?`, title).Scan(&trim); err != nil || trim != "a5" {
			t.Errorf("%q %v", trim, err)
		}
		if _, err := s.db.Exec(`DELETE FROM titles`); err == nil {
			t.Error("the photos refer to no table any more")
		}
		if next := newTitle(t, s, "Istria", 0); next != title+1 {
			t.Errorf("after title %d comes %d", title, next)
		}
	})
	t.Run("is undone as a whole when a reference breaks", func(t *testing.T) {
		dir, title := filled(t)
		_, err := open(ctx, dir, further(rebuild+`DELETE FROM titles;`+referencesHold))
		isCoded(t, err, sequence.Internal)
		says(t, err, "could not be brought into the form")
		isFilled(t, openStore(t, dir), title)
		if names := copies(t, dir); len(names) != 1 {
			t.Errorf("copies: %v", names)
		}
	})
	t.Run("would fail or lose photos if foreign keys were on, which is why they are off", func(t *testing.T) {
		dir, _ := filled(t)
		db, err := sql.Open("sqlite3", uri(dataFile(dir), url.Values{"_foreign_keys": {"true"}}))
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		tx, err := db.Begin()
		if err != nil {
			t.Fatal(err)
		}
		defer tx.Rollback()
		if _, err := tx.Exec(`PRAGMA foreign_keys = off`); err != nil { // too late: it does nothing in here
			t.Fatal(err)
		}
		if _, err := tx.Exec(rebuild); err == nil {
			t.Fatal("the rebuild went through")
		}
	})
}

func TestAMigrationThatFailsLeavesTheDataAsItWas(t *testing.T) {
	dir, title := filled(t)
	_, err := open(ctx, dir, further(`UPDATE titles SET name = 'half done'; CREATE TABLE photos (twice TEXT);`))
	isCoded(t, err, sequence.Internal)
	says(t, err, "could not be brought into the form")
	s := openStore(t, dir)
	isFilled(t, s, title)
	if got, err := s.Title(ctx, title); err != nil || got.Name != "Adria" {
		t.Fatalf("%+v %v", got, err)
	}
}

func TestAnOlderProgramRefusesTheNewerForm(t *testing.T) {
	dir, _ := filled(t)
	s, err := open(ctx, dir, further(`CREATE TABLE chapters (name TEXT) STRICT;`))
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	_, err = Open(ctx, dir)
	isCoded(t, err, sequence.Unsupported)
	says(t, err, fmt.Sprintf("form 9001, this version knows up to %d", newest(t)))
}
