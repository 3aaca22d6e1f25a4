package printing

import (
	"fmt"
	"strings"

	"pairwall/sequence/pages"
)

// brief is what whoever designs the cover must know, as plain text.
func (m Matter) brief(plan pages.CoverPlan, spine pages.CoverSpine, flat pages.FlatCover, rule string) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	both := func(l pages.Length) string { return fmt.Sprintf("%s (%.3f in)", l, l.Inches()) }
	size := func(s pages.Size) string {
		return fmt.Sprintf("%s × %s (%.3f × %.3f in)", s.Width, s.Height, s.Width.Inches(), s.Height.Inches())
	}
	binding := flat.Binding.Words()
	if binding == "" {
		binding = "not chosen yet"
	}
	line("Cover of “%s”", m.Title.Name)
	line("")
	line("One page, laid flat: back on the left, %sfront on the right.", map[bool]string{true: "spine, ", false: ""}[flat.Spine.Width > 0])
	line("")
	line("Page of the block   %s, %d pages", size(m.Format.Trim), len(m.Book().Pages))
	line("Binding             %s", binding)
	line("Flat, trimmed       %s", size(flat.Trim))
	line("Flat with bleed     %s", size(flat.Bled().Size))
	line("Bleed               %s on every side", both(flat.Bleed))
	line("Front, back         %s each", size(flat.Front.Size))
	if flat.Spine.Width > 0 {
		line("Spine               %s", both(flat.Spine.Width))
		if flat.Binding == pages.HardCase {
			line("                    the block %s and two boards of %s", spine.Width, plan.Case.Board)
		}
		line("                    block at the least %s, at the most %s", spine.Least, spine.Most)
		line("                    %s", rule)
	}
	m.briefGuides(line, both, plan, spine, flat)
	if flat.Barcode != nil {
		line("Barcode             white, %s, at the lower right of the back: see the template", size(flat.Barcode.Size))
	}
	if p := m.Format.Cover; p.Grammage > 0 {
		line("Cover paper         %s", strings.TrimSpace(fmt.Sprintf("%s %g g/m² %s", p.Name, p.Grammage, p.Finish)))
	}
	line("Pictures            %d pixels to the inch at their size in print, %d at the least", pages.WantedPPI, pages.LeastPPI)
	line("File                PDF/X-4, TrimBox and BleedBox as above, typefaces embedded, colours with profile")
	line("")
	line("Put your work over the template and take the template away before you export.")
	if !spine.Printers && flat.Spine.Width > 0 {
		line("The spine is computed. The printer's own figure may differ: ask before the cover is final.")
	}
	return b.String()
}

// briefGuides tells where words and faces must not lie.
func (m Matter) briefGuides(line func(string, ...any), both func(pages.Length) string, plan pages.CoverPlan, spine pages.CoverSpine, flat pages.FlatCover) {
	switch {
	case flat.Binding == pages.HardCase:
		line("Turned in           %s on every side, round the boards: picture, no words", both(plan.Case.TurnIn))
		line("Joint               %s beside the spine on either side: no words, no faces", both(plan.Case.Joint))
	case flat.Binding == pages.PerfectBound && plan.Hinge > 0:
		line("Hinge               %s beside the spine on either side: the cover bends there", both(plan.Hinge))
	}
	if flat.Binding == pages.PerfectBound {
		line("Inside the cover    spine and 5 mm on either side free of picture: glue")
	}
	line("Safe margin         %s: no words and no faces nearer to trim, folds and hinges", both(m.Format.Safe))
	if letters, fits := pages.SpineLetters(spine.Least); flat.Spine.Width > 0 && flat.Binding == pages.PerfectBound {
		if fits {
			line("Words on the spine  letters up to %s high: a fold may lie %s off on either side", letters, pages.FoldTolerance)
		} else {
			line("Words on the spine  none: it is too thin (%s is the least)", pages.LeastLetteredSpine)
		}
	}
}
