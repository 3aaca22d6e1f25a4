package intake

import (
	"fmt"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
)

// openPicture opens a picture and reads its header. The caller closes the file.
//
// Errors: those of openOriginal and readHeader.
func openPicture(path string, limits Limits) (original, header.Header, error) {
	o, err := openOriginal(path)
	if err != nil {
		return original{}, header.Header{}, err
	}
	h, err := readHeader(o, limits)
	if err != nil {
		o.file.Close()
		return original{}, header.Header{}, err
	}
	return o, h, nil
}

// readHeader reads what the file says before any pixel is decoded, and holds
// it against the limits: a file that promises too much is refused before
// anything is set aside for it.
//
// Errors: Damaged, Unsupported, TooLarge, Unreadable.
func readHeader(o original, limits Limits) (header.Header, error) {
	h, err := header.Read(o.kind, o.file, o.size())
	if err != nil {
		return header.Header{}, ofDisk(err)
	}
	if int64(h.Width) > limits.Pixels/int64(h.Height) { // a product could overflow
		return header.Header{}, tooLarge(
			fmt.Sprintf("This picture claims %d by %d pixels, more than the %d million Pairwall reads.",
				h.Width, h.Height, limits.Pixels/1e6),
			"Export a smaller copy and bring that in.")
	}
	if allowed := limits.Memory / 4 * 3; h.Memory > allowed { // the rest is for what comes after decoding
		return header.Header{}, tooLarge(
			fmt.Sprintf("This picture would take %d MB of memory to read, more than the %d MB allowed.", h.Memory>>20, allowed>>20),
			"Export a smaller copy, or save it as an ordinary 8-bit JPEG, and bring that in.")
	}
	return h, nil
}

// finding makes a Finding, the same way everywhere.
func finding(code sequence.Code, words, hint string) sequence.Finding {
	return sequence.Finding{Code: code, Words: words, Hint: hint}
}
