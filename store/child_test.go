package store

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pairwall/migrations"
	"pairwall/sequence"
)

// These tests need a second process. The test binary plays it: started with
// PAIRWALL_STORE_PART it acts on the folder PAIRWALL_STORE_DIR and does
// nothing else.

func play(part string) int {
	dir := os.Getenv("PAIRWALL_STORE_DIR")
	seed, _ := strconv.ParseUint(os.Getenv("PAIRWALL_STORE_SEED"), 10, 64)
	set := settings{patience: 10 * time.Second, migrations: migrations.Files, now: time.Now}
	if part == "migrate" {
		set.migrations = further(slowRebuild).migrations
	}
	s, err := open(ctx, dir, set)
	if err == nil {
		switch part {
		case "migrate":
			fmt.Println("migrated")
		case "open":
		case "act for ever":
			err = actForEver(s, seed)
		case "read orders for ever":
			err = readForEver(s)
		case "pair":
			err = pairAll(s, 21, 40, "the other process")
		default:
			err = fmt.Errorf("there is no part %q", part)
		}
	}
	if err != nil {
		fmt.Printf("%s: %v\n", sequence.CodeOf(err), err)
		return 1
	}
	return 0
}

func cast(t *testing.T, part, dir string, seed int) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	child := exec.Command(self)
	child.Env = append(os.Environ(), "PAIRWALL_STORE_PART="+part, "PAIRWALL_STORE_DIR="+dir, "PAIRWALL_STORE_SEED="+strconv.Itoa(seed))
	return child
}

// actForEver brings in photos and acts on the wall, and says the revision it
// has reached after each change that was confirmed to it.
func actForEver(s *Store, seed uint64) error {
	title, err := s.TitleNamed(ctx, "Adria")
	if sequence.CodeOf(err) == sequence.NotFound {
		title, err = s.CreateTitle(ctx, "Adria")
	}
	if err != nil {
		return err
	}
	for n := 1; n <= 20; n++ {
		if _, _, err := s.AddPhoto(ctx, title.ID, photoOf(n)); err != nil {
			return err
		}
	}
	r := rand.New(rand.NewPCG(seed, 1))
	for {
		wall, err := s.Wall(ctx, title.ID)
		if err != nil {
			return err
		}
		revision := wall.Sequence.Revision
		switch r.IntN(6) {
		case 0:
			_, wall, err = s.Undo(ctx, title.ID, revision, "child")
		case 1:
			_, wall, err = s.Redo(ctx, title.ID, revision, "child")
		default:
			_, wall, err = s.Apply(ctx, title.ID, randomChange(r, wall.Sequence, 20), "child")
		}
		switch sequence.CodeOf(err) {
		case "":
			fmt.Println(wall.Sequence.Revision)
		case sequence.Invalid, sequence.NotFound: // the wall did not allow it
		default:
			return err
		}
	}
}

func TestAKilledProcessLosesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(2026, 11))
	dir := t.TempDir()
	for round := range 30 {
		promise := fmt.Sprintf("killed while it acts, round %d", round)
		wait := time.Duration(r.IntN(60_000)) * time.Microsecond
		early := round%3 == 2
		if early { // somewhere between its start and its first act
			promise, dir = fmt.Sprintf("killed while the data file is made, round %d", round), t.TempDir()
			wait /= 2
		}
		t.Run(promise, func(t *testing.T) {
			child := cast(t, "act for ever", dir, round)
			out, err := child.StdoutPipe()
			if err != nil {
				t.Fatal(err)
			}
			if err := child.Start(); err != nil {
				t.Fatal(err)
			}
			heard := bufio.NewReader(out)
			var first string
			if !early {
				first, _ = heard.ReadString('\n')
			}
			time.Sleep(wait)
			if err := child.Process.Kill(); err != nil {
				t.Fatal(err)
			}
			rest, _ := io.ReadAll(heard)
			child.Wait()
			isWhole(t, dir, lastConfirmed(t, first+string(rest)))
		})
	}
}

// lastConfirmed is the last whole number a child said, 0 if it did not come to
// it.
func lastConfirmed(t *testing.T, said string) int {
	t.Helper()
	last := 0
	for line := range strings.Lines(said) {
		if !strings.HasSuffix(line, "\n") {
			break
		}
		var err error
		if last, err = strconv.Atoi(strings.TrimSpace(line)); err != nil {
			t.Fatalf("the child said %q", line)
		}
	}
	return last
}

// isWhole checks a data folder left by a killed process: all that was
// confirmed is there, with at most the one change that was under way.
func isWhole(t *testing.T, dir string, confirmed int) {
	t.Helper()
	s := openStore(t, dir)
	defer s.Close()
	var verdict string
	if err := s.db.QueryRow(`PRAGMA integrity_check`).Scan(&verdict); err != nil || verdict != "ok" {
		t.Fatalf("%s %v", verdict, err)
	}
	var loose int
	if err := s.db.QueryRow(`SELECT count(*) FROM pragma_foreign_key_check`).Scan(&loose); err != nil || loose != 0 {
		t.Fatalf("%d rows refer to nothing, %v", loose, err)
	}
	title, err := s.TitleNamed(ctx, "Adria")
	if sequence.CodeOf(err) == sequence.NotFound && confirmed == 0 {
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	photos, err := s.Photos(ctx, title.ID)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range photos {
		if p.Number != sequence.PhotoID(i+1) {
			t.Fatalf("photo %d has number %d", i, p.Number)
		}
	}
	if n := len(replays(t, s, title.ID)); n < confirmed || n > confirmed+1 {
		t.Fatalf("%d changes were confirmed, the journal holds %d", confirmed, n)
	}
}

// slowRebuild takes long enough to be killed in.
const slowRebuild = `
CREATE TABLE slow (n INTEGER PRIMARY KEY, square INTEGER) STRICT;
INSERT INTO slow WITH RECURSIVE count (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM count WHERE n < 60000) SELECT n, n * n FROM count;
` + rebuild + referencesHold

func TestAProcessKilledWhileItMigratesLosesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(2026, 12))
	ends := map[bool]int{} // how often the migration had been done, and not
	for round := range 16 {
		t.Run(fmt.Sprintf("round %d", round), func(t *testing.T) {
			dir, title := filled(t)
			child := cast(t, "migrate", dir, 0)
			out, err := child.StdoutPipe()
			if err != nil {
				t.Fatal(err)
			}
			if err := child.Start(); err != nil {
				t.Fatal(err)
			}
			if round%8 == 0 { // at the very end
				bufio.NewReader(out).ReadString('\n')
			} else {
				time.Sleep(time.Duration(r.IntN(100_000)) * time.Microsecond)
			}
			if err := child.Process.Kill(); err != nil {
				t.Fatal(err)
			}
			child.Wait()
			old, err := Open(ctx, dir)
			if done := err != nil; done {
				isCoded(t, err, sequence.Unsupported)
				ends[done]++
			} else {
				isFilled(t, old, title)
				old.Close()
				ends[done]++
			}
			s, err := open(ctx, dir, further(slowRebuild))
			if err != nil {
				t.Fatal(err)
			}
			defer s.Close()
			isFilled(t, s, title)
			copiesAreWhole(t, dir, title)
		})
	}
	if ends[true] == 0 || ends[false] == 0 {
		t.Errorf("every kill came too early or too late: %v", ends)
	}
}

// copiesAreWhole checks every copy that has its name: a killed process must
// not leave half of one under it.
func copiesAreWhole(t *testing.T, dir string, title sequence.TitleID) {
	t.Helper()
	names := copies(t, dir)
	if len(names) == 0 {
		t.Error("no copy was taken")
	}
	for _, name := range names {
		if strings.HasPrefix(filepath.Base(name), "unfinished") {
			continue
		}
		place := t.TempDir()
		if err := os.Rename(name, dataFile(place)); err != nil {
			t.Fatal(err)
		}
		isFilled(t, openStore(t, place), title)
	}
}

// pairAll pairs photo n with photo n+40 for each n of a range, again and again
// until the wall holds still for it.
func pairAll(s *Store, from, to int, who string) error {
	title, err := s.TitleNamed(ctx, "Adria")
	if err != nil {
		return err
	}
	wall, err := s.Wall(ctx, title.ID)
	if err != nil {
		return err
	}
	for n := from; n <= to; {
		_, wall, err = s.Apply(ctx, title.ID, pair(wall.Sequence, sequence.PhotoID(n), sequence.PhotoID(n+40)), who)
		switch sequence.CodeOf(err) {
		case "":
			n++
		case sequence.Stale: // wall is the present one: try again on it
		default:
			return err
		}
	}
	return nil
}

func TestTwoAtOnceLoseNothing(t *testing.T) {
	var dir string
	for promise, other := range map[string]func(*testing.T) error{
		"two stores in one process": func(t *testing.T) error { return pairAll(openStore(t, dir), 21, 40, "the other store") },
		"two processes": func(t *testing.T) error {
			said, err := cast(t, "pair", dir, 0).CombinedOutput()
			if err != nil {
				return fmt.Errorf("%w: %s", err, said)
			}
			return nil
		},
	} {
		t.Run(promise, func(t *testing.T) {
			dir = t.TempDir()
			s := openStore(t, dir)
			title := newTitle(t, s, "Adria", 80)
			done := make(chan error)
			go func() { done <- other(t) }()
			if err := pairAll(s, 1, 20, "this store"); err != nil {
				t.Error(err)
			}
			if err := <-done; err != nil {
				t.Error(err)
			}
			entries := replays(t, s, title)
			if len(entries) != 40 || len(wallOf(t, s, title).Sequence.Spreads) != 40 {
				t.Errorf("of 40 changes the journal holds %d, the wall %d", len(entries), len(wallOf(t, s, title).Sequence.Spreads))
			}
		})
	}
	t.Run("what the other store did makes an act stale", func(t *testing.T) {
		dir := t.TempDir()
		s, other := openStore(t, dir), openStore(t, dir)
		title := newTitle(t, s, "Adria", 4)
		seen := wallOf(t, s, title)
		apply(t, other, title, 3, 4)
		_, wall, err := s.Apply(ctx, title, pair(seen.Sequence, 1, 2), "")
		isCoded(t, err, sequence.Stale)
		if wall.Undo != "pair 3 with 4" {
			t.Fatalf("the wall that came with it is %+v", wall)
		}
		if _, _, err = s.Apply(ctx, title, pair(wall.Sequence, 1, 2), ""); err != nil {
			t.Fatal(err)
		}
	})
	t.Run("both bring in photos, and each photo has one number", func(t *testing.T) {
		dir := t.TempDir()
		s, other := openStore(t, dir), openStore(t, dir)
		title := newTitle(t, s, "Adria", 0)
		bring := func(s *Store, from, to int) error {
			for n := from; n <= to; n++ {
				if _, _, err := s.AddPhoto(ctx, title, photoOf(n)); err != nil {
					return err
				}
			}
			return nil
		}
		done := make(chan error)
		go func() { done <- bring(other, 1, 40) }()
		if err := bring(s, 20, 60); err != nil { // 20 to 40 come twice
			t.Error(err)
		}
		if err := <-done; err != nil {
			t.Error(err)
		}
		photos, err := s.Photos(ctx, title)
		if err != nil || len(photos) != 60 || photos[59].Number != 60 {
			t.Fatalf("%d photos, %v", len(photos), err)
		}
	})
	t.Run("both make the data file, and it is made once", func(t *testing.T) {
		for range 5 {
			dir := t.TempDir()
			opened := make(chan error)
			for range 4 {
				go func() {
					s, err := Open(ctx, dir)
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
		}
	})
}
