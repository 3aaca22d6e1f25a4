package main

import (
	"encoding/json"
	"os/exec"
	"path"
	"slices"
	"strings"
	"testing"
)

// rooms lists, for every room of the house, the other rooms it may open. A
// folder below a room belongs to the room, unless it is a room itself.
var rooms = map[string][]string{
	"cmd":              {"server", "store", "sequence", "sequence/*"},
	"server":           {"store", "web", "sequence", "sequence/*"},
	"store":            {"migrations", "sequence", "sequence/colour", "sequence/place", "sequence/pages", "sequence/edition", "sequence/proof"},
	"web":              {},
	"migrations":       {},
	"sequence":         {"sequence/colour", "sequence/place"},
	"sequence/colour":  {},
	"sequence/place":   {},
	"sequence/intake":  {"sequence", "sequence/colour", "sequence/place"},
	"sequence/pairing": {"sequence", "sequence/colour", "sequence/place"},
	"sequence/pages":   {"sequence", "sequence/colour", "sequence/place"},
	"sequence/press":   {"sequence", "sequence/colour", "sequence/place", "sequence/pages"},
	"sequence/edition": {"sequence", "sequence/colour", "sequence/place", "sequence/pages"},
	"sequence/proof":   {"sequence", "sequence/colour", "sequence/place", "sequence/pages"},
	"testdata":         {},
	"web/build":        {},
}

// keepers names the only rooms that may use an outside package, with the
// sentence that says which line was crossed otherwise.
var keepers = []struct {
	outside string
	rooms   []string
	line    string
}{
	{"database/sql", []string{"store"}, "store is the only package with SQL"},
	{"github.com/mattn/go-sqlite3", []string{"store"}, "store is the only package with SQL"},
	{"net/http", []string{"server", "cmd"}, "HTTP stays in server and its wiring"},
	{"github.com/go-chi/chi/v5", []string{"server"}, "HTTP stays in server and its wiring"},
	{"github.com/rwcarlsen/goexif", []string{"sequence/intake"}, "only intake reads EXIF, behind its own bounded walk"},
	{"github.com/kovidgoyal/imaging/prism/meta/icc", []string{"sequence/intake", "sequence/colour"}, "only intake and colour read colour profiles, each behind inks.Sound"},
	{"github.com/pdfcpu/pdfcpu", []string{"sequence/press"}, "only press reads other programs' PDF, in a worker"},
	{"github.com/kovidgoyal/imaging", []string{"sequence/intake"}, "only intake decodes the maker's files"},
}

var vague = []string{"util", "utils", "common", "helpers", "models", "services", "types"}

type listed struct {
	ImportPath string
	Name       string
	Imports    []string
}

func TestEveryRoomImportsOnlyWhatTheHouseAllows(t *testing.T) {
	packages := goList(t)
	if len(packages) < 8 {
		t.Fatalf("only %d packages were listed", len(packages))
	}
	for _, p := range packages {
		room := roomOf(p.ImportPath)
		if room == "" {
			t.Errorf("%s lies in no room of the house: the design knows no such folder", p.ImportPath)
			continue
		}
		if slices.Contains(vague, p.Name) {
			t.Errorf("%s is named %s: a package is a noun of the trade", p.ImportPath, p.Name)
		}
		for _, line := range crossed(room, p.Imports) {
			t.Errorf("%s: %s", p.ImportPath, line)
		}
	}
}

func TestACrossedLineIsNamedInASentence(t *testing.T) {
	for _, c := range []struct {
		room, imports, want string
	}{
		{"sequence/colour", "pairwall/sequence", "sequence/colour may not import sequence"},
		{"sequence/pairing", "pairwall/store", "Nothing under sequence/ imports store, server or web"},
		{"store", "pairwall/sequence/intake", "store may not import sequence/intake"},
		{"server", "database/sql", "store is the only package with SQL"},
		{"sequence", "net/http", "HTTP stays in server"},
	} {
		got := strings.Join(crossed(c.room, []string{c.imports}), "; ")
		if !strings.Contains(got, c.want) {
			t.Errorf("%s importing %s: %q does not say %q", c.room, c.imports, got, c.want)
		}
	}
	for room, imports := range map[string]string{"server": "pairwall/sequence/pairing/matching", "cmd": "pairwall/cmd/pairwall/demo", "store": "database/sql"} {
		if got := crossed(room, []string{imports}); len(got) > 0 {
			t.Errorf("%s may import %s, but: %v", room, imports, got)
		}
	}
}

// crossed returns a sentence for every import that the room may not have.
func crossed(room string, imports []string) []string {
	var lines []string
	for _, name := range imports {
		if target := roomOf(name); target != "" && target != room && !mayOpen(room, target) {
			line := room + " may not import " + target
			if strings.HasPrefix(room, "sequence") && !strings.HasPrefix(target, "sequence") {
				line = "Nothing under sequence/ imports store, server or web, but here is " + target
			}
			lines = append(lines, line)
		}
		for _, k := range keepers {
			if name != k.outside && !strings.HasPrefix(name, k.outside+"/") {
				continue
			}
			if !slices.Contains(k.rooms, room) {
				lines = append(lines, k.line+", but here is "+name)
			}
			break // the narrower rule stands before the wider
		}
	}
	return lines
}

func mayOpen(room, target string) bool {
	for _, allowed := range rooms[room] {
		if match, _ := path.Match(allowed, target); match {
			return true
		}
	}
	return false
}

// roomOf returns the deepest room a package of ours lies in, "" for others.
func roomOf(importPath string) string {
	folder, ours := strings.CutPrefix(importPath, "pairwall/")
	if !ours {
		return ""
	}
	for ; folder != "."; folder = path.Dir(folder) {
		if _, known := rooms[folder]; known {
			return folder
		}
	}
	return ""
}

func goList(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,Name,Imports", "pairwall/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var packages []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p listed
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		packages = append(packages, p)
	}
	return packages
}

func TestTheTopLevelHoldsOnlyWhatTheDesignKnows(t *testing.T) {
	known := []string{"cmd", "server", "store", "sequence", "web", "migrations", "testdata", "go.mod", "go.sum",
		"README.md", "DEVELOPERS.md", "LICENSE", "Makefile", ".gitignore", ".ci"}
	out, err := exec.Command("git", "-C", "../..", "ls-files", "-z").Output()
	if err != nil {
		t.Fatalf("git ls-files: %v", err)
	}
	for file := range strings.SplitSeq(strings.TrimSuffix(string(out), "\x00"), "\x00") {
		if top, _, _ := strings.Cut(file, "/"); !slices.Contains(known, top) {
			t.Errorf("%s: the design knows no %s at the top", file, top)
		}
	}
}
