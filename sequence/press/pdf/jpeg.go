package pdf

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
)

// JPEG is a JPEG file on its way into a PDF: what its header says, and the file
// without whatever was written into it beside the picture. Nothing is decoded.
type JPEG struct {
	Width, Height int
	Components    int    // 1 grey, 3 RGB or YCbCr, 4 CMYK or YCCK
	Bits          int    // of a sample: 8; 12 is not read by PDF
	Inverted      bool   // CMYK as Adobe writes it, 0 is full ink
	Profile       []byte // the embedded ICC profile; nil when there is none

	head []byte // the segments that are kept, up to and with the first scan's header
	rest *bufio.Reader
}

// ErrJPEG is of a file that is no JPEG this package can pass through.
var ErrJPEG = errors.New("not a JPEG that a PDF can hold")

// Limits on what stands before the picture. The largest profiles in use have a
// few megabytes.
const (
	mostHead    = 32 << 20
	mostProfile = 16 << 20
)

// OpenJPEG reads a file up to its picture. What it says of camera, place, people
// and edits (application segments and comments) is dropped: a position in it
// would be published with the page. The ICC profile is taken out and given
// beside it; Adobe's segment stays, because without it the colours are read wrong.
//
// Error: ErrJPEG.
func OpenJPEG(r io.Reader) (*JPEG, error) {
	j := &JPEG{rest: bufio.NewReaderSize(r, 64<<10)}
	var start [2]byte
	if _, err := io.ReadFull(j.rest, start[:]); err != nil || start != [2]byte{0xFF, 0xD8} {
		return nil, fmt.Errorf("%w: it does not begin as one", ErrJPEG)
	}
	j.head = append(j.head, start[:]...)
	profile := map[byte][]byte{}
	for {
		marker, body, err := j.segment()
		if err != nil {
			return nil, err
		}
		if err := j.take(marker, body, profile); err != nil {
			return nil, err
		}
		if marker == sos {
			break
		}
		if len(j.head) > mostHead {
			return nil, fmt.Errorf("%w: no picture in its first %d bytes", ErrJPEG, mostHead)
		}
	}
	if j.Width == 0 || j.Height == 0 || !slices.Contains([]int{1, 3, 4}, j.Components) || j.Bits != 8 {
		return nil, fmt.Errorf("%w: %d × %d pixels of %d components with %d bits", ErrJPEG, j.Width, j.Height, j.Components, j.Bits)
	}
	j.joinProfile(profile)
	return j, nil
}

// Markers of ITU-T T.81, table B.1.
const (
	sos  = 0xDA
	eoi  = 0xD9
	app0 = 0xE0
	app2 = 0xE2
	appE = 0xEE
	appF = 0xEF
	com  = 0xFE
)

// segment reads one marker with its body, length bytes included.
func (j *JPEG) segment() (marker byte, body []byte, err error) {
	b, err := j.rest.ReadByte()
	if err != nil || b != 0xFF {
		return 0, nil, fmt.Errorf("%w: it is cut off or broken before the picture", ErrJPEG)
	}
	for b == 0xFF { // fill bytes may stand before a marker
		if b, err = j.rest.ReadByte(); err != nil {
			return 0, nil, fmt.Errorf("%w: it is cut off before the picture", ErrJPEG)
		}
	}
	length, err := j.rest.Peek(2)
	if err != nil {
		return 0, nil, fmt.Errorf("%w: it is cut off before the picture", ErrJPEG)
	}
	size := int(length[0])<<8 | int(length[1])
	if size < 2 || b < 0xC0 || b == eoi || b == 0xD8 || (b >= 0xD0 && b <= 0xD7) {
		return 0, nil, fmt.Errorf("%w: segment %02X makes no sense before the picture", ErrJPEG, b)
	}
	body = make([]byte, size)
	if _, err := io.ReadFull(j.rest, body); err != nil {
		return 0, nil, fmt.Errorf("%w: it is cut off before the picture", ErrJPEG)
	}
	return b, body, nil
}

func (j *JPEG) take(marker byte, body []byte, profile map[byte][]byte) error {
	switch {
	case marker == app2 && len(body) > 16 && string(body[2:14]) == "ICC_PROFILE\x00":
		profile[body[14]] = body[16:] // ICC.1:2022, annex B.4
		return nil
	case marker == appE && len(body) >= 14 && string(body[2:7]) == "Adobe":
		j.Inverted = true // only counts for four components
	case marker == app0 && len(body) >= 16 && string(body[2:7]) == "JFIF\x00":
		body = append([]byte{0, 16}, body[2:16]...) // it says how colours are coded; its thumbnail goes
		body[14], body[15] = 0, 0
	case beside(marker):
		return nil
	case marker == 0xC0, marker == 0xC1, marker == 0xC2:
		if len(body) < 8 {
			return fmt.Errorf("%w: its frame header is broken", ErrJPEG)
		}
		j.Bits, j.Components = int(body[2]), int(body[7])
		j.Height, j.Width = int(body[3])<<8|int(body[4]), int(body[5])<<8|int(body[6])
	case marker >= 0xC3 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8:
		return fmt.Errorf("%w: its kind of coding (%02X) is unknown to PDF", ErrJPEG, marker)
	}
	j.head = append(append(j.head, 0xFF, marker), body...)
	return nil
}

// beside tells segments that are not about the picture.
func beside(marker byte) bool { return marker >= app0 && marker <= appF || marker == com }

// joinProfile puts the pieces of a profile together when they are all there.
func (j *JPEG) joinProfile(pieces map[byte][]byte) {
	var whole []byte
	for k := 1; k <= len(pieces); k++ {
		piece, ok := pieces[byte(k)]
		if !ok || len(whole) > mostProfile {
			return
		}
		whole = append(whole, piece...)
	}
	j.Profile = whole
}

// Pour writes the JPEG without what was dropped and ends with the picture: what
// some cameras hang behind it (a second picture with its own position, a film)
// stays out. A picture that is cut off is closed where it ends.
func (j *JPEG) Pour(w io.Writer) error {
	if _, err := w.Write(j.head); err != nil {
		return err
	}
	out := bufio.NewWriterSize(w, 64<<10)
	if err := j.scans(out); err != nil {
		return err
	}
	if _, err := out.Write([]byte{0xFF, eoi}); err != nil {
		return err
	}
	return out.Flush()
}

// scans copies entropy-coded data and the tables between scans up to the end of
// the picture. Within a scan FF stands before 00, a restart marker or the
// next segment (T.81, B.1.1.5).
func (j *JPEG) scans(out *bufio.Writer) error {
	for {
		chunk, err := j.rest.ReadSlice(0xFF)
		if err != nil && !errors.Is(err, bufio.ErrBufferFull) {
			if _, werr := out.Write(chunk); werr != nil {
				return werr
			}
			return ended(err)
		}
		if err != nil {
			if _, werr := out.Write(chunk); werr != nil {
				return werr
			}
			continue
		}
		if _, err := out.Write(chunk[:len(chunk)-1]); err != nil {
			return err
		}
		done, err := j.marker(out)
		if done || err != nil {
			return ended(err)
		}
	}
}

// marker copies what begins with the FF just read; done at the picture's end.
func (j *JPEG) marker(out *bufio.Writer) (done bool, err error) {
	b := byte(0xFF)
	for b == 0xFF {
		if b, err = j.rest.ReadByte(); err != nil {
			return true, err
		}
	}
	if b == eoi {
		return true, nil
	}
	plain := b == 0 || (b >= 0xD0 && b <= 0xD7)
	if !beside(b) {
		if _, err := out.Write([]byte{0xFF, b}); err != nil || plain {
			return false, err
		}
	}
	length, err := j.rest.Peek(2)
	if err != nil {
		return true, err
	}
	size := int64(length[0])<<8 | int64(length[1])
	if beside(b) {
		_, err = j.rest.Discard(int(size))
	} else {
		_, err = io.CopyN(out, j.rest, size)
	}
	return err != nil, err
}

// ended forgives a picture that is cut off.
func ended(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return nil
	}
	return err
}
