package press

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
	"pairwall/sequence/press/pdf"
)

// The picture comes out of the printer's PDF by another program as it went in,
// from its first table to its last byte.
func TestPicturesAreTakenOutOfThePrintersPDFByteForByte(t *testing.T) {
	_, file, _ := printersPDF(t, pages.FirstFormat, SRGB(), false)
	dir := t.TempDir()
	judge(t, "pdfimages", "-all", file, filepath.Join(dir, "p"))
	taken, err := filepath.Glob(filepath.Join(dir, "*.jpg"))
	if err != nil || len(taken) != 5 { // the one across the gutter counts twice
		t.Fatalf("%v, %v", taken, err)
	}
	for i, name := range []string{bookFiles[0], bookFiles[1], bookFiles[2], bookFiles[3], bookFiles[3]} {
		got, err := os.ReadFile(taken[i])
		if err != nil {
			t.Fatal(err)
		}
		original, err := os.ReadFile(filepath.Join(photographs(t), name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(bare(t, got), bare(t, original)) {
			t.Errorf("%s: the picture is not the original's", name)
		}
	}
	pngs, err := filepath.Glob(filepath.Join(dir, "*.png"))
	if err != nil || len(pngs) != 1 {
		t.Fatalf("%v, %v", pngs, err)
	}
	if got, want := decodedPNG(t, pngs[0]), decodedPNG(t, filepath.Join(photographs(t), bookFiles[4])); difference(got, want) != 0 {
		t.Errorf("samples differ by %v on average", difference(got, want))
	}
}

// bare is a JPEG without its application segments and comments, up to the end of
// its picture (ITU-T T.81, B.1.1).
func bare(t *testing.T, file []byte) []byte {
	t.Helper()
	out := []byte{0xFF, 0xD8}
	for at := 2; at+4 <= len(file); {
		marker, length := file[at+1], int(file[at+2])<<8|int(file[at+3])
		if file[at] != 0xFF {
			t.Fatalf("no segment at %d", at)
		}
		if !(marker >= 0xE0 && marker <= 0xEF || marker == 0xFE) {
			out = append(out, file[at:at+2+length]...)
		}
		at += 2 + length
		if marker != 0xDA {
			continue
		}
		for end := at; end+1 < len(file); end++ { // to the next marker that is none of the scan's own
			if file[end] == 0xFF && file[end+1] != 0 && (file[end+1] < 0xD0 || file[end+1] > 0xD7) {
				out = append(out, file[at:end]...)
				at = end
				break
			}
		}
		if file[at+1] == 0xD9 {
			return append(out, 0xFF, 0xD9)
		}
	}
	t.Fatal("a picture without an end")
	return nil
}

func decodedPNG(t *testing.T, name string) image.Image {
	t.Helper()
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	img, err := png.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// difference is the mean difference of two pictures' samples, of 255.
func difference(a, b image.Image) float64 {
	if a.Bounds().Size() != b.Bounds().Size() {
		return 255
	}
	sum, r, s := 0.0, a.Bounds(), b.Bounds()
	for y := range r.Dy() {
		for x := range r.Dx() {
			p, q, v, _ := a.At(r.Min.X+x, r.Min.Y+y).RGBA()
			i, j, k, _ := b.At(s.Min.X+x, s.Min.Y+y).RGBA()
			sum += math.Abs(float64(p)-float64(i)) + math.Abs(float64(q)-float64(j)) + math.Abs(float64(v)-float64(k))
		}
	}
	return sum / float64(3*257*r.Dx()*r.Dy())
}

// Means by Little CMS 2, relative colorimetric with black point compensation, as
// the photographs' README gives them; Poppler draws with another.
func TestColoursAreSeenInThePDFAsByLittleCMS(t *testing.T) {
	for _, c := range []struct {
		name string
		want [3]float64
	}{
		{"icc/P3-sRGB-red.jpg", [3]float64{255, 2, 2}},
		{"icc/P3-sRGB-color-ring.jpg", [3]float64{124, 130, 127}},
		{"icc/jpg-24bit-icc-adobe-rgb.jpg", [3]float64{87, 91, 85}},
		{"icc/jpg-8bit-grey-icc-dot-gain.jpg", [3]float64{100, 100, 100}},
	} {
		size := pages.Size{Width: 50, Height: 50}
		_, file := written(t, func(d *Document) error {
			return d.Page(size, func(ink *Ink) error { return ink.shown(1, pages.Rect{Size: size}, opener(t, c.name)) })
		})
		got := meanOf(rendered(t, file, 1, 150))
		for k := range got {
			if math.Abs(got[k]-c.want[k]) > 2 {
				t.Errorf("%s: mean %.1f, want %v", c.name, got, c.want)
				break
			}
		}
	}
}

// A photograph in Adobe RGB (1998) that says so by EXIF alone, as cameras write
// them, looks as the same one with the profile does.
func TestAdobeRGBByEXIFAloneIsSeenAsWithItsProfile(t *testing.T) {
	with, err := opener(t, "icc/jpg-24bit-icc-adobe-rgb.jpg")(1)
	if err != nil {
		t.Fatal(err)
	}
	defer with.Close()
	j, err := pdf.OpenJPEG(with)
	if err != nil {
		t.Fatal(err)
	}
	var without bytes.Buffer
	if err := j.Pour(&without); err != nil {
		t.Fatal(err)
	}
	size := pages.Size{Width: 50, Height: 50}
	_, file := written(t, func(d *Document) error {
		return d.Page(size, func(ink *Ink) error {
			picture, err := d.Plate("photo", func() (Plate, error) {
				return Plate{File: io.NopCloser(&without), Turn: 1, AdobeRGB: true}, nil
			})
			ink.Picture(picture, pages.Rect{Size: size})
			return err
		})
	})
	accepted(t, file)
	out := filepath.Join(t.TempDir(), "drawn.png")
	judge(t, "gs", "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=png16m", "-r150", "-o", out, file)
	got, want := meanOf(decodedPNG(t, out)), [3]float64{87, 91, 85}
	for k := range got {
		if math.Abs(got[k]-want[k]) > 2 {
			t.Errorf("mean %.1f, want %v", got, want)
			break
		}
	}
}

func meanOf(img image.Image) (mean [3]float64) {
	r := img.Bounds()
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			red, green, blue, _ := img.At(x, y).RGBA()
			mean[0], mean[1], mean[2] = mean[0]+float64(red), mean[1]+float64(green), mean[2]+float64(blue)
		}
	}
	for k := range mean {
		mean[k] /= 257 * float64(r.Dx()*r.Dy())
	}
	return mean
}

// EXIF 2.32, 4.6.4, tag 0112: where the stored picture's first row and first
// column are to be seen. The picture is black along the first half of its first
// rows.
func TestAPictureLiesUprightHoweverItIsStored(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 240, 160))
	for i := range img.Pix {
		img.Pix[i] = 255
		if i%240 < 120 && i/240 < 40 {
			img.Pix[i] = 0
		}
	}
	for turn, c := range map[int]struct{ row, column string }{1: {"top", "left"}, 2: {"top", "right"}, 3: {"bottom", "right"}, 4: {"bottom", "left"},
		5: {"left", "top"}, 6: {"right", "top"}, 7: {"right", "bottom"}, 8: {"left", "bottom"}} {
		size, want := pages.Size{Width: 60, Height: 40}, pages.Rect{Size: pages.Size{Width: 30, Height: 10}}
		if turn >= 5 {
			size, want.Size = size.Turned(), want.Turned()
		}
		if c.row == "right" || c.column == "right" {
			want.X = size.Width - want.Width
		}
		if c.row == "bottom" || c.column == "bottom" {
			want.Y = size.Height - want.Height
		}
		_, file := written(t, func(d *Document) error {
			return d.Page(size, func(ink *Ink) error {
				picture, err := d.Plate("photo", func() (Plate, error) {
					return Plate{File: io.NopCloser(bytes.NewReader(img.Pix)), Turn: turn, Width: 240, Height: 160, Channels: 1, Profile: colour.GreyProfile()}, nil
				})
				ink.Picture(picture, pages.Rect{Size: size})
				return err
			})
		})
		near(t, "picture turned by "+strconv.Itoa(turn), inked(rendered(t, file, 1, 150), 150), want)
	}
}
