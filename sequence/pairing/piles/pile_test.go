package piles

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

const base uint64 = 0x5aa5_3cc3_0ff0_9669

// flipped differs from base in the given number of bits, counted from the
// lowest or, for negative numbers, from the highest.
func flipped(n int) string {
	if n < 0 {
		return fmt.Sprintf("%016x", base^(^uint64(0)<<(64+n)))
	}
	return fmt.Sprintf("%016x", base^(1<<n-1))
}

func at(seconds float64) place.When {
	moment := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC).Add(time.Duration(seconds * float64(time.Second)))
	return place.Instant(moment, nil, place.FromCamera)
}

func photo(n int, print string, taken place.When, sharp float64) sequence.Photo {
	p := sequence.Photo{Number: sequence.PhotoID(n), Width: 3000, Height: 2000, Taken: taken}
	p.Form.Fingerprint, p.Form.Sharpness = print, sharp
	return p
}

func numbers(piles []Pile) string {
	var all [][]sequence.PhotoID
	for _, p := range piles {
		all = append(all, p.Photos)
	}
	return fmt.Sprint(all)
}

func TestPilesHoldWhatIsNearlyTheSamePicture(t *testing.T) {
	day := place.Day(2026, 5, 4, place.FromMaker)
	scanned := place.Day(2026, 11, 2, place.FromScanner)
	unknown := place.When{}
	for _, c := range []struct {
		name         string
		photos       []sequence.Photo
		want, saying string
	}{
		{"a burst, the sharpest on top", []sequence.Photo{photo(1, flipped(0), at(0), .3), photo(2, flipped(6), at(1), .9), photo(3, flipped(-6), at(2.5), .5)},
			"[[2 3 1]]", "three nearly the same, taken within 3 s"},
		{"of equally sharp ones the larger, then the earlier brought in", []sequence.Photo{photo(3, flipped(0), at(0), .5), photo(1, flipped(0), at(0), .5)},
			"[[1 3]]", "two nearly the same, taken within a second"},
		{"within a minute up to twelve bits", []sequence.Photo{photo(1, flipped(0), at(0), 0), photo(2, flipped(12), at(60), 0)}, "[[1 2]]", "two nearly the same, taken within 60 s"},
		{"but not thirteen", []sequence.Photo{photo(1, flipped(0), at(0), 0), photo(2, flipped(13), at(1), 0)}, "[]", ""},
		{"within an hour up to eight", []sequence.Photo{photo(1, flipped(0), at(0), 0), photo(2, flipped(8), at(3600), 0)}, "[[1 2]]", "two nearly the same, taken within 60 min"},
		{"but not nine", []sequence.Photo{photo(1, flipped(0), at(0), 0), photo(2, flipped(9), at(61), 0)}, "[]", ""},
		{"the same view at another hour is another picture", []sequence.Photo{photo(1, flipped(0), at(0), 0), photo(2, flipped(0), at(3601), 0)}, "[]", ""},
		{"times that do not tell", []sequence.Photo{photo(1, flipped(0), unknown, 0), photo(2, flipped(8), scanned, .1), photo(3, flipped(0), day, .2)}, "[[3 2 1]]", "three nearly the same"},
		{"nine bits without a time", []sequence.Photo{photo(1, flipped(0), unknown, 0), photo(2, flipped(9), at(0), 0)}, "[]", ""},
		{"another day", []sequence.Photo{photo(1, flipped(0), day, 0), photo(2, flipped(0), place.Day(2026, 5, 6, place.FromMaker), 0)}, "[]", ""},
		{"not measured yet", []sequence.Photo{photo(1, "", at(0), 0), photo(2, "", at(0), 0)}, "[]", ""},
		{"no fingerprint at all", []sequence.Photo{photo(1, "not a number", at(0), 0), photo(2, "5", at(0), 0), photo(3, "5", at(0), 0)}, "[]", ""},
		{"one grey tone says nothing", []sequence.Photo{photo(1, "0000000000000001", at(0), 0), photo(2, "0000000000000000", at(0), 0), photo(3, "ffffffffffffffff", at(0), 0), photo(4, "ffffffffffffffff", at(0), 0)}, "[]", ""},
		{"a pan does not join its two ends", []sequence.Photo{photo(1, flipped(-10), at(0), 0), photo(2, flipped(0), at(1), 0), photo(3, flipped(9), at(2), .5)}, "[[3 2]]", "two nearly the same, taken within 1 s"},
		{"two piles", []sequence.Photo{photo(4, flipped(0), at(0), 0), photo(2, flipped(30), at(1), 0), photo(3, flipped(31), at(2), 0), photo(1, flipped(1), at(3), 0)}, "[[1 4] [2 3]]", "two nearly the same, taken within 3 s"},
		{"nothing", nil, "[]", ""},
	} {
		got := Of(c.photos)
		if numbers(got) != c.want {
			t.Errorf("%s: %s, want %s", c.name, numbers(got), c.want)
		}
		if len(got) > 0 && got[0].Words != c.saying {
			t.Errorf("%s: %q, want %q", c.name, got[0].Words, c.saying)
		}
	}
}

func TestPilesDoNotDependOnTheOrderPhotosComeIn(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	var photos []sequence.Photo
	for n := 1; n <= 120; n++ {
		print := base
		if n%3 == 0 {
			print = r.Uint64()
		}
		for range r.IntN(7) {
			print ^= 1 << r.IntN(64)
		}
		photos = append(photos, photo(n, fmt.Sprintf("%016x", print), at(r.Float64()*200), r.Float64()))
	}
	first := Of(photos)
	if len(first) < 3 {
		t.Fatalf("%d piles", len(first))
	}
	seen := make(map[sequence.PhotoID]bool)
	for _, p := range first {
		for _, n := range p.Photos {
			if seen[n] {
				t.Errorf("%d lies in two piles", n)
			}
			seen[n] = true
		}
	}
	again := slices.Clone(photos)
	for range 5 {
		r.Shuffle(len(again), func(i, j int) { again[i], again[j] = again[j], again[i] })
		if got := Of(again); numbers(got) != numbers(first) {
			t.Fatalf("%s, then %s", numbers(first), numbers(got))
		}
	}
}

func BenchmarkOf(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 2))
	var photos []sequence.Photo
	for n := 1; n <= 2000; n++ {
		photos = append(photos, photo(n, fmt.Sprintf("%016x", r.Uint64()), at(float64(n)*20), r.Float64()))
	}
	for b.Loop() {
		Of(photos)
	}
}
