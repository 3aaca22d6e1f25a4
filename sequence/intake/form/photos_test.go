package form

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"pairwall/sequence/intake/header"
	"pairwall/sequence/intake/pixels"
)

// photosFolder is where the real photographs lie: beside the repository, or
// where PAIRWALL_PHOTOS says.
func photosFolder(t testing.TB) string {
	t.Helper()
	if folder := os.Getenv("PAIRWALL_PHOTOS"); folder != "" {
		return folder
	}
	root, err := filepath.Abs(".")
	for err == nil && root != filepath.Dir(root) {
		if _, missing := os.Stat(filepath.Join(root, "go.mod")); missing == nil {
			break
		}
		root = filepath.Dir(root)
	}
	return filepath.Join(filepath.Dir(root), "shared", "photos")
}

// real are photographs small enough to be decoded often, of many kinds.
var real = []string{
	"rome-2024/BDH_10_1I_0015.jpg", "rome-2024/BDH_10_1I_0127.jpg", "rome-2024/BDH_10_1I_0163.jpg",
	"rome-2024/BDH_10_1I_0174.jpg", "rome-2024/BDH_10_1I_0180.jpg", "rome-2024/BDH_10_1I_0382.jpg",
	"rome-2024/BDH_10_1I_0452.jpg", "rome-2024/BDH_10_1I_0511.jpg", "rome-2024/BDH_10_1I_0617.jpg",
	"orientation/Landscape_1.jpg", "orientation/Portrait_1.jpg",
	"no-exif/friends_by_Aitzol_Berasategi.jpg", "no-exif/seeding_by_Clements_Engelhardt.jpg",
	"photos-cc0/canyon-wren.jpg", "photos-cc0/oakland-zoo-otters.jpg",
	"scans/Kodak CLAS Digital Film Scanner HR200 (1).jpg", "scans/FujiFilm SP-2500.jpg",
}

var keptPhotos sync.Map // decoded already, by name and size

// opened decodes a real photograph and brings its longer side to at most long.
func opened(t testing.TB, name string, long int) *image.RGBA {
	t.Helper()
	key := fmt.Sprint(name, long)
	if img, there := keptPhotos.Load(key); there {
		return img.(*image.RGBA)
	}
	data, err := os.ReadFile(filepath.Join(photosFolder(t), name))
	if err != nil {
		t.Fatalf("the real photographs are missing (set PAIRWALL_PHOTOS): %v", err)
	}
	img, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	print, err := pixels.Develop(img, header.Header{}, long)
	if err != nil {
		t.Fatal(err)
	}
	keptPhotos.Store(key, print.Picture)
	return print.Picture
}

// resized averages a picture down, channel by channel.
func resized(img *image.RGBA, width, height int) *image.RGBA {
	small := image.NewRGBA(image.Rect(0, 0, width, height))
	for c := range 4 {
		p := newPlane(img.Rect.Dx(), img.Rect.Dy())
		for i := range p.at {
			p.at[i] = float32(img.Pix[4*i+c])
		}
		for i, v := range p.to(width, height).at {
			small.Pix[4*i+c] = uint8(v + 0.5)
		}
	}
	return small
}
