package press

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
)

// blackPicture is a photograph whose edges cannot be mistaken.
func blackPicture(t testing.TB, w, h int) Source {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Bounds(), image.NewUniform(color.Black), image.Point{}, draw.Src)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return func(sequence.PhotoID) (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(b.Bytes())), nil }
}

func smallPrints(t testing.TB, style pages.PrintStyle, n, w, h int) SmallPrints {
	t.Helper()
	p := SmallPrints{Title: "Round the Adriatic", Tag: 21, Style: style, Photos: map[sequence.PhotoID]sequence.Photo{}, Open: blackPicture(t, w, h)}
	var all []pages.Proportion
	for i := 1; i <= n; i++ {
		id := sequence.PhotoID(i * 13)
		p.Photos[id] = sequence.Photo{Number: id, Caption: "Laundry over a side street, seen from the train to Koper; the wind from the sea",
			Palette: colour.Palette{{Lab: colour.Lab{L: 50, A: 40, B: 30}, Weight: 0.7}, {Lab: colour.Lab{L: 80, A: -5, B: -30}, Weight: 0.3}}}
		all = append(all, pages.Proportion{Photo: id, Width: float64(w), Height: float64(h)})
	}
	sheets, err := style.LayPrints(all)
	if err != nil {
		t.Fatal(err)
	}
	p.Sheets = sheets
	return p
}

// 0.2 mm is what is promised; a pixel of 300 to the inch is 0.085 mm.
func TestSmallPrintsLieOnTheSheetToTwoTenthsOfAMillimetre(t *testing.T) {
	const ppi = 300
	for _, sheet := range pages.Sheets {
		t.Run(sheet.Name, func(t *testing.T) {
			style := pages.FirstPrintStyle
			style.Sheet, style.Palette = sheet, true
			p := smallPrints(t, style, 5, 300, 200)
			_, file := written(t, func(d *Document) error { return d.SmallPrints(p) })
			accepted(t, file)
			img := rendered(t, file, 1, ppi)
			for _, one := range p.Sheets[0].Prints {
				near(t, "picture", inkedIn(img, one.Picture.Inset(-0.6), ppi), one.Picture)
				near(t, "code", inkedIn(img, one.Code.Inset(-1), ppi), one.Code)
				readBack(t, p.Tag, one.Photo, img, one.Code.Inset(-pages.CodeQuiet), ppi)
				// The mark at the corner, cut through by its own line.
				corner := pages.Rect{X: one.Cut.X - 0.5, Y: one.Cut.Y + 1, Size: pages.Size{Width: 1.5, Height: 0.5}}
				mark := inkedIn(img, corner, ppi)
				if middle := mark.X + mark.Width/2; math.Abs(float64(middle-one.Cut.X)) > 0.2 {
					t.Errorf("the mark of %d is at %v, want %v", one.Photo, middle, one.Cut.X)
				}
			}
			ruler := inkedIn(img, pages.Rect{X: style.Margin - 1, Y: p.Sheets[0].Height - style.Margin - 2, Size: pages.Size{Width: 52, Height: 2}}, ppi)
			if math.Abs(float64(ruler.Width-50)) > 0.2 {
				t.Errorf("the 50 mm line is %v long", ruler.Width)
			}
		})
	}
}

func near(t *testing.T, what string, got, want pages.Rect) {
	t.Helper()
	for _, pair := range [][2]pages.Length{{got.X, want.X}, {got.Y, want.Y}, {got.Right(), want.Right()}, {got.Bottom(), want.Bottom()}} {
		if math.Abs(float64(pair[0]-pair[1])) > 0.2 {
			t.Errorf("a %s lies at %v, want %v", what, got, want)
			return
		}
	}
}

// inkedIn is inked within a part of the page.
func inkedIn(img image.Image, part pages.Rect, ppi int) pages.Rect {
	scale := float64(ppi) / pages.Inch.Mm()
	px := func(l pages.Length) int { return int(math.Round(l.Mm() * scale)) }
	window := image.Rect(px(part.X), px(part.Y), px(part.Right()), px(part.Bottom()))
	got := inked(img.(interface {
		SubImage(image.Rectangle) image.Image
	}).SubImage(window), ppi)
	return got
}

// readBack has an independent reader read a code off the rendered page.
func readBack(t *testing.T, tag code.Tag, photo sequence.PhotoID, img image.Image, at pages.Rect, ppi int) {
	t.Helper()
	scale := float64(ppi) / pages.Inch.Mm()
	px := func(l pages.Length) int { return int(math.Round(l.Mm() * scale)) }
	part := img.(interface {
		SubImage(image.Rectangle) image.Image
	}).SubImage(image.Rect(px(at.X), px(at.Y), px(at.Right()), px(at.Bottom())))
	bitmap, err := gozxing.NewBinaryBitmapFromImage(part)
	if err != nil {
		t.Fatal(err)
	}
	result, err := qrcode.NewQRCodeReader().Decode(bitmap, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		t.Errorf("the code of %d cannot be read: %v", photo, err)
		return
	}
	gotTag, got, err := code.Parse(result.GetText())
	if err != nil || got != photo || gotTag != tag {
		t.Errorf("the code of %d reads as %s: %d, %v", photo, result.GetText(), got, err)
	}
}

func TestTheNumberStandsBehindItsPrint(t *testing.T) {
	style := pages.FirstPrintStyle
	style.Backs, style.Long = true, 90
	p := smallPrints(t, style, 3, 200, 300)
	_, file := written(t, func(d *Document) error { return d.SmallPrints(p) })
	pagesText := strings.Split(judge(t, "pdftotext", "-layout", file, "-"), "\f")
	if len(pagesText) != 2*len(p.Sheets)+1 {
		t.Fatalf("%d pages, want %d", len(pagesText)-1, 2*len(p.Sheets))
	}
	img := rendered(t, file, 2, 150)
	for _, one := range p.Sheets[0].Prints {
		back := one.Cut.Mirrored(p.Sheets[0].Width)
		ink := inkedIn(img, back.Inset(8), 150)
		if math.Abs(float64(ink.X+ink.Width/2-back.X-back.Width/2)) > 1 {
			t.Errorf("the number of %d is at %v, its back at %v", one.Photo, ink, back)
		}
	}
}

func TestACaptionThatIsTooLongEndsInAnEllipsisWithinItsRoom(t *testing.T) {
	l := letters(t)
	long := strings.Repeat("Nothing but sea between the islands, and then the harbour. ", 9)
	lines := l.Break(long, captionSize, 30, 3)
	if len(lines) != 3 || !strings.HasSuffix(lines[2], "…") {
		t.Errorf("%q", lines)
	}
	for _, line := range append(lines, l.Break("Donaudampfschifffahrtsgesellschaftskapitän", captionSize, 30, 2)...) {
		if l.Width(line, captionSize) > 30 {
			t.Errorf("%q runs %v", line, l.Width(line, captionSize))
		}
	}
	if got := l.Break("", captionSize, 30, 3); len(got) != 0 {
		t.Errorf("%q", got)
	}
}
