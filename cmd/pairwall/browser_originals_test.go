package main

import (
	"fmt"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pairwall/sequence"
)

func TestNearlyTheSamePicturesLieInAPileWithTheSharpestOnTop(t *testing.T) {
	b := begin(t, "Twice the same")
	b.allow("net::ERR_") // the program is away while the terminal brings in
	folder := folderOf(t, 2)
	first := filepath.Join(folder, filepath.Base(mustGlob(t, folder, "*.jpg")[0]))
	coarse := filepath.Join(folder, "again.jpg")
	saveCoarser(t, first, coarse)
	if _, err := b.app.bringAll(folder); err != nil {
		t.Fatal(err)
	}
	b.open(b.app.wallAddress())
	b.reload()
	pile := `.print[data-pile="2"]`
	b.there(pile)
	b.says(pile, "2 alike")
	b.until("all is at rest", allAtRest)
	for _, what := range read[[]string](b, call(wordsMeet, pile)) {
		t.Error(what)
	}
	if n := b.cards(); n != 2 {
		t.Errorf("%d prints lie on the table, of three in a pile of two and one alone", n)
	}
	if n := read[string](b, `document.querySelector('[data-count="table"]').textContent`); n != "3" {
		t.Errorf("the table counts %s", n)
	}
	b.click(pile + " " + act("pile"))
	b.wait("all lie open", func() bool { return b.cards() == 3 }, func() string { return fmt.Sprintf("; %d do", b.cards()) })
	b.hears("The pile is open")
	b.until("all is at rest", allAtRest)
	for _, what := range read[[]string](b, call(wordsMeet, `.print[data-pile="open"]`)) {
		t.Error(what)
	}
	b.click(`.print[data-pile="open"] [data-photo]`)
	b.key("u")
	b.wait("it is closed again", func() bool { return b.cards() == 2 }, func() string { return fmt.Sprintf("; %d lie there", b.cards()) })
	b.unchanged(0)
}

func mustGlob(t *testing.T, folder, pattern string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(folder, pattern))
	if err != nil || len(found) == 0 {
		t.Fatalf("no %s in %s, %v", pattern, folder, err)
	}
	return found
}

// saveCoarser saves a picture once more, in poor quality and without its date.
func saveCoarser(t *testing.T, from, to string) {
	t.Helper()
	source, err := os.Open(from)
	if err != nil {
		t.Fatal(err)
	}
	defer source.Close()
	picture, err := jpeg.Decode(source)
	if err != nil {
		t.Fatal(err)
	}
	file, err := os.Create(to)
	if err != nil {
		t.Fatal(err)
	}
	if err := jpeg.Encode(file, picture, &jpeg.Options{Quality: 30}); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
}

// bringAll brings a folder into the title, as the terminal does.
func (a *app) bringAll(folder string) (sequence.TitleID, error) {
	title, err := a.store.Title(a.t.Context(), a.title)
	if err != nil {
		return 0, err
	}
	a.stop()
	if err := bringIn(a.data, title.Name, folder); err != nil {
		return 0, err
	}
	next := serveAt(a.t, a.data, strings.TrimPrefix(a.address, "http://"))
	a.store, a.stop = next.store, next.stop
	return title.ID, nil
}

func TestMovedOriginalsAreMissedAndFoundAgainByWhatIsInThem(t *testing.T) {
	b := begin(t, "Moved away")
	b.allow("net::ERR_") // the program is away while the terminal brings in
	folder := folderOf(t, 3)
	if _, err := b.app.bringAll(folder); err != nil {
		t.Fatal(err)
	}
	attic := filepath.Join(filepath.Dir(folder), "Attic")
	if err := os.Mkdir(attic, 0o700); err != nil {
		t.Fatal(err)
	}
	for i, name := range mustGlob(t, folder, "*.jpg") {
		if err := os.Rename(name, filepath.Join(attic, fmt.Sprintf("renamed-%d.jpg", i))); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("HOME", attic)
	b.open(b.app.wallAddress())
	b.reload()
	b.says("[data-missing-originals]", "3 originals are no longer where they were.")
	b.until("the card says so", `document.querySelector('[data-region] [data-photo="1"]')?.getAttribute("aria-label").includes("original missing")`)
	b.click("[data-missing-originals] " + act("originals"))
	b.there(`[data-lost="3"]`)
	b.says(panel("originals")+" .here", attic)
	b.click(act("look-in-folder"))
	b.says(panel("originals"), "Every original is where it was")
	b.until("the card is sound again", `!document.querySelector('[data-region] [data-photo="1"]').getAttribute("aria-label").includes("missing")`)
	if p := b.app.photo(1); filepath.Dir(p.Path) != attic {
		t.Errorf("it is remembered in %s", p.Path)
	}
}
