package header

import (
	"encoding/binary"
	"io"
)

// readWebP reads the chunks of a WebP file without its pixels.
// Source: RFC 9649 (2024), section 2.
//
// Errors: Damaged when there is no picture in it, Unsupported when it moves.
func readWebP(from io.ReaderAt, size int64) (Header, error) {
	h := Header{Format: "webp"}
	at := int64(12)
	for range maxSegments {
		var head [18]byte
		if n, _ := from.ReadAt(head[:], at); n < 8 {
			break
		}
		name, length := string(head[:4]), int64(binary.LittleEndian.Uint32(head[4:]))
		payload := io.NewSectionReader(from, at+8, min(length, max(0, size-at-8)))
		raw := head[8:]
		switch name {
		case "VP8X":
			if raw[0]&2 != 0 {
				return Header{}, Unsupported("This is a moving WebP picture, which Pairwall does not read.", ExportHint, nil)
			}
			h.Width, h.Height = little24(raw[4:])+1, little24(raw[7:])+1
		case "VP8 ":
			if h.Width == 0 {
				h.Width, h.Height = int(raw[6])|int(raw[7]&63)<<8, int(raw[8])|int(raw[9]&63)<<8
			}
		case "VP8L":
			if bits := binary.LittleEndian.Uint32(raw[1:]); h.Width == 0 {
				h.Width, h.Height = int(bits&0x3FFF)+1, int(bits>>14&0x3FFF)+1
			}
		case "ICCP":
			if h.Profile = whole(payload, maxProfile); h.Profile == nil {
				h.Torn = true
			}
		case "EXIF":
			lead := int64(0)
			var start [4]byte
			if n, _ := payload.ReadAt(start[:], 0); string(start[:n]) == "Exif" { // too short a payload has no such lead
				lead = 6
			}
			h.block = readBlock(io.NewSectionReader(payload, lead, payload.Size()-lead), payload.Size()-lead)
		case "XMP ":
			h.xmp = whole(payload, maxPacket)
		}
		at += 8 + length + length&1
	}
	if h.Width == 0 || h.Height == 0 {
		return Header{}, noPicture(nil)
	}
	h.Memory = 6*int64(h.Width)*int64(h.Height) + size
	return h, nil
}

func little24(b []byte) int { return int(b[0]) | int(b[1])<<8 | int(b[2])<<16 }

// whole reads all of a payload, nil if it is longer than limit or cut off.
func whole(payload *io.SectionReader, limit int64) []byte {
	if payload.Size() == 0 || payload.Size() > limit {
		return nil
	}
	data := make([]byte, payload.Size())
	if _, err := io.ReadFull(payload, data); err != nil {
		return nil
	}
	return data
}
