package track

import (
	"math"
	"time"

	"pairwall/sequence/place"
)

// Fix is a photograph that knows both when and where it was taken. Wall is what
// its camera's clock showed, written as UTC whatever the zone; From is its file's
// name, which may be "".
type Fix struct {
	Wall time.Time
	place.LatLng
	From string
}

// FromPhone borrows the position of the phone photo taken nearest in time, if
// that is at most within away; of two equally near, the earlier. wall and the
// phone's readings must be of one clock: add a Clock's Offset first where the
// camera's is off.
//
// No position is made up between two photos: people go round, not straight. The
// radius is 10 m, for the phone itself, and the way one could have gone in the
// time between, at a walking pace, or at the speed between that photo and the
// nearest on the other side of wall, where there is one within reach and it is
// faster. O(n).
func FromPhone(wall time.Time, phone []Fix, within time.Duration) (place.Where, Sure, bool) {
	var before, after *Fix
	for i := range phone {
		f := &phone[i]
		switch {
		case !f.Valid() || wall.Sub(f.Wall).Abs() > within:
		case !f.Wall.After(wall):
			if before == nil || f.Wall.After(before.Wall) {
				before = f
			}
		case after == nil || f.Wall.Before(after.Wall):
			after = f
		}
	}
	nearest, other := before, after
	if before == nil || after != nil && after.Wall.Sub(wall) < wall.Sub(before.Wall) {
		nearest, other = after, before
	}
	if nearest == nil {
		return place.Where{}, Sure{}, false
	}
	away, pace := wall.Sub(nearest.Wall), walkingPace
	if other != nil {
		apart := nearest.Wall.Sub(other.Wall).Abs().Seconds()
		pace = max(pace, place.Distance(nearest.LatLng, other.LatLng)/apart)
	}
	return place.Where{
		LatLng: nearest.LatLng,
		Radius: fixError + pace*math.Abs(away.Seconds()),
		Source: place.FromPhone,
	}, Sure{Source: place.FromPhone, From: []string{nearest.From}, Away: away}, true
}
