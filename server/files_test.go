package server

import (
	"bytes"
	"fmt"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/server/gate"
	"pairwall/server/route"
	"pairwall/store"
)

func TestDroppedFilesAreKeptAsOriginalsAndBroughtIn(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	var job store.Bring
	files := map[string][]byte{"港の朝.jpg": jpegOf(t, 1), `..\..\evil.jpg`: jpegOf(t, 2), ".hidden.jpg": jpegOf(t, 3), "notes.txt": []byte("ferry\n")}
	if status := h.drop(at, files, &job); status != http.StatusAccepted {
		t.Fatalf("%d %+v", status, job)
	}
	done := h.await(at, job.ID)
	if done.State != store.Done || done.Read != 3 || !strings.Contains(done.Words, "one other file passed over") {
		t.Errorf("%+v", done)
	}
	folder := filepath.Join(h.data, "dropped", h.store.Now().Format("2006-01-02")+"-1")
	var names []string
	for _, photo := range h.state(at).Photos {
		if filepath.Dir(photo.Path) != folder {
			t.Errorf("%s lies elsewhere than in %s", photo.Path, folder)
		}
		names = append(names, photo.Name)
	}
	if !slices.Equal(names, []string{"_.._evil.jpg", "hidden.jpg", "港の朝.jpg"}) {
		t.Errorf("%q", names)
	}
	if status := h.drop(at, files, &job); status != http.StatusAccepted || !strings.HasSuffix(job.Sources[0], "-2") {
		t.Errorf("a second drop of the day: %d %+v", status, job)
	}
	if again := h.await(at, job.ID); again.Known != 3 {
		t.Errorf("%+v", again)
	}
}

func TestADropThatDoesNotArriveWholeLeavesNothing(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	var whole bytes.Buffer
	form := multipart.NewWriter(&whole)
	part, _ := form.CreateFormFile("files", "a.jpg")
	part.Write(jpegOf(t, 1))
	cut := whole.String() // never closed
	for name, c := range map[string]struct {
		media, body string
		status      int
		code        sequence.Code
	}{
		"cut off":      {form.FormDataContentType(), cut, 400, sequence.Invalid},
		"no file":      {form.FormDataContentType(), fmt.Sprintf("--%s--\r\n", form.Boundary()), 400, sequence.Invalid},
		"no multipart": {"application/json", `{}`, 415, route.WrongMedia},
	} {
		request, err := http.NewRequest(http.MethodPost, h.served.URL+at+"/files", strings.NewReader(c.body))
		if err != nil {
			t.Fatal(err)
		}
		request.Header.Set("Content-Type", c.media)
		request.Header.Set(gate.Window, "w")
		var is route.Problem
		if status := h.send(request, &is); status != c.status || is.Error.Code != c.code {
			t.Errorf("%s: %d %+v", name, status, is)
		}
	}
	if left, err := os.ReadDir(filepath.Join(h.data, "dropped")); err != nil || len(left) != 0 {
		t.Errorf("%v is left, %v", left, err)
	}
	if jobs := h.state(at).Brings; len(jobs) != 0 {
		t.Errorf("%+v", jobs)
	}
}
