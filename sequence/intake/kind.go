package intake

import "pairwall/sequence/intake/header"

// Kind tells what a file is from its first bytes, of which it wants 512 when
// there are so many: "jpeg", "png" and "tiff" are what Read reads; anything
// else it knows it names as a person would ("HEIC", "GIF", "text"); "" means
// that it does not know.
func Kind(head []byte) string { return header.Kind(head) }
