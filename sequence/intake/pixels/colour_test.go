package pixels

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/kovidgoyal/imaging/prism/meta/icc"

	"pairwall/sequence/intake/header"
)

// opened reads a real file's header and all its pixels.
func opened(t testing.TB, name string) (image.Image, header.Header) {
	t.Helper()
	return openedFor(t, name, 1<<16)
}

// openedFor reads them as small as a print of long pixels may have them.
func openedFor(t testing.TB, name string, long int) (image.Image, header.Header) {
	t.Helper()
	data := photo(t, name)
	from, size := bytes.NewReader(data), int64(len(data))
	h, err := header.Read(header.Kind(data[:header.HeadLength]), from, size)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	d, err := Decode(h, from, size, long)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return d.Image, h
}

// printed makes the print of a real file at the size of the largest card.
func printed(t testing.TB, name string) Print {
	t.Helper()
	img, h := openedFor(t, name, 1600)
	p, err := Develop(img, h, 1600)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return p
}

// mean is the mean colour, 0..255.
func mean(img image.Image) [3]float64 {
	var sum [3]float64
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			sum[0], sum[1], sum[2] = sum[0]+float64(r), sum[1]+float64(g), sum[2]+float64(b)
		}
	}
	n := float64(b.Dx()*b.Dy()) * 257
	return [3]float64{sum[0] / n, sum[1] / n, sum[2] / n}
}

func farthest(a, b [3]float64) float64 {
	return max(math.Abs(a[0]-b[0]), math.Abs(a[1]-b[1]), math.Abs(a[2]-b[2]))
}

func TestEmbeddedProfilesAreHonouredAsLittleCMSDoes(t *testing.T) {
	// Mean sRGB by Little CMS, relative colorimetric with black point
	// compensation, as the photographs' README gives it; and what ignoring the
	// profile would give.
	cases := []struct {
		name, profile   string
		honoured, blind [3]float64
	}{
		{"icc/P3-sRGB-red.jpg", "DCI-P3-D65-2_2-Gamma", [3]float64{255, 2, 2}, [3]float64{236, 51, 39}},
		{"icc/P3-sRGB-color-ring.jpg", "DCI-P3-D65-2_2-Gamma", [3]float64{124, 130, 127}, [3]float64{149, 142, 148}},
		{"icc/jpg-24bit-icc-adobe-rgb.jpg", "Adobe RGB (1998)", [3]float64{87, 91, 85}, [3]float64{93, 93, 88}},
		{"icc/jpg-8bit-grey-icc-dot-gain.jpg", "Dot Gain 20%", [3]float64{100, 100, 100}, [3]float64{81, 81, 81}},
		{"phone-p3-offset/012mp-bus.jpg", "Display P3", [3]float64{137, 132, 122}, [3]float64{137, 133, 124}},
	}
	for _, c := range cases {
		img, h := openedFor(t, c.name, 1600)
		p, err := Develop(img, h, 1600)
		if err != nil {
			t.Fatal(err)
		}
		if got := mean(p.Picture); farthest(got, c.honoured) > 2 || len(p.Findings) > 0 {
			t.Errorf("%s: mean %.1f, Little CMS %v; findings %v", c.name, got, c.honoured, p.Findings)
		}
		if p.Profile != c.profile {
			t.Errorf("%s: profile %q", c.name, p.Profile)
		}
		h.Profile = nil
		ignored, err := Develop(img, h, 400)
		if err != nil {
			t.Fatal(err)
		}
		if got := mean(ignored.Picture); farthest(got, c.blind) > 2 {
			t.Errorf("%s without its profile: mean %.1f, want %v", c.name, got, c.blind)
		}
	}
}

// swatch is a colour as Little CMS 2.14 converts it to sRGB with transicc, by the
// command in testdata/profiles.py.
type swatch struct {
	profile string
	in      []float64 // 0..255; inks in per cent
	want    [3]float64
}

func swatches(t *testing.T) []swatch {
	t.Helper()
	file, err := os.ReadFile(filepath.Join("testdata", "profiles.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	var all []swatch
	for line := range strings.Lines(string(file)) {
		fields := strings.Split(strings.TrimSpace(line), "\t")
		s := swatch{profile: fields[0], in: numbers(t, fields[1])}
		copy(s.want[:], numbers(t, fields[2]))
		all = append(all, s)
	}
	return all
}

func numbers(t *testing.T, text string) []float64 {
	t.Helper()
	var list []float64
	for _, word := range strings.Fields(text) {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, v)
	}
	return list
}

func TestColoursAgreeWithLittleCMSForEveryProfile(t *testing.T) {
	seen := make(map[string]bool)
	for _, s := range swatches(t) {
		seen[s.profile] = true
		profile, err := os.ReadFile(filepath.Join(photosFolder(t), "icc", "profiles", s.profile+".icc"))
		if err != nil {
			t.Fatal(err)
		}
		small, full := raster{width: 1, height: 1, colours: len(s.in)}, 255.0
		if len(s.in) == 4 {
			full = 100
		}
		for _, v := range s.in {
			small.pixels = append(small.pixels, uint16(v/full*65535+0.5))
		}
		space, err := fromProfile(profile, small)
		if err != nil {
			t.Errorf("%s: %v", s.profile, err)
			continue
		}
		img, err := develop(small, space.convert)
		if err != nil {
			t.Fatal(err)
		}
		if got := mean(img); farthest(got, s.want) > 1.1 {
			t.Errorf("%s %v: %v, Little CMS %v", s.profile, s.in, got, s.want)
		}
	}
	there, err := filepath.Glob(filepath.Join(photosFolder(t), "icc", "profiles", "*.icc"))
	if err != nil || len(seen) != len(there) {
		t.Errorf("%d profiles were tried, %d are there, %v", len(seen), len(there), err)
	}
}

func TestAdobeRGBWithoutAProfileIsTheSameAsWithOne(t *testing.T) {
	for _, s := range swatches(t) {
		if s.profile != "AdobeCompat-v4" || s.in[0] < 10 {
			continue
		}
		enough := 0.6
		if slices.Min(s.in) <= 10 {
			enough = 1.5 // this profile lifts the darkest values a little; the specification does not
		}
		c := colourIn{s.in[0] / 255, s.in[1] / 255, s.in[2] / 255}
		r, g, b := adobeRGB(&c)
		if got := [3]float64{255 * r, 255 * g, 255 * b}; farthest(got, s.want) > enough {
			t.Errorf("%v: %.2f, Little CMS %.2f", s.in, got, s.want)
		}
	}
	p := printed(t, "edge/Olympus PEN E-P3.jpg")
	if p.Profile != "Adobe RGB (1998)" {
		t.Errorf("declared by EXIF only: %q", p.Profile)
	}
}

func TestTablesAreAsGoodAsTheLibrary(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(photosFolder(t), "icc", "profiles", "*.icc"))
	if err != nil || len(files) < 40 {
		t.Fatalf("%d profiles: %v", len(files), err)
	}
	quicker := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, err := icc.DecodeProfile(bytes.NewReader(data))
		if err != nil || p.Header.DataColorSpace != icc.ColorSpaceRGB {
			continue
		}
		clipped, err := toScreen(p, 3, true)
		if err != nil {
			t.Fatal(err)
		}
		unclipped, err := toScreen(p, 3, false)
		if err != nil {
			t.Fatal(err)
		}
		var s sums
		s.fill(unclipped)
		if !s.agrees(three(clipped)) {
			t.Errorf("%s cannot be done by tables", filepath.Base(file))
			continue
		}
		quicker++
		for i := range 27 * 27 * 27 {
			c := colourIn{float64(i%27) / 26, float64(i/27%27) / 26, float64(i/729) / 26}
			again := c
			r, g, b := three(clipped)(&c)
			x, y, z := s.convert(&again)
			if worst := farthest([3]float64{r, g, b}, [3]float64{x, y, z}) * 255; worst > 0.25 {
				t.Errorf("%s %v: off by %.2f of 255", filepath.Base(file), again[:3], worst)
			}
		}
	}
	if quicker < 38 {
		t.Errorf("only %d profiles tried", quicker)
	}
}

// whole converts every pixel before it makes the picture small: the slow way.
func whole(t *testing.T, img image.Image, h header.Header) *image.RGBA {
	t.Helper()
	b := img.Bounds()
	full, err := shrink(linesOf(img), max(b.Dx(), b.Dy()))
	if err != nil {
		t.Fatal(err)
	}
	converted, err := develop(full, spaceOf(h, full).convert)
	if err != nil {
		t.Fatal(err)
	}
	small, err := Smaller(converted, 400)
	if err != nil {
		t.Fatal(err)
	}
	return upright(small, h.Said.Orientation)
}

func TestConvertingAfterShrinkingIsWithinTwoNearlyEverywhere(t *testing.T) {
	for _, name := range []string{"phone-p3-offset/012mp-bus.jpg", "icc/jpg-24bit-icc-adobe-rgb.jpg", "icc/P3-sRGB-color-ring.jpg"} {
		img, h := opened(t, name)
		// A piece from the middle will do; the whole takes long the slow way.
		b := img.Bounds()
		img = img.(*image.YCbCr).SubImage(image.Rect(b.Dx()/2-500, b.Dy()/2-500, b.Dx()/2+500, b.Dy()/2+500))
		slow := whole(t, img, h)
		p, err := Develop(img, h, 400)
		if err != nil {
			t.Fatal(err)
		}
		quick := p.Picture
		if quick.Bounds() != slow.Bounds() {
			t.Fatalf("%s: %v, %v", name, quick.Bounds(), slow.Bounds())
		}
		if off := farthest(mean(quick), mean(slow)); off > 1 {
			t.Errorf("%s: mean off by %.2f", name, off)
		}
		var apart, most, sum int
		for i := range quick.Pix {
			off := int(quick.Pix[i]) - int(slow.Pix[i])
			off = max(off, -off)
			if most, sum = max(most, off), sum+off; off > 2 {
				apart++
			}
		}
		samples := float64(len(quick.Pix) / 4 * 3)
		share, average := float64(apart)/samples, float64(sum)/samples
		t.Logf("%s: %.2f of 255 on average, more than 2 in %.1f %% of samples, most %d", name, average, 100*share, most)
		if average > 0.75 || share > 0.05 {
			t.Errorf("%s: %.2f of 255 off on average, more than 2 in %.1f %% of samples", name, average, 100*share)
		}
	}
}

func TestADamagedProfileCostsOnlyTheProfile(t *testing.T) {
	img, h := opened(t, "icc/jpg-24bit-icc-adobe-rgb.jpg")
	good := h.Profile
	lying := bytes.Clone(good)
	copy(lying[128:], []byte{0xFF, 0xFF, 0xFF, 0xFF}) // four thousand million tags
	outside := bytes.Clone(good)
	copy(outside[136:], []byte{0x7F, 0xFF, 0xFF, 0xFF})
	endless := bytes.Clone(good)
	curve := bytes.Index(endless, []byte("curv\x00\x00\x00\x00"))
	copy(endless[curve+8:], []byte{0x7F, 0xFF, 0xFF, 0xFF})
	inks, err := os.ReadFile(filepath.Join(photosFolder(t), "icc", "profiles", "CGATS001Compat-v2-micro.icc"))
	if err != nil {
		t.Fatal(err)
	}
	for name, profile := range map[string][]byte{"cut off": good[:200], "lying about its tags": lying,
		"pointing outside": outside, "with a curve without end": endless, "not a profile": []byte("hello"), "empty": {}, "for another kind of picture": inks} {
		h.Profile = profile
		p, err := Develop(img, h, 400)
		if err != nil || len(p.Findings) != 1 || p.Profile != "" {
			t.Errorf("%s: %v, %+v, %q", name, err, p.Findings, p.Profile)
		}
	}
	h.Profile, h.Torn = nil, true
	if p, err := Develop(img, h, 400); err != nil || len(p.Findings) != 1 {
		t.Errorf("torn: %v %v", err, p.Findings)
	}
}

func TestGreyAndColourMayMeetEachOthersProfiles(t *testing.T) {
	_, dotGain := opened(t, "icc/jpg-8bit-grey-icc-dot-gain.jpg")
	grey := dotGain.Profile // makes 122.61 of 100, by transicc as above
	rgb, err := os.ReadFile(filepath.Join(photosFolder(t), "icc", "profiles", "DisplayP3-v4.icc"))
	if err != nil {
		t.Fatal(err)
	}
	neutral, coloured := image.NewRGBA(image.Rect(0, 0, 2, 2)), image.NewRGBA(image.Rect(0, 0, 2, 2))
	single := image.NewGray(image.Rect(0, 0, 2, 2))
	for i := range 4 {
		neutral.Set(i%2, i/2, color.Gray{100})
		coloured.Set(i%2, i/2, color.RGBA{200, 100, 50, 255})
		single.Set(i%2, i/2, color.Gray{100})
	}
	cases := []struct {
		name     string
		img      image.Image
		profile  []byte
		want     [3]float64
		findings int
	}{
		{"a neutral RGB picture with a grey profile", neutral, grey, [3]float64{122.61, 122.61, 122.61}, 0},
		{"a grey picture with an RGB profile", single, rgb, [3]float64{100, 100, 100}, 0},
		{"a colourful picture with a grey profile", coloured, grey, [3]float64{200, 100, 50}, 1},
		{"a colourful picture with an RGB profile", coloured, rgb, [3]float64{214.9, 92.6, 30.95}, 0},
	}
	for _, c := range cases {
		p, err := Develop(c.img, header.Header{Profile: c.profile}, 100)
		if err != nil || len(p.Findings) != c.findings || farthest(mean(p.Picture), c.want) > 1 {
			t.Errorf("%s: %v, %v, %v", c.name, err, p.Findings, mean(p.Picture))
		}
	}
}

// FuzzProfile understands a small picture by anything at all.
func FuzzProfile(f *testing.F) {
	for _, name := range []string{"DisplayP3-v4", "sRGB-v2-nano", "sGrey-v4", "CGATS001Compat-v2-micro"} {
		data, err := os.ReadFile(filepath.Join(photosFolder(f), "icc", "profiles", name+".icc"))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, colours := range []int{1, 3, 4} {
			small := raster{width: 2, height: 1, colours: colours, pixels: make([]uint16, 2*colours)}
			small.pixels[0] = 40000
			space := spaceOf(header.Header{Profile: data}, small)
			if _, err := develop(small, space.convert); err != nil {
				t.Logf("%v", err) // refused in words, which is all that is asked
			}
		}
	})
}
