package evidence

// Knows reports whether anything of the row is known of photo i.
func (t *Title) Knows(row Row, i int) bool {
	if !row.IsKind() {
		return row.relation().knows(t, i)
	}
	switch row {
	case placeRow:
		return placed(t, i)
	case timeRow:
		return timed(t, i)
	case colourRow:
		return coloured(t, i)
	case feelingRow:
		return felt(t, i) || worded(t, i)
	}
	return shaped(t, i) || formed(t, i) || gazing(t, i)
}

// Known reports whether the row is known of both photos together.
func (t *Title) Known(row Row, a, b int) bool {
	if !row.IsKind() {
		r := row.relation()
		if r.either {
			return r.knows(t, a) || r.knows(t, b)
		}
		return r.knows(t, a) && r.knows(t, b)
	}
	switch row {
	case feelingRow:
		return t.Known(moodRow, a, b) || t.Known(wordsRow, a, b)
	case formRow:
		return t.Known(shapeRow, a, b) || t.Known(linesRow, a, b) || t.Known(gazeRow, a, b)
	}
	return t.Knows(row, a) && t.Knows(row, b)
}

// Typical is the score of two photos of the title on average.
func (t *Title) Typical(row Row) float64 { return t.typical[row] }

// Score is how much the row speaks for two photos of which it is known, 0..1.
//
// Place is how near; its town and its stretch of the way are asked for by
// themselves. Time is how near, or else, at a discount, the same light or the same
// hour of another day. Of colours any one relation will do, for
// makers use all three; black and white is judged by its tones, and a colour
// beside a black and white by tone at a discount. The maker's own words count
// three times what is measured of feeling. Form is what the two do to each other,
// and for a third what shape they have.
func (t *Title) Score(row Row, a, b int) float64 {
	switch row {
	case placeRow:
		return t.Score(distanceRow, a, b)
	case timeRow:
		return t.timeScore(a, b)
	case colourRow:
		return t.colourScore(a, b)
	case feelingRow:
		return t.feelingScore(a, b)
	case formRow:
		return t.formScore(a, b)
	}
	r := row.relation()
	reading := r.read(t, a, b)
	if r.least > 0 {
		return t.scales[row].rate(reading.measure)
	}
	return reading.score
}

// How much of its strength a time of day lends the kind, though days lie between.
// Our own.
const (
	lightCounts = 0.6
	hourCounts  = 0.5
)

func (t *Title) timeScore(a, b int) float64 {
	score := t.Score(gapRow, a, b)
	if t.Known(hourRow, a, b) {
		score = max(score, hourCounts*t.Score(hourRow, a, b))
	}
	if t.Known(lightRow, a, b) {
		score = max(score, lightCounts*t.Score(lightRow, a, b))
	}
	return score
}

// How much of its strength each relation of colour lends the kind. Our own.
const (
	accentCounts    = 0.9
	oppositesCounts = 0.85
	mixedCounts     = 0.8
)

func (t *Title) colourScore(a, b int) float64 {
	p, q := t.subjects[a], t.subjects[b]
	switch {
	case p.mono && q.mono:
		return t.Score(toneRow, a, b)
	case p.mono || q.mono:
		return mixedCounts * t.Score(mixedRow, a, b)
	}
	return max(t.Score(worldRow, a, b), accentCounts*t.Score(accentRow, a, b),
		oppositesCounts*t.Score(oppositesRow, a, b))
}

const ownWords = 0.75

func (t *Title) feelingScore(a, b int) float64 {
	words, mood := t.Known(wordsRow, a, b), t.Known(moodRow, a, b)
	switch {
	case !words:
		return t.Score(moodRow, a, b)
	case !mood:
		return t.Score(wordsRow, a, b)
	}
	return ownWords*t.Score(wordsRow, a, b) + (1-ownWords)*t.Score(moodRow, a, b)
}

// formActs are the relations of form in which two pictures do something to each
// other, with how much of their strength they lend the kind. Our own.
var formActs = []struct {
	row    Row
	counts float64
}{{gazeRow, 1}, {linesRow, 1}, {leadRow, 0.7}, {reachRow, 0.7}, {focusRow, 0.6}}

const shapeCounts = 1.0 / 3

func (t *Title) formScore(a, b int) float64 {
	acts, any := 0.0, false
	for _, act := range formActs {
		if row := act.row; t.Known(row, a, b) {
			any = true
			acts = max(acts, act.counts*t.Score(row, a, b))
		}
	}
	if !t.Known(shapeRow, a, b) {
		return acts
	}
	shape := t.Score(shapeRow, a, b)
	if !any {
		return shape
	}
	return shapeCounts*shape + (1-shapeCounts)*acts
}

// Measure is the relation's figure for two photos of which it is known; of a kind,
// that of its main relation, the first.
func (t *Title) Measure(row Row, a, b int) float64 {
	if row.IsKind() {
		row = t.main(row, a, b)
	}
	return row.relation().read(t, a, b).measure
}

// main is the relation by which a kind says what it measures.
func (t *Title) main(row Row, a, b int) Row {
	p, q := t.subjects[a], t.subjects[b]
	switch row {
	case colourRow:
		if p.mono && q.mono {
			return toneRow
		}
		if p.mono || q.mono {
			return mixedRow
		}
	case feelingRow:
		if !t.Known(moodRow, a, b) {
			return wordsRow
		}
		return moodRow
	case formRow:
		return t.loudestAct(a, b)
	}
	return ofKind[row][0]
}

func (t *Title) loudestAct(a, b int) Row {
	best, loudest := shapeRow, 0.0
	if !t.Known(best, a, b) {
		best = gazeRow
	}
	for _, act := range formActs {
		if row := act.row; t.Known(row, a, b) {
			if s := act.counts * t.Score(row, a, b); s > loudest {
				best, loudest = row, s
			}
		}
	}
	return best
}

// MeanMeasure is the measure of a relation with a scale between two photos of the
// title on average.
func (t *Title) MeanMeasure(row Row) float64 { return t.scales[row].measure }

// Near is the measure of a relation with a scale that only one in twenty pairs of
// the title stays below.
func (t *Title) Near(row Row) float64 { return t.scales[row].near }
