package evidence

import (
	"fmt"
	"math"
	"strings"
)

// Evidence is what one kind, or one relation asked for by name, says of a pair.
type Evidence struct {
	Kind      Kind      `json:"kind"`
	Known     bool      `json:"known"`             // whether both photos say anything of this kind
	Score     float64   `json:"score"`             // 0..1, 1 speaks most for the pair; the title's typical score when not known
	Measure   float64   `json:"measure,omitempty"` // how far apart, in Unit; 0 when not known
	Unit      string    `json:"unit"`
	Words     string    `json:"words"`               // "340 m apart"; "no place known for 12"
	Relations []Related `json:"relations,omitempty"` // what the kind is made of, each apart
}

// Related is what one relation of a kind says of a pair.
type Related struct {
	Relation Kind    `json:"relation"`
	Known    bool    `json:"known"`
	Score    float64 `json:"score"` // 0..1; the title's typical score when not known
	Measure  float64 `json:"measure,omitempty"`
	Unit     string  `json:"unit"`
	Words    string  `json:"words"`
}

// Evidence puts together what a row says of two photos.
func (t *Title) Evidence(row Row, a, b int) Evidence {
	e := Evidence{Kind: row.Kind()}
	if !row.IsKind() {
		r := t.related(row, a, b)
		e.Known, e.Score, e.Measure, e.Unit, e.Words = r.Known, r.Score, r.Measure, r.Unit, r.Words
		return e
	}
	for _, of := range ofKind[row] {
		if of == mixedRow && t.subjects[a].mono == t.subjects[b].mono {
			continue // colour beside colour has nothing mixed about it
		}
		e.Relations = append(e.Relations, t.related(of, a, b))
	}
	if !t.Known(row, a, b) {
		e.Score, e.Words, e.Unit = t.typical[row], t.missing(row, a, b), ofKind[row][0].relation().unit
		return e
	}
	main := t.main(row, a, b)
	e.Known, e.Score = true, t.Score(row, a, b)
	e.Measure, e.Unit = shown(t.Measure(main, a, b)), main.relation().unit
	e.Words = t.words(row, main, a, b)
	return e
}

func (t *Title) related(row Row, a, b int) Related {
	r := row.relation()
	out := Related{Relation: r.name, Unit: r.unit}
	if !t.Known(row, a, b) {
		out.Score, out.Words = t.typical[row], t.missing(row, a, b)
		return out
	}
	reading := r.read(t, a, b)
	out.Known, out.Measure, out.Words = true, shown(reading.measure), r.words(t, a, b, reading)
	out.Score = reading.score
	if r.least > 0 {
		out.Score = t.scales[row].rate(reading.measure)
	}
	return out
}

// telling is the score from which a further relation is worth naming beside the
// main one.
const telling = 0.5

// words puts a kind into words: its main relation, and those others that tell.
func (t *Title) words(row, main Row, a, b int) string {
	say := func(of Row) string {
		r := of.relation()
		return r.words(t, a, b, r.read(t, a, b))
	}
	tells := func(of Row) bool { return t.Known(of, a, b) && t.Score(of, a, b) >= telling }
	var parts []string
	switch row {
	case placeRow:
		parts = append(parts, say(main))
		if tells(townRow) {
			parts = append(parts, say(townRow))
		}
	case timeRow:
		parts = append(parts, say(main))
		for _, of := range []Row{hourRow, lightRow} {
			if tells(of) && t.subjects[a].day != t.subjects[b].day {
				parts = append(parts, say(of))
				break
			}
		}
	case colourRow:
		parts = append(parts, say(t.loudestColour(main, a, b)))
	case feelingRow:
		if t.Known(wordsRow, a, b) {
			parts = append(parts, say(wordsRow))
		}
		if main == moodRow {
			parts = append(parts, say(main))
		}
	case formRow:
		parts = append(parts, say(main))
	}
	return strings.Join(parts, ", ")
}

// loudestColour is the relation of colour that speaks loudest.
func (t *Title) loudestColour(main Row, a, b int) Row {
	if main != worldRow {
		return main
	}
	world := t.Score(worldRow, a, b)
	accent, opposites := t.Score(accentRow, a, b), t.Score(oppositesRow, a, b)
	switch {
	case accentCounts*accent >= max(world, oppositesCounts*opposites) && accent >= faint:
		return accentRow
	case oppositesCounts*opposites >= world && opposites >= faint:
		return oppositesRow
	}
	return main
}

// missing says of which of two photos a row knows nothing.
func (t *Title) missing(row Row, a, b int) string {
	noun := ""
	if row.IsKind() {
		noun = kinds[row].noun
	} else {
		noun = row.relation().noun
	}
	var without []string
	for _, i := range []int{a, b} {
		if !t.Knows(row, i) {
			without = append(without, fmt.Sprint(t.subjects[i].number))
		}
	}
	if len(without) == 0 { // each knows something, but not the same
		without = []string{fmt.Sprint(t.subjects[a].number), fmt.Sprint(t.subjects[b].number)}
		return fmt.Sprintf("no %s known of both %s", noun, Listed(without))
	}
	return fmt.Sprintf("no %s known for %s", noun, Listed(without))
}

// shown rounds a measure to four digits behind the point: no measure is finer.
func shown(measure float64) float64 { return math.Round(measure*1e4) / 1e4 }
