package store

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"pairwall/sequence"
)

func TestOneBackupIsTakenEachDayAndTheLastTenAreKept(t *testing.T) {
	s, c := newStore(t)
	newTitle(t, s, "Round the Adriatic", 4)
	folder := backupsOf(filepath.Dir(s.file))
	if err := os.MkdirAll(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	theirs := filepath.Join(folder, "pairwall-my-own-copy.db")
	if err := os.WriteFile(theirs, []byte("not ours to remove"), 0o600); err != nil {
		t.Fatal(err)
	}
	for day := range KeptBackups + 3 {
		path, err := s.BackUpToday(ctx)
		if err != nil || path == "" {
			t.Fatalf("day %d: %q, %v", day, path, err)
		}
		if again, err := s.BackUpToday(ctx); again != "" || err != nil {
			t.Errorf("day %d, a second time: %q, %v", day, again, err)
		}
		c.forward(24 * time.Hour)
	}
	list, err := Backups(filepath.Dir(s.file))
	if err != nil || len(list) != KeptBackups {
		t.Fatalf("%d backups are kept, %v", len(list), err)
	}
	for i, b := range list[1:] {
		if !b.At.Before(list[i].At) {
			t.Errorf("%s comes after %s", b.Name, list[i].Name)
		}
	}
	if newest := c.at.Add(-24 * time.Hour); !list[0].At.Equal(newest.UTC().Truncate(time.Second)) {
		t.Errorf("the newest is of %v, want %v", list[0].At, newest)
	}
	if _, err := os.Stat(theirs); err != nil {
		t.Errorf("a file that is not ours is gone: %v", err)
	}
}

func TestABackupIsRestoredAndWhatItReplacedIsKept(t *testing.T) {
	dir := t.TempDir()
	s := openStore(t, dir)
	title := newTitle(t, s, "Round the Adriatic", 6)
	apply(t, s, title, 1, 2)
	then := wallOf(t, s, title)
	if _, err := s.BackUpToday(ctx); err != nil {
		t.Fatal(err)
	}
	apply(t, s, title, 3, 4)
	list, err := Backups(dir)
	if err != nil || len(list) != 1 {
		t.Fatalf("%v, %v", list, err)
	}

	if _, err := Restore(ctx, dir, list[0].Name); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("while the data is open: %v", err)
	}
	if now := wallOf(t, s, title); len(now.Sequence.Spreads) != 2 {
		t.Errorf("a restore that was refused changed the wall: %+v", now)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	replaced, err := Restore(ctx, dir, list[0].Name)
	if err != nil {
		t.Fatal(err)
	}
	s = openStore(t, dir)
	if now := wallOf(t, s, title); now.Sequence.Revision != then.Sequence.Revision {
		t.Errorf("the wall is at %d, want %d", now.Sequence.Revision, then.Sequence.Revision)
	}
	s.Close()
	if _, err := Restore(ctx, dir, filepath.Base(replaced)); err != nil {
		t.Fatalf("going back: %v", err)
	}
	if now := wallOf(t, openStore(t, dir), title); len(now.Sequence.Spreads) != 2 {
		t.Errorf("what was replaced is not what it was: %+v", now.Sequence)
	}
}

func TestABackupThatCannotServeIsRefusedAndNothingChanges(t *testing.T) {
	dir := t.TempDir()
	s := openStore(t, dir)
	newTitle(t, s, "Round the Adriatic", 3)
	if _, err := s.BackUpToday(ctx); err != nil {
		t.Fatal(err)
	}
	s.Close()
	list, _ := Backups(dir)
	whole, err := os.ReadFile(filepath.Join(backupsOf(dir), list[0].Name))
	if err != nil {
		t.Fatal(err)
	}
	half := "pairwall-2020-01-01-000000-form-0001.db"
	if err := os.WriteFile(filepath.Join(backupsOf(dir), half), whole[:len(whole)/2], 0o600); err != nil {
		t.Fatal(err)
	}
	before, _ := os.ReadFile(dataFile(dir))
	for name, want := range map[string]sequence.Code{half: sequence.Damaged, "../pairwall.db": sequence.NotFound,
		"pairwall-2020-01-02-000000-form-0001.db": sequence.NotFound} {
		if _, err := Restore(ctx, dir, name); sequence.CodeOf(err) != want {
			t.Errorf("%s: %v", name, err)
		}
	}
	if after, _ := os.ReadFile(dataFile(dir)); string(after) != string(before) {
		t.Error("the data file changed")
	}
}

func TestADataFileThatCannotBeReadIsSetAsideByARestore(t *testing.T) {
	dir := t.TempDir()
	s := openStore(t, dir)
	title := newTitle(t, s, "Round the Adriatic", 3)
	if _, err := s.BackUpToday(ctx); err != nil {
		t.Fatal(err)
	}
	s.Close()
	list, _ := Backups(dir)
	if err := os.WriteFile(dataFile(dir), []byte("a disk error has been here, and left nothing of the data file but this"), 0o600); err != nil {
		t.Fatal(err)
	}
	aside, err := Restore(ctx, dir, list[0].Name)
	if err != nil {
		t.Fatal(err)
	}
	if left, err := os.ReadFile(aside); err != nil || string(left[:6]) != "a disk" {
		t.Errorf("what was there is not kept: %q, %v", left, err)
	}
	if _, err := openStore(t, dir).Title(ctx, title); err != nil {
		t.Error(err)
	}
}
