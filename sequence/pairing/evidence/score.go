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
// Place is how near, or else, at a discount, the same town where the title has
// several, or the same stretch of the way. Time is how near, or else, at a discount, the same light or the same
// hour of another day. Of colours any one relation will do, for
// makers use all three; black and white is judged by its tones, and a colour
// beside a black and white by tone at a discount. The maker's own words count
// three times what is measured of feeling. Form is what the two do to each other,
// and for a third what shape they have. A likeness of moods counts by how decided
// they are.
func (t *Title) Score(row Row, a, b int) float64 {
	switch row {
	case placeRow:
		return t.placeScore(a, b)
	case timeRow:
		return t.timeScore(a, b)
	case colourRow:
		return t.colourScore(a, b)
	case feelingRow:
		return t.feelingScore(a, b)
	case formRow:
		return t.formScore(a, b, false)
	}
	r := row.relation()
	reading := r.read(t, a, b)
	if r.least == 0 {
		return reading.score
	}
	score := t.scales[row].rate(reading.measure)
	switch {
	case row == moodRow:
		score *= t.decided(a, b)
	case row == worldRow && t.subjects[a].mono != t.subjects[b].mono:
		score = 0 // a colour beside a black and white is a relation of its own
	}
	return score
}

// How much of its strength a place's name, or the way, lends the kind though the
// distance says less. Our own.
const (
	townCounts    = 0.7
	stretchCounts = 0.7
)

func (t *Title) placeScore(a, b int) float64 {
	score := t.Score(distanceRow, a, b)
	if t.Known(townRow, a, b) {
		score = max(score, townCounts*t.Score(townRow, a, b))
	}
	if t.Known(stretchRow, a, b) {
		score = max(score, stretchCounts*t.Score(stretchRow, a, b))
	}
	return score
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
}{{gazeRow, 0.85}, {linesRow, 0.8}, {reachRow, 0.6}, {focusRow, 0.35}, {leadRow, 0.3}}

const shapeCounts = 1.0 / 3

// act is something two pictures do to each other.
type act struct {
	row      Row
	strength float64 // as it counts
}

// acts lists the acts of form that are known of two photos, on their better sides.
func (t *Title) acts(a, b int) []act {
	var list []act
	for _, of := range formActs {
		if t.Known(of.row, a, b) {
			list = append(list, act{of.row, of.counts * t.Score(of.row, a, b)})
		}
	}
	return list
}

// formScore lets several acts add up, for threads are strongest when they agree:
// what each leaves short of 1 is multiplied. Reach and focus are seen in one and the
// same blur, so only the stronger of them counts. With turned, left stands left.
func (t *Title) formScore(left, right int, turned bool) float64 {
	short, blur, any := 1.0, 0.0, false
	for _, of := range formActs {
		if !t.Known(of.row, left, right) {
			continue
		}
		any = true
		strength := 0.0
		if turned {
			strength = of.counts * t.ScoreAs(of.row, left, right)
		} else {
			strength = of.counts * t.Score(of.row, left, right)
		}
		if of.row == reachRow || of.row == focusRow {
			blur = max(blur, strength)
		} else {
			short *= 1 - strength
		}
	}
	together := 1 - short*(1-blur)
	if !t.Known(shapeRow, left, right) {
		return together
	}
	shape := t.Score(shapeRow, left, right)
	if !any {
		return shape
	}
	return shapeCounts*shape + (1-shapeCounts)*together
}

// ScoreAs is Score with left on the left page and right on the right one: what two
// pictures do to each other across the gutter they may do one way round only. It is
// never above Score.
func (t *Title) ScoreAs(row Row, left, right int) float64 {
	p, q := t.subjects[left], t.subjects[right]
	switch row {
	case formRow:
		return t.formScore(left, right, true)
	case linesRow:
		_, strength := horizons(p, q)
		return max(strength, directionsCount*directions(p, q))
	case leadRow:
		return min(1, max(0, lead(p, q))/leadFull)
	case gazeRow:
		return max(0, looks(p, q))
	}
	return t.Score(row, min(left, right), max(left, right))
}

// Turns reports whether the row's score may depend on which of two photos stands
// left.
func Turns(row Row) bool {
	return row == formRow || row == linesRow || row == leadRow || row == gazeRow
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
	for _, act := range t.acts(a, b) {
		if act.strength > loudest {
			best, loudest = act.row, act.strength
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
