package header

import (
	"bytes"
	"encoding/binary"
	"image/jpeg"
	"io"
)

// maxPreview bounds a preview. EXIF's fits into a segment of 64 kB; one that a
// container holds is larger.
const maxPreview = 1 << 20

// Tags of EXIF's second directory, which describes the preview (EXIF 2.32, 4.5.5
// and 4.5.8).
const (
	tagPreviewAt     = 0x0201
	tagPreviewLength = 0x0202
)

// Preview returns the small JPEG that a file carries of its picture, nil when
// there is none, and what Read reads. It is as the camera made it: some 160 pixels
// wide, perhaps with black bars, not yet upright, and it may show the picture
// before it was edited. No pixel is decoded.
//
// Errors: those of Read.
func Preview(kind string, from io.ReaderAt, size int64) (preview []byte, h Header, err error) {
	h, err = Read(kind, from, size)
	if err != nil {
		return nil, Header{}, err
	}
	for _, look := range []func() []byte{
		func() []byte { return h.block.preview() },
		func() []byte { return h.boxes.preview() },
		func() []byte { return h.pictures.preview(from, size) },
	} {
		if data := look(); sound(data) {
			return data, h, nil
		}
	}
	return nil, h, nil
}

// sound reports whether bytes begin as a JPEG of a sensible size.
func sound(data []byte) bool {
	if len(data) < 4 || len(data) > maxPreview {
		return false
	}
	config, err := jpeg.DecodeConfig(bytes.NewReader(data))
	return err == nil && config.Width >= 32 && config.Height >= 32 && config.Width <= 4096 && config.Height <= 4096
}

// preview reads the preview that EXIF's second directory points to.
func (b *block) preview() []byte {
	if b == nil {
		return nil
	}
	t, first, err := openTree(b.from, b.size)
	if err != nil {
		return nil
	}
	var count [2]byte
	var next [4]byte
	if _, err := t.from.ReadAt(count[:], first); err != nil {
		return nil
	}
	if _, err := t.from.ReadAt(next[:], first+2+12*int64(t.order.Uint16(count[:]))); err != nil {
		return nil
	}
	second := t.directory(int64(t.order.Uint32(next[:])))
	at, length := t.number(second, tagPreviewAt, 0), t.number(second, tagPreviewLength, 0)
	if at < 8 {
		return nil
	}
	return piece(t.from, t.size, at, length)
}

// preview reads the preview that a HEIC or AVIF file keeps as a JPEG.
func (f *boxFile) preview() []byte {
	if f == nil {
		return nil
	}
	for _, id := range f.order {
		if it := f.items[id]; it.thumbnailOf == f.primary && it.kind == "jpeg" {
			return f.read(it)
		}
	}
	return nil
}

// piece reads a part of a file that a preview may lie in, nil when it cannot.
func piece(from io.ReaderAt, size, at, length int64) []byte {
	if at < 0 || length < 4 || length > maxPreview || at > size-length {
		return nil
	}
	data := make([]byte, length)
	if _, err := from.ReadAt(data, at); err != nil {
		return nil
	}
	return data
}

// pictureIndex is the index of a file of several pictures, and where in the file
// the offsets in it count from.
type pictureIndex struct {
	data []byte
	at   int64
}

// The index and the kinds of picture that are smaller versions of the first.
// Source: CIPA DC-007-2009 (Multi-Picture Format), 5.2.2.3 and table 4.
const (
	tagPictures     = 0xB002
	pictureEntry    = 16 // bytes
	kindOfPicture   = 0x00FFFFFF
	smallerPicture  = 0x010001 // about VGA
	smallerPicture2 = 0x010002 // about full HD
)

// pictureSegment reads an APP2 segment as an index of pictures, nil when it is
// none.
func pictureSegment(payload *io.SectionReader, start int64) *pictureIndex {
	data, is := bytes.CutPrefix(whole(payload, 1<<16), []byte("MPF\x00"))
	if !is {
		return nil
	}
	return &pictureIndex{data, start + 4}
}

// preview reads the smallest of the smaller versions of the first picture.
func (x *pictureIndex) preview(from io.ReaderAt, size int64) []byte {
	if x == nil {
		return nil
	}
	t, first, err := openTree(bytes.NewReader(x.data), int64(len(x.data)))
	if err != nil {
		return nil
	}
	f, found := find(t.directory(first), tagPictures)
	if !found {
		return nil
	}
	list, _ := t.value(f, maxValue)
	at, length := int64(0), int64(0)
	for ; len(list) >= pictureEntry; list = list[pictureEntry:] {
		kind := t.order.Uint32(list) & kindOfPicture
		bytes, offset := int64(t.order.Uint32(list[4:])), int64(t.order.Uint32(list[8:]))
		if (kind == smallerPicture || kind == smallerPicture2) && offset > 0 && (length == 0 || bytes < length) {
			at, length = x.at+offset, bytes
		}
	}
	return piece(from, size, at, length)
}

// Turned returns a JPEG that says by an EXIF of its own how to turn it upright,
// and that has no other application segments: no position, no preview of its
// own.
func Turned(data []byte, turn int) []byte {
	exif := []byte("Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01")
	exif = binary.BigEndian.AppendUint16(exif, tagOrientation)
	exif = append(exif, 0, kindShort, 0, 0, 0, 1, 0, byte(max(turn, 1)), 0, 0, 0, 0, 0, 0)
	out := []byte{0xFF, 0xD8, 0xFF, markerAPP1}
	out = binary.BigEndian.AppendUint16(out, uint16(2+len(exif)))
	out = append(out, exif...)
	from := bytes.NewReader(data)
	for at := int64(2); ; {
		marker, start, length, err := nextSegment(from, at, int64(len(data)))
		if err != nil || length < 0 || marker == markerEOI {
			return out // no picture in it
		}
		if marker == markerSOS {
			return append(out, data[start-4:]...)
		}
		at = start + length
		alone := marker == 0x01 || marker >= 0xD0 && marker <= 0xD8 // markers without a length
		application := marker >= 0xE0 && marker <= 0xEF && marker != markerAPP14
		if !alone && !application {
			out = append(out, data[start-4:at]...)
		}
	}
}
