package pages

import (
	"fmt"
	"math"
	"strings"

	"pairwall/sequence"
)

// Binding is how the pages of a title are held together.
type Binding string

// The bindings a title can be made for. Unbound is one not chosen yet, of which
// nothing can be lacking.
const (
	Unbound      Binding = ""
	SaddleStitch Binding = "saddle-stitch" // folded sheets in one another, stapled through the fold
	PerfectBound Binding = "perfect-bound" // single leaves glued into a cover
	HardCase     Binding = "hard-case"     // sewn sections between boards
)

// Bindings are those that can be chosen, from the thinnest.
func Bindings() []Binding { return []Binding{SaddleStitch, PerfectBound, HardCase} }

// BindingNamed returns the binding of that name; "" names Unbound.
//
// Error: Invalid when there is none.
func BindingNamed(name string) (Binding, error) {
	known := make([]string, 0, 3)
	for _, b := range Bindings() {
		if string(b) == name {
			return b, nil
		}
		known = append(known, string(b))
	}
	if name == "" {
		return Unbound, nil
	}
	return Unbound, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no binding called %q.", name),
		Hint: "There is " + strings.Join(known, ", ") + "; none means not chosen yet."}
}

// Words is the binding as one says it: "saddle stitch", "" for Unbound.
func (b Binding) Words() string {
	switch b {
	case SaddleStitch:
		return "saddle stitch"
	case PerfectBound:
		return "perfect binding"
	case HardCase:
		return "a hard case"
	}
	return ""
}

// Published limits; where sources differ the printer's word counts, so they are
// told and never enforced.
const (
	fold         = 4   // pages on one folded sheet
	leaf         = 2   // pages on one leaf
	saddleLeast  = 8   // pages: PNW BOCES; Color Vision Printing
	saddleEasy   = 60  // pages, about: above it the sheets creep and spring open; the same sources
	saddleMost   = 120 // pages, the physical end; the same sources
	caseLeast    = 24  // pages; common practice, from memory: what little a case can hold
	thinnestGlue = 3.0 // mm of block that glue can hold: Telepathic Graphics, perfect binding
)

// SupposedCaliper is the thickness of one leaf as long as no paper has been
// named: 150 g/m² of bulk 0.9, so 150 × 0.9 / 1000 mm. No source for its being
// usual; a coated paper many zines are printed on.
const SupposedCaliper Length = 0.135

// Lack is what a number of pages lacks for a binding. The zero Lack is nothing.
type Lack struct {
	More  int    `json:"more"`  // pages to add to the next number that can be bound; 0 when there is none, or nothing lacks
	Fewer int    `json:"fewer"` // pages to take away, likewise
	Words string `json:"words"` // the same as a sentence; "" when nothing lacks
	Doubt string `json:"doubt"` // what to ask the printer although nothing lacks; "" for nothing
}

// Lacks tells what so many pages lack for the binding. caliper is the thickness
// of one leaf; 0 takes SupposedCaliper. Pages are counted without the cover.
// Nothing is ever added: what to do about it is the maker's.
func (b Binding) Lacks(pages int, caliper Length) Lack {
	if caliper <= 0 {
		caliper = SupposedCaliper
	}
	step, least, most, because := b.limits(caliper)
	var lack Lack
	if b == Unbound || pages < 0 {
		return lack
	}
	up := max(roundUp(pages, step), least)
	down := pages / step * step
	if most > 0 {
		down = min(down, most)
	}
	switch {
	case up == pages && (most == 0 || pages <= most):
		if b == SaddleStitch && pages > saddleEasy {
			lack.Doubt = fmt.Sprintf("Above about %d pages a stapled block springs open: ask the printer.", saddleEasy)
		}
		return lack
	case most > 0 && up > most:
		lack.Fewer = pages - down
		lack.Words = fmt.Sprintf("%s fewer %s %d, the most for %s.", count(lack.Fewer), makes(lack.Fewer), down, b.Words())
	case down < least:
		lack.More = up - pages
		lack.Words = fmt.Sprintf("%s more %s %d, %s.", count(lack.More), makes(lack.More), up, because)
	default:
		lack.More, lack.Fewer = up-pages, pages-down
		lack.Words = fmt.Sprintf("%s more %s %d, %d fewer %s %d.", count(lack.More), makes(lack.More), up, lack.Fewer, makes(lack.Fewer), down)
	}
	return lack
}

// limits returns what the number of pages must be a multiple of, the fewest and
// the most there can be (0 for no end), and why no fewer.
func (b Binding) limits(caliper Length) (step, least, most int, because string) {
	switch b {
	case SaddleStitch:
		return fold, saddleLeast, saddleMost, "the fewest for saddle stitch"
	case PerfectBound:
		leaves := int(math.Ceil(thinnestGlue/float64(caliper) - 1e-9)) // so that 3 mm of 0.1 mm leaves are 30, not 31
		return leaf, leaf * leaves, 0, fmt.Sprintf("the %g mm that glue needs, on leaves of %g mm", thinnestGlue, math.Round(caliper.Mm()*1000)/1000)
	case HardCase:
		return fold, caseLeast, 0, "the fewest for a hard case"
	}
	return 1, 0, 0, ""
}

func roundUp(n, step int) int { return (n + step - 1) / step * step }

func count(n int) string {
	if n == 1 {
		return "1 page"
	}
	return fmt.Sprintf("%d pages", n)
}

func makes(n int) string {
	if n == 1 {
		return "makes"
	}
	return "make"
}
