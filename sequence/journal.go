package sequence

import "time"

// Way tells how an entry came into the journal.
type Way string

// An entry is an act of the maker's, the taking back of one, or the doing
// again of what was taken back.
const (
	Act  Way = "act"
	Undo Way = "undo"
	Redo Way = "redo"
)

// Entry is one line of a title's journal. Entries are only ever appended; an
// undo is an entry of its own. UndoNext and RedoNext thread the two stacks
// through the journal, so that undoing has no limit and survives a restart
// without anything being kept beside it.
type Entry struct {
	Revision int64     `json:"revision"` // of the sequence after the change
	Way      Way       `json:"way"`
	Of       int64     `json:"of,omitempty"` // undo, redo: the entry taken back
	UndoNext int64     `json:"undoNext"`     // the entry that undo would take back now; 0 for none
	RedoNext int64     `json:"redoNext"`     // the entry that redo would take back now; 0 for none
	At       time.Time `json:"at"`
	From     string    `json:"from"` // which window made it
	Change   Change    `json:"change"`
}

// NextAct returns the entry for a new act after the entry last (the zero Entry
// when the journal is empty). It ends any redoing.
func NextAct(last Entry, c Change) Entry {
	revision := last.Revision + 1
	return Entry{Revision: revision, Way: Act, UndoNext: revision, Change: c}
}

// NextUndo returns the entry that takes back target, which must be the entry
// last.UndoNext names; before is the entry just before target, the zero Entry
// if target is the first.
//
// Errors: NotFound when there is nothing to take back.
func NextUndo(last, target, before Entry) (Entry, error) {
	if last.UndoNext == 0 || target.Revision != last.UndoNext {
		return Entry{}, &Error{Code: NotFound, Message: "There is nothing to undo."}
	}
	revision := last.Revision + 1
	return Entry{Revision: revision, Way: Undo, Of: target.Revision,
		UndoNext: before.UndoNext, RedoNext: revision, Change: target.Change.takenBack(last.Revision)}, nil
}

// NextRedo returns the entry that does again what target, the undo that
// last.RedoNext names, took back; before is the entry just before target.
//
// Errors: NotFound when there is nothing to do again.
func NextRedo(last, target, before Entry) (Entry, error) {
	if last.RedoNext == 0 || target.Revision != last.RedoNext {
		return Entry{}, &Error{Code: NotFound, Message: "There is nothing to do again."}
	}
	revision := last.Revision + 1
	return Entry{Revision: revision, Way: Redo, Of: target.Revision,
		UndoNext: revision, RedoNext: before.RedoNext, Change: target.Change.takenBack(last.Revision)}, nil
}

// NextAside returns two entries that follow on each other: one leads to another
// state, the other back at once. What could be undone and done again before can
// be so after, as if nothing had happened, but the journal has been there.
func NextAside(last Entry, c Change) (there, back Entry) {
	there = NextAct(last, c)
	back = Entry{Revision: there.Revision + 1, Way: Undo, Of: there.Revision,
		UndoNext: last.UndoNext, RedoNext: last.RedoNext, Change: c.takenBack(there.Revision)}
	return there, back
}

// takenBack is the inverse, made on the revision the journal has reached: what
// lies between has been undone itself, so the state is the one c led to.
func (c Change) takenBack(revision int64) Change {
	inverse := c.Invert()
	inverse.Revision = revision
	return inverse
}

// SittingPause is how long nothing must happen for a sitting to be over. No
// source: long enough for a meal, shorter than a day's gap between two looks
// at the wall.
const SittingPause = 30 * time.Minute

// SittingOver reports whether a sitting whose last change was made at last is
// over at now.
func SittingOver(last, now time.Time) bool {
	return !last.IsZero() && now.Sub(last) >= SittingPause
}
