// Package pixels turns the pixels of a picture's file into small pictures for
// the screen.
//
// In come a file as an io.ReaderAt, whose header has been read, and that
// header; out come upright pictures in sRGB on white paper, no longer than
// asked, and JPEG files of them that say they are sRGB and nothing else.
//
// It must never know where a file lies or where its small pictures are kept,
// nor what they show.
package pixels
