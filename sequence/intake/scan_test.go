package intake

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
	"pairwall/sequence/place"
)

// now stands for the day of bringing in.
var now = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

func TestRealScansAreTold(t *testing.T) {
	root := photosFolder(t)
	cases := []struct {
		name    string
		scan    bool
		source  place.Source
		scanned string
	}{
		{"scans/FujiFilm SP-2500.jpg", true, place.FromScanner, "2003-09-10"},
		{"scans/Kodak CLAS Digital Film Scanner HR200 (1).jpg", true, place.FromScanner, "2001-01-11"},
		{"edge/Apple iPhone 5.jpg", false, place.FromCamera, "2012-09-29"},
		{"edge/Olympus PEN E-P3.jpg", false, place.FromCamera, "2013-08-27"},
		{"rome-2024/BDH_10_1I_0127.jpg", false, place.FromCamera, "2024-08-10"},
		{"no-exif/Picture_0B_by_freespace.jpg", false, "", "0001-01-01"},
	}
	for _, c := range cases {
		photo, err := Read(context.Background(), filepath.Join(root, c.name), t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		if photo.Scan != c.scan || photo.Taken.Source != c.source || photo.Taken.From.Format(time.DateOnly) != c.scanned {
			t.Errorf("%s: scan %v, %q %s", c.name, photo.Scan, photo.Taken.Source, photo.Taken.From)
		}
		if c.scan && photo.Taken.CountsAsTaken() {
			t.Errorf("%s: the day of scanning counts as the day of taking", c.name)
		}
	}
}

func TestWhatOnlyACameraKnowsSpeaksAgainstAScan(t *testing.T) {
	const scanned, other = "2024:03:02 10:00:00", "2023:08:14 17:20:00"
	scanner := header.Said{Make: "Unheard of", Model: "F-1", Digitized: scanned, Changed: scanned}
	with := func(change func(*header.Said)) header.Said {
		s := scanner
		change(&s)
		return s
	}
	cases := []struct {
		name     string
		said     header.Said
		labelled bool
		scan     bool
	}{
		{"make, model and the day of scanning only", scanner, false, true},
		{"a camera's file that a program stripped", with(func(s *header.Said) { s.Original = "2024:03:02 09:59:58" }), false, false},
		{"the same with a lab's name", with(func(s *header.Said) { s.Original = "2024:03:02 09:59:58" }), true, true},
		{"make, model and the file's date", with(func(s *header.Said) { s.Digitized = "" }), false, false},
		{"a camera whose clock was never set", with(func(s *header.Said) { s.Original, s.Digitized = "0000:00:00 00:00:00", "0000:00:00 00:00:00" }), false, false},
		{"a flash or a zone", with(func(s *header.Said) { s.Operated = true }), true, false},
		{"the day of taking is blank", with(func(s *header.Said) { s.Original = "    :  :     :  :  " }), false, true},
		{"an exposure", with(func(s *header.Said) { s.Exposed = true }), false, false},
		{"a lens", with(func(s *header.Said) { s.Lens = "50 mm" }), false, false},
		{"a position", with(func(s *header.Said) { s.Position = &place.LatLng{Lat: 45, Lng: 13} }), false, false},
		{"a day of its own", with(func(s *header.Said) { s.Original = other }), false, false},
		{"a day of its own, but a scanner by name", with(func(s *header.Said) { s.Original, s.Model = other, "Film Scanner 3" }), false, true},
		{"says so itself, whatever else", with(func(s *header.Said) { s.Scanner, s.Exposed = true, true }), false, true},
		{"nothing said at all", header.Said{}, false, false},
		{"nothing said, a lab's name", header.Said{}, true, true},
		{"a lab's name on a camera's file", header.Said{Exposed: true, Original: other}, true, false},
		{"only a program's name", header.Said{Software: "Some editor 4", Changed: scanned}, false, false},
	}
	for _, c := range cases {
		if got := isScan(c.said, c.labelled); got != c.scan {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

func TestLabsNamesGiveRollAndFrame(t *testing.T) {
	cases := []struct{ path, roll, frame string }{
		{"000418730012.jpg", "00041873", "12"},
		{"scans/000418730012_12A.tif", "00041873", "12"},
		{"000418730001-00A.jpg", "00041873", "1"},
		{"order/00041873/000001.jpg", "00041873", "1"},
		{"7712-03/000036.tif", "7712-03", "36"},
		{"R1-00046-0000A.JPG", "R1-00046", "0A"},
		{"R2-00046-036A.JPG", "R2-00046", "36A"},
		{"R1-00046-0012.jpg", "R1-00046", "12"},
		{"Trieste/000001.jpg", "", ""},
		{"2024/000001.jpg", "", ""},
		{"2024-08-14/000001.jpg", "", ""},
		{"202408141720.jpg", "", ""},
		{"IMG_0001.jpg", "", ""},
		{"DSC00412.JPG", "", ""},
		{"20240814_172005.jpg", "", ""},
		{"1234567.jpg", "", ""},
		{"00041873001.jpg", "", ""},
	}
	for _, c := range cases {
		l, ok := labName(c.path)
		if ok != (c.roll != "") || l.roll != c.roll || l.frame != c.frame {
			t.Errorf("%s: roll %q frame %q (%v), want %q %q", c.path, l.roll, l.frame, ok, c.roll, c.frame)
		}
	}
}

func TestADateIsOnlyWhatItCanBe(t *testing.T) {
	cases := []struct {
		name    string
		said    header.Said
		scan    bool
		want    string // "" for unknown
		source  place.Source
		finding string
	}{
		{"a camera's", header.Said{Original: "2024:09:28 11:03:29", OriginalOffset: "+02:00"}, false, "2024-09-28T11:03:29", place.FromCamera, ""},
		{"to the hundredth", header.Said{Original: "2024:09:28 11:03:29", SubSecond: "25"}, false, "2024-09-28T11:03:29.25", place.FromCamera, ""},
		{"a fraction that is none", header.Said{Original: "2024:09:28 11:03:29", SubSecond: "x1"}, false, "2024-09-28T11:03:29", place.FromCamera, ""},
		{"blank", header.Said{Original: "    :  :     :  :  "}, false, "", "", ""},
		{"blank, but digitized", header.Said{Original: " ", Digitized: "2019:01:02 03:04:05"}, false, "2019-01-02T03:04:05", place.FromCamera, ""},
		{"zeros", header.Said{Original: "0000:00:00 00:00:00"}, false, "", "", "never set"},
		{"thirteenth month", header.Said{Original: "2024:13:01 00:00:00"}, false, "", "", "no such date"},
		{"the future", header.Said{Original: "2099:08:12 19:59:29"}, false, "", "", "future"},
		{"rubbish", header.Said{Original: "yesterday"}, false, "", "", "not written"},
		{"when the file was changed is not when it was taken", header.Said{Changed: "2017:02:27 02:49:47"}, false, "", "", ""},
		{"a scan's", header.Said{Digitized: "2003:09:10 20:59:18", Changed: "2003:09:10 20:59:18"}, true, "2003-09-10T20:59:18", place.FromScanner, ""},
		{"a scan's, changed only", header.Said{Changed: "2003:09:10 20:59:18"}, true, "2003-09-10T20:59:18", place.FromScanner, ""},
		{"a scan somebody dated", header.Said{Original: "1998:07:01 12:00:00", Digitized: "2003:09:10 20:59:18", Changed: "2003:09:10 20:59:18"},
			true, "1998-07-01T12:00:00", place.FromNotes, ""},
	}
	for _, c := range cases {
		when, findings := taken(header.Header{Said: c.said}, c.scan, now)
		got := ""
		if when.Known() {
			got = when.From.Format("2006-01-02T15:04:05.999")
		}
		if got != c.want || when.Source != c.source {
			t.Errorf("%s: %q from %q, want %q from %q", c.name, got, when.Source, c.want, c.source)
		}
		if (c.finding == "") != (len(findings) == 0) || len(findings) > 0 && !strings.Contains(findings[0].Words, c.finding) {
			t.Errorf("%s: findings %v, want %q", c.name, findings, c.finding)
		}
	}
}

func TestAVoidReceiversPositionIsKeptWithAWarning(t *testing.T) {
	root := photosFolder(t)
	read := func(name string) (*place.Where, int) {
		photo, err := Read(context.Background(), filepath.Join(root, name), t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		return photo.Where, len(photo.Findings)
	}
	if where, findings := read("photos-cc0/singaporean-cityscape.jpg"); where == nil || findings != 1 {
		t.Errorf("void with a position: %v, %d findings", where, findings)
	}
	if where, findings := read("rome-2024/BDH_10_1I_0127.jpg"); where != nil || findings != 0 {
		t.Errorf("void without a position: %v, %d findings", where, findings)
	}
	if where, findings := read("edge/Samsung GT-I9000 (Galaxy S).jpg"); where != nil || findings != 0 {
		t.Errorf("0,0: %v, %d findings", where, findings)
	}
}

func TestDatesSomebodyWroteCountAfterTheCameras(t *testing.T) {
	const camera, written, beside = "2024:09:28 11:03:29", "2020-01-01T10:00:00", "2021-02-02T10:00:00"
	scanner := header.Said{Digitized: "2003:09:10 20:59:18", Changed: "2003:09:10 20:59:18"}
	cases := []struct {
		name             string
		said             header.Said
		sidecar, written header.Written
		scan             bool
		want             string
		source           place.Source
	}{
		{"the camera's first", header.Said{Original: camera}, header.Written{Original: beside}, header.Written{Original: written}, false, "2024-09-28T11:03:29", place.FromCamera},
		{"then what lies beside", header.Said{Digitized: camera}, header.Written{Original: beside}, header.Written{Original: written}, false, beside, place.FromSidecar},
		{"whichever date that is", header.Said{}, header.Written{Created: beside}, header.Written{Original: written}, false, beside, place.FromSidecar},
		{"then what is written in", header.Said{Digitized: camera}, header.Written{}, header.Written{Original: "2024-09-28T11:03:30+02:00"}, false, "2024-09-28T11:03:30", place.FromNotes},
		{"IPTC's form", header.Said{}, header.Written{}, header.Written{Created: "20240928T110329+0200"}, false, "2024-09-28T11:03:29", place.FromNotes},
		{"when the camera digitized last", header.Said{Digitized: camera}, header.Written{}, header.Written{}, false, "2024-09-28T11:03:29", place.FromCamera},
		{"written where EXIF's cannot be", header.Said{Original: "0000:00:00 00:00:00"}, header.Written{}, header.Written{Created: "2024-09-28"}, false, "2024-09-28T00:00:00", place.FromNotes},
		{"written where that beside cannot be", header.Said{}, header.Written{Original: "0000-00-00"}, header.Written{Original: written}, false, written, place.FromNotes},
		{"a dated scan", scanner, header.Written{}, header.Written{Created: "1998-07"}, true, "1998-07-01T00:00:00", place.FromNotes},
		{"a scan dated beside it", scanner, header.Written{Created: "1998-07"}, header.Written{Created: "1999-08"}, true, "1998-07-01T00:00:00", place.FromSidecar},
		{"a scan of that day", header.Said{Digitized: scanner.Digitized}, header.Written{Original: "2003-09-10T20:59:18"}, header.Written{Created: "2003-09-10"}, true, "2003-09-10T20:59:18", place.FromScanner},
	}
	for _, c := range cases {
		when, _ := taken(header.Header{Said: c.said, Written: c.written, Sidecar: c.sidecar}, c.scan, now)
		if got := when.From.Format("2006-01-02T15:04:05"); got != c.want || when.Source != c.source {
			t.Errorf("%s: %s from %q, want %s from %q", c.name, got, when.Source, c.want, c.source)
		}
	}
}

func TestAPositionSaysWhereItIsWritten(t *testing.T) {
	at := func(lat float64) *place.LatLng { return &place.LatLng{Lat: lat, Lng: 13.7} }
	cases := []struct {
		name   string
		header header.Header
		lat    float64
		source place.Source // "" for no place
	}{
		{"the receiver's first", header.Header{Said: header.Said{Position: at(1)}, Sidecar: header.Written{Position: at(2)}, Written: header.Written{Position: at(3)}}, 1, place.FromCamera},
		{"then what lies beside", header.Header{Sidecar: header.Written{Position: at(2)}, Written: header.Written{Position: at(3)}}, 2, place.FromSidecar},
		{"then what is written in", header.Header{Written: header.Written{Position: at(3)}}, 3, place.FromNotes},
		{"written where EXIF's cannot be", header.Header{Said: header.Said{NoPosition: "absurd"}, Written: header.Written{Position: at(3)}}, 3, place.FromNotes},
		{"nothing", header.Header{}, 0, ""},
	}
	for _, c := range cases {
		got, findings := where(c.header)
		if len(findings) != 0 || (got == nil) != (c.source == "") || got != nil && (got.Lat != c.lat || got.Source != c.source) {
			t.Errorf("%s: %+v, %v", c.name, got, findings)
		}
	}
}

func TestADateThatAClockInventsIsUnknown(t *testing.T) {
	for date, why := range map[string]string{
		"0000:00:00 00:00:00": "never set", "1970:01:01 00:00:00": "start counting", "2038:01:19 03:14:07": "overflow",
		"1901:12:13 20:45:52": "overflow", "2099:08:12 19:59:29": "future", "1620:01:01 00:00:00": "1826",
		"2024:02:30 10:00:00": "no such date", "    :  :     :  :  ": "", "": "",
	} {
		when, findings := taken(header.Header{Said: header.Said{Original: date}}, false, now)
		if when.Known() || (why == "") != (len(findings) == 0) || why != "" && !strings.Contains(findings[0].Words, why) {
			t.Errorf("%q: %v, %v", date, when, findings)
		}
	}
	when, _ := taken(header.Header{Said: header.Said{Original: "2024-09-28T11:03:29.25+02:00"}}, false, now)
	if when.From.Format("2006-01-02T15:04:05.99") != "2024-09-28T11:03:29.25" || when.Offset == nil || *when.Offset != 120 {
		t.Errorf("ISO 8601: %+v", when)
	}
}

func TestWordsOfAFileKeepToTheLimits(t *testing.T) {
	long := strings.Repeat("ä", 3000)
	if got := []rune(caption(header.Header{Written: header.Written{Caption: long}})); len(got) != longestCaption {
		t.Errorf("%d runes", len(got))
	}
	if got := caption(header.Header{Said: header.Said{Make: "Abc Corp", Description: "The pier"}, Written: header.Written{Caption: "ABC DIGITAL CAMERA"}}); got != "The pier" {
		t.Errorf("%q", got)
	}
	var many []string
	for i := range 80 {
		many = append(many, "Word "+string(rune('a'+i%26))+string(rune('a'+i/26)))
	}
	many = append([]string{"Harbour; FERRY, ferry", long, " "}, many...)
	got := keywords(header.Header{Written: header.Written{Keywords: many}})
	if len(got) != mostKeywords || !slices.IsSorted(got) || !slices.Contains(got, "ferry") || slices.Contains(got, "FERRY") {
		t.Errorf("%d: %q", len(got), got)
	}
	statement := sequence.Statement{Photo: 1, Fact: sequence.FeelingFact, Now: sequence.Value{Words: got}}
	if _, err := (sequence.Photo{Number: 1}).State(statement); err != nil {
		t.Errorf("could not be stated again: %v", err)
	}
}
