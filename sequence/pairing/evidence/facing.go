package evidence

import (
	"fmt"
	"math"
	"math/bits"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

// Facing says how two photos stand to each other across the gutter.
type Facing struct {
	Left, Right int
	Why         string   // what decided who stands left
	Warnings    []string // what a maker may want to know; never a reason to forbid
}

// Sides proposes which of two photos stands left: the one whose look, weight or
// horizon leads in from there, else the earlier one, else the one with the lower
// number.
func (t *Title) Sides(a, b int) Facing {
	if t.subjects[b].number < t.subjects[a].number {
		a, b = b, a
	}
	f := Facing{Left: a, Right: b, Why: "the lower number stands left"}
	p, q := t.subjects[a], t.subjects[b]
	if why := leadsIn(p, q); why != "" {
		f.Why = why
	} else if why = leadsIn(q, p); why != "" {
		f.Left, f.Right, f.Why = b, a, why
	} else if earlier(p.taken, q.taken) {
		f.Why = "the earlier stands left"
	} else if earlier(q.taken, p.taken) {
		f.Left, f.Right, f.Why = b, a, "the earlier stands left"
	}
	f.Warnings = t.Warnings(f.Left, f.Right)
	return f
}

// How much better one way round must be to be worth proposing. Our own.
const (
	leadTells    = 0.06 // of the width, summed over both
	horizonTells = 0.2
)

// leadsIn says why left should stand left rather than right, "" when nothing in the
// pictures speaks for it.
func leadsIn(left, right *subject) string {
	if looks(left, right) > looks(right, left) {
		if left.gaze != nil && left.gaze.Towards == sequence.TowardsRight {
			return fmt.Sprintf("%d looks in from the left", left.number)
		}
		return fmt.Sprintf("%d looks in from the right", right.number)
	}
	if looks(left, right) < looks(right, left) || !left.formed() || !right.formed() {
		return ""
	}
	_, strength := horizons(left, right)
	if _, other := horizons(right, left); strength-other >= horizonTells {
		return "the horizons meet this way round"
	} else if other-strength >= horizonTells {
		return ""
	}
	if in := lead(left, right); in >= leadTells {
		return "the weight of both leads in this way round"
	}
	return ""
}

// What is worth a warning. Faces stay out of the gutter by common practice; the
// figures are our own.
const (
	nearGutter   = 0.1  // of the width
	leadsOut     = 0.12 // of the width, summed over both
	nearlyMeets  = 0.03 // of the height, from here on a break shows
	clearHorizon = 0.4
	jolt         = 2.0 // deviations of the title between a warm and a cool page
)

// Warnings says what may trouble the eye when left stands left and right stands
// right.
func (t *Title) Warnings(left, right int) []string {
	p, q := t.subjects[left], t.subjects[right]
	warnings := gazeWarnings(p, q)
	if p.formed() && q.formed() {
		if out := -lead(p, q); out >= leadsOut {
			warnings = append(warnings, "the weight of both leads out of the spread")
		}
		gap, _ := horizons(p, q)
		if min(p.form.Horizon, q.form.Horizon) >= clearHorizon && gap >= nearlyMeets && gap <= 3*nearlyMeets {
			warnings = append(warnings, "the horizons just miss each other at the gutter")
		}
	}
	if p.felt && q.felt {
		warm := t.setting.mood[0]
		if one, other := warm.of(p.mood.Warm), warm.of(q.mood.Warm); one*other < 0 && math.Abs(one-other) >= jolt &&
			min(math.Abs(one), math.Abs(other)) >= clearly {
			warnings = append(warnings, "a warm page beside a cool one: fine if meant")
		}
	}
	return warnings
}

func gazeWarnings(left, right *subject) []string {
	var warnings []string
	warn := func(s *subject, what string) {
		warnings = append(warnings, fmt.Sprintf("%d %s", s.number, what))
	}
	if left.gaze != nil {
		if left.gaze.Towards == sequence.TowardsLeft {
			warn(left, "looks out of the spread to the left")
		}
		if left.gaze.X > 1-nearGutter {
			warn(left, "has a face close to the gutter")
		}
	}
	if right.gaze != nil {
		if right.gaze.Towards == sequence.TowardsRight {
			warn(right, "looks out of the spread to the right")
		}
		if right.gaze.X < nearGutter {
			warn(right, "has a face close to the gutter")
		}
	}
	return warnings
}

// earlier reports whether p was surely taken before q.
func earlier(p, q place.When) bool {
	gap, ok := place.Gap(p, q)
	if !ok || gap == 0 {
		return false
	}
	from, to := p.From, q.From
	if p.Offset != nil && q.Offset != nil {
		to = to.Add(time.Duration(*p.Offset-*q.Offset) * time.Minute) // on p's clock
	}
	return from.Before(to)
}

// Two pictures that say the same thing do not make a spread. A pair counts as
// nearly the same picture when it was taken within alikeTime and its palettes
// lie closer than alikeColour; or, where its times do not tell, when they lie
// closer than sameColour and its places are not known to differ; or, whenever it
// was taken, when its fingerprints differ in at most alikePrint of 64 bits and
// its palettes by less than alikeColour. Fingerprints that differ in farPrint
// bits, where chance gives 32, are of different pictures however much they share.
// The figures are our own judgement, held against real photographs: two views of
// one street in Rome taken eight seconds apart, framed a little differently, lie
// 7.5 apart; two scans of one frame lie within less than half.
const (
	alikeTime   = 10 * time.Second
	alikeColour = 8.0  // ΔE00
	sameColour  = 0.5  // ΔE00
	samePlace   = 50.0 // m
	alikePrint  = 6
	farPrint    = 20
)

// Alike reports whether a, b is nearly the same picture twice.
func (t *Title) Alike(a, b int) bool {
	p, q := t.subjects[a], t.subjects[b]
	if !p.usable || !q.usable {
		return false
	}
	gap, known := place.Gap(p.taken, q.taken)
	timed := known && p.instant() && q.instant()
	printed := p.form.Fingerprint != "" && q.form.Fingerprint != "" && p.formed() && q.formed()
	if printed {
		differ := bits.OnesCount64(p.print ^ q.print)
		if differ <= alikePrint {
			return readWorld(t, a, b).measure < alikeColour
		}
		if differ >= farPrint && !timed {
			return false
		}
	}
	if gap > alikeTime {
		return false
	}
	if timed {
		return readWorld(t, a, b).measure < alikeColour
	}
	return readWorld(t, a, b).measure < sameColour &&
		(!p.placed() || !q.placed() || readDistance(t, a, b).measure <= samePlace)
}

// Loud is how much a photo calls out, for the beginning of a sequence: lively by
// its colours, in the deviations of the title. 0 where nothing is known.
func (t *Title) Loud(i int) float64 {
	if !t.subjects[i].felt {
		return 0
	}
	return t.setting.mood[1].of(t.subjects[i].mood.Lively)
}

// Look names the look of a photo roughly, so that a run of one look can be told:
// "black and white", "dark", "warm" or "cool"; "" where nothing is known.
func (t *Title) Look(i int) string {
	s := t.subjects[i]
	switch {
	case s.mono:
		return "black and white"
	case !s.felt || !s.toned:
		return ""
	case s.mood.Heavy > 0.9:
		return "dark"
	case s.mood.Warm > t.setting.mood[0].mean:
		return "warm"
	}
	return "cool"
}
