package pairing

import (
	"slices"
	"strings"

	"pairwall/sequence"
	"pairwall/sequence/pairing/evidence"
)

// reasons puts what speaks for a pair into one sentence: the circumstances first,
// then what is seen. "340 m apart, the same afternoon; both in rust". Where nothing
// speaks, it says so.
func reasons(j Judgement) string {
	var setting, seen, other []string
	for _, e := range j.Evidence {
		row, _ := evidence.RowOf(e.Kind)
		switch {
		case !e.Known:
		case !e.Tells:
			other = append(other, e.Words)
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
	switch {
	case len(clauses) == 0 && len(other) == 1: // asked for alone, it has an answer
		clauses = other
	case len(clauses) == 0 && len(other) > 1:
		clauses = []string{"little speaks for these two"}
	}
	return strings.Join(clauses, "; ")
}

// missing says what of all that counts is not known of two photos, each once: "no
// place or date of taking known for 31 and 48".
func (m *Measures) missing(a, b int, shares []float64) string {
	type lack struct {
		nouns []string
		of    []sequence.PhotoID
		both  bool
	}
	var lacks []lack
	for row, share := range shares {
		if share == 0 || m.title.Known(evidence.Row(row), a, b) {
			continue
		}
		noun, of, both := m.title.Lacks(evidence.Row(row), a, b)
		at := slices.IndexFunc(lacks, func(l lack) bool { return slices.Equal(l.of, of) && l.both == both })
		if at < 0 {
			lacks = append(lacks, lack{[]string{noun}, of, both})
		} else if !slices.Contains(lacks[at].nouns, noun) {
			lacks[at].nouns = append(lacks[at].nouns, noun)
		}
	}
	var clauses []string
	for _, l := range lacks {
		clauses = append(clauses, evidence.Missing(l.nouns, l.of, l.both))
	}
	return strings.Join(clauses, "; ")
}
