package server

import (
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/server/bringing"
	"pairwall/server/route"
)

func TestFoldersAreListedWithThePicturesInThem(t *testing.T) {
	h := newHouse(t)
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(home, "config"))
	put(t, filepath.Join(home, "config", "user-dirs.dirs"), []byte("# of the desktop\nXDG_PICTURES_DIR=\"$HOME/Bilder\"\n"))
	for _, name := range []string{"Bilder/a.jpg", "Bilder/b.TIFF", "Bilder/c.heic", "Bilder/notes.txt", "Bilder/.hidden.jpg", "Bilder/roll 10/1.jpg",
		"Bilder/roll 2/1.jpg", "Bilder/roll 2/2.png", "Bilder/.cache/1.jpg", "Bilder/empty/x.txt"} {
		put(t, filepath.Join(home, name), []byte("x"))
	}
	var at bringing.FolderListing
	h.want(200, "GET", "/api/folders", nil, &at)
	if at.Path != home || at.Parent != filepath.Dir(home) || at.Pictures != 0 || len(at.Folders) != 2 {
		t.Errorf("%+v", at)
	}
	if len(at.Starts) < 2 || at.Starts[0] != (bringing.NamedFolder{Name: "Home", Path: home}) || at.Starts[1] != (bringing.NamedFolder{Name: "Pictures", Path: filepath.Join(home, "Bilder")}) {
		t.Errorf("starts %+v", at.Starts)
	}
	h.want(200, "GET", "/api/folders?path="+url.QueryEscape(home+"/Bilder/../Bilder/"), nil, &at)
	var got []string
	for _, f := range at.Folders {
		got = append(got, f.Name)
		if f.Path != filepath.Join(home, "Bilder", f.Name) {
			t.Errorf("%+v", f)
		}
	}
	if !slices.Equal(got, []string{"empty", "roll 2", "roll 10"}) || at.Folders[1].Pictures != 2 || at.Folders[0].Pictures != 0 || at.Pictures != 3 {
		t.Errorf("%+v", at)
	}
	h.want(200, "GET", "/api/folders?path=/", nil, &at)
	if at.Parent != "" {
		t.Errorf("above the top lies %q", at.Parent)
	}
}

func TestAFolderThatCannotBeListedSaysWhy(t *testing.T) {
	h := newHouse(t)
	file := put(t, filepath.Join(t.TempDir(), "file.jpg"), []byte("x"))
	h.refused(404, sequence.NotFound, "GET", "/api/folders?path="+url.QueryEscape(file+"-gone"), nil)
	h.refused(400, sequence.Invalid, "GET", "/api/folders?path="+url.QueryEscape(file), nil)
	h.refused(400, sequence.Invalid, "GET", "/api/folders?path=relative", nil)
	h.refused(404, sequence.NotFound, "GET", "/api/folders?path="+url.QueryEscape(file+"/below"), nil)
	h.refused(404, sequence.NotFound, "GET", "/api/folders?path=/"+strings.Repeat("x", 5000), nil)
	h.refused(404, sequence.NotFound, "GET", "/api/folders?path=/%00", nil)
	h.refused(400, sequence.Invalid, "GET", "/api/folders?path=/&path=/tmp", nil)
	if status, body := route.Render(bringing.Unreadable("the folder x", &os.PathError{Op: "open", Path: "x", Err: os.ErrPermission})); status != 503 || !strings.Contains(body.Error.Message, "does not let us read") {
		t.Errorf("%d %+v", status, body)
	}
}
