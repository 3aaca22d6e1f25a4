package intake

import "pairwall/sequence/intake/header"

// Kind tells what a file is from its first bytes, of which it wants 512 when
// there are so many: "jpeg", "png", "tiff", "webp", "heic" and "avif" are what Read
// reads; anything else it knows it names as a person would ("GIF", "text"); ""
// means that it does not know.
func Kind(head []byte) string { return header.Kind(head) }
