package gazetteer

import (
	"cmp"
	"slices"
	"sort"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// folded is every name as fold gives it, each between two line feeds, with where
// each begins. It is made when somebody first types a name.
type folded struct {
	text   string
	starts []uint32
}

var foldedTowns = sync.OnceValue(func() *folded {
	t := towns()
	f := &folded{starts: make([]uint32, len(t.ends))}
	var all strings.Builder
	all.Grow(len(t.names) + 1)
	all.WriteByte('\n')
	for i := range t.ends {
		f.starts[i] = uint32(all.Len())
		all.WriteString(fold(t.name(i)))
		all.WriteByte('\n')
	}
	f.text = all.String()
	return f
})

// unmarked are letters that Unicode does not take apart into a plain letter and
// a mark, as people without that key type them.
var unmarked = map[rune]string{
	'đ': "d", 'ð': "d", 'ł': "l", 'ø': "o", 'æ': "ae", 'œ': "oe", 'ß': "ss",
	'ı': "i", 'ħ': "h", 'þ': "th", 'ŋ': "n", 'ŧ': "t", 'ə': "e",
}

// fold makes spellings equal that a maker would take for the same: small
// letters, no accents or other marks, hyphens as blanks, apostrophes and the
// rest left out. It works in any script: "Šibenik" is "sibenik", "L'Aquila" is
// "laquila", "Ёлка" is "елка".
func fold(name string) string {
	var b strings.Builder
	b.Grow(len(name))
	blank := true // so that none stands at the start
	for _, r := range norm.NFKD.String(name) {
		r = unicode.ToLower(r)
		switch plain, marked := unmarked[r]; {
		case marked:
			b.WriteString(plain)
			blank = false
		case unicode.Is(unicode.Mn, r):
		case unicode.IsLetter(r) && !unicode.Is(unicode.Lm, r), unicode.IsDigit(r):
			b.WriteRune(r)
			blank = false
		case (unicode.IsSpace(r) || unicode.Is(unicode.Pd, r) || r == '/') && !blank:
			b.WriteByte(' ')
			blank = true
		}
	}
	return strings.TrimSuffix(b.String(), " ")
}

// How well a name matches, best first.
const (
	wholeName = iota
	nameBegins
	wordBegins
	insideWord
)

type match struct {
	town int
	kind int
}

// Find gives at most n towns whose names match what a maker typed, case, accents
// and punctuation aside: first towns of exactly that name, then those whose names
// begin so, then those with a word that begins so, then those that hold it inside
// a word; among equals the most populous first. One or two letters match only
// beginnings. After a comma a country narrows it down, by its ISO code or the
// beginning of its English name: "piran, slo", "Pula, IT". Only the names in the
// table count, and it has one for each town: Rijeka is not found as Reka or Fiume.
func Find(query string, n int) []Town {
	const longest = 400 // bytes; no town's name comes near
	if n <= 0 || len(query) > longest {
		return nil
	}
	var found []match
	if name, country, ok := cutLast(query, ","); ok {
		if of := towns().inCountry(country); of != nil {
			found = matches(fold(name), of)
		}
	}
	if found == nil {
		found = matches(fold(query), func(int) bool { return true })
	}
	t := towns()
	slices.SortFunc(found, func(a, b match) int {
		return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(t.people[b.town], t.people[a.town]),
			cmp.Compare(t.name(a.town), t.name(b.town)), cmp.Compare(a.town, b.town))
	})
	var list []Town
	for _, m := range found[:min(n, len(found))] {
		list = append(list, t.town(m.town))
	}
	return list
}

func cutLast(s, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}

// inCountry tells the towns of the countries that text can mean, nil when it
// means none.
func (t *table) inCountry(text string) func(town int) bool {
	text = fold(text)
	meant := make([]bool, len(t.codes))
	some := false
	for i, code := range t.codes {
		if text == fold(code) || len(text) > 0 && strings.HasPrefix(fold(t.countries[i]), text) {
			meant[i], some = true, true
		}
	}
	if !some {
		return nil
	}
	return func(town int) bool { return meant[t.country[town]] }
}

// matches finds every town whose folded name holds query.
func matches(query string, wanted func(town int) bool) []match {
	if query == "" {
		return nil
	}
	f := foldedTowns()
	sought, anywhere := query, len([]rune(query)) > 2
	if !anywhere {
		sought = "\n" + query
	}
	var found []match
	for at := 0; ; {
		i := strings.Index(f.text[at:], sought)
		if i < 0 {
			return found
		}
		at += i + len(sought) - len(query)
		town := sort.Search(len(f.starts), func(j int) bool { return int(f.starts[j]) > at }) - 1
		name := f.name(town)
		at = int(f.starts[town]) + len(name) // on to the next name
		if wanted(town) {
			found = append(found, match{town, kindOf(name, query)})
		}
	}
}

func (f *folded) name(town int) string {
	end := len(f.text)
	if town+1 < len(f.starts) {
		end = int(f.starts[town+1])
	}
	return f.text[f.starts[town] : end-1]
}

func kindOf(name, query string) int {
	switch {
	case name == query:
		return wholeName
	case strings.HasPrefix(name, query):
		return nameBegins
	case strings.Contains(name, " "+query):
		return wordBegins
	}
	return insideWord
}
