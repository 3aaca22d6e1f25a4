package intake

import (
	"pairwall/sequence"
	"pairwall/sequence/intake/header"
)

// Preview returns the small JPEG that the camera put into a file, and how to turn
// it upright, as EXIF's orientation 1 to 8. It decodes nothing and takes a
// millisecond, so it can stand for a card until Read has made one. Its colours
// are as the file has them.
//
// Errors: those of Read for a file that is none of its pictures; NotFound when
// the file carries no preview.
func Preview(path string) (jpeg []byte, orientation int, err error) {
	o, err := openOriginal(path)
	if err != nil {
		return nil, 0, err
	}
	defer o.file.Close()
	jpeg, orientation, err = header.Preview(o.kind, o.file, o.size())
	if err != nil {
		return nil, 0, ofDisk(err)
	}
	if jpeg == nil {
		return nil, 0, &sequence.Error{Code: sequence.NotFound, Message: "This file carries no small picture of itself."}
	}
	return jpeg, orientation, nil
}
