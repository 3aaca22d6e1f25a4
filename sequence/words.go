package sequence

import (
	"strconv"
	"strings"
)

// mostNamed is how many lifted units are told one by one; of more, how many
// they are says more. No source.
const mostNamed = 2

// Words tells a difference as one would say it: "three pairs broken, two new,
// four photos came, 12 and 47 moved to the front".
func (d Diff) Words() string {
	var said []string
	said = append(said, two("pair", len(d.Broken), "broken", len(d.New), "new")...)
	if n := len(d.Turned); n > 0 {
		said = append(said, Counted(n, "pair")+" turned round")
	}
	said = append(said, two("photo", len(d.Come), "came", len(d.Gone), "went")...)
	if len(d.Lifted) <= mostNamed {
		for _, l := range d.Lifted {
			said = append(said, l.words())
		}
	} else {
		said = append(said, "order moved by "+Spelled(d.Moved))
	}
	said = append(said, two("chapter", len(d.Begun), "begun", len(d.Ended), "ended")...)
	said = append(said, two("chapter", len(d.Renamed), "renamed", len(d.Reshaped), "with other spreads")...)
	if d.Noted > 0 {
		said = append(said, Counted(d.Noted, "note")+" changed")
	}
	if len(said) == 0 {
		return "the same pairs in the same order"
	}
	return strings.Join(said, ", ")
}

func (l Lift) words() string {
	var named []string
	for _, id := range l.Photos {
		named = append(named, strconv.Itoa(int(id)))
	}
	subject := strings.Join(named, " and ")
	if l.Chapter != "" {
		subject = "“" + l.Chapter + "”"
	}
	return subject + map[Whither]string{Front: " moved to the front", Earlier: " moved forward",
		Later: " moved back", End: " moved to the end"}[l.To]
}

// two says two counts of one thing and names the thing once only.
func two(thing string, first int, firstWord string, second int, secondWord string) []string {
	var said []string
	if first > 0 {
		said = append(said, Counted(first, thing)+" "+firstWord)
	}
	if second > 0 && first > 0 {
		said = append(said, Spelled(second)+" "+secondWord)
	} else if second > 0 {
		said = append(said, Counted(second, thing)+" "+secondWord)
	}
	return said
}

// Counted is a number with its thing: "one photo", "five photos", "13 photos".
func Counted(n int, thing string) string {
	if n == 1 {
		return "one " + thing
	}
	return Spelled(n) + " " + thing + "s"
}

// Spelled writes numbers up to twelve as words, as is common practice in print.
func Spelled(n int) string {
	words := [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	if n >= 0 && n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}
