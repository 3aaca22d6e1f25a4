package sequence

import "time"

// LineID names a line of work within its title; 0 is the one every title begins
// with.
type LineID int

// Line is a line of work: a wall that is gone on with beside others of the same
// title. The wall is always on one of them; each keeps its last state as a
// version while the maker is on another. Journal and undo are the title's and
// run through all its lines, so that going over is a change like any other.
type Line struct {
	ID    LineID    `json:"id"`
	Name  string    `json:"name"`
	Began time.Time `json:"began"`
	From  LineID    `json:"from"` // the line it was begun from
	Root  int64     `json:"root"` // the revision of the state it was begun with; 0 for the first line
}

// FirstLine is what the line is called that every title begins with, until the
// maker gives it another name.
const FirstLine = "First line"

// GoOver returns the change that leads from a sequence on one line of work to a
// state on another line.
//
// Errors: Invalid when to breaks a rule of the wall or the wall is on that line
// already.
func GoOver(from, to Sequence, line LineID, act string) (Change, error) {
	if from.Line == line {
		return Change{}, &Error{Code: Invalid, Message: "The wall is on this line of work already."}
	}
	change, err := Between(from, to, act)
	if err != nil {
		return Change{}, err
	}
	change.Steps = append(change.Steps, Step{Do: Over, Index: int(from.Line), To: int(line)})
	return change, nil
}

// GoesOver reports whether a change leads to another line of work.
func (c Change) GoesOver() bool {
	for _, s := range c.Steps {
		if s.Do == Over {
			return true
		}
	}
	return false
}
