package sequence

import (
	"fmt"
	"slices"
)

// Do names what a step does.
type Do string

// The steps that changes are made of. Each carries what was before as well as
// what is now, so that it can be inverted without the state it was made on,
// and refused when that state was another one.
const (
	Put    Do = "put"    // Page: photo Was -> photo Now (0 is blank)
	Add    Do = "add"    // Spread enters at Index
	Remove Do = "remove" // Spread leaves from Index
	Move   Do = "move"   // the spread at Index goes to index To, counted after it was taken out
	Pin    Do = "pin"    // Spread.ID: pinned becomes On
	Across Do = "across" // Spread.ID: its left photo crosses the gutter when On
	Box    Do = "box"    // photo Now enters the box when On, leaves it otherwise
	Over   Do = "over"   // from the line of work Index to the line To
	Name   Do = "name"   // Chapter is called NowText; it begins when WasText is empty, ends when NowText is
	Join   Do = "join"   // Spread.ID: goes from chapter WasChapter to NowChapter (0 is none)
	Note   Do = "note"   // Spread.ID: its note WasText becomes NowText
)

// Step is the smallest part of a change. Which fields count depends on Do.
type Step struct {
	Do     Do      `json:"do"`
	Page   *Page   `json:"page,omitempty"`
	Was    PhotoID `json:"was,omitempty"`
	Now    PhotoID `json:"now,omitempty"`
	Index  int     `json:"index,omitempty"`
	To     int     `json:"to,omitempty"`
	Spread *Spread `json:"spread,omitempty"`
	On     bool    `json:"on,omitempty"`

	Chapter    ChapterID `json:"chapter,omitempty"`
	WasChapter ChapterID `json:"wasChapter,omitempty"`
	NowChapter ChapterID `json:"nowChapter,omitempty"`
	WasText    string    `json:"wasText,omitempty"`
	NowText    string    `json:"nowText,omitempty"`
}

// Change is one act of the maker on the wall, as a value: it applies to a
// sequence of its Revision, inverts, and composes with the change after it.
type Change struct {
	Revision int64  `json:"revision"` // of the sequence it was made on
	Act      string `json:"act"`      // what the maker did, in a few words: "pair 12 with 47"
	Steps    []Step `json:"steps"`

	// What the maker stated of photos in the same act. A sequence has no use
	// for it; the store keeps it with the photos, under the same undo.
	Says []Statement `json:"says,omitempty"`
}

// Apply returns the sequence after the change; q itself is left as it was.
//
// Errors: Stale when the change was made on another revision; Invalid when a
// step does not fit what is there or the result breaks a rule of the wall.
func (q Sequence) Apply(c Change) (Sequence, error) {
	if c.Revision != q.Revision {
		return q, &Error{Code: Stale,
			Message: fmt.Sprintf("The wall has changed since: this act was made on state %d, the wall is at %d.", c.Revision, q.Revision),
			Hint:    "Look at the wall as it is now and do it again if you still want it."}
	}
	next := q.Clone()
	for _, step := range c.Steps {
		if err := next.take(step); err != nil {
			return q, err
		}
	}
	if err := next.Check(); err != nil {
		return q, err
	}
	next.Revision++
	return next, nil
}

// take carries out one step in place. The rules of the wall are checked after
// the last step only: a swap passes through a state that breaks them.
func (q *Sequence) take(s Step) error {
	switch s.Do {
	case Put:
		return q.put(s)
	case Add:
		return q.add(s)
	case Remove:
		return q.remove(s)
	case Move:
		return q.move(s)
	case Pin, Across:
		return q.mark(s)
	case Box:
		return q.box(s)
	case Over:
		return q.over(s)
	case Name:
		return q.name(s)
	case Join:
		return q.join(s)
	case Note:
		return q.note(s)
	}
	return misfit(s, "there is no such step")
}

func (q *Sequence) put(s Step) error {
	if s.Page == nil {
		return misfit(s, "it names no page")
	}
	was, ok := q.At(*s.Page)
	if !ok {
		return misfit(s, "there is no "+s.Page.String())
	}
	if was != s.Was {
		return misfit(s, fmt.Sprintf("%s holds %d, not %d", s.Page, was, s.Was))
	}
	switch s.Page.Side {
	case Opening:
		q.Opening = s.Now
	case Closing:
		q.Closing = s.Now
	case Left:
		q.Spreads[q.Index(s.Page.Spread)].Left = s.Now
	case Right:
		q.Spreads[q.Index(s.Page.Spread)].Right = s.Now
	}
	return nil
}

func (q *Sequence) add(s Step) error {
	if s.Spread == nil || s.Index < 0 || s.Index > len(q.Spreads) {
		return misfit(s, "there is no such place between the spreads")
	}
	q.Spreads = slices.Insert(q.Spreads, s.Index, *s.Spread)
	q.Last = max(q.Last, s.Spread.ID)
	return nil
}

func (q *Sequence) remove(s Step) error {
	if s.Spread == nil || s.Index < 0 || s.Index >= len(q.Spreads) || q.Spreads[s.Index] != *s.Spread {
		return misfit(s, "the spread to take away is not as it was")
	}
	q.Spreads = slices.Delete(q.Spreads, s.Index, s.Index+1)
	return nil
}

func (q *Sequence) move(s Step) error {
	if s.Index < 0 || s.Index >= len(q.Spreads) || s.To < 0 || s.To >= len(q.Spreads) {
		return misfit(s, "there is no such place in the order")
	}
	moving := q.Spreads[s.Index]
	q.Spreads = slices.Insert(slices.Delete(q.Spreads, s.Index, s.Index+1), s.To, moving)
	return nil
}

func (q *Sequence) mark(s Step) error {
	return q.alter(s, func(spread *Spread) error {
		flag := &spread.Pinned
		if s.Do == Across {
			flag = &spread.Across
		}
		return replace(s, flag, !s.On, s.On)
	})
}

func (q *Sequence) box(s Step) error {
	i, held := slices.BinarySearch(q.Box, s.Now)
	switch {
	case s.On && held:
		return misfit(s, fmt.Sprintf("photo %d is in the box already", s.Now))
	case !s.On && !held:
		return misfit(s, fmt.Sprintf("photo %d is not in the box", s.Now))
	case s.On:
		q.Box = slices.Insert(q.Box, i, s.Now)
	default:
		q.Box = slices.Delete(q.Box, i, i+1)
	}
	return nil
}

func (q *Sequence) over(s Step) error {
	if q.Line != LineID(s.Index) || s.Index == s.To {
		return misfit(s, "the wall is on another line of work")
	}
	q.Line = LineID(s.To)
	return nil
}

func misfit(s Step, why string) error {
	return &Error{Code: Invalid, Message: fmt.Sprintf("This act does not fit the wall (%s): %s.", s.Do, why),
		Hint: "Reload the page to see the wall as it is."}
}

// Invert returns the change that takes back c: applied after c it leads to the
// sequence before it, but for the revision, which goes on counting, and Last
// and LastChapter, because a number is never given again.
func (c Change) Invert() Change {
	inverse := Change{Revision: c.Revision + 1, Act: c.Act, Steps: make([]Step, 0, len(c.Steps))}
	for _, step := range slices.Backward(c.Steps) {
		inverse.Steps = append(inverse.Steps, step.invert())
	}
	for _, said := range slices.Backward(c.Says) {
		inverse.Says = append(inverse.Says, said.invert())
	}
	return inverse
}

func (s Step) invert() Step {
	switch s.Do {
	case Put:
		s.Was, s.Now = s.Now, s.Was
	case Add:
		s.Do = Remove
	case Remove:
		s.Do = Add
	case Move, Over:
		s.Index, s.To = s.To, s.Index
	case Pin, Across, Box:
		s.On = !s.On
	case Name, Note:
		s.WasText, s.NowText = s.NowText, s.WasText
	case Join:
		s.WasChapter, s.NowChapter = s.NowChapter, s.WasChapter
	}
	return s
}

// Then composes c with the change made next into one: applied to c's sequence
// it leads where applying both would, in a single revision.
//
// Error: Stale when next was not made on the state c leads to.
func (c Change) Then(next Change) (Change, error) {
	if next.Revision != c.Revision+1 {
		return c, &Error{Code: Stale, Message: "Only changes made one after the other can be joined."}
	}
	return Change{Revision: c.Revision, Act: c.Act + ", then " + next.Act,
		Steps: append(slices.Clone(c.Steps), next.Steps...), Says: append(slices.Clone(c.Says), next.Says...)}, nil
}

// Photos lists every photo the change names, ascending: the store uses it to
// refuse a change about a photo the title does not have.
func (c Change) Photos() []PhotoID {
	seen := make(map[PhotoID]bool)
	for _, s := range c.Steps {
		for _, id := range []PhotoID{s.Was, s.Now} {
			seen[id] = true
		}
		if s.Spread != nil {
			seen[s.Spread.Left], seen[s.Spread.Right] = true, true
		}
	}
	for _, said := range c.Says {
		seen[said.Photo] = true
	}
	delete(seen, 0)
	photos := make([]PhotoID, 0, len(seen))
	for id := range seen {
		photos = append(photos, id)
	}
	slices.Sort(photos)
	return photos
}
