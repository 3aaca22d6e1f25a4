package intake

import (
	"bytes"
	"context"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"pairwall/sequence"
)

func TestAShotIsUprightAndWholeAndLeavesNothingBehind(t *testing.T) {
	pool := testPool(t, "good", 1, testLimits)
	scratch := t.TempDir()
	for _, name := range []string{"orientation"} {
		files, err := filepath.Glob(filepath.Join(photosFolder(t), name, "*_[1-8].jpg"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: no photographs, %v", name, err)
		}
		path := files[len(files)-1]
		shot, err := pool.Shot(context.Background(), path, scratch)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		photo, err := pool.Read(context.Background(), path, t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		if shot.Grey.Rect.Dx() != photo.Width || shot.Grey.Rect.Dy() != photo.Height {
			t.Errorf("%s: %v is not %d × %d", path, shot.Grey.Rect, photo.Width, photo.Height)
		}
		view, err := jpeg.Decode(bytes.NewReader(shot.View))
		if err != nil || max(view.Bounds().Dx(), view.Bounds().Dy()) > ViewSize || (view.Bounds().Dx() > view.Bounds().Dy()) != (photo.Width > photo.Height) {
			t.Errorf("%s: its view is %v, %v", path, view.Bounds(), err)
		}
	}
	if left, err := os.ReadDir(scratch); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

func TestAShotOfADamagedFileIsRefusedAndLeavesNothingBehind(t *testing.T) {
	pool := testPool(t, "good", 1, testLimits)
	scratch := t.TempDir()
	path := filepath.Join(scratch, "wall.jpg")
	if err := os.WriteFile(path, []byte("\xff\xd8\xff\xe0 nothing"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := pool.Shot(context.Background(), path, scratch); sequence.CodeOf(err) != sequence.Damaged {
		t.Errorf("%v", err)
	}
	if left, err := os.ReadDir(scratch); err != nil || len(left) != 1 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// The worker is another process: what it wrote is not believed.
func TestAGreyPictureThatIsNotAsItSaysIsRefused(t *testing.T) {
	for _, plain := range []string{"", "P5", "P5 2 2 255\n", "P5 2 2 255\nabcde", "P5 -2 -2 255\nabcd", "P5 99999999 99999999 255\nabcd", "P6 2 2 255\nabcd"} {
		if img, err := readGrey([]byte(plain)); err == nil {
			t.Errorf("%q: %v", plain, img.Rect)
		}
	}
	if img, err := readGrey([]byte("P5 2 2 255\nabcd")); err != nil || img.GrayAt(1, 1).Y != 'd' {
		t.Errorf("%v", err)
	}
}
