package sequence

import "fmt"

// Replay leads through a journal, the first entry first, and tells each of the
// state after it. The sequence told is worked on in place: clone it to keep it.
// Time O(n) in the entries' steps and the spreads they move past; the rules of
// the wall, which every entry was held to when it was made, are not checked
// again.
//
// Error: Damaged when an entry does not fit the state before it.
func Replay(entries []Entry, each func(Entry, *Sequence)) error {
	q := Sequence{}.Clone()
	for _, e := range entries {
		for _, step := range e.Change.Steps {
			if err := q.take(step); err != nil {
				return &Error{Code: Damaged, Message: fmt.Sprintf("The journal does not fit together at entry %d.", e.Revision),
					Hint: "Put the last copy from the backups in the data file's place.", Err: err}
			}
		}
		q.Revision = e.Revision
		each(e, &q)
	}
	return nil
}
