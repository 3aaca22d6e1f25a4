package intake

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pairwall/sequence"
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

// exifTool is what ExifTool 12.57 read of one file, numbers unformatted.
type exifTool map[string]any

// text gives a value as text, "" when ExifTool found none.
func (e exifTool) text(name string) string {
	switch v := e[name].(type) {
	case string:
		return v
	case json.Number:
		return v.String()
	}
	return ""
}

// exifToolReadings are the committed readings by path below the photos folder.
func exifToolReadings(t testing.TB) map[string]exifTool {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(photosFolder(t), "exiftool.json"))
	if err != nil {
		t.Fatal(err)
	}
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.UseNumber()
	var list []exifTool
	if err := decoder.Decode(&list); err != nil {
		t.Fatal(err)
	}
	readings := make(map[string]exifTool)
	for _, e := range list {
		readings[strings.TrimPrefix(e.text("SourceFile"), "./")] = e
	}
	return readings
}

// same writes a photo as JSON, for comparing.
func same(t testing.TB, photo sequence.Photo) string {
	t.Helper()
	text, err := json.MarshalIndent(photo, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
