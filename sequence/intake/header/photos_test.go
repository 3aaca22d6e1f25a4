package header

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
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

// exifTool is what ExifTool 12.57 read of each file, by path.
func exifTool(t testing.TB) map[string]map[string]any {
	t.Helper()
	var list []map[string]any
	if err := json.Unmarshal(photo(t, "exiftool.json"), &list); err != nil {
		t.Fatal(err)
	}
	readings := make(map[string]map[string]any)
	for _, e := range list {
		name, _ := e["SourceFile"].(string)
		readings[strings.TrimPrefix(name, "./")] = e
	}
	return readings
}
