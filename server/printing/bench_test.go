package printing

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/sequence/pages"
	"pairwall/server/bringing"
)

const asWorker = "a-worker-of-the-printing-bench"

func TestMain(m *testing.M) {
	if len(os.Args) > 1 && os.Args[1] == asWorker {
		if intake.Serve(os.Stdin, os.Stdout, intake.DefaultLimits) != nil {
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// A book of 96 pages, each a photograph of 24 megapixels: how long its printer's
// PDF takes beside copying the same bytes, and how much memory it needs.
//
//	go test ./server/printing -run '^$' -bench Book -benchtime 3x
func BenchmarkBookOf96Pages(b *testing.B) {
	data := b.TempDir()
	m, size := largeBook(b, data)
	program, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	pool := intake.NewPool(1, []string{program, asWorker}, intake.DefaultLimits)
	defer pool.Close()
	press := New(bringing.NewCards(context.Background(), pool, data), pool, data)
	b.SetBytes(size)
	var copying, printing time.Duration
	debug.FreeOSMemory()
	forget(b)
	for b.Loop() {
		began := time.Now()
		copyAll(b, m, filepath.Join(data, "copy"))
		copying += time.Since(began)
		began = time.Now()
		name, err := press.Make(context.Background(), m, Order{Kind: Pages, Press: PressStyle{Marks: true}}, nil)
		if err != nil {
			b.Fatal(err)
		}
		printing += time.Since(began)
		if info, err := os.Stat(name); err != nil || info.Size() < size/2 {
			b.Fatalf("%v, %v", info, err)
		}
		os.Remove(name)
	}
	b.ReportMetric(printing.Seconds()/float64(b.N), "s/book")
	b.ReportMetric(copying.Seconds()/float64(b.N), "s/copy")
	b.ReportMetric(printing.Seconds()/copying.Seconds(), "times-copying")
	b.ReportMetric(float64(most(b))/1e6, "MB-program")
	b.ReportMetric(float64(pool.PeakMemory())/1e6, "MB-worker")
}

// largeBook writes 96 photographs, all different, and hangs them on 96 pages.
func largeBook(b *testing.B, folder string) (m Matter, size int64) {
	b.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 6000, 4000))
	r := rand.New(rand.NewPCG(24, 96))
	for y := range 4000 {
		for x := range 6000 { // as rough as film grain
			at := img.PixOffset(x, y)
			grey := uint8(128+60*((x/600+y/500)%2)) + uint8(r.Uint32N(28))
			img.Pix[at], img.Pix[at+1], img.Pix[at+2], img.Pix[at+3] = grey, grey-20, grey-40, 255
		}
	}
	var plain bytes.Buffer
	if err := jpeg.Encode(&plain, img, &jpeg.Options{Quality: 92}); err != nil {
		b.Fatal(err)
	}
	m = Matter{Title: sequence.Title{ID: 1, Name: "Round the Adriatic"}, Format: pages.FirstFormat, Plan: pages.FirstPlan}
	m.Plan.Manner = pages.FullBleed
	for i := range 96 {
		comment := fmt.Sprintf("picture %04d", i)
		file := append([]byte{0xFF, 0xD8, 0xFF, 0xFE, 0, byte(len(comment) + 2)}, comment...)
		name := filepath.Join(folder, fmt.Sprintf("%d.jpg", i))
		if err := os.WriteFile(name, append(file, plain.Bytes()[2:]...), 0o600); err != nil {
			b.Fatal(err)
		}
		info, err := os.Stat(name)
		if err != nil {
			b.Fatal(err)
		}
		size += info.Size()
		m.Photos = append(m.Photos, sequence.Photo{Number: sequence.PhotoID(i + 1), Name: filepath.Base(name), Path: name, Hash: strconv.Itoa(i),
			Bytes: info.Size(), Stamp: info.ModTime(), Format: "jpeg", Width: 6000, Height: 4000})
	}
	m.Wall = sequence.Sequence{Opening: 1, Closing: 96}
	for i := 2; i < 96; i += 2 {
		m.Wall.Spreads = append(m.Wall.Spreads, sequence.Spread{ID: sequence.SpreadID(i), Left: sequence.PhotoID(i), Right: sequence.PhotoID(i + 1)})
	}
	return m, size
}

func copyAll(b *testing.B, m Matter, name string) {
	b.Helper()
	out, err := os.Create(name)
	if err != nil {
		b.Fatal(err)
	}
	defer os.Remove(name)
	defer out.Close()
	buffer := make([]byte, 1<<20)
	for _, p := range m.Photos {
		in, err := os.Open(p.Path)
		if err != nil {
			b.Fatal(err)
		}
		// Read and written, not cloned by the file system.
		if _, err := io.CopyBuffer(struct{ io.Writer }{out}, struct{ io.Reader }{in}, buffer); err != nil {
			b.Fatal(err)
		}
		in.Close()
	}
}

// forget begins anew to count the most memory this process held; most tells it
// in bytes (Linux, proc(5)).
func forget(b *testing.B) {
	b.Helper()
	if err := os.WriteFile("/proc/self/clear_refs", []byte("5"), 0); err != nil {
		b.Logf("memory is counted from the start: %v", err)
	}
}

func most(b *testing.B) int64 {
	b.Helper()
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		b.Skipf("the system does not tell: %v", err)
	}
	for line := range strings.Lines(string(status)) {
		if rest, is := strings.CutPrefix(line, "VmHWM:"); is {
			kb, err := strconv.ParseInt(strings.Fields(rest)[0], 10, 64)
			if err != nil {
				b.Fatal(err)
			}
			return kb << 10
		}
	}
	return 0
}
