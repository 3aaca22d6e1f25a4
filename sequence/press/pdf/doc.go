// Package pdf writes the file format: objects, streams, fonts and pictures of
// PDF 1.6 (ISO 32000-1 describes 1.7, of which 1.6 is a part), one after the
// other to a writer, so that a book of a hundred large pictures needs the memory
// of one of them at most.
//
// In come values and bytes; out goes a file that depends on nothing else, the
// same to the byte every time. All measures here are points, 1/72 inch, counted
// from the lower left corner, as the format has it. The package must never know
// of photos, pages of a title or millimetres.
package pdf
