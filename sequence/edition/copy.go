package edition

import (
	"fmt"
	"slices"
	"strings"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// Series is one way of counting copies.
type Series string

// The series. Copies of the first are "7/100"; artist's proofs are counted in
// Roman numerals beside the edition and copies outside the trade (hors
// commerce) in their own, as printmakers do (common practice).
const (
	Numbered Series = "edition"
	Proof    Series = "proof"
	Outside  Series = "outside"
)

// AllSeries in the order in which they are listed.
func AllSeries() []Series { return []Series{Numbered, Proof, Outside} }

// Purpose is what a copy or an order is for.
type Purpose string

// The purposes.
const (
	ForSale    Purpose = "sale"
	ForDeposit Purpose = "deposit" // copies the law asks a library to have
	ForFriend  Purpose = "friend"
	ForPress   Purpose = "press"
	ForMaker   Purpose = "maker" // the maker keeps it
	ForShop    Purpose = "shop"  // of an order: to a shop, on consignment
)

// CopyPurposes are those a copy can be kept for.
func CopyPurposes() []Purpose { return []Purpose{ForSale, ForDeposit, ForFriend, ForPress, ForMaker} }

// OrderPurposes are those an order can have.
func OrderPurposes() []Purpose { return []Purpose{ForSale, ForDeposit, ForFriend, ForPress, ForShop} }

// Place is where a copy is.
type Place string

// The places.
const (
	Here    Place = "here"
	InShop  Place = "shop"    // on consignment, still the maker's
	Sold    Place = "sold"    // has an order
	Given   Place = "given"   // deposited, sent to the press, given away
	Damaged Place = "damaged" // not to be sold
)

// Places in the order in which they are listed.
func Places() []Place { return []Place{Here, InShop, Sold, Given, Damaged} }

// After is where a copy is once an order of that purpose has it.
func (p Purpose) After() Place {
	switch p {
	case ForSale:
		return Sold
	case ForShop:
		return InShop
	}
	return Given
}

// CopyRef names one copy within a title.
type CopyRef struct {
	Series Series `json:"series"`
	Number int    `json:"number"` // from 1
}

// Copy is one copy and where it is.
type Copy struct {
	CopyRef
	Mark  string  `json:"mark"` // what is written in it: "7/100", "A.P. II/V"
	For   Purpose `json:"for"`
	Place Place   `json:"place"`
	Shop  string  `json:"shop"`            // which, while Place is InShop
	Order int64   `json:"order,omitempty"` // that has it; 0 for none
	Note  string  `json:"note"`
}

// Free reports whether the copy can be sold now.
func (c Copy) Free() bool { return c.Place == Here && c.Order == 0 && c.For == ForSale }

// Edition is what the maker decided about the copies.
type Edition struct {
	Size    int         `json:"size"`    // numbered copies
	Proofs  int         `json:"proofs"`  // artist's proofs beside them
	Outside int         `json:"outside"` // copies outside the trade: overs, copies for deposit, press and friends
	Marked  bool        `json:"marked"`  // each copy has its number written in
	Signed  bool        `json:"signed"`
	Goods   Goods       `json:"goods"`
	Origin  string      `json:"origin"`  // country the copies were printed in, ISO 3166-1 alpha-2; "" while not said
	Price   Money       `json:"price"`   // of one copy; currency "" while not said
	Boards  pages.Paper `json:"boards"`  // of a hard case
	Weighed Mass        `json:"weighed"` // one finished copy on a scale; 0 while none was
	Pages   int         `json:"pages"`   // of the text; 0 takes what the wall has
}

// Goods is what a copy is to the customs.
type Goods string

// The goods, with their headings in the Harmonized System.
const (
	PrintedBook   Goods = "book"     // HS 4901.99
	LoosePictures Goods = "pictures" // HS 4911.91
)

// FirstEdition is what a title has before the maker decides.
var FirstEdition = Edition{Marked: true, Goods: PrintedBook}

// mostCopies is far beyond what one person packs; no source.
const mostCopies = 10_000

// Check refuses an edition that cannot be.
//
// Error: Invalid.
func (e Edition) Check() error {
	refuse := func(message, hint string) error {
		return &sequence.Error{Code: sequence.Invalid, Message: message, Hint: hint}
	}
	for _, s := range AllSeries() {
		if n := e.Of(s); n < 0 || n > mostCopies {
			return refuse(fmt.Sprintf("There cannot be %d copies.", n), fmt.Sprintf("Say from 0 to %d.", mostCopies))
		}
	}
	if e.Goods != PrintedBook && e.Goods != LoosePictures {
		return refuse(fmt.Sprintf("%q are no goods we know for a declaration.", e.Goods), `Say "book" or "pictures".`)
	}
	if e.Origin != "" && (len(e.Origin) != 2 || strings.ToUpper(e.Origin) != e.Origin) {
		return refuse(fmt.Sprintf("%q is no country.", e.Origin), "Choose one from the list.")
	}
	if e.Price.Currency != "" {
		if err := e.Price.Check(); err != nil {
			return err
		}
	}
	if e.Price.Minor < 0 {
		return refuse("A copy cannot cost less than nothing.", "")
	}
	if e.Pages < 0 || e.Pages > mostPages || e.Weighed < 0 || e.Weighed > MostMass {
		return refuse("No copy has so many pages or weighs so much.", "0 means that it was not said.")
	}
	return e.Build(pages.FirstFormat, 0).Check() // for the boards
}

// Build is what a copy is made of in a format, when the wall has so many pages.
func (e Edition) Build(f pages.Format, onWall int) Build {
	b := Build{Pages: onWall, Format: f, Boards: e.Boards, Weighed: e.Weighed}
	if e.Pages > 0 {
		b.Pages = e.Pages
	}
	return b
}

// Of is how many copies a series has.
func (e Edition) Of(s Series) int {
	switch s {
	case Numbered:
		return e.Size
	case Proof:
		return e.Proofs
	case Outside:
		return e.Outside
	}
	return 0
}

// Mark is what is written in a copy: "7/100", "A.P. II/V", "H.C. 3/10".
func (e Edition) Mark(of CopyRef) string {
	switch of.Series {
	case Proof:
		return "A.P. " + roman(of.Number) + "/" + roman(e.Proofs)
	case Outside:
		return fmt.Sprintf("H.C. %d/%d", of.Number, e.Outside)
	}
	return fmt.Sprintf("%d/%d", of.Number, e.Size)
}

func roman(n int) string {
	var text strings.Builder
	for _, step := range []struct {
		worth  int
		letter string
	}{{1000, "M"}, {900, "CM"}, {500, "D"}, {400, "CD"}, {100, "C"}, {90, "XC"}, {50, "L"}, {40, "XL"}, {10, "X"}, {9, "IX"}, {5, "V"}, {4, "IV"}, {1, "I"}} {
		for ; n >= step.worth; n -= step.worth {
			text.WriteString(step.letter)
		}
	}
	return text.String()
}

// Tally counts the copies of an edition.
type Tally struct {
	All     int           `json:"all"`
	Free    int           `json:"free"` // here, for sale and of no order
	By      map[Place]int `json:"by"`
	Waiting int           `json:"waiting"` // ordered, and no copy left for it
}

// Count tallies copies.
func Count(copies []Copy) Tally {
	t := Tally{All: len(copies), By: map[Place]int{}}
	for _, p := range Places() {
		t.By[p] = 0
	}
	for _, c := range copies {
		t.By[c.Place]++
		if c.Free() {
			t.Free++
		}
	}
	return t
}

// Move is what the maker does with copies that no order asks for.
type Move struct {
	Copies []CopyRef `json:"copies"`
	Place  Place     `json:"place,omitempty"` // "" leaves them where they are
	Shop   string    `json:"shop,omitempty"`  // for InShop
	For    Purpose   `json:"for,omitempty"`   // "" leaves what they are for
	Note   *string   `json:"note,omitempty"`
}

// longestNote, in runes, holds a paragraph; no source.
const longestNote = 2000

// Check refuses a move that says nothing or what only an order can say.
//
// Error: Invalid.
func (m Move) Check() error {
	refuse := func(message, hint string) error {
		return &sequence.Error{Code: sequence.Invalid, Message: message, Hint: hint}
	}
	switch {
	case len(m.Copies) == 0:
		return refuse("No copy was named.", "Choose one first.")
	case m.Place == Sold:
		return refuse("A copy is sold by an order.", "Enter the order; without an address it was sold hand to hand.")
	case m.Place == InShop && strings.TrimSpace(m.Shop) == "":
		return refuse("A shop needs a name.", "Say where the copies are.")
	case m.Place != "" && m.Place != Here && m.Place != InShop && m.Place != Given && m.Place != Damaged:
		return refuse(fmt.Sprintf("There is no place called %q.", m.Place), "")
	case m.For != "" && !slices.Contains(CopyPurposes(), m.For):
		return refuse(fmt.Sprintf("A copy cannot be for %q.", m.For), "")
	case len([]rune(m.Shop)) > 200 || m.Note != nil && len([]rune(*m.Note)) > longestNote:
		return refuse("That is too long.", "")
	}
	return nil
}
