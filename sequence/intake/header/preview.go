package header

import (
	"bytes"
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
// there is none, and how to turn it upright, as EXIF's orientation. It is as the
// camera made it: some 160 pixels wide, perhaps with black bars, and it may show
// the picture before it was edited. No pixel is decoded.
//
// Errors: those of Read.
func Preview(kind string, from io.ReaderAt, size int64) (preview []byte, turn int, err error) {
	h, err := Read(kind, from, size)
	if err != nil {
		return nil, 0, err
	}
	if h.block != nil {
		if data := h.block.preview(); sound(data) {
			return data, max(h.Turn, 1), nil
		}
	}
	if h.boxes != nil {
		for _, id := range h.boxes.order {
			it := h.boxes.items[id]
			if it.thumbnailOf == h.boxes.primary && it.kind == "jpeg" {
				if data := h.boxes.read(it); sound(data) {
					return data, max(h.Turn, 1), nil
				}
			}
		}
	}
	return nil, 0, nil
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
	if at < 8 || length < 4 || length > maxPreview || at+length > t.size {
		return nil
	}
	data := make([]byte, length)
	if _, err := t.from.ReadAt(data, at); err != nil {
		return nil
	}
	return data
}
