package post

import (
	"fmt"
	"slices"
	"strings"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/pages"
)

// Class is what an item is to the post.
type Class string

// The classes.
const (
	Letter        Class = "letter"
	SmallPacket   Class = "small packet"
	PrintedMatter Class = "printed matter"
	ParcelPost    Class = "parcel"
)

// Classes lists them.
func Classes() []Class { return []Class{Letter, SmallPacket, PrintedMatter, ParcelPost} }

// Limit is what a class may weigh and measure. A 0 is no limit.
type Limit struct {
	Class     Class          `json:"class"`
	From      orders.Country `json:"from"`   // country of posting; "" for any
	Inland    bool           `json:"inland"` // for items within that country, otherwise for those abroad
	Heaviest  edition.Mass   `json:"heaviest"`
	Longest   pages.Length   `json:"longest"` // of its longest side
	Sum       pages.Length   `json:"sum"`     // of length, width and thickness
	Thickest  pages.Length   `json:"thickest"`
	ShortFace pages.Length   `json:"shortFace"` // the least of its face, shorter side
	LongFace  pages.Length   `json:"longFace"`  // longer side
	Source    string         `json:"source"`    // where it was read
	Day       string         `json:"day"`       // when, yyyy-mm-dd
}

// conventionSource names the international limits. They were read through
// secondary pages.
const conventionSource = "Universal Postal Union, letter-post limits, read through secondary pages; your post may set others"

// FirstLimits are the international limits for items abroad, from any country.
// What holds within a country differs too much to be built in.
func FirstLimits() []Limit {
	limit := func(class Class, heaviest edition.Mass) Limit {
		return Limit{Class: class, Heaviest: heaviest, Longest: 600, Sum: 900, ShortFace: 90, LongFace: 140, Source: conventionSource, Day: "2026-11-25"}
	}
	return []Limit{limit(Letter, 2*edition.Kilogram), limit(SmallPacket, 2*edition.Kilogram), limit(PrintedMatter, 5*edition.Kilogram)}
}

// CheckLimits refuses a table that makes no sense.
//
// Error: Invalid.
func CheckLimits(list []Limit) error {
	for _, l := range list {
		lengths := []pages.Length{l.Longest, l.Sum, l.Thickest, l.ShortFace, l.LongFace}
		bad := slices.ContainsFunc(lengths, func(x pages.Length) bool { return !(x >= 0 && x <= 5000) }) || l.Heaviest < 0 || l.Heaviest > 100*edition.Kilogram
		bad = bad || !slices.Contains(Classes(), l.Class) || (l.From != "" && !l.From.Known()) || (l.Inland && l.From == "") || len([]rune(l.Source)) > 500
		if bad || len(list) > 200 {
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The limits of %q make no sense.", l.Class), Hint: "Limits are in millimetres and grams; 0 is no limit. Those within a country name it."}
		}
	}
	return nil
}

// limitFor finds the limit of a class: the country's own before that of any.
func limitFor(list []Limit, class Class, from orders.Country, inland bool) (Limit, bool) {
	for _, country := range []orders.Country{from, ""} {
		for _, l := range list {
			if l.Class == class && l.From == country && l.Inland == inland {
				return l, true
			}
		}
	}
	return Limit{}, false
}

// breaks tells which limit a parcel breaks, "" for none.
func (l Limit) breaks(p Parcel) string {
	over := func(what string, is, most pages.Length) string {
		return fmt.Sprintf("%s %s, at most %s", what, is, most)
	}
	switch {
	case l.Heaviest > 0 && p.Mass > l.Heaviest:
		return fmt.Sprintf("weighs %s, at most %s", p.Mass, l.Heaviest)
	case l.Longest > 0 && p.Length > l.Longest:
		return over("is long", p.Length, l.Longest)
	case l.Sum > 0 && p.Length+p.Width+p.Thickness > l.Sum:
		return over("measures in all", p.Length+p.Width+p.Thickness, l.Sum)
	case l.Thickest > 0 && p.Thickness > l.Thickest:
		return over("is thick", p.Thickness, l.Thickest)
	case l.ShortFace > 0 && p.Width < l.ShortFace, l.LongFace > 0 && p.Length < l.LongFace:
		return fmt.Sprintf("has a face of %s × %s, at least %s × %s", p.Width, p.Length, l.ShortFace, l.LongFace)
	}
	return ""
}

// refuses tells why a class may not carry a parcel, "" when it may.
func refuses(p Parcel, class Class, limits []Limit, from orders.Country, inland bool) string {
	if class == PrintedMatter && p.Letter {
		return "printed matter may hold no personal message"
	}
	if l, known := limitFor(limits, class, from, inland); known {
		if broken := l.breaks(p); broken != "" {
			return strings.TrimSpace(broken)
		}
	}
	return ""
}
