package bringing

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/store"
)

func (b bench) bring(t *testing.T, folder string) store.Bring {
	t.Helper()
	job, err := b.store.StartBring(t.Context(), b.title, []string{folder})
	if err != nil {
		t.Fatal(err)
	}
	summary, err := Run(t.Context(), b.store, b.pool, b.data, job, nil)
	if err != nil {
		t.Fatal(err)
	}
	return summary.Bring
}

func (b bench) photos(t *testing.T) []sequence.Photo {
	t.Helper()
	photos, err := b.store.Photos(t.Context(), b.title)
	if err != nil {
		t.Fatal(err)
	}
	return photos
}

func move(t *testing.T, from, to string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(from, to); err != nil {
		t.Fatal(err)
	}
}

func lostOnes(lost []Lost) (numbers []sequence.PhotoID) {
	for _, l := range lost {
		numbers = append(numbers, l.Photo)
	}
	return numbers
}

func TestMissingAndChangedOriginalsAreSeen(t *testing.T) {
	b := newBench(t)
	folder := photographs(t, 5)
	b.bring(t, folder)
	photos := b.photos(t)
	if look := Look(t.Context(), photos); len(look.Missing)+len(look.Changed) != 0 {
		t.Fatalf("%+v", look)
	}
	move(t, photos[1].Path, filepath.Join(t.TempDir(), "x.jpg"))
	put(t, photos[2].Path, jpegOf(t, 77))
	if err := os.Chtimes(photos[4].Path, time.Time{}, time.Now().Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	look := Look(t.Context(), photos)
	if !slices.Equal(lostOnes(look.Missing), []sequence.PhotoID{2}) || !slices.Equal(lostOnes(look.Changed), []sequence.PhotoID{3, 5}) || look.Missing[0].Path != photos[1].Path {
		t.Errorf("%+v", look)
	}
	over, cancel := context.WithCancel(t.Context())
	cancel()
	if look = Look(over, photos); len(look.Missing) > 1 {
		t.Errorf("%+v", look)
	}
}

func TestLostOriginalsAreFoundByContentWhereTheMakerPoints(t *testing.T) {
	b := newBench(t)
	folder := photographs(t, 6)
	b.bring(t, folder)
	before := b.photos(t)
	elsewhere := t.TempDir()
	names := map[sequence.PhotoID]string{1: "sub/frame 1.jpg", 2: "renamed.jpg", 3: "sub/deeper/no ending"}
	for n, name := range names {
		move(t, before[n-1].Path, filepath.Join(elsewhere, name))
	}
	put(t, filepath.Join(elsewhere, "copy of four.jpg"), jpegOf(t, 4)) // its original is where it was
	put(t, filepath.Join(elsewhere, "stranger.jpg"), jpegOf(t, 99))
	put(t, before[4].Path, jpegOf(t, 55)) // another picture lies there now
	if err := os.Chtimes(before[5].Path, time.Time{}, time.Now().Add(time.Hour)); err != nil {
		t.Fatal(err)
	}

	var told []Search
	var heard []sequence.PhotoID
	search, err := Find(t.Context(), b.store, b.data, b.title, elsewhere, func(s Search, p *sequence.Photo) {
		if p == nil { // how far it is
			if s.Files == 0 || s.Looked > s.Files || s.State != store.Running {
				t.Errorf("%+v", s)
			}
			return
		}
		told = append(told, s)
		heard = append(heard, p.Number)
	})
	if err != nil || search.Found != 4 || search.Missing != 1 || search.State != store.Done || search.Words != "Four originals found, one still to find." {
		t.Fatalf("%+v, %v", search, err)
	}
	if len(told) != 4 || told[3].Found != 4 || told[0].State != store.Running {
		t.Errorf("%+v", told)
	}
	slices.Sort(heard)
	if !slices.Equal(heard, []sequence.PhotoID{1, 2, 3, 6}) {
		t.Errorf("heard of %v", heard)
	}
	after := b.photos(t)
	for n, name := range names {
		if got := after[n-1]; got.Path != filepath.Join(elsewhere, name) || got.Name != filepath.Base(name) || got.Hash != before[n-1].Hash {
			t.Errorf("photo %d: %s", n, got.Path)
		}
	}
	if after[3].Path != before[3].Path || after[4].Path != before[4].Path || after[5].Path != before[5].Path {
		t.Error("an original that was not lost was taken for lost")
	}
	if look := Look(t.Context(), after); !slices.Equal(lostOnes(look.Changed), []sequence.PhotoID{5}) || len(look.Missing) != 0 {
		t.Errorf("%+v", look)
	}
	if job := b.bring(t, elsewhere); job.Known != 4 || job.Read != 1 {
		t.Errorf("%+v", job)
	}
}

func TestFindingSaysWhatStopsIt(t *testing.T) {
	b := newBench(t)
	folder := photographs(t, 2)
	b.bring(t, folder)
	find := func(ctx context.Context, folder string) (Search, error) {
		return Find(ctx, b.store, b.data, b.title, folder, nil)
	}
	if s, err := find(t.Context(), folder); err != nil || s.Words != "Every original is where it was." || s.State != store.Done {
		t.Errorf("%+v, %v", s, err)
	}
	move(t, folder, folder+"-away")
	if s, err := find(t.Context(), folder); sequence.CodeOf(err) != sequence.NotFound || s.State != store.Failed || !strings.Contains(s.Words, "no longer there") || s.Missing != 2 {
		t.Errorf("%+v, %v", s, err)
	}
	if s, err := find(t.Context(), b.data); sequence.CodeOf(err) != sequence.Invalid || s.State != store.Failed {
		t.Errorf("%+v, %v", s, err)
	}
	over, cancel := context.WithCancel(t.Context())
	cancel()
	if s, err := find(over, folder+"-away"); err == nil || s.Found != 0 {
		t.Errorf("%+v, %v", s, err)
	}
	if s, err := find(t.Context(), folder+"-away"); err != nil || s.Words != "Two originals found; none is missing any more." {
		t.Errorf("%+v, %v", s, err)
	}
}

func TestAMovedFolderBroughtInAgainIsTheOriginalsNewPlace(t *testing.T) {
	b := newBench(t)
	folder := photographs(t, 4)
	b.bring(t, folder)
	before := b.photos(t)
	put(t, filepath.Join(folder+"-copies", "a copy.jpg"), jpegOf(t, 1))
	if job := b.bring(t, folder+"-copies"); job.Known != 1 || b.photos(t)[0].Path != before[0].Path {
		t.Errorf("a copy became the original: %+v", job)
	}
	move(t, folder, folder+"-moved")
	put(t, filepath.Join(folder+"-moved", "frame 1 again.jpg"), jpegOf(t, 1)) // the first of two copies counts
	job, err := b.store.StartBring(t.Context(), b.title, []string{folder + "-moved"})
	if err != nil {
		t.Fatal(err)
	}
	var moved []sequence.PhotoID
	summary, err := Run(t.Context(), b.store, b.pool, b.data, job, func(p Progress, added *sequence.Photo) {
		if p.Moved != nil {
			moved = append(moved, p.Moved.Number)
		}
		if added != nil {
			t.Errorf("%s came in again", added.Name)
		}
	})
	if err != nil || summary.Bring.Words != "No photos brought in, five known already, four originals found at a new place." || !slices.Equal(moved, []sequence.PhotoID{1, 2, 3, 4}) {
		t.Errorf("%+v, %v, %v", summary.Bring, moved, err)
	}
	for i, p := range b.photos(t) {
		if filepath.Dir(p.Path) != folder+"-moved" || p.Number != before[i].Number {
			t.Errorf("photo %d lies at %s", p.Number, p.Path)
		}
	}
	if look := Look(t.Context(), b.photos(t)); len(look.Missing)+len(look.Changed) != 0 {
		t.Errorf("%+v", look)
	}
}

func TestAPhotoIsMeasuredAgainFromItsOriginalOrItsCard(t *testing.T) {
	b := newBench(t)
	folder := photographs(t, 3)
	b.bring(t, folder)
	before := b.photos(t)
	for _, p := range before {
		p.Palette, p.Tone, p.Form = nil, colour.Tone{}, sequence.Form{}
		p.Caption = "kept"
		if err := b.store.UpdateMeasures(t.Context(), b.title, p); err != nil {
			t.Fatal(err)
		}
	}
	gone := before[1].Path
	move(t, gone, gone+".away")
	put(t, before[2].Path, jpegOf(t, 88))
	for i, p := range b.photos(t) {
		measured, ok, err := Measure(t.Context(), b.store, b.pool, b.data, b.title, p)
		if err != nil || !ok || len(measured.Palette) == 0 || measured.Path != before[i].Path || measured.Hash != before[i].Hash {
			t.Fatalf("photo %d: %+v, %v, %v", p.Number, measured, ok, err)
		}
		// A card of so small a picture is another JPEG of few pixels; other pictures are farther.
		own := colour.Distance(measured.Palette, before[i].Palette)
		for _, other := range before {
			if far := colour.Distance(measured.Palette, other.Palette); other.Number != p.Number && far <= own {
				t.Errorf("photo %d: the palette lies %.1f from what it was and %.1f from photo %d's", p.Number, own, far, other.Number)
			}
		}
		if i == 0 && own != 0 {
			t.Errorf("measured from its original, a photo has become %.1f different", own)
		}
	}
	if err := os.RemoveAll(filepath.Join(CardsIn(b.data), before[1].Hash)); err != nil {
		t.Fatal(err)
	}
	if _, ok, err := Measure(t.Context(), b.store, b.pool, b.data, b.title, before[1]); ok || err != nil {
		t.Errorf("with neither original nor card: %v, %v", ok, err)
	}
	over, cancel := context.WithCancel(t.Context())
	cancel()
	if _, ok, err := Measure(over, b.store, b.pool, b.data, b.title, before[0]); ok || err == nil {
		t.Errorf("after the end: %v, %v", ok, err)
	}
}
