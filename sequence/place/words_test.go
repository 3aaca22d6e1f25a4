package place

import (
	"testing"
	"time"
)

func TestWordsSayNoMoreThanIsKnown(t *testing.T) {
	scanned := Instant(wall("2026-05-03T17:04:05"), nil, FromScanner)
	tests := []struct {
		when When
		want string
	}{
		{When{}, "date unknown"},
		{When{Source: FromScanner}, "date unknown"},
		{at("2026-05-03T17:04:05"), "3 May 2026, 17:04"},
		{atOffset("2026-05-03T00:00:59", 120), "3 May 2026, 00:00"},
		{on(3), "3 May 2026"},
		{days("2026-05-03", "2026-05-09"), "3–9 May 2026"},
		{days("2026-04-28", "2026-05-03"), "28 April – 3 May 2026"},
		{days("2025-12-28", "2026-01-03"), "28 December 2025 – 3 January 2026"},
		{days("2025-05-03", "2026-05-09"), "3 May 2025 – 9 May 2026"},
		{days("2026-05-01", "2026-05-31"), "May 2026"},
		{days("2024-02-01", "2024-02-29"), "February 2024"},
		{days("2026-02-01", "2026-03-01"), "1 February – 1 March 2026"},
		{days("2026-04-01", "2026-05-31"), "April–May 2026"},
		{days("2025-11-01", "2026-02-28"), "November 2025 – February 2026"},
		{days("2026-01-01", "2026-12-31"), "2026"},
		{days("1998-01-01", "2001-12-31"), "1998–2001"},
		{scanned, "scanned 3 May 2026; taking date unknown"},
		{Day(2026, time.May, 3, FromScanner), "scanned 3 May 2026; taking date unknown"},
		{Span(wall("2026-05-01T00:00:00"), wall("2026-05-31T00:00:00"), FromScanner),
			"scanned May 2026; taking date unknown"},
	}
	for _, tt := range tests {
		if got := tt.when.Words(); got != tt.want {
			t.Errorf("%v in words: %q, want %q", tt.when, got, tt.want)
		}
	}
}
