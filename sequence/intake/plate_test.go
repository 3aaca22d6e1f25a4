package intake

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"pairwall/sequence"
)

func TestAJPEGGoesToThePressAsItIsAndAnythingElseAsSamples(t *testing.T) {
	pool := testPool(t, "good", 1, testLimits)
	for _, c := range []struct {
		name string
		wish PlateWish
		want Plate
	}{
		{"orientation/Landscape_6.jpg", PlateWish{}, Plate{As: true, Turn: 6}},
		{"orientation/Landscape_6.jpg", PlateWish{Long: 900}, Plate{Turn: 6, Width: 900, Height: 600, Channels: 3}},
		{"icc/pil_sample_cmyk.jpg", PlateWish{Device: true}, Plate{As: true, Turn: 1}},
		{"icc/pil_sample_cmyk.jpg", PlateWish{}, Plate{Turn: 1, Width: 100, Height: 100, Channels: 3}},
		{"icc/paris_icc_exif_xmp.png", PlateWish{}, Plate{Turn: 1, Width: 403, Height: 302, Channels: 3}},
	} {
		got, err := pool.Plate(context.Background(), filepath.Join(photosFolder(t), c.name), t.TempDir(), c.wish)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		told := got
		told.Profile, told.Samples = nil, ""
		if told.As != c.want.As || told.Turn != c.want.Turn || told.Channels != c.want.Channels || !got.As && max(told.Width, told.Height) != max(c.want.Width, c.want.Height) {
			t.Errorf("%s: %+v, want %+v", c.name, told, c.want)
		}
	}
}

func TestAPlateOfATornPictureIsRefused(t *testing.T) {
	pool := testPool(t, "good", 1, testLimits)
	whole, err := os.ReadFile(filepath.Join(photosFolder(t), "rome-2024", "BDH_10_1I_0015.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "torn.jpg")
	if err := os.WriteFile(path, whole[:len(whole)*6/10], 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := pool.Plate(context.Background(), path, t.TempDir(), PlateWish{Long: 300}); sequence.CodeOf(err) != sequence.Damaged {
		t.Errorf("%v", err)
	}
	photo, err := pool.Read(context.Background(), path, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	torn := false
	for _, f := range photo.Findings {
		torn = torn || Torn(f)
	}
	if !torn {
		t.Errorf("%+v", photo.Findings)
	}
}

// The worker is another process: what it wrote is not believed.
func TestAPlateThatIsNotAsItSaysIsRefused(t *testing.T) {
	for _, told := range []string{"", "{}", `{"Width":2,"Height":2,"Channels":3}`, `{"Width":-2,"Height":-2,"Channels":1}`, `{"Width":2,"Height":1,"Channels":9}`} {
		folder := t.TempDir()
		for name, content := range map[string][]byte{plateName: []byte(told), platePix: bytes.Repeat([]byte{1}, 4)} {
			if err := os.WriteFile(filepath.Join(folder, name), content, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if plate, err := readPlate(folder); err == nil {
			t.Errorf("%s: %+v", told, plate)
		}
	}
}
