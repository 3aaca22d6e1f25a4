package pages

import (
	"fmt"
	"math"
	"slices"

	"pairwall/sequence"
)

// Misfit is something that does not fit its page: never a refusal, always with
// the way out.
type Misfit struct {
	Kind  MisfitKind       `json:"kind"`
	Page  int              `json:"page,omitempty"`  // by its number; 0 is the whole book
	Photo sequence.PhotoID `json:"photo,omitempty"` // 0 for none
	Words string           `json:"words"`           // a plain sentence
	Hint  string           `json:"hint"`            // the way out
}

// MisfitKind names what does not fit.
type MisfitKind string

// The kinds of misfits, in the order of harm.
const (
	MissingMisfit    MisfitKind = "missing"    // an original is not where it was
	ChangedMisfit    MisfitKind = "changed"    // an original is not as it was
	TornMisfit       MisfitKind = "torn"       // the spreads of the wall do not face each other
	CountMisfit      MisfitKind = "count"      // the pages cannot be bound so
	KeepMisfit       MisfitKind = "keep"       // what must stay in sight is cut off, or lies in the gutter or too near to the trim
	ResolutionMisfit MisfitKind = "resolution" // too few pixels
	DamagedMisfit    MisfitKind = "damaged"    // the file is not whole, or its colours are a guess
	WordsMisfit      MisfitKind = "words"      // longer than their room
	LettersMisfit    MisfitKind = "letters"    // not in the typeface
	LaidMisfit       MisfitKind = "laid"       // words on a page that is not blank any more
	GutterMisfit     MisfitKind = "gutter"     // a picture across the gutter loses its middle, or its level line may break
	CutMisfit        MisfitKind = "cut"        // much of a picture is not shown
	ColoursMisfit    MisfitKind = "colours"    // the printer's inks do not reach them
	InkMisfit        MisfitKind = "ink"        // more than the printer allows
	MarginMisfit     MisfitKind = "margin"     // narrower than the gutter or the knife asks
	SpineMisfit      MisfitKind = "spine"      // too thin for words
	CaptionMisfit    MisfitKind = "caption"    // asked for where there is no room
	FineMisfit       MisfitKind = "fine"       // fewer pixels than wanted, and yet enough for most eyes
	ProfileMisfit    MisfitKind = "profile"    // pictures that do not say in which colours they are
	DoubtMisfit      MisfitKind = "doubt"      // to be asked of the printer
)

var harm = []MisfitKind{MissingMisfit, ChangedMisfit, TornMisfit, CountMisfit, KeepMisfit, ResolutionMisfit, DamagedMisfit, WordsMisfit, LettersMisfit,
	LaidMisfit, GutterMisfit, CutMisfit, ColoursMisfit, InkMisfit, MarginMisfit, SpineMisfit, CaptionMisfit, FineMisfit, ProfileMisfit, DoubtMisfit}

// MisfitKinds lists them, the most harmful first.
func MisfitKinds() []MisfitKind { return slices.Clone(harm) }

// InOrderOfHarm sorts misfits, the most harmful first, then by page.
func InOrderOfHarm(found []Misfit) {
	slices.SortStableFunc(found, func(a, b Misfit) int {
		if by := slices.Index(harm, a.Kind) - slices.Index(harm, b.Kind); by != 0 {
			return by
		}
		return a.Page - b.Page
	})
}

// Resolution wanted and the least without a warning, in pixels per inch:
// published practice, see the table of sources.
const (
	WantedPPI = 300
	LeastPPI  = 225
)

// Misfits tells what does not fit in a book laid out by a plan, the most harmful
// first, then by page.
//
// Complexity: O(pages + letters).
func (b Book) Misfits(p Plan, photos map[sequence.PhotoID]sequence.Photo, letters Lettering) []Misfit {
	found := []Misfit{}
	add := func(more ...Misfit) { found = append(found, more...) }
	if p.Torn() {
		add(Misfit{Kind: TornMisfit, Words: fmt.Sprintf("%s before the wall: its left pages would become right ones, and no spread would face as it hangs.", plural(len(p.Front), "page lies", "pages lie")),
			Hint: "Add one blank page before the wall, or take one away."})
	}
	if lack := b.Format.Binding.Lacks(len(b.Pages), b.Format.Text.Thickness()); lack.Words != "" {
		add(Misfit{Kind: CountMisfit, Words: fmt.Sprintf("%s cannot be bound with %s. %s", plural(len(b.Pages), "page", "pages"), b.Format.Binding.Words(), lack.Words),
			Hint: "Add blank pages before or after the wall, hang or take away spreads, or choose another binding."})
	}
	for _, page := range b.Pages {
		if page.Shown != nil {
			photo := photos[page.Shown.Photo]
			add(b.keptInSight(page)...)
			add(page.resolved(photo)...)
			if one := p.PlacementOf(photo.Number, b.Format); page.Shown.Filled && *one.Caption && photo.Caption != "" && (!page.Shown.Across || !page.Right()) {
				add(Misfit{Kind: CaptionMisfit, Page: page.Number, Photo: photo.Number, Words: fmt.Sprintf("The caption of photo %d finds no room: the picture fills its page.", photo.Number),
					Hint: "Give the photo a frame, or leave its caption out."})
			}
		}
		add(page.written(letters)...)
	}
	add(b.margins()...)
	add(b.covered(p)...)
	InOrderOfHarm(found)
	return found
}

// keptInSight looks where the point lies that must stay in sight. Of a picture
// across the gutter each half answers for what it shows.
func (b Book) keptInSight(page BookPage) []Misfit {
	s, f := page.Shown, b.Format
	if s.Keep == nil {
		return nil
	}
	say := func(words, hint string) []Misfit {
		return []Misfit{{KeepMisfit, page.Number, s.Photo, fmt.Sprintf("On page %d, what must stay in sight of photo %d %s.", page.Number, s.Photo, words), hint}}
	}
	x, y := s.At(*s.Keep)
	if !s.Window.holds(x, y) {
		if s.Across && (page.Right() && x < s.Window.X || !page.Right() && x > s.Window.Right()) && y >= s.Window.Y && y <= s.Window.Bottom() {
			return nil // it lies on the other half
		}
		return say("is cut off", "Move the crop.")
	}
	gutter := f.Trim.Width - x // from the fold
	outer := x
	if page.Right() {
		gutter, outer = outer, gutter
	}
	switch trim := min(y, f.Trim.Height-y, outer); {
	case trim < 0:
		return say("lies beyond the trim", "Move the crop.")
	case trim < f.Safe:
		return say(fmt.Sprintf("lies %s from the trim, inside the safe margin of %s", trim, f.Safe), "Move the crop.")
	case gutter < f.Swallow || s.Across && gutter < max(f.Swallow, f.Safe):
		hint := "Move the crop."
		if s.Across {
			hint = "Move the crop, or move the halves apart."
		}
		return say(fmt.Sprintf("lies %s from the fold, where the gutter hides it", max(0, gutter)), hint)
	}
	return nil
}

func (r Rect) holds(x, y Length) bool {
	return x >= r.X-tiny && x <= r.Right()+tiny && y >= r.Y-tiny && y <= r.Bottom()+tiny
}

func (page BookPage) resolved(photo sequence.Photo) []Misfit {
	s := page.Shown
	ppi := s.PPI(photo.Width)
	if ppi >= LeastPPI || s.Across && page.Right() { // both halves have the same
		return nil
	}
	return []Misfit{{ResolutionMisfit, page.Number, s.Photo,
		fmt.Sprintf("On page %d, photo %d has %.0f pixels to the inch; %d are wanted, and below %d a print looks soft.", page.Number, s.Photo, math.Floor(ppi), WantedPPI, LeastPPI),
		"Show it smaller or crop less, or bring in a larger file."}}
}

// written looks at the words of a page.
func (page BookPage) written(letters Lettering) (found []Misfit) {
	var photo sequence.PhotoID
	if page.Shown != nil {
		photo = page.Shown.Photo
	}
	missing := ""
	for _, w := range page.Writings {
		missing += w.Text
		lines, over := w.Set(letters, page.Right())
		switch {
		case over > 0:
			found = append(found, Misfit{WordsMisfit, page.Number, photo, fmt.Sprintf("On page %d %s of %d do not fit.", page.Number, plural(over, "line", "lines"), len(lines)),
				"Shorten them, or go on with them on another page."})
		case w.Kind == CaptionWriting && len(letters.Break(w.Text, Styles[w.Kind].Size, w.Room.Width, manyLines)) > len(lines):
			found = append(found, Misfit{WordsMisfit, page.Number, photo, fmt.Sprintf("On page %d the caption of photo %d is longer than two lines and is cut.", page.Number, photo),
				"Shorten it."})
		}
	}
	if lacking := letters.Missing(missing); len(lacking) > 0 {
		found = append(found, Misfit{LettersMisfit, page.Number, photo, fmt.Sprintf("On page %d the typeface lacks %s.", page.Number, named(lacking)),
			"Write it in letters the typeface has: those of the scripts of Europe, or Japanese ones."})
	}
	return found
}

// named lists characters with their code points (ISO/IEC 10646), for a reader
// whose screen may lack them too.
func named(letters []rune) string {
	text := ""
	for i, r := range letters {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("“%c” (U+%04X)", r, r)
	}
	return text
}

// margins looks at those of the title; a page's own are its maker's exception.
func (b Book) margins() []Misfit {
	f := b.Format
	var found []Misfit
	if glued := f.Binding == PerfectBound || f.Binding == HardCase; glued && f.Margins.Inner < PerfectInner+f.Swallow-tiny {
		found = append(found, Misfit{Kind: MarginMisfit, Words: fmt.Sprintf("The inner margin of %s is narrow for %s: the gutter hides %s of it, and %s more should be seen.", f.Margins.Inner, f.Binding.Words(), f.Swallow, PerfectInner),
			Hint: fmt.Sprintf("Make it %s.", PerfectInner+f.Swallow)})
	}
	if least := min(f.Margins.Top, f.Margins.Outer, f.Margins.Bottom); least < f.Safe-tiny {
		found = append(found, Misfit{Kind: MarginMisfit, Words: fmt.Sprintf("A margin of %s is narrower than the safe margin of %s: the knife may come near to what lies there.", least, f.Safe),
			Hint: "Make it wider, or let pictures fill their pages."})
	}
	return found
}

// covered finds words laid on pages that are not blank any more, or not there:
// they are kept but not printed.
func (b Book) covered(p Plan) (found []Misfit) {
	for _, l := range p.Laid {
		at := slices.IndexFunc(b.Pages, func(page BookPage) bool { return page.On != nil && *page.On == l.On })
		switch {
		case at < 0:
			found = append(found, Misfit{Kind: LaidMisfit, Words: fmt.Sprintf("The words laid on the %s are kept, but the page is not on the wall any more.", l.On),
				Hint: "Lay them on another page, or bring the spread back."})
		case b.Pages[at].Leaf == nil:
			found = append(found, Misfit{Kind: LaidMisfit, Page: b.Pages[at].Number, Words: fmt.Sprintf("The words laid on page %d are kept, but a photo lies there now.", b.Pages[at].Number),
				Hint: "Lay them on another page, or take the photo away."})
		}
	}
	return found
}
