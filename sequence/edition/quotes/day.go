package quotes

import (
	"strconv"
	"time"

	"pairwall/sequence"
)

// Day is a day of the calendar, "2026-05-04"; "" is one nobody said.
type Day string

func (d Day) check() error {
	if _, err := d.time(); err != nil && d != "" {
		return &sequence.Error{Code: sequence.Invalid, Message: strconv.Quote(string(d)) + " is not a day.",
			Hint: "Write year, month and day: 2026-05-04.", Err: err}
	}
	return nil
}

func (d Day) time() (time.Time, error) { return time.Parse(time.DateOnly, string(d)) }

// After returns the day so many days later; "" stays "".
func (d Day) After(days int) Day {
	t, err := d.time()
	if err != nil {
		return ""
	}
	return Day(t.AddDate(0, 0, days).Format(time.DateOnly))
}

// Words is the day as a letter says it: "4 May 2026"; "" for none.
func (d Day) Words() string {
	t, err := d.time()
	if err != nil {
		return ""
	}
	return t.Format("2 January 2006")
}
