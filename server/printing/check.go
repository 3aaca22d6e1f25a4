package printing

import (
	"context"
	"fmt"
	"math"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/server/bringing"
	"pairwall/store"
)

// Checked is what was found before printing.
type Checked struct {
	Pages    int            `json:"pages"`
	Pictures int            `json:"pictures"` // photos on them
	Inks     string         `json:"inks"`     // the printer's profile that colours were judged by; "" when none is known
	Found    []pages.Misfit `json:"found"`    // the most harmful first
}

// Shares of a picture from which its colours are worth a word; from memory.
const (
	someArea = 0.005
	someOver = 0.001
)

// Check looks through a title before it is printed. Without a printer's profile
// colours are judged by none, and Checked says so. It looks whether originals
// are there and reads none of them.
//
// Errors: the end of ctx; what opening a card image gives; Damaged when the
// profile that was kept cannot be read.
func (p *Press) Check(ctx context.Context, m Matter) (Checked, error) {
	letters, err := p.letters()
	if err != nil {
		return Checked{}, err
	}
	book, known := m.Book(), m.known()
	found := append(book.Misfits(m.Plan, known, letters), book.Cautions(known)...)
	checked := Checked{Pages: len(book.Pages)}
	on := map[sequence.PhotoID]int{} // the first page of each
	var shown []sequence.Photo
	for _, page := range book.Pages {
		if page.Shown == nil || on[page.Shown.Photo] > 0 {
			continue
		}
		on[page.Shown.Photo] = page.Number
		shown = append(shown, known[page.Shown.Photo])
	}
	checked.Pictures = len(shown)
	found = append(found, m.thinSpine()...)
	found = append(found, originals(bringing.Look(ctx, shown), on)...)
	if m.Profile != nil {
		checked.Inks = m.Profile.Name
		beyond, err := p.beyondInks(ctx, shown, on, *m.Profile)
		if err != nil {
			return Checked{}, err
		}
		found = append(found, beyond...)
	}
	pages.InOrderOfHarm(found)
	checked.Found = found
	return checked, ctx.Err()
}

// thinSpine tells of a spine that words find no room on; a folded cover has none.
func (m Matter) thinSpine() []pages.Misfit {
	if !m.spined() {
		return nil
	}
	_, spine, _, _ := m.coverOf()
	if _, fits := pages.SpineLetters(spine.Least); fits {
		return nil
	}
	return []pages.Misfit{{Kind: pages.SpineMisfit,
		Words: fmt.Sprintf("The spine measures %s at the least and is too thin for words, which take %s.", spine.Least, pages.LeastLetteredSpine),
		Hint:  "Leave words off the spine, or choose a thicker paper or more pages."}}
}

func originals(look bringing.Originals, on map[sequence.PhotoID]int) (found []pages.Misfit) {
	for _, lost := range look.Missing {
		found = append(found, pages.Misfit{Kind: pages.MissingMisfit, Page: on[lost.Photo], Photo: lost.Photo,
			Words: fmt.Sprintf("The original of photo %d on page %d is not where it was: %s.", lost.Photo, on[lost.Photo], lost.Path),
			Hint:  "Connect the disk it lies on, or find originals again (Photographs)."})
	}
	for _, lost := range look.Changed {
		found = append(found, pages.Misfit{Kind: pages.ChangedMisfit, Page: on[lost.Photo], Photo: lost.Photo,
			Words: fmt.Sprintf("The original of photo %d on page %d was changed since it was brought in.", lost.Photo, on[lost.Photo]),
			Hint:  "Bring it in again if it is meant to be another picture now, or put the file back that you paired and ordered by."})
	}
	return found
}

func (p *Press) beyondInks(ctx context.Context, shown []sequence.Photo, on map[sequence.PhotoID]int, with store.PrinterProfile) (found []pages.Misfit, err error) {
	profile, err := ReadProfile(with.Bytes)
	if err != nil {
		return nil, err
	}
	reach, limit := profile.Reach(), float64(with.InkLimit)/100
	for _, photo := range shown {
		img, err := p.opened(ctx, photo, smallCard)
		if err != nil {
			return nil, err
		}
		page := on[photo.Number]
		b := beyond(img, reach, limit)
		if b.Share >= someArea {
			found = append(found, pages.Misfit{Kind: pages.ColoursMisfit, Page: page, Photo: photo.Number,
				Words: fmt.Sprintf("On page %d, %s of photo %d has colours that the printer's inks do not reach; they will look duller.", page, percent(b.Share), photo.Number),
				Hint:  "See where, and whether it matters there. A proof shows what becomes of them."})
		}
		if b.Over >= someOver {
			found = append(found, pages.Misfit{Kind: pages.InkMisfit, Page: page, Photo: photo.Number,
				Words: fmt.Sprintf("On page %d, %s of photo %d would take up to %.0f %% of ink, more than the %.0f %% the printer allows.", page, percent(b.Over), photo.Number, 100*b.Most, 100*limit),
				Hint:  "Ask the printer to convert with their own profile, which keeps to the limit, or lift the deepest shadows."})
		}
	}
	return found, nil
}

func percent(share float64) string {
	if share < 0.01 {
		return "less than 1 %"
	}
	return fmt.Sprintf("%.0f %%", math.Round(100*share))
}
