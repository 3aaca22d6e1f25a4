package evidence

import (
	"math"
	"slices"
	"strings"
)

func worded(t *Title, i int) bool { return len(t.subjects[i].words) > 0 }
func felt(t *Title, i int) bool   { return t.subjects[i].felt }

// readWords weighs the maker's words that both photos have against all that either
// has, each by how rare it is in the title.
func readWords(t *Title, a, b int) reading {
	shared, all := 0.0, 0.0
	p, q := t.subjects[a].words, t.subjects[b].words
	for _, w := range p {
		all += t.setting.rareWord[w]
		if slices.Contains(q, w) {
			shared += t.setting.rareWord[w]
		}
	}
	for _, w := range q {
		if !slices.Contains(p, w) {
			all += t.setting.rareWord[w]
		}
	}
	if all == 0 {
		return reading{measure: 1}
	}
	return reading{1 - shared/all, shared / all}
}

func wordsWords(t *Title, a, b int, r reading) string {
	var shared []string
	for _, w := range t.subjects[a].words {
		if slices.Contains(t.subjects[b].words, w) {
			shared = append(shared, "“"+w+"”")
		}
	}
	if len(shared) == 0 {
		return ""
	}
	return "both " + Listed(shared)
}

// readMood measures how far apart two moods are. A black and white is neither warm
// nor cool: beside it, the other two scales tell, at the same weight.
func readMood(t *Title, a, b int) reading {
	p, q := t.subjects[a], t.subjects[b]
	apart := p.mood.Apart(q.mood)
	if p.mono != q.mono {
		const scales, left = 3, 2
		apart = math.Hypot(p.mood.Lively-q.mood.Lively, p.mood.Heavy-q.mood.Heavy) * math.Sqrt(scales/left)
	}
	return reading{measure: apart}
}

// Two pictures that feel like nothing in particular do not share a feeling, however
// near their figures lie: that keeps only undecided of the likeness. decidedly is
// how far from the title's middle, in its deviations, both must lie on the same
// side for the likeness to count in full. Held against real photographs.
const (
	undecided = 0.35
	decidedly = 1.2
	// colourless is what is left of a likeness between a black and white and a
	// colour: the models are of colours, and half of what one says is missing there.
	colourless = 0.6
)

// decided is the part of a likeness of moods that counts.
func (t *Title) decided(a, b int) float64 {
	p, q := t.subjects[a], t.subjects[b]
	sum := 0.0
	for k, s := range moodScales {
		if k == warmScale && (p.mono || q.mono) {
			continue
		}
		one, other := t.setting.mood[k].of(s.of(p.mood)), t.setting.mood[k].of(s.of(q.mood))
		if one*other > 0 {
			shared := min(math.Abs(one), math.Abs(other))
			sum += shared * shared
		}
	}
	part := undecided + (1-undecided)*min(1, math.Sqrt(sum)/decidedly)
	if p.mono != q.mono {
		part *= colourless
	}
	return part
}

// clearly is how far from the title's middle, in its deviations, a picture must
// feel for a word to be used of it.
const clearly = 0.5

// oneMood is the distance up to which two moods are worth calling alike.
const oneMood = 1.0

func moodWords(t *Title, a, b int, r reading) string {
	var both []string
	for k, s := range moodScales {
		one, other := t.setting.mood[k].of(s.of(t.subjects[a].mood)), t.setting.mood[k].of(s.of(t.subjects[b].mood))
		switch {
		case k == warmScale && (t.subjects[a].mono || t.subjects[b].mono):
		case one >= clearly && other >= clearly:
			both = append(both, s.above)
		case one <= -clearly && other <= -clearly:
			both = append(both, s.below)
		}
	}
	if len(both) == 0 || r.measure > oneMood {
		return ""
	}
	return "both " + Listed(both)
}

// set is how far from the middle, in deviations, both must lie on opposite sides
// for the contrast to reach three quarters (tanh 1) of what it can.
const set = 1.0

// readContrast takes the scale on which two moods stand most against each other,
// about the title's own middle: the lesser of the two distances from it.
func readContrast(t *Title, a, b int) reading {
	_, r := t.opposed(a, b)
	return r
}

func (t *Title) opposed(a, b int) (scale int, r reading) {
	for k, s := range moodScales {
		if k == warmScale && (t.subjects[a].mono || t.subjects[b].mono) {
			continue
		}
		one, other := t.setting.mood[k].of(s.of(t.subjects[a].mood)), t.setting.mood[k].of(s.of(t.subjects[b].mood))
		if one*other >= 0 {
			continue
		}
		if strength := math.Tanh(min(math.Abs(one), math.Abs(other)) / set); strength > r.score {
			scale, r = k, reading{math.Abs(one - other), strength}
		}
	}
	return scale, r
}

func contrastWords(t *Title, a, b int, _ reading) string {
	k, r := t.opposed(a, b)
	if r.score < faint {
		return ""
	}
	return moodScales[k].above + " against " + moodScales[k].below
}

// Listed joins words as a sentence does: "a, b and c".
func Listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
