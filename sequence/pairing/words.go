package pairing

import (
	"fmt"
	"strings"

	"pairwall/sequence"
)

// reasons puts a judgement into one sentence: the circumstances first, then what
// is seen, then what is missing. "340 m apart, the same afternoon; both carry
// rust, ΔE00 4.1".
func reasons(j Judgement) string {
	var setting, seen, missing []string
	for _, e := range j.Evidence {
		switch {
		case !e.Known:
			missing = append(missing, e.Words)
		case kinds[rowOf(e.Kind)].setting:
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

// missing says of which of two photos a kind knows nothing.
func (m *Measures) missing(row, a, b int) string {
	var without []string
	for _, i := range []int{a, b} {
		if !m.gauges[row].knows(i) {
			without = append(without, fmt.Sprint(m.photos[i].Number))
		}
	}
	return fmt.Sprintf("no %s known for %s", kinds[row].noun, listed(without))
}

// listed joins words as a sentence does: "a, b and c".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

func numbers(photos []sequence.PhotoID) []string {
	words := make([]string, len(photos))
	for i, p := range photos {
		words[i] = fmt.Sprint(p)
	}
	return words
}
