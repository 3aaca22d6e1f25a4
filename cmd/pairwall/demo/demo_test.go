package demo

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/png"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/rwcarlsen/goexif/exif"
	"golang.org/x/image/tiff"
)

const eighth = 1.0 / 8

func TestListHoldsTogether(t *testing.T) {
	ps := Pictures()
	if len(ps) != 42 {
		t.Fatalf("%d pictures, want 42", len(ps))
	}
	from := time.Date(2026, 5, 3, 0, 0, 0, 0, time.FixedZone("", 7200))
	to := from.AddDate(0, 0, 11)
	seen := map[string]bool{}
	var before time.Time
	var digital, film, placed int
	for _, p := range ps {
		if seen[p.File] || p.File != filepath.ToSlash(filepath.Clean(p.File)) || strings.HasPrefix(p.File, "/") {
			t.Errorf("%s: name taken twice or not clean", p.File)
		}
		seen[p.File] = true
		town, known := towns[p.Town]
		if p.Caption == "" || !known {
			t.Errorf("%s: caption %q, town %q", p.File, p.Caption, p.Town)
		}
		if p.Kind == Film {
			film++
			if p.Taken != nil || p.Offset != nil || p.Position != nil {
				t.Errorf("%s: a film scan knows neither when nor where", p.File)
			}
			continue
		}
		digital++
		if p.Taken.Before(from) || !p.Taken.Before(to) || p.Taken.Before(before) {
			t.Errorf("%s: taken %v, outside the journey or before its forerunner", p.File, p.Taken)
		}
		before = *p.Taken
		if _, sec := p.Taken.Zone(); sec != *p.Offset*60 {
			t.Errorf("%s: offset %d does not go with %v", p.File, *p.Offset, p.Taken)
		}
		if p.Position != nil {
			placed++
			if d := kilometres(*p.Position, town); d > 8 {
				t.Errorf("%s: %.1f km from %s", p.File, d, p.Town)
			}
		}
	}
	if digital != 24 || film != 18 || placed != 22 {
		t.Errorf("%d digital (%d placed), %d film; want 24 (22), 18", digital, placed, film)
	}
}

// kilometres on a sphere of 6371 km, near enough for a few kilometres.
func kilometres(a, b [2]float64) float64 {
	const r = 6371 * math.Pi / 180
	return math.Hypot((a[0]-b[0])*r, (a[1]-b[1])*r*math.Cos(a[0]*math.Pi/180))
}

// choose picks works by a part of their name.
func choose(t *testing.T, parts ...string) []work {
	t.Helper()
	var out []work
	for _, part := range parts {
		n := len(out)
		for _, w := range works() {
			if strings.Contains(w.File, part) {
				out = append(out, w)
			}
		}
		if len(out) == n {
			t.Fatalf("no picture named like %q", part)
		}
	}
	return out
}

func TestSameBytesEveryTime(t *testing.T) {
	ws := choose(t, "0121", "0149", "0190", "0259", "000418730006", "000418740009", "0020.tif", "000004", "000023.png")
	a, b := t.TempDir(), t.TempDir()
	for _, dir := range []string{a, b} {
		if err := drawAll(context.Background(), dir, ws, eighth, nil); err != nil {
			t.Fatal(err)
		}
	}
	for _, w := range ws {
		x, err := os.ReadFile(filepath.Join(a, w.File))
		if err != nil {
			t.Fatal(err)
		}
		y, err := os.ReadFile(filepath.Join(b, w.File))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(x, y) {
			t.Errorf("%s differs between two runs", w.File)
		}
	}
}

func TestEveryPictureDrawsAndIsItsOwn(t *testing.T) {
	type look struct {
		file    string
		r, g, b float64
	}
	var all []look
	for _, w := range works() {
		img := w.picture(1.0 / 16)
		l := look{file: w.File}
		var sum [3]float64
		var sq float64
		for i := 0; i < len(img.Pix); i += 4 {
			for k := range 3 {
				sum[k] += float64(img.Pix[i+k])
			}
			sq += float64(img.Pix[i+1]) * float64(img.Pix[i+1])
		}
		n := float64(len(img.Pix) / 4)
		l.r, l.g, l.b = sum[0]/n, sum[1]/n, sum[2]/n
		if sd := math.Sqrt(sq/n - l.g*l.g); sd < 12 {
			t.Errorf("%s: green varies by %.1f only: an empty picture?", w.File, sd)
		}
		if w.stock.mono && (math.Abs(l.r-l.g) > 0.5 || math.Abs(l.b-l.g) > 0.5) {
			t.Errorf("%s: black and white, but its mean is %.1f %.1f %.1f", w.File, l.r, l.g, l.b)
		}
		all = append(all, l)
	}
	var lo, hi [3]float64
	lo = [3]float64{255, 255, 255}
	for i, l := range all {
		for k, v := range []float64{(l.r + l.g + l.b) / 3, l.r - l.b, l.g - (l.r+l.b)/2} {
			lo[k], hi[k] = math.Min(lo[k], v), math.Max(hi[k], v)
		}
		for _, m := range all[:i] {
			d := math.Sqrt((l.r-m.r)*(l.r-m.r) + (l.g-m.g)*(l.g-m.g) + (l.b-m.b)*(l.b-m.b))
			pair := strings.Contains(l.file, "0298") && strings.Contains(m.file, "0297")
			if pair && d > 6 {
				t.Errorf("the two frames of the wake stand %.1f apart, they should be near-duplicates", d)
			}
		}
	}
	for k, want := range []float64{120, 110, 15} { // lightness, warm to cool, green to magenta
		if hi[k]-lo[k] < want {
			t.Errorf("mean colours spread over %.0f on axis %d, want at least %.0f", hi[k]-lo[k], k, want)
		}
	}
}

func TestExifReadsBack(t *testing.T) {
	dir := t.TempDir()
	ws := choose(t, "0107", "0259", "0312", "000418730003")
	if err := drawAll(context.Background(), dir, ws, eighth, nil); err != nil {
		t.Fatal(err)
	}
	for _, w := range ws {
		f, err := os.Open(filepath.Join(dir, w.File))
		if err != nil {
			t.Fatal(err)
		}
		x, err := exif.Decode(f)
		f.Close()
		if err != nil {
			t.Fatalf("%s: %v", w.File, err)
		}
		text := func(n exif.FieldName) string {
			tag, err := x.Get(n)
			if err != nil {
				return ""
			}
			s, _ := tag.StringVal()
			return s
		}
		if got := text(exif.ImageDescription); got != invented {
			t.Errorf("%s: description %q", w.File, got)
		}
		want := ""
		if w.Taken != nil {
			want = w.Taken.Format("2006:01:02 15:04:05")
		}
		if got := text(exif.DateTimeOriginal); got != want {
			t.Errorf("%s: taken %q, want %q", w.File, got, want)
		}
		if got := text(exif.DateTime); got != w.written() {
			t.Errorf("%s: DateTime %q, want %q", w.File, got, w.written())
		}
		if tag, err := x.Get(exif.Orientation); err != nil || tag.String() != map[bool]string{true: "6", false: "1"}[w.turned] {
			t.Errorf("%s: orientation %v, %v", w.File, tag, err)
		}
		lat, lng, err := x.LatLong()
		switch {
		case w.Position == nil && err == nil:
			t.Errorf("%s: has a position %v %v, want none", w.File, lat, lng)
		case w.Position != nil && (err != nil || math.Abs(lat-w.Position[0]) > 1e-7 || math.Abs(lng-w.Position[1]) > 1e-7):
			t.Errorf("%s: position %v %v (%v), want %v", w.File, lat, lng, err, *w.Position)
		}
	}
}

// The offset tag is unknown to goexif; the bytes are looked for instead: tag
// 0x9011, type ASCII, 7 bytes (EXIF 2.31, 4.6.5).
func TestOffsetTagIsWrittenForCamerasOnly(t *testing.T) {
	entry := []byte{0x11, 0x90, 2, 0, 7, 0, 0, 0}
	for _, w := range choose(t, "0107", "000418730003") {
		block := w.exifBlock(60, 40)
		has := bytes.Contains(block, entry) && bytes.Contains(block, []byte("+02:00\x00"))
		if has != (w.Kind == Digital) {
			t.Errorf("%s: offset tag present: %v", w.File, has)
		}
	}
}

func TestSidewaysPictureIsStoredSidewaysAndOthersDecode(t *testing.T) {
	dir := t.TempDir()
	ws := choose(t, "0259", "0020.tif", "000023.png")
	if err := drawAll(context.Background(), dir, ws, eighth, nil); err != nil {
		t.Fatal(err)
	}
	for i, want := range []image.Point{{225, 150}, {225, 150}, {175, 175}} {
		f, err := os.Open(filepath.Join(dir, ws[i].File))
		if err != nil {
			t.Fatal(err)
		}
		var img image.Image
		switch filepath.Ext(ws[i].File) {
		case ".tif":
			img, err = tiff.Decode(f)
		case ".png":
			img, err = png.Decode(f)
		default:
			img, _, err = image.Decode(f)
		}
		f.Close()
		if err != nil {
			t.Fatalf("%s: %v", ws[i].File, err)
		}
		if img.Bounds().Size() != want {
			t.Errorf("%s: %v, want %v", ws[i].File, img.Bounds().Size(), want)
		}
	}
	up := ws[0].picture(eighth)
	side := turnLeft(up)
	// Orientation 6 (TIFF 6.0, tag 274): the stored first row is the right-hand side of
	// the picture, the stored first column its top; so the upright top row, left to
	// right, is the stored first column from the bottom up.
	for x := range up.Rect.Dx() {
		if up.RGBAAt(x, 0) != side.RGBAAt(0, side.Rect.Dy()-1-x) {
			t.Fatalf("pixel %d of the top row is not where orientation 6 puts it", x)
		}
	}
}

func TestOnlyMissingPicturesAreDrawn(t *testing.T) {
	dir := t.TempDir()
	ws := choose(t, "0297", "0298")
	kept := filepath.Join(dir, ws[0].File)
	if err := os.MkdirAll(filepath.Dir(kept), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(kept, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	var told []string
	err := drawAll(context.Background(), dir, ws, eighth, func(done, total int, name string) {
		if total != 1 || done != 1 {
			t.Errorf("progress %d of %d", done, total)
		}
		told = append(told, name)
	})
	if err != nil || len(told) != 1 || told[0] != ws[1].File {
		t.Errorf("told %v, error %v", told, err)
	}
	if b, _ := os.ReadFile(kept); string(b) != "mine" {
		t.Error("a file that was there has been overwritten")
	}
}

func TestCancellingStopsAndLeavesNothingHalfDone(t *testing.T) {
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	count := 0
	err := drawAll(ctx, dir, works(), 1.0/16, func(done, total int, _ string) {
		count = done
		if done == 2 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("error %v, want the context's", err)
	}
	files := 0
	err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			files++
			if strings.HasPrefix(d.Name(), ".") {
				t.Errorf("left behind: %s", path)
			}
		}
		return err
	})
	if err != nil || files != count || files >= len(works()) {
		t.Errorf("%d files, %d reported, error %v", files, count, err)
	}
}
