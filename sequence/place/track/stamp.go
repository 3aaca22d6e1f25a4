package track

import (
	"strings"
	"time"
)

// stamp is what a time in a file turned out to be.
type stamp int

const (
	stampRead     stamp = iota
	stampZoneless       // read as UTC, as the format asks
	stampAbsurd         // a clock that knows nothing
	stampUnreadable
)

// The forms times take in files: GPX asks for ISO 8601 in UTC with a Z; local
// offsets, a blank for the T and a missing zone all occur. Go's parser takes a
// fraction, with point or comma, wherever seconds stand.
var (
	zoned    = []string{"2006-01-02T15:04:05Z07:00", "2006-01-02T15:04:05Z0700", "2006-01-02T15:04:05Z07", "2006-01-02T15:04Z07:00"}
	zoneless = []string{"2006-01-02T15:04:05", "2006-01-02T15:04"}
)

// parseStamp reads a time as UTC; it is zero unless it can be true.
func parseStamp(text string) (time.Time, stamp) {
	text = strings.ToUpper(strings.TrimSpace(text))
	const dateLength = len("2006-01-02")
	if len(text) > dateLength && text[dateLength] == ' ' {
		text = text[:dateLength] + "T" + strings.TrimSpace(text[dateLength:])
	}
	text = strings.ReplaceAll(text, " ", "")
	read := stampRead
	t, ok := firstOf(zoned, text)
	if !ok {
		t, ok = firstOf(zoneless, text)
		read = stampZoneless
	}
	switch {
	case !ok:
		return time.Time{}, stampUnreadable
	case !credible(t):
		return time.Time{}, stampAbsurd
	}
	return t.UTC(), read
}

func firstOf(layouts []string, text string) (time.Time, bool) {
	for _, layout := range layouts {
		if t, err := time.Parse(layout, text); err == nil {
			return t, true
		}
	}
	return time.Time{}, false
}
