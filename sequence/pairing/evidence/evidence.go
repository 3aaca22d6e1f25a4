package evidence

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"pairwall/sequence"
)

// Evidence is what one kind, or one relation asked for by name, says of a pair.
type Evidence struct {
	Kind      Kind      `json:"kind"`
	Known     bool      `json:"known"`             // whether both photos say anything of this kind
	Score     float64   `json:"score"`             // 0..1, 1 speaks most for the pair; the title's typical score when not known
	Measure   float64   `json:"measure,omitempty"` // how far apart, in Unit; 0 when not known
	Unit      string    `json:"unit"`
	Words     string    `json:"words"`               // "340 m apart"; "no place known for 12"
	Tells     bool      `json:"tells"`               // whether the words are worth saying of the pair
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
	Tells    bool    `json:"tells"`
}

// Evidence puts together what a row says of two photos.
func (t *Title) Evidence(row Row, a, b int) Evidence {
	e := Evidence{Kind: row.Kind()}
	if !row.IsKind() {
		r := t.related(row, a, b)
		e.Known, e.Score, e.Measure, e.Unit, e.Words, e.Tells = r.Known, r.Score, r.Measure, r.Unit, r.Words, r.Tells
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
	e.Words = t.words(row, a, b)
	e.Tells = e.Words != ""
	e.Words = cmp.Or(e.Words, main.relation().none)
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
	out.Known, out.Measure, out.Score = true, shown(reading.measure), t.Score(row, a, b)
	words := r.words(t, a, b, reading)
	out.Words, out.Tells = cmp.Or(words, r.none), words != ""
	return out
}

// telling is the score from which a further relation is worth naming beside the
// main one.
const telling = 0.5

// words puts a kind into words: its relations that tell, "" when none does. How
// near two photos are in place and time is always worth saying.
func (t *Title) words(row Row, a, b int) string {
	say := func(of Row) string {
		if !t.Known(of, a, b) {
			return ""
		}
		r := of.relation()
		return r.words(t, a, b, r.read(t, a, b))
	}
	tells := func(of Row) bool { return t.Known(of, a, b) && t.Score(of, a, b) >= telling }
	var parts []string
	switch row {
	case placeRow:
		parts = append(parts, say(distanceRow))
		if tells(townRow) {
			parts = append(parts, say(townRow))
		} else if tells(stretchRow) && t.Score(distanceRow, a, b) < telling {
			parts = append(parts, say(stretchRow))
		}
	case timeRow:
		parts = append(parts, say(gapRow))
		for _, of := range []Row{hourRow, lightRow} {
			if tells(of) && t.subjects[a].day != t.subjects[b].day {
				parts = append(parts, say(of))
				break
			}
		}
	case colourRow:
		parts = append(parts, say(t.loudestColour(t.main(row, a, b), a, b)))
	case feelingRow:
		parts = append(parts, say(wordsRow), say(moodRow))
	case formRow:
		parts = t.actWords(a, b, say)
	}
	return strings.Join(slices.DeleteFunc(parts, func(part string) bool { return part == "" }), ", ")
}

// actWords says at most two things that two pictures do to each other, the
// strongest first.
func (t *Title) actWords(a, b int, say func(of Row) string) []string {
	const most = 2
	acts := t.acts(a, b)
	slices.SortStableFunc(acts, func(x, y act) int { return cmp.Compare(y.strength, x.strength) })
	var parts []string
	for _, act := range acts {
		if words := say(act.row); words != "" && len(parts) < most {
			parts = append(parts, words)
		}
	}
	return parts
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

// Lacks says what of a row is missing, and of which of two photos. Where each is
// known by something, but not by the same, both is true.
func (t *Title) Lacks(row Row, a, b int) (noun string, of []sequence.PhotoID, both bool) {
	if row.IsKind() {
		noun = kinds[row].noun
	} else {
		noun = row.relation().noun
	}
	for _, i := range []int{a, b} {
		if !t.Knows(row, i) {
			of = append(of, t.subjects[i].number)
		}
	}
	if len(of) == 0 {
		return noun, []sequence.PhotoID{t.subjects[a].number, t.subjects[b].number}, true
	}
	return noun, of, false
}

// missing says of which of two photos a row knows nothing.
func (t *Title) missing(row Row, a, b int) string {
	noun, of, both := t.Lacks(row, a, b)
	return Missing([]string{noun}, of, both)
}

// Missing says what is not known of some photos: "no place or date of taking known
// for 31 and 48".
func Missing(nouns []string, of []sequence.PhotoID, both bool) string {
	var numbers []string
	for _, id := range of {
		numbers = append(numbers, fmt.Sprint(id))
	}
	how := "for"
	if both {
		how = "of both"
	}
	return fmt.Sprintf("no %s known %s %s", strings.ReplaceAll(Listed(nouns), " and ", " or "), how, Listed(numbers))
}

// shown rounds a measure to four digits behind the point: no measure is finer.
func shown(measure float64) float64 { return math.Round(measure*1e4) / 1e4 }
