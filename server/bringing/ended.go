package bringing

import (
	"errors"
	"strings"

	"pairwall/sequence"
)

func stopped(words string, err error) error {
	return &sequence.Error{Code: sequence.Cancelled, Message: words, Hint: "Let it go on to bring in the rest.", Err: err}
}

func (b *bringer) sum() string {
	text := sequence.Counted(b.job.Read, "photo") + " brought in"
	for _, part := range []struct {
		n     int
		thing string
		words string
	}{{b.job.Known, "", "known already"}, {b.job.Refused, "", "could not be read"}, {b.others, "other file", "passed over"},
		{b.moved, "original", "found at a new place"}} {
		switch {
		case part.n > 0 && part.thing != "":
			text += ", " + sequence.Counted(part.n, part.thing) + " " + part.words
		case part.n > 0:
			text += ", " + sequence.Spelled(part.n) + " " + part.words
		}
	}
	return capital(text) + "."
}

func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// wordsOf is what the maker reads of an error that ended a job.
func wordsOf(err error) string {
	var coded *sequence.Error
	if errors.As(err, &coded) && coded.Code != sequence.Internal {
		return strings.TrimSpace(coded.Message + " " + coded.Hint)
	}
	return "Something went wrong inside Pairwall. The log says more."
}
