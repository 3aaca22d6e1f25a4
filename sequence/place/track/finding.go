package track

import (
	"fmt"
	"strconv"
)

// Finding is something the maker should know of a GPX file that could be read
// all the same. Words is a plain sentence. Damaged tells a file that is broken
// from one that is merely odd.
type Finding struct {
	Words   string
	Damaged bool
}

// oddities counts what is unusual in one file, so that ten thousand points make
// one sentence.
type oddities struct {
	brokenAt                           int
	noPosition, nowhere, outside       int
	absurd, unreadable, zoneless       int
	backwards, doubled, untimed, timed int
	route, waypoints                   int
}

// look counts what shows only in the tracks as a whole. Order is judged inside
// segments: files may list their tracks in any order.
func (o *oddities) look(tracks []Track) {
	for _, t := range tracks {
		for _, s := range t.Segments {
			var before Point
			for _, p := range s {
				if p.At.IsZero() {
					o.untimed++
					continue
				}
				o.timed++
				switch {
				case before.At.IsZero():
				case p.At.Before(before.At):
					o.backwards++
				case p.At.Equal(before.At):
					o.doubled++
				}
				before = p
			}
		}
	}
}

// findings says what there is to say, the gravest first.
func (o *oddities) findings() []Finding {
	var all []Finding
	if o.brokenAt > 0 {
		all = append(all, Finding{Damaged: true, Words: fmt.Sprintf(
			"The file breaks off or is damaged at or after point %d; what came before is kept.", o.brokenAt)})
	}
	say := func(n int, format string) {
		if n > 0 {
			all = append(all, Finding{Words: fmt.Sprintf(format, count(n, "point"))})
		}
	}
	say(o.noPosition, "Left out for lack of a readable position: %s.")
	say(o.outside, "Left out because there is no such latitude or longitude: %s.")
	say(o.nowhere, "Left out because 0,0 is what receivers write that know no position: %s.")
	say(o.absurd, "The time is before "+strconv.Itoa(firstYear)+" or after "+strconv.Itoa(lastYear)+
		" and does not count, the position stays: %s.")
	say(o.unreadable, "The time cannot be read, the position stays: %s.")
	say(o.zoneless, "The time names no zone and is read as UTC, as the format asks: %s.")
	say(o.backwards, "Earlier than the point before in the file, and put in order: %s.")
	say(o.doubled, "The same time as the point before, of which only the first counts: %s.")
	if o.timed == 0 && o.untimed > 0 {
		say(o.untimed, "No point knows its time, so the track can be drawn but lends no position: %s.")
	} else {
		say(o.untimed-o.absurd-o.unreadable, "Without a time, so they lend no position: %s.")
	}
	say(o.route, "A planned route is left aside, it says where to go and not where anybody was: %s.")
	if o.waypoints > 0 {
		all = append(all, Finding{Words: fmt.Sprintf(
			"Left aside because their times may be those of noting them down, and the file has a track: %s.",
			count(o.waypoints, "waypoint"))})
	}
	if o.timed+o.untimed == 0 {
		all = append(all, Finding{Words: "The file holds no track, nor a waypoint that knows its time."})
	}
	return all
}

// count is a number with its unit: "1 point", "184 points".
func count(n int, unit string) string {
	if n == 1 {
		return "1 " + unit
	}
	return strconv.Itoa(n) + " " + unit + "s"
}
