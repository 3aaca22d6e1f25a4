package intake

import (
	"context"
	"encoding/json"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"pairwall/sequence"
)

// picture writes a small real JPEG.
func picture(t testing.TB, path string) {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 320, 200))
	for y := range 200 {
		for x := range 320 {
			img.Set(x, y, color.RGBA{uint8(x), uint8(y), uint8(x ^ y), 255})
		}
	}
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if err := jpeg.Encode(file, img, nil); err != nil {
		t.Fatal(err)
	}
}

// testPool is a pool whose workers are this test binary in a role.
func testPool(t testing.TB, role string, workers int, limits Limits) *Pool {
	t.Helper()
	t.Setenv(roleVariable, role)
	p := NewPool(workers, []string{os.Args[0]}, limits)
	t.Cleanup(func() { p.Close() })
	return p
}

var testLimits = Limits{Memory: testMemory, Time: 30 * time.Second, Pixels: 100_000_000}

// drafts lists what was left behind among the cards.
func drafts(t *testing.T, cards string) []string {
	t.Helper()
	left, err := filepath.Glob(filepath.Join(cards, scratchPrefix+"*"))
	if err != nil {
		t.Fatal(err)
	}
	return left
}

// appears waits for a file of a worker that is told to misbehave: a draft of a card,
// which it leaves before it does.
func appears(t *testing.T, pattern string) {
	t.Helper()
	for deadline := time.Now().Add(20 * time.Second); time.Now().Before(deadline); time.Sleep(5 * time.Millisecond) {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		if len(found) > 0 {
			return
		}
	}
	t.Fatalf("no %s in 20 s", pattern)
}

func TestAWorkerThatBreaksCostsOneFile(t *testing.T) {
	cases := []struct {
		name string
		code sequence.Code
	}{
		{"crash", sequence.Damaged},
		{"quit", sequence.Damaged},
		{"hang", sequence.TooLarge},
		{"swell", sequence.TooLarge},
		{"burst", sequence.TooLarge},
		{"nonsense", sequence.Damaged},
		{"endless", sequence.Damaged},
		{"elsewhere", sequence.Damaged},
		{"unfounded", sequence.Damaged},
		{"empty", sequence.Damaged},
		{"brood", sequence.TooLarge},
	}
	folder := t.TempDir()
	limits := testLimits
	limits.Time = 3 * time.Second
	p := testPool(t, "unruly", 1, limits)
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			cards := filepath.Join(t.TempDir(), "cards")
			bad, good := filepath.Join(folder, c.name+".jpg"), filepath.Join(folder, "good.jpg")
			picture(t, bad)
			picture(t, good)
			_, err := p.Read(context.Background(), bad, cards)
			var coded *sequence.Error
			if !errors.As(err, &coded) || coded.Code != c.code || Stops(err) {
				t.Fatalf("got %v, want code %s", err, c.code)
			}
			if coded.Message == "" || coded.Hint == "" {
				t.Errorf("no way out: %+v", coded)
			}
			if left := drafts(t, cards); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
			photo, err := p.Read(context.Background(), good, cards)
			if err != nil || photo.Width != 320 {
				t.Fatalf("the next file: %v", err)
			}
			if left := drafts(t, cards); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
		})
	}
	if runtime.GOOS == "linux" {
		pid, err := os.ReadFile(filepath.Join(folder, "brood.jpg.child"))
		if err != nil {
			t.Fatal(err)
		}
		if !gone(string(pid)) {
			t.Errorf("process %s, started by a worker, outlived it", pid)
		}
		if peak := p.PeakMemory(); peak < testMemory/2 || peak > 2*testMemory {
			t.Errorf("peak memory %d MB; one worker swelled to %d MB", peak>>20, testMemory>>20)
		}
	}
}

// gone waits a moment for a process to end, zombies counted as ended when they
// are not ours to wait for.
func gone(pid string) bool {
	for range 50 {
		status, err := os.ReadFile("/proc/" + pid + "/status")
		if err != nil || strings.Contains(string(status), "State:\tZ") {
			return true
		}
		time.Sleep(20 * time.Millisecond)
	}
	return false
}

func TestCancellingStopsTheWorkerAtOnce(t *testing.T) {
	folder := t.TempDir()
	cards := filepath.Join(folder, "cards")
	bad, good := filepath.Join(folder, "hang.jpg"), filepath.Join(folder, "good.jpg")
	picture(t, bad)
	picture(t, good)
	p := testPool(t, "unruly", 1, testLimits)
	if _, err := p.Read(context.Background(), good, cards); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 200*time.Millisecond)
	defer cancel()
	began := time.Now()
	_, err := p.Read(ctx, bad, cards)
	if sequence.CodeOf(err) != sequence.Cancelled || !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("got %v", err)
	}
	if took := time.Since(began); took > 3*time.Second {
		t.Errorf("took %s to stop", took)
	}
	if left := drafts(t, cards); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if _, err := p.Read(context.Background(), good, cards); err != nil {
		t.Errorf("the next file: %v", err)
	}
	if _, err := p.Read(ctx, good, cards); sequence.CodeOf(err) != sequence.Cancelled {
		t.Errorf("a context over before the start: %v", err)
	}
}

func TestCloseLeavesNothingBehind(t *testing.T) {
	folder := t.TempDir()
	cards := filepath.Join(folder, "cards")
	good, bad := filepath.Join(folder, "good.jpg"), filepath.Join(folder, "hang.jpg")
	picture(t, good)
	picture(t, bad)
	before := runtime.NumGoroutine()
	p := testPool(t, "unruly", 3, testLimits)
	var reading sync.WaitGroup
	for range 6 {
		reading.Go(func() {
			if _, err := p.Read(context.Background(), good, cards); err != nil {
				t.Error(err)
			}
		})
	}
	reading.Wait()
	busy := make(chan error)
	go func() {
		_, err := p.Read(context.Background(), bad, cards)
		busy <- err
	}()
	appears(t, filepath.Join(cards, scratchPrefix+"*", "1600"))
	pids := children(t)
	if runtime.GOOS == "linux" && len(pids) == 0 {
		t.Fatal("no worker is running")
	}
	closed := make(chan error)
	go func() { closed <- p.Close() }()
	if err := <-busy; sequence.CodeOf(err) != sequence.Cancelled {
		t.Errorf("a file being read at Close: %v", err)
	}
	if err := <-closed; err != nil {
		t.Error(err)
	}
	if left := children(t); len(left) > 0 {
		t.Errorf("processes %v outlived the pool", left)
	}
	if left := drafts(t, cards); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if _, err := p.Read(context.Background(), good, cards); sequence.CodeOf(err) != sequence.Cancelled {
		t.Errorf("after Close: %v", err)
	}
	if err := p.Close(); err != nil {
		t.Errorf("closed twice: %v", err)
	}
	for range 100 {
		if runtime.NumGoroutine() <= before {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Errorf("%d goroutines before, %d after", before, runtime.NumGoroutine())
}

// children lists the processes this one started and has not waited for, dead
// ones included. Elsewhere than on Linux it knows none.
func children(t *testing.T) []string {
	t.Helper()
	tasks, err := filepath.Glob("/proc/self/task/*/children")
	if err != nil {
		t.Fatal(err)
	}
	var pids []string
	for _, task := range tasks {
		list, err := os.ReadFile(task)
		if err == nil {
			pids = append(pids, strings.Fields(string(list))...)
		}
	}
	return pids
}

func TestAWorkerEndsWhenNobodyAsksAnyMore(t *testing.T) {
	folder := t.TempDir()
	bad := filepath.Join(folder, "hang.jpg")
	picture(t, bad)
	t.Setenv(roleVariable, "unruly")
	w, err := startWorker([]string{os.Args[0]})
	if err != nil {
		t.Fatal(err)
	}
	line, err := json.Marshal(question{Number: 1, Path: []byte(bad), Scratch: []byte(folder)})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.in.Write(append(line, '\n')); err != nil {
		t.Fatal(err)
	}
	appears(t, filepath.Join(folder, "1600"))
	w.in.Close()
	select {
	case <-w.over:
	case <-time.After(20 * time.Second):
		w.stop()
		t.Fatal("it is still there")
	}
	if code := w.command.ProcessState.ExitCode(); code != statusOrphan {
		t.Errorf("it ended with status %d", code)
	}
}

func TestAWorkerThatEndedWhileIdleCostsNothing(t *testing.T) {
	folder := t.TempDir()
	good, cards := filepath.Join(folder, "good.jpg"), filepath.Join(folder, "cards")
	picture(t, good)
	p := testPool(t, "good", 1, testLimits)
	if _, err := p.Read(context.Background(), good, cards); err != nil {
		t.Fatal(err)
	}
	w := <-p.slots
	end(w.command.Process)
	for deadline := time.Now().Add(20 * time.Second); w.waiting() && time.Now().Before(deadline); {
		time.Sleep(5 * time.Millisecond) // the system takes its time on a busy machine
	}
	p.slots <- w
	if _, err := p.Read(context.Background(), good, cards); err != nil {
		t.Error(err)
	}
}

func TestAPoolWithoutAWorkerSaysSoAndStops(t *testing.T) {
	folder := t.TempDir()
	good, cards := filepath.Join(folder, "good.jpg"), filepath.Join(folder, "cards")
	picture(t, good)
	mute := testPool(t, "mute", 1, testLimits)
	missing := NewPool(1, []string{filepath.Join(folder, "no such program")}, testLimits)
	none := NewPool(1, nil, testLimits)
	for name, p := range map[string]*Pool{"a program that does not greet": mute, "a missing program": missing, "no command": none} {
		_, err := p.Read(context.Background(), good, cards)
		if sequence.CodeOf(err) != sequence.Internal || !Stops(err) {
			t.Errorf("%s: %v", name, err)
		}
		if left := drafts(t, cards); len(left) > 0 {
			t.Errorf("%s left behind: %v", name, left)
		}
	}
}

func TestAPoolReadsWhatReadReads(t *testing.T) {
	root := photosFolder(t)
	p := testPool(t, "good", 2, testLimits)
	for _, name := range []string{"edge/Apple iPhone 5.jpg", "scans/FujiFilm SP-2500.jpg", "icc/paris_icc_exif_xmp.png",
		"tiff/rgb-3c-16b.tiff", "heic/iphone.heic", "damaged/truncated.jpg", "no such file.jpg"} {
		here, there := t.TempDir(), t.TempDir()
		direct, wantErr := Read(context.Background(), filepath.Join(root, name), here)
		pooled, err := p.Read(context.Background(), filepath.Join(root, name), there)
		if (err == nil) != (wantErr == nil) || err != nil && err.Error() != wantErr.Error() {
			t.Errorf("%s: %v; Read: %v", name, err, wantErr)
			continue
		}
		if same(t, direct) != same(t, pooled) {
			t.Errorf("%s:\n%s\nRead:\n%s", name, same(t, pooled), same(t, direct))
		}
	}
	if runtime.GOOS == "linux" && p.PeakMemory() < 10<<20 {
		t.Errorf("peak memory %d", p.PeakMemory())
	}
}

func TestNamesThatAreNotTextAreFound(t *testing.T) {
	folder := t.TempDir()
	odd := filepath.Join(folder, "Caf\xe9 \"1\"\n.jpg") // Latin-1, as old disks have them
	picture(t, filepath.Join(folder, "good.jpg"))
	if err := os.Rename(filepath.Join(folder, "good.jpg"), odd); err != nil {
		t.Logf("this disk takes no such names (%v); the name is replaced", err)
		odd = filepath.Join(folder, "good.jpg")
		picture(t, odd)
	}
	p := testPool(t, "good", 1, testLimits)
	photo, err := p.Read(context.Background(), odd, filepath.Join(folder, "cards"))
	if err != nil || photo.Path != odd || photo.Name != filepath.Base(odd) {
		t.Errorf("%q, %q: %v", photo.Path, photo.Name, err)
	}
}

func TestOldDraftsAreSweptAway(t *testing.T) {
	folder := t.TempDir()
	cards := filepath.Join(folder, "cards")
	picture(t, filepath.Join(folder, "good.jpg"))
	old, fresh := filepath.Join(cards, scratchPrefix+"old"), filepath.Join(cards, scratchPrefix+"fresh")
	for _, draft := range []string{old, fresh} {
		if err := os.MkdirAll(draft, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	yesterday := time.Now().Add(-24 * time.Hour)
	if err := os.Chtimes(old, yesterday, yesterday); err != nil {
		t.Fatal(err)
	}
	p := testPool(t, "good", 1, testLimits)
	if _, err := p.Read(context.Background(), filepath.Join(folder, "good.jpg"), cards); err != nil {
		t.Fatal(err)
	}
	if left := drafts(t, cards); len(left) != 1 || left[0] != fresh {
		t.Errorf("left: %v; want only %s, which may be another's", left, fresh)
	}
}
