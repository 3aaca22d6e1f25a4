package intake

import (
	"bytes"
	"image/jpeg"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
)

func TestAPreviewComesWithoutDecoding(t *testing.T) {
	root := photosFolder(t)
	readings := exifToolReadings(t)
	found := 0
	start := time.Now()
	for name := range readings {
		p, err := ReadPreview(filepath.Join(root, name))
		if err != nil {
			if sequence.CodeOf(err) == sequence.Internal {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if p.JPEG == nil {
			continue
		}
		found++
		if img, err := jpeg.Decode(bytes.NewReader(p.JPEG)); err != nil || img.Bounds().Dx() > 1000 {
			t.Errorf("%s: %v", name, err)
		}
		if turn := turnOf(t, p.JPEG); turn < 1 || turn > 8 {
			t.Errorf("%s: orientation %d", name, turn)
		}
	}
	each := time.Since(start) / time.Duration(len(readings))
	t.Logf("%d of %d files carry a preview, %v each", found, len(readings), each)
	if found < 15 {
		t.Errorf("only %d previews", found)
	}
	for name, turn := range map[string]int{"scans/FujiFilm SP-2500.jpg": 6, "edge/Apple iPhone 5.jpg": 3} {
		p, err := ReadPreview(filepath.Join(root, name))
		if err != nil || turnOf(t, p.JPEG) != turn {
			t.Errorf("%s: orientation %d, want %d: %v", name, turnOf(t, p.JPEG), turn, err)
		}
		if said := readings[name]; turn == 6 && said.text("Composite:ImageSize") != strconv.Itoa(p.Height)+" "+strconv.Itoa(p.Width) {
			t.Errorf("%s: %d by %d upright, stored as %s", name, p.Width, p.Height, said.text("Composite:ImageSize"))
		}
	}
	if p, err := ReadPreview(filepath.Join(root, "no-exif", "Picture_0B_by_freespace.jpg")); err != nil || p.JPEG != nil || p.Width == 0 {
		t.Errorf("a file without one: %d by %d, %d bytes: %v", p.Width, p.Height, len(p.JPEG), err)
	}
}

// turnOf reads a preview as any other file is read.
func turnOf(t *testing.T, data []byte) int {
	h, err := header.Read("jpeg", bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	if h.Said.Position != nil {
		t.Error("a preview that carries a position")
	}
	return h.Said.Orientation
}
