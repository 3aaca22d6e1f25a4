package evidence

import (
	"fmt"
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
		return "no word of the maker's in common"
	}
	return "both " + Listed(shared)
}

func readMood(t *Title, a, b int) reading {
	return reading{measure: t.subjects[a].mood.Apart(t.subjects[b].mood)}
}

// clearly is how far from the title's middle, in its deviations, a picture must
// feel for a word to be used of it.
const clearly = 0.5

func moodWords(t *Title, a, b int, r reading) string {
	var both []string
	for k, s := range moodScales {
		one, other := t.setting.mood[k].of(s.of(t.subjects[a].mood)), t.setting.mood[k].of(s.of(t.subjects[b].mood))
		switch {
		case one >= clearly && other >= clearly:
			both = append(both, s.above)
		case one <= -clearly && other <= -clearly:
			both = append(both, s.below)
		}
	}
	if len(both) == 0 {
		return fmt.Sprintf("moods %.1f apart", r.measure)
	}
	return fmt.Sprintf("both %s for this title, moods %.1f apart", Listed(both), r.measure)
}

// set is how far from the middle, in deviations, both must lie on opposite sides
// for the contrast to be as strong as can be.
const set = 1.3

// readContrast takes the scale on which two moods stand most against each other,
// about the title's own middle: the lesser of the two distances from it.
func readContrast(t *Title, a, b int) reading {
	_, r := t.opposed(a, b)
	return r
}

func (t *Title) opposed(a, b int) (scale int, r reading) {
	for k, s := range moodScales {
		one, other := t.setting.mood[k].of(s.of(t.subjects[a].mood)), t.setting.mood[k].of(s.of(t.subjects[b].mood))
		if one*other >= 0 {
			continue
		}
		if strength := min(1, min(math.Abs(one), math.Abs(other))/set); strength > r.score {
			scale, r = k, reading{math.Abs(one - other), strength}
		}
	}
	return scale, r
}

func contrastWords(t *Title, a, b int, _ reading) string {
	k, r := t.opposed(a, b)
	if r.score < faint {
		return "no contrast of mood"
	}
	return fmt.Sprintf("%s against %s, %.1f deviations of this title apart", moodScales[k].above, moodScales[k].below, r.measure)
}

// Listed joins words as a sentence does: "a, b and c".
func Listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
