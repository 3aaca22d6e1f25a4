package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pairwall/sequence/edition"
	"pairwall/sequence/edition/ledger"
)

// dataOfACounter is the data of a title with orders, ready to be packed: those of
// someOrders.
func dataOfACounter(t *testing.T) string {
	t.Helper()
	a := startApp(t)
	a.anEdition(12)
	a.aPackingShelf()
	a.someOrders()
	book := ledger.FirstCashbook()
	book.Entered = []ledger.Entered{{Kind: ledger.Printing, Amount: edition.Money{Minor: -6050, Currency: "EUR"}}}
	if err := a.store.SetCashbook(t.Context(), a.title, 0, book); err != nil {
		t.Fatal(err)
	}
	a.stop()
	return a.data
}

// textOf is what a PDF says, a blank between words.
func textOf(t *testing.T, pdf string) string {
	t.Helper()
	text, err := exec.CommandContext(t.Context(), "pdftotext", "-raw", pdf, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(string(text)), " ")
}

func TestLabelsAndListsAreMadeFromTheTerminalAndNeverOverAFile(t *testing.T) {
	data, dir := dataOfACounter(t), t.TempDir()
	labels := func(more ...string) (int, string, string) {
		return told(t, append([]string{"--data", data, "labels", "--title", titleName}, more...)...)
	}
	out := filepath.Join(dir, "labels.pdf")
	code, said, say := labels("--out", out)
	if code != 0 || !strings.HasPrefix(said, "3 labels on A4, 3 × 7") || !strings.Contains(say, "is made.") {
		t.Fatalf("%d %s %s", code, said, say)
	}
	for _, words := range []string{"Order A-3 is held up: There is no street", "Order A-4 has to be finished by hand", "from right to left"} {
		if !strings.Contains(say, words) {
			t.Errorf("%q is missing in %q", words, say)
		}
	}
	text := textOf(t, out)
	for words, want := range map[string]int{"Nives Prelog": 1, "SLOVENIA": 1, "8001 Zürich": 1, "A-2 · 2/12, 3/12": 1, "No street": 0, "at the fair": 0, "Vera Immaginaria": 3} {
		if n := strings.Count(text, words); n != want {
			t.Errorf("%q stands %d times on the labels, not %d", words, n, want)
		}
	}
	before, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	code, _, say = labels("--out", out, "--first", "4")
	if after, err := os.ReadFile(out); code != 1 || err != nil || string(after) != string(before) || !strings.Contains(say, "is there already") {
		t.Errorf("%d %s %v", code, say, err)
	}
	for kind, words := range map[string]string{"packing-list": "for Ada, please", "thanks": "taking this journey home", "label-test": ""} {
		out := filepath.Join(dir, kind+".pdf")
		if code, _, say := labels("--kind", kind, "--out", out); code != 0 || !strings.Contains(textOf(t, out), words) {
			t.Errorf("%s: %d %s", kind, code, say)
		}
	}
	single := filepath.Join(dir, "single.pdf")
	code, said, say = labels("--sheet", "single labels, 100", "--order", "1", "--out", single, "--json")
	var is struct{ Labels int }
	if err := json.Unmarshal([]byte(said), &is); err != nil || code != 0 || is.Labels != 1 || !strings.Contains(textOf(t, single), "Nives Prelog") {
		t.Errorf("%d %s %s %v", code, said, say, err)
	}
	never := filepath.Join(dir, "never.pdf")
	for words, args := range map[string][]string{"No sheet of labels": {"--sheet", "B7"}, "no order 99": {"--order", "99"}, "label": {"--first", "22"}} {
		if code, _, say := labels(append(args, "--out", never)...); code != 1 || !strings.Contains(say, words) {
			t.Errorf("%v: %d %s", args, code, say)
		}
	}
	if _, err := os.Stat(never); err == nil {
		t.Error("a file was left that could not be made")
	}
}

func TestMoneyIsToldFromTheTerminalAndEveryRowGoesIntoATable(t *testing.T) {
	data := dataOfACounter(t)
	out := filepath.Join(t.TempDir(), "money.csv")
	args := []string{"--data", data, "money", "--title", titleName, "--out", out}
	code, said, say := told(t, args...)
	// 22 + 44 + 9 + 20 came in; 60.50 went out.
	for _, words := range []string{"all of it  95.00", "60.50", "34.50", "In EUR; "} {
		if !strings.Contains(said, words) {
			t.Errorf("%q is missing in\n%s", words, said)
		}
	}
	if code != 0 || !strings.Contains(say, "is made.") {
		t.Fatalf("%d %s", code, say)
	}
	file, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(file), "\uFEFF"))).ReadAll()
	if err != nil || len(rows) < 6 {
		t.Errorf("%v\n%s", err, file)
	}
	for _, words := range []string{"order A-2", "44.00", "-60.50"} {
		if !strings.Contains(string(file), words) {
			t.Errorf("%q is missing in\n%s", words, file)
		}
	}
	if code, _, say := told(t, args...); code != 1 || !strings.Contains(say, "is there already") {
		t.Errorf("%d %s", code, say)
	}
	var account ledger.Account
	code, said, say = told(t, "--data", data, "money", "--title", titleName, "--json")
	if err := json.Unmarshal([]byte(said), &account); err != nil || code != 0 || account.Total.Left != (edition.Money{Minor: 3450, Currency: "EUR"}) {
		t.Errorf("%d %s %s %v", code, said, say, err)
	}
}
