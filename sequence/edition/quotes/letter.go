package quotes

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// FirstWording is the letter before the maker has put it into other words.
const FirstWording = `Dear {printer},

Please give me a price for the title below, one for each quantity.

{lines}

Please say in your quote what is not included, how long it holds, whether tax is in it, and how you count overs and unders. If another paper would serve as well or better, I am glad to hear of it.

With kind regards,
{signature}`

// Unsaid stands in a letter for what was not said yet.
const Unsaid = "to be agreed"

var placeholder = regexp.MustCompile(`\{[^{}\n]*\}`)

// figures are placeholders that stand for a bare figure, for letters in other
// languages; beside them every line's key stands for its words.
func (s Specification) figures() map[string]string {
	f := s.Facts.Format
	return map[string]string{
		"page-count": strconv.Itoa(s.Facts.Pages), "blank-count": strconv.Itoa(s.Facts.Blank), "size": f.Measures(),
		"text-grammage": known(f.Text.Grammage), "cover-grammage": known(f.Cover.Grammage), "bleed": f.Bleed.String(),
		"inside-colours": s.Wishes.Inside.String(), "cover-colours": s.Wishes.Cover.String(),
		"signature": s.Wishes.SignedWith,
	}
}

func known(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// Placeholders lists what may stand in braces in a wording.
func Placeholders() []string {
	var s Specification
	s.Facts.Format.Binding, s.Facts.Format.Text.Caliper, s.Facts.Pages = "perfect-bound", 1, 1 // so that no line is left out
	names := []string{"printer", "lines"}
	for _, line := range s.Lines() {
		names = append(names, line.Key)
	}
	for name := range s.figures() {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func checkWording(wording string) error {
	names := Placeholders()
	for _, line := range strings.Split(wording, "\n") {
		if strings.Contains(line, "{lines}") && strings.TrimSpace(line) != "{lines}" {
			return invalid("{lines} stands for many lines, so it needs a line of its own.", "Put it on a line without other words.")
		}
	}
	for _, found := range placeholder.FindAllString(wording, -1) {
		if !slices.Contains(names, strings.Trim(found, "{}")) {
			return invalid(fmt.Sprintf("Nothing can stand for %s in a letter.", found), "In braces there can be "+strings.Join(names, ", ")+".")
		}
	}
	return nil
}

// Passage is a paragraph of a letter, or with a name one line of the
// specification. An empty one is an empty line.
type Passage struct {
	Name, Words string
}

// Letter fills the wording for one printer; printer may be "".
func (s Specification) Letter(printer string) []Passage {
	wording := s.Wishes.Wording
	if strings.TrimSpace(wording) == "" {
		wording = FirstWording
	}
	if printer == "" {
		printer = "printer"
	}
	values := s.figures()
	values["printer"] = printer
	for _, line := range s.Lines() {
		if line.Key != "" {
			values[line.Key] = line.Words
		}
	}
	var letter []Passage
	for _, line := range strings.Split(strings.TrimRight(wording, "\n "), "\n") {
		if strings.TrimSpace(line) == "{lines}" {
			for _, one := range s.Lines() {
				letter = append(letter, Passage{one.Name, orUnsaid(one.Words)})
			}
			continue
		}
		filled := placeholder.ReplaceAllStringFunc(line, func(found string) string {
			name := strings.Trim(found, "{}")
			if name == "signature" {
				return values[name] // an unsigned letter is signed by hand
			}
			return orUnsaid(values[name])
		})
		for _, part := range strings.Split(filled, "\n") {
			letter = append(letter, Passage{Words: strings.TrimSpace(part)})
		}
	}
	return letter
}

func orUnsaid(words string) string {
	if words == "" {
		return Unsaid
	}
	return words
}

// Text writes a letter to be pasted anywhere.
func Text(letter []Passage) string {
	var text strings.Builder
	for _, p := range letter {
		if p.Name != "" {
			text.WriteString(p.Name + ": ")
		}
		text.WriteString(p.Words + "\n")
	}
	return strings.TrimRight(text.String(), "\n") + "\n"
}
