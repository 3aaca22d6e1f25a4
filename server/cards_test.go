package server

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/intake"
)

// fetched is an answer that is no JSON.
type fetched struct {
	status int
	header http.Header
	body   []byte
}

func (h *house) fetch(path, tag string) fetched {
	h.t.Helper()
	request, err := http.NewRequest(http.MethodGet, h.served.URL+path, nil)
	if err != nil {
		h.t.Fatal(err)
	}
	if tag != "" {
		request.Header.Set("If-None-Match", tag)
	}
	response, err := h.client.Do(request)
	if err != nil {
		h.t.Fatal(err)
	}
	defer response.Body.Close()
	body, err := io.ReadAll(response.Body)
	if err != nil {
		h.t.Fatal(err)
	}
	return fetched{response.StatusCode, response.Header, body}
}

func TestCardsAreKeptByTheBrowserButAskedForEachTime(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	h.bringAll(at, h.photographs(2))
	tags := make(map[string]bool)
	for photo := 1; photo <= 2; photo++ {
		for _, size := range intake.CardSizes {
			path := fmt.Sprintf("/cards/%d/%d/%d.jpg", title.ID, photo, size)
			card := h.fetch(path, "")
			img, err := jpeg.Decode(bytes.NewReader(card.body))
			if card.status != http.StatusOK || err != nil || img.Bounds().Dx() > size {
				t.Fatalf("%s: %d, %v", path, card.status, err)
			}
			tag := card.header.Get("ETag")
			if card.header.Get("Cache-Control") != "private, no-cache" || card.header.Get("Content-Type") != "image/jpeg" || tags[tag] || !strings.HasPrefix(tag, `"`) {
				t.Errorf("%s: %v", path, card.header)
			}
			tags[tag] = true
			if card = h.fetch(path, tag); card.status != http.StatusNotModified || len(card.body) != 0 {
				t.Errorf("%s, asked again: %d with %d bytes", path, card.status, len(card.body))
			}
		}
	}
}

func TestOnlyCardsOfTheTitleAreSent(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	h.newTitle("Another")
	h.bringAll(at, h.photographs(1))
	put(t, filepath.Join(h.data, "cards", "160.jpg"), []byte("not to be had"))
	put(t, filepath.Join(h.data, "secret.jpg"), []byte("not to be had"))
	for _, path := range []string{"/cards/1/2/160.jpg", "/cards/2/1/160.jpg", "/cards/3/1/160.jpg", "/cards/1/1/161.jpg", "/cards/1/1/0.jpg", "/cards/1/1/-160.jpg",
		"/cards/1/1/160.png", "/cards/1/1/160", "/cards/1/../../secret.jpg", "/cards/1/..%2f..%2fsecret/160.jpg", "/cards/1/%2e%2e/160.jpg",
		"/cards/1/1/..%2f..%2f..%2fsecret.jpg", "/cards//1/160.jpg", "/cards/1/1/160.jpg/", "/cards/1/1/160.jpg%00", "/cards/1/0x1/160.jpg", "/cards/1/1.0/160.jpg"} {
		if got := h.fetch(path, ""); got.status != http.StatusNotFound || bytes.Contains(got.body, []byte("not to be had")) {
			t.Errorf("%s: %d %s", path, got.status, got.body)
		}
	}
	if card := h.fetch(fmt.Sprintf("/cards/%d/1/160.jpg", title.ID), ""); card.status != http.StatusOK {
		t.Error("the one card there is was not sent")
	}
}

func TestCardsThatWereThrownAwayAreMadeAgain(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	folder := h.photographs(1)
	h.bringAll(at, folder)
	path := fmt.Sprintf("/cards/%d/1/400.jpg", title.ID)
	before := h.fetch(path, "").body
	if err := os.RemoveAll(filepath.Join(h.data, "cards")); err != nil {
		t.Fatal(err)
	}
	var windows sync.WaitGroup
	for range 8 {
		windows.Go(func() {
			if after := h.fetch(path, ""); after.status != http.StatusOK || !bytes.Equal(before, after.body) {
				t.Errorf("%d: %d bytes, want the same %d as before", after.status, len(after.body), len(before))
			}
		})
	}
	windows.Wait()

	original := filepath.Join(folder, "frame 1.jpg")
	for name, c := range map[string]struct {
		now   []byte
		words string
	}{"gone": {nil, "is no longer where it was"}, "another picture": {jpegOf(t, 9), "has become another picture"}} {
		if err := os.RemoveAll(filepath.Join(h.data, "cards")); err != nil {
			t.Fatal(err)
		}
		if err := os.RemoveAll(original); err != nil {
			t.Fatal(err)
		}
		if c.now != nil {
			put(t, original, c.now)
		}
		is := h.refused(http.StatusNotFound, sequence.NotFound, "GET", path, nil)
		if !strings.Contains(is.Error.Message, c.words) || is.Error.Hint == "" {
			t.Errorf("%s: %+v", name, is)
		}
	}
}
