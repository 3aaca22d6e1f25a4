package press

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

func flatCovers() map[string]pages.FlatCover {
	plan := pages.FirstCoverPlan
	plan.Barcode = true
	covers := map[string]pages.FlatCover{}
	for _, b := range pages.Bindings() {
		covers[string(b)] = pages.LayCover(pages.FirstFormat.Bound(b), plan, pages.CoverSpine{Width: 6.48, Least: 6.156, Most: 6.804})
	}
	// Published: 8.5 + 8.5 + 0.25 in, with 1/8 in of bleed 17.5 × 11.25 in
	// (Telepathic Graphics).
	f := pages.FirstFormat.Bound(pages.PerfectBound)
	f.Trim, f.Bleed = pages.Size{Width: 8.5 * pages.Inch, Height: 11 * pages.Inch}, pages.Inch/8
	covers["published"] = pages.LayCover(f, plan, pages.CoverSpine{Width: pages.Inch / 4})
	return covers
}

// greyPage is a page as Poppler draws it, in greys, and its resolution.
func greyPage(t *testing.T, file string, page, ppi int) image.Image {
	t.Helper()
	to := filepath.Join(t.TempDir(), "page")
	judge(t, "pdftoppm", "-r", fmt.Sprint(ppi), "-gray", "-png", "-singlefile", "-f", fmt.Sprint(page), "-l", fmt.Sprint(page), file, to)
	return decoded(t, to+".png")
}

func decoded(t testing.TB, file string) image.Image {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	img, _, err := image.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// darkest is the column (or row) within reach of where a line is wanted that is
// darkest along the line's length.
func darkest(img image.Image, s stroke, x0, y0 pages.Length, ppi float64) (at, wanted float64) {
	px := func(l pages.Length) float64 { return l.Inches() * ppi }
	upright := math.Abs(float64(s.x1-s.x2)) < 1e-9
	fixed, from, to := px(s.x1+x0), px(min(s.y1, s.y2)+y0), px(max(s.y1, s.y2)+y0)
	if !upright {
		fixed, from, to = px(s.y1+y0), px(min(s.x1, s.x2)+x0), px(max(s.x1, s.x2)+x0)
	}
	least := math.Inf(1)
	reach := int(px(0.5)) // half a millimetre either way
	for d := -reach; d <= reach; d++ {
		sum := 0.0
		for l := from + 2; l < to-2; l++ {
			x, y := int(fixed)+d, int(l)
			if !upright {
				x, y = y, x
			}
			if !image.Pt(x, y).In(img.Bounds()) {
				sum += 255
				continue
			}
			sum += float64(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y)
		}
		if sum < least {
			least, at = sum, float64(int(fixed)+d)+0.5
		}
	}
	return at, fixed
}

// Exact to 0.2 mm, by the page as an independent program draws it.
func TestTheLinesOfATemplateLieWhereTheCoverSaysOnTheRenderedPage(t *testing.T) {
	for name, c := range flatCovers() {
		t.Run(name, func(t *testing.T) {
			_, file := written(t, func(d *Document) error { return d.CoverTemplate(c, "Round the Adriatic") })
			accepted(t, file)
			const ppi = 200
			for side, guides := range [][]pages.Guide{c.Outer, c.Inner} {
				if len(guides) == 0 {
					continue
				}
				img := greyPage(t, file, side+1, ppi)
				room := c.Bleed + templateRoom
				for _, s := range strokes(guides) {
					if max(s.x1-s.x2, s.x2-s.x1, s.y1-s.y2, s.y2-s.y1) < 5 {
						continue
					}
					at, wanted := darkest(img, s, room, room, ppi)
					if off := math.Abs(at-wanted) / ppi * 25.4; off > 0.2 {
						t.Errorf("side %d: a line at %s, %s lies %.2f mm off", side, s.x1, s.y1, off)
					}
				}
			}
		})
	}
}

func TestTheBoxesOfATemplateAreTheCovers(t *testing.T) {
	for name, c := range flatCovers() {
		_, file := written(t, func(d *Document) error { return d.CoverTemplate(c, "Round the Adriatic") })
		for box, want := range map[string]pages.Size{"TrimBox": c.Trim, "BleedBox": c.Bled().Size} {
			got := boxOf(t, file, box)
			if math.Abs(got[2]-got[0]-points(want.Width)) > 0.011 || math.Abs(got[3]-got[1]-points(want.Height)) > 0.011 {
				t.Errorf("%s, %s: %v, wanted %s × %s", name, box, got, want.Width, want.Height)
			}
		}
	}
	// 17.25 and 17.5 × 11.25 in, in points.
	_, file := written(t, func(d *Document) error { return d.CoverTemplate(flatCovers()["published"], "x") })
	trim, bleed := boxOf(t, file, "TrimBox"), boxOf(t, file, "BleedBox")
	if math.Abs(trim[2]-trim[0]-1242) > 0.011 || math.Abs(bleed[2]-bleed[0]-1260) > 0.011 || math.Abs(bleed[3]-bleed[1]-810) > 0.011 {
		t.Errorf("trim %v, bleed %v", trim, bleed)
	}
}

func boxOf(t *testing.T, file, name string) (box [4]float64) {
	t.Helper()
	for _, line := range strings.Split(judge(t, "pdfinfo", "-box", file), "\n") {
		if rest, ok := strings.CutPrefix(line, name+":"); ok {
			if _, err := fmt.Sscan(rest, &box[0], &box[1], &box[2], &box[3]); err != nil {
				t.Fatal(err)
			}
		}
	}
	return box
}

func TestATemplatePictureIsTheCoverWithItsBleedAndSaysHowLargeItIs(t *testing.T) {
	face, err := os.ReadFile(filepath.Join("..", "..", "web", "vendor", "noto", "NotoSans-Regular.ttf"))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range flatCovers() {
		const ppi = 150
		var out bytes.Buffer
		if err := TemplatePicture(&out, c, ppi, letters(t), face); err != nil {
			t.Fatal(err)
		}
		img, kind, err := image.Decode(bytes.NewReader(out.Bytes()))
		if err != nil || kind != "png" {
			t.Fatal(kind, err)
		}
		bled := c.Bled()
		if got, want := img.Bounds().Dx(), int(math.Round(bled.Width.Inches()*ppi)); got != want {
			t.Errorf("%s: %d pixels wide, not %d", name, got, want)
		}
		for _, s := range strokes(c.Outer) {
			if max(s.x1-s.x2, s.x2-s.x1, s.y1-s.y2, s.y2-s.y1) < 5 {
				continue
			}
			at, wanted := darkest(img, s, c.Bleed, c.Bleed, ppi)
			if off := math.Abs(at-wanted) / ppi * 25.4; off > 0.2 {
				t.Errorf("%s: a line at %s, %s lies %.2f mm off", name, s.x1, s.y1, off)
			}
		}
		if !bytes.Contains(out.Bytes(), []byte("pHYs\x00\x00\x17\x12\x00\x00\x17\x12\x01")) { // 5906 pixels to the metre
			t.Errorf("%s: the file does not say its resolution", name)
		}
	}
	for _, ppi := range []int{0, 71, 401, -300} {
		if err := TemplatePicture(io.Discard, flatCovers()["published"], ppi, letters(t), face); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%d: %v", ppi, err)
		}
	}
	if err := TemplatePicture(full{}, flatCovers()["published"], 72, letters(t), face); sequence.CodeOf(err) != sequence.Unreadable {
		t.Errorf("a full disk: %v", err)
	}
}

// A cover of one photo, half red and half blue, with its title read back.
func TestAnOwnCoverIsPrintedAsItIsLaid(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 400, 600))
	for y := range 600 {
		for x := range 400 {
			img.Set(x, y, map[bool]color.Color{true: color.RGBA{200, 30, 30, 255}, false: color.RGBA{30, 30, 200, 255}}[y < 300])
		}
	}
	var j bytes.Buffer
	if err := jpeg.Encode(&j, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	photo := sequence.Photo{Number: 3, Width: 400, Height: 600}
	for _, b := range pages.Bindings() {
		for _, manner := range []pages.Manner{pages.Framed, pages.FullBleed} {
			f, plan := pages.FirstFormat.Bound(b), pages.FirstCoverPlan
			plan.Own.Photo, plan.Own.Manner, plan.Own.Title, plan.Own.Name, plan.Barcode = 3, manner, "Od Trsta do Barija", "A. Maker", true
			spine := pages.CoverSpine{Width: 6.48, Least: 6.156}
			c := Cover{Flat: pages.LayCover(f, plan, spine), Own: plan.Own,
				Open: Source(func(sequence.PhotoID) (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(j.Bytes())), nil }).Upright()}
			c.Laid = c.Flat.LayOwn(f, plan, spine.Least, &photo)
			c.Lines, _ = c.Laid.Lines(letters(t), plan.Own)
			_, file := written(t, func(d *Document) error {
				d.about.Intent = SRGB()
				return d.Cover(c, true)
			})
			accepted(t, file)
			text := strings.Join(strings.Fields(judge(t, "pdftotext", "-raw", file, "-")), " ")
			if strings.Count(text, "A. Maker") != map[bool]int{true: 1, false: 2}[b == pages.SaddleStitch] {
				t.Errorf("%s: %q", b, text)
			}
			const ppi = 100
			to := filepath.Join(t.TempDir(), "page")
			judge(t, "pdftoppm", "-r", fmt.Sprint(ppi), "-png", "-singlefile", file, to)
			drawn := decoded(t, to+".png")
			room := c.Flat.Bleed + markRoom
			window := c.Laid.Picture.Window
			pixel := func(x, y pages.Length) [3]uint32 {
				r, g, b, _ := drawn.At(int((x+room).Inches()*ppi), int((y+room).Inches()*ppi)).RGBA()
				return [3]uint32{r >> 8, g >> 8, b >> 8}
			}
			inside := window.Inset(1)
			if p := pixel(inside.X, inside.Y+inside.Height*0.25); p[0] < 180 || p[2] > 60 {
				t.Errorf("%s, %s: the upper half is %v", b, manner, p)
			}
			if p := pixel(inside.Right(), inside.Bottom()-inside.Height*0.25); p[2] < 180 || p[0] > 60 {
				t.Errorf("%s, %s: the lower half is %v", b, manner, p)
			}
			if p := pixel(c.Flat.Back.X+10, c.Flat.Back.Y+10); p != [3]uint32{255, 255, 255} {
				t.Errorf("%s, %s: the back is %v", b, manner, p)
			}
		}
	}
}
