package history

import (
	"fmt"
	"time"

	"pairwall/sequence"
)

// Keep says how many of the versions kept by themselves stay when they are
// thinned out.
type Keep string

// The last of each day, the last of each week (from Monday), or none.
const (
	ADay  Keep = "day"
	AWeek Keep = "week"
	None  Keep = "none"
)

// Rule says which versions may be thinned out.
type Rule struct {
	Keep  Keep
	Older int // whole days that a version must be old, 0 or more
}

// Thin lists those of versions that a rule lets go. Only a version that the
// program kept by itself and the maker said nothing of can go: one with a name,
// a reason or a slip stays, and so do the last version of every line of work
// and those that a line was begun with. Days and weeks are those of now's time
// zone.
//
// Error: Invalid when the rule makes no sense.
func Thin(versions []sequence.Version, lines []sequence.Line, rule Rule, now time.Time) ([]sequence.Version, error) {
	bucket, err := rule.bucket(now.Location())
	if err != nil {
		return nil, err
	}
	type stretch struct {
		line sequence.LineID
		of   string
	}
	lastOf := make(map[sequence.LineID]int64)
	lastIn := make(map[stretch]int64)
	for _, v := range versions {
		line, revision := v.Line(), v.Sequence.Revision
		lastOf[line] = max(lastOf[line], revision)
		in := stretch{line, bucket(v.At)}
		lastIn[in] = max(lastIn[in], revision)
	}
	roots := make(map[int64]bool)
	for _, l := range lines {
		roots[rootOf(versions, l)] = true
	}
	spare := []sequence.Version{}
	for _, v := range versions {
		line, revision := v.Line(), v.Sequence.Revision
		spoken := v.Named || v.Why != "" || v.Slip
		young := now.Sub(v.At) < time.Duration(rule.Older)*24*time.Hour
		kept := rule.Keep != None && lastIn[stretch{line, bucket(v.At)}] == revision
		if !spoken && !young && !kept && lastOf[line] != revision && !roots[revision] {
			spare = append(spare, v)
		}
	}
	return spare, nil
}

// rootOf is the revision of the version that shows the wall a line was begun
// with; 0 for none.
func rootOf(versions []sequence.Version, l sequence.Line) (revision int64) {
	for _, v := range versions {
		if v.Line() == l.From && v.Sequence.Revision <= l.Root {
			revision = max(revision, v.Sequence.Revision)
		}
	}
	return revision
}

// bucket names the stretch of time that a moment lies in.
func (r Rule) bucket(zone *time.Location) (func(time.Time) string, error) {
	if r.Older < 0 || r.Older > 36500 { // a century: more would overflow
		return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("Versions cannot be %d days old.", r.Older)}
	}
	switch r.Keep {
	case ADay:
		return func(t time.Time) string { return t.In(zone).Format(time.DateOnly) }, nil
	case AWeek:
		return func(t time.Time) string {
			year, week := t.In(zone).ISOWeek()
			return fmt.Sprint(year, " ", week)
		}, nil
	case None:
		return func(time.Time) string { return "" }, nil
	}
	return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q does not say how many versions to keep.", r.Keep),
		Hint: "Keep the last of each day, of each week, or none."}
}
