package press

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
)

// ofFiles opens test photographs as the program does: JPEG as it is, PNG as samples.
func ofFiles(t testing.TB, turns map[sequence.PhotoID]int, names ...string) Plates {
	open := opener(t, names...)
	return func(id sequence.PhotoID) (Plate, error) {
		file, err := open(id)
		if err != nil {
			return Plate{}, err
		}
		if !strings.HasSuffix(names[id-1], ".png") {
			return Plate{File: file, Turn: max(turns[id], 1)}, nil
		}
		defer file.Close()
		img, err := png.Decode(file)
		if err != nil {
			return Plate{}, err
		}
		var b bytes.Buffer
		r := img.Bounds()
		for y := range r.Dy() {
			for x := range r.Dx() {
				red, green, blue, _ := img.At(x, y).RGBA()
				b.Write([]byte{byte(red >> 8), byte(green >> 8), byte(blue >> 8)})
			}
		}
		return Plate{File: io.NopCloser(&b), Turn: 1, Width: r.Dx(), Height: r.Dy(), Channels: 3, Profile: colour.SRGBProfile()}, nil
	}
}

// laid is a small book: a title page and a blank, an opening photo, a spread with
// a caption, one across the gutter, a closing photo.
func laid(format pages.Format, sizes ...[2]int) pages.Book {
	photos := map[sequence.PhotoID]sequence.Photo{}
	for i, s := range sizes {
		id := sequence.PhotoID(i + 1)
		photos[id] = sequence.Photo{Number: id, Width: s[0], Height: s[1], Caption: "Laundry over a side street, seen from the train to Koper"}
	}
	plan := pages.FirstPlan
	plan.Captions, plan.Folios = true, true
	plan.Front = []pages.Leaf{{Kind: pages.TitleLeaf, Text: "Round the Adriatic\nEleven days by local train and ferry"}, {Kind: pages.BlankLeaf}}
	plan.Back = []pages.Leaf{{Kind: pages.TextLeaf, Text: "Trieste to Bari, by the slow trains.\n\nΚέρκυρα στο φως."}, {Kind: pages.Colophon, Text: "First edition of 100.\nPrinted on 150 g/m²."}}
	plan.Placements = []pages.Placement{{Photo: 2, Manner: pages.FullBleed}, {Photo: 4, Manner: pages.FullBleed, Apart: 4}}
	wall := sequence.Sequence{Opening: 1, Spreads: []sequence.Spread{{ID: 1, Left: 2, Right: 3}, {ID: 2, Left: 4, Across: true}}, Closing: 5}
	return pages.Lay(format, plan, wall, photos)
}

var bookFiles = []string{"rome-2024/BDH_10_1I_0015.jpg", "icc/jpg-24bit-icc-adobe-rgb.jpg", "orientation/Landscape_6.jpg", "photos-cc0/lake-sherburne.jpg", "icc/paris_icc_exif_xmp.png"}

// measured are the upright sizes of bookFiles.
func measured(t testing.TB) [][2]int {
	t.Helper()
	var sizes [][2]int
	for i, name := range bookFiles {
		file, err := os.Open(filepath.Join(photographs(t), name))
		if err != nil {
			t.Fatal(err)
		}
		c, _, err := image.DecodeConfig(file)
		file.Close()
		if err != nil {
			t.Fatal(err)
		}
		if i == 2 {
			c.Width, c.Height = c.Height, c.Width
		}
		sizes = append(sizes, [2]int{c.Width, c.Height})
	}
	return sizes
}

func printersPDF(t testing.TB, format pages.Format, intent *Intent, marks bool) ([]byte, string, pages.Book) {
	t.Helper()
	book := laid(format, measured(t)...)
	about := about
	about.Intent = intent
	out, file := writtenFor(t, about, func(d *Document) error {
		return d.SinglePages(Bound{Book: book, Open: ofFiles(t, map[sequence.PhotoID]int{3: 6}, bookFiles...)}, marks)
	})
	return out, file, book
}

// 0.01 mm is 0.028 points.
func TestTheBoxesOfEveryPageAreRightToAHundredthOfAMillimetre(t *testing.T) {
	inch := pages.FirstFormat
	inch.Trim, inch.Bleed, inch.Unit = pages.Size{Width: 6 * pages.Inch, Height: 9 * pages.Inch}, pages.Inch/8, pages.Inches
	for name, c := range map[string]struct {
		format pages.Format
		marks  bool
	}{"A5": {pages.FirstFormat, false}, "A5 with marks": {pages.FirstFormat, true}, "6 × 9 in with marks": {inch, true}} {
		t.Run(name, func(t *testing.T) {
			_, file, book := printersPDF(t, c.format, SRGB(), c.marks)
			accepted(t, file)
			room := c.format.Bleed.Mm()
			if c.marks {
				room += markRoom.Mm()
			}
			w, h, b := c.format.Trim.Width.Mm(), c.format.Trim.Height.Mm(), c.format.Bleed.Mm()
			want := map[string][4]float64{"MediaBox": {0, 0, w + 2*room, h + 2*room}, "TrimBox": {room, room, room + w, room + h},
				"BleedBox": {room - b, room - b, room + w + b, room + h + b}}
			said := judge(t, "pdfinfo", "-box", "-f", "1", "-l", "99", file)
			lines := regexp.MustCompile(`(?m)^Page +\d+ (MediaBox|TrimBox|BleedBox): +([\d.]+) +([\d.]+) +([\d.]+) +([\d.]+)$`).FindAllStringSubmatch(said, -1)
			if len(lines) != 3*len(book.Pages) {
				t.Fatalf("%d boxes on %d pages:\n%s", len(lines), len(book.Pages), said)
			}
			for _, line := range lines {
				for i, mm := range want[line[1]] {
					got, err := strconv.ParseFloat(line[2+i], 64)
					if err != nil || math.Abs(got/72*25.4-mm) > 0.01 {
						t.Errorf("%s: %s, want %v mm", line[0], line[2+i], want[line[1]])
					}
				}
			}
		})
	}
}

func TestThePrintersPDFIsTheSameEveryTime(t *testing.T) {
	a, _, _ := printersPDF(t, pages.FirstFormat, SRGB(), true)
	b, _, _ := printersPDF(t, pages.FirstFormat, SRGB(), true)
	if !bytes.Equal(a, b) {
		t.Error("two files differ")
	}
}

// What lies on rendered pages is where the plan has it. The pictures are black,
// so that their edges are plain; 0.2 mm is what is promised.
func TestPagesAreDrawnAsThePlanHasThem(t *testing.T) {
	const ppi = 300
	book := laid(pages.FirstFormat, [2]int{300, 200}, [2]int{300, 200}, [2]int{200, 300}, [2]int{300, 210}, [2]int{300, 200})
	about := about
	about.Intent = SRGB()
	_, file := writtenFor(t, about, func(d *Document) error {
		return d.SinglePages(Bound{Book: book, Open: blackPicture(t, 300, 200).Upright()}, true)
	})
	room := book.Format.Bleed + markRoom
	for _, page := range book.Pages {
		img := rendered(t, file, page.Number, ppi)
		for _, x := range []pages.Length{0, book.Format.Trim.Width} { // a crop mark points at the trim
			above := pages.Rect{X: room + x - 2, Y: 4.5, Size: pages.Size{Width: 4, Height: 3}}
			if mark := inkedIn(img, above, ppi); math.Abs(float64(mark.X+mark.Width/2-room-x)) > 0.2 {
				t.Errorf("page %d: a mark at %v, want %v", page.Number, mark, room+x)
			}
		}
		if page.Shown == nil {
			continue
		}
		window := page.Shown.Window
		window.X, window.Y = window.X+room, window.Y+room
		near(t, "picture of page "+strconv.Itoa(page.Number), inkedIn(img, window.Inset(-0.9), ppi), window)
	}
}

func TestAPictureThatIsMissingIsSaidWithItsPage(t *testing.T) {
	book := laid(pages.FirstFormat, [2]int{3, 2}, [2]int{3, 2}, [2]int{3, 2}, [2]int{3, 2}, [2]int{3, 2})
	gone := func(sequence.PhotoID) (Plate, error) {
		return Plate{}, &sequence.Error{Code: sequence.NotFound, Message: "The original of photo 1 is missing.", Hint: "Find it again."}
	}
	err := Begin(io.Discard, about, letters(t)).SinglePages(Bound{Book: book, Open: gone}, false)
	if sequence.CodeOf(err) != sequence.NotFound || !strings.HasPrefix(err.Error(), "Page 3: ") {
		t.Errorf("%v", err)
	}
}
