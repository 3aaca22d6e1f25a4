package press

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
)

var update = flag.Bool("update", false, "write the golden pages anew; look at them before they are committed")

// drawn opens pictures made of plain fields, each photo its own: no photograph is
// committed with the program.
func drawn(id sequence.PhotoID) (Plate, error) {
	const w, h = 120, 80
	var b bytes.Buffer
	for y := range h {
		for x := range w {
			v := byte(60 + 30*((x/20+y/20+int(id))%5))
			b.Write([]byte{v, byte(200 - int(id)*20), byte(255 - int(v)/2)})
		}
	}
	return Plate{File: io.NopCloser(&b), Turn: 1, Width: w, Height: h, Channels: 3, Profile: colour.SRGBProfile()}, nil
}

// Golden pages were looked at by eye. After a change that is meant:
//
//	go test ./sequence/press -run Golden -update
func TestGoldenPages(t *testing.T) {
	format := pages.FirstFormat.Bound(pages.SaddleStitch)
	book := laid(format, [2]int{120, 80}, [2]int{120, 80}, [2]int{120, 80}, [2]int{120, 80}, [2]int{120, 80})
	bound := Bound{Book: book, Open: drawn}
	press := about
	press.Intent = SRGB()
	_, single := writtenFor(t, press, func(d *Document) error { return d.SinglePages(bound, true) })
	_, spreads := written(t, func(d *Document) error { return d.Spreads(bound) })
	_, dummy := written(t, func(d *Document) error {
		return d.Dummy(bound, pages.DummyStyle{Sheet: pages.Sheets[0], Duplex: pages.LongEdge, Creep: pages.CreepGaps})
	})
	large := format
	large.Trim = pages.Size{Width: 210, Height: 297}
	fitted := Bound{Book: laid(large, [2]int{120, 80}, [2]int{120, 80}, [2]int{120, 80}, [2]int{120, 80}, [2]int{120, 80}), Open: drawn}
	_, smaller := written(t, func(d *Document) error {
		return d.Dummy(fitted, pages.DummyStyle{Sheet: pages.Sheets[0], Duplex: pages.ShortEdge, Fit: true})
	})
	_, test := written(t, func(d *Document) error { return d.TestSheet(bound, pages.Sheets[1], []int{3, 4, 9}) })
	for _, file := range []string{single, spreads, dummy, smaller, test} {
		accepted(t, file)
	}
	for _, c := range []struct {
		name, file string
		page       int
	}{
		{"title page", single, 1}, {"full bleed", single, 4}, {"across, left", single, 6}, {"across, right", single, 7}, {"text", single, 9},
		{"first opening", spreads, 1}, {"opening across", spreads, 4},
		{"dummy, outside", dummy, 1}, {"dummy, its back", dummy, 2}, {"how to make it", dummy, 7}, {"dummy, smaller", smaller, 5}, {"test", test, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := rendered(t, c.file, c.page, 40)
			name := filepath.Join("testdata", "golden", c.name+".png")
			if *update {
				writePNG(t, name, got)
				return
			}
			want := decodedPNG(t, name)
			// Poppler smooths letters otherwise from one version to the next.
			if off := difference(got, want); off > 0.6 {
				apart := filepath.Join(os.TempDir(), "pairwall golden "+c.name+".png")
				writePNG(t, apart, marked(got, want))
				t.Errorf("it is %.2f of 255 off; where is shown in %s", off, apart)
			}
		})
	}
}

func writePNG(t *testing.T, name string, img image.Image) {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// marked is a picture pale, with what differs from another in red.
func marked(got, want image.Image) image.Image {
	r := got.Bounds()
	out := image.NewRGBA(r)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			a, b := color.GrayModel.Convert(got.At(x, y)).(color.Gray).Y, color.GrayModel.Convert(want.At(x, y)).(color.Gray).Y
			out.Set(x, y, color.Gray{191 + a/4})
			if max(a, b)-min(a, b) > 24 {
				out.Set(x, y, color.RGBA{200, 0, 0, 255})
			}
		}
	}
	return out
}
