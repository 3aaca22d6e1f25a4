package server

import (
	"encoding/binary"
	"fmt"
	"net/http"
	"path/filepath"
	"testing"

	"pairwall/store"
)

// sketchedOf is a JPEG with a small picture of itself in EXIF's second directory,
// and a position in the small one that must not come out.
func sketchedOf(t *testing.T, seed int) []byte {
	t.Helper()
	small := jpegOf(t, seed+1)
	order := binary.BigEndian
	exif := []byte("Exif\x00\x00MM\x00*\x00\x00\x00\x08")
	exif = append(exif, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0) // orientation 6
	exif = order.AppendUint32(exif, 26)
	exif = append(exif, 0, 2)
	for _, e := range [][2]uint32{{0x0201, 56}, {0x0202, uint32(len(small))}} {
		exif = order.AppendUint16(exif, uint16(e[0]))
		exif = append(exif, 0, 4, 0, 0, 0, 1)
		exif = order.AppendUint32(exif, e[1])
	}
	exif = append(append(exif, 0, 0, 0, 0), small...)
	file := []byte{0xFF, 0xD8, 0xFF, 0xE1}
	file = order.AppendUint16(file, uint16(2+len(exif)))
	return append(append(file, exif...), jpegOf(t, seed)[2:]...)
}

func TestPhotographsOnTheirWayAreShownBeforeTheyAreRead(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Adriatic")
	folder := h.photographs(40)
	put(t, filepath.Join(folder, "a sketch.jpg"), sketchedOf(t, 90))
	put(t, filepath.Join(folder, "no picture.jpg"), []byte("no picture"))
	events, _ := h.listen(at, "")
	var job store.Bring
	h.want(http.StatusAccepted, "POST", at+"/brings", bringFrom{[]string{folder}}, &job)
	told := make(map[int]bool)
	for len(told) < 41 {
		var some arrivingEvent
		h.next(events, "arriving", &some)
		for _, a := range some.Photos {
			told[a.Place] = true
			want := a.Place == 1 // "a sketch.jpg" comes first
			if a.Sketch != want || some.Bring != job.ID || want != (a.Width == 64 && a.Height == 96) {
				t.Errorf("%+v", a)
			}
		}
	}
	preview := fmt.Sprintf("/previews/%d/%d/", title.ID, job.ID)
	if got := h.fetch(preview+"1.jpg", ""); got.status != http.StatusOK || got.header.Get("Content-Type") != "image/jpeg" {
		t.Errorf("%d %v", got.status, got.header)
	}
	for _, place := range []string{"2", "42", "-1", "x"} {
		if got := h.fetch(preview+place+".jpg", ""); got.status != http.StatusNotFound {
			t.Errorf("%s: %d", place, got.status)
		}
	}
	h.await(at, job.ID)
	for _, e := range h.state(at).Arriving {
		if len(e.Photos) > 0 {
			t.Errorf("all is in, and still on its way is %+v", e.Photos)
		}
	}
}

func TestLookingForOriginalsCanBeStopped(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	h.want(http.StatusAccepted, "DELETE", at+"/originals", nil, nil) // none under way: no harm
	folder := h.photographs(3)
	h.bringAll(at, folder)
	d := h.desk(1)
	done := d.takeTurn(t.Context()) // so that the search waits
	events, _ := h.listen(at, "")
	h.want(http.StatusAccepted, "POST", at+"/originals", lookIn{folder}, nil)
	h.want(http.StatusAccepted, "DELETE", at+"/originals", nil, nil)
	var last struct{ State string }
	for last.State != store.Cancelled {
		h.next(events, "originals", &last)
	}
	done()
	h.want(http.StatusAccepted, "POST", at+"/originals", lookIn{folder}, nil)
	for last.State != store.Done {
		h.next(events, "originals", &last)
	}
}
