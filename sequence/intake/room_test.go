package intake

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"pairwall/sequence"
)

func TestTwoPhonesHEICsFitTogetherAndNoThird(t *testing.T) {
	heic := roomFor(filepath.Join(photosFolder(t), "heic", "iphone.heic"), DefaultLimits)
	if 2*heic > roomTogether || 3*heic <= roomTogether {
		t.Errorf("a HEIC of 24 MP takes %d MB of %d", heic>>20, int64(roomTogether)>>20)
	}
	large := filepath.Join(t.TempDir(), "large.png")
	if err := os.WriteFile(large, claim("png", 15000, 15000), 0o600); err != nil {
		t.Fatal(err)
	}
	// What claims so much that a product of it could overflow is refused before.
	beyond := filepath.Join(t.TempDir(), "beyond.tif")
	if err := os.WriteFile(beyond, claim("tiff", 1<<31, 1<<29), 0o600); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]int64{large: roomTogether, beyond: 0, filepath.Join(t.TempDir(), "gone.jpg"): 0, t.TempDir(): 0} {
		if got := roomFor(path, DefaultLimits); got != want {
			t.Errorf("%s takes %d MB, want %d", path, got>>20, want>>20)
		}
	}
}

func TestALargePictureWaitsForRoomAndSmallOnesGoOnBeside(t *testing.T) {
	folder := t.TempDir()
	small, cards := filepath.Join(folder, "small.jpg"), filepath.Join(folder, "cards")
	picture(t, small)
	p := testPool(t, "good", 2, testLimits)
	const taken = roomTogether - 16<<20 // as by another large one
	if err := p.room.Acquire(t.Context(), taken); err != nil {
		t.Fatal(err)
	}
	if _, err := p.Read(t.Context(), small, cards); err != nil {
		t.Errorf("a small picture beside a large one: %v", err)
	}
	heic := filepath.Join(photosFolder(t), "heic", "iphone.heic")
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() {
		_, err := p.Read(ctx, heic, cards)
		done <- err
	}()
	for p.room.TryAcquire(1) { // it succeeds until somebody waits in line
		p.room.Release(1)
		runtime.Gosched()
	}
	if len(p.slots) != cap(p.slots) {
		t.Error("a worker is kept waiting with it")
	}
	cancel()
	if err := <-done; sequence.CodeOf(err) != sequence.Cancelled {
		t.Errorf("cancelled while it waits: %v", err)
	}
	go func() {
		_, err := p.Read(t.Context(), heic, cards)
		done <- err
	}()
	p.room.Release(taken)
	if err := <-done; err != nil {
		t.Errorf("when there is room: %v", err)
	}
}
