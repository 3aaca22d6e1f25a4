package proof

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"pairwall/sequence"
)

// Round is one round of proofs: what was sent, what came, and what was decided.
type Round struct {
	Date    string  `json:"date"`    // the day it came, 2006-01-02
	Printer string  `json:"printer"` // who made it, by name
	Kind    string  `json:"kind"`    // "digital" or "wet"; "" while not said
	Sent    Sent    `json:"sent"`
	Came    string  `json:"came"`    // what came, in the maker's words
	Verdict Verdict `json:"verdict"` // "" while undecided
	Changes string  `json:"changes"` // what is to be changed, in the maker's words
	Looks   []Look  `json:"looks"`   // the check list, as far as it was gone through
}

// From tells whether a printer of that name made the round; letters and spaces
// may be written otherwise.
func (r Round) From(name string) bool {
	plain := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	return plain(name) != "" && strings.EqualFold(plain(r.Printer), plain(name))
}

// Sent is what the printer was sent.
type Sent struct {
	File    string             `json:"file"`    // its name; "" while not said
	Hash    string             `json:"hash"`    // SHA-256 of the file in hexadecimal digits; "" while not said
	Version sequence.VersionID `json:"version"` // of the sequence behind it; 0 while not said
}

// Verdict is what was decided on a round.
type Verdict string

// The verdicts.
const (
	Undecided   Verdict = ""
	Again       Verdict = "again"           // another proof
	Go          Verdict = "go"              // print
	WithChanges Verdict = "go with changes" // print, once these are made
)

// Look is one item of the check list as it was answered.
type Look struct {
	Item string `json:"item"` // the name of a Question
	Seen string `json:"seen"` // "good", "not good", or "" for not yet looked at
	Note string `json:"note"`
}

// Question is one thing to look at on a proof, in plain words.
type Question struct {
	Name string `json:"name"`
	Ask  string `json:"ask"`
	How  string `json:"how"`
}

// Questions is the check list. Light and its strength are those of ISO 3664 (see the
// table of sources); ±1 mm of fold is Headley, designing for print; the rest is
// common practice.
var Questions = []Question{
	{"light", "Is the light good?", "D50 light, the same from everywhere, on a grey or white table. About 500 lx to see how it will look in a room, 2,000 lx to find faults (ISO 3664). Not beside a window, not under a lamp at home."},
	{"wait", "Has it dried, and have your eyes rested?", "A wet proof changes for some hours. Look at something grey for a minute first."},
	{"trim", "Is it cut where it should be?", "Measure width and height. Hold the pages together: pictures over the edge must have no white line, margins must be alike on every page."},
	{"fold", "Is the fold where it should be?", "It may be off by a millimetre. Look at pictures across the gutter and at the middle of the sheet."},
	{"registration", "Do the inks lie on each other?", "Look with a magnifier at fine dark lines and at the edges of pictures: no coloured fringes."},
	{"gutter", "Is anything lost in the gutter?", "Open it as a reader will, not flatter. Faces and what matters must stay in sight."},
	{"staples", "Do the staples sit well?", "On the fold, closed, not through a picture, the ends not sharp. Glued: does any page come loose when it is opened wide?"},
	{"cover", "Is the cover straight?", "The spine's words in the middle of the spine, front and back not askew, the fold not cracked."},
	{"pages", "Are all pages there, in order, the right way up?", "Count them against the sequence; look at page numbers and captions."},
	{"ground", "Are even grounds even?", "Skies and shadows without stripes, spots, or the picture behind shining through."},
}

var (
	hashForm = regexp.MustCompile(`^[0-9a-f]{64}$`)
	kinds    = []string{"", "digital", "wet"}
	verdicts = []Verdict{Undecided, Again, Go, WithChanges}
	answers  = []string{"", "good", "not good"}
)

const longestWords = 4000 // runes

// Check returns an Invalid error for a round that makes no sense.
func (r Round) Check() error {
	refuse := func(message, hint string) error {
		return &sequence.Error{Code: sequence.Invalid, Message: message, Hint: hint}
	}
	if _, err := time.Parse(time.DateOnly, r.Date); err != nil {
		return refuse(fmt.Sprintf("%q is no day.", r.Date), "Write it as 2026-05-31.")
	}
	switch {
	case !slices.Contains(kinds, r.Kind):
		return refuse(fmt.Sprintf("%q is no kind of proof.", r.Kind), "Say digital or wet.")
	case !slices.Contains(verdicts, r.Verdict):
		return refuse(fmt.Sprintf("%q is no verdict on a proof.", r.Verdict), "Say again, go, or go with changes.")
	case r.Sent.Hash != "" && !hashForm.MatchString(r.Sent.Hash):
		return refuse("This is no SHA-256 of a file.", "It has 64 hexadecimal digits.")
	}
	for _, text := range []string{r.Printer, r.Came, r.Changes, r.Sent.File} {
		if !utf8.ValidString(text) || utf8.RuneCountInString(text) > longestWords {
			return refuse("These words are too long.", fmt.Sprintf("Keep each below %d letters.", longestWords))
		}
	}
	seen := map[string]bool{}
	for _, l := range r.Looks {
		known := slices.ContainsFunc(Questions, func(i Question) bool { return i.Name == l.Item })
		if !known || seen[l.Item] || !slices.Contains(answers, l.Seen) || utf8.RuneCountInString(l.Note) > longestWords {
			return refuse(fmt.Sprintf("%q cannot be answered so on the check list.", l.Item), "")
		}
		seen[l.Item] = true
	}
	return nil
}
