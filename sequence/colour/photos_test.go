package colour

import (
	"image"
	_ "image/jpeg" // the photographs are JPEGs
	"os"
	"path/filepath"
	"testing"
)

// photograph reads a real photograph. They lie beside the repository (or where
// PAIRWALL_PHOTOS says) and are never part of it; without them the test fails.
func photograph(t testing.TB, name string) image.Image {
	t.Helper()
	file, err := os.Open(filepath.Join(photoFolder(t), name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	img, _, err := image.Decode(file)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return img
}

func photoFolder(t testing.TB) string {
	t.Helper()
	if folder := os.Getenv("PAIRWALL_PHOTOS"); folder != "" {
		return folder
	}
	at, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		folder := filepath.Join(at, "shared", "photos")
		if info, err := os.Stat(folder); err == nil && info.IsDir() {
			return folder
		}
		up := filepath.Dir(at)
		if up == at {
			t.Fatal("no photographs: set PAIRWALL_PHOTOS or put them at shared/photos beside the repository")
		}
		at = up
	}
}
