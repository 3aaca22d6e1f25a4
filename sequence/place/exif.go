package place

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// Why ParseEXIF refuses a date; test with errors.Is.
var (
	ErrBlankDate      = errors.New("the date is blank")
	ErrZeroDate       = errors.New("the date is all zeros, as cameras write when the clock was never set")
	ErrUnreadableDate = errors.New("the date is not written as dates in files are")
	ErrImpossibleDate = errors.New("there is no such date or time of day")
	ErrEpochDate      = errors.New("the date is 1 January 1970 00:00:00, where computers' clocks start counting")
	ErrOverflowDate   = errors.New("the date is where 32-bit clocks overflow, in 1901 or 2038")
	ErrEarlyDate      = errors.New("the date is before 1826, when there was no photograph yet")
	ErrFutureDate     = errors.New("the date lies in the future")
)

// firstYear of photography: the oldest one kept, a view at Le Gras, was taken in
// 1826 or 1827 (common knowledge of its history).
const firstYear = 1826

// futureAllowance covers every time zone and a clock that is a little fast.
const futureAllowance = 48 * time.Hour

// The forms that a date takes in files: parts of year, month, day, hour, minute,
// second, fraction, zone, where later ones may be missing. EXIF (CIPA DC-008, tag
// DateTime) writes colons; XMP and careless software write ISO 8601, extended;
// IPTC writes it basic.
var (
	spacedForm = regexp.MustCompile(`^(\d{4})(?:[-:/.](\d{1,2})(?:[-:/.](\d{1,2})` +
		`(?:(?:T| +)(\d{1,2}):(\d{1,2})(?::(\d{1,2})(?:[.,](\d+))?)? *(Z|[-+]\d\d(?::?\d\d)?)?)?)?)?$`)
	basicForm = regexp.MustCompile(`^(\d{4})(\d\d)(\d\d)` +
		`(?:(?:T| *)(\d\d)(\d\d)(?:(\d\d)(?:[.,](\d+))?)?(Z|[-+]\d\d(?::?\d\d)?)?)?$`)
	zoneForm = regexp.MustCompile(`^([-+])(\d\d)(?::?(\d\d))?$`)
)

// ParseEXIF reads a date as files carry it: "2006:01:02 15:04:05", any ISO 8601
// form of it with or without fraction and zone, the date alone (a Day), the
// month or the year alone (a Span); parts blanked out at the end count as
// missing, and spaces and anything from a NUL on are ignored.
//
// offset is the file's offset tag, "+02:00" or "". A zone written in value
// itself counts as well; if the two contradict each other the wall clock stands
// and the offset is unknown. An offset nobody can read says nothing either: it
// is no reason to lose a good date.
//
// Refused with one of the errors above: dates that are no date, and dates that a
// clock shows when it knows nothing. now serves to recognise the future.
func ParseEXIF(value, offset string, s Source, now time.Time) (When, error) {
	w, err := readDate(cleaned(value), cleaned(offset), s)
	if err == nil {
		err = w.plausible(now)
	}
	if err != nil {
		return When{}, fmt.Errorf("%w: %q", err, shortened(value))
	}
	return w, nil
}

// cleaned ends the string at its NUL, as in C, and trims it.
func cleaned(s string) string {
	s, _, _ = strings.Cut(s, "\x00")
	return strings.TrimSpace(s)
}

func readDate(value, offset string, s Source) (When, error) {
	// EXIF fills every part not known with blanks and keeps the colons.
	value = strings.TrimRight(value, " :-")
	if value == "" {
		return When{}, ErrBlankDate
	}
	if allZero(value) {
		return When{}, ErrZeroDate
	}
	parts := spacedForm.FindStringSubmatch(value)
	if parts == nil {
		parts = basicForm.FindStringSubmatch(value)
	}
	if parts == nil {
		return When{}, ErrUnreadableDate
	}
	return assemble(parts[1:], offset, s)
}

// allZero is true when the only digits are zeros, whatever stands between.
func allZero(value string) bool {
	return strings.Contains(value, "0") && strings.Trim(value, "0:-/. TZ+") == ""
}

// assemble takes year, month, day, hour, minute, second, fraction and zone, ""
// where missing.
func assemble(parts []string, offset string, s Source) (When, error) {
	n := make([]int, 6)
	for i := range n {
		n[i], _ = strconv.Atoi(parts[i]) // digits only, or "" for 0
	}
	year, month, day := n[0], time.Month(n[1]), n[2]
	switch {
	case parts[1] == "":
		return wholeMonths(year, time.January, time.December, s)
	case parts[2] == "":
		return wholeMonths(year, month, month, s)
	}
	date := time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
	if date.Month() != month || date.Day() != day || n[3] > 23 || n[4] > 59 || n[5] > 59 {
		return When{}, ErrImpossibleDate
	}
	if parts[3] == "" {
		return Day(year, month, day, s), nil
	}
	nanos, _ := strconv.Atoi((parts[6] + "000000000")[:9])
	wall := time.Date(year, month, day, n[3], n[4], n[5], nanos, time.UTC)
	return Instant(wall, agreed(parts[7], offset), s), nil
}

func wholeMonths(year int, first, last time.Month, s Source) (When, error) {
	if first < time.January || last > time.December {
		return When{}, ErrImpossibleDate
	}
	return Span(
		time.Date(year, first, 1, 0, 0, 0, 0, time.UTC),
		time.Date(year, last+1, 0, 0, 0, 0, 0, time.UTC), s), nil
}

// agreed is the offset that zone and tag give when they do not contradict.
func agreed(zone, tag string) *int {
	a, b := readOffset(zone), readOffset(tag)
	switch {
	case a == nil:
		return b
	case b == nil || *a == *b:
		return a
	}
	return nil
}

// readOffset is minutes east of UTC, nil when there is nothing to read.
func readOffset(text string) *int {
	minutes := 0
	if text == "Z" {
		return &minutes
	}
	parts := zoneForm.FindStringSubmatch(text)
	if parts == nil {
		return nil
	}
	hours, _ := strconv.Atoi(parts[2])
	past, _ := strconv.Atoi(parts[3])
	minutes = hours*60 + past
	if past > 59 || minutes > farthestOffset {
		return nil
	}
	if parts[1] == "-" {
		minutes = -minutes
	}
	return &minutes
}

// The ends of a signed 32-bit count of seconds since 1970.
var (
	lastSecond32  = time.Unix(1<<31-1, 0).UTC()
	firstSecond32 = time.Unix(-1<<31, 0).UTC()
)

// plausible says why w cannot be when a picture was made, if it cannot.
func (w When) plausible(now time.Time) error {
	moment := w.From
	if w.Offset != nil {
		moment = absolute(moment, *w.Offset)
	}
	shows := func(t time.Time) bool {
		return w.Precision == PrecisionInstant && (w.From.Equal(t) || moment.Equal(t))
	}
	switch {
	case shows(time.Unix(0, 0)):
		return ErrEpochDate
	case shows(lastSecond32) || shows(firstSecond32):
		return ErrOverflowDate
	case w.From.Year() < firstYear:
		return ErrEarlyDate
	case moment.After(now.Add(futureAllowance)):
		return ErrFutureDate
	}
	return nil
}
