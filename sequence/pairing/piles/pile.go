package piles

import (
	"cmp"
	"fmt"
	"math/bits"
	"slices"
	"strconv"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

// Pile is two or more photos that are nearly the same picture, the sharpest
// first.
type Pile struct {
	Photos []sequence.PhotoID `json:"photos"`
	Words  string             `json:"words"` // what makes them a pile: "three within 4 s"
}

// How many of the 64 bits of two fingerprints may differ: our own judgement,
// held against real photographs (real_test.go). Of 44 different ones, two frames
// of one street taken eight seconds apart among them, no two come nearer than 16
// bits; copies of one that are smaller, softer, compressed hard, a third of a
// stop darker or two hundredths moved stay within 8.
const (
	burst     = time.Minute // taken so close in time, reframing is forgiven
	burstBits = 12
	visit     = time.Hour // longer apart it is another picture, however alike
	visitBits = 8         // also where the times do not tell
)

// Of finds the piles of a title's photos, in the order of their lowest numbers.
// Photos without a fingerprint lie in none.
//
// Pairs are joined from the most alike on, and a photo or pile joins another
// only when every photo of one is alike to every photo of the other: a slow pan
// of forty pictures makes several piles, not one whose ends have nothing in
// common. O(n²) comparisons of 64 bits.
func Of(photos []sequence.Photo) []Pile {
	seen := fingerprinted(photos)
	pile := make([]int, len(seen)) // which pile each lies in
	members := make([][]int, len(seen))
	for i := range seen {
		pile[i], members[i] = i, []int{i}
	}
	for _, p := range alikePairs(seen) {
		a, b := pile[p.a], pile[p.b]
		if a == b || !allAlike(seen, members[a], members[b]) {
			continue
		}
		for _, i := range members[b] {
			pile[i] = a
		}
		members[a] = append(members[a], members[b]...)
		members[b] = nil
	}
	var found []Pile
	for _, m := range members {
		if len(m) > 1 {
			found = append(found, piled(seen, m))
		}
	}
	slices.SortFunc(found, func(a, b Pile) int { return cmp.Compare(slices.Min(a.Photos), slices.Min(b.Photos)) })
	return found
}

// print is a photo with its fingerprint as bits.
type print struct {
	sequence.Photo
	bits uint64
}

// fingerprinted leaves out what has no fingerprint, and one of a single tone:
// all its bits are alike, and it would lie on every other such picture.
func fingerprinted(photos []sequence.Photo) []print {
	const flat = 2 // bits
	var seen []print
	for _, p := range photos {
		read, err := strconv.ParseUint(p.Form.Fingerprint, 16, 64)
		set := bits.OnesCount64(read)
		if err == nil && len(p.Form.Fingerprint) == 16 && set > flat && set < 64-flat {
			seen = append(seen, print{p, read})
		}
	}
	slices.SortFunc(seen, func(p, q print) int { return cmp.Compare(p.Number, q.Number) }) // so that ties never depend on the order given
	return seen
}

type pair struct{ a, b, apart int }

func alikePairs(seen []print) []pair {
	var pairs []pair
	for j := range seen {
		for i := range j {
			if apart := bits.OnesCount64(seen[i].bits ^ seen[j].bits); apart <= burstBits && alike(&seen[i], &seen[j]) {
				pairs = append(pairs, pair{i, j, apart})
			}
		}
	}
	slices.SortStableFunc(pairs, func(p, q pair) int {
		return cmp.Or(cmp.Compare(p.apart, q.apart), cmp.Compare(p.a, q.a), cmp.Compare(p.b, q.b))
	})
	return pairs
}

func allAlike(seen []print, these, those []int) bool {
	for _, i := range these {
		for _, j := range those {
			if !alike(&seen[i], &seen[j]) {
				return false
			}
		}
	}
	return true
}

func alike(p, q *print) bool {
	apart := bits.OnesCount64(p.bits ^ q.bits)
	gap, exact := exactGap(p.Taken, q.Taken)
	switch {
	case exact && gap <= burst:
		return apart <= burstBits
	case exact && gap > visit:
		return false
	}
	if shortest, ok := place.Gap(p.Taken, q.Taken); ok && shortest > visit {
		return false
	}
	return apart <= visitBits
}

// exactGap is the time between two pictures that both know their minute.
func exactGap(a, b place.When) (time.Duration, bool) {
	if a.Precision != place.PrecisionInstant || b.Precision != place.PrecisionInstant {
		return 0, false
	}
	return place.Gap(a, b)
}

func piled(seen []print, members []int) Pile {
	slices.SortFunc(members, func(i, j int) int {
		p, q := seen[i], seen[j]
		return cmp.Or(cmp.Compare(q.Form.Sharpness, p.Form.Sharpness),
			cmp.Compare(q.Width*q.Height, p.Width*p.Height), cmp.Compare(p.Number, q.Number))
	})
	var pile Pile
	longest, timed := time.Duration(0), true
	for k, i := range members {
		pile.Photos = append(pile.Photos, seen[i].Number)
		for _, j := range members[:k] {
			gap, exact := exactGap(seen[i].Taken, seen[j].Taken)
			timed = timed && exact
			longest = max(longest, gap)
		}
	}
	pile.Words = sequence.Spelled(len(members)) + " nearly the same"
	if timed {
		pile.Words += ", " + within(longest)
	}
	return pile
}

// within rounds a gap to what one would say.
func within(gap time.Duration) string {
	switch {
	case gap < time.Second:
		return "taken within a second"
	case gap < 2*time.Minute:
		return fmt.Sprintf("taken within %d s", (gap+time.Second-1)/time.Second)
	}
	return fmt.Sprintf("taken within %d min", (gap+time.Minute-1)/time.Minute)
}
