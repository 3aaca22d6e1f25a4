package orders

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/cases"
	"golang.org/x/text/language"
)

// Addressee is one person and where they live. It is all that is personal of an
// order, besides the wish and the note.
type Addressee struct {
	Name     string   `json:"name"`
	Company  string   `json:"company"`
	Lines    []string `json:"lines"` // street and house, building, post box
	Postcode string   `json:"postcode"`
	Town     string   `json:"town"`
	Region   string   `json:"region"` // state, province, county, prefecture, where the country writes it
	Country  Country  `json:"country"`
	Email    string   `json:"email"`
	Phone    string   `json:"phone"`
}

// Nowhere reports whether no address is said: the copies change hands in person.
func (a Addressee) Nowhere() bool {
	return len(a.Lines) == 0 && a.Town == "" && a.Postcode == ""
}

// Layouts of addresses: S street lines, C postcode, T town, R region, | a new
// line; other signs stand for themselves where a field follows or came before.
const (
	codeBefore  = "S|C T"
	codeBelow   = "S|T|C"
	codeBehind  = "S|T C"
	codeRegion  = "S|C T R"
	regionCode  = "S|T R C"
	regionBelow = "S|C T|R"
	regionAbove = "S|T|R|C"
)

// layouts are how countries write addresses in Latin script, as the addressing
// guide of the Universal Postal Union has it. Deviation from tables that print
// a country's prefix before the postcode (A-, FI-, SI-): the guide asks for the
// country on a line of its own instead, so none is printed.
var layouts = func() map[Country]string {
	all := make(map[Country]string)
	for layout, codes := range map[string]string{
		codeBefore: "AD AT AX AZ BA BE BG BL CH CY CZ DE DK DO DZ EH ET FI FO FR GE GF GL GP GR GW HR HT IS KG KW LA LI LR LU MA MC MD ME MF MG MK MQ MZ " +
			"NC NE NL NO PL PM PT PY RE RS SE SI SJ SK SM SN TJ TM TN TZ VA WF XK YT ZM",
		codeBelow:   "AF AI FK GB GG GI GS IM IO JE KE LK NA PN SD SH SZ TC VG ZA",
		codeBehind:  "BH BM BN BT GU IL JO KH LB LS MT MV NP NZ PR SA SG VC",
		codeRegion:  "EE ES IT PF UY LT",
		regionCode:  "AS AU CA CC CX FM HM MH MP NF PW UM US VI",
		regionBelow: "AR CL CV MY UZ MX TR",
		regionAbove: "EG IE RU UA KR",
		"S|T|R":     "AE HK JM PA SC SR TV",
		"S|T, R":    "BS KN",
		"S|C|T":     "AL EC MU OM",
		"S|T|R C":   "CN ID MN TH VN TW JP",
		"S|T C|R":   "IN NG PE",
		"S|T-R|C":   "BR",
		"T|S|C":     "HU",
		"S|T, C":    "LV MM",
		"S|T - C":   "BD",
		"S|T-C":     "PK",
		"S|C R T":   "RO",
		"S|C, T|R":  "BY",
		"S|T, R, C": "CO",
		"S|R, T|C":  "CR",
		"S|C- T":    "GT",
		"S|C-T|R":   "SV",
		"S|T C, R":  "VE",
		"S|T C R":   "PG",
		"S|T|C R":   "PH",
		"S|T, R C":  "BB SO",
		"S|T R|C":   "CU",
		"S|T, R|C":  "HN IQ",
		"S|C|T, R":  "NI",
		"S|R|T":     "KI",
		"S|R C":     "KY",
	} {
		for _, code := range strings.Fields(codes) {
			all[Country(code)] = layout
		}
	}
	return all
}()

// Label is what an address label says, from the first line to the last. from is
// the country of posting: abroad, the country stands alone on the last line, in
// English and in capitals (Universal Postal Union: in the language of the
// country of posting or one known to posts; English is such).
func (a Addressee) Label(from Country) []string {
	lines := make([]string, 0, len(a.Lines)+5)
	add := func(line string) {
		if line = strings.Join(strings.Fields(line), " "); line != "" {
			lines = append(lines, line)
		}
	}
	if a.eastAsian() {
		a.fromTheLargest(add)
	} else {
		add(a.Name)
		add(a.Company)
		for _, part := range strings.Split(a.layout(), "|") {
			if part == "S" {
				for _, line := range a.Lines {
					add(line)
				}
				continue
			}
			add(a.filled(part))
		}
	}
	if a.Country != from && a.Country.Known() {
		add(cases.Upper(language.English).String(a.Country.Name()))
	}
	return lines
}

func (a Addressee) layout() string {
	if layout, ok := layouts[a.Country]; ok {
		return layout
	}
	return codeBehind
}

// filled writes one line of a layout. What stands before a field that is empty,
// and after nothing, is left out.
func (a Addressee) filled(part string) string {
	line, between := "", ""
	for _, sign := range part {
		var field string
		switch sign {
		case 'C':
			field = a.Postcode
		case 'T':
			field = a.Town
		case 'R':
			field = a.Region
		default:
			between += string(sign)
			continue
		}
		if field == "" {
			continue
		}
		if line != "" {
			line += between
		}
		line, between = line+field, ""
	}
	return line
}

// eastAsian reports whether the address is written in its country's own script,
// from the largest to the smallest.
func (a Addressee) eastAsian() bool {
	if !slices.Contains([]Country{"JP", "CN", "TW", "KR", "HK", "MO"}, a.Country) {
		return false
	}
	return strings.ContainsFunc(a.Town+a.Region+strings.Join(a.Lines, ""), func(r rune) bool {
		return unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul)
	})
}

func (a Addressee) fromTheLargest(add func(string)) {
	switch a.Country {
	case "JP":
		if a.Postcode != "" {
			add("〒" + strings.TrimPrefix(a.Postcode, "〒"))
		}
		add(a.Region + a.Town)
	case "KR":
		add(a.Region + " " + a.Town)
	default:
		add(a.Postcode)
		add(a.Region + a.Town)
	}
	for _, line := range a.Lines {
		add(line)
	}
	add(a.Company)
	add(a.Name)
	if a.Country == "KR" {
		add(a.Postcode)
	}
}

// LongestLine is how many letters a line of an address label holds: what fits on
// 63.5 mm less its margins in letters of 9 points (common practice, computed from
// half a letter's height as its mean width; a setting where labels are made).
const LongestLine = 36

// Doubt is something about an address that the maker should look at.
type Doubt struct {
	Field string `json:"field"` // of Addressee, in JSON's name
	Words string `json:"words"` // one sentence
	Stops bool   `json:"stops"` // a parcel cannot go out like this
}

// postcodes are patterns of postcodes whose shape is fixed, spaces left out
// (Universal Postal Union, postal addressing systems; from memory). 9 stands for
// a digit, A for a letter, * for either.
var postcodes = map[Country]string{
	"AT": "9999", "AU": "9999", "BE": "9999", "BG": "9999", "BR": "99999-?999", "CA": "A9A9A9", "CH": "9999", "CY": "9999", "CZ": "99999", "DE": "99999", "DK": "9999",
	"EE": "99999", "ES": "99999", "FI": "99999", "FR": "99999", "GR": "99999", "HR": "99999", "HU": "9999", "IE": "A9*****", "IN": "999999", "IS": "999",
	"IT": "99999", "JP": "999-?9999", "KR": "99999", "LI": "9999", "LT": "99999", "LU": "9999", "LV": "9999", "MC": "99999", "ME": "99999", "MK": "9999", "MX": "99999", "NL": "9999AA",
	"NO": "9999", "NZ": "9999", "PL": "99-?999", "PT": "9999(-?999)?", "RO": "999999", "RS": "99999", "RU": "999999", "SE": "99999", "SG": "999999", "SI": "9999",
	"SK": "99999", "SM": "4789*", "TR": "99999", "UA": "99999", "US": "99999(-?9999)?", "VA": "00120", "ZA": "9999",
	"GB": "A(A)?9(*)?9AA",
}

var shapes = func() map[Country]*regexp.Regexp {
	all := make(map[Country]*regexp.Regexp)
	for code, pattern := range postcodes {
		pattern = strings.NewReplacer("9", "[0-9]", "A", "[A-Z]", "*", "[A-Z0-9]", "(A)?", "[A-Z]?", "(*)?", "[A-Z0-9]?").Replace(pattern)
		all[code] = regexp.MustCompile("^(?:[A-Z]{1,2}-|" + string(code) + ")?(?:" + pattern + ")$")
	}
	return all
}()

// Doubts tells what a parcel lacks, and what may not fit a label. from is the
// country of posting.
func (a Addressee) Doubts(from Country) []Doubt {
	doubts := []Doubt{}
	add := func(field string, stops bool, words string, args ...any) {
		doubts = append(doubts, Doubt{field, fmt.Sprintf(words, args...), stops})
	}
	if a.Nowhere() {
		return doubts
	}
	if a.Name == "" && a.Company == "" {
		add("name", true, "Nobody is named.")
	}
	if !a.Country.Known() {
		add("country", true, "The country is not known.")
	}
	if len(a.Lines) == 0 {
		add("lines", true, "There is no street or post box.")
	}
	if a.Town == "" && a.Country != "SG" && a.Country != "GI" && a.Country != "KY" {
		add("town", true, "There is no town.")
	}
	a.doubtCode(add)
	for _, line := range a.Label(from) {
		if n := utf8.RuneCountInString(line); n > LongestLine {
			add("lines", false, "“%s” has %d letters; a small label holds about %d.", short(line), n, LongestLine)
		}
	}
	if n := len(a.Label(from)); n > 7 {
		add("lines", false, "The address has %d lines; a small label holds about 7.", n)
	}
	return doubts
}

func (a Addressee) doubtCode(add func(field string, stops bool, words string, args ...any)) {
	shape, has := shapes[a.Country]
	code := strings.ToUpper(strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '〒' {
			return -1
		}
		return r
	}, a.Postcode))
	switch {
	case has && code == "":
		add("postcode", true, "There is no postcode, and %s has them.", a.Country.Name())
	case has && !shape.MatchString(code):
		add("postcode", false, "“%s” does not look like a postcode of %s.", short(a.Postcode), a.Country.Name())
	}
	if (a.Country == "US" || a.Country == "CA" || a.Country == "AU") && a.Region == "" {
		add("region", true, "%s needs the state or province.", a.Country.Name())
	}
}

// short cuts a text that would fill the screen.
func short(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
