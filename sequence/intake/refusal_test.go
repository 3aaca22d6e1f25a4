package intake

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"pairwall/sequence"
)

func TestWhatIsNoPictureIsRefusedKindly(t *testing.T) {
	folder := t.TempDir()
	write := func(name, content string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	heic, err := os.ReadFile(filepath.Join(photosFolder(t), "heic", "iphone.heic"))
	if err != nil {
		t.Fatal(err)
	}
	cases := []struct {
		name, path string
		code       sequence.Code
		says       string
	}{
		{"an empty file", write("empty.jpg", ""), sequence.Damaged, "empty"},
		{"a file of zeros", write("zeros.jpg", strings.Repeat("\x00", 5000)), sequence.Damaged, "holds nothing"},
		{"a text", write("list.tif", "Trieste, Pula, Zadar, Bari\n"), sequence.Unsupported, "text file"},
		{"a folder", folder, sequence.Invalid, "folder"},
		{"a vanished file", filepath.Join(folder, "gone.jpg"), sequence.NotFound, "no longer there"},
		{"a file below a file", filepath.Join(folder, "list.tif", "x.jpg"), sequence.NotFound, "no longer there"},
		{"a device", os.DevNull, sequence.Invalid, "not an ordinary file"},
		{"HEIC cut off", write("k.jpg", string(heic[:3000])), sequence.Damaged, "no picture"},
		{"HEIC without its picture", write("l.jpg", string(heic[:90000])), sequence.Damaged, "damaged"},
		{"GIF", write("a.jpg", "GIF89a......"), sequence.Unsupported, "GIF picture"},
		{"WebP", write("b.png", "RIFF....WEBPVP8 "), sequence.Damaged, "no picture"},
		{"a video", write("c.jpg", "\x00\x00\x00\x20ftypisom...."), sequence.Unsupported, "video"},
		{"camera raw", write("d.tif", "II*\x00\x10\x00\x00\x00CR\x02\x00"), sequence.Unsupported, "camera raw"},
		{"PDF", write("e.jpg", "%PDF-1.7"), sequence.Unsupported, "PDF"},
		{"BigTIFF", write("f.tif", "II+\x00\x08\x00\x00\x00"), sequence.Unsupported, "BigTIFF"},
		{"noise", write("g.jpg", "\x01\x02\x03\xfe\xff\x99\x00\x01abc"), sequence.Unsupported, "knows"},
		{"a lone JPEG start", write("h.jpg", "\xff\xd8\xff\xe0"), sequence.Damaged, "no picture in it"},
		{"a lone PNG start", write("i.png", "\x89PNG\r\n\x1a\n"), sequence.Damaged, "no picture in it"},
		{"a lone TIFF start", write("j.tif", "MM\x00*\x00\x00\x00\x08"), sequence.Damaged, "no picture in it"},
	}
	for _, c := range cases {
		cards := filepath.Join(t.TempDir(), "cards")
		_, err := Read(context.Background(), c.path, cards)
		var coded *sequence.Error
		if !errors.As(err, &coded) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if coded.Code != c.code || !strings.Contains(coded.Message, c.says) || !strings.HasSuffix(coded.Message, ".") || Stops(err) {
			t.Errorf("%s: %s %q (stops %v), want %s and %q", c.name, coded.Code, coded.Message, Stops(err), c.code, c.says)
		}
		if left, err := os.ReadDir(cards); err != nil || len(left) > 0 {
			t.Errorf("%s left something behind: %v %v", c.name, left, err)
		}
	}
}

func TestAPipeIsNotWaitedFor(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // there are no named pipes in folders there
	}
	path := filepath.Join(t.TempDir(), "pipe.jpg")
	if err := makePipe(path); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(context.Background(), path, t.TempDir()); sequence.CodeOf(err) != sequence.Invalid {
		t.Error(err)
	}
}

func TestTheSystemsFailuresAreToldFromTheFiles(t *testing.T) {
	path := func(errno syscall.Errno) error { return &fs.PathError{Op: "open", Path: "x", Err: errno} }
	cases := []struct {
		name  string
		err   error
		code  sequence.Code
		stops bool
		says  string
	}{
		{"not allowed to read", unopened(path(syscall.EACCES)), sequence.Unreadable, false, "may not read"},
		{"vanished", unopened(path(syscall.ENOENT)), sequence.NotFound, false, "no longer there"},
		{"the disk fails at opening", unopened(path(syscall.EIO)), sequence.Unreadable, true, "disk failed"},
		{"the disk fails at reading", ofDisk(path(syscall.EIO)), sequence.Unreadable, true, "disk failed"},
		{"the disk is full", unwritable(path(syscall.ENOSPC)), sequence.Unreadable, true, "full"},
		{"not allowed to write", unwritable(path(syscall.EACCES)), sequence.Unreadable, true, "may not write"},
		{"a disk for reading only", unwritable(path(syscall.EROFS)), sequence.Unreadable, true, "may not write"},
		{"some other trouble", unwritable(path(syscall.EIO)), sequence.Unreadable, true, "could not be written"},
	}
	for _, c := range cases {
		across := faultOf(c.err).err() // as it comes from a worker
		for _, err := range []error{c.err, across} {
			if sequence.CodeOf(err) != c.code || Stops(err) != c.stops || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%s: %v (stops %v)", c.name, err, Stops(err))
			}
		}
	}
}

func TestCardsThatCannotBeWrittenStopTheWork(t *testing.T) {
	folder := t.TempDir()
	good := filepath.Join(folder, "good.jpg")
	picture(t, good)
	file := filepath.Join(folder, "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	p := testPool(t, "good", 1, testLimits)
	for _, read := range []func(context.Context, string, string) (sequence.Photo, error){Read, p.Read} {
		_, err := read(context.Background(), good, filepath.Join(file, "cards"))
		if sequence.CodeOf(err) != sequence.Unreadable || !Stops(err) {
			t.Errorf("got %v", err)
		}
	}
}

// claim makes the beginning of a picture that claims a size and holds nothing.
func claim(kind string, width, height uint32) []byte {
	var out bytes.Buffer
	be := binary.BigEndian
	switch kind {
	case "png":
		out.WriteString("\x89PNG\r\n\x1a\n")
		body := append([]byte("IHDR"), be.AppendUint32(be.AppendUint32(nil, width), height)...)
		body = append(body, 16, 6, 0, 0, 0)
		out.Write(be.AppendUint32(nil, 13))
		out.Write(body)
		out.Write(be.AppendUint32(nil, crc32.ChecksumIEEE(body)))
	case "jpeg":
		out.WriteString("\xff\xd8\xff\xc2\x00\x11\x08")
		out.Write(be.AppendUint16(be.AppendUint16(nil, uint16(height)), uint16(width)))
		out.WriteString("\x03\x01\x11\x00\x02\x11\x00\x03\x11\x00\xff\xda\x00\x02")
	case "tiff":
		out.WriteString("MM\x00*\x00\x00\x00\x08\x00\x06")
		for _, f := range [][2]uint32{{256, width}, {257, height}, {258, 16}, {259, 8}, {262, 1}, {277, 1}} {
			out.Write(be.AppendUint16(be.AppendUint16(nil, uint16(f[0])), 4))
			out.Write(be.AppendUint32(be.AppendUint32(nil, 1), f[1]))
		}
		out.WriteString("\x00\x00\x00\x00")
	}
	out.Write(make([]byte, 64))
	return out.Bytes()
}

func TestAPictureThatClaimsTooMuchIsRefusedBeforeRoomIsMade(t *testing.T) {
	cases := []struct {
		kind          string
		width, height uint32
	}{
		{"png", 60000, 60000}, {"png", 1<<31 - 1, 1<<31 - 1}, {"png", 1, 1<<31 - 1},
		{"jpeg", 65535, 65535}, {"jpeg", 25000, 25000},
		{"tiff", 60000, 60000}, {"tiff", 1<<32 - 1, 1<<32 - 1}, {"tiff", 1 << 31, 1 << 31},
	}
	for _, c := range cases {
		path := filepath.Join(t.TempDir(), "bomb")
		if err := os.WriteFile(path, claim(c.kind, c.width, c.height), 0o644); err != nil {
			t.Fatal(err)
		}
		cards := t.TempDir()
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := Read(context.Background(), path, cards)
		runtime.ReadMemStats(&after)
		if sequence.CodeOf(err) != sequence.TooLarge {
			t.Errorf("%s %d × %d: %v", c.kind, c.width, c.height, err)
		}
		if made := after.TotalAlloc - before.TotalAlloc; made > 4<<20 {
			t.Errorf("%s %d × %d: %d MB were set aside", c.kind, c.width, c.height, made>>20)
		}
	}
}

func TestTheMemoryAPictureWillTakeIsHeldAgainstTheLimit(t *testing.T) {
	// 15,000 × 15,000 with 16 bits and alpha keep 8 bytes a pixel: 1.7 GB.
	path := filepath.Join(t.TempDir(), "large.png")
	if err := os.WriteFile(path, claim("png", 15000, 15000), 0o644); err != nil {
		t.Fatal(err)
	}
	limits := Limits{Memory: 1 << 30, Pixels: 250_000_000}
	_, err := read(context.Background(), path, t.TempDir(), t.TempDir(), limits)
	if sequence.CodeOf(err) != sequence.TooLarge || !strings.Contains(err.Error(), "memory") {
		t.Errorf("got %v", err)
	}
	// The defaults let it through to the decoder, which misses its pixels.
	if _, err := Read(context.Background(), path, t.TempDir()); sequence.CodeOf(err) != sequence.Damaged {
		t.Errorf("got %v", err)
	}
}

func TestACancelledContextStopsReading(t *testing.T) {
	path := filepath.Join(t.TempDir(), "good.jpg")
	picture(t, path)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := Read(ctx, path, t.TempDir())
	if sequence.CodeOf(err) != sequence.Cancelled || !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
