package evidence

import (
	"fmt"
	"math"

	"pairwall/sequence/place"
)

func timed(t *Title, i int) bool   { return t.subjects[i].timed() }
func instant(t *Title, i int) bool { return t.subjects[i].instant() }
func dated(t *Title, i int) bool   { return t.subjects[i].dated() }
func lit(t *Title, i int) bool     { return t.subjects[i].lit }

// readGap measures how long apart two photos were taken, in seconds. Where a time
// is known to a day or a span only, it is the middle between the shortest and the
// longest gap there can be.
func readGap(t *Title, a, b int) reading {
	shortest, longest, _ := place.GapWithin(t.subjects[a].taken, t.subjects[b].taken)
	return reading{measure: shortest.Seconds()/2 + longest.Seconds()/2}
}

func gapWords(t *Title, a, b int, _ reading) string {
	return place.TimeWords(t.subjects[a].taken, t.subjects[b].taken)
}

func readSitting(t *Title, a, b int) reading {
	if t.setting.sitting[a] == t.setting.sitting[b] {
		return reading{score: t.setting.rareSitting}
	}
	return reading{measure: 1}
}

func sittingWords(_ *Title, _, _ int, r reading) string {
	if r.measure == 0 {
		return "the same sitting"
	}
	return ""
}

func readDay(t *Title, a, b int) reading {
	if t.subjects[a].day == t.subjects[b].day {
		return reading{score: t.setting.rareDay}
	}
	return reading{measure: 1}
}

func dayWords(_ *Title, _, _ int, r reading) string {
	if r.measure == 0 {
		return "the same day"
	}
	return ""
}

// hourWithin, in minutes, is the difference on the clock at which the same hour has
// fallen to 1/e.
const hourWithin = 40

// readHour measures the difference on the clock between photos of different days.
// On one day there is no other day whose hour it could be.
func readHour(t *Title, a, b int) reading {
	p, q := t.subjects[a], t.subjects[b]
	const round = 24 * 60
	apart := math.Abs(float64(p.clock - q.clock))
	apart = min(apart, round-apart)
	if p.day == q.day || p.taken.From.Sub(q.taken.From).Abs().Hours() < 12 {
		return reading{measure: apart}
	}
	return reading{measure: apart, score: math.Exp(-apart * apart / (hourWithin * hourWithin))}
}

func hourWords(t *Title, a, b int, r reading) string {
	p, q := t.subjects[a].taken.From, t.subjects[b].taken.From
	if q.Before(p) {
		p, q = q, p
	}
	if r.score == 0 || r.measure > hourWithin {
		return ""
	}
	return fmt.Sprintf("the same hour of another day, %s and %s", p.Format("15:04"), q.Format("15:04"))
}

// The sun's height tells light apart while it is low; from high on it hardly
// changes what a picture looks like. Below lightless there is none to compare.
const (
	lightWithin = 4.0   // degrees at which the likeness has fallen to 1/e
	highSun     = 30.0  // from here on half as telling
	lightless   = -12.0 // the end of nautical dusk
)

func readLight(t *Title, a, b int) reading {
	p, q := t.subjects[a], t.subjects[b]
	r := reading{measure: math.Abs(p.height - q.height)}
	if p.height < lightless && q.height < lightless {
		r.score = 0.5 // both by night: light, but not the sun's
		return r
	}
	if p.rising != q.rising && max(p.height, q.height) < highSun {
		return r // the colour may be one, the direction is not
	}
	r.score = math.Exp(-r.measure * r.measure / (lightWithin * lightWithin))
	if min(p.height, q.height) > highSun {
		r.score /= 2
	}
	return r
}

func lightWords(t *Title, a, b int, r reading) string {
	p, q := t.subjects[a], t.subjects[b]
	const same, low = 0.3, 15 // degrees
	switch high := max(p.height, q.height); {
	case high < lightless:
		return "both by night"
	case r.score < same:
		return ""
	case high < 0:
		return "both in the twilight"
	case high < low && p.rising:
		return "the same low light of the morning"
	case high < low:
		return "the same low light of the evening"
	case min(p.height, q.height) > highSun:
		return "the same high sun"
	}
	return "the same light"
}
