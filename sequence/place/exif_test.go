package place

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"time"
)

var today = time.Date(2026, time.November, 25, 12, 0, 0, 0, time.UTC)

// The first rows are strings that real files carry, from the photographs that
// intake is tested with; the others are forms of the EXIF, XMP (ISO 8601) and
// IPTC standards.
func TestParseEXIFReadsTheDatesThatFilesCarry(t *testing.T) {
	tests := []struct {
		name, value, offset string
		want                When
	}{
		{"a camera's", "2013:08:27 19:45:23", "", at("2013-08-27T19:45:23")},
		{"a phone's with its offset", "2024:09:28 11:03:29", "+02:00", atOffset("2024-09-28T11:03:29", 120)},
		{"ISO 8601 in an EXIF field", "2015-06-29T18:19:12+01:00", "", atOffset("2015-06-29T18:19:12", 60)},
		{"XMP with a zone", "2018:04:14 13:42:30-07:00", "", atOffset("2018-04-14T13:42:30", -420)},
		{"XMP with half an hour", "2016:09:23 23:53:41+05:30", "", atOffset("2016-09-23T23:53:41", 330)},
		{"XMP with a fraction", "2016:01:22 17:30:25.92", "", at("2016-01-22T17:30:25.92")},
		{"IPTC's date alone", "2024:08:10", "", Day(2024, time.August, 10, FromCamera)},
		{"midnight", "2004:11:10 00:00:31", "", at("2004-11-10T00:00:31")},

		{"a trailing NUL", "2006:01:02 15:04:05\x00", "+02:00\x00", atOffset("2006-01-02T15:04:05", 120)},
		{"rubbish after the NUL", "2006:01:02 15:04:05\x00\xff\xfe", "", at("2006-01-02T15:04:05")},
		{"spaces around", "  2006:01:02 15:04:05  ", " -05:00 ", atOffset("2006-01-02T15:04:05", -300)},
		{"a blank offset", "2006:01:02 15:04:05", "   :  ", at("2006-01-02T15:04:05")},
		{"an offset nobody can read", "2006:01:02 15:04:05", "summer", at("2006-01-02T15:04:05")},
		{"an offset no place has", "2006:01:02 15:04:05", "+25:00", at("2006-01-02T15:04:05")},
		{"an offset with 75 minutes", "2006:01:02 15:04:05", "+02:75", at("2006-01-02T15:04:05")},
		{"UTC", "2006-01-02T15:04:05Z", "", atOffset("2006-01-02T15:04:05", 0)},
		{"zone and offset agree", "2006-01-02T15:04:05+02:00", "+02:00", atOffset("2006-01-02T15:04:05", 120)},
		{"zone and offset contradict", "2006-01-02T15:04:05Z", "+02:00", at("2006-01-02T15:04:05")},
		{"an unreadable offset beside a zone", "2006-01-02T15:04:05+02:00", "?", atOffset("2006-01-02T15:04:05", 120)},
		{"no seconds", "2006-01-02T15:04", "", at("2006-01-02T15:04:00")},
		{"seconds blanked out", "2006:01:02 15:04:  ", "", at("2006-01-02T15:04:00")},
		{"time blanked out", "2006:01:02   :  :  ", "", Day(2006, time.January, 2, FromCamera)},
		{"day and time blanked out", "2006:02:     :  :  ", "", Span(wall("2006-02-01T00:00:00"), wall("2006-02-28T00:00:00"), FromCamera)},
		{"month alone", "2024-02", "", Span(wall("2024-02-01T00:00:00"), wall("2024-02-29T00:00:00"), FromCamera)},
		{"year alone", "1987", "", Span(wall("1987-01-01T00:00:00"), wall("1987-12-31T00:00:00"), FromCamera)},
		{"the year we are in", "2026", "", Span(wall("2026-01-01T00:00:00"), wall("2026-12-31T00:00:00"), FromCamera)},
		{"ISO 8601 basic", "20060102T150405.5Z", "", atOffset("2006-01-02T15:04:05.5", 0)},
		{"ISO 8601 basic, date alone", "20060102", "", Day(2006, time.January, 2, FromCamera)},
		{"IPTC date and time joined", "20240810132532+0200", "", atOffset("2024-08-10T13:25:32", 120)},
		{"slashes", "2006/01/02 15:04:05", "", at("2006-01-02T15:04:05")},
		{"one digit where two belong", "2006:1:2 5:04:05", "", at("2006-01-02T05:04:05")},
		{"a comma before the fraction", "2006-01-02T15:04:05,1234567899", "", at("2006-01-02T15:04:05.123456789")},
		{"the leap day", "2024:02:29 12:00:00", "", at("2024-02-29T12:00:00")},
		{"the first year of photography", "1826:01:01 00:00:00", "", at("1826-01-01T00:00:00")},
		{"a second after the epoch", "1970:01:01 00:00:01", "", at("1970-01-01T00:00:01")},
		{"New Year 1970 as a date", "1970:01:01", "", Day(1970, time.January, 1, FromCamera)},
		{"a clock two days fast", "2026:11:27 11:59:59", "", at("2026-11-27T11:59:59")},
		{"the far side of the date line", "2026:11:27 20:00:00", "+14:00", atOffset("2026-11-27T20:00:00", 840)},
	}
	for _, tt := range tests {
		got, err := ParseEXIF(tt.value, tt.offset, FromCamera, today)
		if err != nil || !reflect.DeepEqual(got, tt.want) {
			t.Errorf("%s: %q %q is %v (%v), want %v", tt.name, tt.value, tt.offset, got, err, tt.want)
		}
	}
}

func TestParseEXIFSaysWhichDateItRefuses(t *testing.T) {
	tests := []struct {
		name, value, offset string
		want                error
	}{
		{"a film scanner's blanks", "    :  :     :  :  ", "", ErrBlankDate},
		{"nothing", "", "", ErrBlankDate},
		{"NULs", "\x00\x00\x00", "", ErrBlankDate},
		{"NUL first", "\x002006:01:02 15:04:05", "", ErrBlankDate},
		{"a clock never set", "0000:00:00 00:00:00", "", ErrZeroDate},
		{"the same in ISO 8601", "0000-00-00T00:00:00Z", "", ErrZeroDate},
		{"the same as a date", "0000:00:00", "", ErrZeroDate},
		{"a zero alone", "0", "", ErrZeroDate},
		{"words", "yesterday", "", ErrUnreadableDate},
		{"the American order", "05/03/2026 17:04:05", "", ErrUnreadableDate},
		{"an hour alone", "2006:01:02 15", "", ErrUnreadableDate},
		{"seconds since 1970", "1714747445", "", ErrUnreadableDate},
		{"more after the date", "2006:01:02 15:04:05 or so", "", ErrUnreadableDate},
		{"30 February", "2024:02:30 12:00:00", "", ErrImpossibleDate},
		{"29 February of a common year", "2023:02:29 12:00:00", "", ErrImpossibleDate},
		{"month 13", "2023:13:01 12:00:00", "", ErrImpossibleDate},
		{"month 13 alone", "2023:13", "", ErrImpossibleDate},
		{"month 0", "2023:00:00 00:00:00", "", ErrImpossibleDate},
		{"day 0", "2023:05:00 12:00:00", "", ErrImpossibleDate},
		{"hour 24", "2023:05:03 24:00:00", "", ErrImpossibleDate},
		{"minute 60", "2023:05:03 12:60:00", "", ErrImpossibleDate},
		{"second 60", "2023:05:03 12:00:60", "", ErrImpossibleDate},
		{"the epoch", "1970:01:01 00:00:00", "", ErrEpochDate},
		{"the epoch in local time", "1970:01:01 01:00:00", "+01:00", ErrEpochDate},
		{"the epoch west of Greenwich", "1969-12-31T19:00:00-05:00", "", ErrEpochDate},
		{"the end of 32 bits", "2038:01:19 03:14:07", "", ErrOverflowDate},
		{"the end of 32 bits in local time", "2038:01:19 04:14:07", "+01:00", ErrOverflowDate},
		{"and what follows it", "1901:12:13 20:45:52", "", ErrOverflowDate},
		{"before photography", "1825:12:31 23:59:59", "", ErrEarlyDate},
		{"year 1", "0001:01:01 00:00:00", "", ErrEarlyDate},
		{"a clock more than two days fast", "2026:11:27 12:00:01", "", ErrFutureDate},
		{"next year", "2027:01:01 12:00:00", "", ErrFutureDate},
		{"next year alone", "2027", "", ErrFutureDate},
		{"the year 9999", "9999:12:31 23:59:59", "", ErrFutureDate},
	}
	for _, tt := range tests {
		got, err := ParseEXIF(tt.value, tt.offset, FromCamera, today)
		if !errors.Is(err, tt.want) {
			t.Errorf("%s: %q is refused with %v, want %v", tt.name, tt.value, err, tt.want)
		}
		if !reflect.DeepEqual(got, When{}) {
			t.Errorf("%s: %q is refused but gives %v", tt.name, tt.value, got)
		}
	}
}

func TestARefusalOfAHostileStringStaysShort(t *testing.T) {
	_, err := ParseEXIF(strings.Repeat("9", 1<<20), "", FromCamera, today)
	if err == nil || len(err.Error()) > 200 {
		t.Errorf("refused in %d characters", len(err.Error()))
	}
}

// realFiles is what an independent reader found in the real photographs: tag
// names with their group, as it prints them.
func realFiles(t *testing.T) []map[string]any {
	t.Helper()
	dir := os.Getenv("PAIRWALL_PHOTOS")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "photos")
	}
	text, err := os.ReadFile(filepath.Join(dir, "exiftool.json"))
	if err != nil {
		t.Fatalf("the photographs to test with are missing (set PAIRWALL_PHOTOS): %v", err)
	}
	var files []map[string]any
	if err := json.Unmarshal(text, &files); err != nil {
		t.Fatal(err)
	}
	return files
}

var dateTag = regexp.MustCompile(`:(DateTimeOriginal|CreateDate|ModifyDate|DateCreated)$`)

func TestEveryDateOfTheRealFilesIsReadOrRefusedForItsReason(t *testing.T) {
	read, blank, zero := 0, 0, 0
	for _, file := range realFiles(t) {
		for tag, value := range file {
			text, isText := value.(string)
			if !isText || !dateTag.MatchString(tag) {
				continue
			}
			w, err := ParseEXIF(text, "", FromCamera, today)
			switch {
			case errors.Is(err, ErrBlankDate):
				blank++
			case errors.Is(err, ErrZeroDate):
				zero++
			case err != nil:
				t.Errorf("%v %s: %v", file["SourceFile"], tag, err)
			default:
				read++
				digits := strings.NewReplacer("-", ":", "T", " ").Replace(text[:10])
				if got := w.From.Format("2006:01:02"); got != digits {
					t.Errorf("%v %s: %q is read as %s", file["SourceFile"], tag, text, got)
				}
			}
		}
	}
	t.Logf("%d dates read, %d blank, %d all zero", read, blank, zero)
	if read < 150 || blank == 0 || zero == 0 {
		t.Error("the real files should have many dates, and some blank and zero")
	}
}

func textOf(file map[string]any, tag string) string {
	text, _ := file[tag].(string)
	return text
}

// Satellites know the time: where a file carries both a camera's clock with its
// offset and the satellites' UTC, the two must nearly agree as absolute times.
func TestGapAgreesWithTheSatellitesOfTheRealFiles(t *testing.T) {
	compared := 0
	for _, file := range realFiles(t) {
		day, clock := textOf(file, "GPS:GPSDateStamp"), textOf(file, "GPS:GPSTimeStamp")
		value, offset := textOf(file, "ExifIFD:DateTimeOriginal"), textOf(file, "ExifIFD:OffsetTimeOriginal")
		if offset == "" {
			if _, zone, found := strings.Cut(textOf(file, "IPTC:TimeCreated"), "+"); found {
				offset = "+" + zone
			}
		}
		// Midnight to the second stands for no time at all.
		if day == "" || clock == "" || clock == "00:00:00" || value == "" || offset == "" {
			continue
		}
		camera, err := ParseEXIF(value, offset, FromCamera, today)
		if err != nil {
			t.Fatal(err)
		}
		satellites, err := ParseEXIF(day+" "+clock, "Z", FromPhone, today)
		if err != nil {
			t.Fatal(err)
		}
		gap, ok := Gap(camera, satellites)
		if !ok || gap > time.Minute {
			t.Errorf("%v: the camera says %v, the satellites %v: %v apart", file["SourceFile"], camera, satellites, gap)
		}
		compared++
	}
	t.Logf("%d files compared", compared)
	if compared < 10 {
		t.Errorf("only %d files carry both times", compared)
	}
}

func TestValidTellsTheRealPositionsFromTheMissingOnes(t *testing.T) {
	valid, none := 0, 0
	for _, file := range realFiles(t) {
		lat, hasLat := file["GPS:GPSLatitude"].(float64)
		lng, hasLng := file["GPS:GPSLongitude"].(float64)
		if !hasLat || !hasLng {
			continue
		}
		if textOf(file, "GPS:GPSLongitudeRef") == "W" {
			lng = -lng
		}
		p := LatLng{lat, lng}
		if p.Valid() {
			valid++
		} else {
			none++
		}
		if p.Valid() != (lat != 0) {
			t.Errorf("%v: %v is valid: %v", file["SourceFile"], p, p.Valid())
		}
		rome := LatLng{41.9028, 12.4964}
		if strings.Contains(textOf(file, "SourceFile"), "rome-2024") && Distance(p, rome) > 10000 {
			t.Errorf("%v: %v lies %s", file["SourceFile"], p, DistanceWords(Distance(p, rome)))
		}
	}
	if valid < 16 || none == 0 {
		t.Errorf("%d positions and %d that mean none", valid, none)
	}
}

func FuzzParseEXIF(f *testing.F) {
	for _, value := range []string{"2006:01:02 15:04:05\x00", "2015-06-29T18:19:12.5+01:00", "    :  :     :  :  ",
		"0000:00:00 00:00:00", "20240810132532+0200", "2024-02", "1987", "2024:02:30 12:00:00"} {
		f.Add(value, "+02:00")
		f.Add(value, "")
	}
	f.Fuzz(func(t *testing.T, value, offset string) {
		w, err := ParseEXIF(value, offset, FromPhone, today)
		if err != nil {
			if !reflect.DeepEqual(w, When{}) {
				t.Errorf("%q is refused (%v) but gives %v", value, err, w)
			}
			return
		}
		if !w.CountsAsTaken() || w.From.Year() < firstYear || w.From.After(today.Add(4*24*time.Hour)) {
			t.Errorf("%q gives %v", value, w)
		}
		if _, err := json.Marshal(w); err != nil {
			t.Errorf("%q gives %v, which cannot be written: %v", value, w, err)
		}
	})
}
