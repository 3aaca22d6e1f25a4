package evidence

import "slices"

// Kind names a kind of evidence, or one of the relations that a kind is made of.
type Kind string

// The kinds of evidence there are.
const (
	Place   Kind = "place"
	Time    Kind = "time"
	Colour  Kind = "colour"
	Feeling Kind = "feeling"
	Form    Kind = "form"
)

// The relations there are.
const (
	Distance Kind = "distance" // place: how far apart
	Town     Kind = "town"     // place: the same named place
	Stretch  Kind = "stretch"  // place: the same stretch of the way

	Gap     Kind = "gap"     // time: how long apart
	Sitting Kind = "sitting" // time: one run of photographs without a long pause
	Day     Kind = "day"     // time: the same day
	Hour    Kind = "hour"    // time: the same hour of another day
	Light   Kind = "light"   // time: the sun at the same height on the same side of noon

	World     Kind = "world"     // colour: whole palettes alike
	Accent    Kind = "accent"    // colour: a strong colour shared though the rest differs
	Opposites Kind = "opposites" // colour: hues across the circle at like strength
	Tone      Kind = "tone"      // colour: lights and darks alike
	Mixed     Kind = "mixed"     // colour: colour beside black and white, by tone

	Words    Kind = "words"    // feeling: the maker's own tags
	Mood     Kind = "mood"     // feeling: measured warm–cool, calm–lively, light–heavy
	Contrast Kind = "contrast" // feeling: measured moods deliberately opposed

	Shape Kind = "shape" // form: shapes that can face each other
	Lines Kind = "lines" // form: horizons and main lines that meet
	Lead  Kind = "lead"  // form: weights that lead in to the gutter
	Reach Kind = "reach" // form: wide beside close
	Focus Kind = "focus" // form: sharp beside soft
	Gaze  Kind = "gaze"  // form: looks that meet, by the maker's mark
)

// A Row is the place of a kind or a relation in the tables below.
type Row int

// The rows in the order of the tables: the kinds first, then the relations.
const (
	placeRow Row = iota
	timeRow
	colourRow
	feelingRow
	formRow
	distanceRow
	townRow
	stretchRow
	gapRow
	sittingRow
	dayRow
	hourRow
	lightRow
	worldRow
	accentRow
	oppositesRow
	toneRow
	mixedRow
	wordsRow
	moodRow
	contrastRow
	shapeRow
	linesRow
	leadRow
	reachRow
	focusRow
	gazeRow

	// Rows is how many rows there are.
	Rows
)

const kindRows = distanceRow

// kinds is the table of kinds, in the order in which reasons name them.
var kinds = [kindRows]struct {
	kind    Kind
	noun    string // what is missing when nothing is known
	setting bool   // tells of the circumstances, which go together in a sentence
}{
	{Place, "place", true},
	{Time, "date of taking", true},
	{Colour, "colours", false},
	{Feeling, "feeling", false},
	{Form, "form", false},
}

// relation is a row of the table of relations.
type relation struct {
	name   Kind
	of     Kind
	noun   string  // what is missing when it is not known
	unit   string  // of the measure
	least  float64 // below this, measures are as good as none; 0: the gauge gives the score itself
	either bool    // known of a pair when it is known of one of the two
	knows  func(t *Title, i int) bool
	read   func(t *Title, a, b int) reading
	words  func(t *Title, a, b int, r reading) string // what a photographer would say of it; "" when it is not worth saying
	none   string                                     // what the figures say then
}

// A reading is what a relation says of two photos: how far apart they are, where
// less speaks more for the pair; or how much it speaks for it, where the gauge
// knows that by itself.
type reading struct {
	measure float64
	score   float64 // 0..1, of relations without a scale
}

var relations [Rows - kindRows]relation

// Filled in here because the gauges name relations themselves.
func init() {
	relations = [Rows - kindRows]relation{
		{Distance, Place, "place", "m", 15, false, placed, readDistance, distanceWords, ""},
		{Town, Place, "named place", "", 0, false, named, readTown, townWords, "other named places"},
		{Stretch, Place, "place on the way", "m along the way", 100, false, onTheWay, readStretch, stretchWords, "other stretches of the way"},

		{Gap, Time, "date of taking", "s", 60, false, timed, readGap, gapWords, ""},
		{Sitting, Time, "moment of taking", "", 0, false, instant, readSitting, sittingWords, "not the same sitting"},
		{Day, Time, "day of taking", "", 0, false, dated, readDay, dayWords, "not the same day"},
		{Hour, Time, "moment of taking", "min on the clock", 0, false, instant, readHour, hourWords, "other hours"},
		{Light, Time, "height of the sun", "° of the sun's height", 0, false, lit, readLight, lightWords, "other light"},

		{World, Colour, "colours", "ΔE00", 1, false, coloured, readWorld, worldWords, "no colour in common"},
		{Accent, Colour, "colours", "ΔE00", 0, false, coloured, readAccent, accentWords, "no accent in common"},
		{Opposites, Colour, "colours", "° short of opposite", 0, false, coloured, readOpposites, oppositesWords, "no opposites"},
		{Tone, Colour, "tones", "L*", 1, false, toned, readTone, toneWords, "other tones"},
		{Mixed, Colour, "tones", "L*", 0, false, toned, readMixed, mixedWords, "not colour beside black and white"},

		{Words, Feeling, "word of the maker's", "", 0, false, worded, readWords, wordsWords, "no word of yours in common"},
		{Mood, Feeling, "mood", "standard deviations", 0.1, false, felt, readMood, moodWords, "no mood in common"},
		{Contrast, Feeling, "mood", "standard deviations", 0, false, felt, readContrast, contrastWords, "no contrast of mood"},

		{Shape, Form, "shape", "times as wide", 0, false, shaped, readShape, shapeWords, ""},
		{Lines, Form, "form", "of the height", 0, false, formed, readLines, linesWords, "no lines that meet"},
		{Lead, Form, "form", "of the width", 0, false, formed, readLead, leadWords, "the weights neither lead in nor out"},
		{Reach, Form, "form", "", 0, false, formed, readReach, reachWords, "not a wide view beside a close one"},
		{Focus, Form, "form", "", 0, false, formed, readFocus, focusWords, "alike in sharpness"},
		{Gaze, Form, "gaze", "", 0, true, gazing, readGaze, gazeWords, "no look goes across the gutter"},
	}
	for i, r := range relations {
		rowOf[r.name] = kindRows + Row(i)
		ofKind[rowOf[r.of]] = append(ofKind[rowOf[r.of]], kindRows+Row(i))
	}
}

var rowOf = func() map[Kind]Row {
	rows := make(map[Kind]Row, Rows)
	for i, k := range kinds {
		rows[k.kind] = Row(i)
	}
	return rows
}()

// ofKind lists the relations of each kind.
var ofKind [kindRows][]Row

// Kinds lists the kinds of evidence in the order in which reasons name them.
func Kinds() []Kind {
	list := make([]Kind, len(kinds))
	for i, k := range kinds {
		list[i] = k.kind
	}
	return list
}

// Relations lists the relations that a kind is made of; nil for what is no kind.
func Relations(of Kind) []Kind {
	row, ok := rowOf[of]
	if !ok || !row.IsKind() {
		return nil
	}
	var list []Kind
	for _, r := range ofKind[row] {
		list = append(list, r.Kind())
	}
	return list
}

// RowOf returns the row of a kind or relation, and whether there is one.
func RowOf(k Kind) (Row, bool) {
	row, ok := rowOf[k]
	return row, ok
}

// All lists the names of all rows.
func All() []Kind {
	list := Kinds()
	for _, r := range relations {
		list = append(list, r.name)
	}
	return slices.Clip(list)
}

// IsKind reports whether the row is one of a kind rather than a relation.
func (r Row) IsKind() bool { return r < kindRows }

// Kind names the row.
func (r Row) Kind() Kind {
	if r.IsKind() {
		return kinds[r].kind
	}
	return relations[r-kindRows].name
}

// Of is the row of the kind that a relation belongs to; a kind's own row.
func (r Row) Of() Row {
	if r.IsKind() {
		return r
	}
	return rowOf[relations[r-kindRows].of]
}

// Setting reports whether the row tells of the circumstances of taking.
func (r Row) Setting() bool { return kinds[r.Of()].setting }

func (r Row) relation() *relation { return &relations[r-kindRows] }
