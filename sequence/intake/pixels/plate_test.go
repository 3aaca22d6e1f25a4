package pixels

import (
	"bytes"
	"image"
	"image/color"
	"os"
	"testing"

	"pairwall/sequence/colour/inks"
	"pairwall/sequence/intake/header"
)

// pressProfile is a press profile that Debian's libgs-common brings, on which
// ghostscript stands.
func pressProfile(t testing.TB) *inks.Profile {
	t.Helper()
	data, err := os.ReadFile("/usr/share/color/icc/ghostscript/default_cmyk.icc")
	if err != nil {
		t.Fatalf("this test needs Debian's ghostscript: %v", err)
	}
	p, err := inks.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Percent of ink by Little CMS 2.14:
// transicc -n -t1 -b -i PROFILE -o /usr/share/color/icc/ghostscript/default_cmyk.icc
func TestColoursBecomeInksAsByLittleCMS(t *testing.T) {
	rgb := [][3]uint8{{255, 0, 0}, {0, 255, 0}, {0, 0, 255}, {255, 255, 255}, {0, 0, 0}, {128, 128, 128}, {200, 150, 110}, {20, 60, 120}, {240, 220, 30}, {90, 140, 70}, {33, 33, 40}}
	for _, c := range []struct {
		profile string // "": none, so sRGB
		want    [][4]float64
	}{
		{"", [][4]float64{{0, 99.8444, 100, 0}, {62.4720, 0, 100, 0}, {87.7607, 77.0275, 0, 0}, {0, 0, 0, 0}, {72.3079, 67.6936, 67.1016, 88.6015},
			{50.9010, 43.5721, 43.6759, 7.6616}, {20.7645, 42.9755, 61.8952, 1.1658}, {100, 86.8910, 25.4932, 11.0231}, {7.7424, 6.8894, 98.4115, 0},
			{68.8563, 25.5039, 93.5378, 8.7663}, {74.1421, 69.9428, 59.2935, 70.0435}}},
		{"icc/profiles/DisplayP3-v4.icc", [][4]float64{{0, 100, 100, 0}, {78.5870, 0, 100, 0}, {87.3854, 75.9762, 0, 0}, {0, 0, 0, 0}, {72.3079, 67.6936, 67.1016, 88.6015},
			{50.9010, 43.5721, 43.6759, 7.6616}, {16.5087, 45.8824, 65.4017, 0.7889}, {100, 85.7053, 23.9490, 9.2164}, {7.3289, 7.4022, 100, 0},
			{74.7112, 22.8321, 100, 7.3411}, {74.5418, 70.3853, 58.5657, 69.6498}}},
	} {
		img := image.NewRGBA(image.Rect(0, 0, len(rgb), 1))
		for x, v := range rgb {
			img.SetRGBA(x, 0, color.RGBA{v[0], v[1], v[2], 255})
		}
		var h header.Header
		if c.profile != "" {
			h.Profile = photo(t, c.profile)
		}
		var out bytes.Buffer
		p, err := WritePlate(&out, img, h, Wanted{Inks: pressProfile(t)})
		if err != nil || p.Channels != 4 || p.Profile != nil {
			t.Fatalf("%+v, %v", p, err)
		}
		const near = 2.0 / 255 * 100
		total := 0.0
		for x, want := range c.want {
			for k, w := range want {
				got := float64(out.Bytes()[4*x+k]) / 255 * 100
				total += max(got-w, w-got)
				if got < w-near || got > w+near {
					t.Errorf("%q %v: ink %d is %.2f %%, want %.2f %%", c.profile, rgb[x], k, got, w)
				}
			}
		}
		t.Logf("%q: off by %.2f %% of ink on average", c.profile, total/float64(4*len(c.want)))
	}
}

func TestAPlateKeepsTheSamplesAndTheProfile(t *testing.T) {
	for _, c := range []struct {
		name     string
		channels int
		own      bool
	}{
		{"icc/paris_icc_exif_xmp.png", 3, true},
		{"icc/pil_sample_cmyk.jpg", 3, false},
		{"icc/jpg-8bit-grey-icc-dot-gain.jpg", 1, true},
		{"tiff/minisblack-1c-8b.tiff", 1, false},
		{"heic/iphone.heic", 3, true},
	} {
		img, h := opened(t, c.name)
		var out bytes.Buffer
		p, err := WritePlate(&out, img, h, Wanted{})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if p.Channels != c.channels || out.Len() != p.Width*p.Height*p.Channels || p.Width != img.Bounds().Dx() {
			t.Errorf("%s: %d × %d × %d with %d samples", c.name, p.Width, p.Height, p.Channels, out.Len())
		}
		if own := bytes.Equal(p.Profile, h.Profile); own != c.own {
			t.Errorf("%s: its own profile is %v", c.name, own)
		}
		if gray, is := img.(*image.Gray); is && !bytes.Equal(gray.Pix[:gray.Rect.Dx()], out.Bytes()[:p.Width]) {
			t.Errorf("%s: its first line is another", c.name)
		}
		if rgba, is := img.(*image.NRGBA); is {
			for x := range p.Width {
				if !bytes.Equal(rgba.Pix[4*x:4*x+3], out.Bytes()[3*x:3*x+3]) {
					t.Fatalf("%s: pixel %d is another", c.name, x)
				}
			}
		}
	}
}

func TestAPlateIsMadeSmallerOnlyWhenAsked(t *testing.T) {
	img, h := opened(t, "rome-2024/BDH_10_1I_0015.jpg")
	for _, long := range []int{0, 400, 100_000} {
		var out bytes.Buffer
		p, err := WritePlate(&out, img, h, Wanted{Long: long})
		want := max(img.Bounds().Dx(), img.Bounds().Dy())
		if long == 400 {
			want = 400
		}
		if err != nil || max(p.Width, p.Height) != want || out.Len() != 3*p.Width*p.Height {
			t.Errorf("%d: %d × %d, %v", long, p.Width, p.Height, err)
		}
	}
}

// Half a black lies on white paper as half a grey.
func TestWhatIsTransparentLiesOnWhitePaper(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 3, 1))
	img.SetNRGBA(0, 0, color.NRGBA{0, 0, 0, 255})
	img.SetNRGBA(1, 0, color.NRGBA{0, 0, 0, 128})
	var out bytes.Buffer
	if _, err := WritePlate(&out, img, header.Header{}, Wanted{}); err != nil {
		t.Fatal(err)
	}
	if want := []byte{0, 0, 0, 127, 127, 127, 255, 255, 255}; !bytes.Equal(out.Bytes(), want) {
		t.Errorf("%v", out.Bytes())
	}
}
