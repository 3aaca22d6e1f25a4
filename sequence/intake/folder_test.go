package intake

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
)

// reads is a whole folder brought in once for several tests.
type reads struct {
	photos map[string]sequence.Photo
	errs   map[string]error
}

// readFolders brings in everything below the photographs folder that could be
// handed to Read, tracks and profiles left out, in a worker: none may break it, hang
// or come to hold more than the whole program may.
func readFolders(t *testing.T) reads {
	t.Helper()
	root, cards := photosFolder(t), t.TempDir()
	r := reads{map[string]sequence.Photo{}, map[string]error{}}
	p := testPool(t, "good", 1, Limits{Memory: 600 << 20, Time: time.Minute, Pixels: DefaultLimits.Pixels})
	defer func() { t.Logf("the most memory of the worker: %d MB", p.PeakMemory()>>20) }()
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasSuffix(path, ".gpx") || strings.HasSuffix(path, ".icc") {
			return err
		}
		name, _ := filepath.Rel(root, path)
		photo, err := p.Read(context.Background(), path, cards)
		if err != nil {
			r.errs[name] = err
			for _, broken := range []string{"it is probably damaged", "of memory allowed", "took longer"} {
				if strings.Contains(err.Error(), broken) { // a crash, a hang, or the ceiling passed
					t.Errorf("%s: %v", name, err)
				}
			}
		} else {
			r.photos[name] = photo
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// otherwise lists, one by one, where Read may differ from ExifTool and why.
// Every one of them must still differ, or the test fails.
var otherwise = map[string]map[string]string{
	"date": {
		"edge/Nikon E885.jpg": "all zeros is no date",
		"heic/iphone.heic":    "ExifTool 12.57 gives up on this file's items and reads none of its EXIF",
	},
	"profile": {
		"edge/Olympus PEN E-P3.jpg": "Adobe RGB is declared in its EXIF only, and nothing is embedded",
	},
	"position": {
		"heic/iphone.heic":                          "ExifTool 12.57 gives up on this file's items and reads none of its EXIF",
		"edge/Samsung GT-I9000 (Galaxy S).jpg":      "0,0 means that the receiver had no fix",
		"icc/paris_exif_xmp_icc.jpg":                "0,0 means that the receiver had no fix",
		"icc/paris_icc_exif_xmp.png":                "0,0 means that the receiver had no fix",
		"exif-header-only/geodegrees_as_string.jpg": "degrees as the text 52,00000,50,00000,34,01180: ExifTool takes the decimal commas for separators",
	},
}

func TestReadAgreesWithExifTool(t *testing.T) {
	all := readFolders(t)
	readings := exifToolReadings(t)
	differing := map[string]map[string]bool{"date": {}, "position": {}, "profile": {}}
	compared := 0
	for name, photo := range all.photos {
		reading, there := readings[name]
		if !there {
			t.Errorf("%s: ExifTool has not read it", name)
			continue
		}
		compared++
		agreeOnSize(t, name, photo, reading)
		if !photo.Scan && !agreeOnDate(photo, reading) {
			differing["date"][name] = true
		}
		if !agreeOnPosition(photo, reading) {
			differing["position"][name] = true
		}
		if !agreeOnProfile(photo, reading) {
			differing["profile"][name] = true
		}
	}
	for what, names := range differing {
		for name := range names {
			if _, allowed := otherwise[what][name]; !allowed {
				t.Errorf("%s: %s differs from ExifTool's: %+v, %+v; ExifTool %v", name, what,
					all.photos[name].Taken, all.photos[name].Where, readings[name])
			}
		}
		for name, why := range otherwise[what] {
			if !names[name] {
				t.Errorf("%s: %s no longer differs from ExifTool's (%s)", name, what, why)
			}
		}
	}
	if compared < 100 {
		t.Errorf("only %d photographs were compared", compared)
	}
	outcomes(t, all)
}

// agreeOnSize compares pixels: ExifTool gives them as stored, a photo upright.
func agreeOnSize(t *testing.T, name string, photo sequence.Photo, reading exifTool) {
	t.Helper()
	var w, h int
	if _, err := fmt.Sscanf(reading.text("Composite:ImageSize"), "%d %d", &w, &h); err != nil {
		t.Errorf("%s: ExifTool gives no size", name)
		return
	}
	if o, err := strconv.Atoi(reading.text("IFD0:Orientation")); err == nil && o >= 5 && o <= 8 {
		w, h = h, w
	}
	if photo.Width != w || photo.Height != h {
		t.Errorf("%s: %d × %d, ExifTool %d × %d", name, photo.Width, photo.Height, w, h)
	}
}

// agreeOnProfile compares whether a profile is embedded: the readings do not give
// its name.
func agreeOnProfile(photo sequence.Photo, reading exifTool) bool {
	return (photo.Profile != "") == (reading.text("ICC-header:ColorSpaceData") != "")
}

func agreeOnDate(photo sequence.Photo, reading exifTool) bool {
	date := reading.text("ExifIFD:DateTimeOriginal")
	if strings.Trim(date, " :") == "" {
		date = reading.text("ExifIFD:CreateDate")
	}
	if date == "" {
		return !photo.Taken.Known()
	}
	want, err := time.Parse("2006:01:02 15:04:05", date)
	if err != nil || !photo.Taken.From.Truncate(time.Second).Equal(want) {
		return false
	}
	offset := reading.text("ExifIFD:OffsetTimeOriginal")
	if offset == "" {
		return photo.Taken.Offset == nil
	}
	zone, err := time.Parse("-07:00", offset)
	if err != nil || photo.Taken.Offset == nil {
		return false
	}
	_, seconds := zone.Zone()
	return *photo.Taken.Offset*60 == seconds
}

func agreeOnPosition(photo sequence.Photo, reading exifTool) bool {
	lat, lng := reading.text("GPS:GPSLatitude"), reading.text("GPS:GPSLongitude")
	if lat == "" || lng == "" {
		return photo.Where == nil
	}
	if photo.Where == nil {
		return false
	}
	signed := func(text, ref, negative string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return math.NaN()
		}
		if reading.text(ref) == negative {
			return -v
		}
		return v
	}
	return math.Abs(signed(lat, "GPS:GPSLatitudeRef", "S")-photo.Where.Lat) < 1e-9 &&
		math.Abs(signed(lng, "GPS:GPSLongitudeRef", "W")-photo.Where.Lng) < 1e-9
}

// outcomes checks that every file had one of the two ends there are, a photo or
// a sentence, and how many of each.
func outcomes(t *testing.T, all reads) {
	t.Helper()
	counts := map[sequence.Code]int{"": len(all.photos)}
	for name, err := range all.errs {
		code := sequence.CodeOf(err)
		counts[code]++
		switch code {
		case sequence.Damaged, sequence.Unsupported:
		default:
			t.Errorf("%s: %v", name, err)
		}
		if Stops(err) {
			t.Errorf("%s would stop the whole folder: %v", name, err)
		}
	}
	text, _ := json.Marshal(counts)
	t.Logf("outcomes: %s", text)
	for name := range map[string]bool{"damaged/truncated.jpg": true, "exif-header-only/max_uint32_exif.jpg": true} {
		if sequence.CodeOf(all.errs[name]) != sequence.Damaged {
			t.Errorf("%s is damaged, but: %v", name, all.errs[name])
		}
	}
}
