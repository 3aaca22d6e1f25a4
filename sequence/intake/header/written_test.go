package header

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pairwall/sequence/place"
)

// packet wraps properties of one description.
func packet(attributes, elements string) []byte {
	return []byte(`<?xpacket begin="" id="W5M0MpCehiHzreSzNTczkc9d"?><x:xmpmeta xmlns:x="adobe:ns:meta/">` +
		`<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about=""` +
		` xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:exif="http://ns.adobe.com/exif/1.0/"` +
		` xmlns:photoshop="http://ns.adobe.com/photoshop/1.0/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" ` + attributes + `>` + elements +
		`</rdf:Description></rdf:RDF></x:xmpmeta><?xpacket end="w"?>`)
}

func TestXMPIsReadHoweverItIsWritten(t *testing.T) {
	trieste := &place.LatLng{Lat: 45.65, Lng: 13.775}
	cases := []struct {
		name   string
		packet []byte
		want   Written
	}{
		{"attributes", packet(`exif:DateTimeOriginal="2026-05-03T17:04:05+02:00" photoshop:DateCreated="2026-05" exif:GPSLatitude="45,39.0N" exif:GPSLongitude="13,46.5E"`, ""),
			Written{Original: "2026-05-03T17:04:05+02:00", Created: "2026-05", Position: trieste}},
		{"elements", packet("", `<exif:DateTimeOriginal>2026-05-03T17:04:05</exif:DateTimeOriginal><exif:GPSLatitude>45,39,0N</exif:GPSLatitude><exif:GPSLongitude>13,46,30E</exif:GPSLongitude>`),
			Written{Original: "2026-05-03T17:04:05", Position: trieste}},
		{"caption in languages", packet("", `<dc:description><rdf:Alt><rdf:li xml:lang="it">Molo</rdf:li><rdf:li xml:lang="x-default">The
			pier</rdf:li></rdf:Alt></dc:description>`), Written{Caption: "The pier"}},
		{"keywords", packet("", `<dc:subject><rdf:Bag><rdf:li>Harbour</rdf:li><rdf:li> ferry </rdf:li><rdf:li/></rdf:Bag></dc:subject>`),
			Written{Keywords: []string{"Harbour", "ferry"}}},
		{"when a program made its document", packet(`xmp:CreateDate="2018-04-14T13:42:30-07:00"`, ""), Written{}},
		{"south and west", packet(`exif:GPSLatitude="34,36.0S" exif:GPSLongitude="58,22.8W"`, ""), Written{Position: &place.LatLng{Lat: -34.6, Lng: -58.38}}},
		{"a position without a side", packet(`exif:GPSLatitude="45,39.0" exif:GPSLongitude="13,46.5E"`, ""), Written{}},
		{"a position at 0,0", packet(`exif:GPSLatitude="0,0N" exif:GPSLongitude="0,0E"`, ""), Written{}},
		{"beyond the pole", packet(`exif:GPSLatitude="91,0N" exif:GPSLongitude="13,0E"`, ""), Written{}},
		{"sixty minutes", packet(`exif:GPSLatitude="45,60N" exif:GPSLongitude="13,0E"`, ""), Written{}},
		{"cut off", packet(`photoshop:DateCreated="2026-05-03"`, strings.Repeat("x", 100))[:520], Written{Created: "2026-05-03"}},
		{"nothing", nil, Written{}},
		{"not XML", []byte("hello"), Written{}},
		{"nested without end", []byte(strings.Repeat("<a>", 100_000)), Written{}},
	}
	for _, c := range cases {
		got := readXMP(c.packet)
		if got.Position != nil && c.want.Position != nil {
			if math.Abs(got.Position.Lat-c.want.Position.Lat) > 1e-9 || math.Abs(got.Position.Lng-c.want.Position.Lng) > 1e-9 {
				t.Errorf("%s: %v", c.name, *got.Position)
			}
			got.Position = c.want.Position
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

// record writes one IPTC record.
func record(group, number byte, value string) []byte {
	out := []byte{0x1C, group, number}
	return append(binary.BigEndian.AppendUint16(out, uint16(len(value))), value...)
}

func TestIPTCIsReadInEitherAlphabet(t *testing.T) {
	utf8 := record(1, 90, "\x1b%G")
	cases := []struct {
		name string
		data []byte
		want Written
	}{
		{"everything", bytes.Join([][]byte{utf8, record(2, 120, "Fähre nach Bari"), record(2, 25, "Hafen"), record(2, 25, "Überfahrt"),
			record(2, 55, "20260503"), record(2, 60, "170405+0200")}, nil),
			Written{Caption: "Fähre nach Bari", Keywords: []string{"Hafen", "Überfahrt"}, Created: "20260503T170405+0200"}},
		{"Latin-1", record(2, 120, "F\xe4hre"), Written{Caption: "Fähre"}},
		{"a date alone", record(2, 55, "20260503"), Written{Created: "20260503"}},
		{"month not known", record(2, 55, "20260500"), Written{Created: "20260500"}},
		{"cut off", record(2, 120, "A long caption")[:9], Written{}},
		{"rubbish", []byte("rubbish"), Written{}},
	}
	for _, c := range cases {
		if got := readIPTC(c.data); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

// withSegments puts segments behind a JPEG's start.
func withSegments(data []byte, segments ...[]byte) []byte {
	out := bytes.Clone(data[:2])
	for _, s := range segments {
		out = append(binary.BigEndian.AppendUint16(append(out, 0xFF, s[0]), uint16(len(s)+1)), s[1:]...)
	}
	return append(out, data[2:]...)
}

func TestWordsAreFoundInAJPEG(t *testing.T) {
	block := append(record(2, 120, "From IPTC"), record(2, 25, "Harbour")...)
	resource := append([]byte("Photoshop 3.0\x008BIM\x04\x04\x00\x00"), binary.BigEndian.AppendUint32(nil, uint32(len(block)))...)
	app13 := append(append([]byte{0xED}, resource...), block...)
	app1 := append([]byte("\xE1http://ns.adobe.com/xap/1.0/\x00"), packet(`photoshop:DateCreated="2026-05-03"`, "")...)
	data := withSegments(photo(t, "rome-2024/BDH_10_1I_0127.jpg"), app13, app1)
	h, err := Read("jpeg", bytes.NewReader(data), int64(len(data)))
	if err != nil || h.Written.Caption != "From IPTC" || !reflect.DeepEqual(h.Written.Keywords, []string{"Harbour"}) || h.Written.Created != "2026-05-03" {
		t.Errorf("%v, %+v", err, h.Written)
	}
	// ExifTool 12.57 reads the description "blah" of this one.
	data = photo(t, "icc/paris_exif_xmp_icc.jpg")
	if h, err := Read("jpeg", bytes.NewReader(data), int64(len(data))); err != nil || h.xmp == nil {
		t.Errorf("%v, %d bytes of XMP", err, len(h.xmp))
	}
}

func TestTurnsAndMirrorsAreEXIFsOrientations(t *testing.T) {
	// Where the four corners, named clockwise from the upper left, come to lie.
	turned := func(corners string, turns, mirror int) string {
		for range turns { // against the clock, the upper right comes to the upper left
			corners = corners[1:] + corners[:1]
		}
		c := corners
		switch mirror {
		case 0:
			corners = c[3:4] + c[2:3] + c[1:2] + c[0:1]
		case 1:
			corners = c[1:2] + c[0:1] + c[3:4] + c[2:3]
		}
		return corners
	}
	// EXIF 2.32, 4.6.4: the visual place of row 0 and column 0.
	byOrientation := map[int]string{1: "abcd", 2: "badc", 3: "cdab", 4: "dcba", 5: "adcb", 6: "dabc", 7: "cbad", 8: "bcda"}
	for turns := range 4 {
		for mirror := -1; mirror < 2; mirror++ {
			if got := byOrientation[turnOf(turns, mirror)]; got != turned("abcd", turns, mirror) {
				t.Errorf("%d turns, mirror %d: %s, want %s", turns, mirror, got, turned("abcd", turns, mirror))
			}
		}
	}
}

// FuzzWritten reads anything as XMP, IPTC and what a JPEG keeps around it.
func FuzzWritten(f *testing.F) {
	f.Add(packet(`exif:GPSLatitude="45,39.0N" exif:GPSLongitude="13,46.5E"`, `<dc:subject><rdf:Bag><rdf:li>a</rdf:li></rdf:Bag></dc:subject>`))
	f.Add(append(record(1, 90, "\x1b%G"), record(2, 120, "caption")...))
	f.Add([]byte("Photoshop 3.0\x008BIM\x04\x04\x00\x00\x00\x00\x00\x05\x1c\x02\x78\x00\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, w := range []Written{readXMP(data), readIPTC(data), readIPTC(iptcIn(data))} {
			if w.Position != nil && !w.Position.Valid() || len(w.Keywords) > 1001 {
				t.Fatalf("%+v", w)
			}
		}
	})
}

// FuzzBoxes reads anything as HEIC, AVIF and WebP.
func FuzzBoxes(f *testing.F) {
	phone := photo(f, "heic/iphone.heic")
	f.Add(phone[:12<<10])
	for _, name := range []string{"pattern.heic", "pattern.avif", "lossy.webp", "half.webp"} {
		data, err := os.ReadFile(filepath.Join("..", "pixels", "testdata", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data[:min(len(data), 4096)])
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, kind := range []string{"heic", "avif", "webp"} {
			h, err := Read(kind, bytes.NewReader(data), int64(len(data)))
			if err == nil && (h.Width <= 0 || h.Height <= 0 || h.Turn < 0) {
				t.Fatalf("%s: %d × %d", kind, h.Width, h.Height)
			}
		}
	})
}
