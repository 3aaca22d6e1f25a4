package evidence

import (
	"cmp"
	"math"
	"slices"
	"time"

	"pairwall/sequence/colour"
	"pairwall/sequence/place"
)

// A setting is what the title as a whole says of single photos: where on the way
// they lie, to which sitting they belong, and how rare it is to share something.
type setting struct {
	along   []float64 // metres along the way; NaN where not known
	sitting []int     // number of the sitting; -1 where not known

	rareTown, rareSitting, rareDay float64 // 1 − share of pairs that have it in common
	rareWord                       map[string]float64
	mood                           [3]centred // warm, lively, heavy
}

// pause is how long nobody presses the shutter before a new sitting begins. Common
// practice knows no figure; half an hour parts a stroll from the next.
const pause = 30 * time.Minute

func settingOf(subjects []*subject) setting {
	s := setting{along: make([]float64, len(subjects)), sitting: make([]int, len(subjects))}
	s.setSittings(subjects)
	s.setWay(subjects)
	towns, days, sittings := make(map[string]int), make(map[int64]int), make(map[int]int)
	for i, p := range subjects {
		if p.town != "" {
			towns[p.town]++
		}
		if p.dated() {
			days[p.day]++
		}
		if s.sitting[i] >= 0 {
			sittings[s.sitting[i]]++
		}
	}
	s.rareTown, s.rareDay, s.rareSitting = rarity(towns), rarity(days), rarity(sittings)
	s.setWords(subjects)
	s.setMoods(subjects)
	return s
}

// rarity is the share of all pairs that do not lie in one group.
func rarity[K comparable](groups map[K]int) float64 {
	all, together := 0, 0
	for _, n := range groups {
		all += n
		together += n * (n - 1)
	}
	if all < 2 {
		return 0
	}
	return 1 - float64(together)/float64(all*(all-1))
}

func (s *setting) setSittings(subjects []*subject) {
	var order []int
	for i, p := range subjects {
		s.sitting[i] = -1
		if p.instant() {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(subjects[i].taken.From.Compare(subjects[j].taken.From), cmp.Compare(i, j))
	})
	sitting := -1
	for k, i := range order {
		if k == 0 || subjects[i].taken.From.Sub(subjects[order[k-1]].taken.From) > pause {
			sitting++
		}
		s.sitting[i] = sitting
	}
}

// setWay lays the photos that know both place and day along the way they were
// taken on: by time, from each place to the next.
func (s *setting) setWay(subjects []*subject) {
	var order []int
	for i, p := range subjects {
		s.along[i] = math.NaN()
		if p.placed() && p.dated() {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(subjects[i].taken.From.Compare(subjects[j].taken.From), cmp.Compare(i, j))
	})
	gone := 0.0
	for k, i := range order {
		if k > 0 {
			gone += place.Distance(subjects[order[k-1]].where, subjects[i].where)
		}
		s.along[i] = gone
	}
}

// setWords weighs each of the maker's words by how rare it is: by the logarithm of
// how many tagged photos there are for each that has it (K. Spärck Jones, "A
// statistical interpretation of term specificity", J. Documentation 28, 1972),
// with one added to both so that a word on every photo still counts a little.
func (s *setting) setWords(subjects []*subject) {
	use, tagged := make(map[string]int), 0
	for _, p := range subjects {
		if len(p.words) > 0 {
			tagged++
		}
		for _, w := range p.words {
			use[w]++
		}
	}
	s.rareWord = make(map[string]float64, len(use))
	for w, n := range use {
		s.rareWord[w] = math.Log(float64(tagged+1)/float64(n)) + 0.05
	}
}

// centred is a mean and a deviation within the title.
type centred struct{ mean, deviation float64 }

func (c centred) of(v float64) float64 {
	if c.deviation < 0.05 { // all of one mood: nothing to set against each other
		return 0
	}
	return (v - c.mean) / c.deviation
}

func (s *setting) setMoods(subjects []*subject) {
	for k := range s.mood {
		var values []float64
		for _, p := range subjects {
			if p.felt {
				values = append(values, moodScales[k].of(p.mood))
			}
		}
		c := centred{mean: mean(values)}
		for _, v := range values {
			c.deviation += (v - c.mean) * (v - c.mean) / float64(len(values))
		}
		c.deviation = math.Sqrt(c.deviation)
		s.mood[k] = c
	}
}

const warmScale = 0

// moodScales names the three scales of a mood by their ends.
var moodScales = [3]struct {
	below, above string
	of           func(colour.Mood) float64
}{
	{"cool", "warm", func(m colour.Mood) float64 { return m.Warm }},
	{"calm", "lively", func(m colour.Mood) float64 { return m.Lively }},
	{"light", "heavy", func(m colour.Mood) float64 { return m.Heavy }},
}
