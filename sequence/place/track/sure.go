package track

import (
	"fmt"
	"strings"
	"time"

	"pairwall/sequence/place"
)

// Sure says from what a position was borrowed and how near in time that was; how
// far it can be off is the radius of the position itself.
type Sure struct {
	Source place.Source  // FromTrack or FromPhone
	From   []string      // names of the files, one or two; "" where a file has none
	Apart  time.Duration // between the two fixes the position lies between; 0 when it is one fix's own
	Away   time.Duration // from the nearest fix to the moment asked for: negative when the fix came later
}

// Words says it for the maker: "from track ferry.gpx, between fixes 40 s apart",
// "from track ferry.gpx, 20 s before a fix", "from phone photo 2031.jpg, taken
// 12 min earlier". The zero Sure gives "".
func (s Sure) Words() string {
	switch s.Source {
	case place.FromTrack:
		return "from " + s.names("track") + ", " + s.fixWords()
	case place.FromPhone:
		return "from " + s.names("phone photo") + ", taken " + s.phoneWords()
	}
	return ""
}

// names gives the files behind what they are; one without a name is "a track".
func (s Sure) names(noun string) string {
	var named []string
	for _, name := range s.From {
		if name != "" {
			named = append(named, name)
		}
	}
	switch len(named) {
	case 0:
		return "a " + noun
	case 1:
		return noun + " " + named[0]
	}
	return noun + "s " + strings.Join(named, " and ")
}

func (s Sure) fixWords() string {
	switch {
	case s.Apart > 0:
		return "between fixes " + lasting(s.Apart) + " apart"
	case s.Away.Abs() < time.Second:
		return "at a fix"
	case s.Away > 0:
		return lasting(s.Away) + " after a fix"
	}
	return lasting(s.Away) + " before a fix"
}

func (s Sure) phoneWords() string {
	switch {
	case s.Away.Abs() < time.Second:
		return "at the same second"
	case s.Away > 0:
		return lasting(s.Away) + " earlier"
	}
	return lasting(s.Away) + " later"
}

// lasting rounds a duration to what one would say: seconds up to two minutes,
// minutes up to two hours, then hours.
func lasting(d time.Duration) string {
	d = d.Abs()
	switch {
	case d < time.Second:
		return "less than 1 s"
	case d < 2*time.Minute:
		return fmt.Sprintf("%d s", d.Round(time.Second)/time.Second)
	case d < 2*time.Hour:
		return fmt.Sprintf("%d min", d.Round(time.Minute)/time.Minute)
	}
	return fmt.Sprintf("%d h", d.Round(time.Hour)/time.Hour)
}

// exactly gives every second: "1 h 7 min 3 s".
func exactly(d time.Duration) string {
	d = d.Abs().Round(time.Second)
	var parts []string
	for _, unit := range []struct {
		length time.Duration
		name   string
	}{{time.Hour, "h"}, {time.Minute, "min"}, {time.Second, "s"}} {
		if n := d / unit.length; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, unit.name))
			d %= unit.length
		}
	}
	if len(parts) == 0 {
		return "0 s"
	}
	return strings.Join(parts, " ")
}
