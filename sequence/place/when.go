package place

import "time"

// When is a time as somebody stated it, no more precise than it was stated.
//
// From and To are wall-clock readings where the picture was taken, written as
// UTC whatever the real zone. For an instant they are equal; for a day and a
// span (of whole days) From is 00:00:00 of the first day and To 23:59:59 of
// the last. Offset is minutes east of UTC where the picture was taken, nil when
// nobody said. The zero When is an unknown time.
type When struct {
	Precision Precision
	From, To  time.Time
	Offset    *int
	Source    Source
}

// Instant is the moment that the wall clock showed t; t's location is ignored.
// offset, in minutes east of UTC, may be nil and is copied.
func Instant(t time.Time, offset *int, s Source) When {
	wall := wallClock(t)
	w := When{Precision: PrecisionInstant, From: wall, To: wall, Source: s}
	if offset != nil {
		minutes := *offset
		w.Offset = &minutes
	}
	return w
}

// Day is some moment of one calendar day. A day past the end of its month
// counts on into the next, as time.Date does.
func Day(year int, month time.Month, day int, s Source) When {
	from := time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
	return When{Precision: PrecisionDay, From: from, To: endOfDay(from), Source: s}
}

// Span is some moment of the whole days from the day of from to the day of to,
// in either order. Clock and location of both are ignored. A span of one day is
// returned as that Day.
func Span(from, to time.Time, s Source) When {
	first, last := startOfDay(from), startOfDay(to)
	if last.Before(first) {
		first, last = last, first
	}
	if first.Equal(last) {
		return Day(first.Year(), first.Month(), first.Day(), s)
	}
	return When{Precision: PrecisionSpan, From: first, To: endOfDay(last), Source: s}
}

// Known reports whether any time was stated at all.
func (w When) Known() bool {
	return w.Precision.known()
}

// CountsAsTaken reports whether w says when the picture was taken. A scanner's
// date is the date of scanning, so it never does.
func (w When) CountsAsTaken() bool {
	return w.Known() && w.Source != FromScanner
}

// wallClock is what the clock at t's location showed, written as UTC. It also
// drops the monotonic reading of time.Now, so that equal readings compare equal.
func wallClock(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), time.UTC)
}

// startOfDay is the first moment of t's calendar day, as a UTC wall clock.
func startOfDay(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// endOfDay is the last whole second of t's calendar day.
func endOfDay(t time.Time) time.Time {
	return startOfDay(t).Add(24*time.Hour - time.Second)
}
