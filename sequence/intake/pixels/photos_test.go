package pixels

import (
	"os"
	"path/filepath"
	"testing"
)

// photosFolder is where the real photographs lie: beside the repository, or
// where PAIRWALL_PHOTOS says. They are never skipped.
func photosFolder(t testing.TB) string {
	t.Helper()
	folder := os.Getenv("PAIRWALL_PHOTOS")
	if folder == "" {
		root, err := filepath.Abs(".")
		for err == nil && root != filepath.Dir(root) {
			if _, missing := os.Stat(filepath.Join(root, "go.mod")); missing == nil {
				break
			}
			root = filepath.Dir(root)
		}
		folder = filepath.Join(filepath.Dir(root), "shared", "photos")
	}
	if _, err := os.Stat(filepath.Join(folder, "exiftool.json")); err != nil {
		t.Fatalf("the real photographs are missing (set PAIRWALL_PHOTOS): %v", err)
	}
	return folder
}

// photo reads a real file whole.
func photo(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(photosFolder(t), name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}
