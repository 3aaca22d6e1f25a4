package place

import "time"

// Gap is the shortest time that can lie between a and b: 0 when the two
// intervals overlap. It compares absolute times when both offsets are known and
// wall clocks otherwise. ok is false when either does not count as taken.
func Gap(a, b When) (shortest time.Duration, ok bool) {
	shortest, _, ok = GapWithin(a, b)
	return shortest, ok
}

// GapWithin is Gap together with the longest time that can lie between a and b:
// two pictures known to the same day lie 0 to 23:59:59 apart. Beyond the range
// of time.Duration, about 292 years, both stop at its end.
func GapWithin(a, b When) (shortest, longest time.Duration, ok bool) {
	if !a.CountsAsTaken() || !b.CountsAsTaken() {
		return 0, 0, false
	}
	aFrom, aTo, bFrom, bTo := a.From, a.To, b.From, b.To
	if a.Offset != nil && b.Offset != nil {
		aFrom, aTo = absolute(aFrom, *a.Offset), absolute(aTo, *a.Offset)
		bFrom, bTo = absolute(bFrom, *b.Offset), absolute(bTo, *b.Offset)
	}
	longest = max(aTo.Sub(bFrom), bTo.Sub(aFrom))
	shortest = max(0, between(aTo, bFrom, a), between(bTo, aFrom, b))
	return shortest, longest, true
}

// between is the time from the end of interval earlier to the start of the
// next, negative or 0 when they meet. A day's last second, 23:59:59, belongs to
// it whole, so a moment within that second is no gap.
func between(end, start time.Time, earlier When) time.Duration {
	gap := start.Sub(end)
	if earlier.Precision != PrecisionInstant && gap < time.Second {
		return 0
	}
	return gap
}

// absolute turns a wall-clock reading into the UTC it was.
func absolute(wall time.Time, offset int) time.Time {
	return wall.Add(-time.Duration(offset) * time.Minute)
}
