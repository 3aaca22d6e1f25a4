package preflight

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pairwall/sequence/pages"
)

// Objection is something a printer would ask about, or spoil a cover by.
type Objection struct {
	Harm  Harm   `json:"harm"`
	Words string `json:"words"` // what is there, and what should be
	Why   string `json:"why"`   // what comes of it
	Hint  string `json:"hint"`  // the way out
}

// Harm is how bad it is.
type Harm string

// The harms, the worst first.
const (
	Stops Harm = "stops" // it cannot be printed so
	Ask   Harm = "ask"   // look at it, and ask, before it is sent
	Note  Harm = "note"  // good to know
)

var harms = []Harm{Stops, Ask, Note}

// sizeTolerance is how far a box may lie from where it is to be: the 0.2 mm that
// templates are exact to, far below what a knife can do.
const sizeTolerance pages.Length = 0.2

// Judge compares a file with the cover it is to be; the worst findings come
// first. What only drawing it would show, it cannot tell, and says so in a note.
func Judge(f Facts, cover pages.FlatCover, spine pages.CoverSpine) []Objection {
	j := judge{facts: f, cover: cover, spine: spine, list: []Objection{}}
	j.count()
	for i, p := range f.Pages {
		if i < 2 { // a cover has two sides
			j.size(i+1, p)
			j.bleed(i+1, p)
			j.page(i+1, p)
		}
	}
	j.fonts()
	j.resolution()
	j.colours()
	j.says()
	for _, words := range f.Unread {
		j.add(Ask, words, "What could not be looked at was not checked either.", "Ask the designer for a PDF/X-4 exported anew.")
	}
	slices.SortStableFunc(j.list, func(a, b Objection) int { return slices.Index(harms, a.Harm) - slices.Index(harms, b.Harm) })
	return j.list
}

type judge struct {
	facts Facts
	cover pages.FlatCover
	spine pages.CoverSpine
	list  []Objection
}

func (j *judge) add(h Harm, words, why, hint string) {
	j.list = append(j.list, Objection{h, words, why, hint})
}

func (j *judge) count() {
	switch n := j.facts.Count; {
	case n == 2 && len(j.cover.Inner) > 0:
		j.add(Note, "The file has two pages: the outside and the inside of the cover.", "Printing inside the cover may cost more.", "Tell the printer that the inside is printed.")
	case n > 1:
		j.add(Stops, fmt.Sprintf("The file has %d pages.", n), "A cover is one page, laid flat with back, spine and front side by side.", "Ask for the cover alone, as one page.")
	}
}

// size compares a page's trim with the flat cover.
func (j *judge) size(n int, p Page) {
	want := j.cover.Trim
	if p.Trim == nil {
		media := upright(p.Media.Size, p.Turned)
		bled := j.cover.Bled().Size
		switch {
		case same(media, bled):
			j.add(Ask, fmt.Sprintf("Page %d does not say where it is cut (it has no TrimBox). Its size is that of the cover with its bleed.", n),
				"The printer has to guess the trim; in the middle of the page is the likely guess, and would be right.", "Ask for a TrimBox, as PDF/X sets it.")
		case same(media, want):
			j.add(Stops, fmt.Sprintf("Page %d is as large as the trimmed cover, %s, and has no bleed.", n, measured(want)),
				"A cut that lies a hair off leaves a white edge.", fmt.Sprintf("Ask for the picture to run %s over every edge, and for a TrimBox.", j.cover.Bleed))
		default:
			j.wrong(n, media)
		}
		return
	}
	if got := upright(p.Trim.Size, p.Turned); !same(got, want) {
		j.wrong(n, got)
	}
}

// wrong says by what a size differs, and what of the cover that would be.
func (j *judge) wrong(n int, got pages.Size) {
	want := j.cover.Trim
	wider, higher := got.Width-want.Width, got.Height-want.Height
	words := fmt.Sprintf("Page %d is %s where the cover is %s.", n, measured(got), measured(want))
	switch {
	case same(got.Turned(), want):
		j.add(Stops, words, "It lies on its side.", "Ask for it turned by a quarter.")
	case abs(higher) <= sizeTolerance && j.cover.Spine.Width > 0 && abs(wider) < j.cover.Spine.Width+10:
		spine := j.spine.Width + wider
		why := fmt.Sprintf("It was made for a spine of %s; yours is %s.", spine, j.spine.Width)
		if spine >= j.spine.Least && spine <= j.spine.Most {
			why += " That lies within what the paper may vary by, but the printer will cut to one figure."
		}
		j.add(Stops, words, why+" Everything on the front lies off by the difference.", "Send the designer the brief anew, or put the printer's own spine into the cover's figures.")
	case same(got, j.cover.Bled().Size):
		j.add(Stops, words, "The bleed was counted to the trim: it would be printed too large, or cut away.", "Ask for a trim without the bleed.")
	default:
		j.add(Stops, words, "Scaled to fit, nothing would lie where it was put; not scaled, it does not fit.", "Send the designer the brief and the template.")
	}
}

// bleed looks how far the paper of the page reaches beyond its trim.
func (j *judge) bleed(n int, p Page) {
	if p.Trim == nil {
		return
	}
	reach := p.Media
	if p.Bleed != nil {
		reach = *p.Bleed
	}
	sides := []struct {
		name string
		by   pages.Length
	}{{"left", p.Trim.X - reach.X}, {"top", p.Trim.Y - reach.Y}, {"right", reach.Right() - p.Trim.Right()}, {"bottom", reach.Bottom() - p.Trim.Bottom()}}
	var short []string
	for _, s := range sides {
		if s.by < j.cover.Bleed-sizeTolerance {
			short = append(short, fmt.Sprintf("%s at the %s", max(0, s.by), s.name))
		}
	}
	if len(short) > 0 {
		j.add(Stops, fmt.Sprintf("The bleed of page %d is too small: %s, where %s are needed.", n, strings.Join(short, ", "), j.cover.Bleed),
			"A cut that lies a hair off leaves a white edge.", "Ask for the bleed of the brief on every side.")
	}
}

func (j *judge) page(n int, p Page) {
	if p.Turned != 0 {
		j.add(Ask, fmt.Sprintf("Page %d is turned by %d degrees.", n, p.Turned), "Some presses pass over that, and print it lying on its side.", "Ask for a page that is not turned.")
	}
	if p.Remarks > 0 {
		j.add(Ask, fmt.Sprintf("%s on page %d.", counted(p.Remarks, "comment, link or field lies", "comments, links or fields lie"), n), "They may be printed, and PDF/X does not allow them.", "Ask for a file without them.")
	}
}

func (j *judge) fonts() {
	var missing []string
	for _, f := range j.facts.Fonts {
		if !f.Embedded {
			missing = append(missing, f.Name)
		}
	}
	if len(missing) > 0 {
		j.add(Stops, fmt.Sprintf("%s not in the file: %s.", counted(len(missing), "typeface is", "typefaces are"), some(missing)),
			"The printer would print with another one, and lines would run differently.", "Ask for a file with all typefaces embedded.")
	}
}

// resolution holds pictures to the published 300 and 225 ppi. Stencils of one
// bit are printed sharper than pictures, so they want more; how much differs.
func (j *judge) resolution() {
	for _, p := range j.facts.Pictures {
		if p.PPI >= pages.WantedPPI || p.Page > 2 {
			continue
		}
		words := fmt.Sprintf("A picture of %d × %d pixels on page %d has %.0f pixels to the inch as placed, %s × %s.", p.Width, p.Height, p.Page, math.Floor(p.PPI), p.At.Width, p.At.Height)
		if p.PPI < pages.LeastPPI {
			j.add(Ask, words, fmt.Sprintf("Below %d a print looks soft.", pages.LeastPPI), "Ask for it placed from a larger file.")
		} else {
			j.add(Note, words, fmt.Sprintf("%d are wanted; from %d on the loss is hardly seen.", pages.WantedPPI, pages.LeastPPI), "Leave it, or ask for a larger file.")
		}
	}
}

func (j *judge) colours() {
	var spots []string
	bare := map[Family]bool{}
	for _, c := range j.facts.Colours {
		switch {
		case c.Family == Spot:
			spots = append(spots, c.Name)
		case !c.Profile:
			bare[c.Family] = true
		}
	}
	if len(spots) > 0 {
		j.add(Ask, fmt.Sprintf("%s used: %s.", counted(len(spots), "spot colour is", "spot colours are"), some(spots)),
			"Each is an ink of its own and costs a plate, or is mixed from the four and looks different.", "Ask the printer whether the inks are meant, or the designer to convert them.")
	}
	intent := 0
	if j.facts.Intent != nil {
		intent = j.facts.Intent.Components
	}
	if bare[RGB] && intent != 3 {
		j.add(Ask, "There are RGB colours without a profile.", "Nobody knows which colours are meant; each press guesses.", "Ask for colours with a profile, or converted for the printer's condition.")
	}
	if bare[CMYK] && intent != 4 {
		j.add(Ask, "There are CMYK colours, and the file does not carry the printing condition they were made for.", "The same inks look different on another paper.", "Ask for an output intent with its profile, the one your printer names.")
	}
	if bare[RGB] && intent == 3 {
		j.add(Note, "Its RGB colours are meant as its output intent says.", "Not every printer takes files for an RGB condition.", "Ask the printer, or the designer for their CMYK condition.")
	}
}

// says is about what the file says of itself.
func (j *judge) says() {
	f := j.facts
	switch {
	case f.Standard == "":
		j.add(Note, "The file does not say that it is PDF/X.", "A printer can be surer of one that is.", "Ask for PDF/X-4, unless the printer wants another.")
	case f.Clear && (strings.HasPrefix(f.Standard, "PDF/X-1") || strings.HasPrefix(f.Standard, "PDF/X-3")):
		j.add(Stops, fmt.Sprintf("Something is transparent, which %s does not allow.", f.Standard), "The press may refuse it, or print it differently.", "Ask for PDF/X-4.")
	case f.Clear:
		j.add(Note, "Something is transparent.", "Old presses cannot print that; PDF/X-4 allows it.", "Nothing, unless the printer asks for flattened files.")
	}
	if f.Intent == nil {
		j.add(Note, "The file has no output intent.", "It does not say which paper and inks it was made for.", "Ask the designer for which printing condition it was made.")
	} else if f.Intent.Name != "" {
		j.add(Note, fmt.Sprintf("It was made for “%s”.", f.Intent.Name), "That must be how your printer prints.", "Compare it with what the printer names.")
	}
	j.add(Note, "Whether the picture really fills the bleed, and what lies under spine, barcode and folds, is not checked.", "The program reads the file and does not draw it.", "Look at it around the block, at full size, before it is sent.")
}

func abs(l pages.Length) pages.Length { return pages.Length(math.Abs(float64(l))) }

func same(a, b pages.Size) bool {
	return abs(a.Width-b.Width) <= sizeTolerance && abs(a.Height-b.Height) <= sizeTolerance
}

func upright(s pages.Size, turned int) pages.Size {
	if turned%180 != 0 {
		return s.Turned()
	}
	return s
}

func measured(s pages.Size) string { return fmt.Sprintf("%s × %s", s.Width, s.Height) }

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// some lists the first few of many names.
func some(names []string) string {
	const most = 6
	if len(names) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
	}
	return strings.Join(names, ", ")
}
