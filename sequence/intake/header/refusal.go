package header

import "pairwall/sequence"

// ExportHint is the way out for a picture of a kind we do not read.
const ExportHint = "Export it as JPEG or TIFF and bring that in."

// CopyHint is the way out for a file that lost something on the way.
const CopyHint = "Copy it again from the card or disk it came from."

// kindWords say what a file of a kind is and what to do about it.
var kindWords = map[string][2]string{
	"GIF":             {"This is a GIF picture, which holds too few colours to print from.", ExportHint},
	"BMP":             {"This is a BMP picture, which Pairwall does not read.", ExportHint},
	"SVG":             {"This is an SVG drawing, not a photograph.", ExportHint},
	"JPEG 2000":       {"This is a JPEG 2000 picture, which Pairwall does not read.", ExportHint},
	"JPEG XL":         {"This is a JPEG XL picture, which Pairwall does not read.", ExportHint},
	"BigTIFF":         {"This is a BigTIFF file, the kind made for pictures beyond 4 GB, which Pairwall does not read.", "Export it as an ordinary TIFF or as JPEG and bring that in."},
	"HDR picture":     {"This is a high dynamic range picture, which Pairwall does not read.", ExportHint},
	"camera raw":      {"This is a camera raw file, which has not been developed yet.", "Develop it, export it as JPEG or TIFF and bring that in."},
	"layered picture": {"This is a layered working file, which Pairwall does not read.", ExportHint},
	"PDF":             {"This is a PDF document, not a picture.", "Export its pictures as JPEG or TIFF and bring those in."},
	"archive":         {"This is an archive, not a picture.", "Unpack it and bring in the folder."},
	"video":           {"This is a video, not a photograph.", "Export a single picture from it as JPEG or TIFF."},
	"sound":           {"This is a sound file, not a picture.", ""},
	"text":            {"This is a text file, not a picture.", ""},
	"":                {"This is not a picture of a kind that Pairwall knows.", ExportHint},
}

// Refuse is the error for a sound file of a kind we do not read.
func Refuse(kind string) error {
	words, known := kindWords[kind]
	if !known {
		words = kindWords[""]
	}
	return &sequence.Error{Code: sequence.Unsupported, Message: words[0], Hint: words[1]}
}

// Unsupported is the error for a sound file that we do not read.
func Unsupported(message, hint string, cause error) error {
	return &sequence.Error{Code: sequence.Unsupported, Message: message, Hint: hint, Err: cause}
}

// Damaged is the error for a broken file.
func Damaged(message string, cause error) error {
	return &sequence.Error{Code: sequence.Damaged, Message: message, Hint: CopyHint, Err: cause}
}
