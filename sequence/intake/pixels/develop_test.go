package pixels

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
)

func TestEveryOrientationComesOutUpright(t *testing.T) {
	for _, motif := range []string{"Landscape", "Portrait"} {
		upright := printed(t, "orientation/"+motif+"_1.jpg").Picture
		for o := range 9 {
			turned := printed(t, fmt.Sprintf("orientation/%s_%d.jpg", motif, o)).Picture
			if turned.Bounds() != upright.Bounds() {
				t.Errorf("%s %d: %v, want %v", motif, o, turned.Bounds(), upright.Bounds())
				continue
			}
			// Each picture was compressed by itself and has its own number
			// painted in the middle; the rest is the same to within that.
			var sum, count float64
			b := upright.Bounds()
			for y := range b.Dy() {
				for x := range b.Dx() {
					if y > b.Dy()/4 && y < b.Dy()*3/4 && x > b.Dx()/4 && x < b.Dx()*3/4 {
						continue
					}
					for c := range 3 {
						i := upright.PixOffset(x, y) + c
						sum += math.Abs(float64(turned.Pix[i]) - float64(upright.Pix[i]))
						count++
					}
				}
			}
			if sum/count > 3 {
				t.Errorf("%s %d: %.1f of 255 off on average", motif, o, sum/count)
			}
		}
	}
}

func TestTurningMovesEveryPixelWhereEXIFSays(t *testing.T) {
	// Two rows of three as stored; EXIF 2.32 tells where its first row and
	// column are to be seen.
	stored := []uint8{1, 2, 3, 4, 5, 6}
	want := map[int]string{
		0: "123 456", 1: "123 456", 2: "321 654", 3: "654 321", 4: "456 123",
		5: "14 25 36", 6: "41 52 63", 7: "63 52 41", 8: "36 25 14", 9: "123 456", -1: "123 456", 65535: "123 456",
	}
	for o, rows := range want {
		img := image.NewRGBA(image.Rect(0, 0, 3, 2))
		for i, v := range stored {
			img.SetRGBA(i%3, i/3, color.RGBA{v, 0, 0, 255})
		}
		turned := upright(img, o)
		var got string
		for y := range turned.Rect.Dy() {
			if y > 0 {
				got += " "
			}
			for x := range turned.Rect.Dx() {
				got += fmt.Sprint(turned.RGBAAt(x, y).R)
			}
		}
		if got != rows {
			t.Errorf("orientation %d: %s, want %s", o, got, rows)
		}
	}
}

func TestTransparencyIsLaidOnWhitePaper(t *testing.T) {
	rect := image.Rect(0, 0, 4, 1)
	straight, straight16, premultiplied := image.NewNRGBA(rect), image.NewNRGBA64(rect), image.NewRGBA(rect)
	colours := []color.NRGBA{{200, 0, 0, 255}, {200, 0, 0, 128}, {200, 0, 0, 0}, {0, 0, 0, 51}}
	palette := image.NewPaletted(rect, nil)
	for x, c := range colours {
		straight.Set(x, 0, c)
		straight16.Set(x, 0, c)
		premultiplied.Set(x, 0, c)
		palette.Palette = append(palette.Palette, c)
		palette.SetColorIndex(x, 0, uint8(x))
	}
	want := [4][3]int{{200, 0, 0}, {227, 127, 127}, {255, 255, 255}, {204, 204, 204}}
	for name, img := range map[string]image.Image{"straight": straight, "16 bits": straight16, "multiplied": premultiplied, "palette": palette} {
		p, err := Develop(img, header.Header{}, 100)
		if err != nil {
			t.Fatal(err)
		}
		for x := range 4 {
			got := p.Picture.RGBAAt(x, 0)
			for c, v := range []uint8{got.R, got.G, got.B} {
				if d := int(v) - want[x][c]; d < -1 || d > 1 || got.A != 255 {
					t.Errorf("%s %d: %v, want %v", name, x, got, want[x])
				}
			}
		}
	}
}

func TestSixteenBitsAndGreyAreRoundedNotCut(t *testing.T) {
	deep, grey := image.NewRGBA64(image.Rect(0, 0, 2, 1)), image.NewGray16(image.Rect(0, 0, 2, 1))
	deep.SetRGBA64(0, 0, color.RGBA64{100*257 + 200, 100*257 + 100, 100 * 257, 65535})
	grey.SetGray16(0, 0, color.Gray16{100*257 + 200})
	for name, img := range map[string]image.Image{"RGB": deep, "grey": grey} {
		p, err := Develop(img, header.Header{}, 100)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Picture.RGBAAt(0, 0); got.R != 101 || name == "RGB" && (got.G != 100 || got.B != 100) {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestInksWithoutAProfileAreShownWithAWarning(t *testing.T) {
	p := printed(t, "icc/pil_sample_cmyk.jpg")
	if len(p.Findings) != 1 || p.Findings[0].Code != sequence.Unsupported {
		t.Errorf("findings %v", p.Findings)
	}
	// Red letters on black.
	if got := mean(p.Picture); got[0] < 20 || got[1] > 15 || got[2] > 15 {
		t.Errorf("mean %v", got)
	}
}

func TestEveryReadableTIFFLooksAsItDoesToLibtiff(t *testing.T) {
	// Mean of R, G and B of the whole picture by libtiff 4.5.0: tiff2rgba -c none -n.
	cases := []struct {
		name string
		mean [3]float64
	}{
		{"cramps.tif", [3]float64{181.17, 181.17, 181.17}},
		{"issue_69_lzw.tiff", [3]float64{1.40, 1.40, 1.40}},
		{"issue_69_packbits.tiff", [3]float64{1.40, 1.40, 1.40}},
		{"jello.tif", [3]float64{88.48, 103.46, 99.78}},
		{"jim___ah.tif", [3]float64{112.91, 112.91, 112.91}},
		{"jim___cg.tif", [3]float64{68.20, 68.20, 68.20}},
		{"jim___dg.tif", [3]float64{78.73, 78.73, 78.73}},
		{"jim___gg.tif", [3]float64{78.73, 78.73, 78.73}},
		{"ladoga.tif", [3]float64{5.04, 5.04, 5.04}},
		{"minisblack-1c-16b.tiff", [3]float64{120.30, 120.30, 120.30}},
		{"minisblack-1c-8b.tiff", [3]float64{119.83, 119.83, 119.83}},
		{"miniswhite-1c-1b.tiff", [3]float64{127.49, 127.49, 127.49}},
		{"palette-1c-1b.tiff", [3]float64{127.49, 127.49, 127.49}},
		{"palette-1c-8b.tiff", [3]float64{149.97, 115.87, 66.40}},
		{"poppies.tif", [3]float64{87.79, 77.93, 41.09}},
		{"rgb-3c-16b.tiff", [3]float64{149.89, 115.81, 66.55}},
		{"rgb-3c-8b.tiff", [3]float64{149.39, 115.33, 66.07}},
		{"tiled-gray-i1.tif", [3]float64{126.22, 126.22, 126.22}},
		{"tiled-rect-rgb-u8.tif", [3]float64{112.77, 119.52, 112.93}},
		{"tiled-rgb-u8.tif", [3]float64{82.61, 69.70, 59.50}},
	}
	for _, c := range cases {
		if got := mean(printed(t, "tiff/"+c.name).Picture); farthest(got, c.mean) > 1 {
			t.Errorf("%s: %.2f, libtiff %.2f", c.name, got, c.mean)
		}
	}
}

func TestShrinkingKeepsTheMeanAndNeverEnlarges(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 60 {
		w, h, long := 1+random.IntN(400), 1+random.IntN(400), 1+random.IntN(200)
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		for y := range h {
			for x := range w { // broad waves, which survive any shrinking
				v := uint8(128 + 60*math.Sin(float64(x)/float64(w)*5) + 50*math.Cos(float64(y)/float64(h)*4))
				img.SetRGBA(x, y, color.RGBA{v, 255 - v, 77, 255})
			}
		}
		small, err := Smaller(img, long)
		if err != nil {
			t.Fatal(err)
		}
		b := small.Bounds()
		if most := max(b.Dx(), b.Dy()); most != min(long, max(w, h)) || min(b.Dx(), b.Dy()) < 1 {
			t.Errorf("%d × %d to %d: %v", w, h, long, b)
		}
		if long >= 16 && min(w, h) >= 16 && min(b.Dx(), b.Dy()) > 3 && farthest(mean(small), mean(img)) > 2 {
			t.Errorf("%d × %d to %d: mean %.1f, was %.1f", w, h, long, mean(small), mean(img))
		}
		if r, g, bl, _ := small.At(b.Dx()/2, b.Dy()/2).RGBA(); bl>>8 != 77 || r>>8+g>>8 < 253 || r>>8+g>>8 > 257 {
			t.Errorf("%d × %d to %d: an even channel came out as %d", w, h, long, bl>>8)
		}
	}
}

func TestAPictureSmallEnoughIsNotChanged(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	img := image.NewRGBA(image.Rect(0, 0, 37, 23))
	for i := range img.Pix {
		img.Pix[i] = uint8(random.IntN(256))
		if i%4 == 3 {
			img.Pix[i] = 255
		}
	}
	for _, long := range []int{37, 1600} {
		same, err := Smaller(img, long)
		if err != nil || !bytes.Equal(same.Pix, img.Pix) {
			t.Errorf("at %d it was changed: %v", long, err)
		}
	}
}

func TestPixelsFinerThanTheSmallPictureDoNotShow(t *testing.T) {
	// A chequered board of single pixels is an even grey from afar.
	board := image.NewGray(image.Rect(0, 0, 1500, 900))
	for i := range board.Pix {
		if (i%1500+i/1500)%2 == 0 {
			board.Pix[i] = 255
		}
	}
	for _, long := range []int{100, 313, 700} {
		p, err := Develop(board, header.Header{}, long)
		if err != nil {
			t.Fatal(err)
		}
		b := p.Picture.Bounds()
		for y := 4; y < b.Dy()-4; y++ {
			for x := 4; x < b.Dx()-4; x++ {
				if v := p.Picture.RGBAAt(x, y).R; v < 122 || v > 133 {
					t.Fatalf("at %d: %d at %d,%d", long, v, x, y)
				}
			}
		}
	}
}

// encodedJPEG makes a JPEG of noise, which leaves no byte idle.
func encodedJPEG(t *testing.T) []byte {
	t.Helper()
	random := rand.New(rand.NewPCG(5, 6))
	img := image.NewRGBA(image.Rect(0, 0, 64, 48))
	for i := range img.Pix {
		img.Pix[i] = uint8(random.IntN(256)) | 255*uint8(i%4/3)
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestADamagedJPEGIsShownAsFarAsItGoesAndSaysSo(t *testing.T) {
	data := encodedJPEG(t)
	real := photo(t, "rome-2024/BDH_10_1I_0127.jpg")
	cases := []struct {
		name  string
		data  []byte
		words string // of its finding, "" for none
		code  sequence.Code
	}{
		{"whole", data, "", ""},
		{"without its last two bytes", data[:len(data)-2], "seems whole", ""},
		{"without its last thousand bytes", data[:len(data)-1000], "only", ""},
		{"with rubbish behind", append(bytes.Clone(data), "rubbish"...), "", ""},
		{"a tenth of a photograph", real[:len(real)/10], "only 29 %", ""},
		{"three quarters of a photograph", real[:len(real)*3/4], "only 80 %", ""},
		{"nothing but the header", data[:700], "", sequence.Damaged},
	}
	for _, c := range cases {
		h, err := header.Read("jpeg", bytes.NewReader(c.data), int64(len(c.data)))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		d, err := Decode(h, bytes.NewReader(c.data), int64(len(c.data)), 1600)
		if sequence.CodeOf(err) != c.code || (err == nil) != (d.Image != nil) {
			t.Errorf("%s: %v", c.name, err)
		}
		if (c.words == "") != (len(d.Findings) == 0) || len(d.Findings) > 0 && !strings.Contains(d.Findings[0].Words, c.words) {
			t.Errorf("%s: %v, want %q", c.name, d.Findings, c.words)
		}
	}
}

func TestADamagedPictureIsRefusedInWords(t *testing.T) {
	var sound bytes.Buffer
	if err := png.Encode(&sound, image.NewGray(image.Rect(0, 0, 50, 50))); err != nil {
		t.Fatal(err)
	}
	torn := bytes.Clone(sound.Bytes())
	torn[len(torn)-25] ^= 0xFF
	tiff := photo(t, "tiff/tiled-rgb-u8.tif")
	for name, c := range map[string]struct {
		kind string
		data []byte
	}{
		"a PNG with a flipped byte": {"png", torn}, "a PNG cut off": {"png", sound.Bytes()[:60]},
		"a TIFF cut off": {"tiff", tiff[:len(tiff)/2]}, "nothing": {"jpeg", nil},
	} {
		h := header.Header{Format: c.kind, Width: 64, Height: 64}
		if _, err := Decode(h, bytes.NewReader(c.data), int64(len(c.data)), 1600); sequence.CodeOf(err) != sequence.Damaged {
			t.Errorf("%s: %v", name, err)
		}
	}
}
