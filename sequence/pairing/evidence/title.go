package evidence

import (
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/pairing/crew"
)

// A Title holds what is needed to measure any two photos of one title. It does not
// change once made and may be used by several goroutines at once.
type Title struct {
	subjects []*subject
	setting  setting

	palettes  *table // ΔE00 between palettes
	distances *table // metres

	scales  [Rows]scale   // of relations that have one
	typical [Rows]float64 // score of two photos of the title on average; 0.5 where none is known
}

// Of prepares the measures of a title's photos, which go by their index from here
// on: the scale of each distance, how rare each relation is, and the typical score
// by which a row counts where it is missing. It takes some ten thousand
// measurements of each relation, however many photos there are.
func Of(photos []sequence.Photo) *Title {
	t := &Title{subjects: make([]*subject, len(photos))}
	crew.Share(len(photos), func(from, to int) {
		for i := from; i < to; i++ {
			t.subjects[i] = subjectOf(photos[i])
		}
	})
	t.palettes, t.distances = newTable(len(photos)), newTable(len(photos))
	t.prepare()
	return t
}

// With returns the title with one more photo at the end, or with photo i stated
// anew when i is one of its indices. All measures that were taken between other
// photos are taken over; the answers are those of Of with the same photos.
func (t *Title) With(i int, photo sequence.Photo) *Title {
	next := &Title{subjects: slices.Clone(t.subjects)}
	s := subjectOf(photo)
	if i == len(t.subjects) {
		next.subjects = append(next.subjects, s)
	} else {
		next.subjects[i] = s
	}
	n := len(next.subjects)
	next.palettes, next.distances = t.palettes, t.distances
	if i == len(t.subjects) || !slices.Equal(s.palette, t.subjects[i].palette) {
		next.palettes = t.palettes.without(n, i)
	}
	if i == len(t.subjects) || s.where != t.subjects[i].where {
		next.distances = t.distances.without(n, i)
	}
	next.prepare()
	return next
}

// Len is the number of photos.
func (t *Title) Len() int { return len(t.subjects) }

// prepare works out what depends on all photos together.
func (t *Title) prepare() {
	t.setting = settingOf(t.subjects)
	// Relations first: the kinds are judged by them.
	for row := kindRows; row < Rows; row++ {
		t.calibrate(row)
	}
	for row := range kindRows {
		t.calibrate(row)
	}
}

// calibrate sets a row's scale and typical score from all pairs of a sample of the
// photos.
func (t *Title) calibrate(row Row) {
	known := t.sample(func(i int) bool { return t.Knows(row, i) })
	var scores []float64
	if row.IsKind() || row.relation().least == 0 {
		scores = over(known, func(a, b int) float64 { return t.Score(row, a, b) })
	} else {
		read := row.relation().read
		scores = over(known, func(a, b int) float64 { return read(t, a, b).measure })
		t.scales[row] = newScale(scores, row.relation().least)
		if row == moodRow || row == worldRow { // whose score is not the scale's alone
			scores = over(known, func(a, b int) float64 { return t.Score(row, a, b) })
		} else {
			for k, measure := range scores {
				scores[k] = t.scales[row].rate(measure)
			}
		}
	}
	t.typical[row] = 0.5 // nobody knows what is typical: the middle tips no balance
	if len(scores) > 0 {
		t.typical[row] = mean(scores)
	}
}

// over takes a figure of every pair of the photos given.
func over(photos []int, figure func(a, b int) float64) []float64 {
	figures := make([]float64, len(photos)*max(0, len(photos)-1)/2)
	crew.Share(len(photos), func(from, to int) {
		for j := from; j < to; j++ {
			for i := range j {
				figures[j*(j-1)/2+i] = figure(min(photos[i], photos[j]), max(photos[i], photos[j]))
			}
		}
	})
	return figures
}

func mean(figures []float64) (m float64) {
	for _, f := range figures {
		m += f / float64(len(figures))
	}
	return m
}
