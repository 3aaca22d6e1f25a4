package server

import (
	"fmt"
	"net/http"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/borrowing"
	"pairwall/sequence/place/track"
)

// lenderKind is who lends places.
type lenderKind string

const (
	fromTracks lenderKind = "tracks"
	fromPhone  lenderKind = "phone"
)

// borrowingAsked leaves to the maker what only the maker can judge. Durations
// are written like "30m" and "-2h0m7s".
type borrowingAsked struct {
	From   lenderKind         `json:"from"`
	Photos []sequence.PhotoID `json:"photos,omitempty"` // who shall borrow; every photo without a place when left out
	Gap    string             `json:"gap,omitempty"`    // the longest time without a fix, or from a phone's photo; 10m on tracks and 1h from a phone when left out
	Offset string             `json:"offset,omitempty"` // what to add to the cameras' clocks; found by itself when left out
	Fit    *bool              `json:"fit,omitempty"`    // false: do not look for the clocks' offsets
}

// Gaps when the maker does not say. On a track ten minutes are a tunnel or a
// coffee; a phone's photo of the same hour is still of the same neighbourhood.
const (
	trackGap = 10 * time.Minute
	phoneGap = time.Hour
	mostGap  = 24 * time.Hour
	mostOff  = 31 * 24 * time.Hour // a clock set to another month is not off, it is not set
)

// borrow proposes places; it is the page that makes the proposal's change, or
// does not.
func (s *Server) borrow(r *http.Request, in borrowingAsked) (borrowing.Loan, error) {
	title, err := s.title(r)
	if err != nil {
		return borrowing.Loan{}, err
	}
	wish, err := in.wish()
	if err != nil {
		return borrowing.Loan{}, err
	}
	wall, err := s.store.Wall(r.Context(), title.ID)
	if err != nil {
		return borrowing.Loan{}, err
	}
	photos, err := s.store.Photos(r.Context(), title.ID)
	if err != nil {
		return borrowing.Loan{}, err
	}
	if in.From == fromPhone {
		return borrowing.FromPhone(photos, wish, wall.Sequence.Revision)
	}
	ways, err := s.store.Ways(r.Context(), title.ID)
	if err != nil {
		return borrowing.Loan{}, err
	}
	return borrowing.FromTracks(photos, track.Join(ways), wish, wall.Sequence.Revision)
}

func (in borrowingAsked) wish() (borrowing.Wish, error) {
	wish := borrowing.Wish{Photos: in.Photos, Gap: trackGap, Fit: in.Fit == nil || *in.Fit}
	switch in.From {
	case fromTracks:
	case fromPhone:
		wish.Gap = phoneGap
	default:
		return wish, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("Places can be borrowed from %q or %q.", fromTracks, fromPhone)}
	}
	if in.Gap != "" {
		gap, err := time.ParseDuration(in.Gap)
		if err != nil || gap < 0 || gap > mostGap {
			return wish, &sequence.Error{Code: sequence.Invalid, Message: "A gap is a time such as 30m, and at most a day.", Err: err}
		}
		wish.Gap = gap
	}
	if in.Offset != "" {
		offset, err := time.ParseDuration(in.Offset)
		if err != nil || offset.Abs() > mostOff {
			return wish, &sequence.Error{Code: sequence.Invalid, Message: "A clock's offset is a time such as -2h0m7s, and at most a month.", Err: err}
		}
		wish.Offset = &offset
	}
	return wish, nil
}
