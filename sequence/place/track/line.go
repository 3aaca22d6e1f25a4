package track

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"time"

	"pairwall/sequence/place"
)

// What a borrowed position is worth; both are common practice.
const (
	// fixError is how far, in metres, a fix itself may be off: a phone under the
	// open sky does better, in streets and woods it does worse.
	fixError = 10.0
	// walkingPace, metres a second. Whoever seems to stand still between two
	// fixes may have walked about.
	walkingPace = 1.4
	// endTolerance is how long before the first fix and after the last, or at
	// the edge of a gap, a position still stands: time to switch a receiver on.
	endTolerance = time.Minute
)

// fix is a point that knows its time.
type fix struct {
	at  int64 // microseconds since 1970: years 1989 to 2099 fit, and compare fast
	run int32
	place.LatLng
}

// run is the fixes of one segment, in order of time.
type run struct {
	file  string
	fixes []fix
}

func (r run) first() int64 { return r.fixes[0].at }
func (r run) last() int64  { return r.fixes[len(r.fixes)-1].at }

// Line is everything that several tracks know, in order of time. Where tracks
// overlap they are kept apart, since two receivers never agree quite, and a line
// that jumped between them would show a speed nobody had.
type Line struct {
	fixes []fix
	runs  []run // by first fix
	ends  []int64
}

// Join makes one line of tracks from any number of files, days and zones, in any
// order. Points without a time or a position drop out; of points in one segment
// with the same time the first in the file counts.
func Join(tracks []Track) *Line {
	l := &Line{}
	for _, t := range tracks {
		for _, s := range t.Segments {
			if fixes := ordered(s); len(fixes) > 0 {
				l.runs = append(l.runs, run{file: t.From, fixes: fixes})
			}
		}
	}
	slices.SortStableFunc(l.runs, func(a, b run) int { return cmp.Compare(a.first(), b.first()) })
	end := int64(math.MinInt64)
	for i, r := range l.runs {
		for j := range r.fixes {
			r.fixes[j].run = int32(i)
		}
		l.fixes = append(l.fixes, r.fixes...)
		end = max(end, r.last())
		l.ends = append(l.ends, end)
	}
	slices.SortStableFunc(l.fixes, byTime)
	return l
}

func byTime(a, b fix) int { return cmp.Compare(a.at, b.at) }

func ordered(s Segment) []fix {
	var fixes []fix
	for _, p := range s {
		if p.Valid() && credible(p.At) {
			fixes = append(fixes, fix{at: p.At.UnixMicro(), LatLng: p.LatLng})
		}
	}
	slices.SortStableFunc(fixes, byTime)
	return slices.CompactFunc(fixes, func(a, b fix) bool { return a.at == b.at })
}

// Len is the number of fixes.
func (l *Line) Len() int { return len(l.fixes) }

// Span is the time from the first fix to the last, in UTC; ok is false for a
// line without any.
func (l *Line) Span() (from, to time.Time, ok bool) {
	if len(l.fixes) == 0 {
		return from, to, false
	}
	last := l.fixes[len(l.fixes)-1]
	return time.UnixMicro(l.fixes[0].at).UTC(), time.UnixMicro(last.at).UTC(), true
}

// At is where the line was at t.
//
// Between two fixes at most maxGap apart it is the point on the geodesic between
// them that divides it as t divides the time; fixes of one segment are preferred
// to fixes of two, and the closer pair to the wider where segments overlap.
// Otherwise a fix at most a minute away (and at most maxGap) stands for itself.
// Otherwise there is no answer: nothing is invented across a longer gap.
//
// The radius is 10 m, for the fix itself, and the way one could have gone in the
// time to the nearest fix, at the speed between the two fixes or a walking pace,
// whichever is more. Where two overlapping tracks contradict each other beyond
// both radii, it is the distance between them.
//
// O(log n) and one step for each segment that overlaps t.
func (l *Line) At(t time.Time, maxGap time.Duration) (place.Where, Sure, bool) {
	if !credible(t) || maxGap < 0 || len(l.fixes) == 0 {
		return place.Where{}, Sure{}, false
	}
	at, gap := t.UnixMicro(), maxGap.Microseconds()
	if best, rest, ok := l.covering(at, gap); ok {
		where, sure := l.between(best, at)
		own := where.Radius
		for _, other := range rest {
			p, _ := l.between(other, at)
			if apart := place.Distance(where.LatLng, p.LatLng); apart > own+p.Radius {
				where.Radius = max(where.Radius, apart)
			}
		}
		return where, sure, true
	}
	next := sort.Search(len(l.fixes), func(i int) bool { return l.fixes[i].at >= at })
	if next > 0 && next < len(l.fixes) {
		if b := (bracket{l.fixes[next-1], l.fixes[next]}); b.gap() <= gap {
			where, sure := l.between(b, at)
			return where, sure, true
		}
	}
	return l.edge(next, at, min(gap, endTolerance.Microseconds()))
}

// bracket is two fixes with a moment between them, or the same fix twice.
type bracket struct{ before, after fix }

func (b bracket) gap() int64 { return b.after.at - b.before.at }

// pace is the speed between the two, metres a second, at least that of walking.
func (b bracket) pace() float64 {
	if b.gap() == 0 {
		return walkingPace
	}
	return max(walkingPace, place.Distance(b.before.LatLng, b.after.LatLng)/(float64(b.gap())/1e6))
}

// covering finds, in every segment that runs at that time, the two fixes around
// it if they are close enough, and picks out the closest pair.
func (l *Line) covering(at, gap int64) (best bracket, rest []bracket, ok bool) {
	i := sort.Search(len(l.runs), func(i int) bool { return l.runs[i].first() > at }) - 1
	for ; i >= 0 && l.ends[i] >= at; i-- {
		r := l.runs[i]
		if r.last() < at {
			continue
		}
		next := sort.Search(len(r.fixes), func(j int) bool { return r.fixes[j].at >= at })
		b := bracket{r.fixes[next], r.fixes[next]}
		if b.after.at > at {
			b.before = r.fixes[next-1]
		}
		switch {
		case b.gap() > gap:
		case !ok:
			best, ok = b, true
		case b.gap() <= best.gap():
			best, rest = b, append(rest, best)
		default:
			rest = append(rest, b)
		}
	}
	return best, rest, ok
}

func (l *Line) between(b bracket, at int64) (place.Where, Sure) {
	share := 0.0
	if b.gap() > 0 {
		share = float64(at-b.before.at) / float64(b.gap())
	}
	sure := Sure{Source: place.FromTrack, Apart: time.Duration(b.gap()) * time.Microsecond}
	nearest := b.before
	if b.after.at-at < at-b.before.at {
		nearest = b.after
	}
	sure.From = l.files(b)
	sure.Away = time.Duration(at-nearest.at) * time.Microsecond
	return place.Where{
		LatLng: along(b.before.LatLng, b.after.LatLng, share),
		Radius: fixError + b.pace()*math.Abs(sure.Away.Seconds()),
		Source: place.FromTrack,
	}, sure
}

func (l *Line) files(b bracket) []string {
	before, after := l.runs[b.before.run].file, l.runs[b.after.run].file
	if before == after {
		return []string{before}
	}
	return []string{before, after}
}

// edge lets the nearest fix stand for itself; next is the first fix not before
// at. Its speed is that of the leg on its far side, if that is short enough to
// tell.
func (l *Line) edge(next int, at, tolerance int64) (place.Where, Sure, bool) {
	nearest, beyond := -1, -1
	if next > 0 && at-l.fixes[next-1].at <= tolerance {
		nearest, beyond = next-1, next-2
	}
	if next < len(l.fixes) && l.fixes[next].at-at <= tolerance &&
		(nearest < 0 || l.fixes[next].at-at < at-l.fixes[nearest].at) {
		nearest, beyond = next, next+1
	}
	if nearest < 0 {
		return place.Where{}, Sure{}, false
	}
	f := l.fixes[nearest]
	leg := bracket{f, f}
	if beyond >= 0 && beyond < len(l.fixes) {
		leg = bracket{l.fixes[min(nearest, beyond)], l.fixes[max(nearest, beyond)]}
		if leg.gap() > legLimit.Microseconds() || leg.before.run != leg.after.run {
			leg = bracket{f, f}
		}
	}
	away := time.Duration(at-f.at) * time.Microsecond
	return place.Where{
		LatLng: f.LatLng,
		Radius: fixError + leg.pace()*math.Abs(away.Seconds()),
		Source: place.FromTrack,
	}, Sure{From: l.files(bracket{f, f}), Source: place.FromTrack, Away: away}, true
}
