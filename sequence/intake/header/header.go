package header

import "io"

// Header is what a picture's file says before any pixel is decoded.
type Header struct {
	Format        string // as Kind names it
	Width, Height int    // pixels as stored, not yet upright
	Memory        int64  // bytes that decoding will take at most
	Profile       []byte // embedded colour profile, nil when there is none
	Torn          bool   // a colour profile is there, but not whole
	CICP          []byte // PNG only: the four numbers of a cICP chunk
	Said          Said   // from EXIF

	block *block // EXIF's wanted fields, nil until found
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
	default:
		err = Refuse(kind)
	}
	if err != nil {
		return Header{}, err
	}
	h.Said = listen(h.block)
	return h, nil
}
