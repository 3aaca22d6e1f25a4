package track

import (
	"os"
	"path/filepath"
	"testing"
)

// realTracks is the folder of real GPX files: beside the repository, or where
// PAIRWALL_PHOTOS says. They are never skipped.
func realTracks(t testing.TB) string {
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
	folder = filepath.Join(folder, "gpx")
	if _, err := os.Stat(folder); err != nil {
		t.Fatalf("the real tracks are missing (set PAIRWALL_PHOTOS): %v", err)
	}
	return folder
}

// realTrack reads one of them.
func realTrack(t testing.TB, name string) ([]Track, []Finding) {
	t.Helper()
	file, err := os.Open(filepath.Join(realTracks(t), name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	tracks, findings, err := Read(file, name)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return tracks, findings
}
