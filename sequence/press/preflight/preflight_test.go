package preflight

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// The files looked at are made by Ghostscript, and Poppler is the judge of what
// is in them (Debian's ghostscript and poppler-utils).

func tool(t testing.TB, program string, args ...string) string {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), program, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", program, err, out)
	}
	return string(out)
}

// distilled makes a PDF from PostScript.
func distilled(t testing.TB, program string, args ...string) string {
	t.Helper()
	dir := t.TempDir()
	from, to := filepath.Join(dir, "in.ps"), filepath.Join(dir, "out.pdf")
	if err := os.WriteFile(from, []byte(program), 0o600); err != nil {
		t.Fatal(err)
	}
	tool(t, "gs", append(append([]string{"-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pdfwrite", "-o", to}, args...), from)...)
	return to
}

func looked(t testing.TB, file string) (Facts, []byte) {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	f, alone, err := Look(context.Background(), bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return f, alone
}

// A flat of 300 × 210 mm plus 3 mm of bleed and 10 mm of slug: text in two faces,
// a picture turned by 30 degrees, a spot colour, RGB and CMYK.
const designed = `<< /NeverEmbed [/Helvetica /Arial] >> setdistillerparams << /PageSize [924.09 668.98] >> setpagedevice
[/BleedBox [28.346 28.346 895.748 640.63] /PAGE pdfmark
[/TrimBox [36.85 36.85 887.244 632.126] /PAGE pdfmark
/Helvetica findfont 40 scalefont setfont 0 0 0 1 setcmykcolor 100 500 moveto (From the pier) show
/Times-Roman findfont 20 scalefont setfont 0.5 setgray 100 450 moveto (Bari) show
[/Separation (Harbour Red) /DeviceCMYK {dup 0 exch dup 0}] setcolorspace 1 setcolor 500 100 100 50 rectfill
0.2 0.4 0.9 setrgbcolor 500 200 100 50 rectfill
gsave 300 200 translate 30 rotate 144 96 scale
/DeviceRGB setcolorspace
<< /ImageType 1 /Width 40 /Height 40 /BitsPerComponent 8 /Decode [0 1 0 1 0 1] /ImageMatrix [40 0 0 -40 0 40]
/DataSource {4800 string 0 1 4799 {1 index exch dup 251 mod put} for} >> image grestore showpage`

func TestBoxesFontsPicturesAndColoursAreThoseAnIndependentReaderFinds(t *testing.T) {
	file := distilled(t, designed, "-dCompatibilityLevel=1.4", "-dEncodeColorImages=true", "-dAutoFilterColorImages=false", "-dDownsampleColorImages=false")
	f, alone := looked(t, file)
	if alone != nil {
		t.Error("a page with text and more is no single picture")
	}
	boxes := tool(t, "pdfinfo", "-box", file)
	for name, got := range map[string]*pages.Rect{"MediaBox": &f.Pages[0].Media, "BleedBox": f.Pages[0].Bleed, "TrimBox": f.Pages[0].Trim} {
		want := popplersBox(t, boxes, name)
		media := popplersBox(t, boxes, "MediaBox")
		if got == nil {
			t.Errorf("no %s", name)
			continue
		}
		for what, pair := range map[string][2]float64{"left": {got.X.Inches() * 72, want[0] - media[0]}, "top": {got.Y.Inches() * 72, media[3] - want[3]},
			"width": {got.Width.Inches() * 72, want[2] - want[0]}, "height": {got.Height.Inches() * 72, want[3] - want[1]}} {
			if math.Abs(pair[0]-pair[1]) > 0.011 { // pdfinfo rounds to hundredths
				t.Errorf("%s %s: %g points, Poppler says %g", name, what, pair[0], pair[1])
			}
		}
	}
	fonts := strings.Split(strings.TrimSpace(tool(t, "pdffonts", file)), "\n")[2:]
	if len(fonts) != len(f.Fonts) || len(fonts) != 2 {
		t.Fatalf("fonts %+v; Poppler:\n%s", f.Fonts, strings.Join(fonts, "\n"))
	}
	for _, line := range fonts {
		fields := strings.Fields(line)
		want := Font{Name: fields[0], Embedded: fields[len(fields)-5] == "yes"}
		if !slices.Contains(f.Fonts, want) {
			t.Errorf("no %+v in %+v", want, f.Fonts)
		}
	}
	lines := strings.Split(strings.TrimSpace(tool(t, "pdfimages", "-list", file)), "\n")[2:]
	if len(lines) != 1 || len(f.Pictures) != 1 {
		t.Fatalf("pictures %+v; Poppler: %q", f.Pictures, lines)
	}
	fields := strings.Fields(lines[0])
	x, _ := strconv.ParseFloat(fields[len(fields)-4], 64)
	y, _ := strconv.ParseFloat(fields[len(fields)-3], 64)
	if p := f.Pictures[0]; math.Abs(p.PPI-min(x, y)) > 0.6 || fmt.Sprint(p.Width) != fields[3] || math.Abs(p.PPI-20) > 0.1 {
		t.Errorf("picture %+v; Poppler: %s", p, lines[0])
	}
	if !slices.Contains(f.Colours, Colour{Family: Spot, Name: "Harbour Red"}) || !slices.ContainsFunc(f.Colours, func(c Colour) bool { return c.Family == CMYK }) ||
		!slices.ContainsFunc(f.Colours, func(c Colour) bool { return c.Family == RGB }) {
		t.Errorf("colours %+v", f.Colours)
	}
	if len(f.Unread) > 0 || f.Count != 1 || f.Standard != "" || f.Intent != nil {
		t.Errorf("%+v", f)
	}
}

func popplersBox(t testing.TB, said, name string) [4]float64 {
	t.Helper()
	var box [4]float64
	for _, line := range strings.Split(said, "\n") {
		if rest, ok := strings.CutPrefix(line, name+":"); ok {
			if _, err := fmt.Sscan(rest, &box[0], &box[1], &box[2], &box[3]); err != nil {
				t.Fatal(err)
			}
			return box
		}
	}
	t.Fatalf("no %s in %s", name, said)
	return box
}

// onePicture is a page whose only content is what content says; its picture P is a JPEG.
func onePicture(t testing.TB, content, page string) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 60, 40))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7)
	}
	img.Set(0, 0, color.White)
	var j bytes.Buffer
	if err := jpeg.Encode(&j, img, nil); err != nil {
		t.Fatal(err)
	}
	return assembled(
		"<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1/MediaBox[0 0 600 400]>>",
		"<</Type/Page/Parent 2 0 R/Contents 4 0 R/Resources<</XObject<</P 5 0 R/F 6 0 R>>/Font<</T 7 0 R>>/ExtGState<</G<</ca 0.5>>>>>>"+page+">>",
		fmt.Sprintf("<</Length %d>>stream\n%s\nendstream", len(content), content),
		fmt.Sprintf("<</Type/XObject/Subtype/Image/Width 60/Height 40/BitsPerComponent 8/ColorSpace/DeviceRGB/Filter/DCTDecode/Length %d>>stream\n%s\nendstream", j.Len(), j.String()),
		"<</Type/XObject/Subtype/Form/BBox[0 0 600 400]/Resources<</XObject<</P 5 0 R/F 6 0 R>>>>/Length 11>>stream\n/F Do /P Do\nendstream",
		"<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>")
}

// assembled writes objects 1, 2, ... as a file.
func assembled(objects ...string) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.5\n")
	at := make([]int, len(objects))
	for i, o := range objects {
		at[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	from := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, a := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", a)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, from)
	return b.Bytes()
}

func TestACoverThatIsOnePictureIsShownAndNothingElseIs(t *testing.T) {
	for name, c := range map[string]struct {
		content, page string
		shown         bool
	}{
		"the picture over the page":         {"q 600 0 0 400 0 0 cm /P Do Q", "", true},
		"under a clip around the page":      {"0 0 600 400 re W n q 600 0 0 400 0 0 cm /P Do Q", "", true},
		"over the trim, less than the page": {"q 580 0 0 380 10 10 cm /P Do Q", "/TrimBox[20 20 580 380]", true},
		"smaller than the page":             {"q 300 0 0 200 0 0 cm /P Do Q", "", false},
		"clipped to a half":                 {"0 0 300 400 re W n q 600 0 0 400 0 0 cm /P Do Q", "", false},
		"clipped to a circle or whatever":   {"0 0 m 600 0 l 0 400 l W n q 600 0 0 400 0 0 cm /P Do Q", "", false},
		"mirrored":                          {"q -600 0 0 400 600 0 cm /P Do Q", "", false},
		"twice":                             {"q 600 0 0 400 0 0 cm /P Do /P Do Q", "", false},
		"with a line on it":                 {"q 600 0 0 400 0 0 cm /P Do Q 0 0 m 9 9 l S", "", false},
		"half clear":                        {"/G gs q 600 0 0 400 0 0 cm /P Do Q", "", false},
		"turned page":                       {"q 600 0 0 400 0 0 cm /P Do Q", "/Rotate 90", false},
		"with words":                        {"q 600 0 0 400 0 0 cm /P Do Q BT /T 9 Tf (a) Tj ET", "", false},
		"with an inline image":              {"q 600 0 0 400 0 0 cm /P Do Q BI /W 1 /H 1 /CS /G /BPC 8 ID x EI", "", false},
	} {
		t.Run(name, func(t *testing.T) {
			f, alone, err := Look(t.Context(), bytes.NewReader(onePicture(t, c.content, c.page)))
			if err != nil {
				t.Fatal(err)
			}
			if (alone != nil) != c.shown {
				t.Errorf("shown: %v; %+v", alone != nil, f)
			}
			if alone != nil {
				if size, err := jpeg.DecodeConfig(bytes.NewReader(alone)); err != nil || size.Width != 60 {
					t.Errorf("%+v %v", size, err)
				}
			}
		})
	}
}

func TestAFormThatDrawsItselfEnds(t *testing.T) {
	f, _, err := Look(t.Context(), bytes.NewReader(onePicture(t, "/F Do", "")))
	if err != nil || len(f.Unread) == 0 {
		t.Errorf("%+v %v", f, err)
	}
}

func TestWhatIsNoPDFIsSaidToBeDamagedAndALockedOneLocked(t *testing.T) {
	for _, b := range []string{"", "%PDF-1.4", "hello", "%PDF-1.7\n1 0 obj\n<<>>\nendobj\ntrailer\n<</Root 1 0 R>>\nstartxref\n9\n%%EOF"} {
		if _, _, err := Look(t.Context(), strings.NewReader(b)); sequence.CodeOf(err) != sequence.Damaged {
			t.Errorf("%q: %v", b, err)
		}
	}
	plain := distilled(t, designed)
	locked := filepath.Join(t.TempDir(), "locked.pdf")
	tool(t, "qpdf", "--encrypt", "secret", "owner", "256", "--", plain, locked)
	b, err := os.ReadFile(locked)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := Look(t.Context(), bytes.NewReader(b)); sequence.CodeOf(err) != sequence.Unsupported {
		t.Errorf("locked: %v", err)
	}
}

var spine = pages.CoverSpine{Width: 4, Least: 3.8, Most: 4.2}

func cover(trim pages.Size, b pages.Binding) pages.FlatCover {
	f := pages.FirstFormat.Bound(b)
	f.Trim = trim
	return pages.LayCover(f, pages.FirstCoverPlan, spine)
}

func page(trim pages.Size, bleed pages.Length) Page {
	at := pages.Rect{X: 10, Y: 10, Size: trim}
	reach := at.Inset(-bleed)
	return Page{Media: at.Inset(-10), Trim: &at, Bleed: &reach}
}

func TestACoverIsJudgedByWhatItShouldBe(t *testing.T) {
	want := cover(pages.Size{Width: 148, Height: 210}, pages.PerfectBound) // 300 × 210
	good := func() Facts {
		return Facts{Count: 1, Standard: "PDF/X-4", Pages: []Page{page(want.Trim, 3)}, Intent: &Intent{Name: "Coated, invented", Components: 4},
			Fonts: []Font{{"ABCDEF+Some", true}}, Pictures: []Picture{{Page: 1, Width: 3600, Height: 2500, PPI: 300}}, Colours: []Colour{{Family: CMYK}, {Family: Grey}}}
	}
	for _, found := range Judge(good(), want, spine) {
		if found.Harm != Note {
			t.Errorf("of a good one: %+v", found)
		}
	}
	for name, c := range map[string]struct {
		spoil func(*Facts)
		harm  Harm
		says  string
	}{
		"another spine":      {func(f *Facts) { f.Pages[0] = page(pages.Size{Width: 302.5, Height: 210}, 3) }, Stops, "a spine of 6.5 mm"},
		"another format":     {func(f *Facts) { f.Pages[0] = page(pages.Size{Width: 420, Height: 297}, 3) }, Stops, "420 mm × 297 mm where the cover is 300 mm × 210 mm"},
		"bleed counted":      {func(f *Facts) { f.Pages[0] = page(pages.Size{Width: 306, Height: 216}, 3) }, Stops, "bleed was counted"},
		"on its side":        {func(f *Facts) { f.Pages[0] = page(pages.Size{Width: 210, Height: 300}, 3) }, Stops, "on its side"},
		"too much bleed cut": {func(f *Facts) { f.Pages[0] = page(want.Trim, 1) }, Stops, "1 mm at the left"},
		"no trim, bled": {func(f *Facts) {
			f.Pages[0] = Page{Media: pages.Rect{Size: pages.Size{Width: 306, Height: 216}}}
		}, Ask, "no TrimBox"},
		"no trim, not bled": {func(f *Facts) { f.Pages[0] = Page{Media: pages.Rect{Size: want.Trim}} }, Stops, "has no bleed"},
		"pages":             {func(f *Facts) { f.Count = 3 }, Stops, "3 pages"},
		"turned":            {func(f *Facts) { f.Pages[0].Turned = 180 }, Ask, "turned by 180"},
		"remarks":           {func(f *Facts) { f.Pages[0].Remarks = 2 }, Ask, "2 comments"},
		"font":              {func(f *Facts) { f.Fonts = append(f.Fonts, Font{"Bare", false}) }, Stops, "Bare"},
		"soft":              {func(f *Facts) { f.Pictures[0].PPI = 224.9 }, Ask, "224 pixels"},
		"nearly sharp":      {func(f *Facts) { f.Pictures[0].PPI = 299 }, Note, "299 pixels"},
		"spot":              {func(f *Facts) { f.Colours = append(f.Colours, Colour{Family: Spot, Name: "Harbour Red"}) }, Ask, "Harbour Red"},
		"bare RGB":          {func(f *Facts) { f.Colours = append(f.Colours, Colour{Family: RGB}) }, Ask, "RGB colours without a profile"},
		"bare CMYK":         {func(f *Facts) { f.Intent = nil }, Ask, "CMYK colours"},
		"clear in X-1a":     {func(f *Facts) { f.Standard, f.Clear = "PDF/X-1a:2001", true }, Stops, "transparent"},
		"unread":            {func(f *Facts) { f.Unread = []string{"A part of the file cannot be unpacked."} }, Ask, "unpacked"},
	} {
		t.Run(name, func(t *testing.T) {
			f := good()
			c.spoil(&f)
			found := Judge(f, want, spine)
			if !slices.ContainsFunc(found, func(x Objection) bool {
				return x.Harm == c.harm && strings.Contains(x.Words+" "+x.Why, c.says) && x.Why != "" && x.Hint != ""
			}) {
				t.Errorf("nothing %s says %q: %+v", c.harm, c.says, found)
			}
			if !slices.IsSortedFunc(found, func(a, b Objection) int { return slices.Index(harms, a.Harm) - slices.Index(harms, b.Harm) }) {
				t.Error("not in the order of harm")
			}
		})
	}
}

func TestTheInsideOfACoverMayBeASecondPage(t *testing.T) {
	for b, want := range map[pages.Binding]Harm{pages.PerfectBound: Note, pages.HardCase: Stops} {
		c := cover(pages.Size{Width: 148, Height: 210}, b)
		found := Judge(Facts{Count: 2, Pages: []Page{page(c.Trim, 3), page(c.Trim, 3)}}, c, spine)
		if i := slices.IndexFunc(found, func(f Objection) bool { return strings.Contains(f.Words, "pages") }); i < 0 || found[i].Harm != want {
			t.Errorf("%s: %+v", b, found)
		}
	}
}

func FuzzLook(f *testing.F) {
	f.Add(onePicture(f, "q 600 0 0 400 0 0 cm /P Do Q", ""))
	f.Add(onePicture(f, "/F Do BT /T 9 Tf (a(b)\\)) Tj ET BI /W 1 /H 1 ID x EI << /a [1 2] >> 1e9 0 0 1 re f", "/UserUnit 2/Rotate -90"))
	if b, err := os.ReadFile(distilled(f, designed)); err == nil {
		f.Add(b)
	}
	want := cover(pages.Size{Width: 148, Height: 210}, pages.PerfectBound)
	f.Fuzz(func(t *testing.T, b []byte) {
		facts, _, err := Look(context.Background(), bytes.NewReader(b))
		if err != nil {
			if code := sequence.CodeOf(err); code != sequence.Damaged && code != sequence.Unsupported {
				t.Fatalf("%v", err)
			}
			return
		}
		Judge(facts, want, spine)
	})
}

func FuzzContent(f *testing.F) {
	f.Add([]byte("q 1 0 0 1 0 0 cm 0 0 9 9 re W n /P Do Q"))
	f.Add([]byte("BI /W 3 /H#32 ID EI (\\"))
	f.Fuzz(func(t *testing.T, content []byte) {
		reader := tokens{b: content}
		for n := 0; ; n++ {
			if reader.next().kind == ended {
				break
			}
			if n > len(content) {
				t.Fatal("it does not come to an end")
			}
		}
	})
}
