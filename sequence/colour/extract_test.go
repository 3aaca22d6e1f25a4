package colour

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// painted fills a picture with ground and lays rectangles over it.
func painted(width, height int, ground color.Color, spots ...spot) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	draw.Draw(img, img.Bounds(), image.NewUniform(ground), image.Point{}, draw.Src)
	for _, s := range spots {
		draw.Draw(img, s.at, image.NewUniform(s.colour), image.Point{}, draw.Src)
	}
	return img
}

type spot struct {
	at     image.Rectangle
	colour color.Color
}

// grained adds the grain of a fast film, equal in all channels, to a picture.
func grained(img *image.NRGBA, deviation float64) *image.NRGBA {
	random := rand.New(rand.NewPCG(400, 3200))
	for i := 0; i < len(img.Pix); i += 4 {
		grain := deviation * random.NormFloat64()
		for k := range 3 {
			img.Pix[i+k] = uint8(min(max(float64(img.Pix[i+k])+grain, 0), 255))
		}
	}
	return img
}

func labOf(c color.NRGBA) Lab { return FromSRGB(c.R, c.G, c.B) }

var (
	street = color.NRGBA{118, 117, 115, 255}
	rust   = color.NRGBA{150, 75, 35, 255}
	sea    = color.NRGBA{30, 90, 130, 255}
	sand   = color.NRGBA{225, 205, 170, 255}
	night  = color.NRGBA{20, 20, 28, 255}
	red    = color.NRGBA{200, 30, 35, 255}
	mud    = color.NRGBA{80, 66, 52, 255}
)

func TestPaletteGivesBackColoursAndAreas(t *testing.T) {
	// Edges every 10 pixels of 1000 fall between the samples' boxes, so that no
	// box mixes two colours and the figures are exact.
	img := painted(1000, 1000, sea,
		spot{image.Rect(0, 0, 1000, 300), sand}, spot{image.Rect(0, 300, 200, 1000), rust}, spot{image.Rect(900, 300, 1000, 1000), night})
	p := Extract(img)
	want := []struct {
		colour color.NRGBA
		weight float64
	}{{sea, .49}, {sand, .30}, {rust, .14}, {night, .07}}
	if len(p) != len(want) {
		t.Fatalf("%d swatches for %d colours: %v", len(p), len(want), p)
	}
	for i, w := range want {
		if d := DeltaE00(p[i].Lab, labOf(w.colour)); d > 0.01 || math.Abs(p[i].Weight-w.weight) > 1e-12 {
			t.Errorf("swatch %d is %+v, %.3f from the paint; painted %.2f", i, p[i], d, w.weight)
		}
	}
}

func TestPaletteKeepsARedCoatInAGreyStreet(t *testing.T) {
	for _, c := range []struct {
		name string
		spot image.Rectangle
		of   color.NRGBA
		kept bool
	}{
		{"a vivid 0.8 %", image.Rect(600, 300, 680, 360), red, true},
		{"a vivid 0.6 % across the grain of the samples", image.Rect(604, 303, 664, 363), red, true},
		{"a vivid 0.2 %", image.Rect(600, 300, 630, 340), red, false},
		{"a dull 0.8 %", image.Rect(600, 300, 680, 360), mud, false},
		{"a dull 2.4 %", image.Rect(600, 300, 720, 420), mud, true},
	} {
		img := grained(painted(1000, 600, street, spot{image.Rect(0, 0, 1000, 200), color.NRGBA{190, 192, 195, 255}}, spot{c.spot, c.of}), 6)
		p := Extract(img)
		share := float64(c.spot.Dx()*c.spot.Dy()) / 600000
		found := slices.IndexFunc(p, func(s Swatch) bool { return DeltaE00(s.Lab, labOf(c.of)) < 8 })
		switch {
		case c.kept != (found >= 0):
			t.Errorf("%s: kept %v, want %v: %v", c.name, found >= 0, c.kept, p)
		case c.kept && math.Abs(p[found].Weight-share) > share/3:
			t.Errorf("%s: weight %.4f, painted %.4f", c.name, p[found].Weight, share)
		}
	}
}

func TestPaletteCountsLightAndShadeOfACoatTogether(t *testing.T) {
	shade := color.NRGBA{150, 22, 30, 255}
	img := painted(1000, 600, street, spot{image.Rect(600, 300, 660, 345), red}, spot{image.Rect(660, 300, 720, 345), shade})
	p := Extract(img)
	if len(p) != 2 || p[1].Lab.Chroma() < accentChroma || math.Abs(p[1].Weight-0.009) > 0.003 {
		t.Errorf("want the street and one red of 0.9 %%, got %v", p)
	}
}

func TestGrainIsNoColourOfItsOwn(t *testing.T) {
	p, tone := Measure(grained(painted(1200, 800, street), 20))
	if len(p) > 2 {
		t.Errorf("an even grey with grain has %d swatches: %v", len(p), p)
	}
	if d := DeltaE00(p[0].Lab, labOf(street)); d > 2 {
		t.Errorf("grain moved the grey by %.2f", d)
	}
	if !tone.Monochrome || tone.Deviation > 3 {
		t.Errorf("grain shows in the tone: %+v", tone)
	}
}

func TestPaletteIsTheSameWhateverHoldsThePixels(t *testing.T) {
	photo := photograph(t, "photos-cc0/oakland-zoo-otters.jpg")
	bounds := photo.Bounds()
	nrgba, rgba := image.NewNRGBA(bounds), image.NewRGBA(bounds)
	draw.Draw(nrgba, bounds, photo, bounds.Min, draw.Src)
	draw.Draw(rgba, bounds, photo, bounds.Min, draw.Src)
	shifted := image.NewNRGBA(bounds.Add(image.Pt(37, -11)))
	copy(shifted.Pix, nrgba.Pix)
	want, tone := Measure(photo)
	for name, img := range map[string]image.Image{
		"NRGBA": nrgba, "RGBA": rgba, "the same again": photo, "shifted": shifted, "unknown to us": struct{ image.Image }{nrgba},
	} {
		p, itsTone := Measure(img)
		if !slices.Equal(p, want) || itsTone != tone {
			t.Errorf("%s: %v %+v, want %v %+v", name, p, itsTone, want, tone)
		}
		if !slices.Equal(Extract(img), p) {
			t.Errorf("%s: Extract and Measure differ", name)
		}
	}
}

func TestGreyPicturesReadTheSameInEveryLayout(t *testing.T) {
	grey := image.NewGray(image.Rect(3, 4, 303, 204))
	for i := range grey.Pix {
		grey.Pix[i] = uint8(i * 255 / len(grey.Pix))
	}
	want, tone := Measure(grey)
	p, its := Measure(struct{ image.Image }{grey})
	if !slices.Equal(p, want) || its != tone || !tone.Monochrome {
		t.Errorf("%v %+v, want %v %+v", p, its, want, tone)
	}
}

func TestTransparencyShowsThePaper(t *testing.T) {
	half := color.NRGBA{200, 30, 35, 128}
	clear := painted(60, 40, color.NRGBA{200, 30, 35, 0})
	if p := Extract(clear); len(p) != 1 || p[0] != (Swatch{Lab{100, 0, 0}, 1}) {
		t.Errorf("nothing at all on paper is %v", p)
	}
	nrgba := painted(60, 40, half)
	rgba := image.NewRGBA(nrgba.Bounds())
	draw.Draw(rgba, rgba.Bounds(), nrgba, image.Point{}, draw.Src)
	want := FromSRGB(227, 142, 145) // 200·½+255·½ and so on, ½ being 128/255
	for name, img := range map[string]image.Image{"NRGBA": nrgba, "RGBA": rgba, "unknown to us": struct{ image.Image }{rgba}} {
		if p := Extract(img); len(p) != 1 || DeltaE00(p[0].Lab, want) > 0.5 {
			t.Errorf("%s: %v, want %+v", name, p, want)
		}
	}
}

func TestOddShapesHavePalettesToo(t *testing.T) {
	if p, tone := Measure(image.NewNRGBA(image.Rect(5, 5, 5, 90))); p != nil || tone != (Tone{}) {
		t.Errorf("no pixels at all have %v and %+v", p, tone)
	}
	for _, size := range []image.Point{{1, 1}, {2, 1}, {1, 30000}, {30000, 1}, {3, 7}, {101, 99}} {
		p := Extract(painted(size.X, size.Y, rust))
		if len(p) != 1 || p[0].Weight != 1 || DeltaE00(p[0].Lab, labOf(rust)) > 0.05 {
			t.Errorf("%v of one colour: %v", size, p)
		}
	}
	checker := image.NewPaletted(image.Rect(0, 0, 2, 1), color.Palette{night, sand})
	checker.Pix[1] = 1
	if p := Extract(checker); len(p) != 2 || p[0].Weight != .5 || p[0].Lab.L > p[1].Lab.L {
		t.Errorf("two pixels: %v, want the darker first of two halves", p)
	}
}

// Judged by eye on contact sheets: the colour a photographer would miss.
func TestPalettesOfRealPhotographsHoldTheTellingColour(t *testing.T) {
	for _, c := range []struct {
		photo string
		hue   [2]float64 // degrees, from..to
		least float64    // chroma
		what  string
	}{
		{"photos-cc0/oakland-zoo-otters.jpg", [2]float64{220, 250}, 32, "the bright blue float"},
		{"photos-cc0/blue-periwinkle.jpg", [2]float64{255, 285}, 30, "the blossoms"},
		{"photos-cc0/roman-colosseum.jpg", [2]float64{225, 245}, 25, "the sky"},
		{"photos-cc0/tea-gardens.jpg", [2]float64{105, 125}, 55, "the sunlit leaves"},
		{"phone-p3-offset/012mp-bus.jpg", [2]float64{25, 45}, 50, "the red bus"},
		{"no-exif/Picture_1A_by_freespace.jpg", [2]float64{340, 360}, 55, "the pink brush"},
		{"no-exif/Picture_1A_by_freespace.jpg", [2]float64{180, 205}, 28, "the green-blue brush"},
		{"no-exif/Picture_1A_by_freespace.jpg", [2]float64{85, 105}, 55, "the yellow bristles"},
		{"rome-2024/BDH_10_1I_0196.jpg", [2]float64{25, 50}, 20, "the red inside the shop"},
		{"rome-2024/BDH_10_1I_0732.jpg", [2]float64{70, 85}, 50, "the lit bridge"},
	} {
		p := Extract(photograph(t, c.photo))
		if !slices.ContainsFunc(p, func(s Swatch) bool {
			return s.Lab.Hue() >= c.hue[0] && s.Lab.Hue() <= c.hue[1] && s.Lab.Chroma() >= c.least
		}) {
			t.Errorf("%s lacks %s: %v", c.photo, c.what, p)
		}
		checkPalette(t, p)
	}
}

func checkPalette(t *testing.T, p Palette) {
	t.Helper()
	sum := 0.0
	for i, s := range p {
		sum += s.Weight
		if !s.usable() || i > 0 && s.Weight > p[i-1].Weight {
			t.Errorf("swatch %d of %v", i, p)
		}
	}
	if len(p) < 1 || len(p) > 8 || math.Abs(sum-1) > 1e-12 {
		t.Errorf("%d swatches weighing %v: %v", len(p), sum, p)
	}
}

// The same picture at another size or a little brighter must stay closer to
// itself than to any other picture.
func TestAPictureStaysNearestToItself(t *testing.T) {
	names := []string{"canyon-wren", "casa-mila", "lake-sherburne", "tea-gardens", "blue-periwinkle", "high-trestle-trail"}
	var whole, varied []Palette
	for _, name := range names {
		photo := photograph(t, "photos-cc0/"+name+".jpg")
		whole = append(whole, Extract(photo))
		varied = append(varied, Extract(thinned{photo}))
	}
	for i := range whole {
		own := Distance(whole[i], varied[i])
		if own > 5 {
			t.Errorf("%s at a third of its size lies %.2f from itself", names[i], own)
		}
		for j := range whole {
			if other := Distance(whole[i], varied[j]); j != i && other <= own {
				t.Errorf("%s is nearer to %s (%.2f) than to itself (%.2f)", names[i], names[j], other, own)
			}
		}
	}
}

// thinned shows every third pixel, a little brighter.
type thinned struct{ image.Image }

func (p thinned) Bounds() image.Rectangle {
	b := p.Image.Bounds()
	return image.Rect(0, 0, b.Dx()/3, b.Dy()/3)
}

func (p thinned) At(x, y int) color.Color {
	b := p.Image.Bounds()
	r, g, bl, _ := p.Image.At(b.Min.X+3*x, b.Min.Y+3*y).RGBA()
	lift := func(v uint32) uint16 { return uint16(min(v*103/100, 0xffff)) }
	return color.RGBA64{lift(r), lift(g), lift(bl), 0xffff}
}

func FuzzExtractMakesSoundPalettes(f *testing.F) {
	f.Add([]byte{255, 0, 0, 255, 0, 255, 0, 255}, uint8(2))
	f.Add([]byte{1, 2, 3, 4}, uint8(1))
	random := rand.New(rand.NewPCG(9, 9))
	noise := make([]byte, 4*400)
	for i := range noise {
		noise[i] = byte(random.Uint32())
	}
	f.Add(noise, uint8(20))
	f.Fuzz(func(t *testing.T, pix []byte, width uint8) {
		columns := int(width)
		if columns == 0 || len(pix) < 4*columns {
			return
		}
		rows := len(pix) / (4 * columns)
		img := &image.NRGBA{Pix: pix, Stride: 4 * columns, Rect: image.Rect(0, 0, columns, rows)}
		p, tone := Measure(img)
		checkPalette(t, p)
		if d := Distance(p, p); d != 0 {
			t.Errorf("%v lies %v from itself", p, d)
		}
		if !(tone.Dark <= tone.Light && tone.Mean >= -1e-9 && tone.Mean <= 100+1e-9 && tone.Deviation >= 0 && tone.Chroma >= 0) {
			t.Errorf("tone %+v", tone)
		}
	})
}

func BenchmarkExtract(b *testing.B) {
	photo := photograph(b, "photos-cc0/roman-colosseum.jpg")
	small := image.NewNRGBA(image.Rect(0, 0, 1600, 1067))
	ycbcr := image.NewYCbCr(small.Rect, image.YCbCrSubsampleRatio420)
	source := pixels(photo)
	size := photo.Bounds().Size()
	for y := range 1067 {
		for x := range 1600 {
			r, g, bl := source(x*size.X/1600, y*size.Y/1067)
			small.SetNRGBA(x, y, color.NRGBA{r, g, bl, 255})
			ycbcr.Y[ycbcr.YOffset(x, y)], ycbcr.Cb[ycbcr.COffset(x, y)], ycbcr.Cr[ycbcr.COffset(x, y)] = color.RGBToYCbCr(r, g, bl)
		}
	}
	for name, img := range map[string]image.Image{"1600px NRGBA": small, "1600px YCbCr": ycbcr} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if len(Extract(img)) == 0 {
					b.Fatal("no palette")
				}
			}
		})
	}
}
