package bringing

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
)

func TestNamesAreOrderedAsPeopleCount(t *testing.T) {
	want := []string{"a", "A1", "a02", "a2", "A10", "a10b", "b", "Foto 9", "foto 10", "foto 10a", "œuvre", "Ωmega", "日本 2", "日本 10",
		"99999999999999999999998", "99999999999999999999999"}
	slices.SortFunc(want, natural)
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, natural)
	if !slices.Equal(got, want) {
		t.Errorf("the order depends on where one starts: %q and %q", got, want)
	}
	for _, pair := range [][2]string{{"img2", "img10"}, {"IMG2", "img10"}, {"img002", "img10"}, {"a", "a1"}, {"roll 2/frame", "roll 10/frame"},
		{"99999999999999999999998", "99999999999999999999999"}, {"9", "a"}, {"日本 2", "日本 10"}, {"a02", "a2"}} {
		if natural(pair[0], pair[1]) >= 0 || natural(pair[1], pair[0]) <= 0 {
			t.Errorf("%q must come before %q", pair[0], pair[1])
		}
	}
	if natural("same", "same") != 0 {
		t.Error("a name is not equal to itself")
	}
}

func TestWalkFindsPicturesInOrderAndNothingElse(t *testing.T) {
	root, data := t.TempDir(), t.TempDir()
	picture := jpegOf(t, 1)
	for _, name := range []string{"img10.jpg", "img2.JPG", "roll/1.tif", "roll/sub/1.png", ".hidden.jpg", ".thumbs/1.jpg", "._img2.jpg", "scan"} {
		put(t, filepath.Join(root, name), picture)
	}
	put(t, filepath.Join(root, "notes.txt"), []byte("BMW and other cars\n"))
	put(t, filepath.Join(root, "img2.xml"), []byte("<x/>"))
	put(t, filepath.Join(root, "empty.jpg"), nil)
	put(t, filepath.Join(root, "phone.heic"), []byte("\x00\x00\x00\x18ftypheic"))
	put(t, filepath.Join(root, "clip.mp4"), []byte("\x00\x00\x00\x18ftypisom"))
	links := map[string]string{"roll/round": root, "self.jpg": "img2.JPG", "broken.jpg": "nowhere", "broken": "nowhere"}
	for name, target := range links {
		if err := os.Symlink(target, filepath.Join(root, name)); err != nil {
			t.Fatal(err)
		}
	}
	found, others, err := pictures(context.Background(), []string{root, filepath.Join(root, "roll")}, data)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range found {
		path, _ := filepath.Rel(root, c.path)
		got = append(got, path)
	}
	want := []string{"broken.jpg", "empty.jpg", "img2.JPG", "img10.jpg", "phone.heic", "scan", "self.jpg", "roll/1.tif", "roll/sub/1.png"}
	if !slices.Equal(got, want) {
		t.Errorf("found %q, want %q", got, want)
	}
	if others != 4 { // notes.txt, img2.xml, clip.mp4, broken
		t.Errorf("%d other files, want 4", others)
	}
}

func TestWalkLeavesOurOwnFilesAlone(t *testing.T) {
	root := t.TempDir()
	data := filepath.Join(root, "data")
	put(t, filepath.Join(data, "cards", "ab", "160.jpg"), jpegOf(t, 1))
	dropped := filepath.Join(data, "dropped", "2026-11-25-1")
	put(t, filepath.Join(dropped, "mine.jpg"), jpegOf(t, 2))
	put(t, filepath.Join(root, "theirs.jpg"), jpegOf(t, 3))
	if found, _, err := pictures(context.Background(), []string{root}, data); err != nil || len(found) != 1 || filepath.Base(found[0].path) != "theirs.jpg" {
		t.Errorf("found %v, %v; want theirs.jpg alone", found, err)
	}
	if found, _, err := pictures(context.Background(), []string{dropped}, data); err != nil || len(found) != 1 {
		t.Errorf("found %v, %v in what was dropped; want one", found, err)
	}
	for _, own := range []string{data, filepath.Join(data, "cards")} {
		if _, _, err := pictures(context.Background(), []string{own}, data); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v, want it refused", own, err)
		}
	}
}

func TestAVanishedFolderIsToldInPlainWords(t *testing.T) {
	gone := filepath.Join(t.TempDir(), "Adriatic")
	_, _, err := pictures(context.Background(), []string{gone}, t.TempDir())
	if sequence.CodeOf(err) != sequence.NotFound || !strings.Contains(err.Error(), "Adriatic is no longer there. If it lies on another disk, connect it") {
		t.Errorf("%v", err)
	}
}
