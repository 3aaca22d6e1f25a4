package form

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"pairwall/sequence"
)

// measureOf is Measure's form alone.
func measureOf(img image.Image) sequence.Form {
	f, _ := Measure(img)
	return f
}

// drawn is a grey picture.
func drawn(width, height int, grey func(x, y int) uint8) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			v := grey(x, y)
			img.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	return img
}

func TestMoreBlurIsLessSharp(t *testing.T) {
	for _, name := range real {
		img := opened(t, name, 800)
		p := lumaOf(img, img.Rect)
		before := math.Inf(1)
		// The binomial's variance is half a pixel², so these are σ of 0, 1, 2 and 4.
		for _, times := range []int{0, 2, 6, 24} {
			for range times {
				p = p.smoothed()
			}
			s, _ := sharpness(p)
			if s > before-0.02 && before > 0.05 {
				t.Errorf("%s: %.2f after %.2f", name, s, before)
			}
			before = s
		}
		if before > 0.5 {
			t.Errorf("%s: still %.2f when blurred by 4 pixels", name, before)
		}
	}
}

func TestAnEdgeOfKnownBlurHasKnownSharpness(t *testing.T) {
	noise := rand.New(rand.NewPCG(1, 1))
	for _, c := range []struct{ sigma, low, high float64 }{{0, 0.6, 1}, {1, 0.4, 0.65}, {2, 0.15, 0.4}, {4, 0, 0.15}, {8, 0, 0}} {
		for _, contrast := range []float64{60, 200} {
			img := drawn(800, 600, func(x, y int) uint8 {
				// Bars 100 pixels wide with Gaussian edges, and a little grain.
				d := math.Abs(math.Mod(float64(x)+0.5, 200) - 100)
				edge := 0.5 * (1 + math.Erf((d-50)/math.Max(c.sigma, 0.01)/math.Sqrt2))
				return uint8(20 + contrast*edge + noise.Float64()*4)
			})
			if got := measureOf(img).Sharpness; got < c.low || got > c.high {
				t.Errorf("blurred by %g, contrast %g: %.2f, want %.2f to %.2f", c.sigma, contrast, got, c.low, c.high)
			}
		}
	}
	if got := measureOf(drawn(800, 600, func(x, y int) uint8 { return uint8(100 + noise.IntN(8)) })).Sharpness; got != 0 {
		t.Errorf("nothing but grain: %.2f", got)
	}
}

func TestOnlyTheSharpPartCounts(t *testing.T) {
	img := opened(t, "rome-2024/BDH_10_1I_0015.jpg", 800)
	p := lumaOf(img, img.Rect)
	soft := p
	for range 24 {
		soft = soft.smoothed()
	}
	part := newPlane(p.width, p.height)
	copy(part.at, soft.at)
	for y := p.height / 4; y < p.height*3/4; y++ {
		copy(part.row(y)[p.width/4:p.width*3/4], p.row(y)[p.width/4:p.width*3/4])
	}
	whole, _ := sharpness(p)
	quarter, _ := sharpness(part)
	none, _ := sharpness(soft)
	if quarter < whole-0.2 || none > whole/2 {
		t.Errorf("whole %.2f, a sharp quarter %.2f, all soft %.2f", whole, quarter, none)
	}
}

// Photographs of which one plane is sharp, views that are sharp throughout, and one
// by night that shows too little to tell.
func TestDepthTellsOnePlaneFromAView(t *testing.T) {
	for name, want := range map[string][2]float64{
		"photos-cc0/blue-periwinkle.jpg":                      {0.1, 0.38},
		"photos-cc0/canyon-wren.jpg":                          {0.1, 0.38},
		"rome-2024/BDH_10_1I_0382.jpg":                        {0.1, 0.38},
		"no-exif/aitzgorri_by_Aitzol_Berasategi.jpg":          {0.48, 1},
		"photos-cc0/lake-sherburne.jpg":                       {0.48, 1},
		"rome-2024/BDH_10_1I_0174.jpg":                        {0.48, 1},
		"scans/Kodak CLAS Digital Film Scanner HR200 (1).jpg": {0, 0},
	} {
		if got := measureOf(opened(t, name, 1600)).Depth; got < want[0] || got > want[1] {
			t.Errorf("%s: %.2f, want %.2f to %.2f", name, got, want[0], want[1])
		}
	}
}

func TestLinesRunTheWayTheyAreDrawn(t *testing.T) {
	ways := []struct {
		name   string
		across func(x, y int) int
	}{
		{"level", func(x, y int) int { return y }},
		{"rising", func(x, y int) int { return x + y }},
		{"upright", func(x, y int) int { return x }},
		{"falling", func(x, y int) int { return x - y + 4000 }},
	}
	for i, w := range ways {
		f := measureOf(drawn(400, 300, func(x, y int) uint8 {
			return uint8(128 + 100*math.Sin(float64(w.across(x, y))/6))
		}))
		var sum float64
		for _, share := range f.Lines {
			sum += share
		}
		if f.Lines[i] < 0.9 || math.Abs(sum-1) > 1e-3 {
			t.Errorf("%s: %v", w.name, f.Lines)
		}
		if f.Detail < 0.5 {
			t.Errorf("%s: detail %.2f", w.name, f.Detail)
		}
	}
	if f := measureOf(drawn(400, 300, func(x, y int) uint8 { return uint8(x / 4) })); f.Lines != [4]float64{} || f.Detail != 0 {
		t.Errorf("no edges: %v, %v", f.Lines, f.Detail)
	}
}

func TestWeightLiesWhereThePictureDiffers(t *testing.T) {
	for _, at := range []image.Point{{60, 60}, {320, 80}, {200, 240}} {
		f := measureOf(drawn(400, 300, func(x, y int) uint8 {
			if math.Hypot(float64(x-at.X), float64(y-at.Y)) < 25 {
				return 240
			}
			return 60
		}))
		if math.Abs(f.WeightX-float64(at.X)/400) > 0.03 || math.Abs(f.WeightY-float64(at.Y)/300) > 0.03 {
			t.Errorf("a spot at %v: %.2f, %.2f", at, f.WeightX, f.WeightY)
		}
	}
	if f := measureOf(drawn(400, 300, func(x, y int) uint8 { return 99 })); f.WeightX != 0.5 || f.WeightY != 0.5 {
		t.Errorf("even: %v, %v", f.WeightX, f.WeightY)
	}
}

func TestAHorizonIsFoundWhereItIsDrawn(t *testing.T) {
	grain := rand.New(rand.NewPCG(2, 2))
	for _, c := range []struct{ left, right float64 }{{0.5, 0.5}, {0.3, 0.34}, {0.7, 0.62}, {0.15, 0.15}, {0.85, 0.8}} {
		img := image.NewRGBA(image.Rect(0, 0, 600, 400))
		for y := range 400 {
			for x := range 600 {
				n := uint8(grain.IntN(25))
				line := (c.left + (c.right-c.left)*float64(x)/600) * 400
				if float64(y) < line {
					img.SetRGBA(x, y, color.RGBA{170 + n, 190 + n, 220 + n, 255})
				} else {
					img.SetRGBA(x, y, color.RGBA{40 + n, 80 + n, 90 + n, 255})
				}
			}
		}
		// A mast, a hull and a cloud must not hide it.
		draw.Draw(img, image.Rect(280, 20, 292, 390), image.NewUniform(color.RGBA{90, 30, 20, 255}), image.Point{}, draw.Src)
		draw.Draw(img, image.Rect(380, 150, 450, 260), image.NewUniform(color.RGBA{200, 60, 30, 255}), image.Point{}, draw.Src)
		f := measureOf(img)
		if f.Horizon < 0.5 || math.Abs(f.HorizonLeft-c.left) > 0.02 || math.Abs(f.HorizonRight-c.right) > 0.02 {
			t.Errorf("%v: %.3f to %.3f, strength %.2f", c, f.HorizonLeft, f.HorizonRight, f.Horizon)
		}
	}
}

func TestNoHorizonIsSeenWhereThereIsNone(t *testing.T) {
	grain := rand.New(rand.NewPCG(3, 3))
	leaves := make([]uint8, 40*30)
	for i := range leaves {
		leaves[i] = uint8(grain.IntN(256))
	}
	for name, img := range map[string]image.Image{
		"leaves":         drawn(400, 300, func(x, y int) uint8 { return leaves[y/10*40+x/10] }),
		"a haze":         drawn(400, 300, func(x, y int) uint8 { return uint8(y / 2) }),
		"an upright":     drawn(400, 300, func(x, y int) uint8 { return uint8(x / 200 * 200) }),
		"a steep roof":   drawn(400, 300, func(x, y int) uint8 { return uint8((x + y) / 350 * 200) }),
		"half a horizon": drawn(400, 300, func(x, y int) uint8 { return uint8((1-x/200)*(y/150)*200 + 30) }),
		"nothing":        drawn(400, 300, func(x, y int) uint8 { return 128 }),
	} {
		if f := measureOf(img); f.Horizon > 0.5 {
			t.Errorf("%s: %.2f to %.2f, strength %.2f", name, f.HorizonLeft, f.HorizonRight, f.Horizon)
		}
	}
}

func TestRealHorizonsAreFound(t *testing.T) {
	// Heights read off the pictures by eye.
	for name, want := range map[string][2]float64{
		"photos-cc0/singaporean-cityscape.jpg":       {0.59, 0.59},
		"no-exif/Bridge_by_Sander_Klootwijk.jpg":     {0.85, 0.81},
		"rome-2024/BDH_10_1I_0127.jpg":               {0.73, 0.73},
		"no-exif/aitzgorri_by_Aitzol_Berasategi.jpg": {0.59, 0.73},
	} {
		f := measureOf(opened(t, name, 800))
		if f.Horizon < 0.5 || math.Abs(f.HorizonLeft-want[0]) > 0.03 || math.Abs(f.HorizonRight-want[1]) > 0.03 {
			t.Errorf("%s: %.2f to %.2f, strength %.2f", name, f.HorizonLeft, f.HorizonRight, f.Horizon)
		}
	}
}

func TestTheSamePixelsGiveTheSameNumbersAndOddPicturesSome(t *testing.T) {
	img := opened(t, "rome-2024/BDH_10_1I_0015.jpg", 800)
	if a, b := measureOf(img), measureOf(img); a != b {
		t.Errorf("%+v, %+v", a, b)
	}
	for _, size := range []image.Point{{1, 1}, {2, 700}, {700, 2}, {17, 17}, {63, 65}} {
		f := measureOf(drawn(size.X, size.Y, func(x, y int) uint8 { return uint8(x*y + x) }))
		v := reflect.ValueOf(f)
		for i := range v.NumField() {
			if n := v.Field(i); n.Kind() == reflect.Float64 && !(n.Float() >= 0 && n.Float() <= 1) {
				t.Errorf("%v: %s is %v", size, v.Type().Field(i).Name, n.Float())
			}
		}
	}
	if f := measureOf(image.NewRGBA(image.Rectangle{})); f != (sequence.Form{}) {
		t.Errorf("no pixels: %+v", f)
	}
}

func BenchmarkMeasure(b *testing.B) {
	img := opened(b, "photos-cc0/canyon-wren.jpg", 1600)
	for b.Loop() {
		measureOf(img)
	}
}
