package gazetteer

import (
	"slices"
	"strings"
	"testing"
)

func TestNamesAreFoundAsPeopleTypeThem(t *testing.T) {
	tests := []struct {
		query string
		want  []string // names and countries of the first towns
	}{
		{"Šibenik", []string{"Šibenik HR"}},
		{"Sibenik", []string{"Šibenik HR"}},
		{"  sIBENIK ", []string{"Šibenik HR"}},
		{"s\u030cibenik", []string{"Šibenik HR"}}, // the caron by itself
		{"korcula", []string{"Korčula HR"}},
		{"Đakovo", []string{"Đakovo HR"}},
		{"dakovo", []string{"Đakovo HR"}},
		{"portoroz", []string{"Portorož SI"}},
		{"L’Aquila", []string{"L'Aquila IT"}},
		{"laquila", []string{"L'Aquila IT"}},
		{"polignano a", []string{"Polignano a Mare IT"}},
		{"saint-denis", []string{"Saint-Denis RE", "Saint-Denis FR"}},
		{"zurich", []string{"Zürich CH", "Lake Zurich US"}},
		{"giessen", []string{"Gießen DE"}},
		{"bar", []string{"Bar ME", "Bar UA", "Barcelona ES"}},
		{"bari", []string{"Bari IT"}},
		{"piran, slovenia", []string{"Piran SI"}},
		{"Piran,si", []string{"Piran SI"}},
		{"pula", []string{"Pula HR", "Pula IT"}},
		{"Pula, ital", []string{"Pula IT"}},
		{"kotor, montenegro", []string{"Kotor ME"}},
		{"Rijeka", []string{"Rijeka HR"}},
		{"Московский", nil}, // the table has Latin names, with a few exceptions
	}
	for _, tt := range tests {
		var got []string
		for _, town := range Find(tt.query, len(tt.want)) {
			got = append(got, town.Name+" "+town.Country)
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%q finds %q, want %q", tt.query, got, tt.want)
		}
	}
}

func TestOneTownIsNotFoundByAnothersName(t *testing.T) {
	for query, other := range map[string]string{"Reka": "Rijeka", "Fiume": "Rijeka", "Split": "Spiš", "Vis, Italy": "Vis"} {
		for _, town := range Find(query, 1000) {
			if town.Name == other {
				t.Errorf("%q finds %+v", query, town)
			}
		}
	}
}

func TestNamesInOtherScriptsAreFoldedToo(t *testing.T) {
	for _, tt := range []struct{ name, want string }{
		{"Šibenik", "sibenik"}, {"L'Aquila", "laquila"}, {"‘Ajmān", "ajman"}, {"Ra’s Bayrūt", "ras bayrut"},
		{"Saint-Denis–en Val", "saint denis en val"}, {"ŁÓDŹ", "lodz"}, {"Ærøskøbing", "aeroskobing"},
		{"İzmir ı", "izmir i"}, {"Ёлка", "елка"}, {"Αθήνα", "αθηνα"}, {"قرية المدي", "قرية المدي"},
		{"東京", "東京"}, {"ﬁume", "fiume"}, {" - ", ""}, {"", ""}, {"A\nB\x00\xff", "a b"},
	} {
		if got := fold(tt.name); got != tt.want {
			t.Errorf("%q folds to %q, want %q", tt.name, got, tt.want)
		}
	}
	var others int
	f := foldedTowns()
	for i := range f.starts {
		if f.name(i) == "" {
			others++
		}
	}
	if others > 0 {
		t.Errorf("%d towns fold to nothing and cannot be found", others)
	}
}

func TestMatchesComeInOrder(t *testing.T) {
	found := Find("san", 100_000)
	if len(found) < 1000 {
		t.Fatalf("%d towns", len(found))
	}
	kinds := map[int]int{}
	for i, town := range found {
		kind := kindOf(fold(town.Name), "san")
		kinds[kind]++
		if i == 0 {
			continue
		}
		before := found[i-1]
		if was := kindOf(fold(before.Name), "san"); was > kind || was == kind && before.People < town.People {
			t.Fatalf("%+v comes before %+v", before, town)
		}
	}
	if len(kinds) != 4 {
		t.Errorf("kinds of match: %v", kinds)
	}
	if few := Find("san", 7); !slices.Equal(few, found[:7]) {
		t.Errorf("the first seven are %+v", few)
	}
}

// What Find does by searching one long text must be what looking at every name
// by itself gives.
func TestFindMissesNothing(t *testing.T) {
	all := towns()
	for _, query := range []string{"a", "bo", "kra", "san ma", "novi", "zz", "ø", "ville", "ш", "st j"} {
		want := 0
		for i := range all.country {
			name := fold(all.name(i))
			if strings.HasPrefix(name, fold(query)) || len([]rune(query)) > 2 && strings.Contains(name, fold(query)) {
				want++
			}
		}
		if got := len(Find(query, len(all.country))); got != want {
			t.Errorf("%q finds %d towns, want %d", query, got, want)
		}
	}
}

func TestNothingTypedFindsNothing(t *testing.T) {
	for _, query := range []string{"", " ", "-", ",", ", ,", "\n", "\x00", strings.Repeat("a", 500), "xyzzyx", "a\nb, IT\n"} {
		if got := Find(query, 5); query != "a\nb, IT\n" && len(got) > 0 {
			t.Errorf("%q finds %+v", query, got)
		}
	}
	for _, n := range []int{0, -1} {
		if got := Find("Piran", n); got != nil {
			t.Errorf("asked for %d: %+v", n, got)
		}
	}
}

func FuzzFind(f *testing.F) {
	for _, query := range []string{"Šibenik", "piran, slo", "l'aquila", "\xff\n", "東", "a", ",,", "Bar, Mo", "saint-"} {
		f.Add(query)
	}
	f.Fuzz(func(t *testing.T, query string) {
		found := Find(query, 20)
		if len(found) > 20 || !slices.Equal(found, Find(query, 20)) {
			t.Fatalf("%q finds %d towns, or others the second time", query, len(found))
		}
		whole, folded := fold(query), ""
		if name, _, ok := cutLast(query, ","); ok {
			folded = fold(name)
		}
		for _, town := range found {
			name := fold(town.Name)
			if !strings.Contains(name, whole) && (folded == "" || !strings.Contains(name, folded)) {
				t.Fatalf("%q finds %+v", query, town)
			}
			if !town.Valid() || town.CountryName == "" {
				t.Fatalf("%q finds %+v", query, town)
			}
		}
	})
}
