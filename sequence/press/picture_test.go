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
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// photographs is where the real photographs lie.
func photographs(t testing.TB) string {
	t.Helper()
	dir := os.Getenv("PAIRWALL_PHOTOS")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "photos")
	}
	if _, err := os.Stat(dir); err != nil {
		t.Fatalf("the photographs for tests are missing: %v", err)
	}
	return dir
}

func opener(t testing.TB, names ...string) Source {
	dir := photographs(t)
	return func(id sequence.PhotoID) (io.ReadCloser, error) { return os.Open(filepath.Join(dir, names[id-1])) }
}

// The picture that comes out of the PDF is the one that went in: the same coded
// data with its frame and tables, so that no generation of quality is lost; and
// nothing of what the camera wrote about place and person is left.
func TestAJPEGPassesThroughWithoutWhatStandsBesideThePicture(t *testing.T) {
	for _, name := range []string{"rome-2024/BDH_10_1I_0015.jpg", "icc/jpg-24bit-icc-adobe-rgb.jpg", "icc/pil_sample_cmyk.jpg", "icc/jpg-8bit-grey-icc-dot-gain.jpg"} {
		t.Run(name, func(t *testing.T) {
			made, file := written(t, func(d *Document) error {
				return d.Page(pages.Size{Width: 100, Height: 100}, func(ink *Ink) error {
					return ink.shown(1, pages.Rect{X: 10, Y: 10, Size: pages.Size{Width: 80, Height: 60}}, opener(t, name))
				})
			})
			accepted(t, file)
			for _, told := range []string{"Exif\x00", "http://ns.adobe.com/xap", "Photoshop 3.0"} {
				if bytes.Contains(made, []byte(told)) {
					t.Errorf("the file still holds %q", told)
				}
			}
			dir := t.TempDir()
			judge(t, "pdfimages", "-all", file, filepath.Join(dir, "p"))
			taken := found(t, filepath.Join(dir, "p*.jpg"))
			original, err := os.ReadFile(filepath.Join(photographs(t), name))
			if err != nil {
				t.Fatal(err)
			}
			if from := lastScan(taken); !bytes.Contains(original, from) || len(from) < 1000 {
				t.Errorf("the coded picture, %d bytes, is not the original's", len(from))
			}
		})
	}
}

// lastScan is a JPEG from its last scan's header to its end.
func lastScan(jpeg []byte) []byte { return jpeg[bytes.LastIndex(jpeg, []byte{0xFF, 0xDA}):] }

func found(t *testing.T, pattern string) []byte {
	t.Helper()
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) != 1 {
		t.Fatalf("%v, %v", files, err)
	}
	content, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	return content
}

func TestAPictureKeepsItsColourProfile(t *testing.T) {
	made, file := written(t, func(d *Document) error {
		return d.Page(pages.Size{Width: 100, Height: 100}, func(ink *Ink) error {
			at := pages.Rect{Size: pages.Size{Width: 50, Height: 50}}
			if err := ink.shown(1, at, opener(t, "icc/jpg-24bit-icc-adobe-rgb.jpg")); err != nil {
				return err
			}
			return ink.shown(1, at, opener(t, "icc/jpg-24bit-icc-adobe-rgb.jpg"))
		})
	})
	list := strings.Split(strings.TrimSpace(judge(t, "pdfimages", "-list", file)), "\n")[2:]
	if len(list) != 2 || strings.Fields(list[0])[5] != "icc" {
		t.Errorf("pictures: %q", list)
	}
	if n := bytes.Count(made, []byte("/DCTDecode")); n != 1 {
		t.Errorf("the same picture is %d times in the file", n)
	}
}

// What lies where it should, to a pixel of 300 to the inch (0.085 mm).
func TestRectanglesLieWhereTheyWereLaid(t *testing.T) {
	size := pages.Size{Width: 100, Height: 140}
	at := pages.Rect{X: 12.5, Y: 33.3, Size: pages.Size{Width: 40, Height: 20.2}}
	_, file := written(t, func(d *Document) error {
		return d.Page(size, func(ink *Ink) error { ink.Fill(at, 0); return nil })
	})
	got := inked(rendered(t, file, 1, 300), 300)
	for _, pair := range [][2]pages.Length{{got.X, at.X}, {got.Y, at.Y}, {got.Right(), at.Right()}, {got.Bottom(), at.Bottom()}} {
		if math.Abs(float64(pair[0]-pair[1])) > 0.1 {
			t.Errorf("%v, want %v", got, at)
		}
	}
}

// rendered is a page as Poppler draws it, at a resolution in pixels per inch.
func rendered(t *testing.T, file string, page, ppi int) image.Image {
	t.Helper()
	out := filepath.Join(t.TempDir(), "page")
	number := strconv.Itoa(page)
	judge(t, "pdftoppm", "-png", "-r", strconv.Itoa(ppi), "-f", number, "-l", number, "-singlefile", file, out)
	f, err := os.Open(out + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// dark tells ink from paper.
func dark(img image.Image, x, y int) bool {
	r, g, b, _ := img.At(x, y).RGBA()
	return r+g+b < 3*0x8000
}

// inked is the smallest rectangle on a rendered page that holds all its ink.
func inked(img image.Image, ppi int) pages.Rect {
	b := img.Bounds()
	left, top, right, bottom := b.Max.X, b.Max.Y, b.Min.X, b.Min.Y
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if dark(img, x, y) {
				left, top, right, bottom = min(left, x), min(top, y), max(right, x+1), max(bottom, y+1)
			}
		}
	}
	mm := func(pixels int) pages.Length { return pages.Length(pixels) * pages.Inch / pages.Length(ppi) }
	return pages.Rect{X: mm(left), Y: mm(top), Size: pages.Size{Width: mm(right - left), Height: mm(bottom - top)}}
}
