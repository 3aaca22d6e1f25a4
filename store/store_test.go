package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"pairwall/migrations"
	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/place"
)

// TestMain lets the test binary play a second process: see child_test.go.
func TestMain(m *testing.M) {
	if part := os.Getenv("PAIRWALL_STORE_PART"); part != "" {
		os.Exit(play(part))
	}
	os.Exit(m.Run())
}

var ctx = context.Background()

// clock is a Store's time in tests; it stands still until it is moved.
type clock struct{ at time.Time }

func (c *clock) now() time.Time          { return c.at }
func (c *clock) forward(d time.Duration) { c.at = c.at.Add(d) }
func newClock() *clock {
	return &clock{time.Date(2026, 11, 25, 18, 4, 5, 678_901_234, time.FixedZone("CET", 3600))}
}

func openStore(t testing.TB, dir string) *Store {
	t.Helper()
	s, err := Open(ctx, dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// newStore is a store in a folder of its own, with a clock of its own.
func newStore(t testing.TB) (*Store, *clock) {
	t.Helper()
	s, c := openStore(t, t.TempDir()), newClock()
	s.Now = c.now
	return s, c
}

// hasty opens like Open, but soon gives up on a lock.
func hasty() settings {
	return settings{patience: 50 * time.Millisecond, migrations: migrations.Files, now: newClock().now}
}

func newTitle(t testing.TB, s *Store, name string, photos int) sequence.TitleID {
	t.Helper()
	title, err := s.CreateTitle(ctx, name)
	if err != nil {
		t.Fatal(err)
	}
	for n := 1; n <= photos; n++ {
		p, added, err := s.AddPhoto(ctx, title.ID, photoOf(n))
		if err != nil || !added || p.Number != sequence.PhotoID(n) {
			t.Fatalf("photo %d: got number %d, added %v, %v", n, p.Number, added, err)
		}
	}
	return title.ID
}

// photoOf makes the record of the nth picture of a journey, filled in as
// intake fills it in: a third of them film scans without a place.
func photoOf(n int) sequence.Photo {
	sum := sha256.Sum256([]byte{byte(n >> 16), byte(n >> 8), byte(n)})
	offset := 60
	p := sequence.Photo{
		Name: fmt.Sprintf("adria-%04d.jpg", n), Path: fmt.Sprintf("/home/maker/Adria/adria-%04d.jpg", n),
		Hash: hex.EncodeToString(sum[:]), Bytes: int64(5_000_000 + n), Stamp: time.Date(2026, 5, 4, 7, 0, n, 123_456_789, time.UTC),
		Came: time.Date(2026, 11, 2, 20, 0, n, 0, time.UTC), Format: "jpeg", Width: 6000, Height: 4000, Profile: "Display P3",
		Camera: "pocket camera", Taken: place.Instant(time.Date(2026, 5, 4, 9, 0, n, 0, time.UTC), &offset, place.FromCamera),
		Where:   &place.Where{LatLng: place.LatLng{Lat: 45.65 - float64(n)/1000, Lng: 13.77 + float64(n)/1000}, Radius: 12, Source: place.FromPhone},
		Caption: "quay, morning",
		Tone:    colour.Tone{Mean: 52.5, Deviation: 18.25, Dark: .125, Light: .0625, Chroma: 21},
	}
	for i := range 6 {
		p.Palette = append(p.Palette, colour.Swatch{Lab: colour.Lab{L: 10.123456789 * float64(i+1), A: float64(n%50) - 25.5, B: float64(i) - 3.25}, Weight: 1.0 / 6})
	}
	if n%3 == 0 {
		p.Camera, p.Scan, p.Roll, p.Frame, p.Where = "film scanner", true, "R7", fmt.Sprint(n/3), nil
		p.Taken = place.Day(2026, 11, 2, place.FromScanner)
		p.Findings = []sequence.Finding{{Code: sequence.Damaged, Words: "The file ends early.", Hint: "Scan the frame again."}}
	}
	return p
}

func wallOf(t testing.TB, s *Store, title sequence.TitleID) Wall {
	t.Helper()
	w, err := s.Wall(ctx, title)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// pair puts photos a and b on a new spread at the end of the wall.
func pair(q sequence.Sequence, a, b sequence.PhotoID) sequence.Change {
	return sequence.Change{Revision: q.Revision, Act: fmt.Sprintf("pair %d with %d", a, b),
		Steps: []sequence.Step{{Do: sequence.Add, Index: len(q.Spreads), Spread: &sequence.Spread{ID: q.Last + 1, Left: a, Right: b}}}}
}

func apply(t testing.TB, s *Store, title sequence.TitleID, a, b sequence.PhotoID) Wall {
	t.Helper()
	_, w, err := s.Apply(ctx, title, pair(wallOf(t, s, title).Sequence, a, b), "window-1")
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// sees compares two walls as the maker sees them: an undone state has a later
// revision, and remembers the spread numbers given since.
var sees = cmp.Options{cmpopts.IgnoreFields(sequence.Sequence{}, "Revision", "Last", "LastChapter"), cmpopts.EquateEmpty()}

// isCoded checks an error's code and that it speaks in sentences.
func isCoded(t *testing.T, err error, code sequence.Code) {
	t.Helper()
	if sequence.CodeOf(err) != code {
		t.Fatalf("got %v (%s), want code %q", err, sequence.CodeOf(err), code)
	}
	if told := err.Error(); code != sequence.Internal && !strings.Contains(told, ".") {
		t.Errorf("%q is no sentence", told)
	}
}

// replays checks that a title's journal leads from an empty wall to the wall
// that is kept, without a gap.
func replays(t *testing.T, s *Store, title sequence.TitleID) []sequence.Entry {
	t.Helper()
	entries, err := s.Journal(ctx, title, 0)
	if err != nil {
		t.Fatal(err)
	}
	var q sequence.Sequence
	for i, e := range entries {
		if e.Revision != int64(i+1) {
			t.Fatalf("entry %d of the journal leads to revision %d", i, e.Revision)
		}
		if q, err = q.Apply(e.Change); err != nil {
			t.Fatalf("entry %d: %v", e.Revision, err)
		}
	}
	if diff := cmp.Diff(q, wallOf(t, s, title).Sequence, cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("the journal leads elsewhere than the wall is (-journal +wall):\n%s", diff)
	}
	return entries
}

// randomChange is some act on a wall of a title with that many photos; about
// one in four cannot be done.
func randomChange(r *rand.Rand, q sequence.Sequence, photos int) sequence.Change {
	c := sequence.Change{Revision: q.Revision, Act: fmt.Sprintf("act %d", r.IntN(1e6))}
	last := q.Last
	for range 1 + r.IntN(3) {
		spread, at := sequence.Spread{ID: last + 1}, 0
		if len(q.Spreads) > 0 {
			at = r.IntN(len(q.Spreads))
			spread = q.Spreads[at]
		}
		table := q.Table(upTo(photos))
		loose := sequence.PhotoID(0)
		if len(table) > 0 {
			loose = table[r.IntN(len(table))]
		}
		var step sequence.Step
		switch r.IntN(9) {
		case 0, 1:
			last++
			step = sequence.Step{Do: sequence.Add, Index: r.IntN(len(q.Spreads) + 1), Spread: &sequence.Spread{ID: last, Left: loose}}
		case 2:
			step = sequence.Step{Do: sequence.Put, Page: &sequence.Page{Spread: spread.ID, Side: sequence.Right}, Was: spread.Right, Now: loose}
		case 3:
			step = sequence.Step{Do: sequence.Put, Page: &sequence.Page{Side: sequence.Opening}, Was: q.Opening, Now: loose}
		case 4:
			step = sequence.Step{Do: sequence.Move, Index: at, To: r.IntN(len(q.Spreads) + 1)}
		case 5:
			step = sequence.Step{Do: sequence.Pin, Spread: &sequence.Spread{ID: spread.ID}, On: !spread.Pinned}
		case 6:
			step = sequence.Step{Do: sequence.Remove, Index: at, Spread: &spread}
		case 7:
			id := sequence.PhotoID(1 + r.IntN(photos))
			step = sequence.Step{Do: sequence.Box, Now: id, On: !slices.Contains(q.Box, id)}
		}
		if step.Do == "" {
			c.Steps = append(c.Steps, chapterSteps(r, q, spread)...)
			continue
		}
		c.Steps = append(c.Steps, step)
	}
	return c
}

// chapterSteps begins a chapter with a spread, takes it out of its own, which ends
// when it was the only one, or writes a note on it.
func chapterSteps(r *rand.Rand, q sequence.Sequence, spread sequence.Spread) []sequence.Step {
	of := &sequence.Spread{ID: spread.ID}
	own, held := q.Chapter(spread.Chapter)
	switch {
	case r.IntN(2) == 0:
		return []sequence.Step{{Do: sequence.Note, Spread: of, WasText: spread.Note, NowText: fmt.Sprintf("why %d", r.IntN(1e6))}}
	case !held:
		id := q.LastChapter + 1
		return []sequence.Step{{Do: sequence.Name, Chapter: id, NowText: "Trieste"}, {Do: sequence.Join, Spread: of, NowChapter: id}}
	}
	return []sequence.Step{{Do: sequence.Join, Spread: of, WasChapter: own.ID}, {Do: sequence.Name, Chapter: own.ID, WasText: own.Name}}
}

func upTo(photos int) []sequence.PhotoID {
	all := make([]sequence.PhotoID, photos)
	for i := range all {
		all[i] = sequence.PhotoID(i + 1)
	}
	return all
}

func dataFile(dir string) string { return filepath.Join(dir, fileName) }
