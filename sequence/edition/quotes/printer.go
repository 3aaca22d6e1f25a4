package quotes

import (
	"fmt"
	"strings"
)

// Printer is somebody who prints, and may be asked.
type Printer struct {
	Name    string   `json:"name"`
	Contact string   `json:"contact"` // address, telephone, whom to speak to
	Note    string   `json:"note"`
	Asked   []Asking `json:"asked"` // the earliest first
}

// Asking is one time a printer was asked.
type Asking struct {
	Day      Day    `json:"day"`
	Letter   string `json:"letter"`   // as it was sent; what is asked for may have changed since
	Answered Day    `json:"answered"` // "" while no answer came
	Answer   string `json:"answer"`   // in a word: "quote follows", "too busy until May"
}

const (
	longestName = 200 // runes
	mostAsked   = 40
)

// Tidied returns the printer with a list where there was none, for JSON.
func (p Printer) Tidied() Printer {
	p.Asked = listed(p.Asked)
	return p
}

// Check refuses a printer without a name, and answers that came before the
// question.
//
// Errors: Invalid; TooLarge for a text beyond its bound.
func (p Printer) Check() error {
	if strings.TrimSpace(p.Name) == "" {
		return invalid("A printer needs a name.", "Say whom you ask.")
	}
	if len(p.Asked) > mostAsked {
		return invalid("Nobody is asked so often.", fmt.Sprintf("There can be %d askings.", mostAsked))
	}
	if err := firstError(checkTexts(longestName, p.Name), checkTexts(longestLine, p.Contact), checkTexts(longestLetter, p.Note)); err != nil {
		return err
	}
	for _, a := range p.Asked {
		if a.Day == "" {
			return invalid("When the printer was asked is not said.", "Give the day.")
		}
		if a.Answered != "" && a.Answered < a.Day {
			return invalid("The answer came before the question.", "See to the two days.")
		}
		if err := firstError(a.Day.check(), a.Answered.check(), checkTexts(2*longestLetter, a.Letter), checkTexts(longestLine, a.Answer)); err != nil {
			return err
		}
	}
	return nil
}
