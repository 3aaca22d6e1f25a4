package borrowing

import (
	"fmt"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place"
	"pairwall/sequence/place/track"
)

// lender is a photo that knows place and time by itself.
type lender struct {
	sequence.Photo
	clock string
}

// FromPhone proposes the place of the photo nearest in time among those that
// know their place from their own receiver, at most wish.Gap away. wish.Offset
// is added to the borrowers' clocks, and to a lender's that is of the same
// camera; phones set their clocks by the network and are taken as right. Where
// both state their zone, moments are compared, otherwise wall clocks.
//
// Error: NotFound for a photo there is not.
func FromPhone(photos []sequence.Photo, wish Wish, revision int64) (Loan, error) {
	loan := newLoan()
	may, err := loan.borrowers(photos, wish)
	if err != nil {
		return Loan{}, err
	}
	lenders := lendersOf(photos)
	offset := time.Duration(0)
	if wish.Offset != nil {
		offset = *wish.Offset
	}
	for _, name := range clocks(may) {
		told := Clock{Camera: name, Offset: offset.String(), Words: "taken as right", Sure: wish.Offset != nil}
		if wish.Offset != nil {
			told.Words = "as you set it"
		}
		loan.Clocks = append(loan.Clocks, told)
	}
	for _, p := range may {
		wall := p.Taken.From.Add(offset)
		known := seenFrom(p, lenders, offset)
		where, sure, ok := track.FromPhone(wall, known, wish.Gap)
		if !ok {
			loan.leave(p, fmt.Sprintf("no photo that knows its place was taken within %s of %s", inMinutes(wish.Gap), wall.Format("2 January 2006, 15:04")))
			continue
		}
		where.Radius += blur(where.LatLng, lenders)
		loan.propose(p, where, wall, sure.Words())
	}
	return loan.finish("phone photos", revision), nil
}

// lendersOf picks the photos whose place comes from a receiver of their own: a
// phone's, or a camera's that has one. A place written in or beside a file is as
// good as one the maker said, for the photo itself; but nobody knows how exact
// it is, so it is not lent on either.
func lendersOf(photos []sequence.Photo) []lender {
	var found []lender
	for _, p := range photos {
		if p.Where == nil || !timed(p) || borrowed(p) {
			continue
		}
		if p.Where.Source == place.FromCamera || p.Where.Source == place.FromPhone {
			found = append(found, lender{p, clockOf(p)})
		}
	}
	return found
}

// seenFrom gives the lenders' times on the borrower's corrected clock.
func seenFrom(p sequence.Photo, lenders []lender, offset time.Duration) []track.Fix {
	own := clockOf(p)
	known := make([]track.Fix, 0, len(lenders))
	for _, from := range lenders {
		wall := from.Taken.From
		if p.Taken.Offset != nil && from.Taken.Offset != nil {
			wall = wall.Add(time.Duration(*p.Taken.Offset-*from.Taken.Offset) * time.Minute)
		}
		if from.clock == own {
			wall = wall.Add(offset)
		}
		known = append(known, track.Fix{Wall: wall, LatLng: from.Where.LatLng, From: from.Name})
	}
	return known
}

// blur is how much less a lender knows its place than the ten metres that
// track.FromPhone allows for.
func blur(at place.LatLng, lenders []lender) float64 {
	const allowed = 10
	worst := 0.0
	for _, from := range lenders {
		if from.Where.LatLng == at {
			worst = max(worst, from.Where.Radius-allowed)
		}
	}
	return worst
}

func inMinutes(d time.Duration) string {
	if d < 2*time.Minute {
		return fmt.Sprintf("%d s", d/time.Second)
	}
	return fmt.Sprintf("%d min", d/time.Minute)
}
