package press

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
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
	"pairwall/sequence/press/pdf"
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

func pressIntent(t testing.TB) *Intent {
	t.Helper()
	profile, err := os.ReadFile("/usr/share/color/icc/ghostscript/default_cmyk.icc")
	if err != nil {
		t.Fatalf("this test needs Debian's ghostscript: %v", err)
	}
	return &Intent{Name: "Artifex CMYK SWOP Profile", Profile: profile}
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

// objects reads a file with qpdf: every stream's dictionary and decoded bytes.
func objects(t *testing.T, file string) (streams []stream, root string) {
	t.Helper()
	var read struct {
		QPDF []map[string]json.RawMessage `json:"qpdf"`
	}
	plain := judge(t, "qpdf", "--json", "--json-stream-data=inline", "--decode-level=generalized", file)
	if err := json.Unmarshal([]byte(plain), &read); err != nil {
		t.Fatal(err)
	}
	for _, raw := range read.QPDF[1] {
		var o struct {
			Stream *struct {
				Data string         `json:"data"`
				Dict map[string]any `json:"dict"`
			} `json:"stream"`
		}
		if json.Unmarshal(raw, &o) != nil || o.Stream == nil {
			continue
		}
		data, err := base64.StdEncoding.DecodeString(o.Stream.Data)
		if err != nil {
			t.Fatal(err)
		}
		streams = append(streams, stream{o.Stream.Dict, data})
	}
	return streams, plain
}

type stream struct {
	dict map[string]any
	data []byte
}

func holds(streams []stream, data []byte) bool {
	for _, s := range streams {
		if bytes.Equal(s.data, data) {
			return true
		}
	}
	return false
}

func TestEmbeddedProfilesComeOutAsTheyWentIn(t *testing.T) {
	_, file, _ := printersPDF(t, pages.FirstFormat, pressIntent(t), true)
	accepted(t, file)
	streams, _ := objects(t, file)
	adobe, err := os.ReadFile(filepath.Join(photographs(t), bookFiles[1]))
	if err != nil {
		t.Fatal(err)
	}
	_, after, found := bytes.Cut(adobe, []byte("ICC_PROFILE\x00\x01\x01"))
	if !found {
		t.Fatal("the photograph has no profile in one piece")
	}
	size := int(after[0])<<24 | int(after[1])<<16 | int(after[2])<<8 | int(after[3])
	for what, profile := range map[string][]byte{"the picture's": after[:size], "sRGB": colour.SRGBProfile(), "the press's": pressIntent(t).Profile} {
		if !holds(streams, profile) {
			t.Errorf("%s profile is not in the file as it was", what)
		}
	}
}

func TestWhatPDFX4AsksIsInTheFile(t *testing.T) {
	for name, intent := range map[string]*Intent{"sRGB": SRGB(), "a press": pressIntent(t)} {
		t.Run(name, func(t *testing.T) {
			made, file, _ := printersPDF(t, pages.FirstFormat, intent, true)
			_, json := objects(t, file)
			for _, want := range []string{`"/GTS_PDFX"`, `"/OutputConditionIdentifier": "u:` + intent.Name, `"/Trapped": "/False"`, `"/TrimBox"`} {
				if !strings.Contains(json, want) {
					t.Errorf("there is no %s", want)
				}
			}
			if !bytes.HasPrefix(made, []byte("%PDF-1.6\n")) || !bytes.Contains(made, []byte("<pdfxid:GTS_PDFXVersion>PDF/X-4<")) {
				t.Error("the version or its identification is not plain to read")
			}
			packet := judge(t, "pdfinfo", "-meta", file)
			for _, want := range []string{"2026-05-03T18:04:05Z", "Round the Adriatic", "xmpMM:VersionID", "xmpMM:RenditionClass", "pdf:Trapped>False"} {
				if !strings.Contains(packet, want) {
					t.Errorf("the packet lacks %s", want)
				}
			}
			if strings.Contains(json, `"/Encrypt"`) || strings.Contains(json, "/Annots") || strings.Contains(json, `"/LZWDecode"`) {
				t.Error("there is something PDF/X-4 forbids")
			}
			if met := len(intent.Unmet()) == 0; met != (name == "a press") {
				t.Errorf("%q", intent.Unmet())
			}
			streams, _ := objects(t, file)
			for _, s := range streams { // device colours must be those of the intent
				forbidden := regexp.MustCompile(`(?m)^[\d. ]+ (g|G|k|K)$`)
				if name == "a press" {
					forbidden = regexp.MustCompile(`(?m)^[\d. ]+ (rg|RG)$`)
				}
				if s.dict["/Type"] == nil && forbidden.Match(s.data) && bytes.Contains(s.data, []byte(" re\n")) {
					t.Errorf("a colour of another device: %q", forbidden.Find(s.data))
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
