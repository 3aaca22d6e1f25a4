// Package code is the small square code in the margin of a small print, by
// which a photograph of the paper wall is read back.
//
// In come a title and a photo's number, out comes a QR code of 21 by 21 modules
// (ISO/IEC 18004, version 1, error correction level H); and from the ten
// characters that such a code holds come title tag and number, or a refusal.
// The package must never know where a code lies on paper or how it was found in
// a photograph.
package code
