package server

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"net/http"
	"strconv"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
	"pairwall/store"
)

// pixelsPerMm is how large paper walls are drawn: codes of 90 pixels.
const pixelsPerMm = 10

// paperWall is a photograph, taken straight on, of prints of 3 : 2 with a longer
// side of 30 mm: a 0 leaves the room between two spreads.
func paperWall(t *testing.T, tag code.Tag, rows ...[]sequence.PhotoID) []byte {
	t.Helper()
	style := pages.FirstPrintStyle
	style.Long = 30
	print := style.Print(pages.Proportion{Photo: 1, Width: 96, Height: 64})
	img := image.NewGray(image.Rect(0, 0, 2400, 100+600*len(rows)))
	draw.Draw(img, img.Rect, image.NewUniform(color.Gray{Y: 150}), image.Point{}, draw.Src)
	for r, row := range rows {
		x := 60
		for _, number := range row {
			if number == 0 {
				x += 25 * pixelsPerMm
				continue
			}
			drawPrint(t, img, image.Pt(x, 60+600*r), print, tag, number)
			x += int(print.Cut.Width.Mm()*pixelsPerMm) + 5*pixelsPerMm
		}
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, img, &jpeg.Options{Quality: 85}); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

func drawPrint(t *testing.T, img *image.Gray, at image.Point, print pages.Print, tag code.Tag, number sequence.PhotoID) {
	t.Helper()
	made, err := code.Of(tag, number)
	if err != nil {
		t.Fatal(err)
	}
	fill := func(r pages.Rect, level uint8) {
		px := func(l pages.Length) int { return int(l.Mm()*pixelsPerMm + 0.5) }
		draw.Draw(img, image.Rect(px(r.X), px(r.Y), px(r.Right()), px(r.Bottom())).Add(at), image.NewUniform(color.Gray{Y: level}), image.Point{}, draw.Src)
	}
	fill(print.Cut, 240)
	fill(print.Picture, uint8(60+number*20))
	module := print.Code.Width / code.Side
	for y, row := range made.Modules() {
		for x, dark := range row {
			if dark {
				fill(pages.Rect{X: print.Code.X + pages.Length(x)*module, Y: print.Code.Y + pages.Length(y)*module, Size: pages.Size{Width: module, Height: module}}, 20)
			}
		}
	}
}

// readThrough sends photographs of a wall and waits until they are read.
func (h *house) readThrough(at string, files map[string][]byte) (string, wallReading) {
	h.t.Helper()
	var begun wallReading
	if status := h.upload(at+"/readings?long=30", files, &begun); status != http.StatusAccepted {
		h.t.Fatalf("%d", status)
	}
	one := at + "/readings/" + strconv.FormatInt(begun.ID, 10)
	for deadline := time.Now().Add(time.Minute); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) {
		var now wallReading
		if h.want(http.StatusOK, "GET", one, nil, &now); now.State != store.Running {
			return one, now
		}
	}
	h.t.Fatal("the wall was not read within a minute")
	return "", wallReading{}
}

func TestPhotographsOfThePaperWallAreReadAndForgotten(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Eleven days")
	h.bringAll(at, h.photographs(8))
	tag := code.TagOf(title)
	strange := tag ^ 1
	one, read := h.readThrough(at, map[string][]byte{
		"a wall.jpg":   paperWall(t, tag, []sequence.PhotoID{5, 0, 2, 7, 0, 1}, []sequence.PhotoID{4, 3, 0, 8}),
		"b notes.jpg":  []byte("\xff\xd8\xff\xe0 no picture"),
		"c theirs.jpg": paperWall(t, strange, []sequence.PhotoID{6}),
	})
	if read.State != store.Done || read.Done != 1 || len(read.Shots) != 3 {
		t.Fatalf("%+v", read)
	}
	if got, want := read.Hanging.String(), "5 / 2+7 / 1+ / 4+3 / 8"; got != want {
		t.Errorf("read %q, not %q", got, want)
	}
	shown := make(map[string]wallShot)
	for i, s := range read.Shots {
		shown[s.Name] = s
		want := http.StatusOK
		if s.Error != "" {
			want = http.StatusNotFound
		}
		if status := h.call("GET", fmt.Sprintf("/shots/%d/%d/%d.jpg", title.ID, read.ID, i+1), nil, nil); status != want {
			t.Errorf("%s: its picture is answered with %d", s.Name, status)
		}
	}
	if wall := shown["a wall.jpg"]; len(wall.Codes) != 7 || wall.Width != 2400 || len(wall.Others) != 0 {
		t.Errorf("%+v", wall)
	}
	if notes := shown["b notes.jpg"]; notes.Error == "" || notes.Hint == "" {
		t.Errorf("%+v", notes)
	}
	if theirs := shown["c theirs.jpg"]; len(theirs.Codes) != 0 || len(theirs.Others) != 1 || theirs.Others[0].Number != 6 {
		t.Errorf("%+v", theirs)
	}
	if photos := h.state(at).Photos; len(photos) != 8 {
		t.Errorf("the title has %d photos now", len(photos))
	}
	h.want(http.StatusOK, "DELETE", one, nil, nil)
	h.refused(http.StatusNotFound, sequence.NotFound, "GET", one, nil)
}

func TestReadingPhotographsOfTheWallCanBeStopped(t *testing.T) {
	h := newHouse(t)
	title, at := h.newTitle("Eleven days")
	h.bringAll(at, h.photographs(2))
	picture := paperWall(t, code.TagOf(title), []sequence.PhotoID{1, 2})
	files := make(map[string][]byte)
	for i := range 12 {
		files[strconv.Itoa(i)+".jpg"] = picture
	}
	var begun wallReading
	if status := h.upload(at+"/readings", files, &begun); status != http.StatusAccepted || begun.State != store.Running {
		t.Fatalf("%d, %+v", status, begun)
	}
	run := h.desk(title.ID).readings[0]
	h.want(http.StatusOK, "DELETE", at+"/readings/"+strconv.FormatInt(begun.ID, 10), nil, nil)
	for deadline := time.Now().Add(30 * time.Second); h.desk(title.ID).readingNow(run).State == store.Running; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatal("it goes on reading")
		}
	}
	if state := h.desk(title.ID).readingNow(run).State; state != store.Cancelled {
		t.Errorf("it ended as %s", state)
	}
}

func TestAWallTypedAsOneReadsItOffIsOneActThatIsUndone(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Eleven days")
	h.bringAll(at, h.photographs(8))
	var read hangingRead
	h.want(http.StatusOK, "POST", at+"/hangings", hangingAsked{"1 / 2+3 / 4+4"}, &read)
	var now changed
	h.want(http.StatusOK, "POST", at+"/changes", read.Change, &now)
	if got := now.Wall.Sequence.Hanging().String(); got != "1 / 2+3 / 4+4" {
		t.Errorf("it hangs as %q", got)
	}
	read = hangingRead{}
	h.want(http.StatusOK, "POST", at+"/hangings", hangingAsked{"2–3 | 5-6 \n 8"}, &read)
	want := hangingRead{Hanging: read.Hanging, Text: "2+3 / 5+6 / 8", Slips: []sequence.Slip{}, Sequence: read.Sequence, Change: read.Change,
		Words: "one pair new, three photos came, two went", Gone: []sequence.PhotoID{1, 4}, Come: []sequence.PhotoID{5, 6, 8}, Unboxed: []sequence.PhotoID{}}
	if diff := cmp.Diff(want, read); diff != "" {
		t.Error(diff)
	}
	h.want(http.StatusOK, "POST", at+"/changes", read.Change, &now)
	var back changed
	h.want(http.StatusOK, "POST", at+"/undo", onRevision{now.Wall.Sequence.Revision}, &back)
	if got := back.Wall.Sequence.Hanging().String(); got != "1 / 2+3 / 4+4" {
		t.Errorf("undone, it hangs as %q", got)
	}
	read = hangingRead{}
	h.want(http.StatusOK, "POST", at+"/hangings", hangingAsked{"2+3 / 47+2"}, &read)
	if len(read.Slips) != 2 || read.Change != nil || read.Sequence != nil {
		t.Errorf("%+v", read)
	}
}
