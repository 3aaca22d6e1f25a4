package place

import (
	"math/rand"
	"testing"
	"time"
)

func TestGapCarriesWhatIsNotKnown(t *testing.T) {
	const day, second = 24 * time.Hour, time.Second
	tests := []struct {
		name              string
		a, b              When
		shortest, longest time.Duration
	}{
		{"two instants", at("2026-05-03T17:04:05"), at("2026-05-03T17:08:05"), 4 * time.Minute, 4 * time.Minute},
		{"the same day", on(3), on(3), 0, day - second},
		{"an instant of the day", on(3), at("2026-05-03T17:00:00"), 0, 17 * time.Hour},
		{"in the day's last second", on(3), at("2026-05-03T23:59:59.5"), 0, day - second/2},
		{"consecutive days", on(3), on(4), second, 2*day - second},
		{"days with one between", on(3), on(5), day + second, 3*day - second},
		{"in a span", days("2026-05-03", "2026-05-12"), on(5), 0, 8*day - second},
		{"spans that touch", days("2026-05-03", "2026-05-09"), days("2026-05-09", "2026-05-12"), 0, 10*day - second},
		{"spans apart", days("2026-05-03", "2026-05-04"), days("2026-05-07", "2026-05-12"), 2*day + second, 10*day - second},
		{"one moment on two clocks", atOffset("2026-05-03T17:00:00", 120), atOffset("2026-05-03T16:00:00", 60), 0, 0},
		{"one reading on two clocks", atOffset("2026-05-03T17:00:00", 120), atOffset("2026-05-03T17:00:00", 60), time.Hour, time.Hour},
		{"one offset alone says nothing", atOffset("2026-05-03T17:00:00", 120), at("2026-05-03T17:00:00"), 0, 0},
		{"across the date line", atOffset("2026-05-03T09:00:00", 840), atOffset("2026-05-02T09:00:00", -600), 0, 0},
		{"the hour that summer time repeats", atOffset("2026-10-25T02:30:00", 120), atOffset("2026-10-25T02:30:00", 60), time.Hour, time.Hour},
	}
	for _, tt := range tests {
		for _, pair := range [][2]When{{tt.a, tt.b}, {tt.b, tt.a}} {
			shortest, longest, ok := GapWithin(pair[0], pair[1])
			if !ok || shortest != tt.shortest || longest != tt.longest {
				t.Errorf("%s: %v to %v, %v, want %v to %v", tt.name, shortest, longest, ok, tt.shortest, tt.longest)
			}
			if gap, ok := Gap(pair[0], pair[1]); !ok || gap != tt.shortest {
				t.Errorf("%s: Gap %v, %v", tt.name, gap, ok)
			}
		}
	}
}

func TestNoGapToATimeThatDoesNotCountAsTaken(t *testing.T) {
	taken := at("2026-05-03T17:04:05")
	for _, w := range []When{{}, {Precision: "unknown"}, Day(2026, time.May, 3, FromScanner)} {
		for _, pair := range [][2]When{{w, taken}, {taken, w}, {w, w}} {
			if shortest, longest, ok := GapWithin(pair[0], pair[1]); ok || shortest != 0 || longest != 0 {
				t.Errorf("%v and %v: %v to %v, %v", pair[0], pair[1], shortest, longest, ok)
			}
			if _, ok := Gap(pair[0], pair[1]); ok {
				t.Errorf("%v and %v have a gap", pair[0], pair[1])
			}
		}
	}
}

// someTime is an instant, a day or a span within some 40 days, seeded.
func someTime(r *rand.Rand) When {
	moment := wall("2026-04-20T00:00:00").Add(time.Duration(r.Intn(40*86400)) * time.Second)
	var w When
	switch r.Intn(3) {
	case 0:
		w = Instant(moment, nil, FromCamera)
	case 1:
		w = Day(moment.Year(), moment.Month(), moment.Day(), FromMaker)
	default:
		w = Span(moment, moment.AddDate(0, 0, r.Intn(12)), FromMaker)
	}
	if r.Intn(2) == 0 {
		w.Offset = east([]int{0, 60, 120, -480, 345}[r.Intn(5)])
	}
	return w
}

// Whatever moments the pictures were really taken at, their gap lies between
// shortest and longest, and both bounds can be reached.
func TestGapWithinHoldsForEveryMomentThatIsPossible(t *testing.T) {
	r := rand.New(rand.NewSource(11))
	pick := func(w When) time.Time {
		span := int(w.To.Sub(w.From) / time.Second)
		return w.From.Add(time.Duration([]int{0, span, r.Intn(span + 1)}[r.Intn(3)]) * time.Second)
	}
	for range 2000 {
		a, b := someTime(r), someTime(r)
		shortest, longest, _ := GapWithin(a, b)
		least, most := 1000*24*time.Hour, time.Duration(0)
		for range 60 {
			x, y := pick(a), pick(b)
			if a.Offset != nil && b.Offset != nil {
				x, y = absolute(x, *a.Offset), absolute(y, *b.Offset)
			}
			gap := x.Sub(y).Abs()
			least, most = min(least, gap), max(most, gap)
		}
		if least < shortest || most > longest || most != longest {
			t.Fatalf("%v and %v: gaps of %v to %v, GapWithin says %v to %v", a, b, least, most, shortest, longest)
		}
		if shortest > 0 && least != shortest {
			t.Fatalf("%v and %v: no gap as short as %v, the least is %v", a, b, shortest, least)
		}
	}
}
