// Package header reads what a picture's file says before any pixel is decoded.
//
// In comes a file as an io.ReaderAt with its size; out come its kind, told by
// its content, its measures, its colour profile, an estimate of the memory that
// decoding will take, and what EXIF says of camera, dates and position, as the
// file says it. Nothing in a file is trusted: counts are cut to ceilings,
// offsets are checked, nothing is followed twice, and the EXIF decoder only
// ever sees a clean block that was written here.
//
// It must never know where a file lies, what a date or a position is worth, or
// what the pixels show.
package header
