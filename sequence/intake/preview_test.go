package intake

import (
	"bytes"
	"image/jpeg"
	"path/filepath"
	"testing"
	"time"

	"pairwall/sequence"
)

func TestAPreviewComesWithoutDecoding(t *testing.T) {
	root := photosFolder(t)
	readings := exifToolReadings(t)
	found := 0
	start := time.Now()
	for name := range readings {
		data, turn, err := Preview(filepath.Join(root, name))
		if err != nil {
			if sequence.CodeOf(err) == sequence.Internal {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		found++
		if img, err := jpeg.Decode(bytes.NewReader(data)); err != nil || img.Bounds().Dx() > 1000 {
			t.Errorf("%s: %v", name, err)
		}
		if turn < 1 || turn > 8 {
			t.Errorf("%s: orientation %d", name, turn)
		}
	}
	each := time.Since(start) / time.Duration(len(readings))
	t.Logf("%d of %d files carry a preview, %v each", found, len(readings), each)
	if found < 15 {
		t.Errorf("only %d previews", found)
	}
	for name, turn := range map[string]int{"scans/FujiFilm SP-2500.jpg": 6, "edge/Apple iPhone 5.jpg": 3} {
		if _, got, err := Preview(filepath.Join(root, name)); err != nil || got != turn {
			t.Errorf("%s: orientation %d, want %d: %v", name, got, turn, err)
		}
	}
	if _, _, err := Preview(filepath.Join(root, "no-exif", "Picture_0B_by_freespace.jpg")); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("a file without one: %v", err)
	}
}
