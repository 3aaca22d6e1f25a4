package colour

import (
	"image"
	"image/color"
	"math"
	"testing"
)

// A ramp with L* spread evenly from 0 to 100 has mean 50, standard deviation
// 100/√12 and percentiles equal to themselves.
func TestToneOfAnEvenRampIsKnown(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 1000, 1000))
	for y := range 1000 {
		for x := range 1000 {
			v, _, _ := Lab{(float64(x) + 0.5) / 10, 0, 0}.SRGB()
			img.SetGray(x, y, color.Gray{v})
		}
	}
	_, tone := Measure(img)
	want := Tone{Mean: 50, Deviation: 100 / math.Sqrt(12), Dark: 5, Light: 95}
	for _, c := range []struct{ got, want float64 }{
		{tone.Mean, want.Mean}, {tone.Deviation, want.Deviation}, {tone.Dark, want.Dark}, {tone.Light, want.Light},
	} {
		if math.Abs(c.got-c.want) > 0.6 { // 8 bits hold a third of a step of L*; a box is one wide
			t.Errorf("%+v, want %+v", tone, want)
			break
		}
	}
	if tone.Chroma != 0 || !tone.Monochrome {
		t.Errorf("a grey ramp has chroma %v, monochrome %v", tone.Chroma, tone.Monochrome)
	}
}

func TestChromaIsTheMeanOverThePicture(t *testing.T) {
	_, tone := Measure(painted(1000, 1000, street, spot{image.Rect(0, 0, 250, 1000), red}))
	want := 0.75*labOf(street).Chroma() + 0.25*labOf(red).Chroma()
	if math.Abs(tone.Chroma-want) > 1e-9 {
		t.Errorf("%v, want %v", tone.Chroma, want)
	}
}

func TestMonochromeKnowsTonedPrintsFromColour(t *testing.T) {
	night := photograph(t, "photos-cc0/high-trestle-trail.jpg") // strays most of those at hand when toned
	for _, c := range []struct {
		name string
		img  image.Image
		want bool
	}{
		{"black and white", toned(night, color.NRGBA{5, 5, 5, 255}, color.NRGBA{250, 250, 250, 255}), true},
		{"a sepia print", toned(night, color.NRGBA{35, 20, 10, 255}, color.NRGBA{240, 225, 195, 255}), true},
		{"a cyanotype", toned(night, color.NRGBA{10, 35, 80, 255}, color.NRGBA{225, 235, 240, 255}), true},
		{"pure red on black", painted(400, 400, color.Black, spot{image.Rect(100, 100, 200, 300), color.NRGBA{255, 0, 0, 255}}), false},
		{"a grey street with a red coat of 1 %", painted(1000, 600, street, spot{image.Rect(600, 300, 700, 360), red}), false},
		{"a grey-scale JPEG", photograph(t, "icc/jpg-8bit-grey-icc-dot-gain.jpg"), true},
		{"a white marble front in colour", photograph(t, "rome-2024/BDH_10_1I_0676.jpg"), false},
		{"a muted bird on a rock", photograph(t, "photos-cc0/canyon-wren.jpg"), false},
		{"a night bridge nearly all blue", night, false},
	} {
		if _, tone := Measure(c.img); tone.Monochrome != c.want {
			t.Errorf("%s: monochrome %v", c.name, tone.Monochrome)
		}
	}
}

// Baths as they are sold, weak and strong, on photographs that differ: those that
// stray most when toned, and those that stray least in colour. The colours of
// shadow and light are from memory of such prints.
func TestStronglyTonedPrintsAreMonochromeAndTheirOriginalsAreNot(t *testing.T) {
	baths := map[string][2]color.NRGBA{
		"strong sepia":       {{60, 25, 5, 255}, {255, 220, 160, 255}},
		"selenium":           {{30, 10, 20, 255}, {245, 225, 225, 255}},
		"a strong cyanotype": {{5, 25, 110, 255}, {215, 235, 250, 255}},
	}
	for _, name := range []string{"photos-cc0/singaporean-cityscape.jpg", "rome-2024/BDH_10_1I_0676.jpg", "rome-2024/BDH_10_1I_0174.jpg"} {
		img := photograph(t, name)
		if _, tone := Measure(img); tone.Monochrome {
			t.Errorf("%s in colour is taken for monochrome", name)
		}
		for bath, c := range baths {
			if _, tone := Measure(toned(img, c[0], c[1])); !tone.Monochrome {
				t.Errorf("%s, %s: not seen as monochrome; mean chroma %.0f", name, bath, tone.Chroma)
			}
		}
	}
}

// toned turns a picture into a print of two dyes: shadow where it was black,
// light where it was white.
func toned(img image.Image, shadow, light color.NRGBA) image.Image {
	bounds, at := img.Bounds(), pixels(img)
	print := image.NewNRGBA(bounds)
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			r, g, b := at(x, y)
			s := (0.3*float64(r) + 0.6*float64(g) + 0.1*float64(b)) / 255
			mix := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + s*(float64(b)-float64(a)))) }
			print.SetNRGBA(x, y, color.NRGBA{mix(shadow.R, light.R), mix(shadow.G, light.G), mix(shadow.B, light.B), 255})
		}
	}
	return print
}
