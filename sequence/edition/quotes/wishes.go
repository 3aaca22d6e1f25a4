package quotes

import (
	"fmt"
	"unicode/utf8"

	"pairwall/sequence"
	"pairwall/sequence/edition"
)

// Wishes are what a specification says beyond what the title knows of itself.
// What is "", 0 or empty was not said.
type Wishes struct {
	Quantities []int `json:"quantities"` // copies a price is wanted for, rising

	SelfCover bool    `json:"selfCover"` // the cover is of the text's paper and counted among its pages
	Inside    Colours `json:"inside"`
	Cover     Colours `json:"cover"`
	Stiffness string  `json:"stiffness"` // of the cover: "soft", "with flaps", "boards of 2 mm"
	Finishing string  `json:"finishing"` // "matt lamination outside", "none"

	Proof ProofWish `json:"proof"`
	Files FilesWish `json:"files"`

	Overs  edition.Decimal `json:"overs"`  // per cent more than ordered that are accepted
	Unders edition.Decimal `json:"unders"` // per cent fewer

	Packing    string    `json:"packing"`
	DeliverTo  string    `json:"deliverTo"` // place; lines of an address
	DeliverBy  Day       `json:"deliverBy"`
	ReplyBy    Day       `json:"replyBy"`
	Own        []OwnLine `json:"own"`     // the maker's own lines
	Wording    string    `json:"wording"` // of the letter, see Letter; "" is FirstWording
	SignedWith string    `json:"signedWith"`
}

// Colours are the inks on the front and the back of a sheet, as the trade writes
// them: 4/4 is process colour on both sides, 1/0 black on one.
type Colours struct {
	Front int `json:"front"`
	Back  int `json:"back"`
}

// String writes the colours as the trade does: "4/4".
func (c Colours) String() string { return fmt.Sprintf("%d/%d", c.Front, c.Back) }

// ProofWish is what is to be seen before the run.
type ProofWish struct {
	Digital bool `json:"digital"` // from a calibrated proofing printer
	Wet     bool `json:"wet"`     // from the press and on the paper of the run
	Rounds  int  `json:"rounds"`  // how many are in the price; 0 was not said
}

// FilesWish is what the printer gets. Bleed is the title's own.
type FilesWish struct {
	Kind    string `json:"kind"`    // "PDF/X-4"
	Profile string `json:"profile"` // the colour profile's name; "" as the printer asks
}

// OwnLine is a line of the maker's own.
type OwnLine struct {
	Name  string `json:"name"`
	Words string `json:"words"`
}

// FirstWishes are what is asked for before the maker has said anything. ±10 % is
// the trade's custom (University of Iowa print standards; 48 CFR 11.701).
func FirstWishes() Wishes {
	return Wishes{Quantities: []int{50, 100, 200}, Inside: Colours{4, 4}, Cover: Colours{4, 4}, Proof: ProofWish{Digital: true, Rounds: 1},
		Files: FilesWish{Kind: "PDF/X-4"}, Overs: "10", Unders: "10", Own: []OwnLine{}}
}

// Bounds that catch slips of the pen; no source.
const (
	mostQuantities = 12
	mostCopies     = 1_000_000
	mostInks       = 12
	mostOwn        = 40
	mostRounds     = 20
	longestLine    = 2_000  // runes
	longestLetter  = 20_000 // runes
)

// Tidied returns the wishes with lists where there were none, for JSON.
func (w Wishes) Tidied() Wishes {
	w.Quantities, w.Own = listed(w.Quantities), listed(w.Own)
	return w
}

func listed[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// Check refuses wishes that cannot be asked for.
//
// Error: Invalid.
func (w Wishes) Check() error {
	if err := checkQuantities(w.Quantities); err != nil {
		return err
	}
	for _, c := range []Colours{w.Inside, w.Cover} {
		if c.Front < 0 || c.Back < 0 || c.Front > mostInks || c.Back > mostInks {
			return invalid(fmt.Sprintf("%s is no number of inks.", c), "4/4 is full colour on both sides.")
		}
	}
	if w.Proof.Rounds < 0 || w.Proof.Rounds > mostRounds {
		return invalid("That is no number of proofs.", fmt.Sprintf("Say from 1 to %d; 0 leaves it open.", mostRounds))
	}
	if err := firstError(percentage(w.Overs), percentage(w.Unders), w.DeliverBy.check(), w.ReplyBy.check()); err != nil {
		return err
	}
	if len(w.Own) > mostOwn {
		return invalid("These are more lines of your own than a letter takes.", fmt.Sprintf("There can be %d.", mostOwn))
	}
	short := []string{w.Stiffness, w.Finishing, w.Files.Kind, w.Files.Profile, w.Packing, w.DeliverTo, w.SignedWith}
	for _, own := range w.Own {
		short = append(short, own.Name, own.Words)
	}
	if err := checkTexts(longestLine, short...); err != nil {
		return err
	}
	if err := checkTexts(longestLetter, w.Wording); err != nil {
		return err
	}
	return checkWording(w.Wording)
}

func checkQuantities(quantities []int) error {
	if len(quantities) == 0 || len(quantities) > mostQuantities {
		return invalid("A specification asks for a price for one quantity at least.", fmt.Sprintf("Say from 1 to %d quantities.", mostQuantities))
	}
	before := 0
	for _, n := range quantities {
		if n <= before || n > mostCopies {
			return invalid("The quantities do not rise.", fmt.Sprintf("Say them from the smallest, from 1 to %d copies.", mostCopies))
		}
		before = n
	}
	return nil
}

// percentage refuses what is no per cent from 0 to below 100.
func percentage(d edition.Decimal) error {
	if err := d.Check(); err != nil {
		return err
	}
	if r := d.Rat(); r.Sign() < 0 || r.Cmp(hundred) >= 0 {
		return invalid(fmt.Sprintf("%s %% is not possible here.", d), "Say from 0 to below 100.")
	}
	return nil
}

func checkTexts(longest int, texts ...string) error {
	for _, text := range texts {
		if !utf8.ValidString(text) {
			return invalid("A text cannot be read.", "Type it again.")
		}
		if utf8.RuneCountInString(text) > longest {
			return &sequence.Error{Code: sequence.TooLarge, Message: fmt.Sprintf("A text is longer than %d letters.", longest), Hint: "Shorten it."}
		}
	}
	return nil
}

func invalid(message, hint string) error {
	return &sequence.Error{Code: sequence.Invalid, Message: message, Hint: hint}
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
