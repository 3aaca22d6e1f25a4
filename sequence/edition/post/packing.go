package post

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/pages"
)

// Kind is what a packing material does.
type Kind string

// The kinds. A mailer holds; everything else goes in.
const (
	Mailer  Kind = "mailer"
	Board   Kind = "board"   // stiffens: counted for each parcel
	Card    Kind = "card"    // one for each parcel
	Sticker Kind = "sticker" // likewise
	Sleeve  Kind = "sleeve"  // one around each copy
)

// Kinds lists them.
func Kinds() []Kind { return []Kind{Mailer, Board, Card, Sticker, Sleeve} }

// Material is one thing of the maker's packing shelf.
type Material struct {
	Name    string        `json:"name"`
	Kind    Kind          `json:"kind"`
	Mass    edition.Mass  `json:"mass"`    // of one, as weighed
	Inside  pages.Size    `json:"inside"`  // of a mailer: what lies flat in it
	Deepest pages.Length  `json:"deepest"` // of a mailer: the thickest it closes over
	Outside pages.Size    `json:"outside"` // of a mailer, closed
	Wall    pages.Length  `json:"wall"`    // of a mailer: what its two sides add to the thickness; of a board, card or sleeve: its own thickness
	Each    int           `json:"each"`    // of what goes in: how many for each parcel, for a sleeve: around each copy. 0 is not used now
	Letter  bool          `json:"letter"`  // a personal message: such may not go as printed matter
	Price   edition.Money `json:"price"`   // of one; currency "" while not said
}

// mostMaterials is more than a shelf holds; no source.
const mostMaterials = 100

// CheckMaterials refuses a list that cannot be packed from.
//
// Error: Invalid.
func CheckMaterials(list []Material) error {
	refuse := func(message string, args ...any) error {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf(message, args...), Hint: "Look at the list of packing again."}
	}
	if len(list) > mostMaterials {
		return refuse("There are more than %d things on the packing shelf.", mostMaterials)
	}
	seen := map[string]bool{}
	for _, m := range list {
		lengths := []pages.Length{m.Inside.Width, m.Inside.Height, m.Deepest, m.Outside.Width, m.Outside.Height, m.Wall}
		switch {
		case strings.TrimSpace(m.Name) == "" || len([]rune(m.Name)) > 100:
			return refuse("A thing on the packing shelf needs a name of up to 100 letters.")
		case seen[m.Name]:
			return refuse("There are two things called “%s”.", m.Name)
		case !slices.Contains(Kinds(), m.Kind):
			return refuse("“%s” is of no kind we know.", m.Name)
		case m.Mass < 0 || m.Mass > 20*edition.Kilogram || m.Each < 0 || m.Each > 20:
			return refuse("“%s” cannot weigh or count that.", m.Name)
		case slices.ContainsFunc(lengths, func(l pages.Length) bool { return !(l >= 0 && l <= 3000) }):
			return refuse("“%s” cannot have these measures.", m.Name)
		case m.Kind == Mailer && (m.Inside.Width <= 0 || m.Inside.Height <= 0 || m.Deepest <= 0):
			return refuse("The mailer “%s” does not say what it holds.", m.Name)
		case m.Kind == Mailer && (m.Outside.Width < m.Inside.Width || m.Outside.Height < m.Inside.Height):
			return refuse("The mailer “%s” is smaller outside than inside.", m.Name)
		}
		seen[m.Name] = true
		if m.Price.Currency != "" {
			if err := m.Price.Check(); err != nil {
				return err
			}
		}
	}
	return nil
}

// Content is one line of what goes into a parcel.
type Content struct {
	Name  string       `json:"name"`
	Count int          `json:"count"`
	Mass  edition.Mass `json:"mass"` // of all of them
}

// Parcel is what is posted.
type Parcel struct {
	Copies    int          `json:"copies"`
	Mailer    string       `json:"mailer"`
	Contents  []Content    `json:"contents"` // copies first, the mailer last
	Mass      edition.Mass `json:"mass"`
	Least     edition.Mass `json:"least"` // within the tolerance of the copies' computed weight
	Most      edition.Mass `json:"most"`
	Length    pages.Length `json:"length"` // the longest side
	Width     pages.Length `json:"width"`
	Thickness pages.Length `json:"thickness"`
	Letter    bool         `json:"letter"` // holds a personal message
	Why       string       `json:"why"`    // the mailer was chosen, one sentence
}

// slack is what a copy needs around itself to slide into a mailer (common
// practice, from memory).
const slack pages.Length = 2

// Pack packs so many copies flat, one on the other, into the smallest mailer that
// holds them: the one of the least outer area, of those the lightest.
//
// Errors: Invalid when there is no mailer at all; TooLarge when none holds so
// many, with the most that one does hold.
func Pack(copies int, of edition.Copied, shelf []Material) (Parcel, error) {
	mailers := mailersOf(shelf)
	if len(mailers) == 0 {
		return Parcel{}, &sequence.Error{Code: sequence.Invalid, Message: "There is no mailer on the packing shelf.", Hint: "Enter one, with its weight and what it holds."}
	}
	if copies < 1 {
		return Parcel{}, &sequence.Error{Code: sequence.Invalid, Message: "Nothing is to be packed."}
	}
	inside := fill(copies, of, shelf)
	passed := 0
	for _, m := range mailers {
		if !holds(m, inside.flat, inside.thick) {
			passed++
			continue
		}
		return inside.closed(m, passed), nil
	}
	return Parcel{}, &sequence.Error{Code: sequence.TooLarge, Message: fmt.Sprintf("No mailer on the shelf holds %s.", counted(copies)), Hint: most(of, shelf, mailers)}
}

func mailersOf(shelf []Material) []Material {
	var list []Material
	for _, m := range shelf {
		if m.Kind == Mailer {
			list = append(list, m)
		}
	}
	slices.SortStableFunc(list, func(a, b Material) int {
		if c := cmp.Compare(a.Outside.Width*a.Outside.Height, b.Outside.Width*b.Outside.Height); c != 0 {
			return c
		}
		if c := cmp.Compare(a.Mass, b.Mass); c != 0 {
			return c
		}
		return cmp.Compare(a.Deepest, b.Deepest)
	})
	return list
}

func most(of edition.Copied, shelf, mailers []Material) string {
	best := 0
	for _, m := range mailers {
		for n := best + 1; n <= 200; n++ {
			inside := fill(n, of, shelf)
			if !holds(m, inside.flat, inside.thick) {
				break
			}
			best = n
		}
	}
	if best == 0 {
		return fmt.Sprintf("A copy is %s × %s and %s thick; enter a mailer that takes it.", of.Size.Width, of.Size.Height, of.Thickness)
	}
	return fmt.Sprintf("The largest holds %s: send several parcels, or enter a larger mailer.", counted(best))
}

func counted(n int) string {
	if n == 1 {
		return "1 copy"
	}
	return fmt.Sprintf("%d copies", n)
}

// filling is what goes into a mailer, before one is chosen.
type filling struct {
	Parcel
	flat  pages.Size
	thick pages.Length
}

func fill(copies int, of edition.Copied, shelf []Material) filling {
	n := edition.Mass(copies)
	in := filling{flat: of.Size, thick: pages.Length(copies) * of.Thickness}
	in.Copies = copies
	in.Contents = []Content{{counted(copies), copies, n * of.Mass}}
	in.Mass, in.Least, in.Most = n*of.Mass, n*of.Least, n*of.Most
	for _, m := range shelf {
		count := m.Each
		if m.Kind == Sleeve {
			count *= copies
		}
		if m.Kind == Mailer || count == 0 {
			continue
		}
		in.add(m, count)
		in.thick += pages.Length(count) * m.Wall
		in.Letter = in.Letter || m.Letter
	}
	return in
}

func (f *filling) add(m Material, count int) {
	mass := edition.Mass(count) * m.Mass
	f.Contents = append(f.Contents, Content{m.Name, count, mass})
	f.Mass, f.Least, f.Most = f.Mass+mass, f.Least+mass, f.Most+mass
}

// holds reports whether something of that size slides in, turned or not.
func holds(m Material, flat pages.Size, thick pages.Length) bool {
	need := pages.Size{Width: flat.Width + slack, Height: flat.Height + slack}
	return thick <= m.Deepest && (need.Within(m.Inside) || need.Turned().Within(m.Inside))
}

func (f filling) closed(m Material, passed int) Parcel {
	f.add(m, 1)
	f.Mailer = m.Name
	f.Length, f.Width = max(m.Outside.Width, m.Outside.Height), min(m.Outside.Width, m.Outside.Height)
	f.Thickness = f.thick + m.Wall
	switch passed {
	case 0:
		f.Why = fmt.Sprintf("“%s” is the smallest mailer.", m.Name)
	default:
		f.Why = fmt.Sprintf("“%s” is the smallest mailer that holds %s, %s thick; %d smaller do not.", m.Name, counted(f.Copies), f.thick, passed)
		if passed == 1 {
			f.Why = strings.Replace(f.Why, "1 smaller do not", "1 smaller does not", 1)
		}
	}
	return f.Parcel
}
