package borrowing

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

// Wish is what the maker wants and allows.
type Wish struct {
	Photos []sequence.PhotoID // those that shall borrow; none for all that know no place
	Gap    time.Duration      // the longest without a fix, or away from a phone's photo
	Offset *time.Duration     // what to add to the cameras' readings; nil to find it
	Fit    bool               // find cameras' clocks from photos that know place and time; without Offset only
}

// Loan is what can be borrowed.
type Loan struct {
	Clocks    []Clock         `json:"clocks"` // by camera
	Proposals []Offer         `json:"proposals"`
	Without   []Without       `json:"without"`
	Change    sequence.Change `json:"change"` // states every proposal; without statements when there is none
}

// Clock is how a camera's clock was read.
type Clock struct {
	Camera string `json:"camera"` // "" for photos that name none
	Offset string `json:"offset"` // what was added to its readings, such as "-2h0m7s"; "" when it cannot be told
	Used   int    `json:"used"`   // photos that know both place and time and spoke for it
	Words  string `json:"words"`
	Sure   bool   `json:"sure"`  // found or set, rather than taken as right
	Lends  int    `json:"lends"` // photos for whose readings a place is proposed
}

// Offer is one place to borrow.
type Offer struct {
	Photo sequence.PhotoID `json:"photo"`
	Where place.Where      `json:"where"`
	At    time.Time        `json:"at"`    // the moment it was looked up for: UTC on a track; on the phone's own clock, written as UTC, for a phone
	Words string           `json:"words"` // from what
	Sure  string           `json:"sure"`  // how sure, in words
}

// Without is a photo that can borrow nothing, and why.
type Without struct {
	Photo sequence.PhotoID `json:"photo"`
	Why   string           `json:"why"`
}

func newLoan() Loan {
	return Loan{Clocks: []Clock{}, Proposals: []Offer{}, Without: []Without{}}
}

func (l *Loan) propose(p sequence.Photo, where place.Where, at time.Time, words string) {
	for i := range l.Clocks {
		if l.Clocks[i].Camera == clockOf(p) {
			l.Clocks[i].Lends++
		}
	}
	l.Proposals = append(l.Proposals, Offer{p.Number, where, at, words, sureness(where.Radius)})
	l.Change.Says = append(l.Change.Says, sequence.Statement{Photo: p.Number, Fact: sequence.WhereFact,
		Was: p.Fact(sequence.WhereFact), Now: sequence.Value{Where: &where}})
}

func (l *Loan) leave(p sequence.Photo, why string) {
	l.Without = append(l.Without, Without{p.Number, why})
}

// finish gives the change its name once all proposals are made.
func (l *Loan) finish(source string, revision int64) Loan {
	l.Change.Revision, l.Change.Steps = revision, []sequence.Step{}
	l.Change.Act = fmt.Sprintf("borrow %s from %s", sequence.Counted(len(l.Proposals), "place"), source)
	return *l
}

// sureness says how far a position may be off.
func sureness(radius float64) string {
	const leastSaid = 15 // metres; below, DistanceWords speaks of one spot
	return "to within " + strings.TrimSuffix(place.DistanceWords(max(radius, leastSaid)), " apart")
}

// borrowers are the photos that may borrow; the others that were asked for are
// left with a reason.
//
// Error: NotFound when a photo that was asked for is not there.
func (l *Loan) borrowers(photos []sequence.Photo, wish Wish) ([]sequence.Photo, error) {
	for _, n := range wish.Photos {
		if !slices.ContainsFunc(photos, func(p sequence.Photo) bool { return p.Number == n }) {
			return nil, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("There is no photo %d.", n), Hint: "Reload the page to see what there is."}
		}
	}
	var may []sequence.Photo
	for _, p := range photos {
		asked := slices.Contains(wish.Photos, p.Number)
		switch {
		case len(wish.Photos) > 0 && !asked, !asked && p.Where != nil:
		case p.Where != nil && !borrowed(p):
			l.leave(p, "it knows its place already")
		case !p.Taken.Known():
			l.leave(p, "nobody knows when it was taken")
		case !p.Taken.CountsAsTaken():
			l.leave(p, "its date is the day it was scanned, not the day it was taken")
		case !timed(p):
			l.leave(p, "only the day it was taken is known, not the minute")
		default:
			may = append(may, p)
		}
	}
	return may, nil
}

// borrowed reports whether a photo's place was borrowed before, so that it may
// be borrowed anew. A phone's own photos state their time zone; what borrowed
// from a phone usually cannot.
func borrowed(p sequence.Photo) bool {
	switch p.Where.Source {
	case place.FromTrack:
		return true
	case place.FromPhone:
		return p.Taken.Offset == nil
	}
	return false
}

// timed reports whether the minute of taking is known.
func timed(p sequence.Photo) bool {
	return p.Taken.Precision == place.PrecisionInstant && p.Taken.CountsAsTaken()
}

// The clocks of times that nobody read off a camera. What is written in or beside
// a file counts as much as what the maker says here: a program may have copied a
// camera's clock or somebody set it right, and correcting what is right would be
// the worse mistake.
const (
	stated  = "times you stated"
	written = "times written with the files"
)

// clockOf names the clock that a photo's time was read from.
func clockOf(p sequence.Photo) string {
	switch p.Taken.Source {
	case place.FromMaker:
		return stated
	case place.FromNotes, place.FromSidecar:
		return written
	}
	return p.Camera
}

func called(clock string) string {
	switch clock {
	case "":
		return "the camera that names no model"
	case stated, written:
		return "the " + clock
	}
	return clock
}
