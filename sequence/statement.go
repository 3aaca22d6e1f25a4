package sequence

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"pairwall/sequence/place"
)

// Fact names something the maker can state of a photo, over what its file says.
type Fact string

// The facts that can be stated. Which field of a Value counts depends on them.
const (
	TakenFact   Fact = "taken"   // Value.Taken; nil for unknown
	WhereFact   Fact = "where"   // Value.Where; nil for unknown
	RollFact    Fact = "roll"    // Value.Text
	FrameFact   Fact = "frame"   // Value.Text
	CaptionFact Fact = "caption" // Value.Text
	FeelingFact Fact = "feeling" // Value.Words: the maker's own tags, ascending, none twice
	GazeFact    Fact = "gaze"    // Value.Gaze; nil for no mark
	NoteFact    Fact = "note"    // Value.Text: for the maker alone, never printed
)

// Facts lists the facts that can be stated.
var Facts = []Fact{TakenFact, WhereFact, RollFact, FrameFact, CaptionFact, FeelingFact, GazeFact, NoteFact}

// Limits on what the maker types: a caption of five hundred characters is long
// and must fit, a book in a caption must not.
const (
	longestText  = 2000 // runes
	longestWord  = 60   // runes of one tag
	mostFeelings = 50   // tags on one photo
)

// Value is what is stated of one fact; the zero Value states that nothing is
// known.
type Value struct {
	Taken *place.When  `json:"taken,omitempty"`
	Where *place.Where `json:"where,omitempty"`
	Text  string       `json:"text,omitempty"`
	Words []string     `json:"words,omitempty"`
	Gaze  *Gaze        `json:"gaze,omitempty"`
}

// Statement is part of a change: one fact of one photo, as it was and as it is
// stated now. It is no part of the sequence: bringing back an earlier version
// of the wall does not make a photo forget its date.
type Statement struct {
	Photo PhotoID `json:"photo"`
	Fact  Fact    `json:"fact"`
	Was   Value   `json:"was"`
	Now   Value   `json:"now"`
}

// Fact returns what is held of the photo.
func (p Photo) Fact(f Fact) Value {
	switch f {
	case TakenFact:
		if !p.Taken.Known() {
			return Value{}
		}
		taken := p.Taken
		return Value{Taken: &taken}
	case WhereFact:
		return Value{Where: p.Where}
	case RollFact:
		return Value{Text: p.Roll}
	case FrameFact:
		return Value{Text: p.Frame}
	case CaptionFact:
		return Value{Text: p.Caption}
	case NoteFact:
		return Value{Text: p.Note}
	case FeelingFact:
		return Value{Words: p.Feeling}
	case GazeFact:
		return Value{Gaze: p.Gaze}
	}
	return Value{}
}

// State returns the photo as the statement has it.
//
// Errors: Invalid when there is no such fact, when the value cannot be, or when
// the photo's fact was not as the statement says.
func (p Photo) State(s Statement) (Photo, error) {
	if !slices.Contains(Facts, s.Fact) {
		return p, &Error{Code: Invalid, Message: fmt.Sprintf("There is nothing called %q to state of a photo.", s.Fact)}
	}
	if !p.Fact(s.Fact).equal(s.Was) {
		return p, &Error{Code: Invalid, Message: fmt.Sprintf("The %s of photo %d is not what it was when this was stated.", s.Fact, p.Number),
			Hint: "Look at it as it is now and state it again if you still want to."}
	}
	if err := s.Now.check(s.Fact); err != nil {
		return p, err
	}
	switch s.Fact {
	case TakenFact:
		p.Taken = place.When{}
		if s.Now.Taken != nil {
			p.Taken = *s.Now.Taken
		}
	case WhereFact:
		p.Where = s.Now.Where
	case RollFact:
		p.Roll = s.Now.Text
	case FrameFact:
		p.Frame = s.Now.Text
	case CaptionFact:
		p.Caption = s.Now.Text
	case NoteFact:
		p.Note = s.Now.Text
	case FeelingFact:
		p.Feeling = s.Now.Words
	case GazeFact:
		p.Gaze = s.Now.Gaze
	}
	return p, nil
}

// equal compares as written: times that mean the same may differ in memory. A
// Value that cannot be written equals nothing.
func (v Value) equal(w Value) bool {
	one, err := json.Marshal(v)
	if err != nil {
		return false
	}
	other, err := json.Marshal(w)
	return err == nil && bytes.Equal(one, other)
}

// check returns an Invalid error for a value that the fact cannot have.
func (v Value) check(f Fact) error {
	only := Value{} // what of v the fact has a use for
	switch f {
	case TakenFact:
		only.Taken = v.Taken
	case WhereFact:
		only.Where = v.Where
	case FeelingFact:
		only.Words = v.Words
	case GazeFact:
		only.Gaze = v.Gaze
	default:
		only.Text = v.Text
	}
	if !only.equal(v) {
		return &Error{Code: Invalid, Message: fmt.Sprintf("A photo's %s cannot be that.", f)}
	}
	if v.Taken != nil && !v.Taken.Known() {
		return &Error{Code: Invalid, Message: "To say that a date is unknown, state none."}
	}
	if v.Where != nil && (!v.Where.Valid() || !(v.Where.Radius >= 0)) {
		return &Error{Code: Invalid, Message: "There is no such place on the globe."}
	}
	if v.Gaze != nil && !v.Gaze.Valid() {
		return &Error{Code: Invalid, Message: "The mark of a gaze must lie on the picture and look left, right, out or nowhere."}
	}
	if len([]rune(v.Text)) > longestText {
		return &Error{Code: Invalid, Message: fmt.Sprintf("That is longer than %d characters.", longestText), Hint: "Shorten it."}
	}
	return checkFeelings(v.Words)
}

func checkFeelings(words []string) error {
	if len(words) > mostFeelings {
		return &Error{Code: Invalid, Message: fmt.Sprintf("More than %d words on one photo say nothing any more.", mostFeelings)}
	}
	for i, w := range words {
		if w != strings.TrimSpace(w) || w == "" || len([]rune(w)) > longestWord {
			return &Error{Code: Invalid, Message: fmt.Sprintf("%q cannot be a word for a feeling.", w), Hint: fmt.Sprintf("Use one to %d characters.", longestWord)}
		}
		if i > 0 && words[i-1] >= w {
			return &Error{Code: Invalid, Message: "The words for a feeling must be in order, each once."}
		}
	}
	return nil
}

func (s Statement) invert() Statement {
	s.Was, s.Now = s.Now, s.Was
	return s
}
