package proof_test

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	xdraw "golang.org/x/image/draw"

	"pairwall/sequence/colour"
	"pairwall/sequence/pages/perspective"
	"pairwall/sequence/proof"
)

// Proofs made by program: a real photograph on its page, printed with a known
// cast, laid on a table, lit unevenly and photographed at an angle with noise,
// and put through JPEG.

// proofing is how a proof is printed and photographed.
type proofing struct {
	shift   colour.LabD50 // of everything printed, less towards the white of the paper
	gamma   float64       // of L*, 1: none
	paper   [3]float64    // what the paper sends back of linear light
	margin  float64       // unprinted, as a share of the longer side
	uneven  float64       // how much light is lost to the far side
	tilt    float64       // degrees the camera looks from the side
	turn    float64       // degrees the page lies askew
	noise   float64       // standard deviation, of 255
	quality int           // of the JPEG
	camera  [3]float64    // its gains: the colour of the light as it sees it
	tone    float64       // exponent its tones are bent by, 1: none
	target  bool          // the 24-patch target lies beside the page
	light   float64       // exposure, 1: white paper near the top
}

var plain = proofing{gamma: 1, paper: [3]float64{0.86, 0.86, 0.86}, margin: 0.07, quality: 95, camera: [3]float64{1, 1, 1}, tone: 1, light: 1}

// made is a proof with what is known of it.
type made struct {
	page  proof.Page
	shot  *image.RGBA
	h     perspective.Homography // pixels of the page's picture to pixels of the shot
	truth map[string]colour.LabD50
	wants colour.LabD50 // mean of the midtones as they should be
}

const (
	pageSide  = 900
	shotWidth = 1600
	shotHigh  = 1200
)

func (p proofing) make(t testing.TB, name string, chance *rand.Rand) made {
	t.Helper()
	return p.makeOf(t, photograph(t, name), chance)
}

func (p proofing) makeOf(t testing.TB, photo *image.RGBA, chance *rand.Rand) made {
	t.Helper()
	border := int(p.margin * pageSide)
	w, h := photo.Rect.Dx(), photo.Rect.Dy()
	k := float64(pageSide-2*border) / float64(max(w, h))
	w, h = int(float64(w)*k), int(float64(h)*k)
	page := image.NewRGBA(image.Rect(0, 0, w+2*border, h+2*border))
	draw.Draw(page, page.Rect, image.White, image.Point{}, draw.Src)
	inner := image.Rect(border, border, border+w, border+h)
	xdraw.ApproxBiLinear.Scale(page, inner, photo, photo.Rect, draw.Src, nil)
	m := made{page: proof.Page{Picture: page, Printed: []image.Rectangle{inner}}, truth: map[string]colour.LabD50{}}
	printed := p.print(&m, inner)
	m.h = p.sees(page.Rect, chance)
	m.shot = p.photographed(t, printed, m.h, chance)
	return m
}

// print lays inks on paper: linear light of every pixel. It keeps the mean shift
// of the midtones, which near the edge of what inks can do is less than wanted.
func (p proofing) print(m *made, inner image.Rectangle) sheet {
	page := m.page.Picture
	w, h := page.Rect.Dx(), page.Rect.Dy()
	out := make([]float32, 3*w*h)
	sums, counts := map[string]colour.LabD50{}, map[string]float64{}
	cache := map[[3]uint8][2]colour.LabD50{}
	for y := range h {
		for x := range w {
			pix := page.Pix[page.PixOffset(x, y):]
			rgb := [3]uint8{pix[0], pix[1], pix[2]}
			linear := [3]float64{colour.LinearSRGB(rgb[0]), colour.LinearSRGB(rgb[1]), colour.LinearSRGB(rgb[2])}
			if image.Pt(x, y).In(inner) {
				known, ok := cache[rgb]
				if !ok {
					known[0] = colour.D50FromLinear(linear)
					known[1] = p.cast(known[0])
					cache[rgb] = known
				}
				linear = known[1].Linear()
				for c := range linear {
					linear[c] = min(max(linear[c], 0), 1)
				}
				zone := zoneOf(known[0].L)
				sums[zone] = sums[zone].Plus(colour.D50FromLinear(linear).Minus(known[0]))
				counts[zone]++
				if zone == "midtones" {
					m.wants = m.wants.Plus(known[0])
				}
			}
			for c := range 3 {
				out[3*(y*w+x)+c] = float32(linear[c] * p.paper[c])
			}
		}
	}
	for zone, s := range sums {
		n := counts[zone]
		m.truth[zone] = colour.LabD50{L: s.L / n, A: s.A / n, B: s.B / n}
	}
	n := counts["midtones"]
	m.wants = colour.LabD50{L: m.wants.L / n, A: m.wants.A / n, B: m.wants.B / n}
	return sheet{out, w, h}
}

// sheet is a printed sheet in linear light.
type sheet struct {
	pix  []float32
	w, h int
}

func zoneOf(l float64) string {
	switch {
	case l < 100./3:
		return "shadows"
	case l < 200./3:
		return "midtones"
	}
	return "lights"
}

func (p proofing) cast(c colour.LabD50) colour.LabD50 {
	less := min(1, (100-c.L)/15)
	c.L = 100 * math.Pow(c.L/100, p.gamma)
	return colour.LabD50{L: c.L + less*p.shift.L, A: c.A + less*p.shift.A, B: c.B + less*p.shift.B}
}

// sees is a pinhole camera that looks at the page from the side, so far away
// that its longer side fills most of the picture.
func (p proofing) sees(page image.Rectangle, chance *rand.Rand) perspective.Homography {
	w, h := float64(page.Dx()), float64(page.Dy())
	tilt, around, turn := p.tilt*math.Pi/180, chance.Float64()*2*math.Pi, p.turn*math.Pi/180
	fill := 0.85 * min(shotWidth/w, shotHigh/h)
	shiftX := 0.0
	if p.target {
		fill = 0.62 * min(shotWidth/w, shotHigh/h)
		shiftX = -0.2 * shotWidth
	}
	distance := 1.6 * max(w, h)
	project := func(x, y float64) perspective.Point {
		x, y = x-w/2, y-h/2
		x, y = x*math.Cos(turn)-y*math.Sin(turn), x*math.Sin(turn)+y*math.Cos(turn)
		along := x*math.Cos(around) + y*math.Sin(around)
		across := -x*math.Sin(around) + y*math.Cos(around)
		z := distance + along*math.Sin(tilt)
		along *= math.Cos(tilt)
		x, y = along*math.Cos(around)-across*math.Sin(around), along*math.Sin(around)+across*math.Cos(around)
		k := fill * distance / z
		return perspective.Point{X: shotWidth/2 + shiftX + x*k, Y: shotHigh/2 + y*k}
	}
	from := []perspective.Point{{}, {X: w}, {X: w, Y: h}, {Y: h}}
	var to []perspective.Point
	for _, c := range from {
		to = append(to, project(c.X, c.Y))
	}
	m, _ := perspective.Fit(from, to, nil)
	return m
}

func (p proofing) photographed(t testing.TB, printed sheet, h perspective.Homography, chance *rand.Rand) *image.RGBA {
	inv, ok := h.Inverse()
	if !ok {
		t.Fatal("no way back")
	}
	patches := targetLinear()
	dx, dy := chance.Float64()*2-1, chance.Float64()*2-1
	lit := func(x, y float64) float64 {
		u, v := x/shotWidth*2-1, y/shotHigh*2-1
		fall := (u*dx+v*dy)/4 + 0.5 + 0.25*(u*u+v*v)/2
		return 1 - p.uneven*fall
	}
	// The target lies on the right of the picture, a little askew.
	const patch, gap = 64.0, 10.0
	askew := (chance.Float64()*10 - 5) * math.Pi / 180
	sin, cos := math.Sincos(askew)
	tx, ty := shotWidth-4*(patch+gap)-110.0, 330.0
	shot := image.NewRGBA(image.Rect(0, 0, shotWidth, shotHigh))
	linear := make([]float32, 3*shotWidth*shotHigh)
	for y := range shotHigh {
		for x := range shotWidth {
			var sum [3]float64
			for k := range 4 {
				px, py := float64(x)+0.25+0.5*float64(k%2), float64(y)+0.25+0.5*float64(k/2)
				c := [3]float64{0.09, 0.075, 0.06} // a table
				if at := inv.At(perspective.Point{X: px, Y: py}); at.X >= 0 && at.Y >= 0 && at.X < float64(printed.w) && at.Y < float64(printed.h) {
					i := 3 * (int(at.Y)*printed.w + int(at.X))
					c = [3]float64{float64(printed.pix[i]), float64(printed.pix[i+1]), float64(printed.pix[i+2])}
				} else if p.target {
					u, v := (px-tx)*cos+(py-ty)*sin, -(px-tx)*sin+(py-ty)*cos
					if u > -2*gap && v > -2*gap && u < 4*(patch+gap)+gap && v < 6*(patch+gap)+gap {
						c = [3]float64{0.03, 0.03, 0.03}
						iu, iv := int(math.Floor(u/(patch+gap))), int(math.Floor(v/(patch+gap)))
						if iu >= 0 && iv >= 0 && iu < 4 && iv < 6 && u-float64(iu)*(patch+gap) < patch && v-float64(iv)*(patch+gap) < patch {
							c = patches[(3-iu)*6+iv] // standing on its short side
						}
					}
				}
				for i := range sum {
					sum[i] += c[i] / 4
				}
			}
			l := lit(float64(x), float64(y)) * p.light
			for i := range sum {
				linear[3*(y*shotWidth+x)+i] = float32(sum[i] * l * p.camera[i])
			}
		}
	}
	for i := 0; i < len(linear); i += 3 {
		px := shot.Pix[i/3*4:]
		for c := range 3 {
			v := math.Pow(float64(linear[i+c]), p.tone)
			px[c] = uint8(min(max(math.Round(255*encoded(v)+chance.NormFloat64()*p.noise), 0), 255))
		}
		px[3] = 255
	}
	return throughJPEG(t, shot, p.quality)
}

// encoded is a linear channel as sRGB encodes it (IEC 61966-2-1), not rounded: the
// noise of a camera is there before a file rounds, and keeps even grounds from
// being off by the same rounding everywhere.
func encoded(linear float64) float64 {
	if linear <= 0.0031308 {
		return 12.92 * linear
	}
	return 1.055*math.Pow(linear, 1/2.4) - 0.055
}

// targetLinear is the target as published, in linear light.
func targetLinear() (patches [24][3]float64) {
	for i := range patches {
		patches[i] = proof.After2014.Lab(i).Linear()
		for c := range 3 {
			patches[i][c] = max(patches[i][c], 0.001)
		}
	}
	return patches
}

// throughJPEG halves the colour channels itself: the encoder, given RGB, rounds
// quarters up there, which leaves a cast of +0.3 a* and −0.4 b* on midtones.
func throughJPEG(t testing.TB, img *image.RGBA, quality int) *image.RGBA {
	t.Helper()
	w, h := img.Rect.Dx(), img.Rect.Dy()
	halved := image.NewYCbCr(img.Rect, image.YCbCrSubsampleRatio420)
	for y := 0; y < h; y += 2 {
		for x := 0; x < w; x += 2 {
			var cb, cr float64
			for k := range 4 {
				p := img.Pix[img.PixOffset(x+k%2, y+k/2):]
				r, g, b := float64(p[0]), float64(p[1]), float64(p[2])
				luma := 0.299*r + 0.587*g + 0.114*b // ITU-R BT.601, as JFIF has it
				halved.Y[halved.YOffset(x+k%2, y+k/2)] = uint8(math.Round(luma))
				cb, cr = cb+(b-luma)/1.772/4, cr+(r-luma)/1.402/4
			}
			halved.Cb[halved.COffset(x, y)], halved.Cr[halved.COffset(x, y)] = uint8(math.Round(128+cb)), uint8(math.Round(128+cr))
		}
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, halved, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	back, err := jpeg.Decode(&file)
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewRGBA(back.Bounds())
	draw.Draw(out, out.Rect, back, image.Point{}, draw.Src)
	return out
}

var kept sync.Map

// photograph reads a real photograph, its longer side about a thousand pixels.
func photograph(t testing.TB, name string) *image.RGBA {
	t.Helper()
	if known, ok := kept.Load(name); ok {
		return known.(*image.RGBA)
	}
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	img, err := jpeg.Decode(file)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	b := img.Bounds()
	k := min(1000/float64(max(b.Dx(), b.Dy())), 1)
	small := image.NewRGBA(image.Rect(0, 0, int(float64(b.Dx())*k), int(float64(b.Dy())*k)))
	xdraw.CatmullRom.Scale(small, small.Rect, img, b, draw.Src, nil)
	kept.Store(name, small)
	return small
}

// photographs are real photographs of all kinds, in a fixed order.
func photographs(t testing.TB) []string {
	t.Helper()
	home := os.Getenv("PAIRWALL_PHOTOS")
	if home == "" {
		home = filepath.Join("..", "..", "..", "shared", "photos")
	}
	var all []string
	for _, folder := range []string{"rome-2024", "photos-cc0", "no-exif"} {
		names, _ := filepath.Glob(filepath.Join(home, folder, "*.jpg"))
		all = append(all, names...)
	}
	if len(all) < 30 {
		t.Fatalf("only %d photographs in %s", len(all), home)
	}
	slices.Sort(all)
	return all
}
