package intake

import (
	"bytes"
	"context"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
)

// cardBytes reads the card images of a photo.
func cardBytes(t *testing.T, cards string, photo sequence.Photo) map[int][]byte {
	t.Helper()
	all := make(map[int][]byte)
	for _, size := range CardSizes {
		data, err := os.ReadFile(CardPath(cards, photo.Hash, size))
		if err != nil {
			t.Fatal(err)
		}
		all[size] = data
	}
	return all
}

func TestTheSameFileGivesTheSameBytes(t *testing.T) {
	root := photosFolder(t)
	for _, name := range []string{"phone-p3-offset/012mp-bus.jpg", "icc/paris_icc_exif_xmp.png", "tiff/strike.tif"} {
		var first map[int][]byte
		var firstPhoto string
		for _, processors := range []int{2, 1, 7} {
			was := runtime.GOMAXPROCS(processors)
			cards := t.TempDir()
			photo, err := Read(context.Background(), filepath.Join(root, name), cards)
			runtime.GOMAXPROCS(was)
			if err != nil {
				t.Fatal(err)
			}
			again := cardBytes(t, cards, photo)
			if first == nil {
				first, firstPhoto = again, same(t, photo)
				continue
			}
			for _, size := range CardSizes {
				if !bytes.Equal(first[size], again[size]) {
					t.Errorf("%s: card %d differs with %d processors", name, size, processors)
				}
			}
			if text := same(t, photo); text != firstPhoto {
				t.Errorf("%s: the photo differs: %s", name, text)
			}
		}
	}
}

func TestCardsAreSmallProfiledAndSayNothingElse(t *testing.T) {
	root := photosFolder(t)
	cases := []struct {
		name  string
		sizes map[int][2]int
	}{
		{"rome-2024/BDH_10_1I_0511.jpg", map[int][2]int{160: {107, 160}, 400: {267, 400}, 1600: {667, 1000}}},
		{"orientation/Landscape_6.jpg", map[int][2]int{160: {160, 107}, 400: {400, 267}, 1600: {1600, 1067}}},
		{"exif-header-only/infinite_loop_exif.jpg", map[int][2]int{160: {8, 8}, 400: {8, 8}, 1600: {8, 8}}},
	}
	profile := colour.SRGBProfile()
	if len(profile) < 128 {
		t.Fatal("there is no sRGB profile")
	}
	for _, c := range cases {
		cards := t.TempDir()
		photo, err := Read(context.Background(), filepath.Join(root, c.name), cards)
		if err != nil {
			t.Fatal(err)
		}
		for size, data := range cardBytes(t, cards, photo) {
			config, err := jpeg.DecodeConfig(bytes.NewReader(data))
			if err != nil || [2]int{config.Width, config.Height} != c.sizes[size] {
				t.Errorf("%s: card %d is %d × %d: %v", c.name, size, config.Width, config.Height, err)
			}
			if !bytes.Contains(data, append([]byte("ICC_PROFILE\x00\x01\x01"), profile...)) {
				t.Errorf("%s: card %d carries no sRGB profile", c.name, size)
			}
			for _, private := range []string{"Exif", "xmpmeta", "GPS", photo.Camera} {
				if private != "" && bytes.Contains(data, []byte(private)) {
					t.Errorf("%s: card %d contains %q", c.name, size, private)
				}
			}
		}
		entries, err := os.ReadDir(filepath.Join(cards, photo.Hash))
		if err != nil || len(entries) != len(CardSizes) {
			t.Errorf("%s: among its cards: %v %v", c.name, entries, err)
		}
		if left := drafts(t, cards); len(left) > 0 {
			t.Errorf("%s left behind: %v", c.name, left)
		}
	}
}

func TestTheOriginalIsNeverTouched(t *testing.T) {
	path := filepath.Join(t.TempDir(), "good.jpg")
	picture(t, path)
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	photo, err := Read(context.Background(), path, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	after, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(before, after) {
		t.Errorf("the original changed: %v", err)
	}
	if !photo.Stamp.Equal(info.ModTime()) || photo.Bytes != info.Size() || photo.Format != "jpeg" {
		t.Errorf("got %+v", photo)
	}
	if len(photo.Palette) == 0 || photo.Tone == (colour.Tone{}) {
		t.Error("nothing was measured")
	}
}

func TestAFileWrittenToWhileItIsReadIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "good.jpg")
	picture(t, path)
	o, err := openOriginal(path)
	if err != nil {
		t.Fatal(err)
	}
	defer o.file.Close()
	if err := o.unchanged(); err != nil {
		t.Error(err)
	}
	file, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := file.Write([]byte("more")); err != nil {
		t.Fatal(err)
	}
	file.Close()
	if err := o.unchanged(); sequence.CodeOf(err) != sequence.Damaged {
		t.Errorf("got %v", err)
	}
}
