package intake

import (
	"context"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/intake/form"
)

// saved writes a picture as JPEG and returns its path.
func saved(t *testing.T, name string, img image.Image) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if err := jpeg.Encode(file, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return path
}

// decoded reads a JPEG into pixels.
func decoded(t *testing.T, path string) *image.RGBA {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	img, err := jpeg.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewRGBA(img.Bounds())
	draw.Draw(out, out.Rect, img, out.Rect.Min, draw.Src)
	return out
}

func TestMeasuringAgainGivesWhatReadingGave(t *testing.T) {
	ctx := context.Background()
	p := testPool(t, "good", 1, testLimits)
	for _, name := range []string{"rome-2024/BDH_10_1I_0127.jpg", "icc/P3-sRGB-color-ring.jpg", "tiff/strike.tif"} {
		path, cards := filepath.Join(photosFolder(t), name), t.TempDir()
		photo, err := p.Read(ctx, path, cards)
		if err != nil {
			t.Fatal(err)
		}
		if photo.Form.Measured != Edition || photo.Form.Fingerprint == "" || photo.Form.Lines == [4]float64{} {
			t.Errorf("%s: not measured: %+v", name, photo.Form)
		}
		palette, tone, measured, err := p.Remeasure(ctx, path)
		again := sequence.Photo{Palette: palette, Tone: tone, Form: measured}
		if first := (sequence.Photo{Palette: photo.Palette, Tone: photo.Tone, Form: photo.Form}); err != nil || same(t, again) != same(t, first) {
			t.Errorf("%s, from the original: %v\n%s\nwant\n%s", name, err, same(t, again), same(t, first))
		}
		palette, tone, measured, err = p.Remeasure(ctx, CardPath(cards, photo.Hash, 1600))
		if err != nil {
			t.Fatal(err)
		}
		if d := colour.Distance(palette, photo.Palette); d > 7 || math.Abs(tone.Mean-photo.Tone.Mean) > 0.5 ||
			form.Apart(measured.Fingerprint, photo.Form.Fingerprint) > 2 || math.Abs(measured.Sharpness-photo.Form.Sharpness) > 0.1 ||
			math.Abs(measured.WeightX-photo.Form.WeightX) > 0.01 {
			t.Errorf("%s, from its card: palettes %.1f apart, %+v, want %+v", name, d, measured, photo.Form)
		}
	}
	if _, _, _, err := p.Remeasure(ctx, filepath.Join(t.TempDir(), "gone.jpg")); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("a card that is gone: %v", err)
	}
}

func TestAScansBorderDoesNotCountForItsColours(t *testing.T) {
	ctx := context.Background()
	for _, name := range []string{"rome-2024/BDH_10_1I_0127.jpg", "rome-2024/BDH_10_1I_0382.jpg"} {
		img := decoded(t, filepath.Join(photosFolder(t), name))
		plain, err := Read(ctx, saved(t, "plain.jpg", img), t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		for shade, border := range map[string]color.Gray{"black": {12}, "white": {252}} {
			framed := image.NewRGBA(img.Rect.Inset(-60))
			draw.Draw(framed, framed.Rect, image.NewUniform(border), image.Point{}, draw.Src)
			draw.Draw(framed, img.Rect, img, img.Rect.Min, draw.Src)
			photo, err := Read(ctx, saved(t, "framed.jpg", framed), t.TempDir())
			if err != nil {
				t.Fatal(err)
			}
			if d := colour.Distance(plain.Palette, photo.Palette); d > 4 {
				t.Errorf("%s, %s border: palettes are %.1f apart", name, shade, d)
			}
			if math.Abs(plain.Tone.Mean-photo.Tone.Mean) > 1.5 || math.Abs(plain.Tone.Dark-photo.Tone.Dark) > 3 || math.Abs(plain.Tone.Light-photo.Tone.Light) > 3 {
				t.Errorf("%s, %s border: tone %+v, want %+v", name, shade, photo.Tone, plain.Tone)
			}
		}
	}
}

// toned turns a photograph into a print of one hue whose chroma runs with its
// density, as toning baths and papers do; grain is laid over it.
func toned(img *image.RGBA, hue, strength, paper float64) *image.RGBA {
	out := image.NewRGBA(img.Rect)
	for i := 0; i < len(img.Pix); i += 4 {
		l := colour.FromSRGB(img.Pix[i], img.Pix[i+1], img.Pix[i+2]).L
		chroma := strength*math.Sin(math.Pi*l/100) + paper*l/100
		c := colour.Lab{L: l, A: chroma * math.Cos(hue*math.Pi/180), B: chroma * math.Sin(hue*math.Pi/180)}
		out.Pix[i], out.Pix[i+1], out.Pix[i+2] = c.SRGB()
		out.Pix[i+3] = 255
	}
	return out
}

func TestBlackAndWhiteIsToldWhateverItsTone(t *testing.T) {
	// Hue and strength as the baths give them (from memory of prints).
	tones := map[string][3]float64{"black and white": {0, 0, 0}, "sepia": {70, 16, 4}, "selenium": {340, 8, 2}, "blue": {265, 18, 2}, "warm paper": {85, 4, 8}}
	for _, name := range []string{"rome-2024/BDH_10_1I_0127.jpg", "rome-2024/BDH_10_1I_0382.jpg", "rome-2024/BDH_10_1I_0617.jpg"} {
		img := decoded(t, filepath.Join(photosFolder(t), name))
		photo, err := Read(context.Background(), saved(t, "colour.jpg", img), t.TempDir())
		if err != nil || photo.Tone.Monochrome {
			t.Errorf("%s in colour: %v %v", name, err, photo.Tone.Monochrome)
		}
		for tone, how := range tones {
			path := saved(t, "toned.jpg", toned(img, how[0], how[1], how[2]))
			photo, err := Read(context.Background(), path, t.TempDir())
			if err != nil || !photo.Tone.Monochrome {
				t.Errorf("%s, %s: %v, %+v", name, tone, err, photo.Tone)
			}
		}
	}
}
