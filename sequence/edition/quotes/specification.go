package quotes

import (
	"fmt"
	"strconv"
	"strings"

	"pairwall/sequence/edition"
	"pairwall/sequence/pages"
)

// Facts are what a title says of itself.
type Facts struct {
	Title  string
	Format pages.Format
	Pages  int // of the text, blank ones and those before and after the wall included
	Blank  int // of them, without picture and words

	Profile string // the name of the ICC profile the printer's inks were said to have; "" for none
}

// Specification is a title as printers are asked for it.
type Specification struct {
	Facts  Facts
	Wishes Wishes
}

// SpecificationLine is one line of a specification.
type SpecificationLine struct {
	Key   string `json:"key"` // stands for its words in a wording, in braces; "" for a line of the maker's own
	Name  string `json:"name"`
	Words string `json:"words"` // "" when it was not said
}

// Lines are all that is asked for, in the order printers read it. A line without
// words was not said; one that says nothing about this title is left out.
func (s Specification) Lines() []SpecificationLine {
	f, w := s.Facts.Format, s.Wishes
	lines := []SpecificationLine{
		{"title", "Title", s.Facts.Title},
		{"quantities", "Quantities", s.quantities()},
		{"trim", "Trim size", fmt.Sprintf("%s (width × height), %s", trimmed(f), orientation(f.Trim))},
		{"pages", "Pages", s.pages()},
		{"binding", "Binding", f.Binding.Words()},
	}
	if spine := s.spine(); spine != "" {
		lines = append(lines, SpecificationLine{"spine", "Spine", spine})
	}
	lines = append(lines, SpecificationLine{"text-paper", "Text paper", paper(f.Text)})
	if w.SelfCover {
		lines = append(lines, SpecificationLine{"cover-paper", "Cover", "self-cover, of the text paper"})
	} else {
		lines = append(lines, SpecificationLine{"cover-paper", "Cover paper", paper(f.Cover)})
	}
	lines = append(lines, []SpecificationLine{
		{"stiffness", "Cover stiffness", w.Stiffness},
		{"colours", "Colours", fmt.Sprintf("inside %s, cover %s", w.Inside, w.Cover)},
		{"finishing", "Finishing", w.Finishing},
		{"proof", "Proof", w.Proof.words()},
		{"files", "Files supplied", s.files()},
		{"overs", "Overs and unders accepted", tolerated(w.Overs, w.Unders)},
		{"packing", "Packing", w.Packing},
		{"delivery", "Delivery to", strings.Join(strings.FieldsFunc(w.DeliverTo, isBreak), ", ")},
		{"delivery-day", "Delivery by", w.DeliverBy.Words()},
		{"reply-by", "Reply by", w.ReplyBy.Words()},
	}...)
	for _, own := range w.Own {
		lines = append(lines, SpecificationLine{Name: own.Name, Words: own.Words})
	}
	return lines
}

// Missing names the lines that say nothing yet.
func (s Specification) Missing() []string {
	missing := []string{}
	for _, line := range s.Lines() {
		if line.Words == "" {
			missing = append(missing, line.Name)
		}
	}
	return missing
}

// Doubts are what a printer would ask back about the title itself.
func (s Specification) Doubts() []string {
	doubts := []string{}
	f := s.Facts.Format
	lack := f.Binding.Lacks(s.Facts.Pages, f.Text.Thickness())
	for _, words := range []string{lack.Words, lack.Doubt} {
		if words != "" {
			doubts = append(doubts, words)
		}
	}
	if s.Facts.Pages == 0 {
		doubts = append(doubts, "There are no pages yet: hang photos on the wall first.")
	}
	return doubts
}

func isBreak(r rune) bool { return r == '\n' || r == '\r' }

func (s Specification) quantities() string {
	words := make([]string, len(s.Wishes.Quantities))
	for i, n := range s.Wishes.Quantities {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, " / ") + " copies"
}

func trimmed(f pages.Format) string {
	name, measures := f.Name(), f.Measures()
	if strings.HasPrefix(measures, name) { // the size is called by its measures
		return measures
	}
	return fmt.Sprintf("%s, %s", strings.TrimSuffix(name, " lying"), measures)
}

func orientation(trim pages.Size) string {
	switch {
	case trim.Width > trim.Height:
		return "landscape, bound on a short side"
	case trim.Width < trim.Height:
		return "portrait, bound on a long side"
	}
	return "square"
}

// pages says how many there are and how they were counted: printers differ.
func (s Specification) pages() string {
	if s.Facts.Pages == 0 {
		return ""
	}
	words := fmt.Sprintf("%d text pages", s.Facts.Pages)
	switch s.Facts.Blank {
	case 0:
	case 1:
		words += ", 1 of them blank"
	default:
		words += fmt.Sprintf(", %d of them blank", s.Facts.Blank)
	}
	words += "; each side of a leaf is one page"
	if s.Wishes.SelfCover {
		return words + "; the cover is among them"
	}
	return words + "; the cover is not counted (4 pages more)"
}

// spine is told where there is a block with a back.
func (s Specification) spine() string {
	f := s.Facts.Format
	leaf := f.Text.Thickness()
	if (f.Binding != pages.PerfectBound && f.Binding != pages.HardCase) || leaf == 0 || s.Facts.Pages == 0 {
		return ""
	}
	return fmt.Sprintf("about %.1f mm by our reckoning; please confirm for your paper", edition.Spine(s.Facts.Pages, leaf).Mm())
}

func paper(p pages.Paper) string {
	var words []string
	for _, word := range []string{p.Name, p.Finish} {
		if word != "" {
			words = append(words, word)
		}
	}
	if p.Grammage > 0 {
		words = append(words, strconv.FormatFloat(p.Grammage, 'f', -1, 64)+" g/m²")
	}
	return strings.Join(words, ", ")
}

func (p ProofWish) words() string {
	var kinds []string
	if p.Digital {
		kinds = append(kinds, "digital, calibrated")
	}
	if p.Wet {
		kinds = append(kinds, "wet, on the paper of the run")
	}
	words := strings.Join(kinds, " and ")
	switch {
	case words == "":
		return ""
	case p.Rounds == 1:
		words += "; 1 round"
	case p.Rounds > 1:
		words += fmt.Sprintf("; %d rounds", p.Rounds)
	}
	return words
}

func (s Specification) files() string {
	if s.Wishes.Files.Kind == "" {
		return ""
	}
	words := s.Wishes.Files.Kind + ", single pages"
	if bleed := s.Facts.Format.Bleed; bleed > 0 {
		words += fmt.Sprintf(", %s bleed on every side", bleed)
	}
	for _, profile := range []string{s.Wishes.Files.Profile, s.Facts.Profile} { // what is said counts first
		if profile != "" {
			return words + ", colours for " + profile
		}
	}
	return words + ", colour profile as you ask for"
}

func tolerated(overs, unders edition.Decimal) string {
	if overs == "" && unders == "" {
		return ""
	}
	side := func(d edition.Decimal, what string) string {
		switch {
		case d == "":
			return what + " to be agreed"
		case d.Rat().Sign() == 0:
			return "no " + what
		}
		return fmt.Sprintf("up to %s %% %s", d, what)
	}
	return side(overs, "overs") + ", " + side(unders, "unders")
}
