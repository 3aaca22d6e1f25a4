package orders

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/language"
	"golang.org/x/text/language/display"
	"golang.org/x/text/unicode/norm"

	"pairwall/sequence"
)

// Country is an ISO 3166-1 alpha-2 code in capitals, or XK for Kosovo, which the
// post uses though the standard has not given it; "" while it is not known.
type Country string

// Named is a country with its English name.
type Named struct {
	Code Country `json:"code"`
	Name string  `json:"name"`
}

// reserved are codes that the standard holds back for others' use; no post knows
// them as countries.
var reserved = []string{"AC", "CP", "CQ", "DG", "EA", "EU", "EZ", "FX", "IC", "SU", "TA", "UK", "UN", "QO", "ZZ"}

// newer are names that the library's tables (CLDR 32) do not have yet, or have
// longer than an address wants.
var newer = map[Country]string{
	"CD": "Democratic Republic of the Congo", "CG": "Republic of the Congo", "CI": "Côte d’Ivoire", "HK": "Hong Kong", "MK": "North Macedonia",
	"MM": "Myanmar", "MO": "Macao", "PS": "Palestine", "SZ": "Eswatini", "TR": "Türkiye",
}

// alias are further names in use, folded.
var alias = map[string]Country{
	"uk": "GB", "england": "GB", "scotland": "GB", "wales": "GB", "northern ireland": "GB", "great britain": "GB", "britain": "GB",
	"usa": "US", "us": "US", "u.s.a.": "US", "u.s.": "US", "united states of america": "US", "america": "US",
	"holland": "NL", "the netherlands": "NL", "czech republic": "CZ", "macedonia": "MK", "republic of ireland": "IE", "eire": "IE",
	"south korea": "KR", "korea": "KR", "republic of korea": "KR", "russian federation": "RU", "viet nam": "VN", "ivory coast": "CI",
	"taiwan, province of china": "TW", "swaziland": "SZ", "burma": "MM", "cape verde": "CV", "east timor": "TL", "macau": "MO",
	"vatican": "VA", "holy see": "VA", "bosnia": "BA", "slovak republic": "SK", "uae": "AE", "brasil": "BR", "schweiz/suisse": "CH",
}

// spoken are the languages in which countries are known by name: those of Europe,
// and those of the largest shops elsewhere.
var spoken = []string{"en", "de", "fr", "it", "es", "pt", "nl", "da", "sv", "nb", "fi", "is", "et", "lv", "lt", "pl", "cs", "sk", "hu", "sl",
	"hr", "bs", "sr", "sr-Latn", "mk", "bg", "ro", "sq", "el", "tr", "ru", "uk", "be", "ga", "ca", "eu", "gl", "mt", "ja", "zh", "zh-Hant", "ko", "he", "ar"}

// Countries lists all countries by their English names.
var Countries = sync.OnceValue(func() []Named {
	english := display.Regions(language.English)
	var all []Named
	for a := 'A'; a <= 'Z'; a++ {
		for b := 'A'; b <= 'Z'; b++ {
			code := string([]rune{a, b})
			region, err := language.ParseRegion(code)
			if err != nil || !region.IsCountry() || region.Canonicalize() != region || region.String() != code || slices.Contains(reserved, code) {
				continue
			}
			name, ok := newer[Country(code)]
			if !ok {
				name = strings.ReplaceAll(strings.ReplaceAll(english.Name(region), " & ", " and "), "St. ", "Saint ")
			}
			if name != "" { // codes of countries that are no more have none
				all = append(all, Named{Country(code), name})
			}
		}
	}
	slices.SortFunc(all, func(x, y Named) int { return strings.Compare(folded(x.Name), folded(y.Name)) })
	return all
})

// known is every country by its folded names. English ones come first: where two
// languages disagree, they stand.
var known = sync.OnceValue(func() map[string]Country {
	names := make(map[string]Country)
	add := func(name string, code Country) {
		if key := folded(name); key != "" && names[key] == "" {
			names[key] = code
		}
	}
	for _, c := range Countries() {
		add(c.Name, c.Code)
	}
	for name, code := range alias {
		add(name, code)
	}
	for _, tag := range spoken {
		regions := display.Regions(language.MustParse(tag))
		for _, c := range Countries() {
			if c.Code == "XK" && tag != "en" {
				continue
			}
			add(regions.Name(language.MustParseRegion(string(c.Code))), c.Code)
		}
	}
	return names
})

// folded is what names have in common that a reader takes for the same: case,
// accents, points and runs of space do not count.
func folded(name string) string {
	plain := strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Mn, r):
			return -1
		case r == '.' || r == '’' || r == '\'' || r == '-':
			return ' '
		}
		return r
	}, norm.NFKD.String(cases.Fold().String(name)))
	return strings.Join(strings.Fields(plain), " ")
}

// ParseCountry knows a country by its ISO 3166-1 code of two or three letters or
// three digits, or by its name in one of forty languages.
//
// Error: Invalid.
func ParseCountry(text string) (Country, error) {
	trimmed := strings.TrimSpace(text)
	if code := Country(strings.ToUpper(trimmed)); code.Known() {
		return code, nil
	}
	if code, ok := known()[folded(trimmed)]; ok {
		return code, nil
	}
	if code, ok := alias[strings.ToLower(trimmed)]; ok {
		return code, nil
	}
	if region, err := language.ParseRegion(strings.ToUpper(trimmed)); err == nil && len(trimmed) == 3 {
		if code := Country(region.String()); code.Known() {
			return code, nil
		}
	}
	return "", &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q is no country we know.", text),
		Hint: "Write its name, or its code of two letters (ISO 3166): IT, Japan, Österreich."}
}

// Known reports whether c is the code of a country.
func (c Country) Known() bool {
	return slices.ContainsFunc(Countries(), func(n Named) bool { return n.Code == c })
}

// Name is the country's English name; "" for one there is not.
func (c Country) Name() string {
	for _, n := range Countries() {
		if n.Code == c {
			return n.Name
		}
	}
	return ""
}
