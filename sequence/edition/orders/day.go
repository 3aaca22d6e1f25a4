package orders

import (
	"strings"
	"time"
)

// DayOrder is what comes first where a day is written with slashes.
type DayOrder string

// The orders. Where a table leaves it open it is for the maker to say.
const (
	OpenOrder  DayOrder = ""
	DayFirst   DayOrder = "dmy"
	MonthFirst DayOrder = "mdy"
)

// dayForms are how tables write a day that can be read in one way only.
var dayForms = []string{time.RFC3339, "2006-01-02 15:04:05 -0700", "2006-01-02 15:04:05", "2006-01-02T15:04:05", "2006-01-02 15:04", time.DateOnly, "2.1.2006", "2.1.2006 15:04",
	"2.1.2006 15:04:05", "2 Jan 2006", "2 January 2006", "Jan 2, 2006", "January 2, 2006", "2006/1/2", "2006/1/2 15:04", "2006/1/2 15:04:05", "2006年1月2日"}

// slashed are the forms that can be read in two ways.
var slashed = map[DayOrder]string{DayFirst: "2/1/2006", MonthFirst: "1/2/2006"}

// dayOrder finds which comes first: a table in which some day can only be read
// one way is read that way throughout.
func (t *Table) dayOrder(rows []row) DayOrder {
	fits := map[DayOrder]int{}
	for _, one := range rows {
		first, _, _ := strings.Cut(t.cell(one.cells, DayField), " ")
		for order, form := range slashed {
			if _, err := time.Parse(form, first); err == nil {
				fits[order]++
			}
		}
	}
	switch {
	case fits[DayFirst] > fits[MonthFirst]:
		return DayFirst
	case fits[MonthFirst] > fits[DayFirst]:
		return MonthFirst
	}
	return OpenOrder
}

func dayOf(text string, order DayOrder) (string, error) {
	if text == "" {
		return "", nil
	}
	for _, form := range dayForms {
		if day, err := time.Parse(form, text); err == nil {
			return day.Format(time.DateOnly), nil
		}
	}
	first, _, _ := strings.Cut(text, " ")
	var read []time.Time
	for _, which := range []DayOrder{DayFirst, MonthFirst} {
		day, err := time.Parse(slashed[which], first)
		if err == nil && which == order {
			return day.Format(time.DateOnly), nil
		}
		if err == nil {
			read = append(read, day)
		}
	}
	switch {
	case len(read) == 1 && order == OpenOrder, len(read) == 2 && read[0].Equal(read[1]):
		return read[0].Format(time.DateOnly), nil
	case len(read) == 2:
		return "", says("%s may be two different days: say whether the day or the month comes first.", short(text))
	}
	return "", says("“%s” is no day.", short(text))
}
