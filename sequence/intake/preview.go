package intake

import "pairwall/sequence/intake/header"

// Preview is the small picture that the camera put into a file, and how large
// the picture itself is, both upright.
type Preview struct {
	JPEG          []byte // says by its own EXIF how to turn it, and nothing else; nil when the file carries none
	Width, Height int    // of the picture, pixels
}

// ReadPreview reads the small picture a file carries of itself. It decodes
// nothing and takes a millisecond, so it can stand for a card until Read has made
// one. Its colours are as the file has them, and it may have black bars where its
// shape is not the picture's.
//
// Errors: those of Read for a file that is none of its pictures.
func ReadPreview(path string) (Preview, error) {
	o, err := openOriginal(path)
	if err != nil {
		return Preview{}, err
	}
	defer o.file.Close()
	data, h, err := header.Preview(o.kind, o.file, o.size())
	if err != nil {
		return Preview{}, ofDisk(err)
	}
	p := Preview{Width: h.Width, Height: h.Height}
	if data != nil {
		p.JPEG = header.Turned(data, h.Turn)
	}
	if h.Turn >= 5 && h.Turn <= 8 {
		p.Width, p.Height = h.Height, h.Width
	}
	return p, nil
}
