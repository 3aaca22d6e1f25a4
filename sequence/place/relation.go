package place

import (
	"math"
	"time"
)

// TimeWords says how a and b lie in time to each other, and no more than is
// known: "four minutes apart", "the same afternoon", "the same day", "two days
// apart", "within the same ten days", "two to eight days apart". It does not
// depend on their order.
//
// Instants are compared by Gap; parts of the day are named for instants only,
// and a picture at 01:00 belongs to the evening before. Whole days and spans are
// compared by their dates.
func TimeWords(a, b When) string {
	switch {
	case !a.CountsAsTaken() && !b.CountsAsTaken():
		return "both taking dates unknown"
	case !a.CountsAsTaken() || !b.CountsAsTaken():
		return "one taking date unknown"
	case a.Precision == PrecisionInstant && b.Precision == PrecisionInstant:
		return instantWords(a, b)
	}
	return dateWords(a, b)
}

// instantWords is TimeWords for two instants.
func instantWords(a, b When) string {
	gap, _ := Gap(a, b)
	switch seconds := int(gap.Round(time.Second) / time.Second); {
	case gap < time.Second:
		return "within a second"
	case seconds < 60:
		return counted(seconds, "second") + " apart"
	}
	if minutes := int(gap.Round(time.Minute) / time.Minute); minutes < 60 {
		return counted(minutes, "minute") + " apart"
	}
	early, late, shared := sameClock(a, b)
	if shared != "" {
		return shared
	}
	if gap < 24*time.Hour {
		return counted(int(gap.Round(time.Hour)/time.Hour), "hour") + " apart"
	}
	// A night that runs past midnight must not add a day, nor take one away.
	days := min(dayNumber(late)-dayNumber(early), outing(late)-outing(early))
	return apart(early, late, max(1, days))
}

// sameClock gives both readings on the clock of the earlier picture, and the
// part of a day that they share if any. Where the two offsets are known and
// differ, that part must be the same on either clock.
func sameClock(a, b When) (early, late time.Time, shared string) {
	if a.Offset == nil || b.Offset == nil || *a.Offset == *b.Offset {
		early, late = a.From, b.From
		if late.Before(early) {
			early, late = late, early
		}
		return early, late, sharedPart(early, late)
	}
	if absolute(b.From, *b.Offset).Before(absolute(a.From, *a.Offset)) {
		a, b = b, a
	}
	ahead := time.Duration(*a.Offset-*b.Offset) * time.Minute
	early, late = a.From, b.From.Add(ahead)
	shared = sharedPart(early, late)
	if sharedPart(early.Add(-ahead), b.From) != shared {
		shared = ""
	}
	return early, late, shared
}

type dayPart string

// The hours that part a day are common practice; midday is short because most
// people call half past one afternoon.
func partOf(t time.Time) dayPart {
	switch h := t.Hour(); {
	case h < nightEnds:
		return "night"
	case h < 11:
		return "morning"
	case h < 13:
		return "midday"
	case h < 18:
		return "afternoon"
	case h < 22:
		return "evening"
	}
	return "night"
}

// nightEnds is the hour up to which a picture belongs to the evening before.
const nightEnds = 5

// outing numbers days that run from nightEnds to nightEnds.
func outing(t time.Time) int { return dayNumber(t.Add(-nightEnds * time.Hour)) }

// dayNumber counts calendar days from 1970.
func dayNumber(t time.Time) int { return int(startOfDay(t).Unix() / 86400) }

// sharedPart names the part of a day or the day in which two readings of one
// clock lie, "" when there is none.
func sharedPart(early, late time.Time) string {
	if outing(early) != outing(late) {
		return ""
	}
	first, last := partOf(early), partOf(late)
	switch {
	case first == last && first == "midday":
		return "the same day, around midday"
	case first == last:
		return "the same " + string(first)
	case first == "evening" && last == "night":
		return "the same night"
	case dayNumber(early) == dayNumber(late):
		return "the same day, " + string(first) + " and " + string(last)
	}
	return ""
}

// dateWords is TimeWords where at least one side is a day or a span.
func dateWords(a, b When) string {
	if b.From.Before(a.From) {
		a, b = b, a
	}
	low, high := dayNumber(b.From)-dayNumber(a.To), dayNumber(b.To)-dayNumber(a.From)
	switch {
	case low <= 0:
		return within(a.From, later(a.To, b.To))
	case low == high && low == 1:
		return "on consecutive days"
	case low == high:
		return apart(a.From, b.From, low)
	}
	return rangeApart(low, high)
}

func later(a, b time.Time) time.Time {
	if a.Before(b) {
		return b
	}
	return a
}

// Mean lengths in days in the Gregorian calendar, and how many days are still
// counted in the smaller unit when saying how far apart two dates are.
const (
	weekDays  = 7
	monthDays = 365.2425 / 12
	yearDays  = 365.2425

	countedInDays   = 20
	countedInWeeks  = 59
	countedInMonths = 547
)

// unitFor is the unit in which people count so many days.
func unitFor(days int) (unit string, length float64) {
	switch {
	case days <= countedInDays:
		return "day", 1
	case days <= countedInWeeks:
		return "week", weekDays
	case days <= countedInMonths:
		return "month", monthDays
	}
	return "year", yearDays
}

// apart says that two dates lie so many days apart; "about" goes when it is
// exact, as whole weeks and the same day of another month are.
func apart(early, late time.Time, days int) string {
	unit, length := unitFor(days)
	n := int(math.Round(float64(days) / length))
	months := 12*(late.Year()-early.Year()) + int(late.Month()) - int(early.Month())
	sameDay := early.Day() == late.Day()
	switch {
	case days > countedInWeeks && sameDay && months%12 == 0:
		return counted(months/12, "year") + " apart"
	case unit == "day", unit == "week" && days%weekDays == 0, unit == "month" && sameDay:
		return counted(n, unit) + " apart"
	}
	return "about " + counted(n, unit) + " apart"
}

// rangeApart says that two dates lie low to high days apart, 0 < low < high.
func rangeApart(low, high int) string {
	unit, length := unitFor(high)
	least, most := float64(low)/length, float64(high)/length
	if n := math.Round(least); unit != "day" && n >= 1 && n == math.Round(most) {
		return "about " + counted(int(n), unit) + " apart"
	}
	first, last := int(math.Floor(least)), int(math.Ceil(most))
	if first == 0 {
		return "up to " + counted(last, unit) + " apart"
	}
	return number(first) + " to " + counted(last, unit) + " apart"
}

// within names the days from first to last, in which both pictures lie. It
// rounds up: the words must hold for the longest gap there can be.
func within(first, last time.Time) string {
	days := dayNumber(last) - dayNumber(first) + 1
	sameYear := first.Year() == last.Year()
	switch {
	case days == 1:
		return "the same day"
	case days > countedInDays && sameYear && first.Month() == last.Month():
		return "the same month"
	case days <= 31:
		return "within the same " + counted(days, "day")
	case days <= 92:
		return "within the same " + counted((days+weekDays-1)/weekDays, "week")
	case sameYear:
		return "the same year"
	case days <= 730:
		return "within the same " + counted(steps(first, last, 0, 1), "month")
	}
	return "within the same " + counted(steps(first, last, 1, 0), "year")
}

// steps is how many calendar years or months from first on hold last as well.
func steps(first, last time.Time, years, months int) int {
	n := 1
	for !first.AddDate(n*years, n*months, 0).After(last) {
		n++
	}
	return n
}
