package main

import (
	"context"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/server"
	"pairwall/store"
)

// TestMain puts away what all tests shared.
func TestMain(m *testing.M) {
	code := m.Run()
	for _, away := range putAway {
		away()
	}
	os.Exit(code)
}

// putAway is what must be ended or removed after the last test.
var putAway []func()

// realPhotographs is the folder of photographs the tests work on. They are not
// part of the project: a checkout without them cannot be tested, and says so.
func realPhotographs(t testing.TB) string {
	t.Helper()
	dir := photosFolder()
	if _, err := os.Stat(filepath.Join(dir, "MANIFEST.tsv")); err != nil {
		t.Fatalf("the photographs for tests are missing: %v; set PAIRWALL_PHOTOS", err)
	}
	return dir
}

func photosFolder() string {
	if dir := os.Getenv("PAIRWALL_PHOTOS"); dir != "" {
		return dir
	}
	return "../../../shared/photos"
}

const (
	titleName = "Rome on foot"
	allPhotos = 28 // in rome-2024, numbers 1 to 19, and no-exif
)

// theProgram is pairwall as it is given to people. It reads the photographs, so
// that looking for races here does not slow down what is done in processes of
// its own, and is looked at in package intake.
var theProgram = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "pairwall-program")
	if err != nil {
		return "", err
	}
	putAway = append(putAway, func() { _ = os.RemoveAll(dir) })
	path := filepath.Join(dir, "pairwall")
	if out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput(); err != nil {
		return "", fmt.Errorf("building pairwall: %w\n%s", err, out)
	}
	return path, nil
})

// prepared brings a day's photographs and some without any date into a title
// once for all tests; each test works on a copy.
var prepared = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "pairwall-browser")
	if err != nil {
		return "", err
	}
	putAway = append(putAway, func() { _ = os.RemoveAll(dir) })
	return dir, bringIn(dir, titleName, filepath.Join(photosFolder(), "rome-2024"), filepath.Join(photosFolder(), "no-exif"))
})

// bringIn brings folders into a title from the terminal.
func bringIn(data, title string, folders ...string) error {
	program, err := theProgram()
	if err != nil {
		return err
	}
	command := append([]string{"--data", data, "bring", "--title", title}, folders...)
	if out, err := exec.Command(program, command...).CombinedOutput(); err != nil {
		return fmt.Errorf("bringing in photographs: %w\n%s", err, out)
	}
	return nil
}

// app is one running Pairwall on a data folder of its own.
type app struct {
	t       testing.TB
	data    string
	address string
	store   *store.Store
	title   sequence.TitleID
	stop    func()
}

// startApp serves a copy of the prepared title.
func startApp(t testing.TB) *app {
	t.Helper()
	realPhotographs(t)
	source, err := prepared()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(source)); err != nil {
		t.Fatal(err)
	}
	a := serveData(t, dir)
	title, err := a.store.TitleNamed(t.Context(), titleName)
	if err != nil {
		t.Fatal(err)
	}
	a.title = title.ID
	return a
}

// serveData serves a data folder on a free port until the test ends or stop is
// called, whichever comes first.
func serveData(t testing.TB, dir string) *app {
	t.Helper()
	return serveAt(t, dir, "127.0.0.1:0")
}

func serveAt(t testing.TB, dir, address string) *app {
	t.Helper()
	st, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	program, err := theProgram()
	if err != nil {
		t.Fatal(err)
	}
	pool := intake.NewPool(readersBeside(), []string{program, "worker"}, intake.DefaultLimits)
	listener, err := server.Listen(address)
	if err != nil {
		t.Fatal(err)
	}
	srv := server.New(server.Config{Store: st, Pool: pool, Data: dir, Version: "test",
		Log: slog.New(slog.NewTextHandler(t.Output(), nil))})
	web := &http.Server{Handler: srv.Handler(), ReadHeaderTimeout: time.Second}
	go func() { _ = web.Serve(listener) }() // ends with ErrServerClosed below
	a := &app{t: t, data: dir, address: "http://" + listener.(*net.TCPListener).Addr().String(), store: st}
	a.stop = sync.OnceFunc(func() {
		_ = srv.Close()
		_ = web.Close()
		_ = pool.Close()
		_ = st.Close()
	})
	t.Cleanup(a.stop)
	return a
}

// again closes the program and starts it anew on the same data and address, as
// after a night.
func (a *app) again() *app {
	a.t.Helper()
	a.stop()
	next := serveAt(a.t, a.data, strings.TrimPrefix(a.address, "http://"))
	next.title = a.title
	return next
}

func (a *app) wallAddress() string { return fmt.Sprintf("%s/#title/%d", a.address, a.title) }

// wall reads the wall as the data file has it.
func (a *app) wall() sequence.Sequence {
	a.t.Helper()
	w, err := a.store.Wall(a.t.Context(), a.title)
	if err != nil {
		a.t.Fatal(err)
	}
	return w.Sequence
}

// hang puts the wall into a state, written as told in browser_notation_test.go, by one
// change made elsewhere.
func (a *app) hang(written string) {
	a.t.Helper()
	now := a.wall()
	change, err := sequence.Between(now, readNotation(a.t, now, written), "hang it")
	if err != nil {
		a.t.Fatal(err)
	}
	if _, _, err := a.store.Apply(a.t.Context(), a.title, change, "a test"); err != nil {
		a.t.Fatal(err)
	}
}

// theBrowser is one Chromium for all tests; each test has tabs with a storage
// of their own in it.
var theBrowser = sync.OnceValues(func() (context.Context, error) {
	path, err := exec.LookPath("chromium")
	if err != nil {
		return nil, fmt.Errorf("the browser tests need Debian's chromium: %w", err)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.WindowSize(1280, 900),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, _ := chromedp.NewContext(allocator)
	putAway = append(putAway, func() {
		_ = chromedp.Cancel(ctx)
		stop()
	})
	if err := chromedp.Do(ctx); err != nil {
		return nil, fmt.Errorf("starting chromium: %w", err)
	}
	return ctx, nil
})
