package store

import (
	"database/sql"
	"errors"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/mattn/go-sqlite3"

	"pairwall/sequence"
)

func TestEveryConnectionIsSetUpAlike(t *testing.T) {
	s, _ := newStore(t)
	const connections = 8
	var held []*sql.Conn // all at once, so that the pool has to open as many
	for range connections {
		c, err := s.db.Conn(ctx)
		if err != nil {
			t.Fatal(err)
		}
		held = append(held, c)
	}
	if open := s.db.Stats().OpenConnections; open < connections {
		t.Fatalf("only %d connections are open", open)
	}
	for i, c := range held {
		for pragma, want := range map[string]string{"journal_mode": "wal", "foreign_keys": "1", "busy_timeout": "10000", "synchronous": "2"} {
			var got string
			if err := c.QueryRowContext(ctx, `PRAGMA `+pragma).Scan(&got); err != nil || got != want {
				t.Errorf("connection %d has %s %s, want %s; %v", i, pragma, got, want, err)
			}
		}
		c.Close()
	}
	t.Run("and transactions are immediate on each", func(t *testing.T) {
		for range connections {
			c, err := s.db.Conn(ctx)
			if err != nil {
				t.Fatal(err)
			}
			defer c.Close()
			tx, err := c.BeginTx(ctx, nil)
			if err != nil {
				t.Fatal(err)
			}
			other, err := sql.Open("sqlite3", dsn(s.file, 0, true))
			if err != nil {
				t.Fatal(err)
			}
			if _, err := other.Begin(); err == nil {
				t.Error("a second writer began beside the first")
			}
			other.Close()
			tx.Rollback()
		}
	})
}

func TestAnyFolderNameWillDo(t *testing.T) {
	for _, name := range []string{"Adria #3", "what?", "100% sharp", "a&b=c;d", "Città è 写真", "it's \"so\"", " blank ", "%41"} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), name, "data")
			s := openStore(t, dir)
			newTitle(t, s, "Adria", 1)
			s.Close()
			if info, err := os.Stat(dataFile(dir)); err != nil || info.Size() == 0 {
				t.Fatalf("the data file does not lie in the folder: %v", err)
			}
			if titles, err := openStore(t, dir).Titles(ctx); err != nil || len(titles) != 1 {
				t.Fatalf("%v %v", titles, err)
			}
		})
	}
}

func TestReadsDoNotWaitForAWriter(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 4)
	apply(t, s, title, 1, 2)
	err := s.write(ctx, func(tx *sql.Tx) error {
		if _, err := tx.Exec(`UPDATE titles SET name = 'half done'`); err != nil {
			return err
		}
		var all sync.WaitGroup
		for range 10 {
			all.Go(func() {
				if got, err := s.Title(ctx, title); err != nil || got.Name != "Adria" {
					t.Errorf("%+v %v", got, err)
				}
				if w, err := s.Wall(ctx, title); err != nil || w.Sequence.Revision != 1 {
					t.Errorf("%+v %v", w, err)
				}
			})
		}
		done := make(chan bool)
		go func() { all.Wait(); close(done) }()
		select {
		case <-done:
		case <-time.After(5 * time.Second): // half of what SQLite itself would wait
			t.Error("a read waited for the writer")
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestAFileThatIsNotOursStaysAsItIs(t *testing.T) {
	foreign := func(dir, statement string) {
		db, err := sql.Open("sqlite3", dataFile(dir))
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		if _, err := db.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	cases := []struct {
		promise, says string
		code          sequence.Code
		prepare       func(dir string)
	}{
		{"a text file", "is not a Pairwall data file", sequence.Damaged, func(dir string) {
			os.WriteFile(dataFile(dir), []byte("Trieste, Rovinj, Pula, Zadar, Split, Bari. Eleven days, and it rained on two."), 0o600)
		}},
		{"a database of another program", "belongs to another program", sequence.Damaged, func(dir string) {
			foreign(dir, `CREATE TABLE journal (revision INTEGER)`)
		}},
		{"a database of another program that says whose it is", "belongs to another program", sequence.Damaged, func(dir string) {
			foreign(dir, `PRAGMA application_id = 42; CREATE TABLE titles (id INTEGER)`)
		}},
		{"data of a newer version", "made by a newer version of Pairwall", sequence.Unsupported, func(dir string) {
			openStore(t, dir).Close()
			foreign(dir, `INSERT INTO goose_db_version (version_id, is_applied) VALUES (9001, 1)`)
		}},
	}
	for _, c := range cases {
		t.Run(c.promise, func(t *testing.T) {
			dir := t.TempDir()
			c.prepare(dir)
			before, err := os.ReadFile(dataFile(dir))
			if err != nil {
				t.Fatal(err)
			}
			_, err = Open(ctx, dir)
			isCoded(t, err, c.code)
			says(t, err, c.says)
			after, err := os.ReadFile(dataFile(dir))
			if err != nil || string(before) != string(after) {
				t.Errorf("the file was written to (%v)", err)
			}
			if _, err := os.Stat(backupsOf(dir)); err == nil {
				t.Error("a copy was taken")
			}
		})
	}
}

func TestAnEmptyFileIsADataFileToBe(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(dataFile(dir), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	newTitle(t, openStore(t, dir), "Adria", 1)
}

func TestAFileWhoseWriterWasKilledIsRolledBack(t *testing.T) {
	dir, title := filled(t)
	db, err := sql.Open("sqlite3", uri(dataFile(dir), url.Values{"_journal_mode": {"DELETE"}, "_cache_size": {"1"}}))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	tx, err := db.Begin()
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	// More than the cache holds, so that half of it is in the file already.
	if _, err := tx.Exec(`UPDATE photos SET caption = hex(zeroblob(100000)); UPDATE titles SET name = 'half done'`); err != nil {
		t.Fatal(err)
	}
	left := t.TempDir()
	for _, name := range []string{fileName, fileName + "-journal"} {
		content, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(left, name), content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := look(ctx, dataFile(left), "ro", 0); !isReadOnlyRollback(err) {
		t.Fatalf("nothing is left to roll back: %v", err)
	}
	s := openStore(t, left)
	isFilled(t, s, title)
	if p, err := s.Photo(ctx, title, 1); err != nil || p.Caption != photoOf(1).Caption {
		t.Fatal(len(p.Caption), err)
	}
}

func isReadOnlyRollback(err error) bool {
	var failure sqlite3.Error
	return errors.As(err, &failure) && failure.ExtendedCode == sqlite3.ErrReadonlyRollback
}
