package code_test

import (
	"image"
	"image/color"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"

	"pairwall/sequence"
	"pairwall/sequence/pages/code"
)

const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

func made(t testing.TB, tag code.Tag, number sequence.PhotoID) code.Code {
	t.Helper()
	c, err := code.Of(tag, number)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestACodeIsReadBackAsWhatItWasMadeOf(t *testing.T) {
	for tag := code.Tag(0); tag < 1024; tag += 31 {
		for _, number := range []sequence.PhotoID{1, 2, 31, 32, 57, 999, 1024, 32767, 32768, code.MostNumber} {
			c := made(t, tag, number)
			if len(c.String()) != 10 || strings.Trim(c.String(), alphabet) != "" {
				t.Errorf("%d, %d: %q are not ten characters of the alphabet", tag, number, c)
			}
			gotTag, gotNumber, err := code.Parse(c.String())
			if err != nil || gotTag != tag || gotNumber != number {
				t.Errorf("%d, %d: read %d, %d, %v", tag, number, gotTag, gotNumber, err)
			}
			if !strings.HasPrefix(c.String(), tag.String()) {
				t.Errorf("%q does not begin with the tag %s", c, tag)
			}
		}
	}
}

// The judge is ZXing's reader in Go: an implementation of ISO/IEC 18004 that
// shares nothing with the writer.
func TestAnIndependentReaderReadsTheCodeAndCallsItVersion1LevelH(t *testing.T) {
	for number := sequence.PhotoID(1); number < 3000; number += 97 {
		c := made(t, code.Tag(number%1024), number)
		modules := c.Modules()
		picture := drawn(modules, 4)
		bitmap, err := gozxing.NewBinaryBitmapFromImage(picture)
		if err != nil {
			t.Fatal(err)
		}
		read, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
		if err != nil || read.GetText() != c.String() {
			t.Fatalf("%q was read as %v, %v", c, read, err)
		}
		rows := make([][]bool, code.Side)
		for y := range rows {
			rows[y] = modules[y][:]
		}
		bits, err := gozxing.ParseBoolMapToBitMatrix(rows)
		if err != nil {
			t.Fatal(err)
		}
		parser, err := decoder.NewBitMatrixParser(bits)
		if err != nil {
			t.Fatal(err)
		}
		version, err := parser.ReadVersion()
		if err != nil || version.GetVersionNumber() != 1 {
			t.Errorf("%q has version %v, %v", c, version, err)
		}
		format, err := parser.ReadFormatInformation()
		if err != nil || format.GetErrorCorrectionLevel() != decoder.ErrorCorrectionLevel_H {
			t.Errorf("%q has the format %v, %v", c, format, err)
		}
	}
}

// drawn is the code with its quiet zone, so many pixels to a module.
func drawn(modules [code.Side][code.Side]bool, pixels int) image.Image {
	side := (code.Side + 8) * pixels
	picture := image.NewGray(image.Rect(0, 0, side, side))
	for y := range side {
		for x := range side {
			picture.SetGray(x, y, color.Gray{255})
			if row, column := y/pixels-4, x/pixels-4; row >= 0 && row < code.Side && column >= 0 && column < code.Side && modules[row][column] {
				picture.SetGray(x, y, color.Gray{0})
			}
		}
	}
	return picture
}

// One character wrong, or any two, at every place and with every other letter:
// 43,555 ways to misread each code.
func TestNoOneOrTwoWrongCharactersAreAccepted(t *testing.T) {
	for _, c := range []code.Code{made(t, 0, 1), made(t, 700, 47), made(t, 1023, code.MostNumber)} {
		tried := 0
		refused := func(word []byte) {
			tried++
			if tag, number, err := code.Parse(string(word)); sequence.CodeOf(err) != sequence.Damaged {
				t.Errorf("%q misread as %q was taken for %s, %d (%v)", c, word, tag, number, err)
			}
		}
		for i := range 10 {
			for _, wrong := range others(c, i) {
				word := []byte(c.String())
				word[i] = wrong
				refused(word)
				for j := i + 1; j < 10; j++ {
					for _, second := range others(c, j) {
						two := append([]byte{}, word...)
						two[j] = second
						refused(two)
					}
				}
			}
		}
		if tried != 10*31+45*31*31 {
			t.Errorf("only %d ways were tried", tried)
		}
	}
}

func others(c code.Code, place int) []byte {
	return []byte(strings.ReplaceAll(alphabet, c.String()[place:place+1], ""))
}

// Two words of the check's code differ in five places: three and four wrong
// characters, of which there are too many to try all, are refused as well.
func TestNoThreeOrFourWrongCharactersAreAccepted(t *testing.T) {
	chance := rand.New(rand.NewPCG(6, 20))
	for range 200_000 {
		c := made(t, code.Tag(chance.IntN(1024)), 1+sequence.PhotoID(chance.IntN(int(code.MostNumber))))
		word := []byte(c.String())
		for _, place := range chance.Perm(10)[:3+chance.IntN(2)] {
			word[place] = others(c, place)[chance.IntN(31)]
		}
		if tag, number, err := code.Parse(string(word)); err == nil {
			t.Fatalf("%q misread as %q was taken for %s, %d", c, word, tag, number)
		}
	}
}

func TestWhatNoCodeCanHoldIsRefused(t *testing.T) {
	for _, number := range []sequence.PhotoID{-1, 0, code.MostNumber + 1} {
		if _, err := code.Of(1, number); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("number %d: %v", number, err)
		}
	}
	if _, err := code.Of(1024, 1); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("tag 1024: %v", err)
	}
}

func TestACodeOfSomethingElseIsToldFromAMisreadOne(t *testing.T) {
	for _, text := range []string{"", "HELLO", "HTTP://AA.BB", "00000000000", "00O0000000", "0a00000000", "00Ł000000"} {
		if _, _, err := code.Parse(text); sequence.CodeOf(err) != sequence.Unsupported {
			t.Errorf("%q: %v", text, err)
		}
	}
	// All zeros agree with their check but name no photo.
	if _, _, err := code.Parse("0000000000"); sequence.CodeOf(err) != sequence.Damaged {
		t.Errorf("zeros: %v", err)
	}
}

func TestATagOutlivesNameAndIdAndTellsTitlesApart(t *testing.T) {
	created := time.Date(2026, 5, 3, 18, 4, 5, 678_900_000, time.UTC)
	one := sequence.Title{ID: 1, Name: "Eleven days", Created: created}
	moved := sequence.Title{ID: 9, Name: "Trieste to Bari", Created: created.In(time.FixedZone("", 7200))}
	if code.TagOf(one) != code.TagOf(moved) {
		t.Errorf("the tag was %s and is %s", code.TagOf(one), code.TagOf(moved))
	}
	// printf '\x00\x00\x01\x9d\xef\x03\x04\xae' | sha256sum begins with 01 f4: the bits 00000 00111.
	const want = "07"
	if got := code.TagOf(one).String(); got != want {
		t.Errorf("the tag of one creation is %s; prints made before have %s", got, want)
	}
	same := 0
	for i := range 2000 {
		other := sequence.Title{Created: created.Add(time.Duration(i+1) * time.Minute)}
		if code.TagOf(other) == code.TagOf(one) {
			same++
		}
	}
	if same > 8 { // 2 are to be expected
		t.Errorf("%d of 2000 titles have the same tag", same)
	}
}

func FuzzParse(f *testing.F) {
	f.Add("0000000000")
	f.Add(made(f, 700, 47).String())
	f.Fuzz(func(t *testing.T, text string) {
		tag, number, err := code.Parse(text)
		if err != nil {
			return
		}
		if again := made(t, tag, number); again.String() != text {
			t.Errorf("%q was taken for %s, %d, whose code is %q", text, tag, number, again)
		}
	})
}
