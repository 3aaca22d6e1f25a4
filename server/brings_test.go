package server

import (
	"context"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/server/bringing"
	"pairwall/store"
)

func TestAFolderComesInNumberedAsItsFilesAreOrdered(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	folder := h.photographs(12)
	put(t, filepath.Join(folder, "frame 2 copy.jpg"), jpegOf(t, 2)) // the same picture under another name
	put(t, filepath.Join(folder, "frame 5b.jpg"), jpegOf(t, 5)[:700])
	put(t, filepath.Join(folder, "log.txt"), []byte("ferry at nine\n"))
	put(t, filepath.Join(folder, "notes.jpg"), []byte("no picture at all\n"))
	events, _ := h.listen(at, "")

	job := h.bringAll(at, folder)
	if job.State != store.Done || job.Found != 15 || job.Read+job.Known+job.Refused != 15 || job.Known != 1 || job.Ended == nil ||
		!strings.HasSuffix(job.Words, "one other file passed over.") {
		t.Errorf("%+v", job)
	}
	state := h.state(at)
	var names []string
	for i, photo := range state.Photos {
		if photo.Number != sequence.PhotoID(i+1) {
			t.Errorf("photo %d is numbered %d", i+1, photo.Number)
		}
		names = append(names, photo.Name)
	}
	// Two files are one picture, and the cut one may or may not be readable.
	rest := slices.DeleteFunc(slices.Clone(names), func(name string) bool { return strings.HasPrefix(name, "frame 2") || name == "frame 5b.jpg" })
	want := []string{"frame 1.jpg", "frame 3.jpg", "frame 4.jpg", "frame 5.jpg", "frame 6.jpg", "frame 7.jpg", "frame 8.jpg", "frame 9.jpg", "frame 10.jpg", "frame 11.jpg", "frame 12.jpg"}
	if !slices.Equal(rest, want) || len(names) != job.Read || names[1] != "frame 2.jpg" && names[1] != "frame 2 copy.jpg" {
		t.Errorf("%q", names)
	}
	refused := slices.ContainsFunc(state.Refusals, func(r store.Refusal) bool {
		return filepath.Base(r.Path) == "notes.jpg" && r.Code == sequence.Unsupported && r.Words != "" && !r.At.IsZero()
	})
	if !refused || len(state.Refusals) != job.Refused {
		t.Errorf("refusals %+v", state.Refusals)
	}
	for i := range job.Read {
		var heardOf photoEvent
		h.next(events, "photo", &heardOf)
		if heardOf.Photo.Number != sequence.PhotoID(i+1) {
			t.Errorf("photo %d was told of as the %d.", heardOf.Photo.Number, i+1)
		}
	}
	for {
		var last bringEvent
		if h.next(events, "bring", &last); last.Bring.State == store.Done {
			if last.Bring.Read != job.Read {
				t.Errorf("%+v", last)
			}
			break
		}
	}

	again := h.bringAll(at, folder)
	if again.Read != 0 || again.Known != job.Read+job.Known || again.Refused != job.Refused {
		t.Errorf("brought in again: %+v", again)
	}
	if err := os.Remove(filepath.Join(folder, "notes.jpg")); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(folder, "notes.jpg"), jpegOf(t, 50))
	if mended := h.bringAll(at, folder); mended.Read != 1 {
		t.Errorf("%+v", mended)
	}
	if left := h.state(at).Refusals; slices.ContainsFunc(left, func(r store.Refusal) bool { return filepath.Base(r.Path) == "notes.jpg" }) {
		t.Errorf("a file that could be read at last is still refused: %+v", left)
	}
}

func TestWhatWasNamedWronglyIsNotBroughtIn(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	gone := filepath.Join(t.TempDir(), "gone")
	for _, c := range []struct {
		folders []string
		status  int
		code    sequence.Code
	}{
		{[]string{}, 400, sequence.Invalid}, {[]string{"photos"}, 400, sequence.Invalid}, {[]string{"../.."}, 400, sequence.Invalid},
		{[]string{gone}, 404, sequence.NotFound}, {[]string{h.data}, 400, sequence.Invalid}, {[]string{filepath.Join(h.data, "cards", "..")}, 400, sequence.Invalid},
	} {
		h.refused(c.status, c.code, "POST", at+"/brings", bringFrom{c.folders})
	}
	if jobs := h.state(at).Brings; len(jobs) != 0 {
		t.Errorf("%+v", jobs)
	}
}

func TestAStoppedBringKeepsWhatCameInAndGoesOnLater(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	const all = 150
	events, _ := h.listen(at, "")
	var job store.Bring
	h.want(http.StatusAccepted, "POST", at+"/brings", bringFrom{[]string{h.photographs(all)}}, &job)
	h.next(events, "photo", nil)
	where := fmt.Sprintf("%s/brings/%d", at, job.ID)
	h.refused(409, sequence.Conflict, "POST", where+"/go-on", nil)
	h.want(http.StatusAccepted, "DELETE", where, nil, nil)
	stopped := h.await(at, job.ID)
	state := h.state(at)
	if stopped.State != store.Cancelled || stopped.Read == 0 || stopped.Read >= all || len(state.Photos) != stopped.Read {
		t.Fatalf("%+v with %d photos", stopped, len(state.Photos))
	}
	h.want(http.StatusAccepted, "DELETE", where, nil, nil) // once more does no harm
	job = store.Bring{}
	h.want(http.StatusAccepted, "POST", where+"/go-on", nil, &job)
	if job.State != store.Running || job.ID != stopped.ID || job.Ended != nil {
		t.Errorf("%+v", job)
	}
	done := h.await(at, job.ID)
	if done.State != store.Done || done.Known != stopped.Read || done.Read != all-stopped.Read || len(h.state(at).Photos) != all {
		t.Errorf("%+v after %+v", done, stopped)
	}
	h.refused(404, sequence.NotFound, "POST", at+"/brings/99/go-on", nil)
	_, other := h.newTitle("Another")
	h.refused(404, sequence.NotFound, "DELETE", fmt.Sprintf("%s/brings/%d", other, job.ID), nil)
}

func TestBringsOfOneTitleRunOneAfterTheOther(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	first, second := h.photographs(20), t.TempDir()
	for i := 100; i < 110; i++ {
		put(t, filepath.Join(second, fmt.Sprintf("%d.jpg", i)), jpegOf(t, i))
	}
	var jobs [2]store.Bring
	h.want(http.StatusAccepted, "POST", at+"/brings", bringFrom{[]string{first}}, &jobs[0])
	h.want(http.StatusAccepted, "POST", at+"/brings", bringFrom{[]string{second}}, &jobs[1])
	h.await(at, jobs[0].ID)
	h.await(at, jobs[1].ID)
	var folders []string
	for _, photo := range h.state(at).Photos {
		folders = append(folders, filepath.Dir(photo.Path))
	}
	if changes := len(slices.Compact(slices.Clone(folders))); changes != 2 {
		t.Errorf("the numbers of two brings are mixed: %d runs", changes)
	}
}

func TestClosingBreaksABringOffAndItGoesOnAfterTheNextStart(t *testing.T) {
	data := t.TempDir()
	const all = 200
	folder := (&house{t: t}).photographs(all)
	var id int64
	var at string
	t.Run("the first run", func(t *testing.T) {
		h := openHouse(t, data)
		_, at = h.newTitle("Adriatic")
		events, _ := h.listen(at, "")
		var job store.Bring
		h.want(http.StatusAccepted, "POST", at+"/brings", bringFrom{[]string{folder}}, &job)
		id = job.ID
		h.next(events, "photo", nil)
		if err := h.Close(); err != nil {
			t.Fatal(err)
		}
		kept, err := h.store.Bring(context.Background(), id)
		if err != nil || kept.State != store.BrokenOff || kept.Read == 0 || kept.Read >= all {
			t.Errorf("%+v, %v", kept, err)
		}
	})
	h := openHouse(t, data)
	h.want(http.StatusAccepted, "POST", fmt.Sprintf("%s/brings/%d/go-on", at, id), nil, nil)
	if job := h.await(at, id); job.State != store.Done || len(h.state(at).Photos) != all {
		t.Errorf("%+v", job)
	}
}

// The photographs lie beside the checkout, and each folder's README says what
// is odd about them.
func TestRealFoldersComeInWhateverLiesInThem(t *testing.T) {
	photos := os.Getenv("PAIRWALL_PHOTOS")
	if photos == "" {
		photos = filepath.Join("..", "..", "shared", "photos")
	}
	h := newHouse(t)
	title, at := h.newTitle("Real")
	var sources []string
	for _, name := range []string{"rome-2024", "damaged", "heic", "edge", "scans", "gpx"} {
		sources = append(sources, filepath.Join(photos, name))
	}
	job, err := h.store.StartBring(t.Context(), title.ID, sources)
	if err != nil {
		t.Fatal(err)
	}
	summary, err := bringing.Run(t.Context(), h.store, h.pool, h.data, job, nil)
	if err != nil || summary.Bring.State != store.Done || summary.Bring.Read < 19 || summary.Bring.Read+summary.Bring.Known+summary.Bring.Refused != summary.Bring.Found {
		t.Errorf("%+v, %v", summary.Bring, err)
	}
	for _, r := range summary.Refused {
		if r.Code == sequence.Internal || r.Words == "" || r.Hint == "" {
			t.Errorf("%+v, want words and a way out", r)
		}
	}
	state := h.state(at) // held against the description with all a real photo says of itself
	placed := 0
	for _, photo := range state.Photos {
		if strings.Contains(photo.Path, "rome-2024") && photo.Where != nil {
			placed++
		}
	}
	if placed != 16 { // the folder's README
		t.Errorf("%d of Rome's photographs have a place, want 16", placed)
	}
	if len(state.Refusals) != summary.Bring.Refused {
		t.Errorf("%d refusals kept of %d", len(state.Refusals), summary.Bring.Refused)
	}
}
