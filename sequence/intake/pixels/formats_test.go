package pixels

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"os"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
)

// drawnPattern reads one of the drawn files.
func drawnPattern(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func developed1600(t *testing.T, data []byte) (Print, header.Header, error) {
	t.Helper()
	from, size := bytes.NewReader(data), int64(len(data))
	h, err := header.Read(header.Kind(data[:min(len(data), header.HeadLength)]), from, size)
	if err != nil {
		return Print{}, h, err
	}
	d, err := Decode(h, from, size, 1600)
	if err != nil {
		return Print{}, h, err
	}
	p, err := Develop(d.Image, h, 1600)
	return p, h, err
}

func TestNewerFormatsShowWhatWasDrawn(t *testing.T) {
	want, err := png.Decode(bytes.NewReader(drawnPattern(t, "pattern.png")))
	if err != nil {
		t.Fatal(err)
	}
	for name, tolerance := range map[string]float64{"lossless.webp": 0, "lossy.webp": 8, "pattern.heic": 8, "pattern.avif": 8} {
		p, h, err := developed1600(t, drawnPattern(t, name))
		if err != nil || h.Width != 203 || h.Height != 149 || p.Picture.Rect != want.Bounds() || p.Profile != "" {
			t.Errorf("%s: %v, %d × %d, %v, %q", name, err, h.Width, h.Height, p.Picture, p.Profile)
			continue
		}
		if off := farthest(mean(p.Picture), mean(want)); off > 1 {
			t.Errorf("%s: mean off by %.1f", name, off)
		}
		var sum float64
		for y := range 149 {
			for x := range 203 {
				r, _, _, _ := want.At(x, y).RGBA()
				sum += math.Abs(float64(p.Picture.RGBAAt(x, y).R) - float64(r>>8))
			}
		}
		if sum/203/149 > tolerance {
			t.Errorf("%s: off by %.2f on average", name, sum/203/149)
		}
	}
	half, _, err := developed1600(t, drawnPattern(t, "half.webp"))
	if err != nil {
		t.Fatal(err)
	}
	m := mean(want)
	if off := farthest(mean(half.Picture), [3]float64{(m[0] + 255) / 2, (m[1] + 255) / 2, (m[2] + 255) / 2}); off > 1.5 {
		t.Errorf("half transparent on white paper: off by %.1f", off)
	}
}

func TestAPhonesPictureIsDecodedUprightAndInItsProfile(t *testing.T) {
	data := photo(t, "heic/iphone.heic")
	p, h, err := developed1600(t, data)
	if err != nil || h.Width != 5712 || h.Height != 4284 || p.Profile != "Display P3" || p.Picture.Rect.Dx() != 1600 {
		t.Fatalf("%v, %d × %d, %q", err, h.Width, h.Height, p.Profile)
	}
	// The same file with the property of turning set to a quarter against the clock.
	turn := bytes.Index(data, []byte("\x00\x00\x00\x09irot"))
	if turn < 0 {
		t.Fatal("the file says nothing of turning")
	}
	turned := bytes.Clone(data)
	turned[turn+8] = 1
	q, h, err := developed1600(t, turned)
	if err != nil || h.Width != 4284 || h.Height != 5712 || q.Picture.Rect.Dx() != 1200 || q.Picture.Rect.Dy() != 1600 {
		t.Fatalf("turned: %v, %d × %d, %v", err, h.Width, h.Height, q.Picture.Rect)
	}
	if off := farthest(mean(p.Picture), mean(q.Picture)); off > 1 {
		t.Errorf("turning changed the colours by %.1f", off)
	}
	// What was at the upper right is now at the upper left.
	a, b := p.Picture.RGBAAt(1500, 100), q.Picture.RGBAAt(100, 100)
	if math.Abs(float64(a.G)-float64(b.G)) > 12 {
		t.Errorf("upper right %v, after turning upper left %v", a, b)
	}
}

func TestNewerFormatsCutOffAreRefusedInWords(t *testing.T) {
	for _, name := range []string{"lossy.webp", "lossless.webp", "pattern.heic", "pattern.avif"} {
		data := drawnPattern(t, name)
		for _, length := range []int{20, 60, len(data) / 3, len(data) * 2 / 3} {
			_, _, err := developed1600(t, data[:length])
			if code := sequence.CodeOf(err); code != sequence.Damaged && !(code == "" && length > len(data)/2) {
				t.Errorf("%s cut to %d of %d: %v", name, length, len(data), err)
			}
		}
	}
}

func TestStudioRangeIsWidenedAndOtherMatricesUnderstood(t *testing.T) {
	for name, c := range map[string]struct {
		matrix    int
		y, cb, cr uint8
		studio    bool
		want      [3]float64
	}{
		// White, black and the primaries as BT.601, BT.709 and BT.2020 encode them.
		"white in studio range":  {6, 235, 128, 128, true, [3]float64{255, 255, 255}},
		"black in studio range":  {6, 16, 128, 128, true, [3]float64{0, 0, 0}},
		"red by BT.709, full":    {1, 54, 99, 255, false, [3]float64{254, 0, 1}},
		"red by BT.709, studio":  {1, 63, 102, 240, true, [3]float64{255, 1, 0}},
		"green by BT.2020, full": {9, 173, 36, 11, false, [3]float64{1, 255, 0}},
	} {
		img := newPlanes(c.y, c.cb, c.cr)
		p, err := Develop(understood(img, header.Header{Matrix: c.matrix, Studio: c.studio}), header.Header{}, 16)
		if err != nil || farthest(mean(p.Picture), c.want) > 2.5 {
			t.Errorf("%s: %v, %.1f, want %v", name, err, mean(p.Picture), c.want)
		}
	}
}

// newPlanes is an even picture of 4 × 4 pixels.
func newPlanes(y, cb, cr uint8) *image.YCbCr {
	img := image.NewYCbCr(image.Rect(0, 0, 4, 4), image.YCbCrSubsampleRatio420)
	for i := range img.Y {
		img.Y[i] = y
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = cb, cr
	}
	return img
}
