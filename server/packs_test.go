package server

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/server/bringing"
)

// entries are the files of a pack, by name.
func entries(t *testing.T, pack []byte) map[string][]byte {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(pack), int64(len(pack)))
	if err != nil {
		t.Fatal(err)
	}
	all := make(map[string][]byte)
	for _, f := range r.File {
		content, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if all[f.Name], err = io.ReadAll(content); err != nil {
			t.Fatal(err)
		}
		content.Close()
	}
	return all
}

// repacked is a pack with some files put in another's place; nil leaves one out.
func repacked(t *testing.T, files map[string][]byte) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for name, content := range files {
		if content == nil {
			continue
		}
		to, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := to.Write(content); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestAPackedTitleIsOpenedInAnotherHouseWithItsOriginals(t *testing.T) {
	h, other := newHouse(t), newHouse(t)
	title, at := h.newTitle("Round the Adriatic")
	h.bringAll(at, h.photographs(5))
	pack := h.fetch(fmt.Sprintf("/out/%d/packed.zip?places=1&originals=1", title.ID), "")
	if pack.status != http.StatusOK || !strings.Contains(pack.header.Get("Content-Disposition"), "packed.zip") {
		t.Fatalf("%d %v", pack.status, pack.header)
	}
	var there sequence.Title
	if status := other.upload("/api/packs", map[string][]byte{"a.zip": pack.body}, &there); status != http.StatusCreated {
		t.Fatal(status)
	}
	photos, err := other.store.Photos(t.Context(), there.ID)
	if err != nil || len(photos) != 5 {
		t.Fatalf("%d photos, %v", len(photos), err)
	}
	for _, p := range photos {
		if !strings.HasPrefix(p.Path, other.data) {
			t.Errorf("the original of %s lies at %s", p.Name, p.Path)
		}
	}
	var missing bringing.Originals
	other.want(200, "GET", fmt.Sprintf("/api/titles/%d/originals", there.ID), nil, &missing)
	if len(missing.Missing)+len(missing.Changed) > 0 {
		t.Errorf("originals that are not as they were: %+v", missing)
	}
	if card := other.fetch(fmt.Sprintf("/cards/%d/1/160.jpg", there.ID), ""); card.status != http.StatusOK {
		t.Errorf("its card: %d", card.status)
	}
}

func TestAPackThatWasTamperedWithIsRefusedAndLeavesNothing(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Round the Adriatic")
	h.bringAll(at, h.photographs(3))
	pack := h.fetch(fmt.Sprintf("/out/%d/packed.zip?places=1&originals=1", title.ID), "").body
	spoilt := func(how func(files map[string][]byte)) []byte {
		files := entries(t, pack)
		how(files)
		return repacked(t, files)
	}
	first := func(files map[string][]byte, prefix string) string {
		for name := range files {
			if strings.HasPrefix(name, prefix) {
				return name
			}
		}
		t.Fatalf("no %s in the pack", prefix)
		return ""
	}
	for name, file := range map[string][]byte{
		"no archive":      []byte("not a pack"),
		"cut off":         pack[:len(pack)/2],
		"another picture": spoilt(func(f map[string][]byte) { f[first(f, "originals/")] = []byte("another") }),
		"a card changed":  spoilt(func(f map[string][]byte) { f[first(f, "cards/")][30]++ }),
		"a card missing":  spoilt(func(f map[string][]byte) { f[first(f, "cards/")] = nil }),
		"no data":         spoilt(func(f map[string][]byte) { f["title.db"] = nil }),
		"says nothing":    spoilt(func(f map[string][]byte) { f["pairwall.json"] = nil }),
		"a path out": spoilt(func(f map[string][]byte) {
			f["pairwall.json"] = bytes.Replace(f["pairwall.json"], []byte("cards/"), []byte("cards/../../"), 1)
		}),
		"claims to be larger": spoilt(func(f map[string][]byte) {
			f["pairwall.json"] = bytes.Replace(f["pairwall.json"], []byte(`"bytes": `), []byte(`"bytes": 9`), 1)
		}),
	} {
		if status := h.upload("/api/packs", map[string][]byte{"a.zip": file}, nil); status != http.StatusUnprocessableEntity {
			t.Errorf("%s: %d", name, status)
		}
	}
	newer := spoilt(func(f map[string][]byte) {
		f["pairwall.json"] = bytes.Replace(f["pairwall.json"], []byte(`"form": 1`), []byte(`"form": 2`), 1)
	})
	if status := h.upload("/api/packs", map[string][]byte{"a.zip": newer}, nil); status != http.StatusUnprocessableEntity {
		t.Errorf("newer: %d", status)
	}
	if titles, _ := h.store.Titles(t.Context()); len(titles) != 1 {
		t.Errorf("%d titles are there", len(titles))
	}
	if left, _ := filepath.Glob(filepath.Join(h.data, ".unpacking-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if got := h.fetch(fmt.Sprintf("/out/%d/packed.zip?originals=1", title.ID), ""); got.status != http.StatusBadRequest {
		t.Errorf("originals without places: %d", got.status)
	}
}

func TestTheOrderIsWrittenAsATableWithoutFormulas(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Round the Adriatic")
	h.bringAll(at, h.photographs(3))
	h.want(200, "POST", at+"/changes", sequence.Change{Act: "hang", Steps: []sequence.Step{{Do: sequence.Add, Spread: &sequence.Spread{ID: 1, Left: 2, Right: 3}}},
		Says: []sequence.Statement{{Photo: 2, Fact: sequence.CaptionFact, Now: sequence.Value{Text: `=HYPERLINK("x")`}}}}, nil)
	got := h.fetch(fmt.Sprintf("/out/%d/order.csv", title.ID), "")
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(got.body), "\uFEFF"))).ReadAll()
	if err != nil || len(rows) != 5 {
		t.Fatalf("%q, %v", got.body, err)
	}
	if rows[2][0] != "2" || rows[2][1] != "left" || rows[2][3] != "2" || rows[2][5] != `'=HYPERLINK("x")` || rows[3][3] != "3" || rows[1][3] != "" {
		t.Errorf("%q", rows)
	}
	if got := h.fetch(fmt.Sprintf("/out/%d/order.xls", title.ID), ""); got.status != http.StatusNotFound {
		t.Errorf("an unknown form: %d", got.status)
	}
}
