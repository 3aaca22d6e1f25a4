package colour

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// table reads testdata/name: its header line and the rows below it.
func table(t *testing.T, name string) (header []string, rows [][]string) {
	t.Helper()
	file, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	all, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(all) < 2 {
		t.Fatalf("%s holds no rows", name)
	}
	return all[0], all[1:]
}

// numbers reads fields from..to of a row.
func numbers(t *testing.T, row []string, from, to int) []float64 {
	t.Helper()
	out := make([]float64, 0, to-from)
	for _, field := range row[from:to] {
		v, err := strconv.ParseFloat(field, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, v)
	}
	return out
}

func pixel(t *testing.T, row []string, from int) (r, g, b uint8) {
	t.Helper()
	v := numbers(t, row, from, from+3)
	return uint8(v[0]), uint8(v[1]), uint8(v[2])
}
