package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pairwall/store"
)

// Persons and prices are invented.

func TestOrdersAreReadFromAShopsTableByOneCommand(t *testing.T) {
	data, dir := t.TempDir(), t.TempDir()
	st, err := store.Open(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := st.CreateTitle(t.Context(), titleName); err != nil {
		t.Fatal(err)
	}
	st.Close()
	file := filepath.Join(dir, "november.csv")
	// Windows-1252, semicolons, commas in prices, German words.
	table := "Nr;Datum;Empf\xe4nger;Stra\xdfe;PLZ;Ort;Land;Menge;Preis\n77;03.11.2026;Nives Prelog;Obala 5;6330;Piran;Slowenien;1;22,00\n78;04.11.2026;Zo\xeb M\xfcller;Weg 1;10115;Berlin;Deutschland;x;22,00\n"
	if err := os.WriteFile(file, []byte(table), 0o600); err != nil {
		t.Fatal(err)
	}
	read := func(more ...string) (int, string, string) {
		return told(t, append([]string{"--data", data, "orders", "read", "--title", titleName, file}, more...)...)
	}
	if code, _, say := read(); code != 1 || !strings.Contains(say, "order number: say which") {
		t.Errorf("nothing says the number: %d %s", code, say)
	}
	how := []string{"--columns", "number=Nr", "--currency", "eur", "--channel", "the harbour shop"}
	if code, out, say := read(append(how, "--check")...); code != 0 || !strings.Contains(out, "2 rows in windows-1252, parted by ;: 1 orders, 1 rows") || !strings.Contains(say, "Line 3, order 78: “x” is no number of copies") {
		t.Errorf("%d %s %s", code, out, say)
	}
	if code, _, say := read(append(how, "--strict")...); code != 1 || !strings.Contains(say, "Nothing was kept") {
		t.Errorf("%d %s", code, say)
	}
	if code, out, say := read(how...); code != 0 || !strings.Contains(out, "1 orders are new and kept") {
		t.Errorf("%d %s %s", code, out, say)
	}
	if code, out, say := read(); code != 0 || !strings.Contains(out, "0 orders are new and kept, 1 were known already") {
		t.Errorf("how it was read is remembered: %d %s %s", code, out, say)
	}
	code, out, say := told(t, "--data", data, "orders", "list", "--title", titleName, "--json")
	var list []struct {
		Number, Channel, Day string
		To                   struct{ Name, Country string }
		Price                struct{ Minor int64 }
	}
	if err := json.Unmarshal([]byte(out), &list); err != nil || code != 0 || len(list) != 1 || list[0].To.Country != "SI" || list[0].Price.Minor != 2200 || list[0].Channel != "the harbour shop" || list[0].Day != "2026-11-03" {
		t.Errorf("%d %s %s %v", code, out, say, err)
	}
	if code, out, _ := told(t, "--data", data, "orders", "list", "--title", titleName, "--csv"); code != 0 || !strings.Contains(out, "Nives Prelog") {
		t.Errorf("%d %s", code, out)
	}
	for words, args := range map[string][]string{"has no column": {"--columns", "number=Number"}, "no currency": {"--currency", "gold"}, "does not separate": {"--separator", "x"}, "no encoding": {"--encoding", "klingon"}, "no field": {"--columns", "shoe=Nr"}} {
		if code, _, say := read(args...); code != 1 || !strings.Contains(say, words) {
			t.Errorf("%v: %d %s", args, code, say)
		}
	}
}
