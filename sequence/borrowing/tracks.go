package borrowing

import (
	"fmt"
	"slices"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place"
	"pairwall/sequence/place/track"
)

// reading is how one clock's photos turn into moments in UTC.
type reading struct {
	zoned  bool // every one of them states its zone: readings count in UTC, which a journey across zones needs
	known  bool
	offset time.Duration
	spread time.Duration
	why    string // when not known
}

// at is what the clock says in UTC, or its wall clock where no zone is stated.
func (r reading) at(p sequence.Photo) time.Time {
	if r.zoned {
		return p.Taken.From.Add(-time.Duration(*p.Taken.Offset) * time.Minute)
	}
	return p.Taken.From
}

// FromTracks proposes places along a line. A camera's clock is as the maker
// sets it, or found by fitting its photos that know both place and time; where
// it cannot be found, a zone that its photos state is taken at its word, and
// without one they are left. The revision is that of the wall.
//
// Error: NotFound for a photo there is not.
func FromTracks(photos []sequence.Photo, line *track.Line, wish Wish, revision int64) (Loan, error) {
	loan := newLoan()
	may, err := loan.borrowers(photos, wish)
	if err != nil {
		return Loan{}, err
	}
	readings := make(map[string]reading)
	for _, name := range clocks(may) {
		r, told := readClock(name, photos, line, wish)
		readings[name] = r
		loan.Clocks = append(loan.Clocks, told)
	}
	for _, p := range may {
		r := readings[clockOf(p)]
		if !r.known {
			loan.leave(p, r.why)
			continue
		}
		moment := r.at(p).Add(r.offset)
		where, sure, ok := line.At(moment, wish.Gap)
		if !ok {
			loan.leave(p, notCovered(line, moment))
			continue
		}
		where.Radius += drift(line, where.LatLng, moment, r.spread, wish.Gap)
		loan.propose(p, where, moment, sure.Words())
	}
	return loan.finish("tracks", revision), nil
}

func clocks(photos []sequence.Photo) []string {
	var names []string
	for _, p := range photos {
		names = append(names, clockOf(p))
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// readClock finds how a clock is read, and says so.
func readClock(name string, photos []sequence.Photo, line *track.Line, wish Wish) (reading, Clock) {
	var of []sequence.Photo
	zoned := true
	for _, p := range photos {
		if timed(p) && clockOf(p) == name {
			of = append(of, p)
			zoned = zoned && p.Taken.Offset != nil
		}
	}
	r, told := reading{zoned: zoned}, Clock{Camera: name}
	if wish.Offset != nil {
		r.known, r.offset = true, *wish.Offset
		told.Offset, told.Words, told.Sure = wish.Offset.String(), "as you set it", true
		return r, told
	}
	var found track.Clock
	if wish.Fit {
		var ok bool
		if found, ok = track.FindClock(line, fixes(of, r), track.AnyZone); ok {
			r.known, r.offset, r.spread = true, found.Offset, found.Spread
			told.Offset, told.Used, told.Words, told.Sure = found.Offset.String(), found.Used, found.Words(), true
			return r, told
		}
		told.Used = found.Used
	}
	told.Words = unfound(found, wish.Fit)
	if zoned {
		r.known = true
		told.Offset = time.Duration(0).String()
		told.Words += "; its photos state their time zone, and the clock is taken as right"
		return r, told
	}
	r.why = "the clock of " + called(name) + " is not known: " + told.Words
	return r, told
}

func unfound(c track.Clock, tried bool) string {
	const fewest = 3 // that track.FindClock asks for
	switch {
	case !tried:
		return "you did not say how far it is off"
	case c.Used < fewest:
		return fmt.Sprintf("%s of it know both place and time, and three are needed", sequence.Counted(c.Used, "photo"))
	}
	return fmt.Sprintf("the %s of it that know both place and time do not fit the tracks at one time and no other", sequence.Counted(c.Used, "photo"))
}

// preciseEnough is how large the radius of a place may be, in metres, that says
// anything about a clock.
const preciseEnough = 500

// fixes are the photos that know place and time by themselves.
func fixes(photos []sequence.Photo, r reading) []track.Fix {
	var known []track.Fix
	for _, p := range photos {
		if p.Where != nil && !borrowed(p) && p.Where.Radius <= preciseEnough {
			known = append(known, track.Fix{Wall: r.at(p), LatLng: p.Where.LatLng, From: p.Name})
		}
	}
	return known
}

// drift is how far the position moves, in metres, within a clock's spread.
func drift(line *track.Line, from place.LatLng, moment time.Time, spread, gap time.Duration) float64 {
	farthest := 0.0
	for _, off := range []time.Duration{-spread, spread} {
		if there, _, ok := line.At(moment.Add(off), gap); ok && spread > 0 {
			farthest = max(farthest, place.Distance(from, there.LatLng))
		}
	}
	return farthest
}

func notCovered(line *track.Line, moment time.Time) string {
	const form = "2 January 2006, 15:04"
	from, to, ok := line.Span()
	switch {
	case !ok:
		return "no track knows its times"
	case moment.Before(from):
		return fmt.Sprintf("it was taken on %s UTC, before the first track begins on %s", moment.UTC().Format(form), from.Format(form))
	case moment.After(to):
		return fmt.Sprintf("it was taken on %s UTC, after the last track ends on %s", moment.UTC().Format(form), to.Format(form))
	}
	return fmt.Sprintf("no track has a fix near enough to %s UTC", moment.UTC().Format(form))
}
