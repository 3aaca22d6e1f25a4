package pairing

import (
	"strings"

	"pairwall/sequence/pairing/evidence"
)

// reasons puts a judgement into one sentence: the circumstances first, then what
// is seen, then what is missing. "340 m apart, the same afternoon; both carry
// rust, ΔE00 4.1".
func reasons(j Judgement) string {
	var setting, seen, missing []string
	for _, e := range j.Evidence {
		row, _ := evidence.RowOf(e.Kind)
		switch {
		case !e.Known:
			missing = append(missing, e.Words)
		case row.Setting():
			setting = append(setting, e.Words)
		default:
			seen = append(seen, e.Words)
		}
	}
	var clauses []string
	if j.Alike {
		clauses = append(clauses, "nearly the same picture")
	}
	if len(setting) > 0 {
		clauses = append(clauses, strings.Join(setting, ", "))
	}
	clauses = append(clauses, seen...)
	return strings.Join(append(clauses, missing...), "; ")
}
