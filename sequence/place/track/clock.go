package track

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"
)

// AnyZone is how far a clock can be off that is right for some zone: zones in
// use reach from 12 h west to 14 h east of UTC.
const AnyZone = 26 * time.Hour

// Clock is how far a camera's clock is off and what speaks for it.
type Clock struct {
	Offset   time.Duration // add to what the camera showed to get UTC; whole seconds
	Spread   time.Duration // the offset is good to ± this, about 19 times in 20
	Used     int           // photos that know both time and place
	Within   int           // of those, how many the line explains at this offset
	Residual float64       // median metres between line and photo, of those within
}

// UTC is the moment at which the camera showed wall.
func (c Clock) UTC(wall time.Time) time.Time { return wall.Add(c.Offset) }

// Words says it for the maker: "clock 1 h 7 min ahead of UTC, give or take 4 s:
// 18 of 20 photos then lie on the track, 25 m off in the middle case".
func (c Clock) Words() string {
	against := "clock on UTC"
	switch {
	case c.Offset < 0:
		against = "clock " + exactly(c.Offset) + " ahead of UTC"
	case c.Offset > 0:
		against = "clock " + exactly(c.Offset) + " behind UTC"
	}
	return fmt.Sprintf("%s, give or take %s: %d of %d photos then lie on the track, %.0f m off in the middle case",
		against, exactly(c.Spread), c.Within, c.Used, c.Residual)
}

// How the offset is judged. All are choices of this package.
const (
	// legLimit is the longest time between two fixes over which a straight way
	// may count as evidence.
	legLimit = 5 * time.Minute
	// A longer gap is a stop when its ends lie within so many metres and it does
	// not outlast a night.
	stillWithin = 100.0
	longestStop = 24 * time.Hour
	// farthestSearch bounds the memory: 4 bytes for each second each way.
	farthestSearch = 31 * 24 * time.Hour
	// mostPhotos are tried; of more, an even choice does as well.
	mostPhotos = 500

	coarseReach = 250.0 // metres within which a photo counts at first
	finestReach = 50.0  // and at least in the end
	reachNoise  = 3.5   // reach in standard deviations
	leastNoise  = 10.0  // metres along one axis: no receiver is better

	fewest    = 3                // photos that must agree
	near      = 3 * time.Minute  // offsets nearer than this are no rivals of each other
	rivalGap  = 2.5              // by how many photos the best offset must beat its rivals
	rivalPart = 0.1              // and by what part of those that agree
	widest    = 60 * time.Second // spread beyond which a clock is not told
)

// FindClock finds what must be added to a camera's clock so that photos which
// know their place lie on the line, searching every whole second up to within on
// either side (AnyZone unless the maker knows better; at most 31 days).
//
// It maximises Σ max(0, 1 − d²/R²), d the distance between a photo and the line:
// the same as minimising the sum of squared distances cut off at R, so photos in
// wrong places cost nothing more than being wrong. That is done exactly and not
// on a grid: for each photo and leg the seconds at which the leg is within R
// follow from a quadratic, and are voted for. R is 250 m first; then 3.5 times the
// noise of those that agree, from the median of their distances (which for
// normal noise is 1.1774 standard deviations along one axis).
//
// ok is false, "cannot tell", when fewer than three photos agree, when an offset
// more than three minutes away explains as many but for 2.5 photos or a tenth
// (standing still, a loop walked twice, a way taken every day), or when the
// spread passes a minute. The spread holds every nearby second at which the
// squared distances over the noise's variance sum to less than 4 above the least
// (two standard deviations by likelihood ratio).
//
// O(photos × legs) and as many additions as seconds are voted for.
func FindClock(l *Line, known []Fix, within time.Duration) (Clock, bool) {
	within = min(within, farthestSearch).Truncate(time.Second)
	s := search{legs: l.legs(), reach: int64(within / time.Second)}
	for _, f := range known {
		if f.Valid() && credible(f.Wall) {
			s.photos = append(s.photos, sight{f.Wall.UnixMicro(), inSpace(f.LatLng)})
		}
	}
	c := Clock{Used: len(s.photos)}
	if len(s.photos) < fewest || len(s.legs) == 0 || within < 0 {
		return c, false
	}
	all := s.photos
	s.photos = thinned(all)
	best := s.vote(coarseReach)
	noise, reach := 0.0, coarseReach
	const sharpenings = 2
	for range sharpenings {
		noise = s.noise(best, reach)
		reach = min(coarseReach, max(finestReach, reachNoise*noise))
		best = s.vote(reach)
	}
	spread, sure := s.judge(best, reach, noise)
	s.photos = all
	agreeing := s.distances(best, reach)
	if len(agreeing) > 0 {
		c.Residual = agreeing[len(agreeing)/2]
	}
	c.Offset, c.Spread, c.Within = s.offset(best), spread, len(agreeing)
	return c, sure && c.Within >= fewest && spread <= widest
}

// sight is where and, by its own clock, when a photo was taken.
type sight struct {
	wall int64 // microseconds
	at   vector
}

// leg is the straight way between two fixes.
type leg struct {
	start, end int64 // microseconds
	from       vector
	perSecond  vector
}

// legs are the ways between neighbouring fixes of each segment, and from a
// segment's end to the next one's start. Many receivers write nothing while they
// stand still, and that is when people photograph: a long gap counts as a stop
// when its ends lie close together; otherwise each of its ends stands for as long
// as At lets an edge stand.
func (l *Line) legs() []leg {
	var legs []leg
	for _, r := range l.runs {
		for i := 1; i < len(r.fixes); i++ {
			legs = connect(legs, r.fixes[i-1], r.fixes[i])
		}
	}
	for i, b := range l.fixes {
		if i == 0 {
			legs = stand(legs, b, -1)
		} else if a := l.fixes[i-1]; a.run != b.run && a.at == l.runs[a.run].last() && b.at == l.runs[b.run].first() {
			legs = connect(legs, a, b)
		}
		if i == len(l.fixes)-1 {
			legs = stand(legs, b, 1)
		}
	}
	slices.SortStableFunc(legs, func(a, b leg) int { return cmp.Compare(a.start, b.start) })
	return legs
}

// connect adds the way from a to b, in pieces no longer than legLimit.
func connect(legs []leg, a, b fix) []leg {
	gap, limit := b.at-a.at, legLimit.Microseconds()
	from := inSpace(a.LatLng)
	way := inSpace(b.LatLng).minus(from)
	switch {
	case gap <= 0:
		return legs
	case gap > limit && (gap > longestStop.Microseconds() || way.length() > stillWithin):
		return stand(stand(legs, a, 1), b, -1)
	}
	speed := way.times(1e6 / float64(gap))
	for start := a.at; start < b.at; start += limit {
		here := leg{start, min(start+limit, b.at), from, speed}
		here.from = leg{start: a.at, from: from, perSecond: speed}.at(start)
		legs = append(legs, here)
	}
	return legs
}

// stand lets f last on for a minute after (side 1) or before it (side −1).
func stand(legs []leg, f fix, side int64) []leg {
	other := f.at + side*endTolerance.Microseconds()
	return append(legs, leg{start: min(f.at, other), end: max(f.at, other), from: inSpace(f.LatLng)})
}

// thinned is at most mostPhotos of them, evenly chosen.
func thinned(photos []sight) []sight {
	if len(photos) <= mostPhotos {
		return photos
	}
	few := make([]sight, mostPhotos)
	for i := range few {
		few[i] = photos[i*len(photos)/mostPhotos]
	}
	return few
}

// search holds the score of every offset; index i stands for i − reach seconds.
type search struct {
	photos []sight
	legs   []leg
	reach  int64 // seconds
	scores []float64
	own    []float64 // what the photo at hand has given so far
}

func (s *search) offset(i int) time.Duration {
	return time.Duration(int64(i)-s.reach) * time.Second
}

// vote fills in the scores and gives the best offset, of equal ones the middle
// of their first row.
func (s *search) vote(radius float64) int {
	if s.scores == nil {
		s.scores, s.own = make([]float64, 2*s.reach+1), make([]float64, 2*s.reach+1)
	}
	clear(s.scores)
	for _, p := range s.photos {
		s.voteFor(p, radius)
	}
	best, last := 0, 0
	for i, score := range s.scores {
		if score > s.scores[best] {
			best, last = i, i
		} else if score == s.scores[best] && i == last+1 {
			last = i
		}
	}
	return (best + last) / 2
}

// voteFor adds one photo's share at each second. Where legs overlap in time the
// nearest counts, not their sum: a second receiver is no second photo.
func (s *search) voteFor(p sight, radius float64) {
	type stretch struct{ from, to int64 }
	var voted []stretch
	for _, g := range s.legsFor(p) {
		from, to, ok := g.near(p, radius)
		from, to = max(from, -s.reach), min(to, s.reach)
		if !ok || from > to {
			continue
		}
		voted = append(voted, stretch{from, to})
		for offset := from; offset <= to; offset++ {
			away := g.at(p.wall + offset*1e6).minus(p.at)
			share := 1 - away.dot(away)/(radius*radius)
			if i := offset + s.reach; share > s.own[i] {
				s.scores[i] += share - s.own[i]
				s.own[i] = share
			}
		}
	}
	for _, v := range voted {
		clear(s.own[v.from+s.reach : v.to+s.reach+1])
	}
}

// legsFor are the legs that some offset could put p on.
func (s *search) legsFor(p sight) []leg {
	first := p.wall - s.reach*1e6 - legLimit.Microseconds()
	last := p.wall + s.reach*1e6
	starting := func(at int64) int {
		i, _ := slices.BinarySearchFunc(s.legs, at, func(g leg, at int64) int { return cmp.Compare(g.start, at) })
		return i
	}
	return s.legs[starting(first):starting(last+1)]
}

func (g leg) at(moment int64) vector {
	seconds := float64(moment-g.start) / 1e6
	return vector{
		g.from.x + seconds*g.perSecond.x,
		g.from.y + seconds*g.perSecond.y,
		g.from.z + seconds*g.perSecond.z,
	}
}

// near gives the first and last whole second that, added to p's clock, puts it
// on the leg within radius of where it was taken.
func (g leg) near(p sight, radius float64) (from, to int64, ok bool) {
	rel := g.from.minus(p.at)
	speed2 := g.perSecond.dot(g.perSecond)
	outside := rel.dot(rel) - radius*radius
	lasts := float64(g.end-g.start) / 1e6
	enter, leave := 0.0, lasts
	switch {
	case speed2 > 0:
		middle := -rel.dot(g.perSecond) / speed2
		half2 := middle*middle - outside/speed2
		if half2 < 0 {
			return 0, 0, false
		}
		half := math.Sqrt(half2)
		enter, leave = max(enter, middle-half), min(leave, middle+half)
	case outside > 0:
		return 0, 0, false
	}
	if enter > leave {
		return 0, 0, false
	}
	start := float64(g.start-p.wall) / 1e6
	return int64(math.Ceil(start + enter)), int64(math.Floor(start + leave)), true
}
