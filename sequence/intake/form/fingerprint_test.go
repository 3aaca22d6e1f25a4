package form

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"math"
	"testing"
)

// changed are the ways in which one photograph comes to lie in a folder twice.
var changed = map[string]func(t *testing.T, img *image.RGBA) *image.RGBA{
	"half the size": func(t *testing.T, img *image.RGBA) *image.RGBA {
		return resized(img, img.Rect.Dx()/2, img.Rect.Dy()/2)
	},
	"a quarter of the size": func(t *testing.T, img *image.RGBA) *image.RGBA {
		return resized(img, img.Rect.Dx()/4, img.Rect.Dy()/4)
	},
	"compressed hard":                  func(t *testing.T, img *image.RGBA) *image.RGBA { return compressed(t, img, 30) },
	"a third of a stop darker":         func(t *testing.T, img *image.RGBA) *image.RGBA { return exposed(img, -1.0/3) },
	"a third of a stop lighter":        func(t *testing.T, img *image.RGBA) *image.RGBA { return exposed(img, 1.0/3) },
	"two hundredths of the side moved": moved,
}

// printOf is Measure's fingerprint alone.
func printOf(img *image.RGBA) string { return fingerprint(lumaOf(img, Inside(img)).edges()) }

func compressed(t *testing.T, img *image.RGBA, quality int) *image.RGBA {
	var data bytes.Buffer
	if err := jpeg.Encode(&data, img, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	again, err := jpeg.Decode(&data)
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewRGBA(img.Rect)
	draw.Draw(out, out.Rect, again, again.Bounds().Min, draw.Src)
	return out
}

// exposed changes the exposure by stops in linear light.
func exposed(img *image.RGBA, stops float64) *image.RGBA {
	out := image.NewRGBA(img.Rect)
	var curve [256]uint8
	for v := range curve {
		curve[v] = uint8(min(255, 255*math.Pow(math.Pow(float64(v)/255, 2.2)*math.Exp2(stops), 1/2.2)))
	}
	for i, v := range img.Pix {
		out.Pix[i] = curve[v]
		if i%4 == 3 {
			out.Pix[i] = 255
		}
	}
	return out
}

func moved(t *testing.T, img *image.RGBA) *image.RGBA {
	part := img.Rect
	part.Min.X += part.Dx() / 50
	part.Max.Y -= part.Dy() / 50
	out := image.NewRGBA(image.Rect(0, 0, part.Dx(), part.Dy()))
	draw.Draw(out, out.Rect, img, part.Min, draw.Src)
	return out
}

func TestFingerprintsStayWithThePhotographAndTellPhotographsApart(t *testing.T) {
	prints := make(map[string]string)
	for _, name := range real {
		img := opened(t, name, 800)
		prints[name] = printOf(img)
		for how, change := range changed {
			if apart := Apart(prints[name], printOf(change(t, img))); apart < 0 || apart > 8 {
				t.Errorf("%s %s: %d bits", name, how, apart)
			}
		}
	}
	nearest := 64
	for a, x := range prints {
		for b, y := range prints {
			if a != b {
				if nearest = min(nearest, Apart(x, y)); Apart(x, y) < 14 {
					t.Errorf("%s and %s are only %d bits apart", a, b, Apart(x, y))
				}
			}
		}
	}
	t.Logf("the nearest two photographs are %d bits apart", nearest)
}

func TestFingerprintsOfEvenPicturesAreSteady(t *testing.T) {
	for _, grey := range []uint8{0, 1, 128, 255} {
		img := drawn(300, 200, func(x, y int) uint8 { return grey })
		if got := measureOf(img).Fingerprint; got != "0000000000000000" {
			t.Errorf("%d: %s", grey, got)
		}
		noisy := drawn(300, 200, func(x, y int) uint8 { return grey&^1 + uint8((x*7+y*13)%2) })
		if got := measureOf(noisy).Fingerprint; got != "0000000000000000" {
			t.Errorf("%d with noise: %s", grey, got)
		}
	}
}

func TestWhatIsNoFingerprintIsNoDistance(t *testing.T) {
	for _, bad := range []string{"", "00", "000000000000000g", "00000000000000000"} {
		if Apart(bad, "0000000000000000") != -1 || Apart("0000000000000000", bad) != -1 {
			t.Errorf("%q", bad)
		}
	}
	if got := Apart("0000000000000000", "ffffffffffffffff"); got != 64 {
		t.Errorf("%d", got)
	}
}
