package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
)

// says checks that an error tells the maker this.
func says(t *testing.T, err error, words string) {
	t.Helper()
	var coded *sequence.Error
	if !errors.As(err, &coded) || !strings.Contains(coded.Message, words) {
		t.Errorf("%v does not say %q", err, words)
	}
	if coded != nil && coded.Hint == "" {
		t.Errorf("%v shows no way out", err)
	}
}

func TestALockedFileIsToldInPlainWords(t *testing.T) {
	dir := t.TempDir()
	openStore(t, dir).Close()
	s, err := open(ctx, dir, hasty())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	title := newTitle(t, s, "Adria", 2)
	other, err := sql.Open("sqlite3", dataFile(dir))
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	other.SetMaxOpenConns(1)
	if _, err := other.Exec(`BEGIN IMMEDIATE`); err != nil {
		t.Fatal(err)
	}
	_, _, err = s.Apply(ctx, title, pair(wallOf(t, s, title).Sequence, 1, 2), "")
	isCoded(t, err, sequence.Unreadable)
	says(t, err, "Another program holds the data file")
	_, err = open(ctx, dir, hasty())
	isCoded(t, err, sequence.Unreadable)
	says(t, err, "Another program holds the data file")
	if _, err := other.Exec(`ROLLBACK`); err != nil {
		t.Fatal(err)
	}
	apply(t, s, title, 1, 2) // and the store is none the worse for it
}

func TestAFullDiskIsToldInPlainWords(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 2)
	s.db.SetMaxOpenConns(1)
	var pages int
	if err := s.db.QueryRow(`PRAGMA page_count`).Scan(&pages); err != nil {
		t.Fatal(err)
	}
	// SQLite counts pages against this limit as it would against the disk.
	if _, err := s.db.Exec(fmt.Sprintf(`PRAGMA max_page_count = %d`, pages)); err != nil {
		t.Fatal(err)
	}
	added := 0
	var err error
	for n := 3; n < 200 && err == nil; n++ {
		if _, _, err = s.AddPhoto(ctx, title, photoOf(n)); err == nil {
			added++
		}
	}
	isCoded(t, err, sequence.Unreadable)
	says(t, err, "is full")
	if _, err := s.db.Exec(`PRAGMA max_page_count = 1000000`); err != nil {
		t.Fatal(err)
	}
	photos, err := s.Photos(ctx, title)
	if err != nil || len(photos) != 2+added {
		t.Fatalf("%d photos, want %d; %v", len(photos), 2+added, err)
	}
	p, _, err := s.AddPhoto(ctx, title, photoOf(500))
	if err != nil || int(p.Number) != 3+added {
		t.Fatalf("the photo that did not fit cost a number: %d, %v", p.Number, err)
	}
}

func TestADamagedFileIsToldInPlainWords(t *testing.T) {
	dir := t.TempDir()
	s := openStore(t, dir)
	title := newTitle(t, s, "Adria", 200)
	s.Close()
	content, err := os.ReadFile(dataFile(dir))
	if err != nil {
		t.Fatal(err)
	}
	const page = 4096
	for at := len(content) / 2 / page * page; at < len(content)*3/4; at += page {
		copy(content[at:], bytes.Repeat([]byte{0xa5}, page))
	}
	if err := os.WriteFile(dataFile(dir), content, 0o600); err != nil {
		t.Fatal(err)
	}
	s = openStore(t, dir)
	_, err = s.Photos(ctx, title)
	isCoded(t, err, sequence.Damaged)
	says(t, err, "is damaged")
}

func TestAFolderThatCannotBeMadeIsToldInPlainWords(t *testing.T) {
	file := filepath.Join(t.TempDir(), "notes.txt")
	if err := os.WriteFile(file, []byte("Bari"), 0o600); err != nil {
		t.Fatal(err)
	}
	for promise, dir := range map[string]string{"a file has its name": file, "a file is in its way": filepath.Join(file, "data")} {
		t.Run(promise, func(t *testing.T) {
			_, err := Open(ctx, dir)
			isCoded(t, err, sequence.Unreadable)
			says(t, err, "cannot be made")
		})
	}
}

func TestWhoeverGoesAwayIsNotWaitedFor(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 2)
	busy, free := make(chan bool), make(chan bool)
	go s.write(ctx, func(*sql.Tx) error { close(busy); <-free; return nil })
	<-busy
	defer close(free)
	brief, stop := context.WithTimeout(ctx, 20*time.Millisecond)
	defer stop()
	_, _, err := s.Apply(brief, title, pair(sequence.Sequence{}, 1, 2), "")
	isCoded(t, err, sequence.Cancelled)
}

func TestAnActIsConfirmedOrNotThereAtAll(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 20)
	r := rand.New(rand.NewPCG(3, 4))
	confirmed, cancelled := 0, 0
	patience := 2 * time.Millisecond // finds by itself what is too short about every second time
	for range 400 {
		q := wallOf(t, s, title).Sequence
		brief, stop := context.WithTimeout(ctx, time.Duration(r.Int64N(int64(patience))))
		_, wall, err := s.Apply(brief, title, randomChange(r, q, 20), "")
		stop()
		switch sequence.CodeOf(err) {
		case "":
			confirmed++
			patience = patience * 19 / 20
			if wall.Sequence.Revision != int64(confirmed) {
				t.Fatalf("the %dth confirmed act led to %d", confirmed, wall.Sequence.Revision)
			}
		case sequence.Cancelled:
			cancelled++
			patience = patience*20/19 + 1
		case sequence.Invalid:
		default:
			t.Fatal(err)
		}
	}
	if n := len(replays(t, s, title)); n != confirmed {
		t.Errorf("%d acts were confirmed, the journal holds %d", confirmed, n)
	}
	if cancelled == 0 || confirmed == 0 {
		t.Errorf("%d confirmed, %d cancelled: the test tried only one of them", confirmed, cancelled)
	}
}
