package form

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"
)

// framed lays a border around a picture: of a grey, with grain, and thicker
// above and below by more.
func framed(img *image.RGBA, grey uint8, thick, more int, grain int) (out *image.RGBA, inside image.Rectangle) {
	noise := rand.New(rand.NewPCG(4, 4))
	inside = image.Rect(thick, thick+more, thick+img.Rect.Dx(), thick+more+img.Rect.Dy())
	out = image.NewRGBA(image.Rect(0, 0, inside.Max.X+thick, inside.Max.Y+thick+more))
	for i := 0; i < len(out.Pix); i += 4 {
		v := uint8(max(0, min(255, int(grey)+noise.IntN(grain+1)-grain/2)))
		out.Pix[i], out.Pix[i+1], out.Pix[i+2], out.Pix[i+3] = v, v, v, 255
	}
	draw.Draw(out, inside, img, image.Point{}, draw.Src)
	return out, inside
}

func TestABorderOfFilmIsLeftOut(t *testing.T) {
	for _, name := range real[:13] {
		img := opened(t, name, 1000)
		for _, c := range []struct {
			name        string
			grey        uint8
			thick, more int
			grain       int
		}{{"film's edge", 14, 30, 0, 8}, {"the lid", 250, 40, 10, 4}, {"a thin one", 5, 12, 0, 4}, {"a whole strip", 20, 20, 100, 10}} {
			out, inside := framed(img, c.grey, c.thick, c.more, c.grain)
			// Film prints its numbers there.
			for x := 100; x < out.Rect.Dx()-100; x += 220 {
				draw.Draw(out, image.Rect(x, 4, x+24, 10), image.NewUniform(color.RGBA{230, 150, 40, 255}), image.Point{}, draw.Src)
			}
			got := Inside(out)
			slack := int(math.Ceil(0.02 * float64(max(out.Rect.Dx(), out.Rect.Dy()))))
			if !got.In(inside.Inset(-3)) || !inside.Inset(slack).In(got) {
				t.Errorf("%s in %s: %v, want about %v of %v", name, c.name, got, inside, out.Rect)
			}
		}
	}
}

func TestABlackBorderWithinAWhiteOneIsLeftOut(t *testing.T) {
	img := opened(t, "rome-2024/BDH_10_1I_0127.jpg", 1000)
	once, inner := framed(img, 12, 30, 0, 6)
	twice, outer := framed(once, 252, 50, 0, 4)
	inside := inner.Add(outer.Min)
	if got := Inside(twice); !got.In(inside) || !inside.Inset(20).In(got) {
		t.Errorf("%v, want about %v", got, inside)
	}
}

func TestRealPhotographsHaveNoBorder(t *testing.T) {
	names := append([]string{}, real...)
	for _, pattern := range []string{"photos-cc0/*.jpg", "no-exif/*.jpg", "rome-2024/*.jpg"} {
		files, err := filepath.Glob(filepath.Join(photosFolder(t), pattern))
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range files {
			if i%3 == 0 { // each takes a third of a second to decode
				names = append(names, filepath.Join(filepath.Base(filepath.Dir(f)), filepath.Base(f)))
			}
		}
	}
	for _, name := range names {
		img := opened(t, name, 800)
		if got := Inside(img); got != img.Rect {
			t.Errorf("%s: %v of %v", name, got, img.Rect)
		}
	}
}

func TestDarkAndLightEdgesThatFadeAreNoBorder(t *testing.T) {
	for name, grey := range map[string]func(x, y int) uint8{
		"a lamp in the night": func(x, y int) uint8 {
			return uint8(255 * math.Exp(-math.Pow(math.Hypot(float64(x-300), float64(y-200))/80, 2)))
		},
		"a vase on white paper": func(x, y int) uint8 {
			return uint8(255 - 200*math.Exp(-math.Pow(math.Hypot(float64(x-300), float64(y-200))/90, 4)))
		},
		"black": func(x, y int) uint8 { return 0 },
		"a night sky over a lit street": func(x, y int) uint8 {
			if y > 150 {
				return uint8(120 + x%90)
			}
			return 6
		},
	} {
		img := drawn(600, 400, grey)
		if got := Inside(img); got != img.Rect {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestMeasuresAreOfThePictureWithinItsBorder(t *testing.T) {
	for _, name := range []string{"photos-cc0/singaporean-cityscape.jpg", "rome-2024/BDH_10_1I_0127.jpg"} {
		img := opened(t, name, 1000)
		plain := measureOf(img)
		out, inside := framed(img, 12, 60, 0, 6)
		f := measureOf(out)
		if apart := Apart(plain.Fingerprint, f.Fingerprint); apart > 10 {
			t.Errorf("%s: the fingerprint differs in %d bits", name, apart)
		}
		height := func(y float64) float64 {
			return (float64(inside.Min.Y) + y*float64(inside.Dy())) / float64(out.Rect.Dy())
		}
		if math.Abs(f.HorizonLeft-height(plain.HorizonLeft)) > 0.03 || math.Abs(f.HorizonRight-height(plain.HorizonRight)) > 0.03 {
			t.Errorf("%s: horizon %.2f to %.2f, want %.2f to %.2f", name, f.HorizonLeft, f.HorizonRight,
				height(plain.HorizonLeft), height(plain.HorizonRight))
		}
		if math.Abs(f.WeightY-height(plain.WeightY)) > 0.03 || math.Abs(f.Sharpness-plain.Sharpness) > 0.05 {
			t.Errorf("%s: %+v, %+v", name, plain, f)
		}
	}
}
