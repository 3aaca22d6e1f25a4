package pages

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pairwall/sequence"
)

// Shares from which a caution is worth a line; all from memory.
const (
	muchCut    = 0.15 // of a picture, not shown
	levelShown = 0.35 // how much a level line stands out, see sequence.Form
	foldError  = 1    // mm by which a fold may be off (Headley, designing for print)
)

// Cautions tells what should be looked at once before printing although it fits:
// what Misfits leaves out while pages are still being laid.
//
// Complexity: O(pages).
func (b Book) Cautions(photos map[sequence.PhotoID]sequence.Photo) []Misfit {
	var found []Misfit
	var plain []string
	for _, page := range b.Pages {
		if page.Shown == nil || page.Shown.Across && page.Right() { // a picture is told of once
			continue
		}
		photo := photos[page.Shown.Photo]
		found = append(found, b.overGutter(page, photo)...)
		found = append(found, page.cut(photo)...)
		found = append(found, page.fine(photo)...)
		for _, f := range photo.Findings {
			found = append(found, Misfit{DamagedMisfit, page.Number, photo.Number, fmt.Sprintf("Page %d, photo %d: %s", page.Number, photo.Number, f.Words), f.Hint})
		}
		if photo.Profile == "" {
			plain = append(plain, fmt.Sprint(photo.Number))
		}
	}
	if len(plain) > 0 {
		found = append(found, Misfit{Kind: ProfileMisfit, Words: fmt.Sprintf("%s no colour profile and %s taken for sRGB: %s.",
			plural(len(plain), "photo carries", "photos carry"), map[bool]string{true: "is", false: "are"}[len(plain) == 1], listed(plain)),
			Hint: "If their colours look right here, nothing need be done; if not, export them again with a profile."})
	}
	if doubt := b.Format.Binding.Lacks(len(b.Pages), b.Format.Text.Thickness()).Doubt; doubt != "" {
		found = append(found, Misfit{Kind: DoubtMisfit, Words: doubt})
	}
	InOrderOfHarm(found)
	return slices.Clip(found)
}

// listed names a few of many.
func listed(numbers []string) string {
	const most = 12
	if len(numbers) > most {
		return strings.Join(numbers[:most], ", ") + fmt.Sprintf(" and %d more", len(numbers)-most)
	}
	return strings.Join(numbers, ", ")
}

// overGutter looks at a picture over both pages: what the gutter hides of its
// middle, and whether a horizon would show a fold that is off.
func (b Book) overGutter(page BookPage, photo sequence.Photo) (found []Misfit) {
	s := page.Shown
	if !s.Across {
		return nil
	}
	if hidden := b.Format.Swallow - s.Apart; hidden > tiny {
		found = append(found, Misfit{GutterMisfit, page.Number, s.Photo,
			fmt.Sprintf("On pages %d and %d the gutter hides %s on either side of the middle of photo %d.", page.Number, page.Number+1, hidden, s.Photo),
			fmt.Sprintf("Move its halves apart by %s, or let nothing of weight lie there.", b.Format.Swallow)})
	}
	if photo.Form.Horizon >= levelShown {
		found = append(found, Misfit{GutterMisfit, page.Number, s.Photo,
			fmt.Sprintf("Photo %d has a level line that crosses the gutter of pages %d and %d; folds may be off by %d mm, and it shows there first.", s.Photo, page.Number, page.Number+1, foldError),
			"Look at it on the proof, or show the photo on one page."})
	}
	return found
}

// cut tells when much of a picture is not shown.
func (page BookPage) cut(photo sequence.Photo) []Misfit {
	s := page.Shown
	window := s.Window
	if s.Across { // the other half shows as much, less what reaches over the fold
		window.Width *= 2
	}
	wide, high := float64(window.Width/s.Picture.Width), float64(window.Height/s.Picture.Height)
	lost := 1 - min(1, wide)*min(1, high)
	if lost < muchCut {
		return nil
	}
	where := "left and right"
	switch {
	case wide < 0.97 && high < 0.97:
		where = "all around"
	case high < wide:
		where = "above and below"
	}
	return []Misfit{{CutMisfit, page.Number, s.Photo,
		fmt.Sprintf("On page %d, %d %% of photo %d is cut away, %s.", page.Number, int(math.Round(100*lost)), photo.Number, where),
		"If that was not meant, move the crop, or show it whole in a frame."}}
}

func (page BookPage) fine(photo sequence.Photo) []Misfit {
	ppi := page.Shown.PPI(photo.Width)
	if ppi < LeastPPI || ppi >= WantedPPI {
		return nil
	}
	return []Misfit{{FineMisfit, page.Number, photo.Number,
		fmt.Sprintf("On page %d, photo %d has %.0f pixels to the inch; %d are wanted.", page.Number, photo.Number, math.Floor(ppi), WantedPPI),
		"Most eyes see no loss. A smaller frame or a larger file makes it finer."}}
}
