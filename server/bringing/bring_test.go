package bringing

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/store"
)

// asWorker, as its first argument, makes this test program what `pairwall
// worker` is.
const asWorker = "worker"

func TestMain(m *testing.M) {
	if len(os.Args) > 1 && os.Args[1] == asWorker {
		if err := intake.Serve(os.Stdin, os.Stdout, intake.DefaultLimits); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// bench is what bringing in works on: a real store with one title, and real
// workers.
type bench struct {
	store *store.Store
	pool  *intake.Pool
	data  string
	title sequence.TitleID
}

func newBench(t *testing.T) bench {
	t.Helper()
	data := t.TempDir()
	st, err := store.Open(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	pool := intake.NewPool(2, []string{program, asWorker}, intake.DefaultLimits)
	t.Cleanup(func() {
		if err := pool.Close(); err != nil {
			t.Error(err)
		}
		if err := st.Close(); err != nil {
			t.Error(err)
		}
	})
	title, err := st.CreateTitle(t.Context(), "Adriatic")
	if err != nil {
		t.Fatal(err)
	}
	return bench{st, pool, data, title.ID}
}

// photographs writes n different small pictures into a folder.
func photographs(t *testing.T, n int) string {
	t.Helper()
	folder := t.TempDir()
	for i := 1; i <= n; i++ {
		put(t, filepath.Join(folder, fmt.Sprintf("frame %d.jpg", i)), jpegOf(t, i))
	}
	return folder
}

// jpegOf is a small picture that differs by seed.
func jpegOf(t *testing.T, seed int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 96, 64))
	for y := range 64 {
		for x := range 96 {
			img.Set(x, y, color.RGBA{uint8(seed * 37), uint8(x*2 + seed), uint8(y * 3), 255})
		}
	}
	var text bytes.Buffer
	if err := jpeg.Encode(&text, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return text.Bytes()
}

func put(t *testing.T, path string, content []byte) string {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestABringSaysWhatStopsIt(t *testing.T) {
	b := newBench(t)
	ctx := t.Context()
	job, err := b.store.StartBring(ctx, b.title, []string{filepath.Join(t.TempDir(), "gone")})
	if err != nil {
		t.Fatal(err)
	}
	summary, err := Run(ctx, b.store, b.pool, b.data, job, nil)
	if sequence.CodeOf(err) != sequence.NotFound || summary.Bring.State != store.Failed || !strings.Contains(summary.Bring.Words, "gone is no longer there. If it lies on another disk") {
		t.Errorf("%+v, %v", summary, err)
	}

	folder := photographs(t, 30)
	if job, err = b.store.StartBring(ctx, b.title, []string{folder}); err != nil {
		t.Fatal(err)
	}
	summary, err = Run(ctx, b.store, b.pool, b.data, job, func(p Progress, _ *sequence.Photo) {
		if p.Done == 1 { // the disk is pulled out
			if err := os.Rename(folder, folder+"-away"); err != nil {
				t.Error(err)
			}
		}
	})
	if summary.Bring.State != store.Failed || summary.Bring.Read == 0 || summary.Bring.Read == 30 || !strings.Contains(summary.Bring.Words, "no longer there") {
		t.Errorf("%+v, %v", summary.Bring, err)
	}
	if err := os.Rename(folder+"-away", folder); err != nil {
		t.Fatal(err)
	}

	if job, err = b.store.StartBring(ctx, b.title, []string{folder}); err != nil {
		t.Fatal(err)
	}
	cards := filepath.Join(b.data, "cards")
	if err := os.RemoveAll(cards); err != nil {
		t.Fatal(err)
	}
	put(t, cards, []byte("a file where a folder belongs: nothing can be written there"))
	summary, err = Run(ctx, b.store, b.pool, b.data, job, nil)
	if sequence.CodeOf(err) != sequence.Unreadable || summary.Bring.State != store.Failed || summary.Bring.Refused != 0 || summary.Bring.Words == "" {
		t.Errorf("%+v, %v", summary.Bring, err)
	}
}

func TestABringWithoutHTTPTellsItsProgress(t *testing.T) {
	b := newBench(t)
	folder := photographs(t, 5)
	put(t, filepath.Join(folder, "frame 3.jpg"), nil)
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	job, err := b.store.StartBring(ctx, b.title, []string{folder})
	if err != nil {
		t.Fatal(err)
	}
	var done, photos, refusals int
	summary, err := Run(ctx, b.store, b.pool, b.data, job, func(p Progress, photo *sequence.Photo) {
		if p.Done < done || p.Done != p.Read+p.Known+p.Refused {
			t.Errorf("%+v after %d", p, done)
		}
		done = p.Done
		if photo != nil {
			photos++
		}
		if p.Refusal != nil {
			refusals++
		}
	})
	if err != nil || done != 5 || photos != 4 || refusals != 1 || len(summary.Refused) != 1 || summary.Refused[0].Code != sequence.Damaged {
		t.Errorf("%d done, %d photos, %d refusals, %+v, %v", done, photos, refusals, summary, err)
	}
	if summary.Bring.Words != "Four photos brought in, one could not be read." || summary.Seconds <= 0 {
		t.Errorf("%+v", summary)
	}
	cancel()
	if summary, err = Run(ctx, b.store, b.pool, b.data, job, nil); sequence.CodeOf(err) != sequence.Cancelled || summary.Bring.State != store.Cancelled {
		t.Errorf("%+v, %v", summary.Bring, err)
	}
}
