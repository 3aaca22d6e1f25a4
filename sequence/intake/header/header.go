package header

import "io"

// Header is what a picture's file says before any pixel is decoded.
type Header struct {
	Format        string  // as Kind names it
	Width, Height int     // pixels as decoded, not yet upright
	Components    int     // JPEG only: 1 grey, 3 colours, 4 inks
	Bands         *Bands  // TIFF only: how its pixels lie in the file, nil when that is not known
	Memory        int64   // bytes that decoding will take at most
	Profile       []byte  // embedded colour profile, nil when there is none
	Torn          bool    // a colour profile is there, but not whole
	CICP          []byte  // the four numbers of ITU-T H.273, nil when there are none
	Matrix        int     // HEIC only: the third of them as the picture is stored
	Studio        bool    // HEIC only: it is stored in 16..235 instead of 0..255
	Turn          int     // how to turn it upright, as EXIF's orientation; 0 when nothing is said
	Said          Said    // from EXIF
	Written       Written // in the file beside EXIF
	Sidecar       Written // in a file of XMP beside the picture, where Beside was told of one

	block    *block // EXIF's wanted fields, nil until found
	boxes    *boxFile
	bits     int // HEIC and AVIF: of a channel, 0 when nothing is said
	pictures *pictureIndex
	turned   bool   // Turn was said by the container, which outweighs EXIF
	xmp      []byte // packet
	iptc     []byte // block
}

// Read reads what a file of a kind as Kind names it says before any pixel is
// decoded. It reads only as much of the file as that takes, and sets little
// aside whatever the file claims; Memory and the measures are for the caller
// to hold against limits before decoding.
//
// Errors: Damaged when there is no picture in it, Unsupported with the name of
// the kind when the decoders do not know it.
func Read(kind string, from io.ReaderAt, size int64) (h Header, err error) {
	switch kind {
	case "jpeg":
		h, err = readJPEG(from, size)
	case "png":
		h, err = readPNG(from, size)
	case "tiff":
		h, err = readTIFF(from, size)
	case "webp":
		h, err = readWebP(from, size)
	case "heic", "avif":
		h, err = readBoxes(kind, from, size)
	default:
		err = Refuse(kind)
	}
	if err != nil {
		return Header{}, err
	}
	h.Said = listen(h.block)
	if !h.turned {
		h.Turn = h.Said.Orientation
	}
	h.Written = bothWritten(readXMP(h.xmp), readIPTC(h.iptc))
	return h, nil
}

// Beside reads what a file of XMP beside the picture says.
func (h *Header) Beside(packet []byte) { h.Sidecar = readXMP(packet) }

// bothWritten takes from XMP what it says, and the rest from IPTC, which came
// before it: programs that know both write the same into both.
func bothWritten(x, i Written) Written {
	if x.Caption == "" {
		x.Caption = i.Caption
	}
	if len(x.Keywords) == 0 {
		x.Keywords = i.Keywords
	}
	if x.Created == "" {
		x.Created = i.Created
	}
	return x
}
