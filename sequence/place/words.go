package place

import (
	"strconv"
	"time"
)

// Words says when, as closely as it is known: "3 May 2026, 17:04",
// "3 May 2026", "3–9 May 2026", "date unknown". A scanner's date is given as
// what it is: "scanned 3 May 2026; taking date unknown".
func (w When) Words() string {
	switch {
	case !w.Known():
		return "date unknown"
	case w.Source == FromScanner:
		return "scanned " + spanWords(w.From, w.To) + "; taking date unknown"
	case w.Precision == PrecisionInstant:
		return w.From.Format("2 January 2006, 15:04")
	}
	return spanWords(w.From, w.To)
}

// spanWords names the days from one to another without repeating what they
// share; whole months and years go by their own names.
func spanWords(from, to time.Time) string {
	firstLayout, lastLayout := "2 January 2006", "2 January 2006"
	months := from.Day() == 1 && to.AddDate(0, 0, 1).Day() == 1
	switch {
	case months && from.Month() == time.January && to.Month() == time.December:
		firstLayout, lastLayout = "2006", "2006"
	case months:
		firstLayout, lastLayout = "January 2006", "January 2006"
	}
	last := to.Format(lastLayout)
	if from.Format(firstLayout) == last {
		return last
	}
	dash := " – "
	switch {
	case firstLayout == "2006":
		dash = "–"
	case from.Year() != to.Year():
	case months:
		firstLayout, dash = "January", "–"
	case from.Month() == to.Month():
		firstLayout, dash = "2", "–"
	default:
		firstLayout = "2 January"
	}
	return from.Format(firstLayout) + dash + last
}

// number writes one to twelve as words and the rest in digits.
func number(n int) string {
	words := [...]string{
		"no", "one", "two", "three", "four", "five", "six",
		"seven", "eight", "nine", "ten", "eleven", "twelve",
	}
	if n >= 0 && n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}

// counted is a number with its unit: "one day", "13 days".
func counted(n int, unit string) string {
	if n == 1 {
		return "one " + unit
	}
	return number(n) + " " + unit + "s"
}
