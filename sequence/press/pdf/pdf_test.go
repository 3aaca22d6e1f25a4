package pdf

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// Spellings of ISO 32000-1, 7.3 and 7.9.2.
func TestValuesAreWrittenAsTheFormatSpellsThem(t *testing.T) {
	for _, c := range []struct {
		value Value
		want  string
	}{
		{true, "true"},
		{int64(-12), "-12"},
		{0.1 + 0.2, "0.3"},
		{1e-9, "0"},
		{math.Copysign(0, -1), "0"},
		{1e15, "1000000000000000"},
		{math.NaN(), "0"},
		{Name("A B#1(é"), "/A#20B#231#28#C3#A9"},
		{Text(`a (b) \c`), `(a \(b\) \\c)`},
		{Text("Bàri"), "<FEFF004200E000720069>"},
		{Text("𝄞"), "<FEFFD834DD1E>"},
		{Bytes{0, 255}, "<00FF>"},
		{Ref(7), "7 0 R"},
		{Array{1, Name("X"), Dict{"B": 2, "A": Array{}}}, "[1 /X <</A []/B 2>>]"},
	} {
		if got := string(appendValue(nil, c.value)); got != c.want {
			t.Errorf("%v is written %s, want %s", c.value, got, c.want)
		}
	}
}

// picture is a small JPEG as Go writes it.
func picture(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	img := image.NewRGBA(image.Rect(0, 0, 40, 24))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7)
	}
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func segment(marker byte, body string) []byte {
	size := len(body) + 2
	return append([]byte{0xFF, marker, byte(size >> 8), byte(size)}, body...)
}

func TestNothingBesideThePictureIsPassedOn(t *testing.T) {
	plain := picture(t)
	told := append([]byte{0xFF, 0xD8}, segment(0xE1, "Exif\x00\x00 a position")...)
	told = append(told, segment(0xFE, "a comment")...)
	told = append(told, segment(0xE2, "ICC_PROFILE\x00\x02\x02 second")...)
	told = append(told, segment(0xE2, "ICC_PROFILE\x00\x01\x02first")...)
	told = append(told, plain[2:]...)
	told = append(told, plain...) // a second picture behind the first, as phones leave it
	told = append(told, segment(0xE1, "Exif\x00\x00 a position")...)

	j, err := OpenJPEG(bytes.NewReader(told))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := j.Pour(&out); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(out.Bytes(), plain) {
		t.Errorf("%d bytes are left, want the %d of the plain picture", out.Len(), len(plain))
	}
	if j.Width != 40 || j.Height != 24 || j.Components != 3 || string(j.Profile) != "first second" {
		t.Errorf("%+v", j)
	}
}

func TestAPictureThatIsCutOffIsClosedWhereItEnds(t *testing.T) {
	plain := picture(t)
	j, err := OpenJPEG(bytes.NewReader(plain[:len(plain)-30]))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := j.Pour(&out); err != nil || !bytes.HasSuffix(out.Bytes(), []byte{0xFF, 0xD9}) {
		t.Errorf("%v, ends in %x", err, out.Bytes()[out.Len()-2:])
	}
}

func TestWhatIsNoPictureIsRefused(t *testing.T) {
	plain := picture(t)
	for name, file := range map[string][]byte{
		"nothing":        nil,
		"another format": []byte("\x89PNG\r\n\x1a\n"),
		"only a header":  plain[:20],
		"no frame":       append([]byte{0xFF, 0xD8}, segment(0xDA, "0123456789")...),
		"lossless":       bytes.Replace(plain, []byte{0xFF, 0xC0}, []byte{0xFF, 0xC3}, 1),
		"twelve bits":    bytes.Replace(plain, []byte{0xFF, 0xC0, 0, 17, 8}, []byte{0xFF, 0xC1, 0, 17, 12}, 1),
	} {
		if _, err := OpenJPEG(bytes.NewReader(file)); !errors.Is(err, ErrJPEG) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzJPEG(f *testing.F) {
	plain := picture(f)
	f.Add(plain)
	f.Add(append(append([]byte{0xFF, 0xD8}, segment(0xE2, "ICC_PROFILE\x00\x01\x01x")...), plain[2:]...))
	f.Add([]byte{0xFF, 0xD8, 0xFF, 0xFF, 0xFF})
	f.Fuzz(func(t *testing.T, file []byte) {
		j, err := OpenJPEG(bytes.NewReader(file))
		if err != nil {
			return
		}
		var out bytes.Buffer
		if err := j.Pour(&out); err != nil {
			t.Fatal(err)
		}
		again, err := OpenJPEG(bytes.NewReader(out.Bytes()))
		if err != nil || again.Width != j.Width || again.Height != j.Height || again.Profile != nil {
			t.Fatalf("what was poured reads as %+v, %v", again, err)
		}
		if out.Len() > len(file)+2 { // the end of a picture that is cut off
			t.Fatal("more came out than went in")
		}
	})
}

// Whenever a font is written it is the same; its sums are as OpenType asks: those
// of a whole font make 0xB1B0AFBA.
func TestAFontDoesNotSayWhenItWasWritten(t *testing.T) {
	file, err := os.ReadFile(filepath.Join("..", "..", "..", "web", "vendor", "noto", "NotoSans-Regular.ttf"))
	if err != nil {
		t.Fatal(err)
	}
	later := bytes.Clone(file)
	magic := bytes.Index(later, []byte{0x5F, 0x0F, 0x3C, 0xF5}) // 12 bytes into head
	later[magic-12+28+6] += 9                                   // head.modified
	for _, program := range [][]byte{file, later} {
		undated(program)
		if sum := checksum(program); sum != 0xB1B0AFBA {
			t.Errorf("the sum of the font is %08X", sum)
		}
	}
	if !bytes.Equal(file, later) {
		t.Error("two fonts written at different times differ")
	}
}
