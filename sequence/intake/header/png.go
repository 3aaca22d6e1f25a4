package header

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"encoding/hex"
	"io"
	"strconv"
)

// readPNG reads the chunks of a PNG file without its pixels.
// Source: Portable Network Graphics (Third Edition), W3C 2025, section 11.
//
// Errors: Damaged when there is no picture in it.
func readPNG(from io.ReaderAt, size int64) (Header, error) {
	h := Header{Format: "png"}
	at := int64(8)
	for range maxSegments {
		var head [8]byte
		if _, err := from.ReadAt(head[:], at); err != nil {
			break // how far the pixels go is the decoder's business
		}
		length := int64(binary.BigEndian.Uint32(head[:]))
		name := string(head[4:])
		payload := io.NewSectionReader(from, at+8, min(length, max(0, size-at-8)))
		switch {
		case name == "IHDR":
			if err := h.readIHDR(payload); err != nil {
				return Header{}, err
			}
		case name == "iCCP":
			h.Profile, h.Torn = inflatedProfile(payload)
		case name == "cICP" && payload.Size() == 4:
			h.CICP = make([]byte, 4)
			if _, err := payload.ReadAt(h.CICP, 0); err != nil {
				h.CICP = nil
			}
		case name == "eXIf" && h.block == nil:
			h.block = readBlock(payload, payload.Size())
		case name == "iTXt" && h.xmp == nil:
			h.xmp = xmpText(payload)
		case name == "zTXt" && h.block == nil:
			h.block = rawEXIF(payload)
		}
		if name == "IEND" {
			break
		}
		at += 12 + length
	}
	if h.Width == 0 {
		return Header{}, noPicture(nil)
	}
	return h, nil
}

func (h *Header) readIHDR(payload *io.SectionReader) error {
	var raw [13]byte
	if _, err := payload.ReadAt(raw[:], 0); err != nil {
		return noPicture(err)
	}
	width, height := binary.BigEndian.Uint32(raw[:]), binary.BigEndian.Uint32(raw[4:])
	if width == 0 || height == 0 || width > 1<<31-1 || height > 1<<31-1 {
		return noPicture(nil)
	}
	h.Width, h.Height = int(width), int(height)
	// Bytes a pixel as the decoder keeps it: colour becomes four channels.
	each := int64(4)
	if raw[9] == 0 || raw[9] == 3 {
		each = 1
	}
	if raw[8] == 16 {
		each *= 2
	}
	if raw[12] != 0 { // interlaced: each pass is a picture of its own beside the whole
		each *= 2
	}
	h.Memory = each * int64(width) * int64(height)
	return nil
}

// inflatedProfile unpacks the profile of an iCCP chunk.
func inflatedProfile(payload *io.SectionReader) (profile []byte, torn bool) {
	_, profile, ok := inflated(payload, maxProfile)
	return profile, !ok
}

// inflated unpacks a chunk that consists of a name, a zero, the method and
// compressed data, all within limit.
func inflated(payload *io.SectionReader, limit int64) (name string, data []byte, ok bool) {
	raw := make([]byte, min(payload.Size(), limit))
	if _, err := io.ReadFull(payload, raw); err != nil {
		return "", nil, false
	}
	head, packed, found := bytes.Cut(raw, []byte{0})
	if !found || len(packed) < 2 {
		return "", nil, false
	}
	inflater, err := zlib.NewReader(bytes.NewReader(packed[1:]))
	if err != nil {
		return "", nil, false
	}
	defer inflater.Close()
	data, err = io.ReadAll(io.LimitReader(inflater, limit+1))
	if err != nil || int64(len(data)) > limit {
		return "", nil, false
	}
	return string(head), data, true
}

// rawEXIF reads the EXIF that programs put into a compressed text before PNG
// had a chunk for it: a line with the name, a line with the length, and lines
// of hexadecimal digits. nil if the text is something else.
func rawEXIF(payload *io.SectionReader) *block {
	name, data, ok := inflated(payload, 1<<20)
	if !ok || name != "Raw profile type exif" && name != "Raw profile type APP1" {
		return nil
	}
	words := bytes.Fields(data)
	if len(words) < 3 {
		return nil
	}
	digits := bytes.Join(words[2:], nil)
	length, err := strconv.Atoi(string(words[1]))
	if err != nil || length < 0 || length > len(digits)/2 {
		return nil
	}
	raw := make([]byte, length)
	if _, err := hex.Decode(raw, digits[:2*length]); err != nil { // rubbish may follow
		return nil
	}
	raw = bytes.TrimPrefix(raw, []byte("Exif\x00\x00"))
	return readBlock(bytes.NewReader(raw), int64(len(raw)))
}

// xmpText reads the XMP of an international text: its name, a zero, two bytes
// about compression (which XMP in PNG does not use), and two more texts.
func xmpText(payload *io.SectionReader) []byte {
	raw, is := bytes.CutPrefix(whole(payload, maxPacket), []byte("XML:com.adobe.xmp\x00"))
	if !is || len(raw) < 2 || raw[0] != 0 {
		return nil
	}
	_, raw, _ = bytes.Cut(raw[2:], []byte{0})
	_, raw, _ = bytes.Cut(raw, []byte{0})
	return raw
}
