package history

import (
	"time"

	"pairwall/sequence"
)

// Stand is how a line of work stood at the end of a sitting, or when it was
// left for another line within one; of several in one sitting the last counts.
// A sitting that is not over yet stands as its last change left it.
type Stand struct {
	Sitting  int       // counted from 0 over all lines of the title
	At       time.Time // of the last change on the line in that sitting
	Sequence sequence.Sequence
}

// Stands replays a journal and lists, for each line of work, its stands, the
// earliest first.
//
// Error: Damaged when the journal does not fit together.
func Stands(entries []sequence.Entry) (map[sequence.LineID][]Stand, error) {
	stands := make(map[sequence.LineID][]Stand)
	sitting := 0
	stand := func(at time.Time, q sequence.Sequence) {
		list := stands[q.Line]
		if n := len(list); n > 0 && list[n-1].Sitting == sitting {
			list = list[:n-1]
		}
		stands[q.Line] = append(list, Stand{sitting, at, q.Clone()})
	}
	err := around(entries, func(e sequence.Entry, last bool, before, after *sequence.Sequence) {
		if before != nil {
			stand(e.At, *before)
		}
		if last {
			stand(e.At, *after)
			sitting++
		}
	})
	return stands, err
}

// around replays a journal. last tells that the entry is the last of its
// sitting; before is the state before an entry that goes over to another line,
// with the time of the entry, and nil for all others.
func around(entries []sequence.Entry, each func(e sequence.Entry, last bool, before, after *sequence.Sequence)) error {
	var left *sequence.Sequence
	i := 0
	return sequence.Replay(entries, func(e sequence.Entry, q *sequence.Sequence) {
		next := i + 1
		last := next == len(entries) || sequence.SittingOver(e.At, entries[next].At)
		each(e, last, left, q)
		left = nil
		if !last && entries[next].Change.GoesOver() {
			kept := q.Clone()
			left = &kept
		}
		i = next
	})
}

// Of lists the stands of one line of work with those of the lines it comes
// from, as far as the states that were gone on with.
func Of(stands map[sequence.LineID][]Stand, lines []sequence.Line, line sequence.LineID) []Stand {
	for _, l := range lines {
		if l.ID != line || l.Root == 0 || l.From >= line { // lines are counted up: a line comes from one before it
			continue
		}
		var before []Stand
		for _, s := range Of(stands, lines, l.From) {
			if s.Sequence.Revision <= l.Root {
				before = append(before, s)
			}
		}
		return append(before, stands[line]...)
	}
	return stands[line]
}

// Ends lists the state at the end of every sitting that is over at now, and
// every state that a line was left with, but for those that show the wall as
// the one before on their line does: what is kept as a version by itself.
//
// Error: Damaged when the journal does not fit together.
func Ends(entries []sequence.Entry, now time.Time) ([]sequence.Version, error) {
	var ends []sequence.Version
	last := make(map[sequence.LineID]sequence.Sequence)
	keep := func(at time.Time, q sequence.Sequence) {
		if before, seen := last[q.Line]; !seen || !before.Alike(q) {
			last[q.Line] = q
			ends = append(ends, sequence.Version{At: at, Sequence: q})
		}
	}
	var before time.Time
	err := around(entries, func(e sequence.Entry, last bool, left, after *sequence.Sequence) {
		if left != nil {
			keep(before, *left)
		}
		before = e.At
		if last && sequence.SittingOver(e.At, now) {
			keep(e.At, after.Clone())
		}
	})
	return ends, err
}
