package matching

import (
	"os"
	"strconv"
	"strings"
	"testing"
)

// testdata/README.md says how the judges' totals were made.
func TestTotalsEqualThoseOfNetworkXAndLEMON(t *testing.T) {
	for _, judge := range []string{"networkx", "lemon"} {
		t.Run(judge, func(t *testing.T) { checkTotals(t, "testdata/"+judge+".tsv") })
	}
}

func checkTotals(t *testing.T, file string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")[1:]
	if len(lines) != 200 {
		t.Fatalf("%d graphs, want 200", len(lines))
	}
	for _, line := range lines {
		var f [6]int64
		for i, s := range strings.Split(line, "\t") {
			if f[i], err = strconv.ParseInt(s, 10, 64); err != nil {
				t.Fatalf("%q: %v", line, err)
			}
		}
		w := recipe{n: int(f[0]), percent: f[1], low: f[2], top: f[3]}.graph(uint64(f[4]))
		if got := prove(t, w); got != f[5] {
			t.Errorf("%q: total %d", line, got)
		}
	}
}
