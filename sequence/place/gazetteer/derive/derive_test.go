package main

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"flag"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var regenerate = flag.Bool("regenerate", false, "write ../testdata/three.bin anew")

const threeFile = "../testdata/three.bin"

// three towns, out of order, one of them in a script of its own.
var three = []city{
	{name: "Тест", country: "ME", feature: "PPL", lat: 42_42067, lng: 18_76825, people: 0},
	{name: "Južni Kraj", country: "AQ", feature: "PPL", lat: -89_99999, lng: -180_00000, people: 1},
	{name: "L'Isola", country: "IT", feature: "PPLC", lat: 42_42067, lng: 18_76824, people: 2_000_000_000},
}

// record writes a city as the source does, as a difference from the one before.
func record(c city, lat, lng int64) []byte {
	var b []byte
	text := func(field uint64, s string) {
		b = binary.AppendUvarint(b, field<<3|wireBytes)
		b = binary.AppendUvarint(b, uint64(len(s)))
		b = append(b, s...)
	}
	number := func(field, n uint64) {
		b = binary.AppendUvarint(b, field<<3|wireVarint)
		b = binary.AppendUvarint(b, n)
	}
	zigzag := func(n int64) uint64 { return uint64(n<<1) ^ uint64(n>>63) }
	number(1, 12345)
	text(fieldName, c.name)
	text(fieldCountry, c.country)
	text(5, "some municipality")
	text(fieldFeature, c.feature)
	if c.people > 0 {
		number(fieldPeople, c.people)
	}
	number(fieldLng, zigzag(c.lng-lng))
	number(fieldLat, zigzag(c.lat-lat))
	return append(binary.AppendUvarint(nil, uint64(len(b))), b...)
}

func source(cities []city) []byte {
	var b []byte
	var lat, lng int64
	for _, c := range cities {
		b = append(b, record(c, lat, lng)...)
		lat, lng = c.lat, c.lng
	}
	return b
}

func TestRecordsAreReadAsTheSourceWritesThem(t *testing.T) {
	got, err := readCities(source(three))
	if err != nil || !slices.Equal(got, three) {
		t.Errorf("read %+v, %v; want %+v", got, err, three)
	}
}

func TestABrokenSourceIsRefused(t *testing.T) {
	whole := source(three)
	for n := 1; n < len(whole); n++ {
		got, err := readCities(whole[:n])
		if err == nil && len(got) >= len(three) {
			t.Errorf("%d of %d bytes gave %d cities", n, len(whole), len(got))
		}
	}
	for _, broken := range []string{"\x02\x0d\x00", "\x01\x80", "\x03\x12\x7fa", strings.Repeat("\xff", 20)} {
		if got, err := readCities([]byte(broken)); err == nil {
			t.Errorf("%q gave %+v", broken, got)
		}
	}
}

func TestOnlyTownsAreKeptInOrderOfLatitude(t *testing.T) {
	cities := slices.Clone(three)
	for _, feature := range leftOut {
		cities = append(cities, city{name: feature, feature: feature})
	}
	got := inhabited(cities)
	if want := []city{three[1], three[2], three[0]}; !slices.Equal(got, want) {
		t.Errorf("kept %+v, want %+v", got, want)
	}
}

func TestWhatDoesNotFitTheFormIsRefused(t *testing.T) {
	for _, bad := range []city{
		{name: "", country: "IT"}, {name: "a\nb", country: "IT"}, {name: "a", country: "I"},
		{name: "a", country: "??"}, {name: "a", country: "IT", lat: 90_00001},
		{name: "a", country: "IT", lng: -180_00001}, {name: "a", country: "IT", people: 1 << 31},
	} {
		if _, err := encode([]city{bad}); err == nil {
			t.Errorf("%+v was put into a table", bad)
		}
	}
	if err := derive(filepath.Join("..", "doc.go"), filepath.Join(t.TempDir(), "towns.bin")); err == nil {
		t.Error("a table was made of a file of unknown hash")
	}
}

// The bytes inside are compared, not the packed ones: another version of Go may
// pack better.
func TestTheFormIsTheOneTheGazetteerReads(t *testing.T) {
	table, err := encode(inhabited(three))
	if err != nil {
		t.Fatal(err)
	}
	if *regenerate {
		if err := os.WriteFile(threeFile, table, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(threeFile)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := unpacked(t, table), unpacked(t, want); !bytes.Equal(got, want) {
		t.Errorf("wrote %q, the gazetteer's test reads %q", got, want)
	}
}

func unpacked(t *testing.T, table []byte) []byte {
	t.Helper()
	body, ok := bytes.CutPrefix(table, []byte(magic))
	if !ok {
		t.Fatalf("no magic: %q", table)
	}
	inside, err := io.ReadAll(flate.NewReader(bytes.NewReader(body)))
	if err != nil {
		t.Fatal(err)
	}
	return inside
}

func FuzzReadCities(f *testing.F) {
	f.Add(source(three))
	f.Add([]byte("\x02\x08\x01"))
	f.Fuzz(func(t *testing.T, b []byte) {
		cities, err := readCities(b)
		if err == nil && len(cities) > len(b) {
			t.Fatalf("%d cities from %d bytes", len(cities), len(b))
		}
		if table, err := encode(inhabited(cities)); err == nil && len(table) < len(magic) {
			t.Fatalf("a table of %d bytes", len(table))
		}
	})
}
