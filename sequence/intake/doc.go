// Package intake turns a file on disk into a photo.
//
// In comes the path of a file: a JPEG, PNG, TIFF, WebP, HEIC or AVIF, told
// by its content and never by its name. Out come a sequence.Photo (what the file says of itself
// and what we measured on it), three card images in sRGB, or a coded
// sequence.Error with a sentence for the maker. Later the same file comes again
// for what it shows: as a grey Shot, or as the Plate a press takes. The original
// is only ever read.
//
// Because a picture file can be made to crash, hang or swell whoever reads it,
// the reading is done in worker processes with hard ceilings: Serve is the
// worker's loop, Pool the side that starts, feeds and replaces workers. A
// worker that dies costs one file.
//
// It must never know of titles, the wall, the store, HTTP or the screen, nor
// what a photo is used for afterwards.
package intake
