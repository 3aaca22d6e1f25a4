package server

import (
	"io/fs"
	"net/http"
	"path"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"pairwall/web"
)

func built(h *house) {
	h.files = fstest.MapFS{
		"index.html": {Data: []byte(`<script type="module" src="/static/__BUILD__/app.js"></script><link rel="stylesheet" href="/static/__BUILD__/app.css">`)},
		"app.js":     {Data: []byte("export {}")}, "app.css": {Data: []byte("body{}")}, "fonts/a.woff2": {Data: []byte("wOF2")}, ".gitkeep": {}, "odd.exe": {Data: []byte("MZ")}}
	h.hash = web.HashOf(h.files)
}

func TestThePageRefersToItsOwnBuildAndIsNeverKept(t *testing.T) {
	h := newHouse(t)
	built(h)
	page := h.fetch("/", "")
	if page.status != http.StatusOK || page.header.Get("Cache-Control") != "no-store" || page.header.Get("Content-Type") != "text/html; charset=utf-8" ||
		strings.Contains(string(page.body), buildMark) || strings.Count(string(page.body), "/static/"+h.hash+"/app.") != 2 {
		t.Errorf("%d %v %s", page.status, page.header, page.body)
	}
}

func TestFilesOfThePageAreKeptForEverUnderTheirHash(t *testing.T) {
	h := newHouse(t)
	built(h)
	for name, media := range map[string]string{"app.js": "text/javascript; charset=utf-8", "app.css": "text/css; charset=utf-8", "fonts/a.woff2": "font/woff2"} {
		file := h.fetch("/static/"+h.hash+"/"+name, "")
		want, _ := fs.ReadFile(h.files, name)
		if file.status != http.StatusOK || file.header.Get("Cache-Control") != "public, max-age=31536000, immutable" || file.header.Get("Content-Type") != media || string(file.body) != string(want) {
			t.Errorf("%s: %d %v", name, file.status, file.header)
		}
	}
	for _, path := range []string{"/static/" + h.hash + "/none.js", "/static/0123456789abcdef/app.js", "/static/" + h.hash + "/", "/static/" + h.hash + "/fonts", "/static/" + h.hash + "/odd.exe",
		"/static/" + h.hash + "/../app.js", "/static/" + h.hash + "/fonts/../app.js", "/static/" + h.hash + "/%2e%2e/%2e%2e/server.go", "/static/" + h.hash + "/..%2f..%2fetc%2fpasswd.txt", "/static/" + h.hash + "/.gitkeep"} {
		if got := h.fetch(path, ""); got.status != http.StatusNotFound || got.header.Get("Cache-Control") != "no-store" {
			t.Errorf("%s: %d %s", path, got.status, got.body)
		}
	}
}

func TestTheHashOfABuildIsThatOfItsNamesAndContents(t *testing.T) {
	hash := web.HashOf(fstest.MapFS{"a": {Data: []byte("12")}, "b": {Data: []byte("3")}})
	for _, other := range []fstest.MapFS{{"a": {Data: []byte("1")}, "b": {Data: []byte("23")}}, {"a": {Data: []byte("12")}, "c": {Data: []byte("3")}}, {"a": {Data: []byte("12")}}} {
		if web.HashOf(other) == hash {
			t.Errorf("%v hashes like another build", other)
		}
	}
	if len(hash) != 16 || hash != web.HashOf(fstest.MapFS{"b": {Data: []byte("3")}, "a": {Data: []byte("12")}}) {
		t.Errorf("%q", hash)
	}
}

func TestTheBuiltPageNeedsNothingThePolicyForbids(t *testing.T) {
	index, err := fs.ReadFile(web.Files, "index.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, address := range regexp.MustCompile(`(?:src|href)="([^"]*)"`).FindAllSubmatch(index, -1) {
		name, ours := strings.CutPrefix(string(address[1]), "/static/"+buildMark+"/")
		if _, err := fs.Stat(web.Files, name); !ours || err != nil || mediaTypes[path.Ext(name)] == "" {
			t.Errorf("the page refers to %s, which we do not send: %v", address[1], err)
		}
	}
	if !strings.Contains(string(index), "/static/"+buildMark+"/app.js") {
		t.Error("the page starts no script")
	}
	if inline := regexp.MustCompile(`<style|<script[^>]*>[^<]|\sstyle=|\son[a-z]+=`).Find(index); inline != nil {
		t.Errorf("the page has something inline, which the policy forbids: %s", inline)
	}
}

func TestTheDescriptionIsServedAsItIsCommitted(t *testing.T) {
	h := newHouse(t)
	if got := h.fetch("/api", ""); got.status != http.StatusOK || string(got.body) != string(description) {
		t.Errorf("%d with %d bytes", got.status, len(got.body))
	}
}
