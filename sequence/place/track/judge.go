package track

import (
	"math"
	"slices"
	"time"
)

// distances are those within radius between photos and line at offset i, sorted.
func (s *search) distances(i int, radius float64) []float64 {
	offset := (int64(i) - s.reach) * 1e6
	var all []float64
	for _, p := range s.photos {
		least := math.Inf(1)
		for _, g := range s.legsAt(p.wall + offset) {
			if at := p.wall + offset; g.start <= at && at <= g.end {
				least = min(least, g.at(at).minus(p.at).length())
			}
		}
		if least < radius {
			all = append(all, least)
		}
	}
	slices.Sort(all)
	return all
}

// legsAt are the legs that can run at that moment.
func (s *search) legsAt(moment int64) []leg {
	moved := search{legs: s.legs}
	return moved.legsFor(sight{wall: moment})
}

// noise is the standard deviation along one axis, in metres, of those photos
// that agree with offset i. The median of a length whose two parts are normal is
// √(2 ln 2) = 1.1774 of theirs.
func (s *search) noise(i int, radius float64) float64 {
	agreeing := s.distances(i, radius)
	if len(agreeing) == 0 {
		return leastNoise
	}
	return max(leastNoise, agreeing[len(agreeing)/2]/math.Sqrt(2*math.Ln2))
}

// judge gives the spread of the best offset, and whether it stands alone.
func (s *search) judge(best int, radius, noise float64) (spread time.Duration, alone bool) {
	peak := s.scores[best]
	seconds := int(near / time.Second)
	// 4 in units of the variance, in units of the score.
	level := peak - 4*(noise/radius)*(noise/radius)
	needed := max(rivalGap, rivalPart*peak)
	alone = true
	farthest := 1
	for i, score := range s.scores {
		away := max(i-best, best-i)
		switch {
		case away > seconds:
			alone = alone && peak-score >= needed
		case score > level:
			farthest = max(farthest, away)
		}
	}
	return time.Duration(farthest) * time.Second, alone
}
