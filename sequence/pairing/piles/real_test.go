package piles

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake/form"
	"pairwall/sequence/place"
)

// romanDay decodes nineteen photographs of one day in Rome, which lie beside
// the repository, or where PAIRWALL_PHOTOS says.
func romanDay(t *testing.T) []*image.RGBA {
	t.Helper()
	folder := os.Getenv("PAIRWALL_PHOTOS")
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "..", "shared", "photos")
	}
	names, err := filepath.Glob(filepath.Join(folder, "rome-2024", "*.jpg"))
	if err != nil || len(names) != 19 {
		t.Fatalf("%d photographs in %s, want 19 (%v)", len(names), folder, err)
	}
	var day []*image.RGBA
	for _, name := range names {
		file, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		day = append(day, decoded(t, file))
	}
	return day
}

func decoded(t *testing.T, file []byte) *image.RGBA {
	t.Helper()
	img, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewRGBA(image.Rect(0, 0, img.Bounds().Dx(), img.Bounds().Dy()))
	draw.Draw(out, out.Rect, img, img.Bounds().Min, draw.Src)
	return out
}

// again makes the second of two frames of one picture: held so many hundredths
// of the side higher and to the left, moved while it was open, and stored small.
func again(t *testing.T, img *image.RGBA, hundredths int) *image.RGBA {
	t.Helper()
	w, h := img.Rect.Dx()*(100-hundredths)/100, img.Rect.Dy()*(100-hundredths)/100
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	const smear = 3 // pixels
	for y := range h {
		for x := range w - smear {
			for c := range 4 {
				sum := 0
				for k := range smear {
					sum += int(img.Pix[img.PixOffset(x+k, y)+c])
				}
				out.Pix[out.PixOffset(x, y)+c] = uint8(sum / smear)
			}
		}
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, out.SubImage(image.Rect(0, 0, w-smear, h)), &jpeg.Options{Quality: 60}); err != nil {
		t.Fatal(err)
	}
	return decoded(t, file.Bytes())
}

func measured(img image.Image) sequence.Form {
	f, _ := form.Measure(img)
	return f
}

func TestASecondFrameLiesUnderTheFirstAndADaysPicturesStayApart(t *testing.T) {
	start := time.Date(2024, 8, 10, 13, 0, 0, 0, time.UTC)
	var day, twice, scanned []sequence.Photo
	for i, img := range romanDay(t) {
		// All within two minutes of each other: nothing but their looks tells them apart.
		first := sequence.Photo{Number: sequence.PhotoID(i + 1), Form: measured(img), Taken: place.Instant(start.Add(time.Duration(i)*6*time.Second), nil, place.FromCamera)}
		second := first
		second.Number, second.Form = sequence.PhotoID(i+101), measured(again(t, img, 2))
		second.Taken = place.Instant(first.Taken.From.Add(2*time.Second), nil, place.FromCamera)
		day, twice = append(day, first), append(twice, first, second)
		second.Form = measured(again(t, img, 0)) // the scanner holds the film where it held it before
		first.Taken, second.Taken = place.When{}, place.When{}
		scanned = append(scanned, first, second)
	}
	if found := Of(day); len(found) != 0 {
		t.Errorf("different pictures lie in piles: %+v", found)
	}
	found := Of(twice)
	if len(found) != len(day) {
		t.Errorf("%d piles of %d pictures taken twice", len(found), len(day))
	}
	for _, p := range found {
		if len(p.Photos) != 2 || p.Photos[1] != p.Photos[0]+100 {
			t.Errorf("%v: want a picture with its moved frame beneath", p.Photos)
		}
		if p.Words != "two nearly the same, taken within 2 s" {
			t.Errorf("%q", p.Words)
		}
	}
	if found := Of(scanned); len(found) != len(day) {
		t.Errorf("%d piles of %d pictures scanned twice", len(found), len(day))
	}
}
