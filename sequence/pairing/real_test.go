package pairing

import (
	"encoding/json"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/place"
)

// folderOfPhotos is where the real photographs lie: beside the repository, or
// where PAIRWALL_PHOTOS says. Without them the test fails.
func folderOfPhotos(t testing.TB) string {
	t.Helper()
	if folder := os.Getenv("PAIRWALL_PHOTOS"); folder != "" {
		return folder
	}
	up, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for ; ; up = filepath.Dir(up) {
		folder := filepath.Join(filepath.Dir(up), "shared", "photos")
		if _, err := os.Stat(folder); err == nil {
			return folder
		}
		if up == filepath.Dir(up) {
			t.Fatal("no photographs: set PAIRWALL_PHOTOS or put them at shared/photos beside the repository")
		}
	}
}

// romanDay is a day on foot in Rome: nineteen photographs, the places and times
// as ExifTool read them, the palettes measured from their pixels.
func romanDay(t testing.TB) []sequence.Photo {
	t.Helper()
	folder := folderOfPhotos(t)
	data, err := os.ReadFile(filepath.Join(folder, "exiftool.json"))
	if err != nil {
		t.Fatal(err)
	}
	var files []struct {
		Name string   `json:"SourceFile"`
		Date string   `json:"ExifIFD:DateTimeOriginal"`
		Lat  *float64 `json:"GPS:GPSLatitude"`
		Lng  *float64 `json:"GPS:GPSLongitude"`
	}
	if err := json.Unmarshal(data, &files); err != nil {
		t.Fatal(err)
	}
	var photos []sequence.Photo
	for _, f := range files {
		if !strings.Contains(f.Name, "rome-2024/") {
			continue
		}
		p := sequence.Photo{Name: filepath.Base(f.Name)}
		taken, err := time.Parse("2006:01:02 15:04:05", f.Date)
		if err != nil {
			t.Fatal(err)
		}
		p.Taken = place.Instant(taken, nil, place.FromCamera)
		if f.Lat != nil && f.Lng != nil { // all of them north and east
			p.Where = &place.Where{LatLng: place.LatLng{Lat: *f.Lat, Lng: *f.Lng}, Source: place.FromCamera}
		}
		p.Palette, p.Tone = measured(t, filepath.Join(folder, f.Name))
		photos = append(photos, p)
	}
	slices.SortFunc(photos, func(p, q sequence.Photo) int { return strings.Compare(p.Name, q.Name) })
	for i := range photos {
		photos[i].Number = sequence.PhotoID(i + 1)
	}
	if len(photos) != 19 {
		t.Fatalf("%d photographs of Rome, want 19", len(photos))
	}
	return photos
}

func measured(t testing.TB, file string) (colour.Palette, colour.Tone) {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := jpeg.Decode(f)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return colour.Measure(img)
}

func TestADayInRomeIsMeasuredAsItsFilesSay(t *testing.T) {
	photos := romanDay(t)
	m := New(photos)
	for a := range photos {
		for b := range a {
			p, q := photos[a], photos[b]
			j := pairOf(t, m, p.Number, q.Number, nil)
			gap := p.Taken.From.Sub(q.Taken.From).Abs().Seconds()
			if e := evidenceOf(t, j, Time); !e.Known || e.Measure != gap {
				t.Errorf("%s and %s: %+v, by their clocks %g s", p.Name, q.Name, e, gap)
			}
			e := evidenceOf(t, j, Place)
			if p.Where == nil || q.Where == nil {
				if e.Known || j.Share > 0.67 || !strings.Contains(j.Missing, "no place ") {
					t.Errorf("%s and %s: %+v", p.Name, q.Name, j)
				}
				continue
			}
			// Radii of curvature at 41.9° north on WGS84, from the textbook
			// formulas: meridian 6,363,919 m, prime vertical 6,387,680 m.
			north := (p.Where.Lat - q.Where.Lat) * math.Pi / 180 * 6363919
			east := (p.Where.Lng - q.Where.Lng) * math.Pi / 180 * 6387680 * math.Cos(41.9*math.Pi/180)
			if flat := math.Hypot(north, east); !e.Known || math.Abs(e.Measure-flat) > 0.001*flat+0.1 {
				t.Errorf("%s and %s: %+v, on the flat %g m", p.Name, q.Name, e, flat)
			}
		}
	}
}

// Photographs 5 and 6 show one street, eight seconds apart.
func TestTwoViewsOfOneStreetInRomeAreNotPutFaceToFace(t *testing.T) {
	photos := romanDay(t)
	m := New(photos)
	if photos[4].Name != "BDH_10_1I_0180.jpg" || photos[5].Name != "BDH_10_1I_0181.jpg" {
		t.Fatalf("5 and 6 are %s and %s", photos[4].Name, photos[5].Name)
	}
	if j := pairOf(t, m, 5, 6, nil); !j.Alike || !strings.HasPrefix(j.Reasons, "nearly the same picture; on the same spot, eight seconds apart") {
		t.Errorf("%+v", j)
	}
	if j := pairOf(t, m, 8, 9, nil); j.Alike { // a minute and a corner later
		t.Errorf("%+v", j)
	}
	partners, _, err := m.Partners(5, allOf(photos), nil, 1)
	if err != nil || partners[0].Photo == 6 {
		t.Errorf("best partner of 5: %+v, %v", partners, err)
	}
	// They score more than an arrangement asks for, and yet.
	if p := arranged(t, m, sequence.Sequence{}, []sequence.PhotoID{5, 6}, nil, Table); len(p.Spreads) != 0 {
		t.Errorf("proposed: %+v", p.Spreads)
	}
	p := arranged(t, m, sequence.Sequence{}, allOf(photos), nil, Table)
	if len(p.Spreads) != 9 || len(p.Left) != 1 {
		t.Errorf("%d spreads and %d left over of 19", len(p.Spreads), len(p.Left))
	}
}
