package header

import (
	"bytes"
	"io"
	"slices"
)

// maxProfile bounds an embedded profile: the largest for printing presses are
// about 3 MB.
const maxProfile = 16 << 20

// maxSegments bounds how many pieces of a JPEG or PNG are looked at. A file of
// half a gigabyte in the usual chunks of 8 kB has some 60,000.
const maxSegments = 200_000

// JPEG markers. Source: ITU-T T.81 (1992), table B.1.
const (
	markerSOF0  = 0xC0
	markerDHT   = 0xC4
	markerJPG   = 0xC8
	markerDAC   = 0xCC
	markerEOI   = 0xD9
	markerSOS   = 0xDA
	markerAPP1  = 0xE1
	markerAPP2  = 0xE2
	markerAPP13 = 0xED
	markerAPP14 = 0xEE // Adobe's, which says how colours are stored
)

// readJPEG reads the segments of a JPEG file up to its pixels.
//
// Errors: Damaged when there is no picture in it; Unsupported for the kinds of
// JPEG that no photograph uses.
func readJPEG(from io.ReaderAt, size int64) (Header, error) {
	h := Header{Format: "jpeg"}
	var pieces profilePieces
	at := int64(2)
	for range maxSegments {
		marker, start, length, err := nextSegment(from, at, size)
		if err != nil {
			return Header{}, noPicture(err)
		}
		at = start + length
		if marker == markerSOS || marker == markerEOI {
			break
		}
		payload := io.NewSectionReader(from, start, length)
		switch {
		case marker == markerAPP1:
			if h.block == nil {
				h.block = exifSegment(payload)
			}
			if packet, is := bytes.CutPrefix(whole(payload, 1<<16), []byte("http://ns.adobe.com/xap/1.0/\x00")); is && h.xmp == nil {
				h.xmp = packet
			}
		case marker == markerAPP13 && h.iptc == nil:
			h.iptc = iptcIn(whole(payload, 1<<16))
		case marker == markerAPP2:
			pieces.add(payload)
			if h.pictures == nil {
				h.pictures = pictureSegment(payload, start)
			}
		case marker >= markerSOF0 && marker < markerSOF0+16 &&
			marker != markerDHT && marker != markerJPG && marker != markerDAC:
			if err := h.readFrame(marker, payload); err != nil {
				return Header{}, err
			}
		}
	}
	if h.Width == 0 {
		return Header{}, noPicture(nil)
	}
	h.Memory += size // the file itself is read into memory
	h.Profile, h.Torn = pieces.join()
	return h, nil
}

func noPicture(cause error) error {
	return Damaged("This file begins like a picture, but there is no picture in it.", cause)
}

// nextSegment finds the segment at or after an offset: its marker, and where
// its payload lies. Stray bytes between segments are passed over, as decoders do.
func nextSegment(from io.ReaderAt, at, size int64) (marker byte, start, length int64, err error) {
	var raw [2]byte
	for stray := 0; ; stray++ {
		if _, err := from.ReadAt(raw[:], at); err != nil {
			return 0, 0, 0, err
		}
		if raw[0] == 0xFF && raw[1] != 0xFF && raw[1] != 0 {
			break
		}
		if at++; stray > 64<<10 {
			return 0, 0, 0, io.ErrUnexpectedEOF
		}
	}
	marker = raw[1]
	at += 2
	if marker == markerEOI || marker == 0x01 || marker >= 0xD0 && marker <= 0xD8 {
		return marker, at, 0, nil
	}
	if _, err := from.ReadAt(raw[:], at); err != nil {
		return 0, 0, 0, err
	}
	length = int64(raw[0])<<8 + int64(raw[1]) - 2
	if length < 0 {
		return 0, 0, 0, io.ErrUnexpectedEOF
	}
	return marker, at + 2, min(length, size-at-2), nil
}

// exifSegment reads the EXIF of an APP1 segment, nil if it holds none (XMP
// uses the same marker).
func exifSegment(payload *io.SectionReader) *block {
	const lead = "Exif\x00\x00"
	head := make([]byte, len(lead))
	if _, err := payload.ReadAt(head, 0); err != nil || string(head[:4]) != lead[:4] {
		return nil
	}
	length := payload.Size() - int64(len(lead))
	return readBlock(io.NewSectionReader(payload, int64(len(lead)), length), length)
}

// readFrame reads the frame header, which gives the picture's measures.
func (h *Header) readFrame(marker byte, payload *io.SectionReader) error {
	raw := make([]byte, min(payload.Size(), 6+3*4))
	if _, err := payload.ReadAt(raw, 0); err != nil || len(raw) < 9 {
		return noPicture(err)
	}
	switch {
	case marker > markerSOF0+2:
		return Unsupported("This JPEG is of a rare kind (lossless, arithmetic or hierarchical), which Pairwall does not read.",
			"Export it as an ordinary JPEG or as TIFF and bring that in.", nil)
	case raw[0] != 8:
		return Unsupported("This JPEG has more than 8 bits a channel, which Pairwall does not read.",
			"Export it as an ordinary JPEG or as TIFF and bring that in.", nil)
	}
	h.Height, h.Width = int(raw[1])<<8+int(raw[2]), int(raw[3])<<8+int(raw[4])
	if h.Width == 0 || h.Height == 0 {
		return noPicture(nil)
	}
	components := int(raw[5])
	h.Components = components
	samples := 0.0 // per pixel
	most := 1.0
	for i := 0; i < components && 8+3*i < len(raw); i++ {
		area := float64(raw[7+3*i]>>4) * float64(raw[7+3*i]&15)
		samples, most = samples+area, max(most, area)
	}
	samples = max(samples/most, float64(components)/most, 1)
	each := 1.0
	if marker == markerSOF0+2 { // progressive: every coefficient is kept, two bytes each
		each += 2
	}
	padded := float64(h.Width+32) * float64(h.Height+32)
	h.Memory = int64(padded * each * samples)
	if components == 4 {
		h.Memory += 4 * int64(padded)
	}
	return nil
}

// profilePieces collects a colour profile that is spread over segments.
// Source: ICC.1:2010, annex B.4.
type profilePieces struct {
	pieces map[byte][]byte
	count  byte
	total  int64
}

func (p *profilePieces) add(payload *io.SectionReader) {
	const lead = "ICC_PROFILE\x00"
	raw := make([]byte, payload.Size())
	if n, err := payload.ReadAt(raw, 0); n < len(raw) && err != nil {
		return
	}
	if len(raw) < len(lead)+2 || !bytes.HasPrefix(raw, []byte(lead)) {
		return
	}
	if p.pieces == nil {
		p.pieces = make(map[byte][]byte)
	}
	number := raw[len(lead)]
	p.count = max(p.count, raw[len(lead)+1])
	if p.total += int64(len(raw)); p.total <= maxProfile {
		p.pieces[number] = raw[len(lead)+2:]
	}
}

// join returns the whole profile, or torn when a piece is missing.
func (p *profilePieces) join() (profile []byte, torn bool) {
	if len(p.pieces) == 0 {
		return nil, false
	}
	var all [][]byte
	for i := 1; i <= int(p.count); i++ {
		piece, there := p.pieces[byte(i)]
		if !there {
			return nil, true
		}
		all = append(all, piece)
	}
	return slices.Concat(all...), false
}
