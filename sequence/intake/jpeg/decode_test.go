package jpeg

import (
	"bytes"
	"image"
	stdlib "image/jpeg"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	flexible "github.com/kovidgoyal/imaging/jpeg"
)

// photosFolder is where the real photographs lie: beside the repository, or
// where PAIRWALL_PHOTOS says.
func photosFolder(t testing.TB) string {
	t.Helper()
	if folder := os.Getenv("PAIRWALL_PHOTOS"); folder != "" {
		return folder
	}
	root, err := filepath.Abs(".")
	for err == nil && root != filepath.Dir(root) {
		if _, missing := os.Stat(filepath.Join(root, "go.mod")); missing == nil {
			break
		}
		root = filepath.Dir(root)
	}
	return filepath.Join(filepath.Dir(root), "shared", "photos")
}

func photo(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(photosFolder(t), name))
	if err != nil {
		t.Fatalf("the real photographs are missing (set PAIRWALL_PHOTOS): %v", err)
	}
	return data
}

// jpegs lists the whole JPEG files among the photographs.
func jpegs(t *testing.T) []string {
	t.Helper()
	var names []string
	root := photosFolder(t)
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".jpg") && !strings.Contains(path, "exif-header-only") && !strings.Contains(path, "damaged") {
			name, _ := filepath.Rel(root, path)
			names = append(names, name)
		}
		return err
	})
	if err != nil || len(names) < 60 {
		t.Fatalf("%d photographs: %v", len(names), err)
	}
	return names
}

// reference decodes with an independent decoder.
func reference(data []byte) (image.Image, error) {
	img, err := stdlib.Decode(bytes.NewReader(data))
	if err != nil {
		img, err = flexible.Decode(bytes.NewReader(data))
	}
	return img, err
}

// planes are the channels of a picture, each with its width and height.
func planes(img image.Image) (list []plane) {
	switch img := img.(type) {
	case *image.Gray:
		list = []plane{{img.Pix, img.Stride, img.Rect.Dx(), img.Rect.Dy()}}
	case *image.YCbCr:
		w, h := img.Rect.Dx(), img.Rect.Dy()
		list = []plane{{img.Y, img.YStride, w, h}}
		cw := img.COffset(img.Rect.Max.X-1, 0) + 1
		ch := img.COffset(0, img.Rect.Max.Y-1)/img.CStride + 1
		list = append(list, plane{img.Cb, img.CStride, cw, ch}, plane{img.Cr, img.CStride, cw, ch})
	case *image.RGBA:
		list = []plane{{img.Pix, img.Stride, 4 * img.Rect.Dx(), img.Rect.Dy()}}
	case *image.CMYK:
		list = []plane{{img.Pix, img.Stride, 4 * img.Rect.Dx(), img.Rect.Dy()}}
	}
	return list
}

type plane struct {
	pix                   []uint8
	stride, width, height int
}

func TestWholePicturesAreWhatAnotherDecoderMakesOfThem(t *testing.T) {
	for _, name := range jpegs(t) {
		data := photo(t, name)
		want, err := reference(data)
		if err != nil {
			t.Errorf("%s: the other decoder: %v", name, err)
			continue
		}
		p, err := Decode(data, 1)
		if err != nil || p.Shown != 1 || p.Coarse {
			t.Errorf("%s: %v, shown %.3f, coarse %v", name, err, p.Shown, p.Coarse)
			continue
		}
		if p.Image.Bounds() != want.Bounds() {
			t.Errorf("%s: %v, want %v", name, p.Image.Bounds(), want.Bounds())
			continue
		}
		got, expected := planes(p.Image), planes(want)
		if len(got) != len(expected) || len(got) == 0 {
			t.Errorf("%s: %T, want %T", name, p.Image, want)
			continue
		}
		for i := range got {
			most, sum := 0, 0
			for y := range got[i].height {
				for x := range got[i].width {
					off := int(got[i].pix[y*got[i].stride+x]) - int(expected[i].pix[y*expected[i].stride+x])
					most, sum = max(most, off, -off), sum+max(off, -off)
				}
			}
			mean := float64(sum) / float64(got[i].width*got[i].height)
			limit := 2
			if _, inks := p.Image.(*image.CMYK); inks {
				limit = 4 // goes through one more conversion
			}
			if most > limit || mean > 0.1 {
				t.Errorf("%s: channel %d is off by %d at most, %.3f on average", name, i, most, mean)
			}
		}
	}
}

func TestSmallerPicturesAreTheLargeOnesAveraged(t *testing.T) {
	for _, name := range []string{"rome-2024/BDH_10_1I_0127.jpg", "icc/jpg-8bit-grey-icc-dot-gain.jpg", "orientation/Landscape_5.jpg",
		"icc/paris_exif_xmp_icc.jpg", "icc/pil_sample_cmyk.jpg", "edge/Apple iPhone 5.jpg", "phone-p3-offset/012mp-bus.jpg"} {
		data := photo(t, name)
		whole, err := Decode(data, 1)
		if err != nil {
			t.Fatal(err)
		}
		for _, scale := range []int{2, 4, 8} {
			p, err := Decode(data, scale)
			if err != nil || p.Shown != 1 {
				t.Errorf("%s at 1/%d: %v", name, scale, err)
				continue
			}
			b := whole.Image.Bounds()
			if want := image.Rect(0, 0, ceil(b.Dx(), scale), ceil(b.Dy(), scale)); p.Image.Bounds() != want {
				t.Errorf("%s at 1/%d: %v, want %v", name, scale, p.Image.Bounds(), want)
			}
			large, small := planes(whole.Image)[0], planes(p.Image)[0]
			if _, inks := p.Image.(*image.CMYK); inks {
				continue // four channels side by side; its bounds were compared
			}
			var off, bias float64
			w, h := large.width/scale, large.height/scale
			for y := range h {
				for x := range w {
					sum := 0
					for v := range scale {
						for u := range scale {
							sum += int(large.pix[(y*scale+v)*large.stride+x*scale+u])
						}
					}
					d := float64(small.pix[y*small.stride+x]) - float64(sum)/float64(scale*scale)
					off, bias = off+math.Abs(d), bias+d
				}
			}
			n := float64(w * h)
			if math.Abs(bias/n) > 0.3 || off/n > 3 {
				t.Errorf("%s at 1/%d: %.2f too light on average, off by %.2f", name, scale, bias/n, off/n)
			}
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	data := photo(b, "big-20mp/Kleiber_by_Lukas_Baubkus.jpg")
	b.Run("other", func(b *testing.B) {
		for b.Loop() {
			reference(data)
		}
	})
	for name, scale := range map[string]int{"whole": 1, "half": 2, "quarter": 4, "eighth": 8} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Decode(data, scale); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// fixtures are the drawn files of every kind.
func fixtures(t testing.TB) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob("testdata/*.jpg")
	if err != nil || len(files) < 12 {
		t.Fatalf("%d files: %v", len(files), err)
	}
	list := make(map[string][]byte)
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		list[filepath.Base(f)] = data
	}
	return list
}

// shades decodes to grey values, whatever the kind.
func shades(img image.Image) *image.Gray {
	b := img.Bounds()
	grey := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	for y := range b.Dy() {
		for x := range b.Dx() {
			grey.Set(x, y, img.At(b.Min.X+x, b.Min.Y+y))
		}
	}
	return grey
}

func TestEveryKindIsWhatAnotherDecoderMakesOfIt(t *testing.T) {
	for name, data := range fixtures(t) {
		want, err := reference(data)
		tolerance := 0.2
		if name == "311.jpg" { // which no other decoder here reads
			want, err = reference(fixtures(t)["444.jpg"])
			tolerance = 4
		}
		if name == "progressive-restarts.jpg" { // nor this; it holds what progressive.jpg holds
			want, err = reference(fixtures(t)["progressive.jpg"])
		}
		if err != nil {
			t.Fatalf("%s: the other decoder: %v", name, err)
		}
		p, err := Decode(data, 1)
		if err != nil || p.Shown != 1 || p.Coarse || !p.Ended || p.Image.Bounds() != want.Bounds() {
			t.Errorf("%s: %v, %+v", name, err, p)
			continue
		}
		a, b := shades(p.Image), shades(want)
		most, sum := 0, 0
		for i := range a.Pix {
			off := int(a.Pix[i]) - int(b.Pix[i])
			most, sum = max(most, off, -off), sum+max(off, -off)
		}
		if most > 3 && tolerance < 1 || float64(sum)/float64(len(a.Pix)) > tolerance {
			t.Errorf("%s: off by %d at most, %.3f on average", name, most, float64(sum)/float64(len(a.Pix)))
		}
		for _, scale := range []int{2, 4, 8} {
			if p, err := Decode(data, scale); err != nil || p.Shown != 1 || p.Image.Bounds() != image.Rect(0, 0, ceil(203, scale), ceil(149, scale)) {
				t.Errorf("%s at 1/%d: %v %+v", name, scale, err, p.Image.Bounds())
			}
		}
	}
}

func TestACutFileIsShownAsFarAsItGoes(t *testing.T) {
	for name, data := range fixtures(t) {
		whole, err := Decode(data, 1)
		if err != nil {
			t.Fatal(err)
		}
		full := shades(whole.Image)
		before := 0.0
		for percent := 10; percent < 100; percent += 5 {
			p, err := Decode(data[:len(data)*percent/100], 1)
			if err != nil {
				if percent > 60 {
					t.Errorf("%s cut at %d %%: %v", name, percent, err)
				}
				continue
			}
			if p.Ended || p.Shown == 1 && !p.Coarse && percent < 90 || p.Shown < before {
				t.Errorf("%s cut at %d %%: shown %.2f after %.2f, coarse %v, ended %v", name, percent, p.Shown, before, p.Coarse, p.Ended)
			}
			before = p.Shown
			if strings.HasPrefix(name, "progressive") || name == "one-by-one.jpg" {
				continue
			}
			// What came through is as it was; the rest is one grey.
			part := shades(p.Image)
			rows := int(p.Shown*149) - 17
			for i := 0; i < rows*203; i++ {
				if off := int(part.Pix[i]) - int(full.Pix[i]); off > 1 || off < -1 {
					t.Errorf("%s cut at %d %%: row %d of %d differs", name, percent, i/203, rows)
					break
				}
			}
			if last := part.Pix[len(part.Pix)-1]; p.Shown < 0.8 && name != "inks.jpg" && (last < 126 || last > 130) {
				t.Errorf("%s cut at %d %%: the rest is %d", name, percent, last)
			}
		}
		if before < 0.5 {
			t.Errorf("%s: cut at 95 %%, only %.2f is shown", name, before)
		}
	}
}

func TestRestartsBringADamagedFileBack(t *testing.T) {
	data := bytes.Clone(fixtures(t)["restarts.jpg"])
	whole, err := Decode(data, 1)
	if err != nil {
		t.Fatal(err)
	}
	start := bytes.Index(data, []byte{0xFF, 0xDA}) + 400
	copy(data[start:], []byte{0xFF, 0x00, 0xFF, 0x00, 0xFF, 0x00, 0xFF, 0x00, 0xFF, 0x00})
	p, err := Decode(data, 1)
	if err != nil || p.Shown < 0.9 {
		t.Fatalf("%v, shown %.2f", err, p.Shown)
	}
	a, b := shades(whole.Image), shades(p.Image)
	for i := len(a.Pix) / 2; i < len(a.Pix); i++ {
		if a.Pix[i] != b.Pix[i] {
			t.Fatalf("the lower half differs at row %d", i/203)
		}
	}
}

func TestWhatHoldsNoPictureIsRefused(t *testing.T) {
	data := fixtures(t)["444.jpg"]
	frame := bytes.Index(data, []byte{0xFF, 0xC0})
	for name, bad := range map[string][]byte{
		"nothing": nil, "a start": {0xFF, 0xD8}, "text": []byte("hello, world"), "a header": data[:frame+19],
		"two frames": append(append(bytes.Clone(data[:frame+19]), data[frame:frame+19]...), data[frame+19:]...),
	} {
		if p, err := Decode(bad, 1); err == nil {
			t.Errorf("%s: %+v", name, p)
		}
	}
}

// FuzzDecode decodes anything at a small size: it must come to an end and give
// either a picture of its size or an error.
func FuzzDecode(f *testing.F) {
	for _, data := range fixtures(f) {
		f.Add(data, 1)
		f.Add(data[:len(data)/2], 2)
	}
	f.Fuzz(func(t *testing.T, data []byte, scale int) {
		// The caller holds the measures against limits; so does this.
		if at := bytes.IndexByte(data, 0xC0); len(data) > 1<<16 || at >= 0 && len(data) > at+8 && int(data[at+5])*int(data[at+7]) > 64 {
			return
		}
		p, err := Decode(data, scale)
		if err == nil && (p.Image.Bounds().Empty() || p.Shown <= 0 || p.Shown > 1) {
			t.Fatalf("%v shown %v", p.Image.Bounds(), p.Shown)
		}
		if err == nil {
			b := p.Image.Bounds()
			p.Image.At(b.Max.X-1, b.Max.Y-1)
		}
	})
}
