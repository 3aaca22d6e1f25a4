package place

import (
	"math/rand"
	"strings"
	"testing"
	"time"
)

func checkTimeWords(t *testing.T, name string, a, b When, want string) {
	t.Helper()
	for _, pair := range [][2]When{{a, b}, {b, a}} {
		if got := TimeWords(pair[0], pair[1]); got != want {
			t.Errorf("%s: %s and %s are %q, want %q", name, pair[0].Words(), pair[1].Words(), got, want)
		}
	}
}

func TestTimeWordsForTwoInstants(t *testing.T) {
	tests := []struct{ name, a, b, want string }{
		{"a burst", "2024-08-10T14:34:15.100", "2024-08-10T14:34:15.700", "within a second"},
		{"the same second", "2024-08-10T14:34:15", "2024-08-10T14:34:15", "within a second"},
		{"a second", "2024-08-10T14:34:15", "2024-08-10T14:34:16", "one second apart"},
		{"seconds", "2024-08-10T14:34:15", "2024-08-10T14:34:23", "eight seconds apart"},
		{"nearly a minute", "2024-08-10T14:34:00", "2024-08-10T14:34:59.7", "one minute apart"},
		{"minutes", "2026-05-03T17:04:05", "2026-05-03T17:08:01", "four minutes apart"},
		{"minutes over midnight", "2026-05-03T23:50:00", "2026-05-04T00:10:00", "20 minutes apart"},
		{"nearly an hour", "2026-05-03T15:00:00", "2026-05-03T15:59:40", "the same afternoon"},
		{"morning", "2026-05-03T05:00:00", "2026-05-03T10:59:00", "the same morning"},
		{"midday", "2026-05-03T11:00:00", "2026-05-03T12:30:00", "the same day, around midday"},
		{"afternoon", "2026-05-03T14:00:00", "2026-05-03T17:04:05", "the same afternoon"},
		{"evening", "2026-05-03T18:30:00", "2026-05-03T21:00:00", "the same evening"},
		{"evening and past midnight", "2026-05-03T20:00:00", "2026-05-04T01:00:00", "the same night"},
		{"a night over midnight", "2026-05-03T22:30:00", "2026-05-04T01:00:00", "the same night"},
		{"a night after midnight", "2026-05-04T01:00:00", "2026-05-04T04:30:00", "the same night"},
		{"morning and evening", "2026-05-03T08:00:00", "2026-05-03T19:00:00", "the same day, morning and evening"},
		{"afternoon and past midnight", "2026-05-03T15:00:00", "2026-05-04T01:00:00", "ten hours apart"},
		{"past midnight and that date's morning", "2026-05-04T01:00:00", "2026-05-04T08:00:00", "seven hours apart"},
		{"evening and the next morning", "2026-05-03T20:00:00", "2026-05-04T07:00:00", "eleven hours apart"},
		{"the night before and the night after", "2026-05-03T01:00:00", "2026-05-03T23:30:00", "23 hours apart"},
		{"a day", "2026-05-03T17:00:00", "2026-05-04T17:30:00", "one day apart"},
		{"a day, late to later", "2026-05-03T23:00:00", "2026-05-05T01:00:00", "one day apart"},
		{"a day, before dawn to after", "2026-05-03T04:00:00", "2026-05-04T06:00:00", "one day apart"},
		{"two days", "2026-05-03T20:00:00", "2026-05-05T07:00:00", "two days apart"},
		{"eleven days", "2026-05-03T09:00:00", "2026-05-14T18:00:00", "eleven days apart"},
		{"weeks", "2026-05-03T09:00:00", "2026-05-24T09:00:00", "three weeks apart"},
		{"some weeks", "2026-05-03T09:00:00", "2026-05-30T09:00:00", "about four weeks apart"},
		{"months", "2026-05-03T09:00:00", "2026-08-03T19:00:00", "three months apart"},
		{"some months", "2026-05-03T09:00:00", "2026-08-11T09:00:00", "about three months apart"},
		{"a year", "2025-05-03T09:00:00", "2026-05-03T19:00:00", "one year apart"},
		{"years", "1998-05-03T09:00:00", "2026-11-20T09:00:00", "about 29 years apart"},
	}
	for _, tt := range tests {
		checkTimeWords(t, tt.name, at(tt.a), at(tt.b), tt.want)
	}
}

func TestTimeWordsOnTwoClocks(t *testing.T) {
	tests := []struct {
		name string
		a, b When
		want string
	}{
		{"one moment", atOffset("2026-05-03T17:00:00", 120), atOffset("2026-05-03T16:00:00", 60), "within a second"},
		{"an afternoon on either clock", atOffset("2026-05-03T15:00:00", 120), atOffset("2026-05-03T17:00:00", 180), "the same afternoon"},
		{"an afternoon on one clock only", atOffset("2026-05-03T17:30:00", 120), atOffset("2026-05-03T17:30:00", 60), "one hour apart"},
		{"the same reading continents apart", atOffset("2026-05-03T15:00:00", 120), atOffset("2026-05-03T15:00:00", -480), "ten hours apart"},
		{"days", atOffset("2026-05-03T15:00:00", 120), atOffset("2026-05-05T15:00:00", 60), "two days apart"},
		{"one offset unknown", atOffset("2026-05-03T15:00:00", 120), at("2026-05-03T15:04:00"), "four minutes apart"},
	}
	for _, tt := range tests {
		checkTimeWords(t, tt.name, tt.a, tt.b, tt.want)
	}
}

func TestTimeWordsForDaysAndSpans(t *testing.T) {
	tests := []struct {
		name string
		a, b When
		want string
	}{
		{"two days known only as such", on(3), on(3), "the same day"},
		{"a day and an instant of it", on(3), at("2026-05-03T17:04:05"), "the same day"},
		{"consecutive", on(3), on(4), "on consecutive days"},
		{"a day and the small hours after it", on(3), at("2026-05-04T01:00:00"), "on consecutive days"},
		{"two days", on(3), on(5), "two days apart"},
		{"three weeks", on(3), on(24), "three weeks apart"},
		{"in the span", days("2026-05-03", "2026-05-12"), on(5), "within the same ten days"},
		{"an instant in the span", days("2026-05-03", "2026-05-12"), at("2026-05-03T01:00:00"), "within the same ten days"},
		{"spans that overlap", days("2026-05-03", "2026-05-09"), days("2026-05-08", "2026-05-12"), "within the same ten days"},
		{"one span twice", days("2026-05-03", "2026-05-13"), days("2026-05-03", "2026-05-13"), "within the same eleven days"},
		{"one month", days("2026-05-01", "2026-05-31"), on(5), "the same month"},
		{"across months", days("2026-04-20", "2026-05-31"), on(5), "within the same six weeks"},
		{"a summer", days("2026-05-01", "2026-08-31"), on(5), "the same year"},
		{"a winter", days("2025-11-01", "2026-03-31"), days("2026-01-01", "2026-01-31"), "within the same five months"},
		{"years", days("1998-01-01", "2001-12-31"), days("2000-01-01", "2000-12-31"), "within the same four years"},
		{"apart by days", days("2026-05-03", "2026-05-05"), days("2026-05-07", "2026-05-11"), "two to eight days apart"},
		{"next day at the nearest", days("2026-05-03", "2026-05-05"), on(6), "one to three days apart"},
		{"apart by weeks", days("2026-04-01", "2026-04-30"), on(20), "two to seven weeks apart"},
		{"less than a week at the nearest", days("2026-04-01", "2026-04-30"), on(3), "up to five weeks apart"},
		{"narrow beside the gap", days("2026-04-01", "2026-04-02"), on(1), "about four weeks apart"},
		{"apart by months", days("2025-06-01", "2025-12-31"), on(3), "four to twelve months apart"},
		{"apart by years", days("1998-01-01", "1998-12-31"), days("2026-01-01", "2026-12-31"), "27 to 29 years apart"},
		{"before 1970", days("1950-03-01", "1950-03-04"), Day(1950, time.March, 6, FromMaker), "two to five days apart"},
	}
	for _, tt := range tests {
		checkTimeWords(t, tt.name, tt.a, tt.b, tt.want)
	}
}

func TestTimeWordsSayWhoseDateIsMissing(t *testing.T) {
	scanned := Day(2026, time.May, 3, FromScanner)
	checkTimeWords(t, "one", When{}, on(3), "one taking date unknown")
	checkTimeWords(t, "one, a scanner's", scanned, on(3), "one taking date unknown")
	checkTimeWords(t, "both", scanned, When{Precision: "unknown"}, "both taking dates unknown")
}

// Words for a pair of which one is known to the day or less must never speak of
// a clock, nor depend on the order.
func TestTimeWordsNeverClaimAClockThatNobodyRead(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	for range 5000 {
		a, b := someTime(r), someTime(r)
		words := TimeWords(a, b)
		if words != TimeWords(b, a) {
			t.Fatalf("%s and %s: %q or %q by their order", a.Words(), b.Words(), words, TimeWords(b, a))
		}
		if strings.HasPrefix(words, "no ") || strings.Contains(words, " no ") || strings.Contains(words, "0 ") && words[0] == '0' {
			t.Fatalf("%s and %s: %q", a.Words(), b.Words(), words)
		}
		if a.Precision == PrecisionInstant && b.Precision == PrecisionInstant {
			continue
		}
		for _, clock := range []string{"second", "minute", "hour", "morning", "midday", "afternoon", "evening", "night"} {
			if strings.Contains(words, clock) {
				t.Fatalf("%s and %s: %q", a.Words(), b.Words(), words)
			}
		}
	}
}
