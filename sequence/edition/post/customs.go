package post

import (
	"slices"
	"strings"

	"pairwall/sequence/edition/orders"
)

// Spot is where something is posted or goes, as far as the customs ask.
type Spot struct {
	Country  orders.Country `json:"country"`
	Postcode string         `json:"postcode"`
}

// Need is whether a parcel needs a customs declaration.
type Need struct {
	Needed bool   `json:"needed"`
	Why    string `json:"why"`   // one sentence
	Doubt  string `json:"doubt"` // what to ask the post about; "" for nothing
}

// union are the countries whose goods move among each other without a declaration:
// the members of the European Union (Regulation (EU) 952/2013, article 4, from
// memory) and Monaco, which is in its customs territory.
var union = strings.Fields("AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MC MT NL PL PT RO SE SI SK")

// apart are places of member states outside the Union's customs or VAT territory,
// to which a declaration goes along (Regulation (EU) 952/2013, article 4, and
// Directive 2006/112/EC, article 6; the postcodes from memory).
var apart = []struct {
	country  orders.Country
	postcode string // begins so
	name     string
}{
	{"ES", "35", "the Canary Islands"}, {"ES", "38", "the Canary Islands"}, {"ES", "51", "Ceuta"}, {"ES", "52", "Melilla"},
	{"DE", "78266", "Büsingen"}, {"DE", "27498", "Heligoland"}, {"IT", "23041", "Livigno"}, {"IT", "22061", "Campione d’Italia"},
	{"GR", "63086", "Mount Athos"}, {"FI", "22", "Åland"},
}

// joined are pairs of countries that are one customs territory, or nearly; the
// second of each asks for a look.
var joined = []struct {
	one, other orders.Country
	doubt      string
}{
	{"CH", "LI", ""}, {"GB", "IM", ""}, {"US", "PR", "Ask whether your service wants a declaration to Puerto Rico."},
	{"IT", "SM", "San Marino is in a customs union with the Union, and the Italian post treats it much as inland: ask."},
	{"IT", "VA", "The Vatican is no part of the Union, and the Italian post treats it much as inland: ask."},
}

// Declared tells whether goods posted at from to to need a declaration.
func Declared(from, to Spot) Need {
	if !from.Country.Known() || !to.Country.Known() {
		return Need{Needed: false, Why: "Origin or destination is not known.", Doubt: "Say where it is posted and where it goes."}
	}
	for _, end := range []Spot{from, to} {
		if name := apartOf(end); name != "" && !(from.Country == to.Country && apartOf(from) == apartOf(to)) {
			return Need{Needed: true, Why: "Customs or tax stop at " + name + ", though it belongs to " + end.Country.Name() + ".", Doubt: "Ask your post office: it differs by place."}
		}
	}
	if from.Country == to.Country {
		return Need{Why: "It stays within " + from.Country.Name() + "."}
	}
	if within(from) && within(to) {
		return Need{Why: "Goods move freely within the European Union."}
	}
	if ulster(from) && to.Country == "GB" || from.Country == "GB" && ulster(to) {
		return Need{Why: "It stays within the United Kingdom.", Doubt: "Ask about parcels between Great Britain and Northern Ireland: the rules change."}
	}
	for _, pair := range joined {
		if (from.Country == pair.one && to.Country == pair.other) || (from.Country == pair.other && to.Country == pair.one) {
			return Need{Why: from.Country.Name() + " and " + to.Country.Name() + " are one customs territory.", Doubt: pair.doubt}
		}
	}
	return Need{Needed: true, Why: "It leaves the customs territory of " + from.Country.Name() + " for " + to.Country.Name() + "."}
}

func within(s Spot) bool { return slices.Contains(union, string(s.Country)) || ulster(s) }

// ulster reports whether a place is in Northern Ireland, where the Union's rules
// for goods hold.
func ulster(s Spot) bool {
	return s.Country == "GB" && strings.HasPrefix(strings.ToUpper(strings.TrimSpace(s.Postcode)), "BT")
}

func apartOf(s Spot) string {
	code := strings.ReplaceAll(s.Postcode, " ", "")
	code = strings.TrimPrefix(strings.ToUpper(code), string(s.Country)+"-")
	for _, a := range apart {
		if a.country == s.Country && strings.HasPrefix(code, a.postcode) && len(code) == 5 {
			return a.name
		}
	}
	return ""
}
