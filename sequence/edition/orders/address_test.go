package orders

import (
	"encoding/json"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
)

// ISO 3166-1 lists 249 countries; the post knows Kosovo as well.
func TestEveryCountryOfTheStandardIsKnown(t *testing.T) {
	all := Countries()
	if len(all) != 250 {
		t.Errorf("%d countries", len(all))
	}
	names := map[string]bool{}
	for _, c := range all {
		if names[c.Name] || c.Name == "" || strings.Contains(c.Name, "&") {
			t.Errorf("%s is called %q", c.Code, c.Name)
		}
		names[c.Name] = true
		for _, text := range []string{string(c.Code), strings.ToLower(string(c.Code)), c.Name, " " + strings.ToUpper(c.Name)} {
			if got, err := ParseCountry(text); got != c.Code || err != nil {
				t.Errorf("%q is %q, %v", text, got, err)
			}
		}
	}
}

func TestACountryIsKnownAsItsPeopleWriteIt(t *testing.T) {
	for text, want := range map[string]Country{"Österreich": "AT", "osterreich": "AT", "ITALIA": "IT", "Deutschland": "DE", "日本": "JP", "Hrvatska": "HR", "Slovenija": "SI",
		"United States": "US", "U.S.A.": "US", "UK": "GB", "England": "GB", "ITA": "IT", "jpn": "JP", "380": "IT", "Czech Republic": "CZ", "Česko": "CZ", "Ελλάδα": "GR",
		"Magyarország": "HU", "Côte d'Ivoire": "CI", "South Korea": "KR", "Crna Gora": "ME", "Shqipëri": "AL", "Suisse": "CH", "Kosovo": "XK", "North Macedonia": "MK", "Turkey": "TR"} {
		if got, err := ParseCountry(text); got != want || err != nil {
			t.Errorf("%q is %q, %v; want %s", text, got, err, want)
		}
	}
	for _, text := range []string{"", "Atlantis", "ZZ", "EU", "QQQ", "000", "=1+1", strings.Repeat("x", 300)} {
		if got, err := ParseCountry(text); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%q is %q", text, got)
		}
	}
}

// ours are the countries whose layout is not that of the independent table, with
// the reason. Prefixes before postcodes are ours everywhere: see layouts.
var ours = map[string]string{
	"AC TA":       "no country of the standard",
	"AE NR MO GI": "the town is written where there is one",
	"AX":          "the country's own line says Åland",
	"CI GN IR KZ": "street first in Latin script, town and postcode after it",
	"GG JE":       "the country's own line says the island",
	"JP":          "a town in Latin script has a line, as the post asks",
	"LV":          "the region is not asked for any more",
	"CN TW":       "one line for region and postcode",
	"AM":          "the region is left out",
	"KP":          "no post goes there; as elsewhere",
	"MX TR":       "the region has a line",
	"US":          "no comma before the state (addressing standards of the country; from memory)",
	"MZ":          "as the table joins them, nobody could read it",
	"SG":          "the town is Singapore",
}

func TestAddressesAreLaidOutAsAnIndependentTableDoes(t *testing.T) {
	text, err := os.ReadFile("testdata/address_layouts.json")
	if err != nil {
		t.Fatal(err)
	}
	var judge map[string][]string
	if err := json.Unmarshal(text, &judge); err != nil {
		t.Fatal(err)
	}
	apart := map[string]bool{}
	for codes := range ours {
		for _, code := range strings.Fields(codes) {
			apart[code] = true
		}
	}
	prefix := regexp.MustCompile(`\b(?:[A-Z]{1,2}[- ]?)(CODE)`)
	same := 0
	for code, want := range judge {
		a := Addressee{Name: "NAME", Lines: []string{"LINE 1", "LINE 2"}, Postcode: "CODE", Town: "TOWN", Region: "REGION", Country: Country(code)}
		for i := range want {
			want[i] = prefix.ReplaceAllString(want[i], "$1")
		}
		got := a.Label(Country(code))
		if slices.Equal(got, want) == apart[code] {
			t.Errorf("%s: %q, the table has %q; known to differ: %v", code, got, want, apart[code])
		}
		if !apart[code] {
			same++
		}
	}
	if same < 160 {
		t.Errorf("only %d countries were compared", same)
	}
}

// Worked by hand from the addressing guide of the Universal Postal Union.
func TestTheCountryStandsLastAloneAndInCapitalsAbroad(t *testing.T) {
	for _, c := range []struct {
		to   Addressee
		from Country
		want string
	}{
		{Addressee{Name: "Nives Prelog", Lines: []string{"Obala 5"}, Postcode: "6330", Town: "Piran", Country: "SI"}, "IT", "Nives Prelog|Obala 5|6330 Piran|SLOVENIA"},
		{Addressee{Name: "Ada Bianchi", Lines: []string{"Via del Molo 3"}, Postcode: "34121", Town: "Trieste", Region: "TS", Country: "IT"}, "IT", "Ada Bianchi|Via del Molo 3|34121 Trieste TS"},
		{Addressee{Name: "J. Moss", Company: "Pier Books", Lines: []string{"12 Quay Row"}, Postcode: "EX4 3SR", Town: "Exeter", Region: "Devon", Country: "GB"}, "IT", "J. Moss|Pier Books|12 Quay Row|Exeter|EX4 3SR|UNITED KINGDOM"},
		{Addressee{Name: "R. Ode", Lines: []string{"9 Elm St Apt 4"}, Postcode: "97205", Town: "Portland", Region: "OR", Country: "US"}, "IT", "R. Ode|9 Elm St Apt 4|Portland OR 97205|UNITED STATES"},
		{Addressee{Name: "Kis Anna", Lines: []string{"Fő utca 4."}, Postcode: "1011", Town: "Budapest", Country: "HU"}, "IT", "Kis Anna|Budapest|Fő utca 4.|1011|HUNGARY"},
		{Addressee{Name: "山田 花子", Lines: []string{"丸の内1-1-1"}, Postcode: "100-0005", Region: "東京都", Town: "千代田区", Country: "JP"}, "IT", "〒100-0005|東京都千代田区|丸の内1-1-1|山田 花子|JAPAN"},
		{Addressee{Name: "Lea", Lines: []string{" ", "Rue  du Port 1"}, Town: "Nowhere", Country: "CW"}, "IT", "Lea|Rue du Port 1|Nowhere|CURAÇAO"},
	} {
		if got := strings.Join(c.to.Label(c.from), "|"); got != c.want {
			t.Errorf("%s\nwant %s", got, c.want)
		}
	}
}

func TestWhatAParcelLacksIsTold(t *testing.T) {
	good := Addressee{Name: "Ada Bianchi", Lines: []string{"Via del Molo 3"}, Postcode: "34121", Town: "Trieste", Region: "TS", Country: "IT"}
	if got := good.Doubts("IT"); len(got) != 0 {
		t.Errorf("%+v", got)
	}
	if got := (Addressee{Name: "At the fair"}).Doubts("IT"); len(got) != 0 {
		t.Errorf("hand to hand: %+v", got)
	}
	for name, c := range map[string]struct {
		spoil func(*Addressee)
		field string
		stops bool
	}{
		"name":     {func(a *Addressee) { a.Name = "" }, "name", true},
		"street":   {func(a *Addressee) { a.Lines = nil }, "lines", true},
		"town":     {func(a *Addressee) { a.Town = "" }, "town", true},
		"country":  {func(a *Addressee) { a.Country = "" }, "country", true},
		"no code":  {func(a *Addressee) { a.Postcode = "" }, "postcode", true},
		"odd code": {func(a *Addressee) { a.Postcode = "3412" }, "postcode", false},
		"state":    {func(a *Addressee) { a.Country, a.Postcode, a.Region = "US", "97205", "" }, "region", true},
		"long":     {func(a *Addressee) { a.Lines = []string{strings.Repeat("via ", 80)} }, "lines", false},
		"many":     {func(a *Addressee) { a.Lines = []string{"1", "2", "3", "4", "5", "6", "7"} }, "lines", false},
	} {
		a := good
		c.spoil(&a)
		got := a.Doubts("IT")
		if len(got) != 1 || got[0].Field != c.field || got[0].Stops != c.stops {
			t.Errorf("%s: %+v", name, got)
		}
	}
	for code, countries := range map[string]string{"EX4 3SR": "GB", "SW1A 1AA": "GB", "K1A 0B1": "CA", "1012 AB": "NL", "100-0005": "JP", "D-10115": "DE", "SI-6330": "SI", "00-950": "PL", "D02 AF30": "IE", "LV-1010": "LV", "1100-148": "PT", "97205-1234": "US"} {
		a := good
		a.Postcode, a.Country, a.Region = code, Country(countries), "X"
		if got := a.Doubts("IT"); len(got) != 0 {
			t.Errorf("%s %s: %+v", countries, code, got)
		}
	}
}
