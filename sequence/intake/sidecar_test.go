package intake

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"pairwall/sequence/place"
)

const besideIt = `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:exif="http://ns.adobe.com/exif/1.0/"
 exif:GPSLatitude="45,31.7N" exif:GPSLongitude="13,34.1E" exif:DateTimeOriginal="2024-05-03T18:20:00+02:00">
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">The quay at Piran</rdf:li></rdf:Alt></dc:description>
<dc:subject><rdf:Bag><rdf:li>Quay</rdf:li><rdf:li>evening</rdf:li></rdf:Bag></dc:subject>
</rdf:Description></rdf:RDF></x:xmpmeta>`

func TestWhatLiesBesideAPictureIsReadWithIt(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(photosFolder(t), "no-exif", "Picture_0B_by_freespace.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	for _, beside := range []string{"scan.xmp", "scan.jpg.xmp"} {
		folder := t.TempDir()
		for name, content := range map[string][]byte{"scan.jpg": data, beside: []byte(besideIt)} {
			if err := os.WriteFile(filepath.Join(folder, name), content, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		photo, err := Read(t.Context(), filepath.Join(folder, "scan.jpg"), t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		if photo.Caption != "The quay at Piran" || !slices.Equal(photo.Feeling, []string{"evening", "quay"}) {
			t.Errorf("%s: %q %q", beside, photo.Caption, photo.Feeling)
		}
		piran := place.LatLng{Lat: 45 + 31.7/60, Lng: 13 + 34.1/60}
		if photo.Where == nil || place.Distance(photo.Where.LatLng, piran) > 1 || photo.Where.Source != place.FromSidecar {
			t.Errorf("%s: %+v", beside, photo.Where)
		}
		if got := photo.Taken; got.From.Format(time.DateTime) != "2024-05-03 18:20:00" || got.Source != place.FromSidecar {
			t.Errorf("%s: %+v", beside, got)
		}
	}
}
