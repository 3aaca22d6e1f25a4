package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pairwall/sequence/pages"
	"pairwall/server/printing"
)

// told runs a command as the terminal would.
func told(t *testing.T, args ...string) (code int, out, say string) {
	t.Helper()
	var o, s bytes.Buffer
	code = run(t.Context(), args, &o, &s)
	return code, o.String(), s.String()
}

// dataOfReal is a copy of the prepared title's data.
func dataOfReal(t *testing.T) string {
	t.Helper()
	a := startApp(t)
	a.hang("[3] (1 2) (4 -) [5]")
	a.stop()
	return a.data
}

func TestAPDFIsPrintedFromTheTerminalWithoutPositionsAndNeverOverAFile(t *testing.T) {
	data, dir := dataOfReal(t), t.TempDir()
	for _, kind := range []string{"cards", "contact", "spreads"} {
		out := filepath.Join(dir, kind+".pdf")
		args := []string{"--data", data, "print", "--title", titleName, "--kind", kind, "--out", out}
		if code, _, say := told(t, args...); code != 0 {
			t.Fatalf("%s: %d, %s", kind, code, say)
		}
		file, err := os.ReadFile(out)
		if err != nil || !bytes.HasPrefix(file, []byte("%PDF-")) {
			t.Fatalf("%s: %v", kind, err)
		}
		for _, told := range []string{"Exif", "GPS", "ns.adobe.com"} {
			if bytes.Contains(file, []byte(told)) {
				t.Errorf("%s holds %q", kind, told)
			}
		}
		code, _, say := told(t, args...)
		if again, err := os.ReadFile(out); code != 1 || err != nil || !bytes.Equal(again, file) || !strings.Contains(say, "is there already") {
			t.Errorf("%s again: %d, %s", kind, code, say)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".pairwall-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	for words, args := range map[string][]string{
		"does not fit on A4":     {"--kind", "cards", "--long", "230"},
		"no sheet":               {"--kind", "cards", "--sheet", "B7"},
		"no photo 99":            {"--kind", "contact", "--of", "chosen", "--photo", "99"},
		"Nothing can be written": {"--kind", "spreads", "--out", filepath.Join(dir, "no", "such", "folder.pdf")},
	} {
		args = append([]string{"--data", data, "print", "--title", titleName, "--out", filepath.Join(dir, "never.pdf")}, args...)
		if code, _, say := told(t, args...); code != 1 || !strings.Contains(say, words) {
			t.Errorf("%v: %d, %s", args, code, say)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "never.pdf")); err == nil {
		t.Error("a file was left that could not be made")
	}
}

// program runs the program itself, with its workers, as the terminal would.
func program(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	built, err := theProgram()
	if err != nil {
		t.Fatal(err)
	}
	return exec.CommandContext(t.Context(), built, args...)
}

func TestABookIsPrintedFromTheTerminal(t *testing.T) {
	data, dir := dataOfReal(t), t.TempDir()
	for kind, want := range map[string]struct{ count, says string }{
		"pages": {"6", "PDF/X-4 asks for the profile"}, "spreads": {"4", ""}, "dummy": {"5", ""}, "test": {"1", ""},
	} {
		out := filepath.Join(dir, kind+".pdf")
		said, err := program(t, "--data", data, "print", "--title", titleName, "--kind", kind, "--marks", "--page", "2", "--page", "3", "--out", out).CombinedOutput()
		if err != nil || !strings.Contains(string(said), want.says) {
			t.Fatalf("%s: %v, %s", kind, err, said)
		}
		file, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		if n := pageCount(t, string(file)); n != want.count {
			t.Errorf("%s has %s pages, want %s", kind, n, want.count)
		}
		if bytes.Contains(file, []byte("Exif\x00")) {
			t.Errorf("%s holds what a camera wrote", kind)
		}
	}
}

// Killed at any moment, a run leaves a whole file or none.
func TestAKilledRunLeavesNoHalfPDF(t *testing.T) {
	data, dir := dataOfReal(t), t.TempDir()
	for i := range 5 {
		out := filepath.Join(dir, strconv.Itoa(i)+".pdf")
		run := program(t, "--data", data, "print", "--title", titleName, "--kind", "pages", "--out", out)
		if err := run.Start(); err != nil {
			t.Fatal(err)
		}
		drafts := filepath.Join(dir, ".pairwall-*")
		for begun := false; !begun; { // the next draft, or the whole file at once
			now, err := filepath.Glob(drafts)
			if err != nil {
				t.Fatal(err)
			}
			_, whole := os.Stat(out)
			begun = len(now) > 0 || whole == nil
		}
		if err := run.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = run.Wait() // killed
		file, err := os.ReadFile(out)
		if err == nil && !bytes.HasSuffix(file, []byte("%%EOF\n")) {
			t.Errorf("half a file of %d bytes is left", len(file))
		}
		left, _ := filepath.Glob(drafts)
		for _, name := range left {
			if err := os.Remove(name); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestATitleIsCheckedFromTheTerminal(t *testing.T) {
	a := startApp(t)
	a.hang("[3] (1 2) (4 -) [5]")
	photo, err := a.store.Photo(t.Context(), a.title, 4)
	if err != nil {
		t.Fatal(err)
	}
	if err := a.store.Relink(t.Context(), a.title, 4, photo.Path+"-gone", photo.Name, photo.Stamp); err != nil {
		t.Fatal(err)
	}
	a.stop()
	code, said, say := told(t, "--data", a.data, "check", "--title", titleName)
	for _, words := range []string{"6 pages, 5 photos on them.", "judged by no inks", "The original of photo 4 on page 4 is not where it was", "Connect the disk"} {
		if !strings.Contains(said, words) {
			t.Errorf("%q is missing in %q", words, said)
		}
	}
	if code != 0 {
		t.Errorf("%d, %s", code, say)
	}
	var checked printing.Checked
	_, said, _ = told(t, "--data", a.data, "check", "--title", titleName, "--json")
	if err := json.Unmarshal([]byte(said), &checked); err != nil || checked.Pages != 6 || len(checked.Found) == 0 || checked.Found[0].Kind != pages.MissingMisfit {
		t.Errorf("%v, %.300s", err, said)
	}
}

func TestABackupIsListedAndRestoredByOneCommand(t *testing.T) {
	a := startApp(t)
	if _, err := a.store.BackUpToday(t.Context()); err != nil { // what the server does in the background
		t.Fatal(err)
	}
	a.stop()
	data := a.data
	code, out, say := told(t, "--data", data, "restore")
	if code != 0 || !strings.Contains(out, "pairwall-") {
		t.Fatalf("%d, %s%s", code, out, say)
	}
	name := strings.Fields(out)[0]
	if code, out, say := told(t, "--data", data, "restore", name); code != 0 || !strings.Contains(out, "What it replaced is kept") {
		t.Errorf("%d, %s%s", code, out, say)
	}
	if code, out, _ := told(t, "--data", data, "photos", "--title", titleName); code != 0 || strings.Count(out, "\n") != allPhotos {
		t.Errorf("%d, %s", code, out)
	}
	if code, _, say := told(t, "--data", data, "restore", "yesterday"); code != 1 || !strings.Contains(say, "There is no backup yesterday") {
		t.Errorf("%d, %s", code, say)
	}
}
